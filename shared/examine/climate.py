"""Temperatures: known where a material minds them; heating and recoat times that can be kept."""

from collections.abc import Iterable, Iterator

from shared.book import Book, Offer, Place, Stage, Way
from shared.climate import HEATING
from shared.examine.look import Look, Path
from shared.trade import figure

_YEAR = frozenset(range(1, 13))


def check_recoat(stage: Stage, path: Path, look: Look) -> None:
    """Hold that recoat bands rise, leave room for the cure, and stand alone."""
    bands = stage.recoat_bands
    if bands and stage.recoat_hours is not None:
        told = {"recoat_hours": stage.recoat_hours}
        look.add("recoat_hours_beside_bands", (*path, "recoat_hours"), **told)
    for index, band in enumerate(bands):
        here = (*path, "recoat_bands", index)
        if index and band.upto_celsius <= bands[index - 1].upto_celsius:
            told = {"upto": band.upto_celsius, "before": bands[index - 1].upto_celsius}
            look.add("recoat_bands_out_of_order", (*here, "upto_celsius"), **told)
    for index in _bands_of_the_cure(stage):
        band = bands[index]
        if band.most_hours < stage.cure_hours:
            told = {
                "upto": band.upto_celsius,
                "most_hours": band.most_hours,
                "cure_hours": stage.cure_hours,
            }
            here = (*path, "recoat_bands", index, "most_hours")
            look.add("recoat_band_before_cured", here, **told)


def _bands_of_the_cure(stage: Stage) -> Iterable[int]:
    """Return the bands for whose temperature the hours of the cure are written."""
    uptos = [band.upto_celsius for band in stage.recoat_bands]
    if stage.cure_celsius is None:
        return range(len(uptos))
    fitting = (index for index, upto in enumerate(uptos) if stage.cure_celsius <= upto)
    return [index for index in [next(fitting, None)] if index is not None]


def check_heating(offer: Offer, path: Path, look: Look) -> None:
    """Hold that heating that is taken says how warm it gets, when, and in which places."""
    if offer.kind != HEATING or not offer.taken:
        return
    for field, missing in (("celsius", offer.celsius is None), ("heated", not offer.heated)):
        if missing:
            look.add("heating_incomplete", (*path, field), field=field)
    known = {each for owner in look.owners.values() for each in owner}
    for index, about in enumerate(offer.about):
        if about in known and about not in look.owners["place"]:
            look.add("heating_of_no_place", (*path, "about", index), id=about)


def check_climate(book: Book, _path: Path, look: Look) -> None:
    """Tell where a material minds temperatures or humidity that the book does not say."""
    stages = [step for job in book.jobs for step in job.steps if isinstance(step, Stage)]
    minding = [stage for stage in stages if _minds_temperature(stage)]
    if minding and not (book.workshop.temperatures or book.workshop.readings):
        told = {"step": minding[0].name or minding[0].id, "celsius": figure("CP30").amount}
        look.add("temperature_unknown", ("workshop", "temperatures"), **told)
    elif minding:
        _tell_months(book, minding, look)
    damp = [stage for stage in stages if _minds_humidity(stage)]
    if damp and not _is_humidity_known(book):
        told = {"step": damp[0].name or damp[0].id}
        look.add("humidity_unknown", ("workshop", "temperatures"), **told)


def _minds_temperature(stage: Stage) -> bool:
    limits = (stage.coldest_celsius, stage.warmest_celsius, stage.dew_point_margin_celsius)
    cures = stage.cure_celsius is not None and stage.cure_hours > 0
    return cures or bool(stage.recoat_bands) or any(limit is not None for limit in limits)


def _minds_humidity(stage: Stage) -> bool:
    limits = (stage.most_humidity_percent, stage.dew_point_margin_celsius)
    return any(limit is not None for limit in limits)


def _is_humidity_known(book: Book) -> bool:
    expected = (each.humidity_percent for each in book.workshop.temperatures)
    measured = (each.humidity_percent for each in book.workshop.readings)
    return any(humidity is not None for humidity in (*expected, *measured))


def _tell_months(book: Book, minding: list[Stage], look: Look) -> None:
    """Tell of places in which such a stage may lie and some month has no temperatures."""
    ways = [way for stage in minding for way in stage.ways]
    for index, place in enumerate(book.places):
        if not any(_may_lie_in(way, place) for way in ways):
            continue
        known = set(_months_of(book, place))
        missing = ", ".join(str(month) for month in sorted(_YEAR - known))
        if missing:
            told = {"months": missing, "celsius": figure("CP30").amount}
            look.add("months_without_temperature", ("places", index), **told)


def _months_of(book: Book, place: Place) -> Iterator[int]:
    for entry in book.workshop.temperatures:
        if entry.place in (None, place.id):
            yield from entry.months


def _may_lie_in(way: Way, place: Place) -> bool:
    return place.id in way.places or place.kind in way.place_kinds

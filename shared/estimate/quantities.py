"""How much of each material an estimate's stages take, and with what is wasted."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from shared.book import Gate, Material, MaterialKind, MaterialNeed, Stage
from shared.estimate.entries import Entry, Origin
from shared.estimate.values import NOTHING, Mass, Quantity, Range, Take
from shared.ids import MaterialId
from shared.orders.quantities import gross, waste_percent
from shared.routes.growing import parts_for
from shared.routes.materials import usual_materials
from shared.routes.sums import figures_in, is_sum, worth
from shared.trade import Figure
from shared.trade.own import Lookup
from shared.units import decimal_of

_WASTE: dict[MaterialKind, str] = {
    MaterialKind.MAT: "QL04a",
    MaterialKind.RESIN: "QL04b",
    MaterialKind.FOAM: "QL04c",
}
_OF_THE_SKIN = frozenset({"mat", "resin", "gel-coat", "flow-coat"})
_FOAM = "foam"
_DENSITY = "CP520"


def quantities_of(
    entries: Sequence[Entry], own: Sequence[Material], look: Lookup
) -> tuple[Quantity, ...]:
    """Return what the steps of an estimate take, in the order in which they first do.

    own: the materials of the book, which go before the usual ones of the same id.
    """
    known = {each.id: each for each in (*usual_materials(), *own)}
    takes: dict[MaterialId, list[Take]] = {}
    for group in _grouped(entries):
        for material, take in _takes(group):
            takes.setdefault(material, []).append(take)
    return tuple(
        _quantity(known.get(material) or _unknown(material), found, look)
        for material, found in takes.items()
    )


def mass_of(quantities: Iterable[Quantity], look: Lookup) -> Mass:
    """Return what foam and skin weigh, nothing wasted."""
    foam = skin = NOTHING
    density = look(_DENSITY)
    for each in quantities:
        if each.material.id in _OF_THE_SKIN:
            skin += each.net
        elif each.material.id == _FOAM:
            foam = Range(
                low=each.net.low * Fraction(density.least),
                likely=each.net.likely * Fraction(density.amount),
                high=each.net.high * Fraction(density.most),
            )
    return Mass(foam=foam, skin=skin)


def _grouped(entries: Sequence[Entry]) -> Iterator[list[Entry]]:
    """Give the entries by what they were written from, sessions of one piece once."""
    groups: dict[object, list[Entry]] = {}
    for each in entries:
        origin = each.origin
        key = each.step.id if origin is None else (origin.making.route.id, origin.step.id)
        groups.setdefault(key, []).append(each)
    yield from groups.values()


def _takes(group: list[Entry]) -> Iterator[tuple[MaterialId, Take]]:
    """Give what one stage takes on all its segments: as written, else as its origin says."""
    by_origin = [each for each in group if each.origin is not None and not _is_own(each)]
    seen: set[object] = set()
    size = Fraction(0)
    for each in by_origin:
        if each.origin is not None and each.pieces not in seen:
            seen.add(each.pieces)
            size += Fraction(each.origin.amount.size)
    origin = by_origin[0].origin if by_origin else None
    if origin is not None:
        yield from _from_origin(origin, size)
    for each in group:
        if each not in by_origin:
            yield from _written(each)


def _is_own(entry: Entry) -> bool:
    """Return whether what a step takes was written otherwise than its origin says."""
    if entry.is_fresh:
        return False
    if entry.origin is None:
        return True
    written = _needs(entry.step)
    if not written:
        return False
    parts = parts_for(entry.origin.step, entry.origin.rule, entry.origin.amount)
    there = {need.material for need in written}
    wanted = {
        tuple(need for need in _needs(part) if need.material in there)
        for part in parts
        if isinstance(part, Stage | Gate)
    }
    return written not in wanted


def _needs(step: Stage | Gate) -> tuple[MaterialNeed, ...]:
    """Return what a step takes when it is done in its first way."""
    own = step.materials if isinstance(step, Stage) else ()
    return (*own, *(step.ways[0].materials if step.ways else ()))


def _from_origin(origin: Origin, size: Fraction) -> Iterator[tuple[MaterialId, Take]]:
    step, rule, making = origin.step, origin.rule, origin.making
    for field, need in _fields(step):
        asked = making.asked(step.id, f"{field}.quantity")
        figures: tuple[Figure, ...] = ()
        per = _exactly(Fraction(need.quantity))
        if asked and is_sum(asked):
            found = worth(asked, making.look)
            per = Range(low=found.low, likely=found.likely, high=found.high)
            figures = tuple(making.look(name) for name in figures_in(asked))
        yield (
            need.material,
            Take(
                stage=step.id,
                name=step.name,
                quantity=per * size,
                measure=rule.per,
                size=size,
                per=per,
                asked=asked,
                figures=figures,
            ),
        )


def _fields(step: Stage | Gate) -> Iterator[tuple[str, MaterialNeed]]:
    if isinstance(step, Stage):
        yield from ((f"materials.{at}", need) for at, need in enumerate(step.materials))
    for way in step.ways[:1]:
        yield from ((f"ways.0.materials.{at}", need) for at, need in enumerate(way.materials))


def _written(entry: Entry) -> Iterator[tuple[MaterialId, Take]]:
    for need in _needs(entry.step):
        quantity = _exactly(Fraction(need.quantity))
        yield (
            need.material,
            Take(
                stage=entry.step.id,
                name=entry.step.name,
                quantity=quantity,
                measure=None,
                size=Fraction(1),
                per=quantity,
                asked="",
                figures=(),
                own=True,
            ),
        )


def _quantity(material: Material, takes: list[Take], look: Lookup) -> Quantity:
    net = NOTHING
    for take in takes:
        net += take.quantity
    waste, figure = _waste(material, look)
    return Quantity(
        material=material,
        net=net,
        gross=Range(
            low=_gross(material, net.low, waste.low),
            likely=_gross(material, net.likely, waste.likely),
            high=_gross(material, net.high, waste.high),
        ),
        waste=waste,
        waste_figure=figure,
        takes=tuple(takes),
    )


def _gross(material: Material, net: Fraction, percent: Fraction) -> Fraction:
    return gross(net, decimal_of(percent), of_gross=material.waste_of_gross)


def _waste(material: Material, look: Lookup) -> tuple[Range, Figure | None]:
    """Return how much of a material is wasted, as orders count it, with its range."""
    likely = Fraction(waste_percent(material))
    name = _WASTE.get(material.kind)
    if material.waste_percent is not None or name is None:
        return _exactly(likely), None
    figure = look(name)
    low = likely if figure.low is None else Fraction(figure.low)
    high = likely if figure.high is None else Fraction(figure.high)
    return Range(low=min(low, likely), likely=likely, high=max(high, likely)), figure


def _exactly(number: Fraction) -> Range:
    return Range(low=number, likely=number, high=number)


def _unknown(material: MaterialId) -> Material:
    return Material(id=material, name=material, unit="")

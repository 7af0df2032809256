"""A past job so many times as large.

Areas grow with the square of the length, volumes with the cube, joints with the length itself;
what is per piece or per commission stays.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from shared.book import Book, Gate, GateKind, Hours, Job, Kind, Measure, Segment, Stage, Way
from shared.estimate.entries import Entry, entries_of_job, measures_of
from shared.estimate.lines import kind_of, sizes_of
from shared.estimate.quantities import mass_of, quantities_of
from shared.estimate.recorded import recorded_hours
from shared.estimate.values import (
    Estimate,
    Formula,
    FormulaCode,
    Line,
    Quantity,
    Range,
    Share,
    Take,
    total_hours,
)
from shared.ids import StepId
from shared.routes.learned import factor_taken, times_longer
from shared.trade.own import looked_up
from shared.units import decimal_of

POWERS: Mapping[Measure | None, int] = {
    Measure.VOLUME: 3,
    Measure.SURFACE: 2,
    Measure.JOINTS: 1,
    Measure.PIECE: 0,
    None: 0,
}
"""The power of the length with which a measure grows."""

_NOTHING = Decimal(0)
_PLACES = 2
_SIZE_PLACES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaled:
    """A step of a past job and its person-hours in one so much larger.

    before: what it took or was to take. recorded: that is on record.
    """

    entry: Entry
    before: Hours
    hours: Hours
    power: int
    recorded: bool


def scaled_steps(book: Book, job: Job, times: Decimal) -> tuple[Scaled, ...]:
    """Return the steps with work of a past job, so many times as large."""
    recorded = recorded_hours(book)
    return tuple(
        _scaled(_as_learned(entry, book), times, recorded.get(entry.step.id))
        for entry in entries_of_job(book, job)
        if entry.step.ways
    )


def estimate_like(book: Book, job: Job, times: Decimal) -> Estimate:
    """Return hours and quantities of a job like a past one, its lengths so many times those.

    From recorded hours where there are any, else from the hours written; what was recorded has no
    range but its own.
    """
    steps = scaled_steps(book, job, times)
    entries = [each.entry for each in steps]
    look = looked_up(book.workshop)
    quantities = tuple(
        _scaled_quantity(each, times) for each in quantities_of(entries, book.materials, look)
    )
    made = {piece.id for each in entries if each.origin is not None for piece in each.pieces}
    segments = [scaled_segment(each, times) for each in job.segments if each.id in made]
    return Estimate(
        lines=_lines(steps, times),
        quantities=quantities,
        sizes=sizes_of(measures_of(entries), segments, look),
        mass=mass_of(quantities, look),
    )


def scaled_segment(segment: Segment, times: Decimal) -> Segment:
    """Return a segment whose lengths are so many times as long; its mass is between two guesses."""

    def grown(size: Decimal | None, power: int) -> Decimal | None:
        return None if size is None else _times(size, times, power, _SIZE_PLACES)

    few, many = sorted((POWERS[Measure.SURFACE], POWERS[Measure.VOLUME]), key=lambda p: times**p)
    return replace(
        segment,
        length_m=grown(segment.length_m, 1),
        width_m=grown(segment.width_m, 1),
        height_m=grown(segment.height_m, 1),
        surface_m2=grown(segment.surface_m2, POWERS[Measure.SURFACE]),
        volume_m3=grown(segment.volume_m3, POWERS[Measure.VOLUME]),
        joints_m=grown(segment.joints_m, POWERS[Measure.JOINTS]),
        mass_low_kg=grown(segment.mass_low_kg, few),
        mass_high_kg=grown(segment.mass_high_kg, many),
    )


def group_of(entry: Entry) -> tuple[StepId | str, Kind | None]:
    """Return what steps are counted together: those of one origin, else of one name and kind."""
    if entry.origin is not None:
        return entry.origin.step.id, kind_of(entry)
    return entry.step.name.casefold(), kind_of(entry)


def grouped(steps: Iterable[Scaled]) -> dict[object, list[Scaled]]:
    """Return steps by their group, in the order in which the groups begin."""
    found: dict[object, list[Scaled]] = {}
    for each in steps:
        found.setdefault(group_of(each.entry), []).append(each)
    return found


def _scaled(entry: Entry, times: Decimal, recorded: Decimal | None) -> Scaled:
    way = entry.step.ways[0]
    before = way.hours
    if recorded is not None:
        before = Hours(low=recorded, likely=recorded, high=recorded)
    power = _power(entry)
    return Scaled(
        entry=entry,
        before=before,
        hours=_grown(before, way, times, power),
        power=power,
        recorded=recorded is not None,
    )


def _as_learned(entry: Entry, book: Book) -> Entry:
    """Return a step with the hours that it would be given now."""
    if not isinstance(entry.step, Stage):
        return entry
    made = times_longer(entry.step, factor_taken(book.workshop, entry.step.kind))
    assert isinstance(made, Stage)
    return replace(entry, step=made)


def _power(entry: Entry) -> int:
    """Return how a step grows: as its way of making says, else as work of its kind mostly does."""
    if entry.origin is not None:
        return POWERS[entry.origin.rule.per]
    step = entry.step
    if isinstance(step, Gate):
        is_fit = step.gate is GateKind.TRIAL_FIT
        return POWERS[Measure.JOINTS if is_fit else Measure.PIECE]
    return POWERS[Measure.SURFACE]


def _grown(hours: Hours, way: Way, times: Decimal, power: int) -> Hours:
    fixed = way.setup_hours or _NOTHING

    def grown(number: Decimal) -> Decimal:
        own = min(fixed, number)
        return own + _times(number - own, times, power, _PLACES)

    return Hours(low=grown(hours.low), likely=grown(hours.likely), high=grown(hours.high))


def _times(number: Decimal, times: Decimal, power: int, places: int) -> Decimal:
    return decimal_of(Fraction(number) * Fraction(times) ** power, places)


def _lines(steps: Sequence[Scaled], times: Decimal) -> tuple[Line, ...]:
    return tuple(_line(group, times) for group in grouped(steps).values())


def _line(group: list[Scaled], times: Decimal) -> Line:
    first = group[0].entry
    origin = first.origin
    before = total_hours(each.before for each in group)
    code = FormulaCode.LIKE_RECORDED if any(each.recorded for each in group) else FormulaCode.LIKE
    facts = (
        ("hours", f"{decimal_of(Fraction(before.likely), _PLACES):f}"),
        ("times", f"{times:f}"),
        ("power", group[0].power),
        ("recorded", sum(each.recorded for each in group)),
        ("count", len(group)),
    )
    return Line(
        stage=first.step.id if origin is None else origin.step.id,
        name=first.step.name if origin is None else origin.step.name,
        kind=kind_of(first),
        hours=total_hours(each.hours for each in group),
        formula=Formula(code=code, facts=facts),
        shares=tuple(
            Share(
                step=each.entry.step.id,
                name=each.entry.step.name,
                segments=tuple(piece.id for piece in each.entry.pieces),
                hours=each.hours,
            )
            for each in group
        ),
    )


def _scaled_quantity(quantity: Quantity, times: Decimal) -> Quantity:
    takes = tuple(_scaled_take(take, times) for take in quantity.takes)
    net = takes[0].quantity
    for take in takes[1:]:
        net += take.quantity
    return replace(quantity, net=net, gross=_in_proportion(quantity, net), takes=takes)


def _scaled_take(take: Take, times: Decimal) -> Take:
    power = POWERS[Measure.SURFACE] if take.own else POWERS[take.measure]
    share = Fraction(times) ** power
    size = take.size if take.own else take.size * share
    per = take.per * share if take.own else take.per
    return replace(take, quantity=take.quantity * share, size=size, per=per)


def _in_proportion(quantity: Quantity, net: Range) -> Range:
    """Return what is bought for another net quantity, wasted in the same shares."""

    def bought(now: Fraction, before: Fraction, gross: Fraction) -> Fraction:
        return now * gross / before if before else now

    old, gross = quantity.net, quantity.gross
    return Range(
        low=bought(net.low, old.low, gross.low),
        likely=bought(net.likely, old.likely, gross.likely),
        high=bought(net.high, old.high, gross.high),
    )

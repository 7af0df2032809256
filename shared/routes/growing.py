"""How much of a step there is for some segments: hours and materials by size, sessions cut."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from shared.book import Abrade, Hours, Journey, Measure, RouteRule, Segment, Stage, Step, Way
from shared.needs import grown_needs
from shared.routes.classes import times_usual
from shared.routes.learned import times_longer
from shared.routes.measures import amount_of
from shared.trade import figure

if TYPE_CHECKING:
    from shared.trade.own import Lookup

_QUARTERS = 4
_NOTHING = Decimal(0)
_ENDS_OF_A_JOINT = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """How much there is of some segments, in the unit of a rule's measure.

    size: what materials go by. work: the same, counted as often as the classes of each segment
    say; hours go by it.
    """

    size: Decimal
    work: Decimal


ONE = Amount(size=Decimal(1), work=Decimal(1))
"""A step that grows with nothing."""


def amount_for(
    rule: RouteRule,
    pieces: tuple[Segment, ...],
    *,
    is_alone: bool,
    look: "Lookup" = figure,
) -> Amount:
    """Give how much of a step there is for some segments together; is_alone: they meet no others.

    A joint is between two pieces: where a step is for both of them it counts once.
    """
    if rule.per is None:
        return ONE
    size = work = _NOTHING
    for piece in pieces:
        own = amount_of(piece, rule.per, is_alone=is_alone, look=look)
        size += own
        work += own * times_usual(piece, rule.classes, look)
    if rule.per is Measure.JOINTS and len(pieces) > 1:
        return Amount(size=size / _ENDS_OF_A_JOINT, work=work / _ENDS_OF_A_JOINT)
    return Amount(size=size, work=work)


def parts_for(step: Step, rule: RouteRule, amount: Amount) -> tuple[Step, ...]:
    """Give a step for so much, in sessions where its rule cuts it into several.

    A factor that it is marked with multiplies its hours once they have grown.
    """
    if not isinstance(step, Stage) or step.learned_factor is None:
        return _sessions(_grown(step, amount), rule)
    grown = _grown(replace(step, learned_factor=None), amount)
    return _sessions(times_longer(grown, step.learned_factor), rule)


def _grown(step: Step, amount: Amount) -> Step:
    """Give a step whose hours and materials are for so much."""
    if isinstance(step, Journey):
        return step

    def way(old: Way) -> Way:
        materials = grown_needs(old.materials, amount.size)
        return replace(old, hours=_hours(old, amount.work), materials=materials)

    ways = tuple(map(way, step.ways))
    if isinstance(step, Stage):
        materials = grown_needs(step.materials, amount.size)
        abrade = _abrade(step.abrade, way)
        return replace(step, ways=ways, abrade=abrade, materials=materials)
    return replace(
        step, ways=ways, rework=_abrade(step.rework, way), changes=_abrade(step.changes, way)
    )


def _abrade(abrade: Abrade | None, way: Callable[[Way], Way]) -> Abrade | None:
    return None if abrade is None else replace(abrade, ways=tuple(map(way, abrade.ways)))


def _hours(way: Way, amount: Decimal, parts: int = 1) -> Hours:
    """Give person-hours for so much in so many parts, those of the set-up in each."""
    fixed = way.setup_hours or _NOTHING

    def grown(hours: Decimal) -> Decimal:
        own = min(fixed, hours)
        return _quarters((hours - own) * amount / parts + own)

    old = way.hours
    return Hours(low=grown(old.low), likely=grown(old.likely), high=grown(old.high))


def _quarters(hours: Decimal) -> Decimal:
    return (hours * _QUARTERS).to_integral_value(ROUND_CEILING) / _QUARTERS


def _sessions(step: Step, rule: RouteRule) -> tuple[Step, ...]:
    """Cut a stage into sessions; only the last has its cure and its own recoat time."""
    if not isinstance(step, Stage) or rule.session_hours is None:
        return (step,)
    count = max((_session_count(way, rule.session_hours) for way in step.ways), default=1)
    if count == 1:
        return (step,)
    share = Fraction(1, count)
    ways = tuple(
        replace(
            way,
            hours=_hours(way, Decimal(1), count),
            materials=grown_needs(way.materials, share),
        )
        for way in step.ways
    )
    materials = grown_needs(step.materials, share)
    parts = [
        replace(step, name=f"{step.name} {number}/{count}", ways=ways, materials=materials)
        for number in range(1, count + 1)
    ]
    more = rule.session_recoat_hours
    fresh = tuple(
        replace(part, cure_hours=_NOTHING, recoat_hours=more, recoat_bands=())
        for part in parts[:-1]
    )
    return (*fresh, parts[-1])


def _session_count(way: Way, most: Decimal) -> int:
    fixed = way.setup_hours or _NOTHING
    grows, room = way.hours.likely - fixed, most - fixed
    if grows <= 0 or room <= 0:
        return 1
    exact = Fraction(grows) / Fraction(room)
    return -(-exact.numerator // exact.denominator)

"""Hours of a way of making made longer or shorter by what the workshop's own records say."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from shared.book import Abrade, Hours, Kind, Route, Stage, Step, Way, Workshop
from shared.units import decimal_of

FACTOR_OF: Mapping[Kind, str] = {
    Kind.FOAM: "CP711",
    Kind.LAMINATE: "CP712",
    Kind.COAT: "CP713",
    Kind.FILL: "CP714",
    Kind.PAINT: "CP715",
    Kind.LACQUER: "CP716",
    Kind.PACK: "CP717",
}
"""By kind the figure that hours are multiplied by, once the workshop has its own of it."""

_ONE = Decimal(1)
_PLACES = 2


def factor_taken(workshop: Workshop, kind: Kind) -> Decimal | None:
    """Return the factor that a workshop has taken for a kind, None where it has none."""
    wanted = FACTOR_OF[kind]
    return next((own.value for own in workshop.figures if own.figure == wanted), None)


def with_learned(route: Route, workshop: Workshop) -> Route:
    """Return a way of making that is marked with the factors that were taken.

    Its hours are as they were: they are multiplied when it is copied, after they have grown.
    """
    if not any(own.figure in FACTOR_OF.values() for own in workshop.figures):
        return route
    steps = tuple(
        replace(step, learned_factor=factor_taken(workshop, step.kind))
        if isinstance(step, Stage)
        else step
        for step in route.steps
    )
    return replace(route, steps=steps)


def times_longer(step: Step, factor: Decimal | None) -> Step:
    """Return a step whose hours are multiplied by a factor (None: 1), whatever they were by."""
    if not isinstance(step, Stage):
        return step
    by = Fraction(factor or _ONE) / Fraction(step.learned_factor or _ONE)
    kept = None if factor in (None, _ONE) else factor
    if by == 1:
        return replace(step, learned_factor=kept)
    abrade = step.abrade
    if abrade is not None:
        abrade = Abrade(ways=tuple(_longer(way, by) for way in abrade.ways))
    ways = tuple(_longer(way, by) for way in step.ways)
    return replace(step, ways=ways, abrade=abrade, learned_factor=kept)


def _longer(way: Way, by: Fraction) -> Way:
    def times(hours: Decimal) -> Decimal:
        return decimal_of(Fraction(hours) * by, _PLACES)

    old, fixed = way.hours, way.setup_hours
    return replace(
        way,
        hours=Hours(low=times(old.low), likely=times(old.likely), high=times(old.high)),
        setup_hours=None if fixed is None else times(fixed),
    )

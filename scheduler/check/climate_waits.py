"""Waits by the temperature of a place, reckoned by the hours of the workshop's clock.

A cure of h hours at T0 is over when the integral of 2 ** ((T - T0) / 10) over elapsed time, T
being the coldest that is expected, has reached h (figure PL07: twice as fast where it is ten
degrees warmer). Each power is taken to 18 decimals and rounded up, so that no cure is demanded
to be longer than it is; it may be taken for shorter by a part in 10 ** 15 at most.
"""

from collections.abc import Iterator
from decimal import ROUND_CEILING, Context, Decimal
from functools import lru_cache

from scheduler.check.clock import DAY, hours, hours_down
from scheduler.check.weather import Weather
from scheduler.check.world import Task, World
from shared.book import FactKind, Journey, RecoatBand, Stage, Step
from shared.climate import Hour
from shared.ids import PlaceId, StepId
from shared.trade import figure

_HOUR = 3600
_LONGEST = 400 * DAY
"""What is not cured after so long is not waited for any further."""

_FINE = Context(prec=50, rounding=ROUND_CEILING)
_WARMER_MAX = Decimal(300)
_WHOLE = 10**18


def ready_after(world: World, step: Step, end: int) -> int:
    """Return the second from which on what follows a step that ended may start."""
    if isinstance(step, Journey):
        return end
    if step.id in world.unconfirmed:
        end = max(end, world.now)
    if not isinstance(step, Stage) or step.cure_celsius is None:
        return end + hours(step.cure_hours)
    key = (step.id, end)
    if key not in world.ready_after:
        celsius, place = step.cure_celsius, place_of(world, step.id)
        world.ready_after[key] = world.memory.cures.of(
            (place, step.cure_hours, celsius, end),
            world.weather,
            lambda: cured_in(world.weather, place, step.cure_hours, celsius, end),
        )
    return world.ready_after[key]


def cured_in(
    weather: Weather, place: PlaceId | None, cure_hours: Decimal, celsius: Decimal, end: int
) -> int:
    """Return the second at which what ended in a place is cured."""
    hours_left, parts = cure_hours.as_integer_ratio()
    left = hours_left * _HOUR * _WHOLE // parts
    for start, stop, hour in weather.between(place, end, end + _LONGEST):
        pace = _pace(hour.coldest - celsius)
        if (stop - start) * pace >= left:
            return start - (-left // pace)
        left -= (stop - start) * pace
    return end + _LONGEST


def cure_after(world: World, task: Task) -> int:
    """Return for how many seconds a task's place is held by its cure."""
    if task.placement.part or not task.stays:
        return 0
    return ready_after(world, task.step, task.end) - task.end


def coat_by(world: World, coat: Stage, end: int, start: int) -> int | None:
    """Return the last second at which the next coat may start, None where any will do.

    start: when it does; by the hottest hour up to then.
    """
    if not coat.recoat_bands:
        return None if coat.recoat_hours is None else end + hours_down(coat.recoat_hours)
    found = hours_between(world, place_of(world, coat.id), end, start)
    hottest = max((hour.hottest for _, _, hour in found), default=None)
    if hottest is None:
        return None
    return end + hours_down(_most_hours(coat.recoat_bands, hottest))


def hours_between(
    world: World, place: PlaceId | None, start: int, stop: int
) -> Iterator[tuple[int, int, Hour]]:
    """Give what is expected from one second to another, hours that are alike as one."""
    return world.weather.between(place, start, stop)


def place_of(world: World, step: StepId) -> PlaceId | None:
    """Return where a step was told to have been done, else where the plan has it."""
    told = world.facts.done(step), world.facts.last(step, FactKind.RUNNING)
    if told[0] is not None:
        return next((fact.place for fact in told if fact is not None and fact.place), None)
    task = world.tasks.get((step, 0, ""))
    return None if task is None else task.placement.place


def _most_hours(bands: tuple[RecoatBand, ...], celsius: Decimal) -> Decimal:
    fitting = [band for band in bands if celsius <= band.upto_celsius]
    return min(fitting, key=lambda band: band.upto_celsius).most_hours if fitting else Decimal(0)


@lru_cache(maxsize=4096)
def _pace(warmer: Decimal) -> int:
    """Return how fast something cures at so many degrees more than it is written for.

    In parts of 10 ** 18, rounded up.
    """
    double = _FINE.ln(figure("PL07").amount)
    exact = _FINE.exp(_FINE.multiply(double, min(warmer, _WARMER_MAX) / 10))
    return int(_FINE.to_integral_value(_FINE.multiply(exact, _WHOLE)))

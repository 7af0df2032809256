"""The open quarters that a task needs.

Bench hours = person-hours x (1 + loss x (hands - 1)) / hands, divided by the mean pace, times
shift hours / useful hours where the stage may pause, then rounded up once to a quarter. A task
without people is done as if by one pair of hands of usual pace.
"""

from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from scheduler.check.clock import QUARTER
from scheduler.check.world import Task, World

_ONE = Decimal(1)


def needed_quarters(world: World, task: Task) -> int | None:
    """Return the open quarters that a task needs, None if the book doesn't say."""
    placed = task.placement
    slot = (placed.step, placed.round, placed.part)
    if slot not in world.needed:
        world.needed[slot] = _needed(world, task)
    return world.needed[slot]


def _needed(world: World, task: Task) -> int | None:
    way = task.way
    if way is None:
        return 0 if not task.ways else None
    person_hours, hands = way.hours.likely, max(1, way.hands_count)
    if task.running is not None:
        if task.running.remaining_hours is None:
            return None
        person_hours = task.running.remaining_hours
        hands = max(1, len(task.placement.people))
    key = (task.placement.people, hands, task.in_one_go)
    if key not in world.rates:
        world.rates[key] = _rate(world, task, hands)
    rate, (amount, parts) = world.rates[key], person_hours.as_integer_ratio()
    return -(-amount * rate.numerator // (parts * rate.denominator))


def _rate(world: World, task: Task, hands: int) -> Fraction:
    """Return the open quarters that a person-hour of a task takes its people."""
    workshop = world.book.workshop
    shift = (_ONE, _ONE) if task.in_one_go else (workshop.shift_hours, workshop.useful_hours)
    paces = tuple(world.people[person].pace for person in task.placement.people)
    return _reckoned(paces, hands, workshop.pair_loss_percent, shift)


@lru_cache(maxsize=4096)
def _reckoned(
    paces: tuple[Decimal, ...], hands: int, loss_percent: Decimal, shift: tuple[Decimal, Decimal]
) -> Fraction:
    """Return quarters by paces, hands, what pairs lose, and a shift: all its hours, useful ones."""
    mean_pace = sum(map(Fraction, paces), Fraction()) / len(paces) if paces else Fraction(1)
    bench = (1 + Fraction(loss_percent) / 100 * (hands - 1)) / hands / mean_pace
    return bench * Fraction(shift[0]) / Fraction(shift[1]) * 3600 / QUARTER

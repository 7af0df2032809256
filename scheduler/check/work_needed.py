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
from shared.ids import PersonId


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
    workshop = world.book.workshop
    each = _hours_each(workshop.pair_loss_percent, hands)
    if not task.in_one_go:
        each = _on_shift(each, workshop.shift_hours, workshop.useful_hours)
    pace = _mean_pace(world, task.placement.people)
    hours, parts = person_hours.as_integer_ratio()
    quarters = hours * each.numerator * pace.denominator * (3600 // QUARTER)
    return -(-quarters // (parts * each.denominator * pace.numerator))


@lru_cache(maxsize=256)
def _hours_each(loss_percent: Decimal, hands: int) -> Fraction:
    """Return the hours of each of so many hands in one person-hour of work."""
    return (1 + Fraction(loss_percent) / 100 * (hands - 1)) / hands


@lru_cache(maxsize=256)
def _on_shift(useful: Fraction, shift_hours: Decimal, useful_hours: Decimal) -> Fraction:
    """Return the hours on shift in which so many useful hours are worked."""
    return useful * Fraction(shift_hours) / Fraction(useful_hours)


def _mean_pace(world: World, people: tuple[PersonId, ...]) -> Fraction:
    if people not in world.paces:
        paces = [Fraction(world.people[person].pace) for person in people]
        world.paces[people] = sum(paces, Fraction()) / len(paces) if paces else Fraction(1)
    return world.paces[people]

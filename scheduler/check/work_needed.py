"""The open quarters that a task needs.

Bench hours = person-hours x (1 + loss x (hands - 1)) / hands, divided by the mean pace, times
shift hours / useful hours where the stage may pause, then rounded up once to a quarter. A task
without people is done as if by one pair of hands of usual pace.
"""

from fractions import Fraction

from scheduler.check.clock import QUARTER
from scheduler.check.world import Task, World
from shared.ids import PersonId


def needed_quarters(world: World, task: Task) -> int | None:
    """Return the open quarters that a task needs, None if the book doesn't say."""
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
    loss = Fraction(workshop.pair_loss_percent) / 100
    bench = Fraction(person_hours) * (1 + loss * (hands - 1)) / hands
    bench /= _mean_pace(world, task.placement.people)
    if not task.in_one_go:
        bench *= Fraction(workshop.shift_hours) / Fraction(workshop.useful_hours)
    exact = bench * 3600 / QUARTER
    return -(-exact.numerator // exact.denominator)


def _mean_pace(world: World, people: tuple[PersonId, ...]) -> Fraction:
    paces = [Fraction(world.people[person].pace) for person in people]
    return sum(paces, Fraction()) / len(paces) if paces else Fraction(1)

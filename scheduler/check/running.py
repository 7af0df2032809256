"""A stage under way is what is left of it, from now on, with the same people.

It goes on at once, unless its people are held by what was there before it: other work, a journey,
another stage under way; or unless what is done or under way keeps it out of its air. Where nobody
was told who is on it, it may go on later.
"""

from scheduler.check.airs import is_kept_off
from scheduler.check.clock import QUARTER, instant, seconds, up
from scheduler.check.means import leaving
from scheduler.check.openings import Openings
from scheduler.check.work_needed import needed_quarters
from scheduler.check.world import Task, World


def span_left(world: World, task: Task) -> tuple[int, int]:
    """Return the quarters from now, or its start if that is later, to the end of a task."""
    return max(up(task.start), world.first_quarter()), up(task.end)


def resumed_at(world: World, task: Task) -> int:
    """Return the last quarter at which a task can go on and still end when the plan says."""
    start, end = span_left(world, task)
    needed = needed_quarters(world, task)
    team = world.hours.team(task.placement.people)
    if needed is None or team.between(start, end) <= needed:
        return start
    return max(start, team.back(end, needed))


def held_from(world: World, task: Task) -> int:
    """Return the second from which a task holds its place and its equipment.

    What is under way holds them from now on; where nobody was told who is on it, once it goes on.
    """
    if task.running is None or task.running.people:
        return max(task.start, world.now)
    return goes_on_at(world, task)


def goes_on_at(world: World, task: Task) -> int:
    """Return the second at which what is under way is worked on again; of all else, its start."""
    if task.running is None or not world.knows(task):
        return task.start
    start, end = span_left(world, task)
    needed = needed_quarters(world, task)
    if needed is None:
        return start * QUARTER
    team = world.hours.team(task.placement.people)
    return max(start, team.back(end, needed) if needed else end) * QUARTER


def is_long_enough(world: World, task: Task, team: Openings, needed: int) -> bool:
    """Return whether a task under way ends with the last quarter it needs, begun in time."""
    start, end = span_left(world, task)
    if team.between(start, end) < needed or (needed and team.at(end - 1) is None):
        return False
    resumed = resumed_at(world, task)
    may_wait = (
        not (task.running and task.running.people)
        or _is_held(world, task, start, resumed)
        or is_kept_off(world, task, start * QUARTER)
    )
    return may_wait or team.between(start, resumed) == 0


def _is_held(world: World, task: Task, start: int, end: int) -> bool:
    """Return whether something holds one of its people between two quarters."""
    people = set(task.placement.people)
    stretches = [
        *((work.start, work.end) for work in world.book.other_work if people & set(work.people)),
        *(
            (instant(leaves), trip.free)
            for _, journey, trip in world.trips.values()
            for person, leaves in leaving(journey, trip).items()
            if person in people
        ),
        *(
            (other.placement.start, other.placement.end)
            for other in world.work()
            if other.running and other != task and people & set(other.placement.people)
        ),
    ]
    first, last = start * QUARTER, end * QUARTER
    return any(max(first, seconds(a)) < min(last, seconds(b)) for a, b in stretches)

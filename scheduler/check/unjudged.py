"""What the book says of the planned jobs that no rule judges yet.

Told only where it bears on this plan, so that a plain book has nothing of it.
"""

from collections import defaultdict
from collections.abc import Callable, Iterator
from datetime import timedelta
from itertools import pairwise

from scheduler.check.clock import day_of, hours, seconds
from scheduler.check.floor import room_waiting, standing_places
from scheduler.check.held import is_held_to_hours
from scheduler.check.hours import person_calendar
from scheduler.check.legs import is_driven, is_judged
from scheduler.check.means import means_of
from scheduler.check.order import is_unjudged_wait
from scheduler.check.rooms import crowded, room_at_work
from scheduler.check.sheet import let_go_unseen
from scheduler.check.sizes import has_sizes, rooms_to_pass
from scheduler.check.work import one_go
from scheduler.check.work_needed import needed_quarters
from scheduler.check.world import Task, World
from scheduler.rules import Rule
from shared.book import LegKind, Stage
from shared.ids import PersonId
from shared.levers import is_written
from shared.worktime import Span, open_spans


def unjudged(world: World) -> tuple[str, ...]:
    """Return the codes of what can't be judged, in the order of the rules."""
    found = {rule for rule, asks in _QUESTIONS.items() if any(asks(world))}
    return tuple(rule.value for rule in Rule if rule in found)


def _stages(world: World) -> Iterator[tuple[Task, Stage]]:
    for slot, task in world.tasks.items():
        if isinstance(task.step, Stage) and not slot[2] and not task.done:
            yield task, task.step


def _drivers_hours(world: World) -> Iterator[bool]:
    """Tell of journeys under rules that nobody knows, or whose way nobody worked out."""
    for step, (_, journey, trip) in world.trips.items():
        judged = is_judged(journey) and means_of(journey, trip) is not None
        yield judged and not (world.facts.done(step) or is_held_to_hours(world, journey, trip))


def _home_hours(world: World) -> Iterator[bool]:
    """Tell of a way home at the wheel: its least hours are counted, and not judged."""
    for step, (_, journey, trip) in world.trips.items():
        if not world.facts.done(step) and is_held_to_hours(world, journey, trip):
            yield any(leg.kind is LegKind.RETURN and is_driven(leg) for leg in journey.legs)


def _offers(world: World) -> Iterator[bool]:
    yield any(offer.taken and not is_written(offer) for offer in world.book.offers)


def _interrupted(world: World) -> Iterator[bool]:
    """Tell of work in one go that is under way and doesn't fit the shift it began in."""
    for task, _ in _stages(world):
        known = world.knows(task)
        if task.running is not None and task.in_one_go and known:
            yield any(True for _ in one_go(world, task))


def _remaining(world: World) -> Iterator[bool]:
    for task in world.work():
        known = world.knows(task)
        if task.running is not None and task.way is not None and known:
            yield needed_quarters(world, task) is None


def _late_work(world: World) -> Iterator[bool]:
    """Tell of overtime after which the next day's work begins before the rest is over."""
    busy: dict[PersonId, list[Task]] = defaultdict(list)
    for task in world.work():
        for person in task.placement.people:
            busy[person].append(task)
    rest = timedelta(seconds=hours(world.book.workshop.rest_hours))
    for person, tasks in busy.items():
        if person in world.people and world.people[person].overtime_taken:
            spans = _hours_worked(world, person, tasks)
            for before, after in pairwise(spans):
                days = [day_of(seconds(span.start), world.zone) for span in (before, after)]
                yield days[0] != days[1] and after.start - before.end < rest


def _hours_worked(world: World, person: PersonId, tasks: list[Task]) -> tuple[Span, ...]:
    """Return a person's hours over the days they work on the plan."""
    calendar = person_calendar(world.book.workshop, world.people[person])
    first = min(task.placement.start for task in tasks) - timedelta(days=1)
    last = max(task.placement.end for task in tasks) + timedelta(days=1)
    return open_spans(calendar, first, last)


def _no_size(world: World) -> Iterator[bool]:
    """Tell of missing sizes where room is counted, or something measured is to be passed."""
    for task in world.work():
        place = world.places.get(task.placement.place) if task.placement.place else None
        yield place is not None and room_at_work(world, task, place) is None
    for job in world.jobs:
        for segment in job.segments:
            for place in standing_places(world, job, segment):
                yield room_waiting(world, segment, place) is None
            yield not has_sizes(segment) and bool(rooms_to_pass(world, job, segment))


def _after_outside(world: World) -> Iterator[bool]:
    """Tell of steps that come after something which neither the plan nor a fact ends."""
    for job, step in world.steps.values():
        for link in world.links(job, step):
            inside = link.before in world.steps
            yield not inside and world.end_of(link.before) is None


def _waits(world: World) -> Iterator[bool]:
    """Tell of greatest waits that run to a journey or from an answer."""
    for job, step in world.steps.values():
        for link in world.links(job, step):
            yield is_unjudged_wait(world, step, link)


_QUESTIONS: dict[Rule, Callable[[World], Iterator[bool]]] = {
    Rule.DRIVERS_HOURS: _drivers_hours,
    Rule.HOME_HOURS: _home_hours,
    Rule.CROWDED: crowded,
    Rule.OFFERS: _offers,
    Rule.LET_GO: let_go_unseen,
    Rule.INTERRUPTED: _interrupted,
    Rule.REMAINING: _remaining,
    Rule.LATE_WORK: _late_work,
    Rule.NO_SIZE: _no_size,
    Rule.AFTER_OUTSIDE: _after_outside,
    Rule.WAIT_FOR_JOURNEY: _waits,
}

"""What somebody or something that is away was planned for."""

from collections.abc import Iterator

from scheduler.away.values import Hit
from scheduler.normalise import Normal
from scheduler.problem import Schedule
from shared.absence import Absence, AwayKind
from shared.book import Book, FactKind, Journey, Step
from shared.ids import MaterialId, StepId
from shared.plan import Plan
from shared.units import STEP_SECONDS, instant_of


def hit_stages(normal: Normal, schedule: Schedule, absence: Absence) -> list[int]:
    """Return the stages that lie over an absence and need who or what is away, in order of time.

    What is under way is not among them: it waits for its people.
    """
    start, end = _steps(normal, absence)
    waiting = frozenset(absence.steps)
    found = []
    for at, name in enumerate(normal.stages):
        is_open = name.is_told and name.begun is None and schedule.ways[at] >= 0
        if not is_open or schedule.starts[at] >= end or schedule.ends[at] <= start:
            continue
        if absence.kind is AwayKind.DELIVERY:
            is_hit = name.step in waiting and schedule.starts[at] >= start
        else:
            is_hit = _needs(normal, schedule, at, absence)
        if is_hit:
            found.append(at)
    return sorted(found, key=lambda at: (schedule.starts[at], at))


def _needs(normal: Normal, schedule: Schedule, at: int, absence: Absence) -> bool:
    way = normal.ways[at][schedule.ways[at]]
    if absence.kind is AwayKind.PLACE:
        return way.place == absence.id
    if absence.kind is AwayKind.EQUIPMENT:
        return absence.id in way.equipment
    return any(normal.workers[worker] == absence.id for worker in schedule.teams[at])


def _steps(normal: Normal, absence: Absence) -> tuple[int, int]:
    start = int((absence.start - normal.origin).total_seconds() // STEP_SECONDS)
    end = -int(-(absence.end - normal.origin).total_seconds() // STEP_SECONDS)
    return start, end


def hits_of(normal: Normal, schedule: Schedule, stages: list[int]) -> tuple[Hit, ...]:
    """Return stages as what is hit."""
    return tuple(
        Hit(
            job=normal.stages[at].job,
            step=normal.stages[at].step,
            start=instant_of(normal.origin, schedule.starts[at]),
            end=instant_of(normal.origin, schedule.ends[at]),
        )
        for at in stages
    )


def journeys_hit(book: Book, plan: Plan, absence: Absence) -> tuple[Hit, ...]:
    """Return the journeys of a plan that need who or what is away while it is."""
    steps = {step.id: step for job in book.jobs for step in job.steps}
    return tuple(
        Hit(job=trip.job, step=trip.step, start=trip.start, end=trip.back)
        for trip in plan.trips
        if trip.start < absence.end
        and max(trip.back, trip.free) > absence.start
        and absence.id in _along(steps.get(trip.step), trip.means)
    )


def _along(step: Step | None, means: str | None) -> Iterator[str]:
    if isinstance(step, Journey):
        yield from step.crew
        yield from step.vehicles
        for each in step.means:
            if each.id == means:
                yield from each.vehicles


def steps_with(book: Book, material: MaterialId) -> tuple[StepId, ...]:
    """Return the steps that take a material and of which nobody was told that all is there."""
    there = {fact.step for fact in book.facts if fact.kind is not FactKind.HELD}
    return tuple(
        step.id
        for job in book.jobs
        for step in job.steps
        if step.id not in there and any(each == material for each in _materials(step))
    )


def _materials(step: Step) -> Iterator[MaterialId]:
    if isinstance(step, Journey):
        return
    for need in getattr(step, "materials", ()):
        yield need.material
    for way in step.ways:
        yield from (need.material for need in way.materials)

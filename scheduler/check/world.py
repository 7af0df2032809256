"""The book and the plan side by side: every placement beside the step of the book it places."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from scheduler.check.clock import DAY, QUARTER, seconds, up
from scheduler.check.facts import Facts
from scheduler.check.hours import Hours, HourTables
from scheduler.check.job_table import JobTable, Link
from scheduler.check.memory import CheckMemory
from scheduler.check.openings import Openings
from scheduler.check.weather import Weather
from shared.as_told import AsTold
from shared.book import (
    Act,
    Book,
    Fact,
    Gate,
    GateKind,
    Job,
    Journey,
    Kind,
    Need,
    Pin,
    Segment,
    Stage,
    Step,
    Way,
)
from shared.climate import Climate
from shared.ids import JobId, PersonId, SegmentId, StepId
from shared.plan import Placement, Plan, Trip
from shared.trade import defaults

Slot = tuple[StepId, int, str]
"""What is placed once: a step, its round (0 but for answers) and part."""

_FARTHEST = 6 * 366 * DAY


class Task(NamedTuple):
    """A piece of work or waiting that a plan places: what the book says, and where it stands.

    start, end: seconds. done: told to be over. running: told to be under way. work: False for
    an answer, which is waited for. way: that is used, None where the book has none of that name.
    """

    job: Job
    step: Stage | Gate
    placement: Placement
    start: int
    end: int
    ways: tuple[Way, ...] = ()
    segments: tuple[Segment, ...] = ()
    in_one_go: bool = False
    watch_minutes: int = 0
    longest_pause_days: int = 0
    asked: tuple[PersonId, ...] = ()
    certificates: tuple[str, ...] = ()
    stays: bool = False
    not_before: date | None = None
    pin: Pin | None = None
    done: bool = False
    running: Fact | None = None
    work: bool = True
    way: Way | None = None


class World:
    """Everything the rules look at, looked up once."""

    def __init__(self, book: Book, plan: Plan, now: int, memory: CheckMemory | None = None) -> None:
        """Put the plan beside the book, as of a second, with what is remembered of the book."""
        self.book, self.plan, self.now = book, plan, now
        self.memory = memory or CheckMemory()
        self.zone = book.workshop.zone
        self.facts = Facts(book.facts)
        self.unconfirmed = {fact.step for fact in book.facts if isinstance(fact, AsTold)}
        self.people = {person.id: person for person in book.people}
        self.places = {place.id: place for place in book.places}
        self.equipment = {thing.id: thing for thing in book.equipment}
        self.all_jobs = {job.id: job for job in book.jobs}
        wanted = set(plan.jobs)
        self.jobs = [job for job in book.jobs if job.id in wanted]
        self._tables = {id(job): _table(self.memory, job) for job in self.jobs}
        self._ends: dict[StepId, int | None] = {}
        self.could_stand: dict[Slot, bool] = {}
        self.ready_after: dict[tuple[StepId, int], int] = {}
        self.needed: dict[Slot, int | None] = {}
        self.seated: dict[tuple[tuple[PersonId, ...], tuple[Need, ...]], bool] = {}
        self.steps: dict[StepId, tuple[Job, Step]] = {
            step.id: (job, step) for job in self.jobs for step in job.steps
        }

    @cached_property
    def tasks(self) -> dict[Slot, Task]:
        """Return the placements that place something the book has, the first of each slot."""
        found: dict[Slot, Task] = {}
        for placement in self.plan.placements:
            task = self._task(placement)
            if task is not None:
                found.setdefault((placement.step, placement.round, placement.part), task)
        return found

    @cached_property
    def trips(self) -> dict[StepId, tuple[Job, Journey, Trip]]:
        """Return the trips of journeys that the book has, the first of each."""
        found: dict[StepId, tuple[Job, Journey, Trip]] = {}
        for trip in self.plan.trips:
            job, step = self.steps.get(trip.step, (None, None))
            if job is not None and isinstance(step, Journey) and job.id == trip.job:
                found.setdefault(trip.step, (job, step, trip))
        return found

    def trips_of(self, job: Job) -> list[tuple[Journey, Trip]]:
        """Return the trips of a job."""
        return self._trips_by_job.get(job.id, [])

    @cached_property
    def _trips_by_job(self) -> dict[JobId, list[tuple[Journey, Trip]]]:
        found: dict[JobId, list[tuple[Journey, Trip]]] = defaultdict(list)
        for job, journey, trip in self.trips.values():
            found[job.id].append((journey, trip))
        return found

    @cached_property
    def begun_nowhere(self) -> frozenset[StepId]:
        """Return the steps that have begun and that the plan has no place for."""
        nowhere = (one.step for one in self.plan.unplaced if one.step in self.steps)
        return frozenset(step for step in nowhere if self.facts.has_begun(step))

    @cached_property
    def airs(self) -> dict[tuple[str | None, str | None], list[Task]]:
        """Return the tasks by the air in which they are worked, nothing until somebody asks."""
        return {}

    @cached_property
    def weather(self) -> Weather:
        """Return how warm and damp every place is."""
        told = (self.book.workshop, self.book.offers, tuple(self.places))
        return self.memory.weather.of(
            tuple(self.places), told, lambda: Weather(Climate(self.book), self.zone)
        )

    @cached_property
    def hours(self) -> Hours:
        """Return people's hours over the time the plan speaks of."""
        last = max((task.end for task in self.tasks.values()), default=self.now)
        is_far = last > self.now + _FARTHEST
        last = min(max(last, self.now), self.now + _FARTHEST)
        tables = HourTables() if is_far else self.memory.hours
        tables.cover(self.now - 7 * DAY, last + 3 * DAY)
        return Hours(self.book, tables)

    @cached_property
    def never_alone(self) -> frozenset[Act]:
        """Return what nobody does alone: as the book says, else the usual."""
        told = self.book.workshop.never_alone
        return frozenset(defaults.NEVER_ALONE if told is None else told)

    @cached_property
    def rates(self) -> dict[tuple[tuple[PersonId, ...], int, bool], Fraction]:
        """Return the quarters of a person-hour by team, hands and in one go, as asked for."""
        return {}

    @cached_property
    def presence(self) -> dict[PersonId, Openings]:
        """Return when people are in the building, nothing until somebody asks."""
        return {}

    @cached_property
    def company(self) -> dict[PersonId, Openings]:
        """Return when people work with somebody else there, of those who were asked about."""
        return {}

    def work(self) -> list[Task]:
        """Return what people are still to do or are doing, in the order of the plan."""
        return self._work

    @cached_property
    def _work(self) -> list[Task]:
        return [task for task in self.tasks.values() if task.work and not task.done]

    def knows(self, task: Task) -> bool:
        """Return whether everybody who is on a task is of the workshop."""
        return all(map(self.people.__contains__, task.placement.people))

    def first_quarter(self) -> int:
        """Return the first quarter that is not before now."""
        return up(self.now)

    def table(self, job: Job) -> JobTable:
        """Return what a planned job says of its steps."""
        return self._tables[id(job)]

    def segments_of(self, job: Job, step: Step) -> tuple[Segment, ...]:
        """Return the segments of a step: those it names, else all of the job."""
        return self.table(job).segments(step)

    def befores(self, job: Job, step: Step) -> dict[StepId, Step]:
        """Return the steps of the job right before a step in its list, segment by segment."""
        return self.table(job).befores(step)

    def links(self, job: Job, step: Step) -> tuple[Link, ...]:
        """Return what a step comes after: as the book names it, else by the order of its list."""
        return self.table(job).links(step)

    def tasks_on(self, job: Job, segment: Segment) -> list[Task]:
        """Return the tasks of a job that are about a segment."""
        return self._tasks_by_segment.get((job.id, segment.id), [])

    def start_of(self, step: StepId) -> int | None:
        """Return when a step starts in the plan, None if it isn't placed."""
        if step in self.trips:
            return seconds(self.trips[step][2].start)
        for slot in ((step, 0, "abrade"), (step, 0, ""), (step, 1, "")):
            if slot in self.tasks:
                return self.tasks[slot].start
        return None

    def main_start_of(self, step: StepId) -> int | None:
        """Return when a step itself starts, an abrade stage before it left out."""
        task = self.tasks.get((step, 0, ""))
        return self.start_of(step) if task is None else task.start

    def any_step(self, step: StepId) -> Step | None:
        """Return a step of any job of the book, None if it has none of that name."""
        return self.steps[step][1] if step in self.steps else self._first_steps.get(step)

    @cached_property
    def _first_steps(self) -> dict[StepId, Step]:
        steps = [step for job in self.book.jobs for step in job.steps]
        return {step.id: step for step in reversed(steps)}

    def end_of(self, step: StepId) -> int | None:
        """Return when a step ends in the plan or by a fact, None if nobody knows."""
        if step not in self._ends:
            self._ends[step] = self._end_of(step)
        return self._ends[step]

    def _end_of(self, step: StepId) -> int | None:
        if step in self.trips:
            return seconds(self.trips[step][2].end)
        parts = ("", "changes")
        ends = [task.end for part in parts for task in self.tasks_at(step, part)]
        if ends:
            return max(ends)
        fact = self.facts.done(step)
        return None if fact is None or step in self.steps else seconds(fact.at)

    def is_changed(self, step: Step) -> bool:
        """Return whether the changes that a yes asked for are done.

        Somebody told so, or something that comes after the answer, near or far, has begun.
        """
        if self.facts.done(step.id):
            return True
        job, behind = self.steps[step.id][0], {step.id}
        while True:
            more = {
                each.id
                for each in job.steps
                if each.id not in behind and not behind.isdisjoint(self.names_before(job, each))
            }
            if not more:
                return False
            if any(self.facts.has_begun(each) for each in more):
                return True
            behind |= more

    def names_before(self, job: Job, step: Step) -> list[StepId]:
        """Return what a step comes after: as the book names it, else by the order of its list."""
        if step.after is None:
            return list(self.befores(job, step))
        return [after.step for after in step.after]

    def changes_of(self, answer: StepId) -> Task | None:
        """Return the work that a yes with changes asked for, None where none is placed."""
        return next(iter(self.tasks_at(answer, "changes")), None)

    def tasks_at(self, step: StepId, part: str) -> list[Task]:
        """Return what is placed of a part of a step, round by round as the plan has it."""
        return self._tasks_by_part.get((step, part), [])

    @cached_property
    def _tasks_by_part(self) -> dict[tuple[StepId, str], list[Task]]:
        found: dict[tuple[StepId, str], list[Task]] = defaultdict(list)
        for (step, _, part), task in self.tasks.items():
            found[step, part].append(task)
        return found

    @cached_property
    def _tasks_by_segment(self) -> dict[tuple[JobId, SegmentId], list[Task]]:
        found: dict[tuple[JobId, SegmentId], list[Task]] = defaultdict(list)
        for task in self.tasks.values():
            for segment in dict.fromkeys(piece.id for piece in task.segments):
                found[task.job.id, segment].append(task)
        return found

    def _task(self, placement: Placement) -> Task | None:
        job, step = self.steps.get(placement.step, (None, None))
        if job is None or step is None or isinstance(step, Journey) or job.id != placement.job:
            return None
        if placement.part == "abrade":
            return self._extra(job, step, placement, self.abrade_ways(job, step))
        if placement.part in ("rework", "changes"):
            asked = getattr(step, placement.part) if isinstance(step, Gate) else None
            return self._extra(job, step, placement, asked.ways if asked else ())
        if placement.part:
            return None
        return (
            self._stage(job, step, placement)
            if isinstance(step, Stage)
            else self._gate(job, step, placement)
        )

    def abrade_ways(self, job: Job, step: Step) -> tuple[Way, ...]:
        """Return the ways to abrade before a step: the work of all coats right before it.

        What several coats ask for under one id is done for all of them.
        """
        found: dict[str, Way] = {}
        for coat in self._coats_before(job, step):
            for way in coat.abrade.ways if coat.abrade else ():
                found[way.id] = both_ways(found[way.id], way) if way.id in found else way
        return tuple(found.values())

    def _coats_before(self, job: Job, step: Step) -> Iterator[Stage]:
        """Give the stages right before a step that have a recoat time."""
        for link in self.links(job, step):
            coat = None if link.from_start else self.any_step(link.before)
            if not isinstance(coat, Stage) or (coat.recoat_hours is None and not coat.recoat_bands):
                continue
            if coat.id in self.steps or self.facts.done(coat.id):
                yield coat

    def _extra(
        self, job: Job, step: Stage | Gate, placement: Placement, ways: tuple[Way, ...]
    ) -> Task:
        return Task(
            job=job,
            step=step,
            placement=placement,
            start=seconds(placement.start),
            end=seconds(placement.end),
            ways=ways,
            way=_used(ways, placement),
            segments=self.segments_of(job, step),
            longest_pause_days=self.book.workshop.longest_pause_days,
            done=self._is_past(step, placement),
        )

    def _is_past(self, step: Step, placement: Placement) -> bool:
        """Return whether what comes after an abrade stage or a rework was told to have begun."""
        if placement.part == "abrade":
            return bool(self.facts.done(step.id) or self.facts.running(step.id))
        if placement.part == "changes":
            return self.is_changed(step)
        return placement.round < self.facts.rounds_begun(step.id)

    def _stage(self, job: Job, stage: Stage, placement: Placement) -> Task:
        workshop = self.book.workshop
        watch = stage.watch_minutes
        if watch is None:
            watch = workshop.watch_minutes if stage.kind is Kind.LAMINATE else 0
        pause = stage.longest_pause_days
        return Task(
            job=job,
            step=stage,
            placement=placement,
            start=seconds(placement.start),
            end=seconds(placement.end),
            ways=stage.ways,
            way=_used(stage.ways, placement),
            segments=self.segments_of(job, stage),
            in_one_go=stage.in_one_go,
            watch_minutes=watch,
            longest_pause_days=workshop.longest_pause_days if pause is None else pause,
            asked=stage.people,
            certificates=stage.certificates,
            stays=stage.stays,
            not_before=stage.not_before,
            pin=stage.pin,
            done=self.facts.done(stage.id) is not None,
            running=self.facts.running(stage.id),
        )

    def _gate(self, job: Job, gate: Gate, placement: Placement) -> Task:
        answer = gate.gate is GateKind.ANSWER
        ways = () if answer else gate.ways
        first = placement.round <= 1
        return Task(
            job=job,
            step=gate,
            placement=placement,
            start=seconds(placement.start),
            end=seconds(placement.end),
            ways=ways,
            way=_used(ways, placement),
            segments=self.segments_of(job, gate),
            in_one_go=gate.in_one_go,
            longest_pause_days=self.book.workshop.longest_pause_days,
            not_before=gate.not_before if first else None,
            pin=gate.pin if first else None,
            done=self.facts.done(gate.id) is not None,
            running=None if answer else self.facts.running(gate.id),
            work=not answer,
        )


def _table(memory: CheckMemory, job: Job) -> JobTable:
    return memory.jobs.of(job.id, job, lambda: JobTable(job))


def _used(ways: tuple[Way, ...], placement: Placement) -> Way | None:
    for way in ways:
        if way.id == placement.way:
            return way
    return None


def both_ways(first: Way, second: Way) -> Way:
    """Return a way that does the work of two, in the place and with the people of the first."""
    area = None
    if first.area_m2 is not None and second.area_m2 is not None:
        area = first.area_m2 + second.area_m2
    low, likely, high = (
        getattr(first.hours, name) + getattr(second.hours, name)
        for name in ("low", "likely", "high")
    )
    hours = replace(first.hours, low=low, likely=likely, high=high)
    return replace(first, hours=hours, area_m2=area)


def is_answer(step: Step) -> bool:
    """Return whether a step is the client's answer."""
    return isinstance(step, Gate) and step.gate is GateKind.ANSWER


def is_loading(step: Step) -> bool:
    """Return whether a step is the loading."""
    return isinstance(step, Gate) and step.gate is GateKind.LOADING


def quarters(task: Task) -> tuple[int, int]:
    """Return a task's start and end on the grid."""
    return up(task.start), -(-task.end // QUARTER)

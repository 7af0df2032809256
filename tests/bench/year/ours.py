"""The engine as the planner: each morning a repair, and passes where windows or buffers are short.

It knows no more than a hand rule does: the book as it stands in the morning, with what is done,
what runs and what people say is left of it. It spends so much effort, never time, so that a year
comes out the same every time.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from scheduler.aims import levels, missed_jobs
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.check import check
from scheduler.kept import Kept
from scheduler.normalise import Normal, normalise
from scheduler.place import place
from scheduler.problem import Schedule
from scheduler.repair import without_loss
from scheduler.request import SolveRequest
from scheduler.shifts import first_schedule, improve_by_shifts
from scheduler.stop import AfterEffort
from scheduler.unfold import to_plan
from scheduler.urgency import countback_order
from shared.book import Book, ExtraHours, Job
from shared.book import Told as ToldPlan
from shared.ids import JobId, PersonId, StepId
from shared.plan import Placement, Plan, Trip
from tests.bench.year.as_book import book_of
from tests.bench.year.clock import NEVER, instant, quarter_up
from tests.bench.year.plans import Item, Told
from tests.bench.year.rides import by_hand
from tests.bench.year.season import Season

EFFORT = 60
"""Passes on a morning on which something is short."""
ASKED_EFFORT = 120
"""Passes to answer an enquiry, or to ask about a Saturday."""


class BrokenPlanError(AssertionError):
    """The check has found a plan broken; this is never let pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A schedule of a book as it was normalised."""

    book: Book
    normal: Normal
    index: Index
    schedule: Schedule
    late: Mapping[JobId, int]

    def missed(self) -> frozenset[JobId]:
        """Return the jobs that miss their windows."""
        found = missed_jobs(self.normal.problem, self.schedule)
        return frozenset(self.normal.jobs[job].job.id for job in found)

    def levels(self) -> tuple[int, ...]:
        """Return what it reaches."""
        return levels(self.normal.problem, self.schedule)

    def short(self) -> frozenset[JobId]:
        """Return the jobs that miss their windows or load later than is wished for."""
        found = set(self.missed())
        for name, aim in zip(self.normal.jobs, self.normal.problem.jobs, strict=True):
            ends = [self.schedule.ends[stage] for stage in aim.lasts]
            if aim.wish is not None and max(ends, default=0) > aim.wish:
                found.add(name.job.id)
        return frozenset(found)


class Ours:
    """The engine, asked every morning."""

    name = "the engine"

    def __init__(self, seed: int = 1) -> None:
        """Begin with nothing kept."""
        self._seed = seed
        self._kept = Kept()
        self._plan: Plan | None = None
        self._answer: Answer | None = None

    def accepts(self, season: Season, job: Job) -> bool:
        """Take a rush on that fits with its buffer, and for which nobody else misses a window."""
        before = self._asked(season, self._book(season), EFFORT)
        book = self._book(season)
        book = replace(book, jobs=(*book.jobs, job))
        found = self._asked(season, book, ASKED_EFFORT)
        self._kept.note(before.normal, before.schedule, before.late)
        return job.id not in found.short() and found.missed() <= before.missed()

    def plan(self, season: Season) -> Told:
        """Plan anew from what is known this morning."""
        book = self._book(season)
        if not book.jobs:
            return Told()
        answer = self._asked(season, book, EFFORT)
        plan = to_plan(answer.normal, answer.schedule, seed=self._seed)
        result = check(book, plan, self._kept.checks)
        if result.breaches:
            raise BrokenPlanError(str(result.breaches[:3]))
        self._plan, self._answer = plan, answer
        return _as_told(season, plan, answer.missed())

    def saturday(self, season: Season, told: Told) -> tuple[PersonId, ...]:
        """Have in who offers it, if a window or some of a buffer is saved by it."""
        del told
        offered = season.coming_saturday()
        assert self._answer is not None or not season.floor.jobs
        if not offered or self._answer is None or not self._answer.short():
            return ()
        base = self._answer
        best = self._with(season, offered)
        self._note(base)
        return tuple(sorted(offered)) if best.levels()[:4] < base.levels()[:4] else ()

    def _with(self, season: Season, extra: Mapping[PersonId, ExtraHours]) -> Answer:
        book = self._book(season)
        people = tuple(
            replace(one, overtime_taken=(*one.overtime_taken, extra[one.id]))
            if one.id in extra
            else one
            for one in book.people
        )
        return self._asked(season, replace(book, people=people), EFFORT)

    def warned(self, season: Season, told: Told) -> frozenset[JobId]:
        """Warn of what misses, and of what has lost its buffer."""
        del season, told
        return frozenset() if self._answer is None else self._answer.short()

    def _book(self, season: Season) -> Book:
        book = book_of(season)
        if self._plan is None:
            return book
        told = ToldPlan(plan=self._plan, at=book.as_of or self._plan.now)
        return replace(book, told=told)

    def _note(self, answer: Answer) -> None:
        self._kept.note(answer.normal, answer.schedule, answer.late)

    def _asked(self, season: Season, book: Book, effort: int) -> Answer:
        """Return a schedule near the last one, bettered where anything is short."""
        now = instant(season.floor.now)
        request = SolveRequest(book=book, now=now, effort=effort, workers=1, seed=self._seed)
        found = self._again(request, book) or self._anew(request, book)
        reached = levels(found.normal.problem, found.schedule)
        if any(reached[:4]):
            better = improve_by_shifts(
                found.index, found.schedule, seed=self._seed, stop=AfterEffort(effort)
            )
            found = replace(found, schedule=better)
        found = replace(found, schedule=_sooner(found))
        self._note(found)
        return found

    def _again(self, request: SolveRequest, book: Book) -> Answer | None:
        again = self._kept.again(request)
        if again is None:
            return None
        schedule = again.schedule
        if again.loses:
            schedule = without_loss(again.index, schedule, self._seed)
        return Answer(
            book=book,
            normal=again.normal,
            index=again.index,
            schedule=schedule,
            late=again.late,
        )

    def _anew(self, request: SolveRequest, book: Book) -> Answer:
        """Return a first schedule; what fits nowhere any more is left out with its job."""
        left_out: dict[StepId, None] = {}
        while True:
            normal = normalise(book, request.now, left_out=left_out, memory=self._kept.memory)
            index = Index(normal.problem, tables=self._kept.tables)
            schedule = first_schedule(index, self._seed)
            if not isinstance(schedule, Unfit):
                return Answer(book=book, normal=normal, index=index, schedule=schedule, late={})
            name = normal.stages[schedule.stage]
            left_out |= {
                step.id: None for job in book.jobs if job.id == name.job for step in job.steps
            }


def _sooner(answer: Answer) -> Schedule:
    """Return the schedule with everything placed as soon as can be, in the order it begins in.

    A schedule leaves work as late as its windows and buffers allow, so that pieces stand about for
    less time; hours that nobody works today are lost to whoever meets a surprise tomorrow.
    """
    problem, late = answer.normal.problem, answer.schedule
    stages = range(len(problem.stages))
    begin = [late.starts[stage] if late.ways[stage] >= 0 else NEVER for stage in stages]
    orders = (
        sorted(stages, key=lambda stage: (begin[stage], stage)),
        countback_order(answer.index),
    )
    passes = (place(answer.index, order) for order in orders)
    found = [each for each in passes if not isinstance(each, Unfit)]
    ranked = [(levels(problem, each)[:4], number) for number, each in enumerate(found)]
    if not ranked or min(ranked)[0][:2] > levels(problem, late)[:2]:
        return late
    return found[min(ranked)[1]]


def _as_told(season: Season, plan: Plan, missed: frozenset[JobId]) -> Told:
    items = [
        _item(season, placement)
        for placement in plan.placements
        if placement.people and _is_open(season, placement)
    ]
    return Told(
        items=tuple(sorted(items, key=lambda item: (item.start, item.task))),
        leaves={trip.job: _leaves(season, plan, trip) for trip in plan.trips},
        late=missed,
    )


def _leaves(season: Season, plan: Plan, trip: Trip) -> int:
    """Return when a lorry leaves: planned for the last moment, it goes as soon as by hand."""
    job = season.floor.jobs[trip.job]
    loads = job.steps[-2].id
    ends = (quarter_up(each.end) for each in plan.placements if each.step == loads)
    loaded = max(season.floor.now, max(ends, default=0))
    return min(quarter_up(trip.start), by_hand(job, loaded))


def _is_open(season: Season, placement: Placement) -> bool:
    floor = season.floor
    if placement.part == "abrade":
        return True
    return placement.step not in floor.over and placement.step not in floor.running


def _item(season: Season, placement: Placement) -> Item:
    task = season.floor.tasks[placement.step]
    is_abrade = placement.part == "abrade"
    hows = task.hows
    how = next(
        (each for each in hows if (each.way, each.place) == (placement.way, placement.place)),
        hows[0],
    )
    if is_abrade:
        how = season.abrade_how
    return Item(
        task=StepId(f"{placement.step}.abrade") if is_abrade else placement.step,
        start=quarter_up(placement.start),
        end=quarter_up(placement.end),
        team=tuple(sorted(placement.people)),
        how=how,
        is_abrade=is_abrade,
    )

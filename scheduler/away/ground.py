"""What answers start from: the plan without the absence, and schedules with it, quickly made."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

from scheduler.aims import loading_end, missed_jobs
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.check.memory import CheckMemory
from scheduler.edited import Before, carried
from scheduler.grid import DAY_STEPS, WEEK_STEPS
from scheduler.held_told import Slot, hold_told
from scheduler.kept import Kept
from scheduler.normalise import Normal, normalise
from scheduler.place import place
from scheduler.problem import Schedule, Stage
from scheduler.reasons import Reason
from scheduler.repair import repair
from scheduler.request import SolveRequest
from scheduler.shifts import first_schedule
from scheduler.solve import solve
from scheduler.unfold import to_plan
from scheduler.urgency import Urgency, shifted_order
from shared.book import Book, Told
from shared.ids import JobId, StepId
from shared.levers import Lever

Tweaks = Mapping[int, Callable[[Stage], Stage]]
"""What is asked of stages besides, by their place."""
FIRST_SECONDS = 1.0
URGENT_STEPS = 365 * DAY_STEPS


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A schedule of a book with the absence in it, and the levers that were pulled in it."""

    book: Book
    normal: Normal
    index: Index
    schedule: Schedule
    levers: tuple[Lever, ...] = ()

    @property
    def missed(self) -> frozenset[JobId]:
        """Return the jobs whose windows are missed."""
        missed = missed_jobs(self.normal.problem, self.schedule)
        gone = {each.job.id for each in self.normal.gone if not each.kept}
        return frozenset(self.normal.jobs[at].job.id for at in missed) | gone

    def late_weeks(self, jobs: Collection[JobId]) -> int:
        """Return the whole weeks by which loading is late, summed over some jobs."""
        problem = self.normal.problem
        late = (
            loading_end(aim, self.schedule) - aim.latest
            for aim, name in zip(problem.jobs, self.normal.jobs, strict=True)
            if name.job.id in jobs and aim.latest is not None
        )
        return sum(max(0, each) // WEEK_STEPS for each in late)

    @property
    def short(self) -> dict[JobId, int]:
        """Return by job the steps that its buffer is short of; of those that keep their window."""
        return short_of(self.normal, self.schedule, self.missed)


def short_of(normal: Normal, schedule: Schedule, missed: Collection[JobId]) -> dict[JobId, int]:
    """Return by job the steps short of the wished buffer, where the window is kept."""
    found: dict[JobId, int] = {}
    for at, name in enumerate(normal.jobs):
        if name.job.id in missed:
            continue
        aim = normal.problem.jobs[at]
        end = loading_end(aim, schedule)
        if aim.wish is not None and end > aim.wish:
            found[name.job.id] = end - aim.wish
    return found


class Ground:
    """The plan without the absence, and what is kept between tries."""

    def __init__(self, request: SolveRequest, kept: Kept | None = None) -> None:
        """Take the plan as people were told it, else a quick one."""
        self.request, self._kept = request, kept or Kept()
        self._left_out: dict[StepId, None] = {}
        self._last: tuple[Book, Normal, Index] | None = None
        start = self._kept.again(request)
        if start is None:
            solve(replace(request, seconds=FIRST_SECONDS, effort=None), kept=self._kept)
            before = self._kept.before
            assert before is not None
            self.normal, self.schedule = before.normal, before.schedule
            self.index = Index(self.normal.problem, tables=self._kept.tables)
            self._left_out = {
                each.step: None
                for each in self.normal.unplaced
                if each.code == Reason.NOT_PLACED.value
            }
        else:
            self.normal, self.index, self.schedule = start.normal, start.index, start.schedule
        self.before = Before(normal=self.normal, schedule=self.schedule)
        self.plan = to_plan(self.normal, self.schedule, seed=request.seed)
        self.is_told = request.book.told is not None

    @property
    def book(self) -> Book:
        """Return the book, its plan told where nobody was told any."""
        book = self.request.book
        if self.is_told:
            return book
        return replace(book, told=Told(plan=self.plan, at=self.request.now))

    @property
    def checks(self) -> CheckMemory:
        """Return what was read of books for the check."""
        return self._kept.checks

    def urgent(self, book: Book, jobs: Collection[JobId]) -> Found | None:
        """Return a schedule made anew in which some jobs go before all others."""
        tables = self._kept.tables
        normal, index = hold_told(*self.free(book), tables)
        sooner = {at: -URGENT_STEPS for at, name in enumerate(normal.jobs) if name.job.id in jobs}
        release = index.once(Urgency).release
        schedule = place(index, shifted_order(index, sooner), release=release)
        if isinstance(schedule, Unfit):
            return None
        return Found(book=book, normal=normal, index=index, schedule=schedule)

    def anew(self, book: Book) -> Found | None:
        """Return a schedule made anew, what is held as told apart."""
        normal, index = hold_told(*self.free(book), self._kept.tables)
        schedule = first_schedule(index, self.request.seed)
        if isinstance(schedule, Unfit):
            return None
        return Found(book=book, normal=normal, index=index, schedule=schedule)

    def searched(self, book: Book, seconds: float) -> Found | None:
        """Return a schedule that was looked for in so many seconds, from the plan on."""
        kept = Kept()
        kept.memory, kept.tables, kept.checks = (
            self._kept.memory,
            self._kept.tables,
            self._kept.checks,
        )
        kept.note(self.normal, self.schedule, {})
        solve(replace(self.request, book=book, seconds=seconds, effort=None), kept=kept)
        before = kept.before
        if before is None:
            return None
        index = Index(before.normal.problem, tables=kept.tables)
        return Found(book=book, normal=before.normal, index=index, schedule=before.schedule)

    def free(self, book: Book) -> tuple[Normal, Index]:
        """Return a book as a problem, nothing held as told; the last one asked for is at hand."""
        if self._last is None or self._last[0] is not book:
            request, kept = self.request, self._kept
            normal = normalise(
                book, request.now, request.asked, left_out=self._left_out, memory=kept.memory
            )
            self._last = book, normal, Index(normal.problem, tables=kept.tables)
        return self._last[1:]

    def found(
        self,
        book: Book,
        *,
        levers: tuple[Lever, ...] = (),
        let_go: Collection[Slot] = (),
        tweaks: Callable[[Normal], Tweaks] | None = None,
    ) -> Found | None:
        """Return a schedule of a book near the plan, None where no way was found.

        let_go: what was told and need not stay. tweaks: what is asked besides of some stages, as
        far as the book leaves it open.
        """
        tables = self._kept.tables
        free = self.free(book)
        normal, index = hold_told(*free, tables, let_go)
        asked = tweaks(normal) if tweaks is not None else {}
        if asked:
            said = free[0].problem.stages
            stages = tuple(
                _tweaked(stage, asked[at], said[at]) if at in asked else stage
                for at, stage in enumerate(normal.problem.stages)
            )
            normal = replace(normal, problem=replace(normal.problem, stages=stages))
            index = Index(normal.problem, tables=tables)
        schedule = repair(index, carried(normal, self.before))
        if schedule is None:
            return None
        return Found(book=book, normal=normal, index=index, schedule=schedule, levers=levers)


def _tweaked(stage: Stage, tweak: Callable[[Stage], Stage], said: Stage) -> Stage:
    """Return a stage as is asked, the same where the book asks for other people.

    A start that the book fixes stays. said: the stage by the book alone.
    """
    new = tweak(stage)
    people, wanted = set(new.asked), set(said.asked)
    if not wanted <= people or (said.only_asked and wanted != people):
        return stage
    return new if said.fixed_start is None else replace(new, fixed_start=said.fixed_start)

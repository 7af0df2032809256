"""One trial: a book with some levers pulled, planned quickly, and whether that is enough."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.edited import Before
from scheduler.held_told import freed, hold_told, slot_of
from scheduler.hopeless import hopeless
from scheduler.kept import Kept
from scheduler.levers.lawful import careful, is_lawful
from scheduler.normalise import Normal, normalise
from scheduler.place import place
from scheduler.problem import Schedule
from scheduler.proofs import Prover, is_partial
from scheduler.reasons import Reason
from scheduler.repair import repaired
from scheduler.request import SolveRequest
from scheduler.shifts import MISSED_LEVELS, first_schedule, improve_by_shifts
from scheduler.stop import AfterEffort, AnyOf, WhenCancelled
from scheduler.urgency import Urgency, shifted_order
from scheduler.verdicts import stand_of
from shared.book import Book
from shared.edits import pull_all
from shared.ids import JobId, StepId
from shared.levers import Lever, LeverKind

_OF_THE_LAW = frozenset({LeverKind.OVERTIME, LeverKind.TRAINING})
NEVER = 1 << 40
"""So many steps late is a job that can't be placed at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A book as an integer problem. free: without what is held as told for today and tomorrow."""

    book: Book
    normal: Normal
    index: Index
    free: tuple[Normal, Index]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A book with levers pulled and the best quick plan of it.

    late_steps: by which the job misses, 0 where it keeps its window. lost: windows that were
    kept before. keeps: neither, and not unlawful. forbidden: some fact stands against the job
    whatever the plan. schedule: None where some step finds no place.
    """

    job: JobId
    levers: tuple[Lever, ...]
    made: Made
    schedule: Schedule | None
    late_steps: int
    lost: frozenset[JobId]
    keeps: bool
    forbidden: bool = False
    unlawful: bool = False

    @property
    def book(self) -> Book:
        """Return the book with the levers pulled."""
        return self.made.book

    @property
    def normal(self) -> Normal:
        """Return the book as it is planned."""
        return self.made.normal

    @property
    def index(self) -> Index:
        """Return the index of the problem."""
        return self.made.index

    @property
    def freed(self) -> Schedule:
        """Return the schedule in the numbers of the book without what is held as told."""
        return freed(self.normal, _schedule(self))


class Trials:
    """Trials of one question; what was normalised for one serves the next.

    count: how many were made. checks: what was read of books for the check.
    """

    def __init__(
        self, request: SolveRequest, job: JobId, kept: Kept, cancel: Callable[[], bool]
    ) -> None:
        """Take the book as it is planned without levers. kept: what that plan left."""
        self.request, self.job, self.cancel = request, job, cancel
        before = kept.before
        assert before is not None
        self._before = before
        self._memory, self._tables, self.checks = kept.memory, kept.tables, kept.checks
        self._let_go = frozenset(slot_of(name) for name in before.normal.let_go)
        self._sooner = 0
        self._kept = kept_jobs(before.normal, before.schedule)
        self._left_out: Mapping[StepId, None] = {
            each.step: None
            for each in before.normal.unplaced
            if each.job != job and each.code == Reason.NOT_PLACED
        }
        self.count = 0
        self._near: Before = before

    @property
    def stages_count(self) -> int:
        """Return how many stages the problem has without levers."""
        return len(self._before.normal.problem.stages)

    def made(self, levers: Collection[Lever]) -> Made:
        """Return the book with levers pulled as an integer problem."""
        book = pull_all(self.request.book, levers).book if levers else self.request.book
        return self._made(book)

    def _made(self, book: Book) -> Made:
        request = self.request
        normal = normalise(
            book, request.now, request.asked, left_out=self._left_out, memory=self._memory
        )
        free = normal, Index(normal.problem, tables=self._tables)
        normal, index = hold_told(*free, self._tables, self._let_go)
        return Made(book=book, normal=normal, index=index, free=free)

    def tried(self, levers: Iterable[Lever], passes: int = 0, tries: Sequence[int] = ()) -> Tried:
        """Plan the book with levers pulled.

        What comes back may have fewer levers: without extra hours, where only those were against
        the law. tries: by so many steps the job is more urgent in one pass after the other; none
        means the usual first passes. passes: so many shifts at most besides.
        """
        self.count += 1
        pulled = tuple(levers)
        made = self.made(pulled)
        if made.normal.clashes_of(self.job):
            return self._nothing(pulled, made, forbidden=True)
        best = self._planned(pulled, made, tries)
        if isinstance(best, Unfit):
            return self._nothing(pulled, made, forbidden=self._is_hopeless(made, best.stage))
        if not best.keeps and passes and not best.unlawful:
            best = self._shifted(best, passes)
        if best.unlawful:
            best = self._lawful(best, tries)
        if best.keeps:
            self._near = Before(normal=best.normal, schedule=_schedule(best))
        return best

    def _planned(
        self, levers: tuple[Lever, ...], made: Made, tries: Sequence[int]
    ) -> Tried | Unfit:
        """Return the best of the quick plans, the first that is enough; Unfit where none fits."""
        best: Tried | None = None
        unfit: Unfit | None = None
        for schedule, sooner in self._quick(made, tries):
            if isinstance(schedule, Unfit):
                unfit = schedule
                continue
            best = _better(best, self._judged(levers, made, schedule))
            if best.keeps:
                self._sooner = sooner
                break
        if best is not None:
            return best
        assert unfit is not None
        return unfit

    def with_schedule(self, tried: Tried, schedule: Schedule) -> Tried:
        """Return a trial with another schedule of the same book."""
        return self._judged(tried.levers, tried.made, schedule)

    def solved(self, tried: Tried, effort: int) -> tuple[Tried, bool]:
        """Give a trial to the solver; return what it found, and whether none can be enough.

        The number of missed windows is what it makes least: where it proves that there are as many
        as without levers, the job's own is among them or another is lost.
        """
        from scheduler.model.run import Limits
        from scheduler.model.whole import solve_whole

        schedule = _schedule(tried)
        limits = Limits(effort=effort, workers=1, seed=self.request.seed)
        found = solve_whole(
            tried.index, limits, hint=schedule, through=MISSED_LEVELS, cancel=self.cancel
        )
        best = tried
        if found.schedule is not None:
            best = _better(best, self.with_schedule(tried, found.schedule))
        is_whole = not is_partial(tried.normal) and not tried.normal.held
        is_proof = found.exact and is_whole and bool(found.bounds)
        is_firm = self._is_firm(tried.normal)
        never = is_proof and is_firm and found.bounds[0] > self._allowed(tried.normal)
        return best, never and not best.keeps

    def _is_firm(self, normal: Normal) -> bool:
        at = position(normal, self.job)
        return at is not None and normal.problem.jobs[at].firm

    def _allowed(self, normal: Normal) -> int:
        """Return how many firm windows may be missed where the job keeps its own."""
        firm = [
            name.job.id
            for name, aim in zip(normal.jobs, normal.problem.jobs, strict=True)
            if aim.firm
        ]
        return sum(job not in self._kept and job != self.job for job in firm)

    def is_disproved(
        self, tried: Tried, climb: Callable[[Prover, int], None] | None = None
    ) -> bool:
        """Return whether it is proved that a trial's levers are not enough.

        By a fact, by the longest chain, and by whatever `climb` asks of the prover about the job;
        what is proved beside others counts where they keep their windows without levers, too.
        """
        if tried.forbidden:
            return True
        at = position(tried.normal, self.job)
        if tried.schedule is None or tried.keeps or at is None:
            return False
        prover = Prover(*tried.made.free)
        prover.by_chain(tried.freed)
        if climb is not None and not self._stands(prover, tried.freed):
            climb(prover, at)
        return self._stands(prover, tried.freed)

    def _stands(self, prover: Prover, schedule: Schedule) -> bool:
        found = prover.proved(schedule).get(self.job)
        return found is not None and self._kept.issuperset(found.beside)

    def bettered(self, tried: Tried, passes: int) -> Tried:
        """Return a trial with a better schedule, as far as some passes find one that keeps all."""
        assert tried.schedule is not None
        stop = AnyOf(AfterEffort(passes), WhenCancelled(self.cancel))
        found = improve_by_shifts(tried.index, tried.schedule, seed=self.request.seed, stop=stop)
        better = self.with_schedule(tried, found)
        return better if better.keeps or not tried.keeps else tried

    def _quick(self, made: Made, tries: Sequence[int]) -> Iterator[tuple[Schedule | Unfit, int]]:
        """Yield quick schedules, each with the steps by which the job was more urgent.

        Like the last that was enough; then a pass with the job as urgent as it was there, and
        more urgent by so many steps.
        """
        normal, index = made.normal, made.index
        near = repaired(normal, index, self._near)
        if near is not None:
            yield near, self._sooner
        if not tries:
            yield first_schedule(index, self.request.seed), 0
            return
        at, release = position(normal, self.job), index.once(Urgency).release
        for sooner in dict.fromkeys((self._sooner, *tries)):
            offsets = dict.fromkeys(range(len(normal.problem.jobs)), 0)
            if at is not None:
                offsets[at] = -sooner
            yield place(index, shifted_order(index, offsets), release=release), sooner

    def _lawful(self, tried: Tried, tries: Sequence[int]) -> Tried:
        """Return a lawful plan instead of one that is not: nobody alone, nothing before training.

        Else one without the extra hours.
        """
        best = tried
        book = careful(tried.book, tried.levers)
        if book is not tried.book:
            made = self._made(book)
            alike = made.normal.stages == tried.normal.stages
            for schedule, _ in self._quick(made, tries) if alike else ():
                if not isinstance(schedule, Unfit):
                    best = _better(best, self.with_schedule(tried, schedule))
        usual = tuple(each for each in tried.levers if each.kind is not LeverKind.OVERTIME)
        if best.keeps or len(usual) == len(tried.levers):
            return best
        without = self.tried(usual, 0, tries)
        return without if without.keeps else best

    def _is_hopeless(self, made: Made, stage: int) -> bool:
        """Return whether a stage of the job can never be done, whatever else is planned."""
        name = made.normal.stages[stage]
        return name.job == self.job and hopeless(*made.free, stage) is not None

    def _shifted(self, tried: Tried, passes: int) -> Tried:
        best = tried
        seen: list[Tried] = []

        def hear(schedule: Schedule, _: object) -> None:
            found = self.with_schedule(tried, schedule)
            if found.keeps:
                seen.append(found)

        stop = AnyOf(
            AfterEffort(passes), WhenCancelled(lambda: bool(seen)), WhenCancelled(self.cancel)
        )
        start = _schedule(tried)
        found = improve_by_shifts(
            tried.index, start, seed=self.request.seed, stop=stop, on_better=hear
        )
        return seen[0] if seen else _better(best, self.with_schedule(tried, found))

    def _judged(self, levers: tuple[Lever, ...], made: Made, schedule: Schedule) -> Tried:
        kept = kept_jobs(made.normal, schedule)
        at = position(made.normal, self.job)
        late = NEVER if at is None else stand_of(made.normal, at, schedule).late_steps
        lost = self._kept - kept - {self.job}
        keeps = self.job in kept and not lost
        asks = keeps and any(lever.kind in _OF_THE_LAW for lever in levers)
        unlawful = asks and not is_lawful(made.book, made.normal, schedule, levers)
        return Tried(
            job=self.job,
            levers=levers,
            made=made,
            schedule=schedule,
            late_steps=0 if self.job in kept else late,
            lost=frozenset(lost),
            keeps=keeps and not unlawful,
            unlawful=unlawful,
        )

    def _nothing(self, levers: tuple[Lever, ...], made: Made, *, forbidden: bool) -> Tried:
        return Tried(
            job=self.job,
            levers=levers,
            made=made,
            schedule=None,
            late_steps=NEVER,
            lost=frozenset(),
            keeps=False,
            forbidden=forbidden,
        )


def kept_jobs(normal: Normal, schedule: Schedule) -> frozenset[JobId]:
    """Return the jobs that keep their windows in a schedule, those whose lorry has gone too."""
    gone = {gone.job.id for gone in normal.gone if gone.kept}
    positions = range(len(normal.jobs))
    kept = (at for at in positions if stand_of(normal, at, schedule).kept)
    found = {normal.jobs[at].job.id for at in kept}
    barred = {job for job in found if normal.clashes_of(job)}
    return frozenset((found - barred) | gone)


def position(normal: Normal, job: JobId) -> int | None:
    """Return where a job stands in the problem, None where it isn't planned."""
    return next((at for at, name in enumerate(normal.jobs) if name.job.id == job), None)


def _schedule(tried: Tried) -> Schedule:
    assert tried.schedule is not None
    return tried.schedule


def _better(one: Tried | None, other: Tried) -> Tried:
    if one is None:
        return other
    return other if _worth(other) < _worth(one) else one


def _worth(tried: Tried) -> tuple[object, ...]:
    assert tried.schedule is not None
    reached = levels(tried.normal.problem, tried.schedule)
    return not tried.keeps, len(tried.lost), tried.late_steps, reached

"""The questions behind a telephone call: can we take it, at what cost, for when can we promise.

Both books are planned with the same seed and effort, the one with the enquiry from the plan of the
one without, and judged by the same draws. A date is said only after the book was planned anew with
it and the plan checked; windows are tried one after the other and never bisected, since a later one
may be worse: holidays, bans, no sailing, somebody else's crew away.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from scheduler.chance import DRAWS, Chances, JobChance, chances_of, with_chances
from scheduler.enquiring import Taking
from scheduler.kept import Kept
from scheduler.levers.search import ways_out
from scheduler.levers.values import WaysOut
from scheduler.normalise import normalise
from scheduler.outcome import Outcome
from scheduler.price import Pricing
from scheduler.request import Cancel, SolveRequest
from scheduler.rush.values import Promise, Rush, Side
from scheduler.rush.weighing import harms, lates, pricing, taking
from scheduler.solve import Clock, solve
from shared.book import Book, Job, Window
from shared.edits import change_job, move_window
from shared.edits.edited import job_of
from shared.ids import JobId
from shared.units import instant_of
from shared.worktime.zones import local_date, zone_named

EFFORT, EFFORT_LARGE = 8, 2
"""Of each plan, where none is asked for; of a book of LARGE_STEPS steps and more, whose first
answer has to come at once.
"""
LARGE_STEPS = 100
DRAWS_LARGE, LARGE_PLACEMENTS = 512, 250
"""Draws for plans of so many placements and more."""
DAYS_MOST = 200
"""So many days after the wished window dates are looked for."""
BEFORE = 3
"""So many windows before the one found are tried too."""
TRIES_MAX = 12
STARTS_MAX = 4
"""So many days to begin at the soonest are tried for one window."""
DATES_SHARE = 700
"""Up to so many thousandths of the time dates are looked for, then ways out."""
_ALL = 1000
_TOLD_AT = 4
_DAY = timedelta(days=1)
OnFirst = Callable[[Outcome, Outcome], None]
"""Told of the plans without and with the enquiry, before anything is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Candidate:
    """A window to try, and the book in which the enquiry holds it.

    not_before: the day before which nothing is begun for it, so that it comes behind others.
    """

    window: Window
    book: Book
    is_offered: bool
    not_before: date | None = None


def rush(
    request: SolveRequest,
    job: JobId,
    *,
    on_first: OnFirst | None = None,
    cancel: Cancel | None = None,
    clock: Clock,
) -> Rush:
    """Return what an enquiry of the book would do, cost, and when it could be promised.

    request: its seconds are for dates and ways out; plans go by its effort, EFFORT if it has none.

    Raises
    ------
    EngineFault
        If the check finds a plan broken.
    """
    return _Asking(request, job, on_first, cancel, clock).run()


def more_dates(
    request: SolveRequest,
    found: Rush,
    windows: Sequence[Window],
    *,
    cancel: Cancel | None = None,
    clock: Clock,
) -> tuple[Promise, ...]:
    """Return an enquiry tried for more windows, beside the same plan without it.

    request: as it was asked; its seconds are for all of them, at least one is tried. windows: the
    one held in its book on other days.

    Raises
    ------
    EngineFault
        If the check finds a plan broken.
    """
    return _Asking(request, found.job.id, None, cancel, clock).more(found, windows)


class _Asking:
    def __init__(
        self,
        request: SolveRequest,
        job: JobId,
        on_first: OnFirst | None,
        cancel: Cancel | None,
        clock: Clock,
    ) -> None:
        steps = sum(len(each.steps) for each in request.book.jobs)
        effort = EFFORT if steps < LARGE_STEPS else EFFORT_LARGE
        self._request = replace(request, effort=request.effort or effort)
        self._id, self._on_first, self._cancel, self._clock = job, on_first, cancel, clock
        self._job = job_of(request.book, job)
        self._others = tuple(each for each in self._request.asked if each != job)
        self._began = clock()
        self._kept = Kept()
        self._draws = DRAWS
        self._tries = 0
        self._harms = False
        self._short_days = 0

    def run(self) -> Rush:
        """Plan both sides, weigh them, look for dates, then for ways out."""
        book = self._request.book
        without = self._planned(book, self._others)
        with_ = self._planned(book, (*self._others, self._id))
        if self._on_first is not None:
            self._on_first(without, with_)
        if len(with_.plan.placements) >= LARGE_PLACEMENTS:
            self._draws = DRAWS_LARGE
        self._without = self._side(book, without)
        side = self._side(book, with_)
        wished = self._promise(self._wished(), side)
        self._harms = bool(wished.harms)
        promises, honest, is_earliest = self._dates(wished, side)
        ways = self._ways() if wished.taking is Taking.NOT else None
        return Rush(
            job=self._job,
            without=self._without,
            with_=side,
            wished=wished,
            promises=tuple(sorted(promises, key=lambda each: each.window.start)),
            honest=honest,
            is_earliest=is_earliest,
            ways=ways,
            way_pricings=() if ways is None else tuple(self._of_ways(ways, with_)),
            told_anew=with_.levels[_TOLD_AT],
        )

    def more(self, found: Rush, windows: Sequence[Window]) -> tuple[Promise, ...]:
        """Try windows beside what was found."""
        self._without, self._harms = found.without, bool(found.wished.harms)
        self._planned(self._request.book, (*self._others, self._id))
        if len(found.with_.outcome.plan.placements) >= LARGE_PLACEMENTS:
            self._draws = DRAWS_LARGE
        tried: list[Promise] = []
        for window in windows:
            if tried and self._is_over(_ALL):
                break
            made = move_window(self._request.book, self._id, window.start, window.end).book
            held = job_of(made, self._id).held_window
            assert held is not None, "what is laid beside a book holds a window"
            made = replace(made, revision=self._request.book.revision)
            tried.append(self._tried(_Candidate(window=held, book=made, is_offered=False)))
        return tuple(tried)

    def _planned(self, book: Book, asked: Sequence[JobId]) -> Outcome:
        request = replace(self._request, book=book, asked=tuple(asked))
        return solve(request, cancel=self._cancel, clock=self._clock, kept=self._kept)

    def _side(self, book: Book, outcome: Outcome) -> Side:
        chances = self._chances(book, outcome)
        return Side(outcome=with_chances(outcome, chances), chances=chances)

    def _chances(self, book: Book, outcome: Outcome) -> Chances:
        return chances_of(
            book,
            outcome.plan,
            draws=self._draws,
            seed=self._request.seed,
            kept=self._kept,
            with_overrun=False,
        )

    def _is_over(self, share: int) -> bool:
        if self._cancel is not None and self._cancel():
            return True
        return 1000 * (self._clock() - self._began) >= share * self._request.seconds

    # Dates.

    def _promise(self, candidate: _Candidate, side: Side) -> Promise:
        harmed = harms(self._id, self._without, side)
        told, found = side.job(self._id), side.chances.of(self._id)
        assert told is not None, "an enquiry that was asked for is planned"
        return Promise(
            window=candidate.window,
            verdict=told.verdict,
            chance=None if found is None else found.chance,
            pricing=pricing(candidate.book, self._id, self._without, side),
            taking=taking(self._id, side, harmed),
            harms=harmed,
            is_offered=candidate.is_offered,
            not_before=candidate.not_before,
            lates=lates(self._id, self._without, side),
            latest_answer=told.latest_answer,
        )

    def _dates(self, wished: Promise, side: Side) -> tuple[list[Promise], Promise | None, bool]:
        """Return what was tried, the earliest window that can be promised, and whether it is.

        It is where every window before it was tried, or can't be loaded for as surely as asked for.
        """
        if wished.is_honest:
            return [wished], wished, True
        ready = side.chances.of(self._id)
        surely = None if ready is None else ready.ready_wanted
        tried: dict[int, Promise] = {}
        open_: list[int] = []
        candidates: list[_Candidate] = []
        wanted = 0
        since: datetime | None = None
        for at, candidate in enumerate(self._candidates()):
            candidates.append(candidate)
            if self._is_full():
                break
            if surely is not None and not self._could_hold(candidate, surely):
                continue
            open_.append(at)
            if at < wanted or (since is not None and candidate.window.start < since):
                continue
            tried[at] = self._tried(candidate)
            if tried[at].is_honest:
                self._try_before(at, tried, candidates, open_)
                break
            # The more have failed, the further apart, and by what it is still short of at least.
            wanted = at + 1 + len(tried) // 2
            since = candidate.window.start + max(0, self._short_days - BEFORE) * _DAY
        found = min((at for at, promise in tried.items() if promise.is_honest), default=None)
        promises = [wished, *tried.values()]
        if found is None:
            return promises, None, False
        return promises, tried[found], all(at in tried for at in open_ if at < found)

    def _is_full(self) -> bool:
        return self._tries >= TRIES_MAX or (self._tries > 0 and self._is_over(DATES_SHARE))

    def _try_before(
        self,
        at: int,
        tried: dict[int, Promise],
        candidates: Sequence[_Candidate],
        open_: list[int],
    ) -> None:
        """Try the windows right before one that holds, the earliest of them first."""
        for number in range(max(0, at - BEFORE), at):
            if number in tried:
                continue
            if self._is_over(DATES_SHARE):
                open_.append(number)
                continue
            tried[number] = self._tried(candidates[number])
            if tried[number].is_honest:
                return

    def _tried(self, candidate: _Candidate) -> Promise:
        """Plan and check the book with a window, and draw anew.

        It is tried as it is, and begun some of the days later that it is due later: the plan looks
        at windows and not at chances, and may put it before others that it harms. Later still
        where others are harmed, sooner where it is not sure enough itself.
        """
        self._tries += 1
        days = (candidate.window.start - self._wished().window.start).days
        found: list[Promise] = []
        if not self._harms or days <= 1:
            found.append(self._drawn(candidate))
        least, most = 0, days
        while most - least > 1 and len(found) < STARTS_MAX:
            if found and (found[-1].is_honest or self._is_over(DATES_SHARE)):
                break
            middle = (least + most) // 2
            found.append(self._drawn(self._begun_later(candidate, middle)))
            if found[-1].harms:
                least = middle
            else:
                most = middle
        order = tuple(Taking)
        return min(found, key=lambda promise: order.index(promise.taking))

    def _drawn(self, candidate: _Candidate) -> Promise:
        outcome = self._planned(candidate.book, (*self._others, self._id))
        side = self._side(candidate.book, outcome)
        self._short_days = _short_days(side.chances.of(self._id))
        return self._promise(candidate, side)

    def _begun_later(self, candidate: _Candidate, days: int) -> _Candidate:
        """Return a window with nothing begun for it for so many days."""
        today = local_date(self._request.now, self._request.book.workshop.zone)
        job = job_of(candidate.book, self._id)
        first = max(today, job.not_before or today) + days * _DAY
        book = change_job(candidate.book, replace(job, not_before=first)).book
        book = replace(book, revision=candidate.book.revision)
        return replace(candidate, book=book, not_before=first)

    def _wished(self) -> _Candidate:
        held = self._job.held_window
        assert held is not None, "what is laid beside a book holds a window"
        return _Candidate(window=held, book=self._request.book, is_offered=True)

    def _candidates(self) -> Iterator[_Candidate]:
        """Give windows by their starts: those on offer, then the last of them day by day later."""
        book, held = self._request.book, self._wished().window
        offered = sorted(self._job.windows, key=lambda window: (window.start, window.id))
        for window in offered:
            if window is not held:
                job = replace(self._job, window=window.id)
                made = replace(change_job(book, job).book, revision=book.revision)
                yield _Candidate(window=window, book=made, is_offered=True)
        last = offered[-1]
        base = change_job(book, replace(self._job, window=last.id)).book
        for days in range(1, DAYS_MOST):
            start, end = _later(last, days, self._job)
            made = move_window(base, self._id, start, end).book
            moved = job_of(made, self._id).held_window
            assert moved is not None
            made = replace(made, revision=book.revision)
            yield _Candidate(window=moved, book=made, is_offered=False)

    def _could_hold(self, candidate: _Candidate, ready: datetime) -> bool:
        """Return whether so late an end of loading makes a window at all."""
        if candidate.window.end <= ready:
            return False
        normal = normalise(
            candidate.book,
            self._request.now,
            (*self._others, self._id),
            memory=self._kept.memory,
        )
        position = next(at for at, name in enumerate(normal.jobs) if name.job.id == self._id)
        latest = normal.problem.jobs[position].latest
        return latest is not None and instant_of(normal.origin, latest) >= ready

    # Ways out.

    def _ways(self) -> WaysOut | None:
        left = self._request.seconds - (self._clock() - self._began)
        if left <= 0:
            return None
        request = replace(
            self._request,
            effort=None,
            seconds=left,
            asked=(*self._others, self._id),
        )
        return ways_out(request, self._id, cancel=self._cancel, clock=self._clock)

    def _of_ways(self, ways: WaysOut, base: Outcome) -> Iterator[Pricing]:
        """Give what each way out comes to."""
        for way in ways.ways:
            # What a way costs is in its price; freight is as without it.
            outcome = replace(base, plan=way.plan, jobs=way.jobs)
            side = Side(outcome=outcome, chances=self._chances(way.book, outcome))
            yield pricing(way.book, self._id, self._without, side, levers=way.price)


def _short_days(found: JobChance | None) -> int:
    """Return by how many days a job is loaded too late in the last draws that are asked for."""
    if found is None or found.ready_wanted is None or found.latest is None:
        return 0
    return max(0, -((found.latest - found.ready_wanted) // _DAY))


def _later(window: Window, days: int, job: Job) -> tuple[datetime, datetime]:
    """Return a window so many days later by the site's clock."""
    zone = zone_named(job.site.zone)

    def moved(when: datetime) -> datetime:
        local = when.astimezone(zone).replace(tzinfo=None) + days * _DAY
        return local.replace(tzinfo=zone).astimezone(when.tzinfo)

    return moved(window.start), moved(window.end)

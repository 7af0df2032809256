"""What loads change in the first plan of a book."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from scheduler.aims import levels, loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.check import check
from scheduler.faults import broken
from scheduler.held_told import hold_told
from scheduler.loads import Proposal, take
from scheduler.normalise import Normal, normalise
from scheduler.problem import Schedule
from scheduler.shifts import first_schedule
from scheduler.tables import Tables
from scheduler.unfold import to_plan
from shared.book import Book
from shared.ids import JobId
from shared.plan import Plan
from shared.units import STEP_MINUTES

_SEED = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What loads change in the plan of a book.

    floor_minutes: elapsed, by which pieces stand for less long, summed over all of the book.
    earlier_minutes: by which loading of their job ends sooner, None where it isn't known.
    missed_count: by which fewer windows are missed. placed_count: by which more steps are placed.
    """

    floor_minutes: int
    earlier_minutes: int | None = None
    missed_count: int = 0
    placed_count: int = 0


class Trials:
    """The first plan of a book, made anew with loads and compared.

    All jobs are planned anew each time, so that what a load frees in the booth counts for others
    too, and so does what its pieces wait for each other.
    """

    def __init__(self, book: Book, now: datetime) -> None:
        """Make the plan without loads.

        Raises
        ------
        EngineFault
            If the check finds a plan broken, here or later.
        UnknownZone, UnknownCalendar
            If nothing is known of a zone or of the holidays of a country in the book.
        """
        self._book, self._now = book, now
        self._before = _planned(book, now)

    @property
    def plan(self) -> Plan | None:
        """Return the plan without loads, None where some step fits nowhere."""
        return None if self._before is None else self._before.plan

    def of(self, proposals: Sequence[Proposal]) -> Effect | None:
        """Return what proposals change together, None where a plan has some step nowhere.

        Raises
        ------
        NoLoad
            If they can't be taken one after the other.
        """
        book = self._book
        for proposal in proposals:
            book = take(book, proposal)
        before, after = self._before, _planned(book, self._now)
        if before is None or after is None:
            return None
        jobs = {proposal.job for proposal in proposals}
        ends = [each.loaded(job) for each in (before, after) for job in jobs]
        is_known = len(jobs) == 1 and min(ends) >= 0
        return Effect(
            floor_minutes=(before.levels[7] - after.levels[7]) * STEP_MINUTES,
            earlier_minutes=(ends[0] - ends[1]) * STEP_MINUTES if is_known else None,
            missed_count=sum(before.levels[:2]) - sum(after.levels[:2]),
            placed_count=len(before.normal.unplaced) - len(after.normal.unplaced),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Planned:
    """A normalised book with its first schedule and what that comes to."""

    normal: Normal
    schedule: Schedule
    plan: Plan
    levels: tuple[int, ...]

    def loaded(self, job: JobId) -> int:
        """Return the step at which a job's loading ends, -1 where it isn't known."""
        positions = [at for at, name in enumerate(self.normal.jobs) if name.job.id == job]
        aims = [self.normal.problem.jobs[at] for at in positions]
        return max((loading_end(aim, self.schedule) for aim in aims), default=-1)


def _planned(book: Book, now: datetime) -> _Planned | None:
    """Return the first schedule of a book, today and tomorrow as told; None: some step fits not."""
    tables = Tables()
    free = normalise(book, now)
    normal, index = hold_told(free, Index(free.problem, tables=tables), tables)
    found = first_schedule(index, _SEED)
    if isinstance(found, Unfit):
        return None
    plan = to_plan(normal, found, seed=_SEED)
    checked = check(book, plan)
    if checked.breaches:
        raise broken(checked.breaches)
    return _Planned(normal=normal, schedule=found, plan=plan, levels=levels(normal.problem, found))

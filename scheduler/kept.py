"""What one solve leaves for the next question, most often about the same book, a little edited."""

from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.aims import missed_jobs
from scheduler.calendar import Index
from scheduler.check.memory import CheckMemory
from scheduler.edited import Before
from scheduler.from_told import carried_plan
from scheduler.grid import origin_of
from scheduler.held_told import hold_told
from scheduler.normalise import Normal, normalise
from scheduler.normalise.memory import Memory
from scheduler.problem import Schedule
from scheduler.repair import loses_windows, repair, repaired
from scheduler.request import SolveRequest
from scheduler.tables import Tables
from shared.ids import JobId
from shared.units import STEP_SECONDS


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """A book normalised after an edit, with its first schedule.

    late: as of normalise. loses: it misses windows that were kept before. free: the book and its
    index without what is held as told.
    """

    normal: Normal
    index: Index
    schedule: Schedule
    late: Mapping[JobId, int]
    loses: bool
    free: tuple[Normal, Index]


class Kept:
    """Tables and the last answer; for one solve at a time.

    memory: of normalising; tables: of the index; checks: of the check.
    """

    def __init__(self) -> None:
        """Begin with nothing."""
        self.memory, self.tables = Memory(), Tables()
        self.checks = CheckMemory()
        self._before: Before | None = None
        self._late: Mapping[JobId, int] = {}

    @property
    def before(self) -> Before | None:
        """Return the last book and its schedule, None before the first answer."""
        return self._before

    def note(self, normal: Normal, schedule: Schedule, late: Mapping[JobId, int]) -> None:
        """Keep an answer for the next question. late: as it was normalised with."""
        self._before = Before(normal=normal, schedule=schedule)
        self._late = dict(late)

    def again(self, request: SolveRequest) -> Again | None:
        """Return a first schedule near the last answer, else near what was told; None without."""
        before, told = self._before, request.book.told
        if before is None and told is None:
            return None
        late = {} if before is None else self._late_from(request, before)
        normal = normalise(request.book, request.now, request.asked, late=late, memory=self.memory)
        free = normal, Index(normal.problem, tables=self.tables)
        normal, index = hold_told(*free, self.tables)
        if before is not None:
            found = repaired(normal, index, before)
            loses = found is not None and loses_windows(normal, found, before)
        else:
            assert told is not None
            found = repair(index, carried_plan(normal, told.plan))
            loses = found is not None and bool(missed_jobs(index.problem, found))
        if found is None:
            return None
        return Again(normal=normal, index=index, schedule=found, late=late, loses=loses, free=free)

    def _late_from(self, request: SolveRequest, before: Before) -> dict[JobId, int]:
        """Return from when on departures were wanted of journeys that were late, counted anew."""
        moved = before.normal.origin - origin_of(request.now)
        shift = round(moved.total_seconds()) // STEP_SECONDS
        return {job: max(0, step + shift) for job, step in self._late.items()}

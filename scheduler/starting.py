"""The first schedule of a book: what is told is held, and what fits nowhere is left out."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.held_told import Slot, hold_told, slots_let_go
from scheduler.hopeless import hopeless
from scheduler.kept import Kept
from scheduler.normalise import Normal, normalise
from scheduler.problem import Schedule
from scheduler.request import SolveRequest
from scheduler.shifts import first_schedule
from shared.ids import JobId, StepId

if TYPE_CHECKING:
    from shared.findings import Clash

LEFT_OUT_ONE_BY_ONE = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """The normalised book with its first schedule.

    left_out, late: as it was normalised with. free: the book and its index without what is held as
    told, of which proofs speak. loses: it is the last plan repaired and misses
    windows that were kept.
    """

    normal: Normal
    index: Index
    schedule: Schedule
    left_out: Mapping[StepId, "Clash | None"]
    late: Mapping[JobId, int]
    free: tuple[Normal, Index]
    loses: bool = False


def first_start(request: SolveRequest, kept: Kept) -> Start:
    """Return a first schedule; steps that fit nowhere are left out, then their whole jobs."""
    left_out: dict[StepId, Clash | None] = {}
    late: dict[JobId, int] = {}
    let_go: set[Slot] = set()
    tries = 0
    while tries <= len(request.book.jobs) + LEFT_OUT_ONE_BY_ONE:
        normal = normalise(
            request.book,
            request.now,
            request.asked,
            left_out=left_out,
            late=late,
            memory=kept.memory,
        )
        free = normal, Index(normal.problem, tables=kept.tables)
        normal, index = hold_told(*free, kept.tables, let_go)
        found = first_schedule(index, request.seed)
        if not isinstance(found, Unfit):
            if not late:
                late = staying(normal, found)
                if late:
                    continue
            return Start(
                normal=normal,
                index=index,
                schedule=found,
                left_out=left_out,
                late=late,
                free=free,
            )
        if normal.held:
            let_go |= set(slots_let_go(normal, found.stage))
            continue
        name = normal.stages[found.stage]
        if tries < LEFT_OUT_ONE_BY_ONE and name.is_told:
            left_out[name.step] = hopeless(normal, index, found.stage)
        else:
            left_out |= dict.fromkeys(_steps_of(normal, name.job) - left_out.keys())
        tries += 1
    raise AssertionError("a book without any step to place has a schedule")


def staying(normal: Normal, schedule: Schedule) -> dict[JobId, int]:
    """Return the jobs that could leave later than was looked at, and the end of their loading."""
    return {
        name.job.id: max(0, loading_end(normal.problem.jobs[position], schedule))
        for position, name in enumerate(normal.jobs)
        if name.more and schedule.trips[position] < 0
    }


def _steps_of(normal: Normal, job: JobId) -> set[StepId]:
    return {step.id for name in normal.jobs if name.job.id == job for step in name.job.steps}

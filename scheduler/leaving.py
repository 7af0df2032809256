"""Loading and leaving in a pass: units placed so that their lorries leave, and who leaves when."""

from collections.abc import Collection, Iterable, Mapping, Sequence

from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import Unfit, place_unit
from scheduler.net import Net
from scheduler.problem import JobAim, Schedule
from scheduler.spots import schedule_of
from scheduler.trips import Trips

WAITS_MAX = 20
"""So often loading is put off until a departure that is soon enough has its crew free."""


class Leaving:
    """The board of a pass with the journeys of its jobs. kept: by job, the option it had."""

    def __init__(
        self, index: Index, net: Net, board: Board, kept: Mapping[int, int] | None = None
    ) -> None:
        self._index, self._net, self._board = index, net, board
        self._trips = Trips(index, board.busy, board.laws, kept)
        self._punctual = {
            stage
            for job in index.problem.jobs
            if job.trip is not None and job.trip.stands_most is not None
            for stage in job.loads
        }

    def begin(self) -> None:
        """Keep every window that can be kept free, and settle who is loaded already."""
        self._trips.keep_windows(self._board.spots.values())
        self.settle(range(len(self._index.problem.jobs)))

    def place_unit(
        self, unit: int, hopes: Sequence[int] | None, *, strict: bool = False
    ) -> Unfit | None:
        """Place a unit, so late that its lorry leaves soon enough after loading if it must.

        hopes, strict: as of chain.place_unit.
        """
        board = self._board
        stages = self._punctual.intersection(self._net.units[unit]) - board.spots.keys()
        left = [stage for stage in self._net.units[unit] if stage not in board.spots]
        mark = board.busy.mark()
        trouble = place_unit(board, self._net, unit, hopes, strict=strict)
        for _ in range(WAITS_MAX if stages else 0):
            later = None if trouble is not None else self._ends_later(stages)
            if later is None:
                break
            board.undo(left, mark)
            board.ends_from |= later
            trouble = place_unit(board, self._net, unit, hopes, strict=strict)
            if trouble is not None:
                board.ends_from = {}
                trouble = place_unit(board, self._net, unit, hopes, strict=strict)
                break
        return trouble

    def _ends_later(self, stages: Collection[int]) -> dict[int, int] | None:
        """Return from when on the loading placed last has to end, None where it need not move."""
        spots = self._board.spots
        for job in {self._index.problem.stages[stage].job for stage in stages}:
            aim = self._index.problem.jobs[job]
            if all(load in spots for load in aim.loads):
                end = self._trips.needs_later(job, self._ends(aim), spots.values())
                if end is not None:
                    return {max(stages, key=lambda last: (spots[last].end, last)): end}
        return None

    def settle(self, jobs: Iterable[int]) -> None:
        """Let those of some jobs leave whose loading is placed."""
        spots = self._board.spots
        for job in jobs:
            if job < 0:
                continue
            aim = self._index.problem.jobs[job]
            if all(stage in spots for stage in aim.lasts):
                self._trips.settle(job, self._ends(aim), spots.values())

    def loaded(self, job: int) -> int | None:
        """Return when the loading of a job ends, None as long as it is not placed."""
        if job < 0:
            return None
        aim = self._index.problem.jobs[job]
        is_placed = aim.lasts and all(stage in self._board.spots for stage in aim.lasts)
        return self._ends(aim)[0] if is_placed else None

    def settle_left(self) -> None:
        """Let those leave after all whose crew was kept for a journey that was let go since."""
        spots, jobs = self._board.spots, self._index.problem.jobs
        taken = self._trips.taken
        if any(option < 0 and job.trip for option, job in zip(taken, jobs, strict=True)):
            self._trips.settle_left([self._ends(job) for job in jobs], spots.values())

    def _ends(self, job: JobAim) -> tuple[int, int]:
        """Return when a job whose loading is placed is ready to leave, and when loaded."""
        spots = self._board.spots
        ready = max((spots[last].end for last in job.lasts if last in spots), default=0)
        if not job.loaded:
            return ready, ready
        return ready, max((spots[load].end for load in job.loaded if load in spots), default=0)

    def schedule(self) -> Schedule:
        """Return what stands on the board."""
        count = len(self._index.problem.stages)
        return schedule_of(self._board.spots, count, self._trips.taken)

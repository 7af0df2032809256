"""What no plan is below, level by level: eight figures beside those that a plan comes to.

Each holds by itself, whatever the other levels are. Some come from the problem as it stands, each
step at its soonest in an empty workshop; the others add up what is proved of jobs.
"""

from collections.abc import Iterable, Sequence

from scheduler.aims import (
    DAY_POINTS,
    DAY_STEPS,
    HOUR_POINTS,
    MOVED_STEPS,
    SOON_STEPS,
    Levels,
)
from scheduler.calendar import Index
from scheduler.countback import Times, earliest
from scheduler.crowded import without_crowds
from scheduler.floor_time import least_floor
from scheduler.lags import Fixed, Tabled
from scheduler.model.alone import generous
from scheduler.problem import JobAim, Problem, Stage
from scheduler.reach import Reach

Conflict = frozenset[int]
"""Jobs that can't all be in time in any plan."""


class Bounds:
    """The bounds of one problem, better as more is proved."""

    def __init__(self, problem: Problem) -> None:
        """Begin with what follows from each job's soonest end; floor time comes with `add_floor`.

        The earliest times leave out greatest waits, so that nothing is lost with those in doubt.
        """
        self._problem = without_crowds(generous(problem))
        self._index = Index(self._problem)
        self._soonest = earliest(self._index)
        self._floor = [
            sum(0 if _comes_after(self._index, *ends) else -problem.horizon for ends in aim.floor)
            for aim in problem.jobs
        ]
        self._late = [_late(self._problem, self._soonest, aim) for aim in problem.jobs]
        self._conflicts: set[Conflict] = set()

    @property
    def soonest(self) -> Times:
        """Return the earliest times, everybody free and every place empty."""
        return self._soonest

    def late(self, job: int, steps: int) -> None:
        """Add that a job is at least so late."""
        self._late[job] = max(self._late[job], steps)

    def conflict(self, jobs: Iterable[int]) -> None:
        """Add that some jobs can't all be in time."""
        self._conflicts.add(frozenset(jobs))

    def add_floor(self, job: int, steps: int | None = None) -> None:
        """Add that the segments of a job stand so long at the least (None: by their chains)."""
        if steps is None:
            steps = least_floor(self._index, self._soonest, self._problem.jobs[job].floor)
        self._floor[job] = max(self._floor[job], steps)

    def levels(self) -> Levels:
        """Return what each level comes to at least."""
        lost = {job for job, aim in enumerate(self._problem.jobs) if self._is_lost(job, aim)}
        firm = {job for job, aim in enumerate(self._problem.jobs) if aim.firm}
        open_yet = [each for each in self._conflicts if not each & lost]
        asked = lost - firm
        return (
            len(lost & firm) + _fewest(each for each in open_yet if each <= firm),
            len(asked) + _fewest(each for each in open_yet if not each & firm),
            sum(self._late) + _apart(open_yet),
            sum(self._short(job, aim) for job, aim in enumerate(self._problem.jobs)),
            len(self._told_anew()),
            sum(map(self._points, self._problem.stages, self._soonest.starts)),
            _least_cost(self._problem),
            sum(self._floor),
        )

    def _is_lost(self, job: int, aim: JobAim) -> bool:
        return self._late[job] > 0 or (aim.latest is None and not aim.guessed)

    def _short(self, job: int, aim: JobAim) -> int:
        """Return how short of the wish loading ends at least; what is late counts as just not."""
        if aim.wish is None or not aim.lasts:
            return 0
        end = _soonest_end(self._problem, self._soonest, aim)
        if aim.latest is not None:
            end = aim.latest if self._late[job] else min(end, aim.latest)
        return max(0, end - aim.wish)

    def _told_anew(self) -> set[int]:
        return {
            worker
            for stage, soonest in zip(self._problem.stages, self._soonest.starts, strict=True)
            if stage.told_start is not None
            and stage.told_start < SOON_STEPS
            and _is_sure_to_move(stage, soonest)
            for worker in stage.told_team or ()
        }

    def _points(self, stage: Stage, soonest: int | None) -> int:
        told = stage.told_start
        if told is None or soonest is None or stage.optional:
            return 0
        if soonest // DAY_STEPS > told // DAY_STEPS:
            return DAY_POINTS
        return HOUR_POINTS if soonest - told >= MOVED_STEPS else 0


def _comes_after(index: Index, first: int, last: int) -> bool:
    """Return whether a stage begins no sooner than another has ended, or is the same."""
    reach = index.once(Reach)
    met, left = {first}, [first]
    while left and last not in met:
        for link in reach.outs[left.pop()]:
            is_plain = isinstance(link.lag, Fixed | Tabled) and link.lag.steps >= 0
            if is_plain and link.from_end and not link.to_end and link.after not in met:
                met.add(link.after)
                left.append(link.after)
    return last in met


def _is_sure_to_move(stage: Stage, soonest: int | None) -> bool:
    return (
        not stage.optional
        and soonest is not None
        and stage.told_start is not None
        and soonest > stage.told_start
    )


def _soonest_end(problem: Problem, soonest: Times, aim: JobAim) -> int:
    ends = (soonest.ends[last] for last in aim.lasts)
    return max((problem.horizon if end is None else end for end in ends), default=0)


def _late(problem: Problem, soonest: Times, aim: JobAim) -> int:
    if aim.latest is None or aim.guessed or not aim.lasts:
        return 0
    return max(0, _soonest_end(problem, soonest, aim) - aim.latest)


def _least_cost(problem: Problem) -> int:
    ways = sum(
        min((way.cost for way in stage.ways), default=0)
        for stage in problem.stages
        if not stage.optional
    )
    trips = (aim.trip for aim in problem.jobs if aim.trip is not None)
    return ways + sum(min((going.price for going in trip.options), default=0) for trip in trips)


def _apart(conflicts: Iterable[Conflict]) -> int:
    """Return how many conflicts can be found that have no job in common, taken as they come."""
    taken: set[int] = set()
    count = 0
    for each in sorted(conflicts, key=lambda each: (len(each), sorted(each))):
        if not each & taken:
            taken |= each
            count += 1
    return count


def _fewest(conflicts: Iterable[Conflict]) -> int:
    """Return the fewest jobs of which every conflict has one."""
    found = list(conflicts)
    count = _apart(found)
    while not _can_hit(found, count):
        count += 1
    return count


def _can_hit(conflicts: Sequence[Conflict], count: int) -> bool:
    """Return whether so many jobs are enough to have one of every conflict."""
    if not conflicts:
        return True
    if not count:
        return False
    smallest = min(conflicts, key=len)
    return any(
        _can_hit([each for each in conflicts if job not in each], count - 1)
        for job in sorted(smallest)
    )


def as_known(bounds: Levels, *, is_partial: bool) -> Levels:
    """Return the bounds without that on money where other departures may be cheaper."""
    one, two, three, four, five, six, _, eight = bounds
    return (one, two, three, four, five, six, 0, eight) if is_partial else bounds


def reached(levels: Sequence[int], bounds: Sequence[int]) -> int:
    """Return how many leading levels are as low as they can be."""
    pairs = list(zip(levels, bounds, strict=True))
    return next((at for at, (value, least) in enumerate(pairs) if value > least), len(pairs))

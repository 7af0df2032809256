"""A part of a schedule set free: some stages may move, everything else stays where it is.

What stays becomes bookings, except where a rule ties it to something free: then it comes along,
pinned. So every schedule of the part is one of the whole.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from scheduler.calendar import Index
from scheduler.excerpt_left import Left
from scheduler.excerpt_windows import windows_of
from scheduler.model.starts import Window
from scheduler.problem import Edge, Hold, JobAim, Schedule, Stage, Trip, Way
from scheduler.spans import merged, overlap
from scheduler.taken import Taken
from scheduler.terms import Terms
from scheduler.ties import Ties


@dataclass(frozen=True, slots=True, kw_only=True)
class Excerpt:
    """A part: its stages and jobs are numbered anew.

    index: of the part's problem. stages, jobs: by position, the number in the whole. free: the
    positions that may move. touched: how many of the jobs, the first ones, may load or leave at
    another time; the other jobs' journeys stay. windows: by free position. present: the schedule
    of the part as it stands. firsts, lasts: by position, how many segments begin, end with it.
    """

    index: Index
    stages: tuple[int, ...]
    jobs: tuple[int, ...]
    free: tuple[int, ...]
    touched: int
    windows: Mapping[int, Window]
    present: Schedule
    firsts: tuple[int, ...]
    lasts: tuple[int, ...]


def excerpt(index: Index, taken: Taken, wanted: Iterable[int], reach_steps: int) -> Excerpt | None:
    """Return the part in which some stages are free, None if none of them may move.

    taken: of the schedule. wanted: the stages. reach_steps: how far one may move either way.
    """
    return _Cut(index, taken, reach_steps).cut(wanted)


def merge(whole: Schedule, part: Excerpt, found: Schedule) -> Schedule:
    """Return the whole schedule with what a schedule of the part says of its free stages."""
    starts, ends = list(whole.starts), list(whole.ends)
    ways, teams, trips = list(whole.ways), list(whole.teams), list(whole.trips)
    for at in part.free:
        number = part.stages[at]
        starts[number], ends[number] = found.starts[at], found.ends[at]
        ways[number], teams[number] = found.ways[at], found.teams[at]
    for at, job in enumerate(part.jobs[: part.touched]):
        trips[job] = found.trips[at]
    return Schedule(
        starts=tuple(starts),
        ends=tuple(ends),
        ways=tuple(ways),
        teams=tuple(teams),
        trips=tuple(trips),
    )


class _Cut:
    """The cutting of one part."""

    def __init__(self, index: Index, taken: Taken, reach_steps: int) -> None:
        self._index = index
        self._problem = index.problem
        self._ties = index.once(Ties)
        self._taken = taken
        self._schedule = taken.schedule
        self._reach = reach_steps

    def cut(self, wanted: Iterable[int]) -> Excerpt | None:
        free = self._free(wanted)
        if not free:
            return None
        pinned = self._pinned(free)
        touched = self._touched(free)
        windows = windows_of(self._index, self._schedule, free, self._reach)
        numbers = sorted(free | pinned)
        at = {number: position for position, number in enumerate(numbers)}
        left = Left(self._index, self._taken, free, pinned, touched, windows)
        jobs = [*touched, *left.leaving]
        problem = replace(
            self._problem,
            stages=tuple(self._stage(number, at, free) for number in numbers),
            edges=tuple(self._edges(at, free)),
            workers=left.workers(),
            rooms=left.rooms(),
            consumables=left.stock(),
            holds=tuple(self._holds(at, free)),
            jobs=tuple(self._aim(job, at, is_touched=job in touched) for job in jobs),
            makespan=None,
        )
        return Excerpt(
            index=self._index.excerpt(problem, self._terms(numbers)),
            stages=tuple(numbers),
            jobs=tuple(jobs),
            free=tuple(at[number] for number in sorted(free)),
            touched=len(touched),
            windows={at[number]: window for number, window in windows.items()},
            present=self._present(numbers, free, jobs, len(touched)),
            firsts=tuple(self._ties.firsts[number] for number in numbers),
            lasts=tuple(self._ties.lasts[number] for number in numbers),
        )

    def _free(self, wanted: Iterable[int]) -> frozenset[int]:
        """Return the stages that may move, with those that one of them may call for."""
        problem, bounds = self._problem, self._index.terms.bounds
        free = {
            stage
            for stage in wanted
            if not bounds[stage].fixed and not problem.stages[stage].under_way
        }
        for stage in sorted(free):
            for number in self._ties.lifting[stage]:
                insert = problem.edges[number].insert
                if insert is not None and not bounds[insert].fixed:
                    free.add(insert)
        return frozenset(
            stage
            for stage in free
            if self._schedule.ways[stage] >= 0 or problem.stages[stage].optional
        )

    def _pinned(self, free: frozenset[int]) -> set[int]:
        """Return the placed stages that a rule of its own ties to one of the free."""
        problem, ties = self._problem, self._ties
        found: set[int] = set()
        for stage in free:
            for number in ties.lifting[stage]:
                edge = problem.edges[number]
                found |= {edge.before, edge.after}
                found |= {edge.insert} if edge.insert is not None else set()
            for number in ties.holds[stage]:
                hold = problem.holds[number]
                found |= {end for end in (hold.first, hold.last) if end is not None}
            found.update(ties.mates[stage])
            for number in ties.jobs[stage]:
                found |= {*problem.jobs[number].lasts, *problem.jobs[number].loads}
        found |= self._taken.shy | self._watched(free)
        return {stage for stage in found - free if self._schedule.ways[stage] >= 0}

    def _watched(self, free: frozenset[int]) -> set[int]:
        """Return those alone at work while somebody may be away for a journey that moves."""
        away = merged(
            (start, end)
            for job in self._touched(free)
            for trip in (self._problem.jobs[job].trip,)
            for going in (trip.options if trip is not None else ())
            for _, start, end in going.absences
        )
        schedule = self._schedule
        return {
            stage
            for stage, asked in enumerate(self._problem.stages if away else ())
            if asked.company
            and len(schedule.teams[stage]) == 1
            and overlap(away, schedule.starts[stage], schedule.ends[stage])
        }

    def _touched(self, free: frozenset[int]) -> list[int]:
        return sorted({job for stage in free for job in self._ties.jobs[stage]})

    def _stage(self, number: int, at: Mapping[int, int], free: frozenset[int]) -> Stage:
        stage = self._problem.stages[number]
        mate = None if stage.same_team_as is None else at.get(stage.same_team_as)
        if number in free:
            return stage if mate == stage.same_team_as else replace(stage, same_team_as=mate)
        way = stage.ways[self._schedule.ways[number]]
        return replace(stage, ways=(_without_bookings(way),), same_team_as=mate, optional=False)

    def _edges(self, at: Mapping[int, int], free: frozenset[int]) -> Iterator[Edge]:
        """Give the edges that a window can't say."""
        numbers = {number for stage in free for number in self._ties.edges[stage]}
        numbers |= {number for stage in free for number in self._ties.lifting[stage]}
        for number in sorted(numbers):
            edge = self._problem.edges[number]
            if edge.before not in at or edge.after not in at:
                continue
            if edge.insert is None and not {edge.before, edge.after} <= free:
                continue
            insert = None if edge.insert is None else at.get(edge.insert)
            yield replace(edge, before=at[edge.before], after=at[edge.after], insert=insert)

    def _holds(self, at: Mapping[int, int], free: frozenset[int]) -> Iterator[Hold]:
        for number in sorted({number for stage in free for number in self._ties.holds[stage]}):
            hold = self._problem.holds[number]
            if hold.last in at and (hold.first is None or hold.first in at):
                first = None if hold.first is None else at[hold.first]
                yield replace(hold, first=first, last=at[hold.last])

    def _aim(self, job: int, at: Mapping[int, int], *, is_touched: bool) -> JobAim:
        aim = self._problem.jobs[job]
        if is_touched:
            lasts = tuple(at[last] for last in aim.lasts if last in at)
            loaded = tuple(at[load] for load in aim.loaded if load in at)
            return replace(aim, lasts=lasts, loaded=loaded, floor=())
        options = () if aim.trip is None else (aim.trip.options[self._schedule.trips[job]],)
        return JobAim(lasts=(), latest=None, firm=aim.firm, trip=Trip(options=options))

    def _terms(self, numbers: Sequence[int]) -> Terms:
        """Return the terms by stage; links and stands are read by passes only."""
        terms = self._index.terms
        return Terms(
            links=(),
            bounds=tuple(terms.bounds[number] for number in numbers),
            claims=tuple(terms.claims[number] for number in numbers),
            stands=(),
        )

    def _present(
        self, numbers: Sequence[int], free: frozenset[int], jobs: Sequence[int], touched: int
    ) -> Schedule:
        whole = self._schedule
        return Schedule(
            starts=tuple(whole.starts[number] for number in numbers),
            ends=tuple(whole.ends[number] for number in numbers),
            ways=tuple(whole.ways[number] if number in free else 0 for number in numbers),
            teams=tuple(whole.teams[number] for number in numbers),
            trips=tuple(whole.trips[job] if at < touched else 0 for at, job in enumerate(jobs)),
        )


def _without_bookings(way: Way) -> Way:
    """Return a way with only what bookings of a room can't say."""
    uses = tuple(use for use in way.uses if use.against and not use.units)
    return replace(way, uses=uses, consumes=())

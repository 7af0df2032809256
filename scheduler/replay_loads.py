"""The judge's count of who and what is taken at each moment, and of the journeys."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from scheduler.breaches import ProblemBreach, ProblemRule
from scheduler.problem import Going, JobAim, Problem, Schedule, Use, Wait
from scheduler.replay_people import company_breaches

Found = Iterator[ProblemBreach]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Taken:
    """Units taken over [start, end). stage, job: by whom; neither: so given."""

    start: int
    end: int
    units: int = 1
    stage: int | None = None
    job: int | None = None

    @property
    def is_given(self) -> bool:
        return self.stage is None and self.job is None


def load_breaches(problem: Problem, schedule: Schedule) -> Found:
    """Yield where a worker does two things at once, or a room is too full."""
    for number in range(len(problem.workers)):
        taken = [each for each in _of_worker(problem, schedule, number) if each.start < each.end]
        for culprit in _over(taken, 1):
            yield ProblemBreach(
                rule=ProblemRule.WORKER_TWICE, worker=number, stage=culprit.stage, job=culprit.job
            )
        for rest in _rests(problem, schedule, number):
            if any(each.start < rest.end and each.end > rest.start for each in taken):
                yield ProblemBreach(rule=ProblemRule.NO_REST, worker=number, job=rest.job)
    for number, room in enumerate(problem.rooms):
        taken = _of_room(problem, schedule, number)
        for culprit in _over(taken, room.capacity):
            yield ProblemBreach(
                rule=ProblemRule.ROOM, room=number, stage=culprit.stage, job=culprit.job
            )


def air_breaches(problem: Problem, schedule: Schedule) -> Found:
    """Yield stages that take something while somebody takes what they may not meet."""
    for number, stage in enumerate(problem.stages):
        way = schedule.ways[number]
        for use in stage.ways[way].uses if way >= 0 else ():
            mine = _held(use, stage.cure, schedule, number)
            for room in use.against:
                others = [
                    each
                    for each in _of_room(problem, schedule, room)
                    if each.stage != number and each.units > 0
                ]
                if _meet(mine, others):
                    yield ProblemBreach(rule=ProblemRule.AIR, stage=number, room=room)


def _meet(mine: _Taken, others: list[_Taken]) -> bool:
    """Return whether, at a moment at which something begins, both are there."""
    moments = [mine.start, *(each.start for each in others)]
    return any(
        mine.start <= t < mine.end and any(each.start <= t < each.end for each in others)
        for t in moments
    )


def _over(taken: list[_Taken], capacity: int) -> Iterator[_Taken]:
    """Yield, for each moment at which something begins and it gets too much, who began."""
    real = [each for each in taken if each.start < each.end]
    for newest in real:
        there = [each for each in real if each.start <= newest.start < each.end]
        movable = [each for each in there if not each.is_given]
        if movable and sum(each.units for each in there) > capacity:
            yield newest if not newest.is_given else movable[-1]


def _of_worker(problem: Problem, schedule: Schedule, worker: int) -> list[_Taken]:
    taken = [_Taken(start=a, end=b) for a, b in _joined(problem.workers[worker].busy)]
    taken += [
        _Taken(start=schedule.starts[number], end=schedule.ends[number], stage=number)
        for number, team in enumerate(schedule.teams)
        if worker in team
    ]
    for job, going in _journeys(problem, schedule):
        taken += [_Taken(start=a, end=b, job=job) for one, a, b in going.away if one == worker]
    return taken


def _rests(problem: Problem, schedule: Schedule, worker: int) -> list[_Taken]:
    return [
        _Taken(start=a, end=b, job=job)
        for job, going in _journeys(problem, schedule)
        for one, a, b in going.rests
        if one == worker and a < b
    ]


def _joined(spans: tuple[tuple[int, int], ...]) -> list[tuple[int, int]]:
    """Return the spans with those that overlap told once: busy is busy."""
    found: list[tuple[int, int]] = []
    for a, b in sorted(spans):
        start = max(a, found[-1][1]) if found else a
        if b > start:
            found.append((start, b))
    return found


def _of_room(problem: Problem, schedule: Schedule, room: int) -> list[_Taken]:
    taken = [_Taken(start=a, end=b, units=units) for a, b, units in problem.rooms[room].busy]
    for number, stage in enumerate(problem.stages):
        way = schedule.ways[number]
        for use in stage.ways[way].uses if way >= 0 else ():
            if use.room == room:
                taken.append(_held(use, stage.cure, schedule, number))
    for hold in problem.holds:
        first = 0 if hold.first is None else schedule.starts[hold.first]
        last = schedule.ends[hold.last]
        if hold.room == room and first >= 0 and last >= 0:
            taken.append(_Taken(start=first, end=last, units=hold.units, stage=hold.last))
    for job, going in _journeys(problem, schedule):
        for name, start, end, units in going.takes:
            if name == room:
                taken.append(_Taken(start=start, end=end, units=units, job=job))
    return taken


def _held(use: Use, cure: Wait, schedule: Schedule, number: int) -> _Taken:
    start = max(0, schedule.starts[number] - use.before)
    end = _let_go(use, cure, schedule.ends[number])
    return _Taken(start=start, end=end, units=use.units, stage=number)


def _let_go(use: Use, cure: Wait, end: int) -> int:
    if not use.through_cure:
        return end + use.after
    value = None if cure.table is None else cure.table.value(end)
    return max(end + cure.least, end if value is None else value) + use.after


def _journeys(problem: Problem, schedule: Schedule) -> Iterator[tuple[int, Going]]:
    for job, (aim, option) in enumerate(zip(problem.jobs, schedule.trips, strict=True)):
        if aim.trip is not None and 0 <= option < len(aim.trip.options):
            yield job, aim.trip.options[option]


def trip_breaches(problem: Problem, schedule: Schedule, *, may_stay: bool = False) -> Found:
    """Yield journeys that leave too soon or too late, or don't although they could.

    may_stay: whether they could is not asked.
    """
    for job, (aim, option) in enumerate(zip(problem.jobs, schedule.trips, strict=True)):
        options = () if aim.trip is None else aim.trip.options
        most = None if aim.trip is None else aim.trip.stands_most
        loaded = max((schedule.ends[stage] for stage in aim.lasts), default=0)
        if not -1 <= option < len(options):
            yield ProblemBreach(rule=ProblemRule.TRIP, job=job)
        elif option >= 0 and options[option].leaves < loaded:
            yield ProblemBreach(rule=ProblemRule.TRIP_TOO_SOON, job=job)
        elif option >= 0 and _stands_for(schedule, aim, options[option]) > _or_any(most):
            yield ProblemBreach(rule=ProblemRule.TRIP_STANDS, job=job)
        elif option == -1 and not may_stay and _could_leave(problem, schedule, job, loaded):
            yield ProblemBreach(rule=ProblemRule.TRIP_LEFT_OUT, job=job)


def _stands_for(schedule: Schedule, aim: JobAim, going: Going) -> int:
    """Return how long the lorry stands loaded before it leaves."""
    stages = aim.loaded if aim.loaded else aim.lasts
    return going.leaves - max((schedule.ends[stage] for stage in stages), default=0)


def _or_any(most: int | None) -> int:
    return 1 << 60 if most is None else most


def _could_leave(problem: Problem, schedule: Schedule, job: int, loaded: int) -> bool:
    trip = problem.jobs[job].trip
    broken_count = _load_count(problem, schedule)
    for option, going in enumerate(trip.options if trip is not None else ()):
        most = None if trip is None else trip.stands_most
        if going.leaves < loaded or _stands_for(schedule, problem.jobs[job], going) > _or_any(most):
            continue
        trips = (*schedule.trips[:job], option, *schedule.trips[job + 1 :])
        if _load_count(problem, replace(schedule, trips=trips)) <= broken_count:
            return True
    return False


def _load_count(problem: Problem, schedule: Schedule) -> int:
    alone = company_breaches(problem, schedule)
    return len(list(load_breaches(problem, schedule))) + len(list(alone))

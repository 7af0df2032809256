"""Some jobs by themselves: what a proof may be about.

Everything that only others bring is dropped: their stages, what others stand on, inserted stages
with the greatest waits that they would lift, journeys, and what is worse in one place than in
another. So a plan of the whole book always holds a plan of this; if this can't be, the book can't.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from scheduler.problem import Edge, Hold, JobAim, Problem, Stage


def generous(problem: Problem) -> Problem:
    """Return the problem with each wait as in the best of the places a stage may lie in.

    In the problem itself it waits as if in the worst of them. Loading may end at any time, be there
    a departure soon after or not. The same one where nothing differs.
    """
    problem = _at_any_time(problem)
    if not any(stage.quickest is not None for stage in problem.stages) and not any(
        edge.in_doubt for edge in problem.edges
    ):
        return problem
    return replace(
        problem,
        stages=tuple(
            replace(stage, cure=stage.cure if stage.quickest is None else stage.quickest)
            for stage in problem.stages
        ),
        edges=tuple(
            replace(edge, most=None, most_table=None) if edge.in_doubt else edge
            for edge in problem.edges
        ),
    )


def _at_any_time(problem: Problem) -> Problem:
    """Return the problem with loading free to end whenever, though a journey follows at once."""
    aims = [
        aim for aim in problem.jobs if aim.trip is not None and aim.trip.stands_most is not None
    ]
    loads = {load for aim in aims for load in aim.loads}
    if not loads:
        return problem
    stages = (
        replace(stage, ends=None) if number in loads else stage
        for number, stage in enumerate(problem.stages)
    )
    return replace(problem, stages=tuple(stages))


def alone(problem: Problem, job: int) -> Problem:
    """Return the problem of one job alone in an empty workshop, where nobody is booked."""
    found = sub_book(problem, (job,), is_empty=True)
    return replace(
        found,
        workers=tuple(replace(worker, busy=(), away=()) for worker in found.workers),
        rooms=tuple(replace(room, busy=()) for room in found.rooms),
    )


def sub_book(problem: Problem, jobs: Sequence[int], *, is_empty: bool = False) -> Problem:
    """Return the problem of some jobs by themselves, their aims in this order.

    Bookings stay, and stages of others that are pinned (is_empty: not those).
    """
    problem = generous(problem)
    number_of = {job: at for at, job in enumerate(jobs)}
    kept = [
        number
        for number, stage in enumerate(problem.stages)
        if not stage.optional
        and (stage.job in number_of or (stage.fixed_start is not None and not is_empty))
    ]
    new = {number: at for at, number in enumerate(kept)}
    return replace(
        problem,
        stages=tuple(_stage(problem.stages[number], new, number_of) for number in kept),
        edges=tuple(_edge(edge, new) for edge in problem.edges if _within(edge, new)),
        holds=tuple(_hold(hold, new) for hold in problem.holds if _is_own(hold, new)),
        jobs=tuple(_aim(problem.jobs[job], new) for job in jobs),
        makespan=None,
    )


def some_stages(problem: Problem, kept: Sequence[int], lasts: Sequence[int]) -> Problem:
    """Return the problem of some stages of one job by themselves, which want lasts over soon.

    kept, lasts: positions in the problem, lasts among kept.
    """
    new = {number: at for at, number in enumerate(kept)}
    aim = JobAim(lasts=tuple(new[last] for last in lasts), latest=None)
    return replace(
        problem,
        stages=tuple(_stage(problem.stages[number], new, {0: 0}) for number in kept),
        edges=tuple(_edge(edge, new) for edge in problem.edges if _within(edge, new)),
        holds=tuple(_hold(hold, new) for hold in problem.holds if _is_own(hold, new)),
        jobs=(aim,),
        makespan=None,
    )


def _stage(stage: Stage, new: Mapping[int, int], number_of: Mapping[int, int]) -> Stage:
    mate = stage.same_team_as
    return replace(
        stage,
        job=number_of.get(stage.job, -1),
        same_team_as=None if mate is None else new.get(mate),
    )


def _within(edge: Edge, new: Mapping[int, int]) -> bool:
    return edge.before in new and edge.after in new


def _edge(edge: Edge, new: Mapping[int, int]) -> Edge:
    return replace(
        edge,
        before=new[edge.before],
        after=new[edge.after],
        most=None if edge.insert is not None else edge.most,
        most_table=None if edge.insert is not None else edge.most_table,
        insert=None,
    )


def _is_own(hold: Hold, new: Mapping[int, int]) -> bool:
    return hold.last in new and (hold.first is None or hold.first in new)


def _hold(hold: Hold, new: Mapping[int, int]) -> Hold:
    first = None if hold.first is None else new[hold.first]
    return replace(hold, first=first, last=new[hold.last])


def _aim(aim: JobAim, new: Mapping[int, int]) -> JobAim:
    """Return the aim without its journey: who drives is not asked."""
    return replace(
        aim,
        lasts=tuple(new[last] for last in aim.lasts if last in new),
        loaded=(),
        floor=tuple((new[a], new[b]) for a, b in aim.floor if a in new and b in new),
        trip=None,
    )

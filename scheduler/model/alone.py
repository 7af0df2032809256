"""One job by itself in an otherwise empty workshop: what a proof may be about.

Everything that only others bring is dropped: their stages, what people and rooms are booked for,
what others stand on, inserted stages with the greatest waits that they would lift, and what is
worse in one place than in another. So a plan of the whole book always holds a plan of this; if
this can't be, the book can't.
"""

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
    """Return the problem of one job alone."""
    problem = generous(problem)
    kept = [
        number
        for number, stage in enumerate(problem.stages)
        if stage.job == job and not stage.optional
    ]
    new = {number: at for at, number in enumerate(kept)}
    return replace(
        problem,
        stages=tuple(_stage(problem.stages[number], new) for number in kept),
        edges=tuple(_edge(edge, new) for edge in problem.edges if _within(edge, new)),
        workers=tuple(replace(worker, busy=(), away=()) for worker in problem.workers),
        rooms=tuple(replace(room, busy=()) for room in problem.rooms),
        holds=tuple(_hold(hold, new) for hold in problem.holds if _is_own(hold, new)),
        jobs=(_aim(problem.jobs[job], new),),
        makespan=None,
    )


def _stage(stage: Stage, new: dict[int, int]) -> Stage:
    mate = stage.same_team_as
    return replace(stage, job=0, same_team_as=None if mate is None else new.get(mate))


def _within(edge: Edge, new: dict[int, int]) -> bool:
    return edge.before in new and edge.after in new


def _edge(edge: Edge, new: dict[int, int]) -> Edge:
    return replace(
        edge,
        before=new[edge.before],
        after=new[edge.after],
        most=None if edge.insert is not None else edge.most,
        most_table=None if edge.insert is not None else edge.most_table,
        insert=None,
    )


def _is_own(hold: Hold, new: dict[int, int]) -> bool:
    return hold.last in new and (hold.first is None or hold.first in new)


def _hold(hold: Hold, new: dict[int, int]) -> Hold:
    first = None if hold.first is None else new[hold.first]
    return replace(hold, first=first, last=new[hold.last])


def _aim(aim: JobAim, new: dict[int, int]) -> JobAim:
    """Return the aim without its journey: who drives is not asked."""
    return replace(
        aim,
        lasts=tuple(new[last] for last in aim.lasts if last in new),
        floor=(),
        trip=None,
    )

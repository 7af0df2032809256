"""What a cause is worth: how much sooner a job would be loaded without it, all else in its order.

Never by its share of the days: without six hours of waiting for a painter three days may go, or
none. Everything slides to its soonest once more, the cause left out.
"""

from dataclasses import dataclass

from scheduler.slack import working_minutes
from scheduler.why.chain_links import Link, LinkKind
from scheduler.why.day_classes import Class
from scheduler.why.deciding import Deciding
from scheduler.why.order_graph import OrderGraph
from scheduler.why.order_values import Left
from shared.book import Gate, GateKind
from shared.ids import JobId
from shared.units import STEP_MINUTES, instant_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """By so many minutes, elapsed and of the workshop's working time, loading could end sooner."""

    elapsed_minutes: int = 0
    working_minutes: int = 0


def worth_of_class(deciding: Deciding, job: JobId, what: Class) -> Worth | None:
    """Return what a whole class of a job's waiting is worth, None where it can't be left out."""
    normal, planned = deciding.normal, deciding.graph
    stages = frozenset(at for at, name in enumerate(normal.stages) if name.job == job)
    others = frozenset(range(len(normal.stages))) - stages
    answers = frozenset(at for at in stages if _is_answer(deciding, at))
    team = {worker for stage in stages for worker in planned.schedule.teams[stage]}
    left = {
        Class.PEOPLE: Left(people=others, workers=frozenset(team)),
        Class.PLACE: Left(rooms=others, booked=frozenset(range(len(normal.rooms)))),
        Class.CURE: Left(cures=stages - answers),
        Class.CLIENT: Left(cures=answers),
    }
    return None if what not in left else _without(deciding, job, left[what])


def worth_of(deciding: Deciding, job: JobId, link: Link) -> Worth | None:
    """Return what one link of a job's chain is worth, None where it can't be left out."""
    before = frozenset({link.before}) if link.before >= 0 else frozenset[int]()
    if link.kind in (LinkKind.CURE, LinkKind.CLIENT):
        return _without(deciding, job, Left(cures=before)) if before else None
    if link.kind is LinkKind.PERSON:
        if before:
            return _without(deciding, job, Left(people=before))
        workers = frozenset(
            at for at, person in enumerate(deciding.normal.workers) if person == link.id
        )
        return _without(deciding, job, Left(workers=workers))
    if link.kind in (LinkKind.PLACE, LinkKind.FLOOR, LinkKind.EQUIPMENT, LinkKind.AIR):
        if before:
            return _without(deciding, job, Left(rooms=before))
        rooms = frozenset(
            at
            for at, name in enumerate(deciding.normal.rooms)
            if link.id in (name.place, name.equipment, name.air)
        )
        return _without(deciding, job, Left(booked=rooms))
    return None


def _is_answer(deciding: Deciding, stage: int) -> bool:
    name = deciding.normal.stages[stage]
    steps = (step for job in deciding.normal.book.jobs for step in job.steps)
    step = next(each for each in steps if each.id == name.step)
    return isinstance(step, Gate) and step.gate is GateKind.ANSWER and not name.part


def _without(deciding: Deciding, job: JobId, left: Left) -> Worth:
    position = deciding.position(job)
    last = None if position is None else deciding.last(position)
    if position is None or last is None:
        return Worth()
    graph = deciding.graph
    soon = OrderGraph(graph.index, graph.schedule, left=left, goings=graph.goings).earliest()
    lasts = deciding.normal.problem.jobs[position].lasts
    end = max(soon.ends[stage] for stage in lasts if soon.ends[stage] >= 0)
    usual = deciding.soon.ends[last]
    origin, workshop = deciding.normal.origin, deciding.normal.book.workshop
    return Worth(
        elapsed_minutes=max(0, usual - end) * STEP_MINUTES,
        working_minutes=working_minutes(
            workshop, instant_of(origin, end), instant_of(origin, usual)
        )
        if end < usual
        else 0,
    )

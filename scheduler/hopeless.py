"""Why a step that fits nowhere can never be done, whatever else is planned.

Certificates run out, tests fall due, places are given up: then the earliest end counts, everybody
else out of the way. Or no team at all can do it and the step whose people it wants. What is said
holds for every plan, and is a fact of the job.
"""

from dataclasses import replace

from scheduler.calendar import Index
from scheduler.countback import earliest
from scheduler.normalise import Normal
from scheduler.pairs import Pairs
from scheduler.problem import Problem, Room, Stage, Use
from scheduler.reasons import Reason
from shared.findings import Clash, Fact
from shared.units import instant_of


def hopeless(normal: Normal, index: Index, stage: int) -> Clash | None:
    """Return why a stage can never be done, None where nothing of this forbids it."""
    mates = _mates_of_nobody(index, stage)
    if mates:
        steps = {step.id: step for job in normal.book.jobs for step in job.steps}
        others = ", ".join(steps[normal.stages[mate].step].name for mate in mates)
        facts = (("step", normal.stages[stage].step), ("other", others))
        return Clash(code=Reason.OTHER_PEOPLE.value, facts=facts)
    soonest = earliest(index).ends[stage]
    if soonest is None:
        return _without_certificate(normal, stage)
    asked = normal.problem.stages[stage]
    gone = [_over(normal, way.uses, soonest) for way in asked.ways]
    first = next(iter(gone), None)
    return _clash(normal, stage, first) if first is not None and None not in gone else None


def _mates_of_nobody(index: Index, stage: int) -> list[int]:
    """Return the stages that want the team of a stage, if no team can ever do all of them."""
    pairs, stages = index.once(Pairs), index.problem.stages
    if pairs.teams(stage) != frozenset():
        return []
    mates = pairs.mates(stage)
    if not all(way.work for mate in mates for way in stages[mate].ways):
        return []
    return [mate for mate in mates if mate != stage]


def _without_certificate(normal: Normal, stage: int) -> Clash | None:
    asked = normal.problem.stages[stage]
    if not asked.certificates:
        return None
    free = replace(asked, certificates=())
    end = earliest(Index(_changed(normal.problem, stage, free))).ends[stage]
    if end is None:
        return None
    name = normal.stages[stage]
    steps = {step.id: step for job in normal.book.jobs for step in job.steps}
    certificates = ", ".join(getattr(steps[name.step], "certificates", ()))
    done = instant_of(normal.origin, end).isoformat()
    facts = (("step", name.step), ("certificate", certificates), ("end", done))
    return Clash(code=Reason.CERTIFICATE_OVER.value, facts=facts)


def _changed(problem: Problem, at: int, stage: Stage) -> Problem:
    stages = (*problem.stages[:at], stage, *problem.stages[at + 1 :])
    return replace(problem, stages=stages)


def _over(normal: Normal, uses: tuple[Use, ...], end: int) -> int | None:
    """Return a room that a way uses and that is not to be had any more by the end of it."""
    rooms, horizon = normal.problem.rooms, normal.problem.horizon
    return next((use.room for use in uses if _last(rooms[use.room], use, horizon) < end), None)


def _last(room: Room, use: Use, horizon: int) -> int:
    """Return from when on a room is taken for good."""
    return min(
        (
            start
            for start, end, units in room.busy
            if end >= horizon and units + use.units > room.capacity
        ),
        default=horizon,
    )


def _clash(normal: Normal, stage: int, room: int) -> Clash:
    name, thing = normal.stages[stage], normal.rooms[room]
    code, fact = Reason.PLACE_OVER, ("place", thing.place or "")
    if thing.equipment is not None:
        code, fact = Reason.EQUIPMENT_OVER, ("equipment", thing.equipment)
    facts: tuple[tuple[str, Fact], ...] = (("step", name.step), fact)
    return Clash(code=code.value, facts=facts)

"""Every place of a stage's make-up is taken by somebody who can (or may help), one place each.

For each need and each of its places p: sum over workers who may take it of x(worker, p) = count;
a worker takes at most one place; who was asked for is in. Teams written out in the menu keep
all this by themselves. Pinned by tests/scheduler/test_model_rules.py, "members".
"""

from scheduler.model.variables import Frame, Literal, StageVars, any_of, negated
from scheduler.problem import Need, Stage, Worker


def post(frame: Frame) -> None:
    """Say who is in the team of each stage."""
    for stage, found in zip(frame.problem.stages, frame.stages, strict=True):
        by_worker: dict[int, list[Literal]] = {}
        for option, literal in zip(found.menu.options, found.options, strict=True):
            if option.team is None:
                _choose(frame, stage, option.way, literal, by_worker)
            else:
                for worker in option.team:
                    by_worker.setdefault(worker, []).append(literal)
        for worker, literals in by_worker.items():
            found.members[worker] = any_of(frame.model, literals)
        _keep_asked(frame, stage, found)


def _choose(
    frame: Frame, stage: Stage, way: int, literal: Literal, by_worker: dict[int, list[Literal]]
) -> None:
    places: dict[int, list[Literal]] = {}
    for need in stage.ways[way].needs:
        for helping, count in ((False, need.can), (True, need.helps)):
            if count:
                seats = _places(frame, need, helping=helping)
                frame.model.add(sum(seats.values()) == count * literal)
                for worker, place in seats.items():
                    places.setdefault(worker, []).append(place)
    for worker, taken in sorted(places.items()):
        by_worker.setdefault(worker, []).append(any_of(frame.model, taken))


def _places(frame: Frame, need: Need, *, helping: bool) -> dict[int, Literal]:
    return {
        position: frame.model.new_bool_var("")
        for position, worker in enumerate(frame.problem.workers)
        if need.skill in _offered(worker, helping=helping)
    }


def _offered(worker: Worker, *, helping: bool) -> frozenset[int]:
    return worker.can | worker.helps if helping else worker.can


def _keep_asked(frame: Frame, stage: Stage, found: StageVars) -> None:
    for option, literal in zip(found.menu.options, found.options, strict=True):
        for worker in stage.asked if option.team is None else ():
            is_in = found.members.get(worker, False)
            frame.model.add_bool_or([is_in, negated(literal)])

"""Two stages that want the same team have it, where both take work.

For each worker: in the team of one <-> in the team of the other, unless one of them is not
placed, takes no work, or is done by nobody at all for a proof's sake. Pinned by
tests/scheduler/test_model_rules.py, "pairs".
"""

from collections.abc import Iterator

from scheduler.model.variables import ALWAYS, Frame, Literal, negated


def post(frame: Frame) -> None:
    """Give every pair one team."""
    for number, stage in enumerate(frame.problem.stages):
        if stage.same_team_as is not None:
            _pair(frame, number, stage.same_team_as)


def _pair(frame: Frame, one: int, other: int) -> None:
    free = [*_without_team(frame, one), *_without_team(frame, other)]
    mine, others = frame.stages[one].members, frame.stages[other].members
    for worker in sorted({*mine, *others}):
        first, second = mine.get(worker, False), others.get(worker, False)
        frame.model.add_bool_or([negated(first), second, *free])
        frame.model.add_bool_or([first, negated(second), *free])


def _without_team(frame: Frame, number: int) -> Iterator[Literal]:
    """Give the literals with which a stage has no team of its own."""
    stage, found = frame.problem.stages[number], frame.stages[number]
    if found.present is not ALWAYS:
        yield negated(found.present)
    for option, literal in zip(found.menu.options, found.options, strict=True):
        if not stage.ways[option.way].work or option.starts.or_longer:
            yield literal

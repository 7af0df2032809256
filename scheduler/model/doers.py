"""Who does a stage in which of its options, and in which hours that is."""

from collections.abc import Iterator

from scheduler.hours import Hours
from scheduler.model.options import Option
from scheduler.model.variables import ALWAYS, Frame, Literal, negated


def done_by(frame: Frame, number: int, worker: int) -> Iterator[tuple[Literal, Hours, Option]]:
    """Give the options in which a worker does a stage: the literal that says so, and the hours."""
    found, stage = frame.stages[number], frame.problem.stages[number]
    for option, literal in zip(found.menu.options, found.options, strict=True):
        way = stage.ways[option.way]
        if not way.work or not _may_be_in(frame, number, option, worker):
            continue
        team = (worker,) if option.team is None else option.team
        alone = stage.company and way.hands_count == 1
        calendars = frame.index.calendars_of(team, way.calendar, company=alone)
        hours = frame.index.runs_of(calendars, stage, way.clear).hours
        is_in = literal
        if option.team is None:
            is_in = _both(frame, literal, found.members[worker])
        yield is_in, hours, option


def _may_be_in(frame: Frame, number: int, option: Option, worker: int) -> bool:
    if option.team is not None:
        return worker in option.team
    return worker in frame.index.eligible(frame.index.call(number, option.way))


def _both(frame: Frame, literal: Literal, other: Literal) -> Literal:
    if literal is ALWAYS:
        return other
    both = frame.model.new_bool_var("")
    frame.model.add_bool_or([negated(literal), negated(other), both])
    frame.model.add_implication(both, literal)
    return both

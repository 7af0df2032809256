"""Who does what, where it is settled when: people put to a schedule of nobody in particular."""

from dataclasses import replace

from ortools.sat.python import cp_model

from scheduler.calendar import Index
from scheduler.model.options import Menu, Option
from scheduler.model.rules import company, members, pairs, people
from scheduler.model.run import Limits, Status, run
from scheduler.model.variables import Frame, Literal, StageVars
from scheduler.problem import Schedule

_RULES = (members.post, pairs.post, people.load, company.post, people.post)


def with_people(
    index: Index, menus: tuple[Menu, ...], schedule: Schedule, limits: Limits
) -> tuple[Schedule | None, int]:
    """Return a schedule with teams found for it, None if none were, and the effort.

    schedule: of a model without people. menus: of the problem with them. Starts, ends and ways
    stay. For problems without journeys.
    """
    model = cp_model.CpModel()
    stages: list[StageVars] = []
    for number, menu in enumerate(menus):
        found = _stage_vars(model, menu, schedule, number, len(index.problem.stages[number].ways))
        if found is None:
            return None, 0
        stages.append(found)
    frame = Frame(model=model, index=index, problem=index.problem, stages=tuple(stages))
    for rule in _RULES:
        rule(frame)
    answer = run(frame, 0, replace(limits, workers=1))
    is_found = answer.status in (Status.PROVED, Status.FOUND)
    return answer.schedule if is_found else None, answer.effort


def _stage_vars(
    model: cp_model.CpModel, menu: Menu, schedule: Schedule, number: int, way_count: int
) -> StageVars | None:
    start, end, way = schedule.starts[number], schedule.ends[number], schedule.ways[number]
    if way < 0:
        return StageVars(
            start=0,
            end=0,
            size=0,
            present=False,
            ways=(False,) * way_count,
            options=(),
            sizes=(None,) * way_count,
            menu=Menu(options=()),
        )
    options = tuple(each for each in menu.options if each.way == way and _fits(each, start, end))
    if not options:
        return None
    return StageVars(
        start=start,
        end=end,
        size=end - start,
        present=True,
        ways=tuple(at == way for at in range(way_count)),
        options=_one_of(model, len(options)),
        sizes=(end - start,) * way_count,
        menu=replace(menu, options=options),
    )


def _one_of(model: cp_model.CpModel, count: int) -> tuple[Literal, ...]:
    if count == 1:
        return (True,)
    literals = tuple(model.new_bool_var("") for _ in range(count))
    model.add_exactly_one(literals)
    return literals


def _fits(option: Option, start: int, end: int) -> bool:
    return any(
        size == end - start and any(first <= start <= last for first, last in inside)
        for size, inside in option.starts.pieces
    )

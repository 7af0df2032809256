"""Between schedules and the model: reading one out of a solution, and giving one as a hint."""

from collections.abc import Callable, Iterator

from ortools.sat.python import cp_model

from scheduler.model.departures import let_leave
from scheduler.model.variables import Expr, Frame, Literal, StageVars
from scheduler.problem import Schedule

Value = Callable[[Expr], int]


def schedule_of(frame: Frame, value: Value) -> Schedule:
    """Return the schedule that a solution says, value giving each expression's figure.

    Where the model names nobody, its teams are empty.
    """
    schedule = read(frame, value)
    return let_leave(frame.index, schedule) if frame.people else schedule


def read(frame: Frame, value: Value) -> Schedule:
    """Return the schedule of a solution, with journeys that stay where it let them."""
    found = [_placement(stage, value) for stage in frame.stages]
    return Schedule(
        starts=tuple(start for start, _, _, _ in found),
        ends=tuple(end for _, end, _, _ in found),
        ways=tuple(way for _, _, way, _ in found),
        teams=tuple(team for _, _, _, team in found),
        trips=tuple(
            _chosen(frame.trips.get(job, ()), value) for job in range(len(frame.problem.jobs))
        ),
    )


def _placement(found: StageVars, value: Value) -> tuple[int, int, int, tuple[int, ...]]:
    way = _chosen(found.ways, value)
    if way < 0:
        return -1, -1, -1, ()
    team = tuple(sorted(worker for worker, is_in in found.members.items() if _true(is_in, value)))
    return value(found.start), value(found.end), way, team


def _chosen(literals: tuple[Literal, ...], value: Value) -> int:
    return next((at for at, literal in enumerate(literals) if _true(literal, value)), -1)


def _true(literal: Literal, value: Value) -> bool:
    return literal if isinstance(literal, bool) else value(literal) == 1


def hint(frame: Frame, schedule: Schedule) -> None:
    """Start the search from a schedule, whole or in part."""
    frame.model.clear_hints()  # type: ignore[no-untyped-call]
    wanted: dict[int, tuple[cp_model.IntVar, int]] = {}
    for position, found in enumerate(frame.stages):
        if schedule.ways[position] >= 0:
            for expression, figure in _wishes(found, schedule, position):
                if isinstance(expression, cp_model.IntVar):
                    wanted[expression.index] = (expression, figure)
    for job, literals in frame.trips.items():
        for option, literal in enumerate(literals):
            if isinstance(literal, cp_model.IntVar):
                wanted[literal.index] = (literal, int(option == schedule.trips[job]))
    for variable, figure in wanted.values():
        frame.model.add_hint(variable, figure)


def _wishes(found: StageVars, schedule: Schedule, position: int) -> Iterator[tuple[Expr, int]]:
    start, end = schedule.starts[position], schedule.ends[position]
    team = schedule.teams[position]
    yield from ((found.start, start), (found.end, end), (found.size, end - start))
    for way, literal in enumerate(found.ways):
        yield literal, int(way == schedule.ways[position])
    for worker, literal in found.members.items():
        yield literal, int(worker in team)
    for option, literal in zip(found.menu.options, found.options, strict=True):
        if option.team is not None:
            yield literal, int((option.way, option.team) == (schedule.ways[position], team))

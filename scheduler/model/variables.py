"""The variables of the model: of every stage its start, end, way, team; loads on what is scarce."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from scheduler.calendar import Index
from scheduler.model.options import Menu, Option, Starts
from scheduler.problem import Problem, Use

Expr = cp_model.LinearExpr | int
Literal = cp_model.BoolVarT | bool
ALWAYS: Literal = True
Rest = tuple[int, int, Literal]
"""A stretch in which somebody rests, and the literal that they do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StageVars:
    """A stage in the model.

    ways, options: by position in Stage.ways and Menu.options, a literal each. sizes: by way,
    its only length from start to end, or None where it has several. members: by worker, the
    literal that they are in the team; filled in by rules/members.py.
    """

    start: Expr
    end: Expr
    size: Expr
    present: Literal
    ways: tuple[Literal, ...]
    options: tuple[Literal, ...]
    sizes: tuple[int | None, ...]
    menu: Menu
    members: dict[int, Literal] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """So many units taken over an interval; of a stage: by which, and by which use."""

    interval: cp_model.IntervalVar
    units: int
    stage: int | None = None
    use: Use | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The model being built: rules read the stages and add constraints and loads.

    index: of the problem. people: whether teams are named. ready: by stage, when its cure is over,
    where that is later than its end. trips: by job, a literal for each option of its trip.
    room_loads, worker_loads: by room and by worker. worker_rests: by worker, the rests that
    journeys call for.
    """

    model: cp_model.CpModel
    index: Index
    problem: Problem
    stages: tuple[StageVars, ...]
    people: bool = True
    ready: dict[int, Expr] = field(default_factory=dict)
    trips: dict[int, tuple[Literal, ...]] = field(default_factory=dict)
    room_loads: dict[int, list[Load]] = field(default_factory=dict)
    worker_loads: dict[int, list[cp_model.IntervalVar]] = field(default_factory=dict)
    worker_rests: dict[int, list[Rest]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """Starts of one length, and the literal that the stage starts at one of them."""

    size: int
    domain: cp_model.Domain
    literal: Literal
    or_longer: bool


def frame_of(index: Index, menus: Sequence[Menu], *, people: bool = True) -> Frame:
    """Return a frame with the variables of every stage, which keep its hours and nothing else."""
    model, problem = cp_model.CpModel(), index.problem
    stages = tuple(
        _stage_vars(model, problem, menu, optional=stage.optional, way_count=len(stage.ways))
        for stage, menu in zip(problem.stages, menus, strict=True)
    )
    return Frame(model=model, index=index, problem=problem, stages=stages, people=people)


def negated(literal: Literal) -> Literal:
    """Return the literal that is true where this one is not."""
    return not literal if isinstance(literal, bool) else ~literal


def any_of(model: cp_model.CpModel, literals: Sequence[Literal]) -> Literal:
    """Return a literal that is true if one of some literals is, of which at most one can be."""
    if len(literals) == 1:
        return literals[0]
    joint = model.new_bool_var("")
    model.add_exactly_one([*literals, ~joint])
    return joint


def span_of(
    frame: Frame, start: Expr, size: Expr, end: Expr, literal: Literal
) -> cp_model.IntervalVar:
    """Return the interval from start to end, size steps long, that is there if the literal is."""
    model = frame.model
    if isinstance(size, int) and literal is ALWAYS:
        return model.new_fixed_size_interval_var(start, size, "")
    if isinstance(size, int):
        return model.new_optional_fixed_size_interval_var(start, size, literal, "")
    if literal is ALWAYS:
        return model.new_interval_var(start, size, end, "")
    return model.new_optional_interval_var(start, size, end, literal, "")


def _stage_vars(
    model: cp_model.CpModel, problem: Problem, menu: Menu, *, optional: bool, way_count: int
) -> StageVars:
    present: Literal = model.new_bool_var("") if optional else ALWAYS
    options = _one_of(model, len(menu.options), present)
    pieces = _pieces(model, menu.options, options, present)
    start = model.new_int_var_from_domain(_hull(pieces), "")
    size = _size(model, problem.horizon, pieces)
    end = _end(model, problem.horizon, start, size, pieces)
    return StageVars(
        start=start,
        end=end,
        size=size,
        present=present,
        ways=tuple(_way(model, menu.options, options, way) for way in range(way_count)),
        options=options,
        sizes=tuple(_only_size(menu.options, way) for way in range(way_count)),
        menu=menu,
    )


def _one_of(model: cp_model.CpModel, count: int, present: Literal) -> tuple[Literal, ...]:
    if count == 1:
        return (present,)
    literals = tuple(model.new_bool_var("") for _ in range(count))
    model.add_exactly_one([*literals, negated(present)])
    return literals


def _pieces(
    model: cp_model.CpModel,
    options: Sequence[Option],
    literals: Sequence[Literal],
    present: Literal,
) -> list[_Piece]:
    by_starts: dict[Starts, list[Literal]] = {}
    for option, literal in zip(options, literals, strict=True):
        by_starts.setdefault(option.starts, []).append(literal)
    if len(by_starts) == 1:
        return _pieces_of(model, options[0].starts, present)
    return [
        piece
        for starts, found in by_starts.items()
        for piece in _pieces_of(model, starts, any_of(model, found))
    ]


def _pieces_of(model: cp_model.CpModel, starts: Starts, literal: Literal) -> list[_Piece]:
    return [
        _Piece(
            size=size,
            domain=cp_model.Domain.from_intervals(inside),
            literal=chosen,
            or_longer=starts.or_longer,
        )
        for (size, inside), chosen in zip(
            starts.pieces, _one_of(model, len(starts.pieces), literal), strict=True
        )
    ]


def _hull(pieces: Sequence[_Piece]) -> cp_model.Domain:
    hull = cp_model.Domain.from_intervals([])
    for piece in pieces:
        hull = hull.union_with(piece.domain)
    return cp_model.Domain(0, 0) if hull.is_empty() else hull


def _size(model: cp_model.CpModel, horizon: int, pieces: Sequence[_Piece]) -> Expr:
    sizes = {piece.size for piece in pieces}
    least = sum(piece.size * piece.literal for piece in pieces)
    if any(piece.or_longer for piece in pieces):
        size = model.new_int_var(0, horizon, "")
        model.add(size >= least)
        return size
    if len(sizes) < 2:
        return next(iter(sizes), 0)
    size = model.new_int_var_from_domain(cp_model.Domain.from_values(sorted({0, *sizes})), "")
    model.add(size == least)
    return size


def _end(
    model: cp_model.CpModel, horizon: int, start: cp_model.IntVar, size: Expr, pieces: list[_Piece]
) -> Expr:
    """Return the end; the start keeps to the hours of the piece chosen."""
    fixed = isinstance(size, int)
    end: Expr = start + size if fixed else model.new_int_var(0, horizon, "")
    if not fixed:
        model.add(end == start + size)
    for piece in pieces:
        if not fixed and not piece.or_longer:
            model.add(end == start + piece.size).only_enforce_if(piece.literal)
        if len(pieces) > 1:
            inside = model.add_linear_expression_in_domain(start, piece.domain)
            inside.only_enforce_if(piece.literal)
    return end


def _way(
    model: cp_model.CpModel, options: Sequence[Option], literals: Sequence[Literal], way: int
) -> Literal:
    found = [
        literal for option, literal in zip(options, literals, strict=True) if option.way == way
    ]
    return any_of(model, found) if found else False


def _only_size(options: Sequence[Option], way: int) -> int | None:
    found = [option.starts for option in options if option.way == way]
    sizes = {size for starts in found for size, _ in starts.pieces}
    if len(sizes) != 1 or any(starts.or_longer for starts in found):
        return None
    return next(iter(sizes))

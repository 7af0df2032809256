"""What stages, journeys and standing segments take of a room never passes its capacity.

At any time: sum of units taken <= capacity. A stage takes its units from start - before to
end + after; where they stay through the cure, to ready + after. Closures of a room may take
more than is left free; they count as the whole room then.
Pinned by tests/scheduler/test_model_rules.py, "rooms".
"""

from itertools import pairwise

from scheduler.model.variables import ALWAYS, Expr, Frame, Literal, Load, StageVars, span_of
from scheduler.problem import Room, Use


def load(frame: Frame) -> None:
    """Let every stage take what its way uses."""
    for position, (stage, found) in enumerate(zip(frame.problem.stages, frame.stages, strict=True)):
        for way, literal in zip(range(len(stage.ways)), found.ways, strict=True):
            for use in stage.ways[way].uses:
                if (use.units or use.against) and literal is not False:
                    _take(frame, position, way, use)


def _take(frame: Frame, position: int, way: int, use: Use) -> None:
    found = frame.stages[position]
    literal, size = found.ways[way], found.sizes[way]
    cured = frame.ready.get(position) if use.through_cure else None
    if cured is None:
        longer = found.size if size is None else size
        add(frame, use, found.start, longer, found.end, literal, stage=position)
    else:
        longer = _whole(frame, found, cured)
        if not size and not use.before + use.after:
            literal = _is_held(frame, found, cured, literal)
        add(frame, use, found.start, longer, cured, literal, stage=position)


def _whole(frame: Frame, found: StageVars, cured: Expr) -> Expr:
    size = frame.model.new_int_var(0, 4 * frame.problem.horizon, "")
    frame.model.add(size == cured - found.start)
    return size


def _is_held(frame: Frame, found: StageVars, cured: Expr, literal: Literal) -> Literal:
    """Return a literal that it is held for some time; nothing crosses a stretch of no length."""
    held = frame.model.new_bool_var("")
    frame.model.add_implication(held, literal)
    frame.model.add(cured <= found.start).only_enforce_if(literal, ~held)
    return held


def add(
    frame: Frame,
    use: Use,
    start: Expr,
    size: Expr,
    end: Expr,
    literal: Literal,
    *,
    stage: int | None = None,
) -> None:
    """Take the units of a use over a stretch and its clear-outs."""
    longer = size + use.before + use.after
    if isinstance(longer, int) and not longer:
        return
    held = span_of(frame, start - use.before, longer, end + use.after, literal)
    load = Load(interval=held, units=use.units, stage=stage, use=use)
    frame.room_loads.setdefault(use.room, []).append(load)


def post(frame: Frame) -> None:
    """Keep every room within its capacity."""
    for position, loads in sorted(frame.room_loads.items()):
        room = frame.problem.rooms[position]
        everything = [*(load for load in loads if load.units), *booked(frame, room)]
        intervals = [taken.interval for taken in everything]
        if all(taken.units <= room.capacity < 2 * taken.units for taken in everything):
            frame.model.add_no_overlap(intervals)
        else:
            units = [taken.units for taken in everything]
            frame.model.add_cumulative(intervals, units, room.capacity)


def booked(frame: Frame, room: Room) -> list[Load]:
    """Return what is taken of a room beforehand, piece by piece."""
    change: dict[int, int] = {}
    for start, end, units in room.busy:
        if start < end:
            change[start] = change.get(start, 0) + units
            change[end] = change.get(end, 0) - units
    found: list[Load] = []
    taken = 0
    for first, last in pairwise(sorted(change)):
        taken += change[first]
        if taken:
            piece = span_of(frame, first, last - first, last, ALWAYS)
            found.append(Load(interval=piece, units=min(room.capacity, taken)))
    return found

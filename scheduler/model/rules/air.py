"""While a stage takes what is against a room, nobody else takes anything of that room.

For each use with `against` and each load of another stage on such a room: no overlap of the two
stretches. Pairs that the order of stages keeps apart anyway are left out.
Pinned by tests/scheduler/test_model_air.py.
"""

from collections.abc import Iterator

from ortools.sat.python import cp_model

from scheduler.model.variables import ALWAYS, Frame, Load, span_of
from scheduler.problem import Problem
from scheduler.spans import merged


def post(frame: Frame) -> None:
    """Keep apart what must not share the air."""
    careful = [load for loads in frame.room_loads.values() for load in loads if _against(load)]
    if not careful:
        return
    followers = _Followers(frame.problem)
    seen: set[frozenset[int]] = set()
    rooms = sorted(set().union(*map(_against, careful)))
    booked = {room: list(_booked(frame, room)) for room in rooms}
    for load in careful:
        for room in _against(load):
            if booked[room]:
                frame.model.add_no_overlap([load.interval, *booked[room]])
            for other in frame.room_loads.get(room, ()):
                pair = frozenset((id(load), id(other)))
                if other.units and pair not in seen and not _is_apart(followers, load, other):
                    seen.add(pair)
                    frame.model.add_no_overlap([load.interval, other.interval])


def _against(load: Load) -> tuple[int, ...]:
    return () if load.use is None else load.use.against


def _booked(frame: Frame, room: int) -> Iterator[cp_model.IntervalVar]:
    """Give the stretches in which something of a room is booked."""
    if frame.problem.rooms[room].capacity:
        busy = frame.problem.rooms[room].busy
        for start, end in merged((start, end) for start, end, units in busy if units):
            yield span_of(frame, start, end - start, end, ALWAYS)


def _is_apart(followers: "_Followers", load: Load, other: Load) -> bool:
    """Return whether two loads are of one stage or can't meet, one stage coming after the other."""
    if load.stage is None or other.stage is None:
        return False
    return (
        load.stage == other.stage
        or (other.stage in followers.of(load.stage) and not _gap(load, other))
        or (load.stage in followers.of(other.stage) and not _gap(other, load))
    )


def _gap(before: Load, after: Load) -> int:
    """Return how many steps two loads need between the end of one stage and the start of one."""
    longer = 0 if before.use is None else before.use.after
    return longer + (0 if after.use is None else after.use.before)


class _Followers:
    """By stage, those that start no sooner than it is ready, whatever is inserted."""

    def __init__(self, problem: Problem) -> None:
        self._optional = [stage.optional for stage in problem.stages]
        self._next: list[list[int]] = [[] for _ in problem.stages]
        self._found: dict[int, frozenset[int]] = {}
        for edge in problem.edges:
            if not edge.from_start:
                self._next[edge.before].append(edge.after)

    def of(self, stage: int) -> frozenset[int]:
        """Return the stages after one."""
        if stage not in self._found:
            found: set[int] = set()
            left = list(self._next[stage])
            while left:
                each = left.pop()
                if each not in found:
                    found.add(each)
                    left += () if self._optional[each] else self._next[each]
            self._found[stage] = frozenset(found)
        return self._found[stage]

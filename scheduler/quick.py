"""The placement pass for what is only stages, waits and rooms: whole passes in a millisecond.

Same rule as place.py (each stage where it fits soonest, in the order given), for problems in
which nothing else is said: one way each, no people, hours, greatest waits or pins. By room and
demand the steps with too little left are the bits of one number, so that where a stage fits is
found without walking.
"""

from collections.abc import Iterable, Sequence

from scheduler.problem import Edge, Problem, Room, Stage, Use
from scheduler.teams import work_steps

Link = tuple[int, int]
"""A stage, and so many steps after its start at the earliest."""


class Quick:
    """A problem of stages and rooms, seen forwards or backwards."""

    def __init__(self, problem: Problem) -> None:
        """Read a problem of which `is_for` is true."""
        self.lengths = [_length(stage) for stage in problem.stages]
        self.demands = [
            [(use.room, use.units) for use in stage.ways[0].uses if use.units] if length else []
            for stage, length in zip(problem.stages, self.lengths, strict=True)
        ]
        self.capacities = [room.capacity for room in problem.rooms]
        self._levels = self._levels_of_rooms()
        self._steps = 1 + sum(self.lengths) + sum(max(0, edge.least) for edge in problem.edges)
        count = len(self.lengths)
        self.before: list[list[Link]] = [[] for _ in range(count)]
        self.after: list[list[Link]] = [[] for _ in range(count)]
        for edge in problem.edges:
            one, other = edge.before, edge.after
            wait = edge.least if edge.from_start else self.lengths[one] + edge.least
            self.before[other].append((one, wait))
            self.after[one].append((other, wait + self.lengths[other] - self.lengths[one]))

    def forwards(self, order: Sequence[int]) -> list[int]:
        """Return the starts. order: every stage once, after all that comes before it."""
        return self._place(order, self.before)

    def backwards(self, order: Sequence[int]) -> list[int]:
        """Return how long before the end of all each stage ends; order: what follows first."""
        return self._place(order, self.after)

    def _levels_of_rooms(self) -> list[tuple[int, ...]]:
        levels: list[set[int]] = [set() for _ in self.capacities]
        for demands in self.demands:
            for room, units in demands:
                levels[room].add(units)
        return [tuple(sorted(found)) for found in levels]

    def _place(self, order: Sequence[int], links: Sequence[Sequence[Link]]) -> list[int]:
        lengths, all_demands, levels = self.lengths, self.demands, self._levels
        free = [[capacity] * self._steps for capacity in self.capacities]
        full = [dict.fromkeys(found, 0) for found in levels]
        starts = [0] * len(lengths)
        for stage in order:
            t = 0
            for other, wait in links[stage]:
                soonest = starts[other] + wait
                if soonest > t:
                    t = soonest
            length, demands = lengths[stage], all_demands[stage]
            if demands:
                shut = 0
                for room, units in demands:
                    shut |= full[room][units]
                shut >>= t
                if shut & ((1 << length) - 1):
                    t += _first_gap(shut, length)
                for room, units in demands:
                    _take(free[room], full[room], levels[room], t, length, units)
            starts[stage] = t
        return starts


def _first_gap(shut: int, length: int) -> int:
    """Return the first bit from which on so many are 0."""
    covered = 1
    while covered < length:
        step = min(covered, length - covered)
        shut |= shut >> step
        covered += step
    return ((shut + 1) & ~shut).bit_length() - 1


def _take(
    free: list[int], full: dict[int, int], levels: Sequence[int], t: int, length: int, units: int
) -> None:
    most = levels[-1]
    for at in range(t, t + length):
        there = free[at]
        left = free[at] = there - units
        if left < most:
            bit = 1 << at
            for level in levels:
                if left < level <= there:
                    full[level] |= bit


def is_for(problem: Problem) -> bool:
    """Return whether a problem is stages, waits and rooms and nothing else."""
    return (
        problem.makespan is not None
        and not (problem.holds or problem.jobs or problem.consumables)
        and all(map(_is_plain_stage, problem.stages))
        and all(_is_plain_edge(problem.stages, edge) for edge in problem.edges)
        and not any(room.busy for room in problem.rooms)
        and _fits_always(problem.stages, problem.rooms)
    )


def _is_plain_stage(stage: Stage) -> bool:
    (way, *more) = stage.ways
    plain = Stage(ways=stage.ways, job=stage.job)
    return (
        not more
        and stage == plain
        and not way.needs
        and way.calendar is None
        and way.clear is None
        and not way.consumes
        and (bool(way.work) or not way.uses)
        and all(use == Use(room=use.room, units=use.units) for use in way.uses)
    )


def _is_plain_edge(stages: Sequence[Stage], edge: Edge) -> bool:
    """Return whether one stage comes after the whole of another, how late so ever."""
    least = edge.least - (_length(stages[edge.before]) if edge.from_start else 0)
    plain = Edge(before=edge.before, after=edge.after, least=edge.least, from_start=edge.from_start)
    return least >= 0 and edge == plain


def _fits_always(stages: Iterable[Stage], rooms: Sequence[Room]) -> bool:
    return all(
        use.units <= rooms[use.room].capacity for stage in stages for use in stage.ways[0].uses
    )


def _length(stage: Stage) -> int:
    return work_steps(stage.ways[0].work, ())

"""Rooms in which more stands already than there is room for, be it now or when a booking begins.

What stands from step 0 is a fact: no plan is to blame for it, and nothing new comes to it until
there is room. The passes keep to that; the solver, to whom it would be a contradiction, is asked
only about what is none.
"""

from collections.abc import Iterable
from dataclasses import replace

from scheduler.problem import Problem, Room, Schedule


def without_crowds(problem: Problem) -> Problem:
    """Return the problem without what stands in crowded rooms: every plan of it is one of this."""
    standing: dict[int, int] = {}
    for hold in problem.holds:
        if hold.first is None:
            standing[hold.room] = standing.get(hold.room, 0) + hold.units
    crowded = {
        number
        for number, units in standing.items()
        if units + _most_booked(problem.rooms[number]) > problem.rooms[number].capacity
    }
    if not crowded:
        return problem
    holds = (hold for hold in problem.holds if hold.first is not None or hold.room not in crowded)
    return replace(problem, holds=tuple(holds))


def _most_booked(room: Room) -> int:
    return max((_booked_at(room, start) for start, _, _ in room.busy), default=0)


def _booked_at(room: Room, step: int) -> int:
    return min(room.capacity, sum(units for a, b, units in room.busy if a <= step < b))


def is_crowded(problem: Problem, schedule: Schedule) -> bool:
    """Return whether what stands from step 0 is too much for a room while it is there."""
    standing: dict[int, list[tuple[int, int]]] = {}
    for hold in problem.holds:
        if hold.first is None:
            standing.setdefault(hold.room, []).append((schedule.ends[hold.last], hold.units))
    return any(_overfills(problem.rooms[number], left) for number, left in standing.items())


def _overfills(room: Room, standing: Iterable[tuple[int, int]]) -> bool:
    """Return whether a room is too full at a moment. standing: by what stands, its end, units."""
    there = list(standing)
    for moment in (0, *(start for start, _, _ in room.busy)):
        still = sum(units for end, units in there if end > moment)
        if still and still + _booked_at(room, moment) > room.capacity:
            return True
    return False

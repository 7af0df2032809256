"""From problem to model: the variables, then every rule in one readable order."""

from collections.abc import Callable, Sequence

from scheduler.calendar import Index
from scheduler.model.menu import menus
from scheduler.model.rules import (
    consumables,
    crowds,
    cures,
    edges,
    holds,
    members,
    people,
    rooms,
    trips,
)
from scheduler.model.variables import Frame, frame_of
from scheduler.teams import Team

RULES: tuple[Callable[[Frame], None], ...] = (
    members.post,
    cures.post,
    edges.post,
    consumables.post,
    people.load,
    rooms.load,
    holds.load,
    trips.load,
    people.post,
    rooms.post,
    crowds.post,
)


def build(index: Index, *, wanted: Sequence[Team] = (), generous: bool = False) -> Frame:
    """Return the model of a problem, without objective.

    wanted, generous: as menu.menus takes them.
    """
    frame = frame_of(index.problem, menus(index, wanted=wanted, generous=generous))
    for rule in RULES:
        rule(frame)
    return frame

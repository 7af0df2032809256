"""From problem to model: the variables, then every rule in one readable order."""

from collections.abc import Callable, Sequence

from scheduler.calendar import Index
from scheduler.model.menu import menus
from scheduler.model.rules import (
    air,
    company,
    consumables,
    crowds,
    cures,
    edges,
    holds,
    members,
    pairs,
    people,
    rooms,
    trips,
)
from scheduler.model.variables import Frame, frame_of
from scheduler.teams import Team

RULES: tuple[Callable[[Frame], None], ...] = (
    members.post,
    pairs.post,
    cures.post,
    edges.post,
    consumables.post,
    people.load,
    rooms.load,
    holds.load,
    trips.load,
    company.post,
    people.post,
    rooms.post,
    air.post,
    crowds.post,
)


def build(
    index: Index,
    *,
    wanted: Sequence[Team] = (),
    generous: bool = False,
    in_time: bool = False,
) -> Frame:
    """Return the model of a problem, without objective.

    wanted, generous, in_time: as menu.menus takes them.
    """
    menu_by_stage = menus(index, wanted=wanted, generous=generous, in_time=in_time)
    frame = frame_of(index, menu_by_stage)
    for rule in RULES:
        rule(frame)
    return frame

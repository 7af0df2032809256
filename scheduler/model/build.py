"""From problem to model: the variables, then every rule in one readable order."""

from collections.abc import Callable, Sequence

from scheduler.calendar import Index
from scheduler.model.menu import menus
from scheduler.model.pools import without_people
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

OF_PEOPLE = (members.post, pairs.post, company.post)
"""Rules that say who does what."""


def build(
    index: Index,
    *,
    wanted: Sequence[Team] = (),
    generous: bool = False,
    in_time: bool = False,
    people: bool = True,
) -> Frame:
    """Return the model of a problem, without objective.

    wanted, generous, in_time: as menu.menus takes them. people: name who does what; without, a
    stage is done by nobody in particular, at any time at which some team could, and people count
    by the pools they are in: nothing that can be is ruled out, what is found need not be possible.
    """
    menu_by_stage = menus(index, wanted=wanted, generous=generous or not people, in_time=in_time)
    if not people:
        menu_by_stage = tuple(without_people(menu) for menu in menu_by_stage)
    frame = frame_of(index, menu_by_stage, people=people)
    for rule in RULES:
        if people or rule not in OF_PEOPLE:
            rule(frame)
    return frame

"""Whose hours apply to whoever drives, read from vehicles, roads, day and whose goods.

Regulation (EC) 561/2006 is for more than 3.5 t, from July 2026 over a border for more than 2.5 t.
Out of it is a van with the workshop's own goods where driving is not the main job, and what is
made by hand and carried near home. In Great Britain domestic hours hold then, elsewhere those of
workers. What isn't known is judged by the stricter.
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import Any

from scheduler.check.world import World
from shared.book import Equipment, Leg, LegKind, Means
from shared.road.bans import Lorry
from shared.trade.own import looked_up

_BRITAIN = "GB"


@dataclass(frozen=True, slots=True, kw_only=True)
class Driven:
    """What is driven over which drives, on which day, by which means."""

    vehicles: tuple[Equipment, ...]
    drives: tuple[Leg, ...]
    means: Means
    day: date

    @property
    def tonnes(self) -> Decimal | None:
        """Return the mass of the heaviest, trailer and all, None where one isn't known."""
        masses = []
        for each in self.vehicles:
            if each.gross_t is None:
                return None
            masses.append(each.gross_t + (each.trailer_t or 0))
        return max(masses, default=None)

    @property
    def km(self) -> Decimal | None:
        """Return the length of the way, None where not every drive has one."""
        found = [leg.distance_km for leg in self.drives if leg.distance_km is not None]
        return sum(found, Decimal(0)) if found and len(found) == len(self.drives) else None

    @property
    def own_account(self) -> bool | None:
        """Return whether the goods are the workshop's own; hired drivers have driving as a job."""
        hired = not self.means.driven_by and not self.means.own_account
        return False if hired else self.means.own_account


def drives_of(legs: Iterable[Leg]) -> tuple[Leg, ...]:
    """Return the drives among legs; the way home is none of them."""
    return tuple(leg for leg in legs if leg.kind is LegKind.DRIVE)


def roads_of(drives: Sequence[Leg]) -> set[str]:
    """Return the countries of the roads of drives."""
    found: set[str] = set()
    for leg in drives:
        found |= {share.country for share in leg.shares} or {leg.country or ""}
    return found - {""}


def rules_named(driven: Driven) -> str | None:
    """Return the rule set that the book names: of the means, else of the first drive with one."""
    named = (driven.means.rules, *(leg.rules for leg in driven.drives))
    return next((each for each in named if each is not None), None)


def rules_that_apply(world: World, driven: Driven) -> str:
    """Return the id of the rule set that holds where the book names none."""
    look = looked_up(world.book.workshop)
    home = world.book.workshop.country
    roads = roads_of(driven.drives) or {home}
    tonnes, own = driven.tonnes, driven.own_account
    stricter = "stricter_gb" if _BRITAIN in roads else "stricter"
    crew = driven.means.drivers > 1 or len(driven.means.driven_by) > 1
    in_scope = "eu_two_drivers" if crew else "eu_one_driver"
    if tonnes is None or not roads <= _countries("eu_one_driver"):
        return stricter
    if tonnes > look("DR11a").amount:
        near = driven.km is None or driven.km <= look("DR12").amount
        if own is False or tonnes > look("DR12c").amount or not near:
            return in_scope
        if own is None or driven.km is None:
            return stricter
    elif tonnes > look("DR11b").amount and len(roads | {home}) > 1 and driven.day >= _van_since():
        if own is None:
            return stricter
        if not own:
            return in_scope
    return _out_of_scope(roads, stricter)


def _out_of_scope(roads: set[str], stricter: str) -> str:
    if _BRITAIN in roads:
        return "gb_domestic"
    return "workers_eu" if roads <= _countries("workers_eu") else stricter


def rules_on_site(world: World, country: str) -> str:
    """Return the rule set of people who work at a site: of their own country or of several."""
    both = {country, world.book.workshop.country}
    return "workers_uk" if both <= _countries("workers_uk") else "workers_eu"


def as_bans_see(world: World, driven: Driven) -> Lorry:
    """Return the heaviest of vehicles, its trailer with it; as heavy as any where not known."""
    means, tonnes = driven.means, driven.tonnes
    heavy = tonnes is None
    return Lorry(
        tonnes=looked_up(world.book.workshop)("TR07b").amount if tonnes is None else tonnes,
        trailer=heavy or any(each.trailer_t is not None for each in driven.vehicles),
        abnormal=means.abnormal is True,
        event_on=means.event_on,
    )


@cache
def _countries(rules_id: str) -> frozenset[str]:
    return frozenset(_data("rules.json")[rules_id]["countries"])


@cache
def _van_since() -> date:
    return date.fromisoformat(_data("scope.json")["abroad"]["valid_from"])


@cache
def _data(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(
        files("shared.road").joinpath("data", name).read_text(encoding="utf-8")
    )
    return found

"""Ready-made legs that the program brings, and what of them the planner has to fill in."""

from shared.journeys.blanks import Blank, BlankKind, blanks_of
from shared.journeys.known import (
    HOME,
    PROGRAM_LEGS,
    SITE,
    ReadyLegs,
    known_legs,
    ready_legs,
    sources_of_legs,
)

__all__ = [
    "HOME",
    "PROGRAM_LEGS",
    "SITE",
    "Blank",
    "BlankKind",
    "ReadyLegs",
    "blanks_of",
    "known_legs",
    "ready_legs",
    "sources_of_legs",
]

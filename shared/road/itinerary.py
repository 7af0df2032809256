"""What a search gives: every stretch of a journey with the rule behind each wait."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class Doing(StrEnum):
    """What the driver does in a stretch; `_in_rest` is boarding or landing that breaks a rest."""

    DRIVE = "drive"
    WORK = "work"
    REST = "rest"
    BOARD = "board"
    BOARD_IN_REST = "board_in_rest"
    SEA_REST = "sea_rest"
    SEA = "sea"
    LAND = "land"
    LAND_IN_REST = "land_in_rest"


class Because(StrEnum):
    """Why the lorry stands."""

    BAN = "ban"
    CLOSED = "closed"
    SAILING = "sailing"
    WEEK = "week"
    DAILY_REST = "daily_rest"
    BREAK = "break"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One thing done from `start` to `end` (UTC) on a leg, counted from 0.

    because, rule: of a rest, what it waits for and the id of the figure behind it; the rule is
    empty where a timetable or opening hours decide. sailing: which one, of the leg's own.
    """

    doing: Doing
    leg: int
    start: datetime
    end: datetime
    because: Because | None = None
    rule: str = ""
    sailing: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Itinerary:
    """A journey from the departure to the arrival, its stretches without a gap."""

    stretches: tuple[Stretch, ...]

    @property
    def departure(self) -> datetime:
        """Return when the duty begins."""
        return self.stretches[0].start

    @property
    def arrival(self) -> datetime:
        """Return when the last leg ends."""
        return self.stretches[-1].end

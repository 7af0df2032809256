"""What stands in the foreman's view: people and places in rows, what holds them in bars. No Qt.

Times are minutes since 1970 in UTC, as on the wall.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from app.window.wall.items import Piece
from scheduler.asks import Asked
from shared.book import Kind
from shared.ids import JobId, PersonId, SegmentId, StepId


class Sort(StrEnum):
    """What holds a person or a place."""

    WORK = "work"
    ROAD = "road"
    OTHER = "other"
    AWAY = "away"
    CURE = "cure"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One thing that holds a person or a place.

    id: of its own in its row. start, end: minutes; pieces: the parts of it that are worked.
    what: a name that tells it from others; stage: what is done; job: the last word of the job's
    name; beside: with whom and where. name, description: as they are read out. is_unsure: told,
    over, and nobody has said that it is done. is_late: worked outside the hours that are shown.
    """

    id: str
    sort: Sort
    start: int
    end: int
    pieces: tuple[Piece, ...]
    what: str
    stage: str = ""
    job_word: str = ""
    beside: str = ""
    name: str = ""
    description: str = ""
    kind: Kind | None = None
    job: JobId | None = None
    step: StepId | None = None
    part: str = ""
    round: int = 0
    segments: tuple[SegmentId, ...] = ()
    people: tuple[PersonId, ...] = ()
    is_anew: bool = False
    is_pinned: bool = False
    is_done: bool = False
    is_unsure: bool = False
    is_running: bool = False
    is_one_go: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One person's or place's row. there: minutes in which they are to be had, sorted.

    is_away: all of today. description: what is read of it.
    """

    id: str
    name: str
    is_place: bool
    bars: tuple[Bar, ...] = ()
    there: tuple[Piece, ...] = ()
    is_away: bool = False
    description: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One day: from its first to its last hour on show.

    is_off: nobody works by rule. is_shut: on a day of the week that is worked else.
    """

    date: date
    start: int
    end: int
    label: str
    is_off: bool = False
    is_shut: bool = False
    hours: tuple[tuple[int, str], ...] = ()
    """Minutes of whole hours with their figures."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """All of it.

    columns: the first is wide. shop: minutes in which the workshop works. unsaid: work that was to
    be over before the first day, and nobody has said that it is. to_ask: of what, longest ago
    first, nobody has said anything for so long that they are asked by name.
    """

    now: int
    columns: tuple[Column, ...]
    lines: tuple[Line, ...]
    shop: tuple[Piece, ...] = ()
    unsaid: tuple[Bar, ...] = ()
    to_ask: tuple[Asked, ...] = ()

    @property
    def people(self) -> tuple[Line, ...]:
        """The rows of people."""
        return tuple(line for line in self.lines if not line.is_place)

    @property
    def places(self) -> tuple[Line, ...]:
        """The rows of places."""
        return tuple(line for line in self.lines if line.is_place)

    def line(self, identity: str) -> Line | None:
        """Return the row of a person or place."""
        return next((line for line in self.lines if line.id == identity), None)

    def bar(self, line_id: str, bar_id: str) -> Bar | None:
        """Return a bar of a row."""
        line = self.line(line_id)
        return next((bar for bar in line.bars if bar.id == bar_id), None) if line else None

"""What stands on a day's sheets, in the words of paper. No Qt.

Why somebody is away is nowhere in here: a sheet hangs on the wall.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from app.window.wall.items import Shape
from shared.book import Kind
from shared.ids import JobId, PersonId


class Sort(StrEnum):
    """What a row is about."""

    WORK = "work"
    ROAD = "road"
    OTHER = "other"
    FREE = "free"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One thing that somebody does. start, end: by the workshop's clock, "" for nothing planned.

    piece: what of the job it is, without the job; "" for all of it. is_changed: it stands
    otherwise, or not at all, on the sheet that people were given.
    """

    sort: Sort
    segment: str
    piece: str = ""
    start: str = ""
    end: str = ""
    kind: Kind | None = None
    stage: str = ""
    place: str = ""
    beside: str = ""
    job: JobId | None = None
    is_changed: bool = False
    is_done: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """The rows of one person. is_changed: they have other rows than on the sheet they were given.

    cautions: what to mind in them, by the ids of `Care`.
    """

    id: PersonId
    name: str
    rows: tuple[Row, ...]
    is_changed: bool = False
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """What, and when, side by side."""

    what: str
    when: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """A caution: its few words, its sentence, and in which of today's stages."""

    id: str
    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """How many working days are left to a job's window, or a word instead; and how it looks."""

    job: str
    figure: str
    shapes: tuple[Shape, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DaySheet:
    """All of a day.

    marks: what it must not be given out without, in words; is_old: it is one of an old plan.
    number: of this sheet. is_told: people have it. person: whose alone it is, "" for all.
    summary: parts of the line under the date, and whether each is bold. changes: whose rows are
    otherwise than on the sheet that they have, "" for nobody's.
    """

    date: date
    title: str
    shop: str
    number: int
    number_line: str
    summary: tuple[tuple[str, bool], ...]
    changes: str
    marks: tuple[str, ...]
    is_old: bool
    is_told: bool
    people: tuple[Person, ...]
    cures: tuple[Line, ...]
    dues: tuple[Line, ...]
    cares: tuple[Care, ...]
    left: tuple[Left, ...]
    foot: str
    person: str = ""

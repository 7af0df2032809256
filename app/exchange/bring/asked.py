"""A file as the window lets its child look at it: what kind it seems to be, and what is in it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING

from app.exchange.bring.bringing import CALENDARS, Judged, bring_calendar, bring_grid
from app.exchange.bring.cells import NoTable
from app.exchange.bring.columns import Trouble, guessed
from app.exchange.bring.fields import FIELDS
from app.exchange.bring.grid import Grid, read_grid
from app.pickled import as_text, value_of
from shared.book import Book, Person
from shared.edits import Edited
from shared.ids import PersonId

if TYPE_CHECKING:
    from app.counsel.questions import Help

LEAVE, CLOSURES = CALENDARS
_CALENDAR = b"BEGIN:VCALENDAR"
_HEAD = 200
A_PAGE = 100
"""So many things that can't be taken are unpacked and listed at a time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What came of looking at a file.

    kind: what it was taken for. columns: the names of its columns, in their order. person: whose
    leave it was taken for. judged: without what can't be taken and what would be, None where it
    holds no table; trouble and facts say why. trouble_count: of what can't be taken. The rest is
    packed, so that whoever asked need not unpack it all at once.
    """

    kind: str
    columns: tuple[str, ...] = ()
    person: PersonId | None = None
    judged: Judged | None = None
    trouble: str = ""
    facts: Mapping[str, str | int] = field(default_factory=dict)
    trouble_count: int = 0
    packed_troubles: tuple[str, ...] = ()
    packed_edit: str = ""

    @property
    def can_be_taken(self) -> bool:
        """Whether the book with all of it is there."""
        return bool(self.packed_edit)

    def edited(self) -> Edited:
        """Return the book with all of it, if it can be taken."""
        found = value_of(self.packed_edit)
        assert isinstance(found, Edited)
        return found

    def troubles(self, page: int) -> tuple[Trouble, ...]:
        """Return a page, counted from 0, of what can't be taken: `A_PAGE` of it or less."""
        if not self.packed_troubles:
            return ()
        found = value_of(self.packed_troubles[page])
        assert isinstance(found, tuple)
        return found


def brought(
    judged: Judged, kind: str, columns: tuple[str, ...] = (), person: PersonId | None = None
) -> Brought:
    """Return what was judged, packed for its way to the window."""
    every = judged.troubles
    pages = (every[at : at + A_PAGE] for at in range(0, len(every), A_PAGE))
    return Brought(
        kind=kind,
        columns=columns,
        person=person,
        judged=replace(judged, troubles=(), edited=None),
        trouble_count=len(every),
        packed_troubles=tuple(map(as_text, pages)),
        packed_edit=as_text(judged.edited) if judged.edited is not None else "",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class AskBring:
    """What would this file bring? Answered with a Brought.

    kind: of `TABLES` or `CALENDARS`, "" for what it seems to be. said: columns by the ids of
    fields, "" for none. person: whose leave it is; None for whose name the calendar has.
    """

    book: Book
    data: bytes
    now: datetime
    by: str
    kind: str = ""
    said: Mapping[str, str] = field(default_factory=dict)
    person: PersonId | None = None

    def answer(self, at_hand: "Help") -> Brought:
        """Look at it."""
        del at_hand
        is_calendar = is_calendar_file(self.data)
        try:
            return self._calendar() if is_calendar else self._table()
        except NoTable as trouble:
            usual = CLOSURES if is_calendar else next(iter(FIELDS))
            kind = self.kind or usual
            return Brought(kind=kind, trouble=trouble.code, facts=dict(trouble.facts))

    def _table(self) -> Brought:
        grid = read_grid(self.data)
        kind = self.kind or likely_kind(grid)
        judged = bring_grid(self.book, kind, grid, self.said, self.now, self.by)
        return brought(judged, kind, grid.columns)

    def _calendar(self) -> Brought:
        person = self._whose()
        kind = self.kind or (CLOSURES if person is None else LEAVE)
        if kind == LEAVE and person is None:
            person = next(iter(self.book.people), None)
        if person is None or kind == CLOSURES:
            return brought(bring_calendar(self.book, CLOSURES, self.data, None), CLOSURES)
        judged = bring_calendar(self.book, LEAVE, self.data, person)
        return brought(judged, LEAVE, person=person.id)

    def _whose(self) -> Person | None:
        if self.person is not None:
            return next((each for each in self.book.people if each.id == self.person), None)
        named = (each for each in self.book.people if each.name.encode() in self.data)
        return next(named, None)


def is_calendar_file(data: bytes) -> bool:
    """Whether a file is a calendar (RFC 5545 section 3.4) and no table."""
    return data[:_HEAD].lstrip(b"\xef\xbb\xbf \r\n").upper().startswith(_CALENDAR)


def likely_kind(grid: Grid) -> str:
    """Return the kind of table of whose fields the least is missing, then the most is there."""

    def fits(kind: str) -> tuple[int, int]:
        columns, troubles = guessed(grid, FIELDS[kind], {})
        return -len(troubles), len(columns.at)

    return max(FIELDS, key=fits)

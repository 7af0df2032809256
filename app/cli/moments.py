"""The now of a command: the one typed, else the book's own, else the clock's."""

from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app import clock
from app.cli.arguments import Asked, Usage

if TYPE_CHECKING:
    from shared.book import Book

_FIRST_YEAR = 1900
_LAST_YEAR = 2199


def instant_typed(text: str, zone: str) -> datetime:
    """Give the instant that was typed; without a distance from UTC it is by the zone's clock.

    Raises
    ------
    Usage
        If it is no instant.
    """
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise Usage("bad_instant", word=text) from None
    if not _FIRST_YEAR <= found.year <= _LAST_YEAR:
        raise Usage("bad_instant", word=text)
    return found if found.utcoffset() is not None else found.replace(tzinfo=ZoneInfo(zone))


def now_of(asked: Asked, book: "Book") -> tuple[datetime, bool]:
    """Give the now to speak of, and whether it is the book's own."""
    if asked.now is not None:
        return instant_typed(asked.now, book.workshop.zone), False
    if book.as_of is not None:
        return book.as_of, True
    return clock.now(), False

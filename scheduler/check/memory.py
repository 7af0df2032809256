"""What one check leaves for the next: tables of the book, never anything that was judged.

All of it stands beside the values that it was made from, and is made anew as soon as these are
others. So a check with a memory finds what one without would find, only sooner.
"""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from scheduler.check.hours import HourTables
from scheduler.check.job_table import JobTable
from scheduler.check.kept import Kept
from scheduler.check.openings import Openings
from scheduler.check.weather import Weather
from shared.ids import JobId, PersonId, PlaceId, SegmentId

_Over = dict[str, str | int] | None
"""By how much a piece is too big or too heavy, as facts, None where it isn't."""


class CheckMemory:
    """The tables of the last book that was checked; for one check at a time."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self.hours = HourTables()
        self.weather = Kept[tuple[PlaceId, ...], Weather]()
        self.jobs = Kept[JobId, JobTable]()
        self.presence = Kept[PersonId, Openings]()
        self.cures = Kept[tuple[PlaceId | None, Decimal, Decimal, int], int]()
        self.sizes = Kept[SegmentId, tuple[_Over, _Over]]()
        self.company = Kept[PersonId, Openings]()

    def turn(self) -> None:
        """Begin another check: what the last two did not ask for is forgotten."""
        for kept in self.kept():
            kept.turn()

    def kept(self) -> Iterator[Kept[Any, Any]]:
        """Give all that is kept."""
        yield from self.hours.kept()
        yield from (self.weather, self.cures, self.jobs, self.sizes, self.presence, self.company)

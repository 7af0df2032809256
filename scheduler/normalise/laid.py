"""What is laid out on one grid, whatever jobs there are: calendars, climate, days and answers."""

from typing import TYPE_CHECKING

from scheduler.grid import Grid
from scheduler.normalise.answers import Dues
from scheduler.normalise.climate import Climates
from scheduler.normalise.people import Calendars, shut_days, workshop_calendar, workshop_holidays
from scheduler.problem import Calendar, Spans
from shared.book import Book, Workshop
from shared.climate import heating_of
from shared.ids import JobId

if TYPE_CHECKING:
    from datetime import time

    from scheduler.normalise.order import JobOrder
    from shared.worktime import WorkCalendar

NUMBERS_MAX = 8_000_000
"""Where the tables of a climate, one number for each step, come to more, it is laid out anew."""
ENTRIES_MAX = 1024
"""So many tables of answers are kept, and so many other entries of a climate."""


class Laid:
    """What one normalising laid out on a grid, and the next may take over."""

    def __init__(self, grid: Grid) -> None:
        """Start with nothing."""
        self.grid = grid
        self.between: dict[tuple[time, ...], Spans] = {}
        self.dues = Dues(grid)
        self.orders: dict[JobId, JobOrder] = {}
        self._bridged: int | None = None
        self._made: Calendars | None = None
        self._shut: tuple[object, Spans] | None = None
        self._climates: tuple[object, Climates] | None = None

    def calendars(self, bridged_break_minutes: int) -> Calendars:
        """Return the calendars of a problem, none of them asked for yet."""
        known: dict[WorkCalendar, Calendar] = {}
        if self._made is not None and self._bridged == bridged_break_minutes:
            known = self._made.by_value
        self._bridged = bridged_break_minutes
        self._made = Calendars(self.grid, bridged_break_minutes, known)
        return self._made

    def shut(self, workshop: Workshop) -> Spans:
        """Return the days on which nobody works by rule."""
        key = (workshop_holidays(workshop), workshop_calendar(workshop).closed)
        if self._shut is None or self._shut[0] != key:
            self._shut = key, shut_days(workshop, self.grid)
        return self._shut[1]

    def climates(self, book: Book) -> Climates:
        """Return the climate of a book."""
        shop = book.workshop
        places = tuple(place.id for place in book.places)
        key = (shop.temperatures, shop.readings, places, heating_of(book))
        known = self._climates
        if known is None or known[0] != key or self._is_too_much(known[1]):
            known = self._climates = key, Climates(book, self.grid)
        return known[1]

    def _is_too_much(self, climates: Climates) -> bool:
        numbers = climates.tables_count * self.grid.horizon
        return numbers > NUMBERS_MAX or climates.entries_count > ENTRIES_MAX

    @property
    def size(self) -> int:
        """Return how many tables and other entries are kept."""
        climates = 0 if self._climates is None else self._climates[1].entries_count
        calendars = 0 if self._made is None else len(self._made.made)
        return climates + calendars + len(self.orders) + len(self.between) + self.dues.count

    def tidy(self, jobs: set[JobId]) -> None:
        """Throw away what was laid out for jobs that are no more, and what has become too much."""
        self.orders = {job: order for job, order in self.orders.items() if job in jobs}
        if self.dues.count > ENTRIES_MAX:
            self.dues = Dues(self.grid)

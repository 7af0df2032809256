"""When people are at the bench: what a block's pieces and necks are cut from."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property, reduce
from itertools import pairwise

from app.window.wall.items import Day, Piece, minute_of
from shared.book import Book, Closure, Person
from shared.ids import PersonId
from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    Span,
    Spans,
    WorkCalendar,
    clip,
    intersect,
    is_working_day,
    local_instant,
    open_spans,
    working_seconds,
)

_ONE_DAY = timedelta(days=1)
ROUGH_GAP_MINUTES = 30 * 60
"""From far, a block is parted only where nobody works for so long."""


class Hours:
    """Working hours of a book's people between two instants, worked out as they are asked for."""

    def __init__(self, book: Book, first: datetime, last: datetime) -> None:
        self._book = book
        self._first, self._last = first, last
        self._by_id = {person.id: person for person in book.people}
        self._open: dict[PersonId, Spans] = {}
        self._teams: dict[tuple[PersonId, ...], tuple[list[int], list[int]]] = {}
        self.shop = shop_calendar(book)

    def serves(self, book: Book, first: datetime, last: datetime) -> bool:
        """Say whether these are the hours of another book too, between other instants."""
        own = self._book.workshop, self._book.people, self._first, self._last
        return own == (book.workshop, book.people, first, last)

    def days(self) -> tuple[Day, ...]:
        """Return every day and whether it is worked."""
        shop = self._book.workshop
        weekdays = tuple(sorted({day for shift in shop.shifts for day in shift.days}))
        cal = DayCalendar(
            holidays=self.shop.holidays, closed=_closed(shop.closures), weekdays=weekdays
        )
        found = []
        day = self._first.astimezone(UTC).date()
        while day <= self._last.date():
            is_off = not is_working_day(cal, day)
            found.append(
                Day(
                    start=minute_of(_midnight(day, shop.zone)),
                    end=minute_of(_midnight(day + _ONE_DAY, shop.zone)),
                    date=day,
                    is_off=is_off,
                    is_shut=is_off and day.weekday() in weekdays,
                )
            )
            day += _ONE_DAY
        return tuple(found)

    def night(self, day: date) -> int:
        """Return the minute at which a day of the workshop is over."""
        return minute_of(_midnight(day + _ONE_DAY, self._book.workshop.zone))

    def shop_pieces(self) -> tuple[Piece, ...]:
        """Return the workshop's own hours, breaks bridged."""
        spans = open_spans(self.shop, self._first, self._last)
        pieces = [(minute_of(span.start), minute_of(span.end)) for span in spans]
        return _joined(pieces, self._book.workshop.bridged_break_minutes + 1)

    def spare_minutes(self, start: datetime, end: datetime) -> int:
        """Return the workshop's working minutes from one instant to another."""
        return working_seconds(self.shop, start, end) // 60 if start < end else 0

    def pieces(
        self, people: tuple[PersonId, ...], start: datetime, end: datetime
    ) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
        """Return the pieces of a stretch in which a team works: seen from far, from near."""
        first, last = minute_of(start), minute_of(end)
        starts, ends = self._team(people)
        low, high = bisect_right(ends, first), bisect_left(starts, last)
        cut = [(max(first, starts[index]), min(last, ends[index])) for index in range(low, high)]
        if not cut:
            return ((first, last),), ((first, last),)
        fine = _joined(cut, self._book.workshop.bridged_break_minutes + 1)
        return _joined(fine, ROUGH_GAP_MINUTES), fine

    def beyond(self, people: tuple[PersonId, ...], fine: tuple[Piece, ...]) -> tuple[Piece, ...]:
        """Return what of a team's pieces lies in overtime, outside of the workshop's hours."""
        known = [self._by_id[person] for person in people if person in self._by_id]
        extra = [
            (minute_of(more.start), minute_of(more.end))
            for person in known
            for more in person.overtime_taken
        ]
        found: list[Piece] = []
        for piece in fine if extra else ():
            free = _without(piece, self._shop_minutes)
            found += [
                (max(a, start), min(b, end))
                for a, b in free
                for start, end in extra
                if max(a, start) < min(b, end)
            ]
        return _joined(sorted(found), 1)

    @cached_property
    def _shop_minutes(self) -> tuple[Piece, ...]:
        return self.shop_pieces()

    def _team(self, people: tuple[PersonId, ...]) -> tuple[list[int], list[int]]:
        if people not in self._teams:
            known = [self._of(person) for person in people if person in self._by_id]
            spans = reduce(intersect, known) if known else self._of_shop()
            self._teams[people] = (
                [minute_of(span.start) for span in spans],
                [minute_of(span.end) for span in spans],
            )
        return self._teams[people]

    def _of_shop(self) -> Spans:
        return open_spans(self.shop, self._first, self._last)

    def _of(self, person: PersonId) -> Spans:
        if person not in self._open:
            calendar = person_calendar(self._book, self._by_id[person])
            self._open[person] = clip(
                open_spans(calendar, self._first, self._last), self._first, self._last
            )
        return self._open[person]


def shop_calendar(book: Book) -> WorkCalendar:
    """Return the workshop's own working hours."""
    shop = book.workshop
    rule = HolidayRule(
        country=shop.country,
        subdivision=shop.subdivision,
        categories=shop.holiday_categories,
    )
    return WorkCalendar(
        zone=shop.zone, shifts=shop.shifts, holidays=rule, closed=_closed(shop.closures)
    )


def person_calendar(book: Book, person: Person) -> WorkCalendar:
    """Return when a person works: own hours, less leave, with overtime that is taken."""
    shop = shop_calendar(book)
    return WorkCalendar(
        zone=shop.zone,
        shifts=person.hours or shop.shifts,
        holidays=shop.holidays,
        closed=shop.closed,
        away=tuple(Span(start=leave.start, end=leave.end) for leave in person.leave),
        extra=tuple(Span(start=more.start, end=more.end) for more in person.overtime_taken),
    )


def _closed(closures: tuple[Closure, ...]) -> tuple[DateSpan, ...]:
    return tuple(DateSpan(first=closure.first, last=closure.last) for closure in closures)


def _midnight(day: date, zone: str) -> datetime:
    return local_instant(day, time(0), zone, opening=True)


def _without(piece: Piece, taken: Sequence[Piece]) -> list[Piece]:
    """Return what of a piece lies outside of others, which are in order."""
    at, end = piece
    found = []
    for start, until in taken[bisect_right(taken, at, key=lambda each: each[1]) :]:
        if start >= end:
            break
        if at < start:
            found.append((at, start))
        at = max(at, until)
    return [*found, (at, end)] if at < end else found


def _joined(pieces: Sequence[Piece], gap_minutes: int) -> tuple[Piece, ...]:
    """Join pieces that lie less than a gap apart."""
    joined = [pieces[0]] if pieces else []
    for before, after in pairwise(pieces):
        if after[0] - before[1] < gap_minutes:
            joined[-1] = (joined[-1][0], after[1])
        else:
            joined.append(after)
    return tuple(joined)

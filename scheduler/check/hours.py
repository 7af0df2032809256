"""When people work, read from the book: alone, and several together."""

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime
from functools import reduce
from typing import Any

from scheduler.check.clock import DAY, QUARTER, day_after, day_of, instant, midnight, up
from scheduler.check.kept import Kept
from scheduler.check.openings import Openings, Pairs, common, inside
from shared.book import Book, Closure, EngagementState, ExtraHours, Leave, Person, Workshop
from shared.ids import PersonId
from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    Span,
    Spans,
    WorkCalendar,
    clip,
    is_working_day,
    open_spans,
    shift_spans,
    union,
)

_FIRST = datetime(1900, 1, 1, tzinfo=UTC)
_LAST = datetime(2300, 1, 1, tzinfo=UTC)
_LOT = 28 * DAY


def closed_days(closures: Iterable[Closure]) -> tuple[DateSpan, ...]:
    """Return closures as days, those written backwards left out."""
    return tuple(
        DateSpan(first=shut.first, last=shut.last) for shut in closures if shut.first <= shut.last
    )


def workshop_calendar(workshop: Workshop) -> WorkCalendar:
    """Return the workshop's own hours."""
    return WorkCalendar(
        zone=workshop.zone,
        shifts=workshop.shifts,
        holidays=_holidays(workshop),
        closed=closed_days(workshop.closures),
    )


def person_calendar(workshop: Workshop, person: Person) -> WorkCalendar:
    """Return a person's hours: own or the workshop's, less leave, with overtime taken."""
    return WorkCalendar(
        zone=workshop.zone,
        shifts=person.hours or workshop.shifts,
        holidays=_holidays(workshop),
        closed=closed_days(workshop.closures),
        away=_spans(person.leave),
        extra=_spans(person.overtime_taken),
        available=belongs(workshop.zone, person),
    )


def _holidays(workshop: Workshop) -> HolidayRule:
    return HolidayRule(
        country=workshop.country,
        subdivision=workshop.subdivision,
        categories=workshop.holiday_categories,
    )


def _spans(stretches: Iterable[Leave | ExtraHours]) -> Spans:
    return union(
        Span(start=each.start, end=each.end) for each in stretches if each.start < each.end
    )


def belongs(zone: str, person: Person) -> Spans | None:
    """Return the days on which a person belongs to the workshop at all, None for always."""
    if not person.freelance and person.works_from is None and person.works_until is None:
        return None
    days: Spans = (Span(start=_FIRST, end=_LAST),)
    if person.freelance:
        days = union(
            Span(start=_begin(each.first, zone), end=_begin(day_after(each.last), zone))
            for each in person.engaged
            if each.state is EngagementState.CONFIRMED and each.first <= each.last
        )
    start = _FIRST if person.works_from is None else _begin(person.works_from, zone)
    until = person.works_until
    end = _LAST if until is None else _begin(day_after(until), zone)
    return clip(days, start, end)


def _begin(day: date, zone: str) -> datetime:
    return instant(midnight(day, zone))


class HourTables:
    """When people and teams work over one stretch of time, kept from one check to the next.

    People whose calendars are the same share what is made of them.
    """

    def __init__(self) -> None:
        """Begin with nothing."""
        self.start = self.end = 0
        self._forget()

    def cover(self, start: int, end: int) -> None:
        """Begin anew, over whole lots of four weeks, where these seconds aren't covered."""
        first, last = start // _LOT * _LOT, -(-end // _LOT) * _LOT
        if first != self.start or last > self.end:
            self.start, self.end = first, last
            self._forget()

    def kept(self) -> Iterator[Kept[Any, Any]]:
        """Give all that is kept."""
        yield from (self.calendars, self.open, self.shifts, self.teams)

    def _forget(self) -> None:
        self.calendars = Kept[PersonId | None, WorkCalendar]()
        self.open = Kept[WorkCalendar, Pairs]()
        self.shifts = Kept[WorkCalendar, Openings]()
        self.teams = Kept[frozenset[WorkCalendar], Openings]()


class Hours:
    """The hours of the workshop, of each person and of each team, as far as tables cover."""

    def __init__(self, book: Book, tables: HourTables) -> None:
        """Take the book, and tables that cover what will be asked about."""
        self._workshop, self._tables = book.workshop, tables
        self._people = {person.id: person for person in book.people}
        self._start, self._end = instant(tables.start), instant(tables.end)
        self._calendars: dict[PersonId | None, WorkCalendar] = {}
        self._teams: dict[tuple[PersonId, ...], Openings] = {}
        self._shifts: dict[PersonId | None, Openings] = {}
        self._days = DayCalendar(
            holidays=_holidays(book.workshop),
            closed=closed_days(book.workshop.closures),
            weekdays=tuple(range(7)),
        )

    def team(self, people: tuple[PersonId, ...]) -> Openings:
        """Return when all of these people work, the workshop's own hours for nobody."""
        if people not in self._teams:
            self._teams[people] = self._team(people)
        return self._teams[people]

    def _team(self, people: tuple[PersonId, ...]) -> Openings:
        together = frozenset(map(self._calendar, people or (None,)))
        return self._tables.teams.of(
            together, None, lambda: Openings(reduce(common, map(self._open_by, together)))
        )

    def shifts(self, person: PersonId | None) -> Openings:
        """Return the shifts of a person (None: of the workshop), short breaks bridged."""
        if person not in self._shifts:
            calendar, bridged = self._calendar(person), self._workshop.bridged_break_minutes
            self._shifts[person] = self._tables.shifts.of(
                calendar, bridged, lambda: self._shifts_by(calendar, bridged)
            )
        return self._shifts[person]

    def _shifts_by(self, calendar: WorkCalendar, bridged: int) -> Openings:
        spans = shift_spans(calendar, self._start, self._end, bridged_break_minutes=bridged)
        return Openings(inside(spans))

    def standstill(self, start: int, end: int) -> int:
        """Return the quarters in [start, end) that lie on no shut day of the workshop."""
        zone = self._workshop.zone
        left, at = 0, start
        while at < end:
            day = day_of(at * QUARTER, zone)
            until = min(end, max(at + 1, up(midnight(day_after(day), zone))))
            if is_working_day(self._days, day):
                left += until - at
            at = until
        return left

    def _open_by(self, calendar: WorkCalendar) -> Pairs:
        return self._tables.open.of(
            calendar, None, lambda: inside(open_spans(calendar, self._start, self._end))
        )

    def _calendar(self, person: PersonId | None) -> WorkCalendar:
        if person not in self._calendars:
            told = (self._workshop, None if person is None else self._people[person])
            self._calendars[person] = self._tables.calendars.of(
                person, told, lambda: self._calendar_of(person)
            )
        return self._calendars[person]

    def _calendar_of(self, person: PersonId | None) -> WorkCalendar:
        if person is None:
            return workshop_calendar(self._workshop)
        return person_calendar(self._workshop, self._people[person])

"""People as workers: their calendars, skills, certificates and stretches already booked."""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from fractions import Fraction

from scheduler.grid import Grid, joined
from scheduler.problem import Calendar, Need, Span, Spans, Worker
from shared import worktime
from shared.book import Book, EngagementState, Person, Skill, SkillLevel, Workshop
from shared.ids import PersonId, SkillId
from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    WorkCalendar,
    open_spans,
    shift_spans,
    working_days_from,
)
from shared.worktime.zones import local_date

_A_DAY = timedelta(days=1)


class Calendars:
    """The calendars of a problem, each kept once however many share it."""

    def __init__(
        self, grid: Grid, bridged_break_minutes: int, known: Mapping[WorkCalendar, Calendar]
    ) -> None:
        """Start with none. known: what was made before on this grid and with these breaks."""
        self._grid, self._known = grid, known
        self._bridged_break_minutes = bridged_break_minutes
        self._positions: dict[WorkCalendar, int] = {}
        self.made: list[Calendar] = []

    def position(self, calendar: WorkCalendar) -> int:
        """Return the position of a calendar in the problem."""
        if calendar not in self._positions:
            self.made.append(self._known.get(calendar) or self._make(calendar))
            self._positions[calendar] = len(self.made) - 1
        return self._positions[calendar]

    @property
    def by_value(self) -> dict[WorkCalendar, Calendar]:
        """Return what was made, by what it was made from."""
        return dict(zip(self._positions, self.made, strict=True))

    def _make(self, calendar: WorkCalendar) -> Calendar:
        grid = self._grid
        shifts = shift_spans(
            calendar,
            grid.origin,
            grid.end,
            bridged_break_minutes=self._bridged_break_minutes,
        )
        return Calendar(
            open=grid.inner(open_spans(calendar, grid.origin, grid.end)),
            shifts=grid.inner(shifts),
        )


class Skills:
    """Positions of skills; 0 is the skill that everybody has.

    asked: those that were asked for, in that order, since somebody emptied it.
    """

    ANY = 0

    def __init__(self) -> None:
        """Start with the skill of everybody."""
        self._positions: dict[SkillId, int] = {}
        self._needs: dict[tuple[tuple[SkillId, int, int], ...], tuple[Need, ...]] = {}
        self.asked: dict[SkillId, int] = {}

    def needs(self, told: tuple[tuple[SkillId, int, int], ...]) -> tuple[Need, ...]:
        """Return needs of the problem, from the skill, how many can and how many help of each."""
        known = self._needs.get(told)
        at = [self.position(skill) if can + helps else 0 for skill, can, helps in told]
        if known is None:
            known = self._needs[told] = tuple(
                Need(skill=skill, can=can, helps=helps)
                for skill, (_, can, helps) in zip(at, told, strict=True)
                if can + helps
            )
        return known

    def position(self, skill: SkillId) -> int:
        """Return the position of a skill in the problem."""
        found = self._positions.setdefault(skill, len(self._positions) + 1)
        self.asked[skill] = found
        return found

    def of(self, skills: Iterable[Skill], *levels: SkillLevel) -> frozenset[int]:
        """Return the positions of the skills held at one of some levels."""
        return frozenset(self.position(held.skill) for held in skills if held.level in levels)


class Certificates:
    """Positions of certificates. asked: as for skills."""

    def __init__(self) -> None:
        """Start with none."""
        self._positions: dict[str, int] = {}
        self.asked: dict[str, int] = {}

    def position(self, certificate: str) -> int:
        """Return the position of a certificate in the problem."""
        found = self._positions.setdefault(certificate, len(self._positions))
        self.asked[certificate] = found
        return found


def workshop_calendar(workshop: Workshop) -> WorkCalendar:
    """Return the workshop's normal working time."""
    return WorkCalendar(
        zone=workshop.zone,
        shifts=workshop.shifts,
        holidays=workshop_holidays(workshop),
        closed=tuple(DateSpan(first=shut.first, last=shut.last) for shut in workshop.closures),
    )


def workshop_holidays(workshop: Workshop) -> HolidayRule:
    """Return whose public holidays the workshop keeps."""
    return HolidayRule(
        country=workshop.country,
        subdivision=workshop.subdivision,
        categories=workshop.holiday_categories,
    )


def person_calendar(book: Book, person: Person, grid: Grid) -> WorkCalendar:
    """Return when a person works: own shifts or the workshop's, leave and overtime counted."""
    usual = workshop_calendar(book.workshop)
    return WorkCalendar(
        zone=usual.zone,
        shifts=person.hours or usual.shifts,
        holidays=usual.holidays,
        closed=usual.closed,
        away=spans_of((leave.start, leave.end) for leave in person.leave),
        extra=spans_of((extra.start, extra.end) for extra in person.overtime_taken),
        available=engaged_spans(person, grid),
    )


def spans_of(pairs: Iterable[tuple[datetime, datetime]]) -> worktime.Spans:
    """Return pairs of instants as spans, those without length left out."""
    return worktime.union(
        worktime.Span(start=start, end=end) for start, end in pairs if start < end
    )


def engaged_spans(person: Person, grid: Grid) -> worktime.Spans | None:
    """Return when a person is engaged at all, None for always."""
    always = worktime.Span(start=grid.origin - _A_DAY, end=grid.end + _A_DAY)
    found: worktime.Spans = (always,)
    if person.freelance:
        found = spans_of(
            (grid.morning(days.first), grid.night(days.last))
            for days in person.engaged
            if days.state is EngagementState.CONFIRMED
        )
    if person.works_from is not None:
        found = worktime.clip(found, grid.morning(person.works_from), always.end)
    if person.works_until is not None:
        found = worktime.clip(found, always.start, grid.night(person.works_until))
    return None if found == (always,) else found


def shut_days(workshop: Workshop, grid: Grid) -> Spans:
    """Return the days on which nobody works by rule: closures and public holidays."""
    days = DayCalendar(
        holidays=workshop_holidays(workshop),
        closed=workshop_calendar(workshop).closed,
        weekdays=tuple(range(7)),
    )
    first = local_date(grid.origin, grid.zone)
    count = (local_date(grid.end, grid.zone) - first).days + 1
    worked = frozenset(working_days_from(days, first, count))
    dates = (first + timedelta(days=after) for after in range(count))
    shut = spans_of((grid.morning(day), grid.night(day)) for day in dates if day not in worked)
    return grid.inner(shut)


def worker_of(
    book: Book,
    person: Person,
    grid: Grid,
    calendars: Calendars,
    skills: Skills,
    certificates: Certificates,
) -> Worker:
    """Return a person as a worker; who can or leads may help as well."""
    can = skills.of(person.skills, SkillLevel.CAN, SkillLevel.LEADS) | {Skills.ANY}
    return Worker(
        calendar=calendars.position(person_calendar(book, person, grid)),
        can=can,
        helps=can | skills.of(person.skills, SkillLevel.HELPS),
        pace=Fraction(person.pace),
        busy=joined(other_work_of(book, person.id, grid)),
        certificates=_certificates(person, grid, certificates),
    )


def other_work_of(book: Book, person: PersonId, grid: Grid) -> list[Span]:
    """Return when a person is held by work that belongs to no job."""
    found = (grid.outer(work.start, work.end) for work in book.other_work if person in work.people)
    return [span for span in found if span is not None]


def _certificates(
    person: Person, grid: Grid, certificates: Certificates
) -> tuple[tuple[int, int], ...]:
    """Return the certificates still valid, with the last step at which work may end."""
    until: dict[int, int] = {}
    for held in person.certificates:
        last = grid.horizon if held.expires is None else grid.down(grid.night(held.expires))
        position = certificates.position(held.certificate)
        until[position] = max(until.get(position, 0), min(last, grid.horizon))
    return tuple(sorted((position, last) for position, last in until.items() if last > 0))

"""The workshop of the simulated years: six people, four bays, a booth, a van."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, time, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Book,
    Closure,
    ExtraHours,
    Leave,
    Person,
    Place,
    PlaceKind,
    Skill,
)
from shared.ids import PersonId, PlaceId, SkillId
from shared.worktime import DateSpan, HolidayRule, WorkCalendar, open_spans
from shared.worktime.spans import Span as TimeSpan
from tests.bench.year.clock import START, Hours, joined, local, quarter_down, quarter_up
from tests.books.crew import equipment, workshop
from tests.books.making import FINISH, FIT, FOAM, LAMINATE, SPRAY

CREW: tuple[tuple[str, tuple[SkillId, ...]], ...] = (
    ("Asta", (FOAM, FINISH)),
    ("Cato", (LAMINATE, FINISH, FIT)),
    ("Dilys", (SPRAY, FINISH, FIT)),
    ("Edda", (FOAM, LAMINATE)),
    ("Femi", (LAMINATE, FOAM, FIT)),
    ("Goran", (FOAM, SPRAY, FIT)),
)
"""Who works there, and what they can do."""
YEAR_DAYS = 364
RUN_OUT_DAYS = 120
"""So long after the year hours are still known, for what is late."""
SATURDAY = (time(8), time(14))
PREMIUM = Decimal(9)
CARVING, LAMINATING, BOOTH = PlaceId("carving"), PlaceId("laminating"), PlaceId("booth")


def shop_of(draw: Random) -> Book:
    """Make the workshop without jobs; who is on leave when is drawn."""
    home = workshop("A simulated workshop", closures=_closures(), is_strict=False)
    people = tuple(_person(name, does, draw) for name, does in CREW)
    return Book(
        name="A simulated workshop",
        workshop=replace(home, sanding_hours_per_day=Decimal(24)),
        as_of=local(START, 7, 30),
        places=_places(),
        equipment=equipment(1),
        people=people,
    )


def _closures() -> tuple[Closure, ...]:
    return (
        Closure(first=date(2027, 8, 9), last=date(2027, 8, 15), name="summer"),
        Closure(first=date(2027, 12, 24), last=date(2028, 1, 2), name="new year"),
    )


def _places() -> tuple[Place, ...]:
    return (
        Place(id=CARVING, name="Carving hall", kind=PlaceKind.BAY, slots=4),
        Place(id=LAMINATING, name="Laminating hall", kind=PlaceKind.BAY, slots=3),
        Place(id=BOOTH, name="Booth", kind=PlaceKind.BOOTH, whole=True, clear_out_minutes=60),
    )


def _person(name: str, does: tuple[SkillId, ...], draw: Random) -> Person:
    return Person(
        id=PersonId(name.lower()),
        name=name,
        skills=tuple(Skill(skill=skill) for skill in does),
        leave=_leave(draw),
        overtime_offered=_saturdays(draw),
    )


def _leave(draw: Random) -> tuple[Leave, ...]:
    """Draw a week or so of leave for every quarter of the year."""
    made = []
    for begins in range(0, YEAR_DAYS, 91):
        first = START + timedelta(days=begins + 7 * draw.randrange(2, 12))
        days = draw.choice((3, 5, 7, 12))
        made.append(_away(first, first + timedelta(days=days), "holiday"))
    return tuple(made)


def _away(first: date, back: date, reason: str) -> Leave:
    return Leave(start=local(first, 0), end=local(back, 0), reason=reason)


def _saturdays(draw: Random) -> tuple[ExtraHours, ...]:
    """Offer every other Saturday of the year, or those between."""
    first = START + timedelta(days=5 + 7 * draw.randrange(2))
    return tuple(
        ExtraHours(
            start=local(day, SATURDAY[0].hour),
            end=local(day, SATURDAY[1].hour),
            premium_per_hour=PREMIUM,
        )
        for week in range(0, YEAR_DAYS // 7 + 12, 2)
        for day in (first + timedelta(weeks=week),)
    )


def ill(person: Person, first: date, back: date) -> Person:
    """Return a person who is ill from a day on, back at work on another."""
    return replace(person, leave=(*person.leave, _away(first, back, "ill")))


def hours_of(book: Book, person: Person) -> Hours:
    """Return when a person works, in quarters of the year."""
    return _hours(book, person, person.overtime_taken)


def shop_hours(book: Book) -> Hours:
    """Return the workshop's own hours."""
    return _hours(book, None, ())


def _hours(book: Book, person: Person | None, extra: Iterable[ExtraHours]) -> Hours:
    home = book.workshop
    leave = () if person is None else person.leave
    calendar = WorkCalendar(
        zone=home.zone,
        shifts=home.shifts,
        holidays=HolidayRule(country=home.country, subdivision=home.subdivision),
        closed=tuple(DateSpan(first=shut.first, last=shut.last) for shut in home.closures),
        away=_merged((each.start, each.end) for each in leave),
        extra=_merged((each.start, each.end) for each in extra),
    )
    end = local(START + timedelta(days=YEAR_DAYS + RUN_OUT_DAYS), 0)
    spans = open_spans(calendar, local(START, 0), end)
    found = ((quarter_up(span.start), quarter_down(span.end)) for span in spans)
    return Hours(joined(found), home.bridged_break_minutes // 15)


def _merged(pairs: Iterable[tuple[object, object]]) -> tuple[TimeSpan, ...]:
    from shared.worktime import union

    return union(TimeSpan(start=start, end=end) for start, end in pairs)  # type: ignore[arg-type]

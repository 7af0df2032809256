"""Judged journeys drawn at random, each with a book of its own."""

from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from random import Random

from shared.book import Book, Journey, Leg, LegKind, Means, RoadShare, Timetable, Window
from shared.delivery.run import Run
from shared.ids import EquipmentId, PersonId, WindowId
from shared.plan import Plan, Trip
from tests.builders import a_book, a_job, a_leg, a_person, a_plan, a_site, a_workshop, an_equipment
from tests.shared.delivery.journeys import (
    AMSTERDAM,
    LONDON,
    booked,
    drive,
    hired,
    inside,
    journey,
    lorry,
    own_van,
    shift,
    van,
)

_MONDAY = datetime(2027, 3, 15, tzinfo=UTC)


def drawn_book(seed: int) -> tuple[Book, Journey]:
    """A book of one job that is nothing but a journey."""
    draw = Random(seed)
    abroad = draw.random() < 0.5
    site = a_site(zone=AMSTERDAM, country="NL", subdivision=None) if abroad else a_site()
    asked = _journey(draw, abroad=abroad)
    job = a_job(steps=(asked,), site=site, windows=(_window(draw, site.zone),))
    book = a_book(
        job,
        workshop=a_workshop(),
        equipment=(van(), lorry(), an_equipment("crane")),
        people=(a_person("ana"), a_person("ben")),
        as_of=_MONDAY,
    )
    return book, asked


def planned(book: Book, run: Run) -> Plan:
    """A plan of nothing but a run."""
    rest = timedelta(hours=int(book.workshop.rest_hours))
    trip = Trip(
        job=book.jobs[0].id,
        step=run.journey,
        start=run.leaves,
        end=run.end,
        back=run.back,
        free=run.back + rest,
        legs=run.legs,
        means=run.choice.means_id,
        stretches=run.stretches,
        travel=run.travel,
        crew_from=run.crew_from,
    )
    return a_plan(book, now=_MONDAY, placements=(), trips=(trip,))


def _window(draw: Random, zone: str) -> Window:
    start = _MONDAY + timedelta(days=draw.randint(3, 6), hours=draw.choice((0, 6, 8)))
    access = draw.choice(((), (shift("08:00", "18:00"),), (shift("22:00", "05:00"),)))
    day = (start + timedelta(days=1)).date().isoformat()
    taken = (booked(zone, f"{day}T10:00", f"{day}T12:30"),) if draw.random() < 0.3 else ()
    return Window(
        id=WindowId("window"),
        start=start,
        end=start + timedelta(hours=draw.choice((34, 58, 82))),
        access=access,
        blocked=taken,
    )


def _journey(draw: Random, *, abroad: bool) -> Journey:
    legs = [*(_across(draw) if abroad else _inland(draw)), *_site(draw)]
    if draw.random() < 0.3:
        legs.append(a_leg(LegKind.RETURN, 0, driving_minutes=draw.choice((90, 300, 600))))
    crew = draw.choice(((), ("ana",)))
    travel: tuple[Leg, ...] = ()
    means = draw.choice((_hired(draw), own_van(driven_by=(PersonId("ben"),))))
    if crew and draw.random() < 0.5:
        travel = (drive(draw.choice((60, 200, 330)), "NL" if abroad else "GB"),)
    return journey(
        *legs,
        means=(means,),
        crew=tuple(PersonId(one) for one in crew),
        travel=travel,
        travel_vehicles=(EquipmentId("van"),) if travel else (),
        reserve_minutes=draw.choice((0, None)),
        back_minutes=60,
    )


def _hired(draw: Random) -> Means:
    two = draw.random() < 0.25
    return hired(rules=None, drivers=2 if two else 1)


def _inland(draw: Random) -> list[Leg]:
    length = draw.choice((60, 180, 330, 500, 700))
    if draw.random() < 0.5:
        return [drive(length)]
    return [drive(60), a_leg(LegKind.LOAD, 45, opens=(shift("07:00", "17:00"),)), drive(length)]


def _across(draw: Random) -> list[Leg]:
    night = Timetable(
        weekdays=draw.choice(((1, 2, 3, 4, 5, 6, 7), (2, 4, 6))),
        leaves=draw.choice((time(20), time(22), time(14))),
        arrives=draw.choice((time(6), time(8, 10))),
        zone=LONDON,
        arrives_zone=AMSTERDAM,
        days_later=1,
        first=date(2027, 3, 1),
        check_in_minutes=draw.choice((None, 45, 90)),
    )
    customs = a_leg(
        LegKind.BORDER,
        draw.choice((0, 75)),
        opens=(shift("06:00", "18:00"),),
        zone=AMSTERDAM,
        country="NL",
    )
    roads = (
        RoadShare(country="NL", percent=Decimal(60)),
        RoadShare(country="DE", percent=Decimal(40)),
    )
    there = drive(draw.choice((120, 360)), "NL")
    if draw.random() < 0.4:
        there = drive(draw.choice((120, 360)), shares=roads)
    sea = a_leg(LegKind.SAILING, 0, timetable=(night,), bunk=draw.random() < 0.7)
    return [drive(draw.choice((90, 240, 400))), sea, customs, there]


def _site(draw: Random) -> list[Leg]:
    helps = draw.random() < 0.4
    found = [
        inside(LegKind.ARRIVE, 0, driver_helps=helps or None),
        inside(LegKind.UNLOAD, draw.choice((0, 45, 150)), driver_helps=helps or None),
    ]
    if draw.random() < 0.4:
        found.append(inside(LegKind.LIFT, 0, equipment=(EquipmentId("crane"),)))
    cure = draw.choice((None, Decimal(2), Decimal("12.5")))
    found.append(inside(LegKind.ASSEMBLE, draw.choice((120, 400, 700)), cure_hours=cure))
    if draw.random() < 0.5:
        found.append(inside(LegKind.INSPECT, 0, opens=(shift("00:00", "17:00"),)))
    if draw.random() < 0.3:
        found.append(a_leg(LegKind.SNAGS, 0))
    return found

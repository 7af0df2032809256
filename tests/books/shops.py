"""Workshops for the samples: heated halls, air that is shared, people with their certificates."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal

from shared.book import (
    Book,
    Certificate,
    Client,
    Equipment,
    EquipmentKind,
    Job,
    Journey,
    Kind,
    LegKind,
    Person,
    Place,
    Segment,
    Site,
    Skill,
    SkillLevel,
    Standing,
    Temperature,
    Window,
)
from shared.edits import add_job, change_step, take_route
from shared.ids import EquipmentId, JobId, PersonId, PlaceId, SegmentId, SkillId
from shared.routes import Names, program_route
from shared.worktime import Shift
from tests.books.commissions import at
from tests.books.crew import equipment, people, places, workshop
from tests.books.making import FINISH, FIT, FOAM, LAMINATE, SPRAY
from tests.books.stock import usual_stock

START = date(2027, 1, 18)
COLD_MONTHS = (11, 12, 1, 2, 3, 4)
WARM_MONTHS = (5, 6, 7, 8, 9, 10)
EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
BOOTH = PlaceId("booth")
CARVING = (PlaceId("bay-1"), PlaceId("bay-2"))
LAMINATING = (PlaceId("bay-3"), PlaceId("bay-4"))
HALLS = {
    Kind.FOAM: CARVING,
    Kind.FILL: CARVING,
    Kind.PACK: CARVING,
    Kind.LAMINATE: LAMINATING,
    Kind.COAT: LAMINATING,
}
"""In which bays work of a kind is done: dust and sparks in one hall, resin in the other."""
TRAINED = "isocyanate training"


def shop(name: str, crew_count: int, scale: str, *, vans: int = 2) -> Book:
    """Make a workshop without jobs."""
    home = replace(workshop(name), temperatures=temperatures())
    book = Book(
        name=name,
        workshop=home,
        as_of=at(START, 7, 30),
        places=halls(Decimal(scale)),
        equipment=(*equipment(vans), hoist()),
        people=tuple(certified(person) for person in crew(crew_count)),
    )
    return usual_stock(book)


def crew(count: int) -> tuple[Person, ...]:
    """Write the people down; in a small workshop everybody does several things."""
    if count > len(HANDY):
        return people(count)
    return tuple(
        replace(person, skills=tuple(Skill(skill=skill) for skill in does))
        for person, does in zip(people(count), HANDY, strict=False)
    )


HANDY: tuple[tuple[SkillId, ...], ...] = (
    (FOAM, LAMINATE, FINISH),
    (LAMINATE, FIT, SPRAY),
    (SPRAY, FINISH, FIT),
    (FOAM, LAMINATE, FIT),
    (FOAM, LAMINATE, FINISH),
)
"""What five people of a small workshop can do."""


def temperatures() -> tuple[Temperature, ...]:
    """Heat the halls by night and day in the cold months, and keep the booth even all year."""
    day_long = (Shift(days=EVERY_DAY, start=time(5), end=time(22)),)
    return (
        _months(COLD_MONTHS, "19", "17.5"),
        _months(WARM_MONTHS, "22", "18"),
        _months(COLD_MONTHS, "19", "18", place=BOOTH, heated=day_long, heated_celsius=Decimal(21)),
        _months(WARM_MONTHS, "22", "19", place=BOOTH),
    )


def _months(months: tuple[int, ...], day: str, night: str, **more: object) -> Temperature:
    return Temperature(
        months=months,
        day_celsius=Decimal(day),
        night_celsius=Decimal(night),
        spread_celsius=Decimal(1),
        humidity_percent=Decimal(55),
        **more,  # type: ignore[arg-type]
    )


def halls(scale: Decimal) -> tuple[Place, ...]:
    """Let two bays share the air of the carving hall, two that of the laminating hall."""
    airs = dict.fromkeys(CARVING, "carving hall") | dict.fromkeys(LAMINATING, "laminating hall")
    return tuple(replace(place, air=airs.get(place.id)) for place in places(scale))


def hoist() -> Equipment:
    """Write the hoist down."""
    return Equipment(id=EquipmentId("hoist"), name="Hoist", kind=EquipmentKind.CRANE, count=1)


def certified(person: Person) -> Person:
    """Give whoever sprays the training that isocyanates ask for, renewed in time."""
    if not any(s.skill == SPRAY and s.level is not SkillLevel.HELPS for s in person.skills):
        return person
    held = Certificate(certificate=TRAINED, expires=date(2030, 9, 30))
    return replace(person, certificates=(held,))


def piece(
    job: str, name: str, box: tuple[str, str, str], surface: str, joints: str | None = None
) -> Segment:
    """Write a segment with its box, its skin and the seams where it meets others."""
    length, width, height = (Decimal(size) for size in box)
    return Segment(
        id=SegmentId(f"{job}.{name.lower().replace(' ', '-')}"),
        name=name,
        length_m=length,
        width_m=width,
        height_m=height,
        volume_m3=length * width * height,
        surface_m2=Decimal(surface),
        joints_m=None if joints is None else Decimal(joints),
    )


def commissioned(
    book: Book,
    job: str,
    name: str,
    client: str,
    held: Window,
    segments: tuple[Segment, ...],
    *,
    answer_days: int = 10,
    standing: Standing = Standing.FIRM,
) -> Book:
    """Add a job without any steps."""
    by = Client(
        name=client, zone="Europe/London", country="GB", subdivision="ENG", answer_days=answer_days
    )
    site = Site(name=f"{name}'s site", zone="Europe/London", country="GB")
    made = Job(
        id=JobId(job), name=name, client=by, site=site, windows=(held,), segments=segments,
        steps=(), standing=standing,
    )  # fmt: skip
    return add_job(book, made).book


def made_by(
    book: Book,
    job: str,
    route_id: str,
    *options: str,
    crew: tuple[str, ...],
    segments: tuple[Segment, ...] | None = None,
) -> Book:
    """Write a way of making into a job, for all of its segments or for some."""
    route = program_route(route_id)
    assert route is not None
    mine = next(each for each in book.jobs if each.id == job)
    chosen = [segment.id for segment in (mine.segments if segments is None else segments)]
    names = Names(places=HALLS, crew=tuple(PersonId(each) for each in crew))
    return take_route(book, mine.id, chosen, route, options=options, names=names).book


def driven(book: Book, job: str, drive_minutes: int, fit_minutes: int) -> Book:
    """Write how long the road and the assembly take."""
    mine = next(each for each in book.jobs if each.id == job)
    for step in mine.steps:
        if isinstance(step, Journey):
            book = change_step(book, _timed(step, drive_minutes, fit_minutes)).book
    return book


def _timed(journey: Journey, drive_minutes: int, fit_minutes: int) -> Journey:
    minutes = {LegKind.DRIVE: drive_minutes, LegKind.ASSEMBLE: fit_minutes}
    legs = tuple(replace(leg, minutes=minutes.get(leg.kind, leg.minutes)) for leg in journey.legs)
    return replace(journey, legs=legs, back_minutes=drive_minutes)

"""The small workshop that is assumed where there is no book: every figure of it can be changed."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, time
from decimal import Decimal

from shared.asking.countries import Country
from shared.book import (
    Body,
    Book,
    Certificate,
    Equipment,
    EquipmentKind,
    Kind,
    Material,
    Person,
    Place,
    PlaceKind,
    Route,
    Segment,
    Skill,
    Stage,
    Step,
    Supplier,
    Temperature,
    Workshop,
)
from shared.book import Gate as GateStep
from shared.book import Journey as JourneyStep
from shared.ids import EquipmentId, PersonId, PlaceId, SkillId, SupplierId
from shared.routes import Names
from shared.routes.materials import usual_materials
from shared.trade import figure
from shared.worktime import Break, Shift

CARVING, LAMINATING = PlaceId("carving"), PlaceId("laminating")
STANDING = PlaceId("floor")
SUPPLIER = SupplierId("supplier")
_WEEK = (0, 1, 2, 3, 4)
_YEAR = tuple(range(1, 13))
_MINUTES = 60
_PERCENT = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """What is assumed of a workshop and of a client, as one line that can be edited."""

    people: int
    useful_hours: Decimal
    shift_hours: Decimal
    booths: int
    floor_m2: Decimal
    vans: int
    answer_days: int
    changes: int
    buffer_days: Decimal


def usual_assumed() -> Assumed:
    """Give what is assumed where nothing else is said."""
    return Assumed(
        people=int(figure("CP560").amount),
        useful_hours=figure("CP561").amount,
        shift_hours=figure("CP562").amount,
        booths=int(figure("CP566").amount),
        floor_m2=figure("CP567").amount,
        vans=int(figure("CP569").amount),
        answer_days=int(figure("AP05").amount),
        changes=int(figure("CP570").amount),
        buffer_days=figure("CP571").amount,
    )


def assumed_book(assumed: Assumed, home: Country, route: Route, now: datetime, name: str) -> Book:
    """Give the book of a small workshop without jobs, in which a way of making can be followed.

    Everybody has every skill and certificate that it asks for; there is each thing that it names.
    """
    return Book(
        name=name,
        workshop=_workshop(assumed, home, name),
        as_of=now,
        places=tuple(_places(assumed)),
        equipment=tuple(_equipment(assumed, route)),
        people=tuple(_people(assumed, route)),
        suppliers=(assumed_supplier(home),),
        materials=assumed_materials(),
    )


def assumed_names(book: Book) -> Names:
    """Give what the assumed workshop calls things: which hall is for what, and who travels."""
    halls = dict.fromkeys((Kind.FOAM, Kind.FILL, Kind.PACK), (CARVING,))
    halls |= dict.fromkeys((Kind.LAMINATE, Kind.COAT), (LAMINATING,))
    crew = tuple(person.id for person in book.people[: int(figure("CP572").amount)])
    return Names(places=halls, crew=crew)


def assumed_supplier(home: Country) -> Supplier:
    """Give the supplier of everything, with its usual lead."""
    return Supplier(
        id=SUPPLIER,
        name="supplier",
        zone=home.zone,
        country=home.code,
        subdivision=home.subdivision,
        lead_days=int(figure("CP575").amount),
        transit_days=int(figure("CP576").amount),
    )


def assumed_materials() -> tuple[Material, ...]:
    """Give all usual materials, delivered by the assumed supplier."""
    return tuple(replace(each, supplier=SUPPLIER) for each in usual_materials())


def _workshop(assumed: Assumed, home: Country, name: str) -> Workshop:
    return Workshop(
        name=name,
        zone=home.zone,
        country=home.code,
        subdivision=home.subdivision,
        shifts=(_shift(assumed),),
        shift_hours=assumed.shift_hours,
        useful_hours=assumed.useful_hours,
        wished_buffer_days=assumed.buffer_days,
        temperatures=(_warmth(),),
    )


def _shift(assumed: Assumed) -> Shift:
    begins, pause = figure("CP563").amount, figure("CP564").amount / _MINUTES
    noon = begins + min(figure("CP565").amount, assumed.shift_hours / 2)
    return Shift(
        days=_WEEK,
        start=clock(begins),
        end=clock(begins + assumed.shift_hours + pause),
        breaks=(Break(start=clock(noon), end=clock(noon + pause)),),
    )


def clock(hours: Decimal) -> time:
    """Give a time of the day by hours after midnight."""
    whole, minutes = divmod(int(hours * _MINUTES), _MINUTES)
    return time(whole % 24, minutes)


def _warmth() -> Temperature:
    warm = figure("PL05").most
    return Temperature(
        months=_YEAR,
        day_celsius=warm,
        night_celsius=warm,
        humidity_percent=figure("CP577").amount,
    )


def _places(assumed: Assumed) -> Iterable[Place]:
    waiting = assumed.floor_m2 * figure("CP568").amount / _PERCENT
    hall = (assumed.floor_m2 - waiting) / 2
    yield Place(id=CARVING, name="carving hall", kind=PlaceKind.BAY, area_m2=hall)
    yield Place(id=LAMINATING, name="laminating hall", kind=PlaceKind.BAY, area_m2=hall)
    yield Place(id=STANDING, name="floor", kind=PlaceKind.FLOOR, area_m2=waiting, standing=True)
    for number in range(1, assumed.booths + 1):
        name = "booth" if assumed.booths == 1 else f"booth {number}"
        place = PlaceId(name.replace(" ", "-"))
        yield Place(id=place, name=name, kind=PlaceKind.BOOTH, slots=1, whole=True)


def waiting_m2(book: Book, segments: Iterable[Segment]) -> tuple[Decimal, Decimal]:
    """Give the floor that segments take while they wait, and how much of it there is."""
    room = 2 * book.workshop.standing_room_m
    zero = Decimal(0)
    need = sum(
        (((s.length_m or zero) + room) * ((s.width_m or zero) + room) for s in segments), zero
    )
    have = sum((place.area_m2 or zero for place in book.places if place.standing), zero)
    return need, have


def _equipment(assumed: Assumed, route: Route) -> Iterable[Equipment]:
    vehicles = {str(each) for step in route.steps for each in _vehicles(step)}
    things = dict.fromkeys(str(each) for step in route.steps for each in _things(step))
    for thing in things:
        yield Equipment(id=EquipmentId(thing), name=thing, kind=EquipmentKind.TOOL)
    for vehicle in sorted(vehicles) if assumed.vans else ():
        yield Equipment(
            id=EquipmentId(vehicle),
            name=vehicle,
            kind=EquipmentKind.VEHICLE,
            count=assumed.vans,
            body=Body.VAN,
            inside_length_m=figure("TR14a").amount,
            inside_width_m=figure("TR14b").amount,
            inside_height_m=figure("TR14c").amount,
        )


def _vehicles(step: Step) -> tuple[EquipmentId, ...]:
    return step.vehicles if isinstance(step, JourneyStep) else ()


def _things(step: Step) -> Iterable[EquipmentId]:
    if isinstance(step, Stage | GateStep):
        yield from (need.equipment for way in step.ways for need in way.equipment)


def _people(assumed: Assumed, route: Route) -> Iterable[Person]:
    skills = dict.fromkeys(str(skill) for step in route.steps for skill in _skills(step))
    papers = dict.fromkeys(
        each for step in route.steps if isinstance(step, Stage) for each in step.certificates
    )
    for number in range(1, assumed.people + 1):
        yield Person(
            id=PersonId(f"person-{number}"),
            name=f"Person {number}",
            skills=tuple(Skill(skill=SkillId(skill)) for skill in skills),
            certificates=tuple(Certificate(certificate=each) for each in papers),
        )


def _skills(step: Step) -> Iterable[SkillId]:
    if isinstance(step, JourneyStep):
        return
    ways = list(step.ways)
    if isinstance(step, GateStep):
        for more in (step.rework, step.changes):
            ways += more.ways if more is not None else ()
    elif step.abrade is not None:
        ways += step.abrade.ways
    yield from (need.skill for way in ways for need in way.needs)

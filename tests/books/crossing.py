"""A sample whose piece goes over the sea by night, and another by the workshop's own van.

The workshop is in England, the site of the gate in the Netherlands; towns, line and people are
invented. Distances, sailings and prices are of this sample: common practice, no source.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from shared.book import (
    Arrangement,
    ArrangementState,
    Before,
    Body,
    Book,
    Booking,
    Client,
    Counted,
    Equipment,
    EquipmentKind,
    Job,
    Journey,
    Leg,
    LegKind,
    Means,
    Notice,
    Person,
    RoadShare,
    Site,
    Skill,
    SkillLevel,
    Timetable,
    Window,
)
from shared.edits import add_job, change_step
from shared.ids import EquipmentId, JobId, PersonId, SkillId, StepId, WindowId
from shared.worktime import Shift
from tests.books.commissions import two_days
from tests.books.route_samples import first_revision
from tests.books.shops import commissioned, made_by, piece, shop

HOME, THERE = "Europe/London", "Europe/Amsterdam"
LIFT_DAY = date(2027, 5, 11)
EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
WEEKDAYS = (0, 1, 2, 3, 4)
LORRY, VAN, CRANE = EquipmentId("lorry"), EquipmentId("van"), EquipmentId("crane")
CREW = (PersonId("dilys"), PersonId("edda"))
SHIP = StepId("heron.ship")


def crossing() -> Book:
    """Make a heron gate that stands in the Netherlands, and an owl that stands near by."""
    book = shop("Alder Dock workshop", 5, "1.5", vans=2)
    van = replace(
        next(each for each in book.equipment if each.id == VAN),
        gross_t=Decimal("3.5"),
        body=Body.VAN,
        inside_length_m=Decimal(4),
        inside_width_m=Decimal(2),
        inside_height_m=Decimal("2.2"),
        payload_kg=Decimal(1100),
    )
    others = tuple(each for each in book.equipment if each.id != VAN)
    book = replace(book, equipment=(*others, van, lorry(), crane()), people=hands(book))
    return first_revision(with_owl(with_heron(book)))


def hands(book: Book) -> tuple[Person, ...]:
    """Let one more help to load, since the crew of the gate is under way before the lorry."""
    fit = Skill(skill=SkillId("fit"), level=SkillLevel.HELPS)
    return tuple(
        replace(each, skills=(*each.skills, fit)) if each.id == "femi" else each
        for each in book.people
    )


def lorry() -> Equipment:
    """Write the lorry down that is hired with its drivers."""
    return Equipment(
        id=LORRY,
        name="Hired lorry",
        kind=EquipmentKind.VEHICLE,
        body=Body.TRAILER,
        inside_length_m=Decimal("7.2"),
        inside_width_m=Decimal("2.45"),
        inside_height_m=Decimal("2.6"),
        payload_kg=Decimal(6000),
        gross_t=Decimal(18),
    )


def crane() -> Equipment:
    """Write the crane down that waits at the quay."""
    return Equipment(id=CRANE, name="Quay crane", kind=EquipmentKind.CRANE)


def there(day: date, hour: int, minute: int = 0) -> datetime:
    """Give an instant by the clock of the site of the gate."""
    return datetime.combine(day, time(hour, minute), ZoneInfo(THERE))


def with_heron(book: Book) -> Book:
    """Add the gate: in three pieces, over the sea by night, lifted in a slot of two hours."""
    parts = (
        piece("heron", "Left wing", ("2.4", "1.3", "0.9"), "8.4", "4.2"),
        piece("heron", "Right wing", ("2.4", "1.3", "0.9"), "8.4", "4.2"),
        piece("heron", "Neck", ("2.1", "0.9", "0.8"), "5.6", "3.4"),
    )
    client = Client(name="Oosterveen garden trust", zone=THERE, country="NL", answer_days=10)
    made = Job(
        id=JobId("heron"),
        name="Heron gate",
        client=client,
        site=Site(name="Oosterveen quay garden", zone=THERE, country="NL"),
        windows=(heron_window(),),
        segments=parts,
        steps=(),
        arrangements=heron_arrangements(),
        notices=heron_notices(),
        wished_buffer_days=Decimal("0.5"),
    )
    book = add_job(book, made).book
    book = made_by(book, "heron", "hollow", crew=CREW)
    return with_journey(book, "heron", heron_journey)


def heron_window() -> Window:
    """Give four days at the quay, the second afternoon the pavers'."""
    hours = Shift(days=EVERY_DAY, start=time(7), end=time(19))
    pavers = Booking(start=there(LIFT_DAY, 13), end=there(LIFT_DAY, 17), name="pavers on the quay")
    return Window(
        id=WindowId("may"),
        start=there(LIFT_DAY - timedelta(days=1), 7),
        end=there(LIFT_DAY + timedelta(days=2), 17),
        access=(hours,),
        blocked=(pavers,),
    )


def ship(
    days: tuple[int, ...], leaves: time, arrives: time, price: int, *, nights: int = 1
) -> Timetable:
    """Write a ship of the invented line down, in its season."""
    return Timetable(
        weekdays=days, leaves=leaves, arrives=arrives, zone=HOME, arrives_zone=THERE,
        days_later=nights, check_in_minutes=60, price=Decimal(price), first=date(2027, 3, 1),
        last=date(2027, 10, 31),
    )  # fmt: skip


def night_ships() -> tuple[Timetable, ...]:
    """Give the ships that take lorries: by night, and fast by night on some nights."""
    return (
        ship((1, 2, 3, 4, 5, 7), time(20), time(6, 30), 610),
        ship((1, 4), time(23), time(6, 45), 820),
    )


def day_ship() -> tuple[Timetable, ...]:
    """Give the ship that takes vans and cars by day."""
    return (ship((1, 3, 5, 6), time(9), time(16, 30), 95, nights=0),)


def office(start: int, end: int) -> tuple[Shift, ...]:
    """Give the hours of a customs office."""
    return (Shift(days=EVERY_DAY, start=time(start), end=time(end)),)


def heron_road() -> tuple[Leg, ...]:
    """Give the way of the lorry to the quay."""
    return (
        Leg(
            kind=LegKind.DRIVE, name="to Sandhaven port", distance_km=Decimal(230), country="GB"
        ),
        Leg(
            kind=LegKind.BORDER, name="export cleared", minutes=30, opens=office(6, 23), zone=HOME,
            country="GB", by="customs agent at Sandhaven",
        ),
        Leg(
            kind=LegKind.SAILING, name="Sandhaven to Westermond", timetable=night_ships(), bunk=True
        ),
        Leg(
            kind=LegKind.BORDER, name="import cleared", minutes=30, opens=office(6, 20), zone=THERE,
            country="NL", by="customs agent at Westermond",
        ),
        Leg(
            kind=LegKind.DRIVE, name="to Oosterveen", distance_km=Decimal(85),
            shares=(RoadShare(country="NL", percent=Decimal(100)),),
        ),
    )  # fmt: skip


def heron_site() -> tuple[Leg, ...]:
    """Give what is done at the quay."""
    slot = (Booking(start=there(LIFT_DAY, 9), end=there(LIFT_DAY, 11), name="quay road closed"),)
    return (
        Leg(
            kind=LegKind.ARRIVE, name="sign in, unsheet", minutes=15, inside=True, slots=slot,
            driver_helps=True,
        ),
        Leg(
            kind=LegKind.UNLOAD, name="unload", minutes=45, inside=True, slots=slot,
            driver_helps=True,
        ),
        Leg(
            kind=LegKind.LIFT, name="lift over the wall", minutes=45, inside=True, slots=slot,
            equipment=(CRANE,), by="crane driver",
        ),
        Leg(kind=LegKind.CARRY, name="carry in", minutes=30, inside=True),
        Leg(
            kind=LegKind.ASSEMBLE, name="assemble", person_hours=Decimal(8), hands=2, inside=True
        ),
        Leg(kind=LegKind.SEAL, name="seal the joints", minutes=60, inside=True,
            cure_hours=Decimal(12)),
        Leg(
            kind=LegKind.INSPECT, name="inspection", minutes=45, inside=True, zone=THERE,
            country="NL", opens=(Shift(days=WEEKDAYS, start=time(13), end=time(16)),),
            by="the town's inspector",
        ),
        Leg(kind=LegKind.SNAGS, name="snags and photographs", minutes=30, inside=True),
        Leg(kind=LegKind.SIGN_OFF, name="sign off", minutes=15, inside=True),
        Leg(kind=LegKind.RETURN, name="way home", minutes=17 * 60, country="GB"),
    )  # fmt: skip


def heron_journey(old: Journey) -> Journey:
    """Give the gate's journey: one hired driver or two, the crew in their own van."""
    over, land = heron_road()[2], heron_road()[4]
    van = (
        Leg(kind=LegKind.DRIVE, name="to Sandhaven port", driving_minutes=195, country="GB"),
        replace(over, name="over with the van", timetable=day_ship(), bunk=False),
        replace(land, name="to Oosterveen", distance_km=None, driving_minutes=75),
    )
    means = (
        Means(
            id="one-driver", name="lorry, one driver", vehicles=(LORRY,), own_account=False,
            price=Decimal(1650),
        ),
        Means(
            id="two-drivers", name="lorry, two drivers", vehicles=(LORRY,), drivers=2,
            own_account=False, price=Decimal(2380),
        ),
    )  # fmt: skip
    return replace(
        old,
        legs=(*heron_road(), *heron_site()),
        crew=CREW,
        vehicles=(),
        back_minutes=0,
        means=means,
        stands_most_minutes=24 * 60,
        travel=van,
        travel_vehicles=(VAN,),
        longest_days=Decimal(2),
    )


def heron_arrangements() -> tuple[Arrangement, ...]:
    """Give what is arranged with others for the gate, and how far."""
    return (
        Arrangement(
            id="quay-crane", what="crane", name="quay crane", state=ArrangementState.BOOKED,
            reference="Q-118", with_whom="Oosterveen quay office", call="line 4", leg=8,
            start=there(LIFT_DAY, 9), end=there(LIFT_DAY, 11), price=Decimal(540),
            free_until=there(LIFT_DAY - timedelta(days=14), 17), cost_after=Decimal(540),
            journey=SHIP,
        ),
        Arrangement(
            id="lorry-sailing", what="sailing", name="lorry, Sandhaven to Westermond",
            state=ArrangementState.ASKED, with_whom="Sandhaven freight desk",
            call="line 2", leg=3, cost_after=Decimal(120), journey=SHIP,
        ),
        Arrangement(
            id="hotel", what="hotel", name="two rooms, three nights", with_whom="Inn at the lock",
            call="line 1", start=there(LIFT_DAY - timedelta(days=1), 18),
            end=there(LIFT_DAY + timedelta(days=2), 10), price=Decimal(630), journey=SHIP,
        ),
    )  # fmt: skip


def heron_notices() -> tuple[Notice, ...]:
    """Give the papers that the quay office asks for besides."""
    return (
        Notice(
            id="lift-plan", name="lifting plan to the quay office", lead=10,
            counted=Counted.WORKING_DAYS, before=Before.LIFT, office="Oosterveen quay office",
            country="NL", zone=THERE,
        ),
    )  # fmt: skip


def with_owl(book: Book) -> Book:
    """Add the owl: near by, driven by those who put it up, under the rules of Great Britain."""
    parts = (
        piece("owl", "Head", ("1.2", "1", "0.9"), "4.2", "3.8"),
        piece("owl", "Body", ("1.6", "1.3", "1.1"), "6.6", "6.2"),
    )
    hours = Shift(days=WEEKDAYS, start=time(8), end=time(18))
    held = replace(two_days(date(2027, 4, 13)), access=(hours,))
    book = commissioned(book, "owl", "Reading owl", "Brambleford library", held, parts)
    book = made_by(book, "owl", "hollow", crew=("cato", "femi"))
    return with_journey(book, "owl", owl_journey)


def owl_journey(old: Journey) -> Journey:
    """Give the owl's journey: the workshop's van, one of the crew at the wheel."""
    legs = (
        Leg(kind=LegKind.DRIVE, name="to Brambleford", driving_minutes=240, country="GB"),
        Leg(kind=LegKind.ARRIVE, name="sign in", minutes=15, inside=True, driver_helps=True),
        Leg(kind=LegKind.UNLOAD, name="unload", minutes=45, inside=True, driver_helps=True),
        Leg(
            kind=LegKind.ASSEMBLE, name="assemble", minutes=240, inside=True, driver_helps=True
        ),
        Leg(kind=LegKind.SIGN_OFF, name="sign off", minutes=15, inside=True, driver_helps=True),
        Leg(kind=LegKind.RETURN, name="way home", minutes=285, country="GB"),
    )  # fmt: skip
    means = Means(
        id="van", name="the van, Cato at the wheel", vehicles=(VAN,), driven_by=(PersonId("cato"),),
        own_account=True,
    )  # fmt: skip
    crew = (PersonId("cato"), PersonId("femi"))
    return replace(
        old,
        legs=legs,
        crew=crew,
        vehicles=(),
        back_minutes=0,
        means=(means,),
        stands_most_minutes=24 * 60,
    )


def with_journey(book: Book, job: str, make: Callable[[Journey], Journey]) -> Book:
    """Give a book with a job's journey as it is made of the one that its way of making wrote."""
    mine = next(each for each in book.jobs if each.id == job)
    old = next(step for step in mine.steps if isinstance(step, Journey))
    return change_step(book, make(old)).book

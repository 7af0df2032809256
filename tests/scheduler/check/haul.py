"""A sound plan held to drivers' hours, every instant worked out by hand.

A hired lorry over the sea by night, its crew by their own van from lodgings near the site. England
in British winter time (local time is UTC), Tuesday 16 and Wednesday 17 March 2027; the site is an
hour ahead.
"""

from decimal import Decimal

from shared.book import (
    Body,
    Book,
    Booking,
    Departure,
    Equipment,
    EquipmentKind,
    Leg,
    LegKind,
    Means,
    RoadShare,
    Step,
)
from shared.ids import EquipmentId, JobId, PersonId, StepId
from shared.plan import Doing, LegTime, Placement, Plan, Stretch, Trip
from tests.builders import (
    a_book,
    a_break,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_place,
    a_plan,
    a_segment,
    a_shift,
    a_site,
    a_stage,
    a_way,
    a_window,
    a_workshop,
    an_equipment,
    at,
)
from tests.scheduler.check.change import QUARTER, placed

NOW = at("2027-03-15 08:00")
EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)


def _legs() -> tuple[Leg, ...]:
    ship = Departure(
        leaves=at("2027-03-16 22:00"), arrives=at("2027-03-17 06:00"), check_in_minutes=60
    )
    border = a_shift("06:00", "18:00", breaks=())
    slot = Booking(start=at("2027-03-17 10:30"), end=at("2027-03-17 12:30"))
    roads = (
        RoadShare(country="NL", percent=Decimal(50)),
        RoadShare(country="DE", percent=Decimal(50)),
    )
    return (
        a_leg(driving_minutes=240, country="GB"),
        a_leg(LegKind.SAILING, 0, departures=(ship,), bunk=True),
        a_leg(LegKind.BORDER, 30, opens=(border,), zone="Europe/Amsterdam", country="NL"),
        a_leg(driving_minutes=180, shares=roads),
        # Arriving and unsheeting take as long as usual, half an hour.
        a_leg(LegKind.ARRIVE, 0, inside=True, driver_helps=True),
        # 2 h by two: 2 x 1.05 / 2 = 1.05 h, rounded up to 1 h 15 min.
        a_leg(
            LegKind.LIFT,
            0,
            inside=True,
            slots=(slot,),
            person_hours=Decimal(2),
            hands=2,
            equipment=(EquipmentId("crane"),),
        ),
        a_leg(LegKind.ASSEMBLE, 120, inside=True, cure_hours=Decimal(2)),
        a_leg(LegKind.SIGN_OFF, 0, inside=True),
        a_leg(LegKind.RETURN, 240),
    )


def _journey() -> Step:
    return a_journey(
        "haul",
        legs=_legs(),
        crew=("ivo",),
        means=(
            Means(id="lorry", vehicles=(EquipmentId("lorry"),)),
            Means(
                id="truck",
                vehicles=(EquipmentId("truck"),),
                driven_by=(PersonId("mia"),),
                own_account=True,
            ),
        ),
        travel=(a_leg(driving_minutes=120, country="DE"),),
        travel_vehicles=(EquipmentId("van"),),
        stands_most_minutes=15,
    )


def haul_equipment() -> tuple[Equipment, ...]:
    return (
        an_equipment(gross_t=Decimal(18), payload_kg=Decimal(900), body=Body.VAN),
        an_equipment("truck", gross_t=Decimal(12)),
        an_equipment("van", gross_t=Decimal(3)),
        an_equipment("crane", kind=EquipmentKind.CRANE),
    )


def haul_book() -> Book:
    load = a_way("two", 2, hands=2, skill="pack")
    access = a_shift("09:00", "18:00", days=EVERY_DAY, breaks=(a_break("13:00", "14:00"),))
    job = a_job(
        "owl",
        segments=(a_segment("owl-body"),),
        steps=(
            a_stage("carve-owl", hours=4, places=("bay",)),
            a_gate("loading", ways=(load,)),
            _journey(),
        ),
        site=a_site(zone="Europe/Amsterdam", country="NL", subdivision=None),
        windows=(a_window("owl-w", "2027-03-17 00:00", "2027-03-19 00:00", access=(access,)),),
    )
    return a_book(
        job,
        workshop=a_workshop(
            shifts=(a_shift("08:00", "17:00", breaks=(a_break("12:00", "13:00"),)),),
            useful_hours=Decimal(8),
        ),
        as_of=NOW,
        places=(a_place(slots=2),),
        equipment=haul_equipment(),
        people=(
            a_person("ivo", ("carve", "pack")),
            a_person("mia", ("carve", "pack")),
            a_person("tom", ("carve", "pack")),
        ),
    )


PARTS: tuple[tuple[Doing, int, int, int], ...] = (
    (Doing.DRIVE, 0, 16, 0),
    # 3:15 in the lane, 8 h at sea and a quarter on the quay are more than eleven hours of rest.
    (Doing.REST, 1, 13, 0),
    (Doing.BOARD_IN_REST, 1, 1, 0),
    (Doing.SEA_REST, 1, 32, 0),
    (Doing.LAND_IN_REST, 1, 1, 0),
    (Doing.REST, 2, 1, 0),
    (Doing.WORK, 2, 2, 0),
    (Doing.DRIVE, 3, 6, 0),
    (Doing.DRIVE, 3, 6, 1),
    (Doing.WORK, 4, 2, 0),
    (Doing.WORK, 5, 5, 0),
    (Doing.WORK, 6, 1, 0),
    (Doing.REST, 6, 4, 0),
    (Doing.WORK, 6, 7, 0),
    (Doing.STAND, 6, 8, 0),
    (Doing.WORK, 7, 1, 0),
)
"""What is done, on which leg, for how many quarters, on which share of the road."""


def laid(
    start: str, *parts: tuple[Doing, int, int, int], wheels: tuple[int, ...] = ()
) -> tuple[Stretch, ...]:
    """Stretches one after the other; wheels: who drives in each drive."""
    found, now, turns = [], at(start), iter(wheels)
    for doing, leg, quarters, share in parts:
        end = now + quarters * QUARTER
        wheel = next(turns, 0) if doing is Doing.DRIVE else 0
        found.append(Stretch(doing=doing, leg=leg, start=now, end=end, share=share, wheel=wheel))
        now = end
    return tuple(found)


def leg_times(start: str, *ends: str) -> tuple[LegTime, ...]:
    starts = (start, *ends[:-1])
    pairs = zip(starts, ends, strict=True)
    return tuple(LegTime(start=at(f"2027-03-{a}"), end=at(f"2027-03-{b}")) for a, b in pairs)


def haul_trip() -> Trip:
    return Trip(
        job=JobId("owl"),
        step=StepId("haul"),
        start=at("2027-03-16 14:30"),
        end=at("2027-03-17 17:00"),
        back=at("2027-03-17 21:00"),
        free=at("2027-03-18 08:00"),
        legs=leg_times(
            "16 14:30",
            "16 18:30",
            "17 06:15",
            "17 07:00",
            "17 10:00",
            "17 10:30",
            "17 11:45",
            "17 14:45",
            "17 17:00",
            "17 21:00",
        ),
        means="lorry",
        stretches=laid("2027-03-16 14:30", *PARTS),
        travel=laid("2027-03-17 08:00", (Doing.DRIVE, 0, 8, 0)),
        crew_from=at("2027-03-17 08:00"),
    )


def haul_placements() -> tuple[Placement, ...]:
    return (
        placed("owl", "carve-owl", "2027-03-16 08:00", "2027-03-16 12:00", "ivo", place="bay"),
        placed("owl", "loading", "2027-03-16 13:00", "2027-03-16 14:15", "ivo", "tom", way="two"),
    )


def haul_plan(book: Book) -> Plan:
    return a_plan(book, now=NOW, placements=haul_placements(), trips=(haul_trip(),))

"""A sound plan from carving to the site, every instant worked out by hand.

Two segments of one job: carved, shown to the client in two rounds, skinned, coated after an
abrade stage, fitted together, loaded, shipped by a sailing and put up in the mornings of the
site; then a small piece of another job by the man who was away. England in British winter time
(local time is UTC), Monday 1 to Friday 19 March 2027; the site is an hour ahead.
"""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

from shared.book import (
    Abrade,
    Book,
    Departure,
    EquipmentKind,
    EquipmentNeed,
    GateKind,
    Job,
    Kind,
    LegKind,
    Place,
    PlaceKind,
    SkillLevel,
    Step,
)
from shared.ids import EquipmentId, JobId, StepId
from shared.plan import LegTime, Placement, Plan, Trip
from tests.builders import (
    a_book,
    a_break,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_need,
    a_person,
    a_place,
    a_plan,
    a_segment,
    a_shift,
    a_site,
    a_skill,
    a_stage,
    a_way,
    a_window,
    a_workshop,
    an_equipment,
    at,
)
from tests.scheduler.check.change import placed

NOW = at("2027-03-01 08:00")
EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)

# 7.6 h by two who lose 5 % to each other: 7.6 x 1.05 / 2 = 3.99 h, rounded up to 4 h.
CARVE_HEAD = a_way(
    "pair",
    "7.6",
    places=("bay",),
    needs=(a_need("carve", can=1, helps=1),),
    equipment=(EquipmentNeed(equipment=EquipmentId("wire")),),
)
# 2 h by two: 2 x 1.05 / 2 = 1.05 h, rounded up to 1 h 15 min.
LOAD = a_way("two", 2, hands=2, skill="pack")


def _steps() -> tuple[Step, ...]:
    head = ("gull-head",)
    return (
        a_stage("carve-head", segments=head, ways=(CARVE_HEAD,)),
        a_stage("carve-base", segments=("gull-base",), hours=6, places=("bay",)),
        a_gate(
            "approve",
            GateKind.ANSWER,
            answer_days=3,
            allow_no=1,
            rework=Abrade(ways=(a_way(hours=2, places=("bay",)),)),
        ),
        a_stage(
            "skin-head",
            Kind.LAMINATE,
            segments=head,
            hours=4,
            places=("bay",),
            in_one_go=True,
            cure_hours=24,
            recoat_hours=Decimal(48),
            abrade=Abrade(ways=(a_way("abrade", 1, skill="fill", places=("bay",)),)),
        ),
        a_stage(
            "coat-head",
            Kind.COAT,
            segments=head,
            hours=2,
            places=("booth",),
            in_one_go=True,
            stays=True,
            cure_hours=24,
        ),
        a_gate("fit", GateKind.TRIAL_FIT),
        a_gate("loading", ways=(LOAD,)),
        _journey(),
    )


def _journey() -> Step:
    sailing = Departure(
        leaves=at("2027-03-16 20:00"), arrives=at("2027-03-17 06:00"), check_in_minutes=45
    )
    border = a_shift("08:00", "18:00", breaks=())
    return a_journey(
        "delivery",
        legs=(
            a_leg(LegKind.DRIVE, 90),
            a_leg(LegKind.BORDER, 30, opens=(border,), zone="Europe/London"),
            a_leg(LegKind.SAILING, 0, departures=(sailing,)),
            a_leg(LegKind.DRIVE, 120),
            a_leg(LegKind.ASSEMBLE, 180, inside=True),
        ),
        crew=("ivo",),
        vehicles=("lorry",),
        back_minutes=300,
    )


def _gull() -> Job:
    mornings = a_shift("09:00", "11:00", days=EVERY_DAY, breaks=())
    return a_job(
        "gull",
        segments=(a_segment("gull-head"), a_segment("gull-base", length_m=Decimal(3))),
        steps=_steps(),
        site=a_site(zone="Europe/Amsterdam", country="NL", subdivision=None),
        windows=(a_window("gull-w", "2027-03-17 00:00", "2027-03-19 00:00", access=(mornings,)),),
    )


def _wren() -> Job:
    return a_job(
        "wren",
        segments=(a_segment("wren-body", length_m=Decimal(1)),),
        steps=(a_stage("carve-wren", hours=4, places=("bay",)),),
    )


def _places() -> tuple[Place, ...]:
    # Head 2.4 x 1.4 m and base 3.4 x 1.4 m with 0.2 m on every side: 3.36 + 4.76 = 8.12 m2.
    return (
        a_place(slots=2),
        a_place("booth", PlaceKind.BOOTH, whole=True, clear_out_minutes=60),
        a_floor(area_m2=9),
    )


def delivery_book() -> Book:
    helps = a_skill("carve", SkillLevel.HELPS)
    mia = a_person("mia", ("laminate", "coat", "fill", "pack"))
    return a_book(
        _gull(),
        _wren(),
        workshop=a_workshop(
            shifts=(a_shift("08:00", "17:00", breaks=(a_break("12:00", "13:00"),)),),
            useful_hours=Decimal(8),
        ),
        as_of=NOW,
        places=_places(),
        equipment=(an_equipment(), an_equipment("wire", kind=EquipmentKind.TOOL)),
        people=(
            a_person("ivo", ("carve", "pack")),
            replace(mia, skills=(*mia.skills, helps)),
            a_person("tom", freelance=True),
        ),
    )


def delivery_placements() -> tuple[Placement, ...]:
    """Give the placements.

    The first answer is due on the third working day after Tuesday 2 March, Friday 5; the
    second on the third after Monday 8, Thursday 11. The skin may be coated over until Sunday
    14 March 12:00, so that it is abraded on Monday.
    """
    return (
        placed(
            *("gull", "carve-head", "2027-03-01 08:00", "2027-03-01 12:00", "ivo", "mia"),
            way="pair",
            place="bay",
            equipment=(EquipmentId("wire"),),
        ),
        placed("gull", "carve-base", "2027-03-01 13:00", "2027-03-02 10:00", "ivo", place="bay"),
        placed("gull", "approve", "2027-03-02 10:00", "2027-03-05 17:00", way="", round=1),
        placed(
            *("gull", "approve", "2027-03-08 08:00", "2027-03-08 10:00", "ivo"),
            place="bay",
            round=1,
            part="rework",
        ),
        placed("gull", "approve", "2027-03-08 10:00", "2027-03-11 17:00", way="", round=2),
        placed("gull", "skin-head", "2027-03-12 08:00", "2027-03-12 12:00", "mia", place="bay"),
        placed(
            *("gull", "coat-head", "2027-03-15 08:00", "2027-03-15 09:00", "mia"),
            way="abrade",
            place="bay",
            part="abrade",
        ),
        placed("gull", "coat-head", "2027-03-15 09:00", "2027-03-15 11:00", "mia", place="booth"),
        placed("gull", "fit", "2027-03-16 11:00", "2027-03-16 11:00", way=""),
        placed("gull", "loading", "2027-03-16 13:00", "2027-03-16 14:15", "ivo", "mia", way="two"),
        placed("wren", "carve-wren", "2027-03-19 08:00", "2027-03-19 12:00", "ivo", place="bay"),
    )


def delivery_trip() -> Trip:
    """Give the trip: two hours of putting up on Wednesday morning, the third on Thursday."""
    arrivals = (
        "2027-03-16 14:15",
        "2027-03-16 15:45",
        "2027-03-16 16:15",
        "2027-03-17 06:00",
        "2027-03-17 08:00",
        "2027-03-18 09:00",
    )
    return Trip(
        job=JobId("gull"),
        step=StepId("delivery"),
        start=at(arrivals[0]),
        end=at(arrivals[-1]),
        back=at("2027-03-18 14:00"),
        free=at("2027-03-19 01:00"),
        legs=tuple(LegTime(start=at(a), end=at(b)) for a, b in pairwise(arrivals)),
    )


def delivery_plan(book: Book) -> Plan:
    return a_plan(book, now=NOW, placements=delivery_placements(), trips=(delivery_trip(),))

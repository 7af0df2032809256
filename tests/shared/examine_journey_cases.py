"""One book for each thing that can be wrong with timetables, roads, drivers and notices."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from typing import Any

from shared.book import (
    Arrangement,
    Book,
    Booking,
    Counted,
    Driving,
    EquipmentKind,
    Job,
    Journey,
    Leg,
    LegKind,
    Means,
    Notice,
    RoadShare,
    Timetable,
)
from shared.ids import EquipmentId, PersonId, StepId
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_segment,
    a_stage,
    a_window,
    an_equipment,
    at,
)
from tests.shared.examine_books import JOURNEY, Case, departs

LEG0 = (*JOURNEY, "legs", 0)
MEANS0 = (*JOURNEY, "means", 0)
TABLE0 = (*LEG0, "timetable", 0)
LORRY = replace(an_equipment("lorry"), kind=EquipmentKind.VEHICLE, gross_t=Decimal(18))
UNWEIGHED = replace(an_equipment("van"), kind=EquipmentKind.VEHICLE)
ON_SITE = a_leg(LegKind.ASSEMBLE, inside=True)
ROAD = a_leg(minutes=0, driving_minutes=120, country="GB")
BY_LORRY = Means(id="lorry", vehicles=(EquipmentId("lorry"),))


def going(*legs: Leg, job: dict[str, Any] | None = None, **changes: Any) -> Book:
    """A book whose job has a journey of these legs, with a lorry and people known."""
    journey = replace(a_journey("heron-journey", legs=(*legs, ON_SITE)), **changes)
    return going_by(journey, **(job or {}))


def going_by(journey: Journey, **changes: Any) -> Book:
    job: Job = a_job(steps=(a_stage(), a_gate(), journey), **changes)
    crane = replace(an_equipment("crane"), kind=EquipmentKind.CRANE)
    return a_book(
        job,
        people=(a_person(), a_person("bo")),
        equipment=(LORRY, UNWEIGHED, crane),
    )


def by_table(**changes: Any) -> Book:
    return going(a_sailing(**changes))


def a_sailing(**changes: Any) -> Leg:
    return a_leg(LegKind.SAILING, minutes=0, timetable=(a_timetable(**changes),))


def on_board(**changes: Any) -> Leg:
    return replace(a_sailing(**changes), bunk=True)


def a_timetable(**changes: Any) -> Timetable:
    usual = Timetable(weekdays=(1, 3, 5), leaves=time(9), arrives=time(19), zone="Europe/London")
    return replace(usual, **changes)


def by_means(*means: Means, **changes: Any) -> Book:
    return going(ROAD, means=means, **changes)


def by_lorry(**changes: Any) -> Book:
    return by_means(replace(BY_LORRY, **changes))


def arranged(**changes: Any) -> Book:
    one = replace(Arrangement(id="crane", what="crane"), **changes)
    return going(ROAD, job={"arrangements": (one,)}, means=(BY_LORRY,))


def noticed(**changes: Any) -> Book:
    usual = Notice(id="police", name="Police", lead=2, counted=Counted.CLEAR_WORKING_DAYS)
    return going(ROAD, job={"notices": (replace(usual, **changes),)}, means=(BY_LORRY,))


def shared_by(*shares: RoadShare) -> Book:
    return going(replace(ROAD, country=None, shares=shares), means=(BY_LORRY,))


def a_share(percent: str, country: str = "GB", **changes: Any) -> RoadShare:
    return replace(RoadShare(country=country, percent=Decimal(percent)), **changes)


STRETCH = Booking(start=at("2026-03-03 08:00"), end=at("2026-03-03 10:00"))
BEFORE = Booking(start=at("2026-02-03 08:00"), end=at("2026-02-03 10:00"))
BACKWARDS = Booking(start=at("2026-03-03 10:00"), end=at("2026-03-03 08:00"))
AS_OF = at("2026-02-02 06:00")
WIDE = replace(
    a_segment("wide"), length_m=Decimal("4.0"), width_m=Decimal("3.0"), height_m=Decimal("3.1")
)
TRIP = StepId("heron-journey")

CASES: list[Case] = [
    ("sailing_without_departures", going(a_leg(LegKind.TRAIN)), (*LEG0, "departures"), {}),
    ("timetable_without_days", by_table(weekdays=()), (*TABLE0, "weekdays"), {}),
    (
        "unknown_weekday",
        by_table(weekdays=(1, 0, 8)),
        (*TABLE0, "weekdays", 2),
        {"weekday": 8},
    ),
    (
        "unknown_zone",
        by_table(zone="Europe/Londn"),
        (*TABLE0, "zone"),
        {"nearest": "Europe/London"},
    ),
    (
        "unknown_zone",
        by_table(arrives_zone="Europe/Pariss"),
        (*TABLE0, "arrives_zone"),
        {"nearest": "Europe/Paris"},
    ),
    (
        "lands_before_it_leaves",
        by_table(leaves=time(20, 30), arrives=time(8, 15), arrives_zone="Europe/Paris"),
        (*TABLE0, "arrives"),
        {"start": "20:30", "end": "08:15"},
    ),
    (
        # An hour by the clocks, and no time at all between them.
        "lands_before_it_leaves",
        by_table(leaves=time(9), arrives=time(10), arrives_zone="Europe/Paris"),
        (*TABLE0, "arrives"),
        {},
    ),
    (
        "days_reversed",
        by_table(first=date(2026, 3, 5), last=date(2026, 3, 1)),
        (*TABLE0, "last"),
        {},
    ),
    ("below_zero", by_table(days_later=-1), (*TABLE0, "days_later"), {}),
    ("above_limit", by_table(days_later=31), (*TABLE0, "days_later"), {}),
    (
        "season_over",
        by_table(last=date(2025, 12, 31)),
        (*TABLE0, "last"),
        {"last": "2025-12-31"},
    ),
    (
        "season_later",
        by_table(first=date(2026, 4, 1)),
        (*TABLE0, "first"),
        {"first": "2026-04-01", "end": "2026-03-06"},
    ),
    (
        "departures_elsewhere",
        going(
            a_leg(LegKind.SAILING, departures=(departs("2026-03-06 19:00", "2026-03-06 23:00"),))
        ),
        (*LEG0, "departures"),
        {"leg": "sailing"},
    ),
    (
        # Judged: no way takes longer than a week, to be there two weeks before the window.
        "departures_elsewhere",
        going(
            ROAD,
            a_leg(LegKind.SAILING, departures=(departs("2026-02-06 19:00", "2026-02-06 23:00"),)),
        ),
        (*JOURNEY, "legs", 1, "departures"),
        {"leg": "sailing"},
    ),
    (
        "below_zero",
        going(
            a_leg(
                LegKind.SAILING,
                departures=(
                    replace(departs("2026-03-02 19:00", "2026-03-02 23:00"), price=Decimal(-1)),
                ),
            )
        ),
        (*LEG0, "departures", 0, "price"),
        {},
    ),
    ("bunk_unsaid", going(ROAD, a_sailing()), (*JOURNEY, "legs", 1, "bunk"), {"leg": "sailing"}),
    ("leg_without_country", going(replace(ROAD, country=None)), (*LEG0, "country"), {}),
    (
        "leg_without_country",
        going(ROAD, travel=(replace(ROAD, country=None, name="van"),)),
        (*JOURNEY, "travel", 0, "country"),
        {"leg": "van"},
    ),
    (
        "leg_without_country",
        going(a_leg(), means=(replace(BY_LORRY, rules="eu_one_driver"),)),
        (*LEG0, "country"),
        {},
    ),
    (
        "minutes_at_the_wheel",
        going(a_leg(country="GB", rules="eu_one_driver")),
        (*LEG0, "minutes"),
        {"minutes": 120},
    ),
    ("unknown_country", going(replace(ROAD, country="XX")), (*LEG0, "country"), {}),
    (
        "unknown_country",
        shared_by(a_share("40"), a_share("60", "XX")),
        (*LEG0, "shares", 1, "country"),
        {"country": "XX"},
    ),
    (
        "unknown_subdivision",
        shared_by(a_share("100", "DE", subdivision="QQ")),
        (*LEG0, "shares", 0, "subdivision"),
        {"subdivision": "QQ"},
    ),
    (
        "shares_not_whole",
        shared_by(a_share("40"), a_share("59.5", "FR")),
        (*LEG0, "shares"),
        {"total": "99.5"},
    ),
    (
        "not_above_zero",
        shared_by(a_share("0"), a_share("100")),
        (*LEG0, "shares", 0, "percent"),
        {},
    ),
    (
        "unknown_area",
        shared_by(a_share("100", area="londn")),
        (*LEG0, "shares", 0, "area"),
        {"area": "londn", "nearest": "london"},
    ),
    (
        "faster_than_lorries",
        going(replace(ROAD, driving_minutes=None, distance_km=Decimal(65), speed_kmh=Decimal(650))),
        (*LEG0, "speed_kmh"),
        {"speed_kmh": "650", "limit": "90"},
    ),
    ("not_above_zero", going(replace(ROAD, speed_kmh=Decimal(0))), (*LEG0, "speed_kmh"), {}),
    ("not_above_zero", going(replace(ROAD, distance_km=Decimal(-1))), (*LEG0, "distance_km"), {}),
    ("not_above_zero", going(replace(ROAD, driving_minutes=0)), (*LEG0, "driving_minutes"), {}),
    (
        "not_above_zero",
        going(ROAD, a_leg(LegKind.CARRY, hands=0)),
        (*JOURNEY, "legs", 1, "hands"),
        {},
    ),
    (
        "below_zero",
        going(ROAD, a_leg(LegKind.SEAL, cure_hours=Decimal(-1))),
        (*JOURNEY, "legs", 1, "cure_hours"),
        {},
    ),
    (
        "unknown_rules",
        going(replace(ROAD, rules="eu_one_drivr")),
        (*LEG0, "rules"),
        {"nearest": "eu_one_driver"},
    ),
    ("unknown_rules", by_lorry(rules="561"), (*MEANS0, "rules"), {"rules": "561"}),
    ("rules_of_two", by_lorry(rules="eu_two_drivers"), (*MEANS0, "rules"), {}),
    (
        "unknown_id",
        going(ROAD, a_leg(LegKind.LIFT, equipment=(EquipmentId("crain"),))),
        (*JOURNEY, "legs", 1, "equipment", 0),
        {"sort": "equipment", "nearest": "crane"},
    ),
    (
        "slot_outside_window",
        going(ROAD, a_leg(LegKind.LIFT, inside=True, slots=(STRETCH, BEFORE))),
        (*JOURNEY, "legs", 1, "slots", 1),
        {"leg": "lift"},
    ),
    (
        "ends_before_start",
        going(ROAD, a_leg(LegKind.LIFT, slots=(BACKWARDS,))),
        (*JOURNEY, "legs", 1, "slots", 0, "end"),
        {},
    ),
    (
        "blocked_outside_window",
        going(ROAD, job={"windows": (a_window(blocked=(BEFORE,)),)}),
        ("jobs", 0, "windows", 0, "blocked", 0),
        {"start": "2026-02-03T08:00:00Z"},
    ),
    (
        "ends_before_start",
        going(ROAD, job={"windows": (a_window(blocked=(BACKWARDS,)),)}),
        ("jobs", 0, "windows", 0, "blocked", 0, "end"),
        {},
    ),
    (
        "travel_leg_on_site",
        going(ROAD, travel=(ROAD, a_leg(LegKind.CARRY))),
        (*JOURNEY, "travel", 1, "kind"),
        {"leg": "carry"},
    ),
    (
        "travel_without_legs",
        going(ROAD, travel_vehicles=(EquipmentId("lorry"),)),
        (*JOURNEY, "travel_vehicles"),
        {},
    ),
    (
        "return_not_last",
        going(ROAD, a_leg(LegKind.RETURN)),
        (*JOURNEY, "legs", 1, "kind"),
        {"leg": "return"},
    ),
    ("id_doubled", by_means(BY_LORRY, BY_LORRY), (*JOURNEY, "means", 1, "id"), {"sort": "means"}),
    ("id_empty", by_means(replace(BY_LORRY, id=" ")), (*MEANS0, "id"), {"sort": "means"}),
    (
        "unknown_id",
        by_lorry(vehicles=(EquipmentId("lory"),)),
        (*MEANS0, "vehicles", 0),
        {"nearest": "lorry"},
    ),
    (
        "unknown_id",
        by_lorry(driven_by=(PersonId("bob"),)),
        (*MEANS0, "driven_by", 0),
        {"sort": "person", "nearest": "bo"},
    ),
    ("drivers_count", by_lorry(drivers=3), (*MEANS0, "drivers"), {"drivers": 3}),
    (
        "drivers_not_as_named",
        by_lorry(driven_by=(PersonId("bo"), PersonId("ann"))),
        (*MEANS0, "driven_by"),
        {"named": 2, "drivers": 1},
    ),
    (
        "driving_rows",
        by_lorry(driving=(Driving(as_of=AS_OF), Driving(as_of=AS_OF))),
        (*MEANS0, "driving"),
        {"rows": 2, "drivers": 1},
    ),
    (
        "rest_ends_later",
        by_lorry(driving=(Driving(as_of=AS_OF, weekly_rest_ended=at("2026-02-03 06:00")),)),
        (*MEANS0, "driving", 0, "weekly_rest_ended"),
        {},
    ),
    (
        "below_zero",
        by_lorry(driving=(Driving(as_of=AS_OF, reduced_rests=-1),)),
        (*MEANS0, "driving", 0, "reduced_rests"),
        {},
    ),
    (
        "above_limit",
        by_lorry(driving=(Driving(as_of=AS_OF, week_hours=Decimal(169)),)),
        (*MEANS0, "driving", 0, "week_hours"),
        {},
    ),
    ("means_without_vehicle", by_lorry(vehicles=()), (*MEANS0, "vehicles"), {"means": "lorry"}),
    (
        "vehicles_beside_means",
        by_means(BY_LORRY, vehicles=(EquipmentId("lorry"),)),
        (*JOURNEY, "vehicles"),
        {},
    ),
    (
        "not_a_vehicle",
        by_lorry(vehicles=(EquipmentId("crane"),)),
        (*MEANS0, "vehicles", 0),
        {},
    ),
    (
        "mass_unknown",
        going(ROAD, vehicles=(EquipmentId("van"),)),
        (*JOURNEY, "vehicles", 0),
        {},
    ),
    (
        "abnormal_unsaid",
        going(ROAD, means=(BY_LORRY,), job={"segments": (WIDE,)}),
        (*MEANS0, "abnormal"),
        {"segment": "Wide", "width_m": "3.0", "limit": "2.9"},
    ),
    ("below_zero", going(ROAD, reserve_minutes=-1), (*JOURNEY, "reserve_minutes"), {}),
    ("above_limit", going(ROAD, reserve_minutes=241), (*JOURNEY, "reserve_minutes"), {}),
    ("below_zero", going(ROAD, stands_most_minutes=-1), (*JOURNEY, "stands_most_minutes"), {}),
    ("not_above_zero", going(ROAD, longest_days=Decimal(0)), (*JOURNEY, "longest_days"), {}),
    ("above_limit", going(ROAD, longest_days=Decimal(32)), (*JOURNEY, "longest_days"), {}),
    ("unknown_id", arranged(journey=StepId("x")), ("jobs", 0, "arrangements", 0, "journey"), {}),
    (
        "not_a_journey",
        arranged(journey=a_stage().id),
        ("jobs", 0, "arrangements", 0, "journey"),
        {},
    ),
    ("leg_of_no_journey", arranged(leg=1), ("jobs", 0, "arrangements", 0, "leg"), {"leg": 1}),
    (
        "no_such_leg",
        arranged(journey=TRIP, leg=3),
        ("jobs", 0, "arrangements", 0, "leg"),
        {"leg": 3, "legs": 2},
    ),
    (
        "ends_before_start",
        arranged(start=STRETCH.end, end=STRETCH.start),
        ("jobs", 0, "arrangements", 0, "end"),
        {},
    ),
    ("below_zero", arranged(price=Decimal(-1)), ("jobs", 0, "arrangements", 0, "price"), {}),
    (
        "id_doubled",
        going(ROAD, job={"arrangements": (Arrangement(id="a", what="crane"),) * 2}),
        ("jobs", 0, "arrangements", 1, "id"),
        {"sort": "arrangement"},
    ),
    ("unknown_country", noticed(country="XX"), ("jobs", 0, "notices", 0, "country"), {}),
    ("unknown_zone", noticed(zone="Nowhere"), ("jobs", 0, "notices", 0, "zone"), {}),
    ("unknown_id", noticed(journey=StepId("x")), ("jobs", 0, "notices", 0, "journey"), {}),
    ("below_zero", noticed(lead=-1), ("jobs", 0, "notices", 0, "lead"), {}),
    ("id_empty", noticed(id=""), ("jobs", 0, "notices", 0, "id"), {"sort": "notice"}),
    ("not_above_zero", a_book(equipment=(replace(LORRY, gross_t=Decimal(0)),)),
     ("equipment", 0, "gross_t"), {}),
]  # fmt: skip

FINE: list[Book] = [
    by_lorry(),
    by_lorry(rules="gb_domestic", driven_by=(PersonId("bo"),), driving=(Driving(as_of=AS_OF),)),
    by_lorry(drivers=2, rules="eu_two_drivers"),
    going(ROAD, on_board(days_later=1, arrives=time(8)), means=(BY_LORRY,)),
    going(ROAD, on_board(first=date(2026, 2, 1), last=date(2026, 3, 1)), means=(BY_LORRY,)),
    going(ROAD, a_sailing(arrives=time(11, 45)), means=(BY_LORRY,)),
    going(ROAD, a_sailing(arrives=time(10, 15), arrives_zone="Europe/Paris"), means=(BY_LORRY,)),
    shared_by(a_share("33.3"), a_share("66.7", "FR", area="auvergne-rhone-alpes")),
    shared_by(a_share("100", "DE", subdivision="BY", listed=True)),
    going(ROAD, a_leg(LegKind.LIFT, inside=True, slots=(STRETCH,)), means=(BY_LORRY,)),
    going(ROAD, means=(BY_LORRY,), job={"windows": (a_window(blocked=(STRETCH,)),)}),
    going(ROAD, means=(BY_LORRY,), travel=(ROAD,), travel_vehicles=(EquipmentId("van"),)),
    going_by(
        a_journey("heron-journey", legs=(ROAD, ON_SITE, a_leg(LegKind.RETURN)), means=(BY_LORRY,))
    ),
    arranged(journey=TRIP, leg=2, start=STRETCH.start, end=STRETCH.end),
    noticed(journey=TRIP, country="GB", subdivision="SCT", zone="Europe/London"),
    going(ROAD, means=(replace(BY_LORRY, abnormal=True),), job={"segments": (WIDE,)}),
    going(ROAD, means=(BY_LORRY,), job={"segments": (replace(WIDE, height_m=Decimal("2.9")),)}),
    # A week's way for work on site that comes two weeks before the window.
    going(
        ROAD,
        replace(
            on_board(), timetable=(), departures=(departs("2026-02-09 08:00", "2026-02-09 19:00"),)
        ),
        means=(BY_LORRY,),
    ),
    # Not judged: any drive, as before.
    going(a_leg()),
    going(a_leg(LegKind.CARRY, minutes=0)),
]
"""Books near to wrong, of which nothing is told."""

WRONG_IN_MANY: Book = going_by(
    a_journey(
        "heron-journey",
        legs=(
            replace(ROAD, country=None, rules="561", speed_kmh=Decimal(-5), driving_minutes=-1),
            a_sailing(weekdays=(9,), zone="Nowhere", last=date(2020, 1, 1), days_later=-4),
            a_leg(LegKind.RETURN, minutes=0),
            a_leg(
                LegKind.SAILING,
                departures=(departs("2026-03-02 19:00", "2026-03-02 09:00"),),
            ),
        ),
        means=(Means(id="", drivers=0, vehicles=(EquipmentId("none"),), rules="x"),),
        travel=(a_leg(LegKind.SIGN_OFF),),
        longest_days=Decimal(-1),
    ),
    arrangements=(Arrangement(id="", what="", leg=0, journey=StepId("none")),),
    notices=(Notice(id="", name="", lead=-1, counted=Counted.WEEKS, country="", zone=""),),
)  # fmt: skip

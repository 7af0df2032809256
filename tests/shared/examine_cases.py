"""One book for each thing that can be wrong with names, numbers, hours, places and people."""

from decimal import Decimal
from typing import Any

from shared.book import (
    Act,
    Apart,
    Booking,
    Closure,
    Engaged,
    EngagementState,
    ExtraHours,
    Kind,
    Leave,
    Offer,
    Opening,
    Person,
    Pin,
    PlaceKind,
    Reading,
    Temperature,
)
from shared.ids import OfferId, PlaceId, StepId, WindowId
from tests.builders import (
    NOW,
    a_book,
    a_break,
    a_client,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_need,
    a_person,
    a_place,
    a_route,
    a_segment,
    a_shift,
    a_site,
    a_stage,
    a_way,
    a_window,
    an_equipment,
    an_other_work,
    at,
    on,
)
from tests.shared.examine_books import (
    EARLIER,
    JOURNEY,
    LATER,
    STEP0,
    TEN,
    Case,
    departs,
    sailing,
    with_leg,
    with_segments,
    with_step,
    with_way,
    with_workshop,
)


def _part(area_m2: str) -> Booking:
    return Booking(start=TEN, end=at("2026-02-03 10:00"), area_m2=Decimal(area_m2))


def _freelancer(first: str = "2026-02-02", last: str = "2026-02-06", **changes: Any) -> Person:
    """Somebody confirmed for a day, and pencilled for some more."""
    days = (
        Engaged(first=on(first), last=on(last), state=EngagementState.PENCILLED),
        Engaged(first=on("2026-03-02"), last=on("2026-03-06"), state=EngagementState.CONFIRMED),
    )
    return a_person("bo", freelance=True, engaged=days, **changes)


CASES: list[Case] = [
    ("id_empty", a_book(people=(a_person(), a_person(" "))), ("people", 1, "id"), {}),
    (
        "id_doubled",
        a_book(people=(a_person(), a_person(name="Another"))),
        ("people", 1, "id"),
        {"sort": "person", "id": "ana"},
    ),
    (
        "id_doubled",
        a_book(a_job("heron"), a_job("otter", steps=(a_stage("heron-carve"),))),
        ("jobs", 1, "steps", 0, "id"),
        {"sort": "step"},
    ),
    (
        "id_doubled",
        with_step(a_stage(ways=(a_way(), a_way()))),
        (*STEP0, "ways", 1, "id"),
        {"sort": "way"},
    ),
    (
        "id_doubled",
        a_book(a_job(windows=(a_window(), a_window()))),
        ("jobs", 0, "windows", 1, "id"),
        {"sort": "window"},
    ),
    (
        "id_doubled",
        a_book(routes=(a_route(steps=(a_stage(), a_stage())),)),
        ("routes", 0, "steps", 1, "id"),
        {"sort": "step"},
    ),
    ("name_empty", a_book(places=(a_place(name=" "),)), ("places", 0, "name"), {"sort": "place"}),
    (
        "unknown_id",
        with_way(places=("bax",)),
        (*STEP0, "ways", 0, "places", 0),
        {"sort": "place", "id": "bax", "nearest": "bay"},
    ),
    (
        "unknown_id",
        with_step(a_stage(segments=("heron-torsa",))),
        (*STEP0, "segments", 0),
        {"sort": "segment", "nearest": "heron-torso"},
    ),
    (
        "unknown_id",
        a_book(a_job(window=WindowId("heron-windaw"))),
        ("jobs", 0, "window"),
        {"sort": "window", "nearest": "heron-window"},
    ),
    (
        "unknown_id",
        a_book(facts=(a_fact(step="heron-carv"),)),
        ("facts", 0, "step"),
        {"sort": "step", "nearest": "heron-carve"},
    ),
    (
        "unknown_id",
        a_book(facts=(a_fact(way="banch"),)),
        ("facts", 0, "way"),
        {"sort": "way", "nearest": "bench"},
    ),
    (
        "unknown_id",
        a_book(a_job(steps=(a_stage(), a_gate(), a_journey(crew=("bo",), vehicles=("van",))))),
        (*JOURNEY, "crew", 0),
        {"sort": "person"},
    ),
    (
        "unknown_id",
        with_step(a_stage(same_people_as=StepId("nothing like it"))),
        (*STEP0, "same_people_as"),
        {"nearest": None},
    ),
    (
        "unknown_id",
        a_book(routes=(a_route(steps=(a_stage("block", segments=("torso",)),)),)),
        ("routes", 0, "steps", 0, "segments", 0),
        {"sort": "segment"},
    ),
    (
        "unknown_id",
        with_step(a_stage(pin=Pin(people=(a_person("cleo").id,)))),
        (*STEP0, "pin", "people", 0),
        {"sort": "person"},
    ),
    (
        "unknown_id",
        a_book(other_work=(an_other_work(equipment=("lathe",)),)),
        ("other_work", 0, "equipment", 0),
        {"sort": "equipment"},
    ),
    (
        "id_of_other_job",
        a_book(a_job("heron"), a_job("otter", steps=(a_stage(segments=("heron-torso",)),))),
        ("jobs", 1, "steps", 0, "segments", 0),
        {"sort": "segment", "job": "Heron"},
    ),
    (
        "named_twice",
        with_step(a_stage(segments=("heron-torso", "heron-torso"))),
        (*STEP0, "segments", 1),
        {"id": "heron-torso"},
    ),
    (
        "offer_about_unknown",
        a_book(offers=(Offer(id=OfferId("o"), name="Heat", kind="heating", about=("bey",)),)),
        ("offers", 0, "about", 0),
        {"nearest": "bay"},
    ),
    (
        "below_zero",
        with_step(a_stage(cure_hours="-0.5")),
        (*STEP0, "cure_hours"),
        {"field": "cure_hours", "value": "-0.5"},
    ),
    ("below_zero", with_workshop(watch_minutes=-1), ("workshop", "watch_minutes"), {"value": "-1"}),
    ("below_zero", with_leg(minutes=-5), (*JOURNEY, "legs", 0, "minutes"), {}),
    ("below_zero", with_way(hours=-1), (*STEP0, "ways", 0, "hours", "likely"), {}),
    (
        "below_zero",
        with_way(needs=(a_need(can=-1),)),
        (*STEP0, "ways", 0, "needs", 0, "can"),
        {},
    ),
    (
        "not_above_zero",
        a_book(people=(a_person(pace=Decimal(0)),)),
        ("people", 0, "pace"),
        {"field": "pace", "value": "0"},
    ),
    ("not_above_zero", with_workshop(useful_hours=Decimal(0)), ("workshop", "useful_hours"), {}),
    ("not_above_zero", a_book(places=(a_place(slots=0),)), ("places", 0, "slots"), {}),
    (
        "not_above_zero",
        with_segments(a_segment(length_m=Decimal(0))),
        ("jobs", 0, "segments", 0, "length_m"),
        {},
    ),
    (
        "not_above_zero",
        with_workshop(openings=(Opening(name="d", width_m=Decimal(0), height_m=Decimal(2)),)),
        ("workshop", "openings", 0, "width_m"),
        {},
    ),
    (
        "above_limit",
        with_workshop(pair_loss_percent=Decimal(101)),
        ("workshop", "pair_loss_percent"),
        {"value": "101", "limit": 100},
    ),
    (
        "above_limit",
        with_workshop(
            readings=(Reading(at=NOW, celsius=Decimal(9), humidity_percent=Decimal("100.5")),)
        ),
        ("workshop", "readings", 0, "humidity_percent"),
        {},
    ),
    (
        "low_above_high",
        with_segments(a_segment(mass_low_kg=Decimal(70))),
        ("jobs", 0, "segments", 0, "mass_high_kg"),
        {"low": "70", "high": "60"},
    ),
    (
        "days_reversed",
        with_workshop(closures=(Closure(first=LATER, last=EARLIER),)),
        ("workshop", "closures", 0, "last"),
        {"first": "2026-02-09", "last": "2026-02-02"},
    ),
    (
        "days_reversed",
        a_book(people=(a_person(engaged=(Engaged(first=LATER, last=EARLIER),)),)),
        ("people", 0, "engaged", 0, "last"),
        {},
    ),
    (
        "days_reversed",
        a_book(
            equipment=(an_equipment(usable_from=on("2026-02-02"), usable_until=on("2026-02-01")),)
        ),
        ("equipment", 0, "usable_until"),
        {},
    ),
    (
        "ends_before_start",
        a_book(a_job(windows=(a_window(start="2026-03-06 18:00", end="2026-03-02 08:00"),))),
        ("jobs", 0, "windows", 0, "end"),
        {"start": "2026-03-06T18:00:00Z", "end": "2026-03-02T08:00:00Z"},
    ),
    (
        "ends_before_start",
        a_book(a_job(windows=(a_window(start="2026-03-02 08:00", end="2026-03-02 08:00"),))),
        ("jobs", 0, "windows", 0, "end"),
        {},
    ),
    (
        "ends_before_start",
        a_book(
            people=(
                a_person(
                    leave=(Leave(start=TEN, end=TEN),),
                    overtime_taken=(ExtraHours(start=TEN, end=TEN),),
                ),
            )
        ),
        ("people", 0, "leave", 0, "end"),
        {},
    ),
    (
        "ends_before_start",
        a_book(places=(a_place(bookings=(Booking(start=TEN, end=TEN),)),)),
        ("places", 0, "bookings", 0, "end"),
        {},
    ),
    (
        "ends_before_start",
        sailing(departs("2026-02-20 09:00", "2026-02-20 09:00")),
        (*JOURNEY, "legs", 0, "departures", 0, "arrives"),
        {},
    ),
    ("no_shifts", with_workshop(shifts=()), ("workshop", "shifts"), {}),
    ("no_shifts", with_workshop(shifts=(a_shift(days=()),)), ("workshop", "shifts"), {}),
    (
        "shift_without_days",
        with_workshop(shifts=(a_shift(), a_shift(days=()))),
        ("workshop", "shifts", 1, "days"),
        {},
    ),
    (
        "break_outside_shift",
        with_workshop(shifts=(a_shift(breaks=(a_break("15:45", "16:15"),)),)),
        ("workshop", "shifts", 0, "breaks", 0),
        {"start": "15:45", "end": "16:15"},
    ),
    (
        "unknown_zone",
        with_workshop(zone="Europe/Lundon"),
        ("workshop", "zone"),
        {"zone": "Europe/Lundon", "nearest": "Europe/London"},
    ),
    (
        "unknown_zone",
        with_leg(zone="Mars/Base", opens=(a_shift(),)),
        (*JOURNEY, "legs", 0, "zone"),
        {"zone": "Mars/Base"},
    ),
    (
        "unknown_country",
        a_book(a_job(site=a_site(country="XX", subdivision=None))),
        ("jobs", 0, "site", "country"),
        {"country": "XX"},
    ),
    (
        "unknown_subdivision",
        a_book(a_job(client=a_client(subdivision="Wessex"))),
        ("jobs", 0, "client", "subdivision"),
        {"country": "GB", "subdivision": "Wessex"},
    ),
    (
        "unknown_holiday_category",
        with_workshop(holiday_categories=("feast",)),
        ("workshop", "holiday_categories", 0),
        {"category": "feast"},
    ),
    (
        "useful_above_shift",
        with_workshop(useful_hours=Decimal("8.5")),
        ("workshop", "useful_hours"),
        {"useful_hours": "8.5", "shift_hours": "8"},
    ),
    (
        "unknown_month",
        with_workshop(
            temperatures=(
                Temperature(months=(12, 13), day_celsius=Decimal(9), night_celsius=Decimal(5)),
            )
        ),
        ("workshop", "temperatures", 0, "months", 1),
        {"month": 13},
    ),
    ("odd_currency", with_workshop(currency="euro"), ("workshop", "currency"), {}),
    (
        "place_with_area_and_slots",
        a_book(places=(a_place(area_m2=Decimal(10)),)),
        ("places", 0),
        {"area_m2": "10", "slots": 1},
    ),
    (
        "stands_where_nothing_stands",
        with_step(a_stage(moves_to=PlaceId("bay"))),
        (*STEP0, "moves_to"),
        {"place": "bay"},
    ),
    (
        "unknown_id",
        with_step(a_stage(moves_to=PlaceId("hal"))),
        (*STEP0, "moves_to"),
        {"sort": "place", "nearest": "hall"},
    ),
    ("below_zero", with_step(a_stage(wet_hours=Decimal(-1))), (*STEP0, "wet_hours"), {}),
    (
        "below_zero",
        with_workshop(apart=(Apart(first=Act.DUST, second=Act.WET, minutes=-1),)),
        ("workshop", "apart", 0, "minutes"),
        {},
    ),
    (
        "below_zero",
        a_book(places=(a_place(), a_floor(bookings=(_part("-1"),)))),
        ("places", 1, "bookings", 0, "area_m2"),
        {},
    ),
    (
        "booking_without_area",
        a_book(places=(a_place(bookings=(_part("2"),)),)),
        ("places", 0, "bookings", 0, "area_m2"),
        {"area_m2": "2"},
    ),
    (
        "no_place_of_kind",
        with_way(place_kinds=(PlaceKind.BAY, PlaceKind.YARD)),
        (*STEP0, "ways", 0, "place_kinds", 1),
        {"kind": "yard"},
    ),
    (
        "lifted_alone",
        with_step(a_stage(kind=Kind.PACK, does=(Act.LIFT,))),
        (*STEP0, "ways", 0),
        {"mass_kg": "60", "limit_kg": "25"},
    ),
    (
        "stands_where_nothing_stands",
        with_segments(a_segment(stands=PlaceId("bay"))),
        ("jobs", 0, "segments", 0, "stands"),
        {"place": "bay"},
    ),
    (
        "skill_doubled",
        a_book(people=(a_person(skills=("carve", "carve")),)),
        ("people", 0, "skills", 1),
        {"skill": "carve"},
    ),
    (
        "freelance_without_days",
        a_book(people=(a_person(), a_person("bo", freelance=True))),
        ("people", 1, "engaged"),
        {},
    ),
    (
        "engaged_too_short",
        a_book(people=(a_person(), _freelancer("2026-02-02", "2026-02-03", least_days=3))),
        ("people", 1, "engaged", 0),
        {"days_count": 2, "least_count": 3},
    ),
    (
        "cancel_soon",
        a_book(people=(a_person(), _freelancer(cancel_by=on("2026-01-12")))),
        ("people", 1, "cancel_by"),
        {"until": "2026-01-12", "first": "2026-02-02"},
    ),
]

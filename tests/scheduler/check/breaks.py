"""One change for every rule: what it is about, and how a sound plan comes to break it."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any

from scheduler.rules import Rule
from shared.book import Act, Apart, Book, Booking, Closure, FactKind, Leave, Opening, Pin
from shared.ids import EquipmentId, JobId, PersonId, PlaceId, StepId
from shared.plan import LegTime, Plan, Unplaced
from tests.builders import a_fact, a_told, an_after, an_other_work, at, on
from tests.scheduler.check.change import (
    Change,
    Pair,
    damp,
    is_slot,
    job_changed,
    moved,
    person_changed,
    place_changed,
    retimed,
    step_changed,
    thing_changed,
    trip_changed,
)


def _book(change: Callable[..., Book], *where: Any, **changes: Any) -> Change:
    """Change the book alone."""
    return lambda book, plan: (change(book, *where, **changes), plan)


def _plan(change: Callable[..., Plan], *where: Any, **changes: Any) -> Change:
    """Change the plan alone."""
    return lambda book, plan: (book, change(plan, *where, **changes))


def fields(**changes: Any) -> Change:
    return lambda book, plan: (replace(book, **changes), plan)


def workshop(**changes: Any) -> Change:
    return lambda book, plan: (
        replace(book, workshop=replace(book.workshop, **changes)),
        plan,
    )


def _shut(first: str, last: str) -> tuple[Closure, ...]:
    return (Closure(first=on(first), last=on(last)),)


def _booked(start: str, end: str) -> tuple[Booking, ...]:
    return (Booking(start=at(start), end=at(end)),)


def _other(start: str, end: str, **more: Any) -> Change:
    return fields(other_work=(an_other_work(start=at(start), end=at(end), **more),))


def without(plan: Plan, step: str, number: int = 0, part: str = "") -> Plan:
    kept = tuple(each for each in plan.placements if not is_slot(each, step, number, part))
    assert len(kept) == len(plan.placements) - 1
    return replace(plan, placements=kept)


def _doubled(plan: Plan, step: str) -> Plan:
    again = tuple(each for each in plan.placements if each.step == step)
    return replace(plan, placements=(*plan.placements, *again))


def also_unplaced(plan: Plan, step: str, code: str) -> Plan:
    extra = Unplaced(job=JobId("fox"), step=StepId(step), code=code)
    return replace(plan, unplaced=(extra,))


def _no_reason(plan: Plan) -> Plan:
    return also_unplaced(without(plan, "pack"), "pack", "")


def _all_jobs(plan: Plan, *jobs: str) -> Plan:
    return replace(plan, jobs=tuple(JobId(job) for job in jobs))


def _with_fact(book: Book, plan: Plan, **fact: Any) -> Pair:
    return replace(book, facts=(*book.facts, a_fact(**fact))), plan


def _fact(**fact: Any) -> Change:
    return lambda book, plan: _with_fact(book, plan, **fact)


def _leg(plan: Plan, number: int, **changes: Any) -> Plan:
    legs = list(plan.trips[0].legs)
    legs[number] = replace(legs[number], **changes)
    return trip_changed(plan, legs=tuple(legs))


def _people(*names: str) -> tuple[PersonId, ...]:
    return tuple(PersonId(name) for name in names)


def _left_alone(book: Book, plan: Plan) -> Pair:
    """Let nobody spray alone, and the only other be on leave that day."""
    book = person_changed(
        book, "ivo", leave=(Leave(start=at(f"{SPRAYED} 00:00"), end=at(f"{SPRAYED} 23:00")),)
    )
    return workshop(never_alone=(Act.SPRAY,))(book, plan)


def _left_by_the_lorry(book: Book, plan: Plan) -> Pair:
    """Laminate alone while the only other is away with the lorry."""
    plan = retimed(plan, "skin-head", "2027-03-17 08:00", "2027-03-17 12:00")
    return workshop(never_alone=(Act.RESIN,))(book, plan)


def _two_in_a_morning(book: Book, plan: Plan) -> Pair:
    """Carve two pieces in a morning in which one is allowed."""
    plan = retimed(plan, "carve-wren", "2027-03-02 10:00", "2027-03-02 15:00")
    return workshop(pieces_per_half_day=1)(book, plan)


def _still_wet(book: Book, plan: Plan) -> Pair:
    """Load a coat that the trial fit didn't wait for, an hour before it is cured."""
    book = step_changed(book, "fit", after=(an_after("approve"),))
    return step_changed(book, "coat-head", cure_hours=Decimal(27)), plan


SPRAYED = "2027-03-09"


def _told_for_nine(book: Book, plan: Plan) -> Pair:
    told = retimed(plan, "carve", "2027-03-01 09:00", "2027-03-03 09:00")
    return replace(book, told=a_told(told)), plan


CHAIN: list[tuple[Rule, str, Change]] = [
    (Rule.TEMPERATURE, "lacquer", _book(step_changed, "lacquer", coldest_celsius=Decimal(21))),
    (Rule.TEMPERATURE, "lacquer", _book(step_changed, "lacquer", warmest_celsius=Decimal(19))),
    (Rule.HUMIDITY, "lacquer", _book(damp, "lacquer", most_humidity_percent=Decimal(79))),
    (Rule.DEW_POINT, "lacquer", _book(damp, "lacquer", dew_point_margin_celsius=Decimal(4))),
    (Rule.TOLD, "carve", _told_for_nine),
    (Rule.MISSING_STEP, "sand", _plan(without, "sand")),
    (Rule.TWICE, "sand", _plan(_doubled, "sand")),
    (Rule.TWICE, "sand", _plan(also_unplaced, "sand", "nobody_can")),
    (Rule.TWICE, "fox", _plan(_all_jobs, "fox", "fox")),
    (Rule.NO_REASON, "pack", _plan(_no_reason)),
    (Rule.UNKNOWN_STEP, "polish", _plan(moved, "sand", step=StepId("polish"))),
    (Rule.UNKNOWN_STEP, "sand", _plan(moved, "sand", part="abrade")),
    (Rule.UNKNOWN_STEP, "sand", _plan(moved, "sand", round=1)),
    (Rule.UNKNOWN_STEP, "sand", _plan(_all_jobs)),
    (Rule.UNKNOWN_THING, "owl", _plan(_all_jobs, "fox", "owl")),
    (Rule.UNKNOWN_THING, "sand", _plan(moved, "sand", people=_people("nobody"))),
    (Rule.UNKNOWN_THING, "sand", _plan(moved, "sand", place=PlaceId("attic"))),
    (Rule.UNKNOWN_THING, "sand", _plan(moved, "sand", equipment=(EquipmentId("drill"),))),
    (Rule.BACKWARDS, "sand", _plan(retimed, "sand", "2027-03-08 08:00", "2027-03-05 15:00")),
    (Rule.OFF_GRID, "sand", _plan(retimed, "sand", "2027-03-08 08:05", "2027-03-08 15:05")),
    (Rule.OFF_GRID, "sand", _plan(moved, "sand", end=at("2027-03-08 15:00:00.000001"))),
    (Rule.BEFORE_NOW, "carve", _plan(retimed, "carve", "2027-02-26 08:00", "2027-03-01 17:00")),
    (Rule.NOT_BEFORE, "carve", _book(job_changed, "fox", not_before=on("2027-03-02"))),
    (Rule.NOT_BEFORE, "sand", _book(step_changed, "sand", not_before=on("2027-03-09"))),
    (
        Rule.NOT_BEFORE,
        "sand",
        _book(step_changed, "sand", pin=Pin(not_before=at("2027-03-08 08:15"))),
    ),
    (Rule.PIN, "sand", _book(step_changed, "sand", pin=Pin(start=at("2027-03-08 09:00")))),
    (Rule.PIN, "sand", _book(step_changed, "sand", pin=Pin(day=on("2027-03-09")))),
    (Rule.ASKED, "sand", _book(step_changed, "sand", people=_people("pia"))),
    (Rule.ASKED, "sand", _book(step_changed, "sand", pin=Pin(people=_people("pia")))),
    (Rule.WAY, "sand", _plan(moved, "sand", way="by night")),
    (Rule.TEAM, "sand", _plan(moved, "sand", people=_people("ivo", "pia"))),
    (Rule.TEAM, "sand", _plan(moved, "sand", people=())),
    (Rule.SKILL, "sand", _plan(moved, "sand", people=_people("pia"))),
    (Rule.CERTIFICATE, "lacquer", _book(step_changed, "lacquer", certificates=("isocyanates",))),
    (Rule.SAME_PEOPLE, "lacquer", _book(step_changed, "lacquer", same_people_as=StepId("sand"))),
    (Rule.COMPANY, "lacquer", _left_alone),
    (Rule.SANDING, "sand", _book(step_changed, "sand", does=(Act.POWER_SAND,))),
    (Rule.HOURS, "sand", _plan(retimed, "sand", "2027-03-08 07:45", "2027-03-08 15:00")),
    (Rule.DURATION, "sand", _plan(retimed, "sand", "2027-03-08 08:00", "2027-03-08 14:45")),
    (Rule.DURATION, "sand", _plan(retimed, "sand", "2027-03-08 08:00", "2027-03-08 15:15")),
    (Rule.DURATION, "carve", _plan(retimed, "carve", "2027-03-01 08:00", "2027-03-02 17:15")),
    (Rule.DURATION, "sand", _book(person_changed, "ivo", pace=Decimal("0.9"))),
    (Rule.DURATION, "sand", workshop(useful_hours=Decimal("6.5"))),
    (Rule.DURATION, "sand", workshop(closures=_shut("2027-03-08", "2027-03-08"))),
    (Rule.ONE_GO, "sand", _book(step_changed, "sand", in_one_go=True)),
    (Rule.WATCH, "lay-up", workshop(watch_minutes=15)),
    (Rule.WATCH, "lacquer", _book(step_changed, "lacquer", watch_minutes=75)),
    (Rule.PAUSE, "pack", workshop(longest_pause_days=2)),
    (Rule.PAUSE, "pack", _book(step_changed, "pack", longest_pause_days=0)),
    (Rule.ORDER, "barrier", _book(step_changed, "barrier", after=(an_after("lay-up"),))),
    (Rule.CURE, "lay-up", _book(step_changed, "barrier", cure_hours=Decimal("25.01"))),
    (Rule.CURE, "pack", _book(step_changed, "pack", after=(an_after("lacquer", "72.01"),))),
    (
        Rule.CURE,
        "sand",
        _book(step_changed, "sand", after=(an_after("lay-up", "91.01", from_start=True),)),
    ),
    (Rule.RECOAT, "lay-up", _book(step_changed, "barrier", recoat_hours=Decimal("24.99"))),
    (
        Rule.RECOAT,
        "sand",
        _book(step_changed, "sand", after=(an_after("lay-up", most_hours=Decimal(86)),)),
    ),
    (
        Rule.RECOAT,
        "sand",
        _book(
            step_changed,
            "sand",
            after=(an_after("lay-up", most_hours=Decimal(90), from_start=True),),
        ),
    ),
    (
        Rule.PERSON_TWICE,
        "lacquer",
        _plan(retimed, "lacquer", "2027-03-09 09:00", "2027-03-09 12:00"),
    ),
    # Lay-up ends Thursday 17:00, sanding begins Monday 8:00: 87 h, or 5220 minutes.
    (
        Rule.SHARED_AIR,
        "sand",
        workshop(apart=(Apart(first=Act.RESIN, second=Act.DUST, minutes=5221),)),
    ),
    # As moved 2.1 x 1.1 x 1.1 m and 0.15 m of skates: 1.1 m across a door of 0.9 m.
    (
        Rule.SIZE,
        "carve",
        workshop(openings=(Opening(name="Hatch", width_m=Decimal("0.9"), height_m=Decimal(2)),)),
    ),
    (Rule.OPEN_SPRAYING, "sand", _book(step_changed, "sand", does=(Act.ISOCYANATE,))),
    (Rule.PLACE, "sand", _plan(moved, "sand", place=PlaceId("booth"))),
    (Rule.PLACE, "sand", _plan(moved, "sand", place=None)),
    (Rule.PLACE_SHUT, "sand", _book(place_changed, "bay", usable_until=on("2027-03-07"))),
    (Rule.PLACE_SHUT, "carve", _book(place_changed, "bay", usable_from=on("2027-03-02"))),
    (
        Rule.PLACE_SHUT,
        "carve",
        _book(place_changed, "bay", closures=_shut("2027-03-02", "2027-03-02")),
    ),
]

DELIVERY: list[tuple[Rule, str, Change]] = [
    (Rule.COMPANY, "skin-head", _left_by_the_lorry),
    (Rule.PIECES, "carve-wren", _two_in_a_morning),
    (Rule.UNKNOWN_STEP, "carve-wren", _plan(moved, "carve-wren", job=JobId("gull"))),
    (Rule.UNKNOWN_STEP, "delivery", _plan(moved, "carve-base", step=StepId("delivery"))),
    (Rule.MASS, "carve-base", _book(thing_changed, "lorry", payload_kg=Decimal("39.9"))),
    # As moved the base is 3.1 m long and 1.1 m wide, on its end 3.25 m high.
    (
        Rule.SIZE,
        "carve-base",
        _book(
            thing_changed,
            "lorry",
            inside_length_m=Decimal(3),
            inside_width_m=Decimal(3),
            inside_height_m=Decimal(3),
        ),
    ),
    (Rule.MISSING_STEP, "delivery", lambda book, plan: (book, replace(plan, trips=()))),
    (Rule.TWICE, "delivery", lambda book, plan: (book, replace(plan, trips=plan.trips * 2))),
    (Rule.MISSING_STEP, "approve", _plan(without, "approve", 2)),
    (Rule.MISSING_STEP, "approve", _plan(without, "approve", 1, "rework")),
    (Rule.OFF_GRID, "delivery", _plan(trip_changed, start=at("2027-03-16 14:20"))),
    (Rule.BEFORE_NOW, "delivery", _plan(trip_changed, start=at("2027-02-26 14:15"))),
    (Rule.TEAM, "fit", _plan(moved, "fit", people=_people("ivo"))),
    (Rule.WAY, "fit", _plan(moved, "fit", way="bench")),
    (Rule.TEAM, "carve-head", _plan(moved, "carve-head", people=_people("mia", "mia"))),
    (Rule.DURATION, "carve-head", workshop(pair_loss_percent=Decimal(6))),
    (Rule.DURATION, "fit", _plan(moved, "fit", end=at("2027-03-16 11:15"))),
    (Rule.RECOAT, "coat-head", _plan(without, "coat-head", 0, "abrade")),
    # Sanded 68 h after the skin, coated after 69: the wait is for the coat.
    (
        Rule.RECOAT,
        "coat-head",
        _book(step_changed, "coat-head", after=(an_after("skin-head", most_hours=Decimal(68)),)),
    ),
    (
        Rule.ORDER,
        "coat-head",
        _plan(retimed, "coat-head", "2027-03-15 09:00", "2027-03-15 10:00", part="abrade"),
    ),
    (Rule.CURE, "fit", _plan(retimed, "fit", "2027-03-16 10:45", "2027-03-16 10:45")),
    (
        Rule.BEFORE_ANSWER,
        "skin-head",
        _plan(retimed, "skin-head", "2027-03-11 08:00", "2027-03-11 12:00"),
    ),
    (
        Rule.ORDER,
        "approve",
        _plan(retimed, "approve", "2027-03-02 09:45", "2027-03-05 17:00", number=1),
    ),
    (
        Rule.ANSWER,
        "approve",
        _plan(retimed, "approve", "2027-03-02 10:00", "2027-03-05 16:45", number=1),
    ),
    (
        Rule.ANSWER,
        "approve",
        _plan(retimed, "approve", "2027-03-02 10:00", "2027-03-05 17:15", number=1),
    ),
    (Rule.ANSWER, "approve", _book(step_changed, "approve", answer_days=4)),
    (
        Rule.ROUND,
        "approve",
        _plan(retimed, "approve", "2027-03-08 09:45", "2027-03-11 17:00", number=2),
    ),
    (
        Rule.ROUND,
        "approve",
        _plan(retimed, "approve", "2027-03-05 14:00", "2027-03-05 16:00", number=1, part="rework"),
    ),
    (Rule.LOADING, "loading", _plan(retimed, "loading", "2027-03-16 10:45", "2027-03-16 12:00")),
    (Rule.LOADING, "loading", _still_wet),
    (Rule.REST, "carve-wren", _plan(retimed, "carve-wren", "2027-03-18 14:00", "2027-03-19 09:00")),
    (
        Rule.PERSON_TWICE,
        "carve-wren",
        _plan(retimed, "carve-wren", "2027-03-17 08:00", "2027-03-17 12:00"),
    ),
    (
        Rule.PERSON_TWICE,
        "delivery",
        _other("2027-03-18 13:00", "2027-03-18 13:30", people=_people("ivo")),
    ),
    (Rule.REST, "delivery", _other("2027-03-18 14:00", "2027-03-18 15:00", people=_people("ivo"))),
    (Rule.PLACE_FULL, "carve-wren", _book(place_changed, "bay", slots=0)),
    (
        Rule.PLACE_FULL,
        "coat-head",
        _plan(moved, "skin-head", place=PlaceId("booth"), end=at("2027-03-15 09:15")),
    ),
    (Rule.STANDING_FULL, "carve-base", _book(place_changed, "hall", area_m2=Decimal("8.11"))),
    (
        Rule.PLACE_SHUT,
        "coat-head",
        _book(place_changed, "booth", bookings=_booked("2027-03-16 11:45", "2027-03-16 13:00")),
    ),
    (
        Rule.PLACE_SHUT,
        "coat-head",
        _other("2027-03-16 02:00", "2027-03-16 03:00", places=(PlaceId("booth"),)),
    ),
    (Rule.EQUIPMENT, "carve-head", _plan(moved, "carve-head", equipment=())),
    (Rule.EQUIPMENT, "carve-base", _plan(moved, "carve-base", equipment=(EquipmentId("wire"),))),
    (Rule.EQUIPMENT_FULL, "carve-head", _book(thing_changed, "wire", count=0)),
    (Rule.EQUIPMENT_FULL, "delivery", _book(thing_changed, "lorry", count=0)),
    (Rule.EQUIPMENT_SHUT, "carve-head", _book(thing_changed, "wire", test_due=on("2027-02-28"))),
    (Rule.EQUIPMENT_SHUT, "delivery", _book(thing_changed, "lorry", usable_until=on("2027-03-17"))),
    (
        Rule.EQUIPMENT_SHUT,
        "delivery",
        _book(thing_changed, "lorry", bookings=_booked("2027-03-18 13:45", "2027-03-19 13:45")),
    ),
    (
        Rule.LEAVES_EARLY,
        "delivery",
        _plan(retimed, "loading", "2027-03-16 13:15", "2027-03-16 14:30"),
    ),
    (Rule.LEG, "delivery", _plan(_leg, number=0, end=at("2027-03-16 15:30"))),
    (Rule.LEG, "delivery", _plan(_leg, number=1, start=at("2027-03-16 15:50"))),
    (
        Rule.LEG,
        "delivery",
        lambda book, plan: (book, trip_changed(plan, legs=plan.trips[0].legs[:4])),
    ),
    (
        Rule.LEG,
        "delivery",
        lambda book, plan: (
            book,
            trip_changed(
                plan,
                legs=(
                    *plan.trips[0].legs,
                    LegTime(start=at("2027-03-18 09:00"), end=at("2027-03-18 10:00")),
                ),
            ),
        ),
    ),
    (Rule.LEG, "delivery", _plan(trip_changed, end=at("2027-03-18 08:45"))),
    (Rule.BACK, "delivery", _plan(trip_changed, back=at("2027-03-18 13:45"))),
    (Rule.BACK, "delivery", _plan(trip_changed, free=at("2027-03-19 00:45"))),
    (Rule.FACT_TIME, "carve-head", _fact(step="carve-head", at=at("2027-03-01 11:40"))),
    (
        Rule.FACT_TIME,
        "carve-head",
        _fact(step="carve-head", kind=FactKind.RUNNING, at=at("2027-03-01 07:40")),
    ),
    (
        Rule.FACT_TIME,
        "approve",
        _fact(step="approve", kind=FactKind.PICTURES, at=at("2027-03-02 09:00")),
    ),
    (
        Rule.FACT_TIME,
        "delivery",
        _fact(step="delivery", kind=FactKind.GONE, at=at("2027-03-16 15:00")),
    ),
    (
        Rule.FACT_PEOPLE,
        "carve-head",
        _fact(
            step="carve-head",
            kind=FactKind.RUNNING,
            at=at("2027-03-01 08:00"),
            remaining_hours=Decimal("7.6"),
            people=_people("tom", "mia"),
        ),
    ),
]

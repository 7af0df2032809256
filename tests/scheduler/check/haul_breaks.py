"""One change for every rule of a journey that is held to drivers' hours."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any

from scheduler.rules import Rule
from shared.book import Book, Booking, Driving, Journey, Leave, LegKind, Means, RoadShare
from shared.ids import EquipmentId, PersonId
from shared.plan import LegTime, Plan, Stretch
from tests.builders import a_break, a_leg, a_shift, an_other_work, at, on
from tests.scheduler.check.change import (
    Change,
    Pair,
    job_changed,
    person_changed,
    step_changed,
    thing_changed,
    trip_changed,
)
from tests.scheduler.check.haul import EVERY_DAY, PARTS, laid


def journey_of(book: Book) -> Journey:
    found = next(step for step in book.jobs[0].steps if step.id == "haul")
    assert isinstance(found, Journey)
    return found


def leg(number: int, **changes: Any) -> Change:
    """Change a leg of the book."""

    def changed(book: Book, plan: Plan) -> Pair:
        legs = list(journey_of(book).legs)
        legs[number] = replace(legs[number], **changes)
        return step_changed(book, "haul", legs=tuple(legs)), plan

    return changed


def departure(**changes: Any) -> Change:
    """Change the sailing of the book."""

    def changed(book: Book, plan: Plan) -> Pair:
        (ship,) = journey_of(book).legs[1].departures
        return leg(1, departures=(replace(ship, **changes),))(book, plan)

    return changed


def lorry(**changes: Any) -> Change:
    """Change the means that the trip goes by."""

    def changed(book: Book, plan: Plan) -> Pair:
        first, *others = journey_of(book).means
        means: tuple[Means, ...] = (replace(first, **changes), *others)
        return step_changed(book, "haul", means=means), plan

    return changed


def journey(**changes: Any) -> Change:
    return lambda book, plan: (step_changed(book, "haul", **changes), plan)


def thing(name: str, **changes: Any) -> Change:
    return lambda book, plan: (thing_changed(book, name, **changes), plan)


def window(**changes: Any) -> Change:
    def changed(book: Book, plan: Plan) -> Pair:
        held = replace(book.jobs[0].windows[0], **changes)
        return job_changed(book, "owl", windows=(held,)), plan

    return changed


def trip(**changes: Any) -> Change:
    return lambda book, plan: (book, trip_changed(plan, **changes))


def stretches(change: Callable[[list[Stretch]], list[Stretch]]) -> Change:
    def changed(book: Book, plan: Plan) -> Pair:
        return book, trip_changed(plan, stretches=tuple(change(list(plan.trips[0].stretches))))

    return changed


def leg_time(number: int, **changes: Any) -> Change:
    def changed(book: Book, plan: Plan) -> Pair:
        legs: list[LegTime] = list(plan.trips[0].legs)
        legs[number] = replace(legs[number], **changes)
        return book, trip_changed(plan, legs=tuple(legs))

    return changed


def busy(start: str, end: str, person: str = "ivo") -> Change:
    work = an_other_work(start=at(start), end=at(end), people=(PersonId(person),))
    return lambda book, plan: (replace(book, other_work=(work,)), plan)


def _shift(first: datetime) -> Callable[[list[Stretch]], list[Stretch]]:
    """Leave out what lies right before an instant, and leave a gap."""
    return lambda found: [each for each in found if each.end != first]


def _booked(start: str, end: str) -> tuple[Booking, ...]:
    return (Booking(start=at(start), end=at(end), name="electricians"),)


def _unrested(book: Book, plan: Plan) -> Pair:
    """Go from the quay into the morning's work: seven hours of the night are no daily rest."""
    short = at("2027-03-16 19:30")
    parts = list(PARTS)
    parts[1] = (parts[1][0], 1, 9, 0)
    legs = list(plan.trips[0].legs)
    legs[0] = LegTime(start=short, end=at("2027-03-16 19:30"))
    start = at("2027-03-16 15:30")
    legs[0] = LegTime(start=start, end=short)
    legs[1] = replace(legs[1], start=short)
    plan = trip_changed(
        plan, start=start, legs=tuple(legs), stretches=laid("2027-03-16 15:30", *parts)
    )
    return step_changed(book, "haul", stands_most_minutes=None), plan


def _on_leave(start: str, end: str) -> Change:
    away = Leave(start=at(start), end=at(end))
    return lambda book, plan: (person_changed(book, "ivo", leave=(away,)), plan)


def _works_until(day: str) -> Change:
    return lambda book, plan: (person_changed(book, "ivo", works_until=on(day)), plan)


IN_LONDON = (RoadShare(country="GB", percent=Decimal(100), area="london"),)
ONE = "haul"

HAUL: list[tuple[Rule, str, Change]] = [
    (Rule.MEANS, ONE, trip(means="cart")),
    (Rule.MEANS, ONE, trip(means=None)),
    (Rule.SIZE, ONE, thing("lorry", inside_width_m=Decimal("0.5"))),
    (Rule.MASS, ONE, thing("lorry", payload_kg=Decimal("39.9"))),
    (Rule.STRETCH, ONE, stretches(_shift(at("2027-03-17 06:15")))),
    (Rule.STRETCH, ONE, stretches(lambda found: found[:-1])),
    (Rule.STRETCH, ONE, stretches(lambda found: found[1:])),
    (Rule.STRETCH, ONE, stretches(lambda _: [])),
    (Rule.STRETCH, ONE, stretches(lambda found: [replace(found[0], leg=2), *found[1:]])),
    (Rule.LEG, ONE, leg_time(3, start=at("2027-03-17 07:15"))),
    (Rule.LEG, ONE, leg_time(4, end=at("2027-03-17 10:45"))),
    (Rule.LEG, ONE, leg(8, minutes=225)),
    (Rule.LEG_LENGTH, ONE, leg(0, driving_minutes=255)),
    (Rule.LEG_LENGTH, ONE, leg(0, driving_minutes=None, distance_km=Decimal(261))),
    (Rule.LEG_LENGTH, ONE, leg(5, hands=1)),
    (Rule.LEG_LENGTH, ONE, leg(4, minutes=45)),
    (
        Rule.LEG_LENGTH,
        ONE,
        leg(3, shares=(RoadShare(country="NL", percent=Decimal(100)),)),
    ),
    (
        Rule.LEG_LENGTH,
        ONE,
        journey(travel=(a_leg(driving_minutes=135, country="DE"),)),
    ),
    (Rule.OPENING, ONE, leg(2, opens=(a_shift("08:00", "18:00", breaks=()),))),
    (Rule.OPENING, ONE, leg(2, country="DE", opens=(a_shift("06:00", "07:45", breaks=()),))),
    (
        Rule.OPENING,
        ONE,
        window(
            access=(a_shift("09:00", "18:00", days=EVERY_DAY, breaks=(a_break("12:45", "14:00"),)),)
        ),
    ),
    (Rule.OPENING, ONE, window(start=at("2027-03-17 10:15"))),
    (Rule.SLOT, ONE, leg(5, slots=_booked("2027-03-17 10:45", "2027-03-17 12:30"))),
    (Rule.SLOT, ONE, leg(5, slots=_booked("2027-03-17 10:30", "2027-03-17 11:30"))),
    (Rule.BLOCKED, ONE, window(blocked=_booked("2027-03-17 13:20", "2027-03-17 13:30"))),
    (Rule.WHOLE, ONE, leg(6, kind=LegKind.INSPECT)),
    (Rule.SITE_CURE, ONE, leg(6, cure_hours=Decimal("2.1"))),
    (Rule.SAILING, ONE, departure(leaves=at("2027-03-16 22:15"))),
    (Rule.SAILING, ONE, departure(arrives=at("2027-03-17 06:01"))),
    (Rule.SAILING, ONE, departure(check_in_minutes=211)),
    (Rule.SAILING, ONE, leg(1, bunk=False)),
    (Rule.BAN, ONE, lambda book, plan: lorry(abnormal=True)(*leg(0, shares=IN_LONDON)(book, plan))),
    (
        Rule.DRIVING,
        ONE,
        lorry(driving=(Driving(as_of=at("2027-03-16 00:00"), week_hours=Decimal("49.25")),)),
    ),
    (Rule.DRIVING, ONE, _unrested),
    (Rule.WHEEL, ONE, lorry(rules="eu_two_drivers")),
    (Rule.WHEEL, ONE, lorry(rules="eu_two_drivers", drivers=2)),
    (Rule.TRAVEL, ONE, trip(crew_from=at("2027-03-17 08:15"))),
    (Rule.TRAVEL, ONE, trip(travel=(), crew_from=None)),
    (Rule.TRAVEL, ONE, journey(travel=(), travel_vehicles=())),
    (Rule.LONGEST, ONE, journey(longest_days=Decimal("0.8"))),
    (Rule.STANDS, ONE, journey(stands_most_minutes=14)),
    (Rule.ONE_DAY, ONE, busy("2027-03-16 21:00", "2027-03-16 21:30")),
    (Rule.ON_LEAVE, ONE, _on_leave("2027-03-17 20:00", "2027-03-18 08:00")),
    (Rule.ON_LEAVE, ONE, _on_leave("2027-03-17 07:30", "2027-03-17 08:15")),
    (Rule.ON_LEAVE, ONE, _works_until("2027-03-16")),
    (Rule.EQUIPMENT_FULL, ONE, thing("crane", count=0)),
    (Rule.EQUIPMENT_FULL, ONE, thing("van", count=0)),
    (
        Rule.EQUIPMENT_SHUT,
        ONE,
        thing("van", bookings=_booked("2027-03-17 08:00", "2027-03-17 08:30")),
    ),
    (Rule.PERSON_TWICE, ONE, busy("2027-03-17 20:00", "2027-03-17 20:30")),
    (Rule.BACK, ONE, trip(back=at("2027-03-17 20:45"))),
]
"""A change that breaks this rule, and no other."""


def riding_along(book: Book, plan: Plan) -> Pair:
    """Let ivo ride along in the lorry instead of going there by himself."""
    return (
        step_changed(book, "haul", travel=(), travel_vehicles=()),
        trip_changed(plan, travel=(), crew_from=None),
    )


def driven_by_mia(book: Book, plan: Plan) -> Pair:
    """Go with the workshop's own truck, mia at the wheel, and nobody else."""
    return (
        step_changed(book, "haul", crew=(), travel=(), travel_vehicles=()),
        trip_changed(plan, means="truck", travel=(), crew_from=None),
    )


def two_at_the_wheel(book: Book, plan: Plan) -> Pair:
    """Two hired drivers: the second drives when they are over."""
    means = Means(id="lorry", vehicles=(EquipmentId("lorry"),), drivers=2)
    book = step_changed(book, "haul", means=(means,))
    wheels = laid("2027-03-16 14:30", *PARTS, wheels=(1, 2, 2))
    return book, trip_changed(plan, stretches=wheels)

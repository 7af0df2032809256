"""What a ride comes to: its way home, its price, and when each leg is worked on."""

from dataclasses import replace
from decimal import Decimal

from scheduler.grid import DAY_STEPS, Grid
from scheduler.journey import Beside, Ride, Road, caps_of, price_of, ride, road_of, worked
from shared.book import Booking, Departure, EquipmentKind, Leg, LegKind, Window
from tests.builders import a_journey, a_leg, a_shift, a_site, a_window, a_workshop, an_equipment, at

GRID = Grid(origin=at("2026-03-01 00:00"), horizon=20 * DAY_STEPS, zone="Europe/London")
EVERY_DAY = tuple(range(7))


def a_road(*legs: Leg, back_minutes: int = 0, window: Window | None = None) -> Road:
    journey = replace(a_journey(legs=legs), back_minutes=back_minutes)
    return road_of(journey, a_site(), window or a_window(end="2026-03-08 18:00"), GRID)


def at_step(text: str) -> int:
    return GRID.up(at(text))


def leaving(road: Road, text: str) -> Ride:
    found = ride(road, at_step(text))
    assert found is not None
    return found


def a_ship(*rows: tuple[str, str, int]) -> Leg:
    """Sailings of 3 March by hours of leaving and landing, each with its price."""
    day = "2026-03-03 "
    departures = tuple(
        Departure(
            leaves=at(day + leaves),
            arrives=at(day + lands),
            check_in_minutes=30,
            price=Decimal(price),
        )
        for leaves, lands, price in rows
    )
    return a_leg(LegKind.SAILING, minutes=0, departures=departures)


def test_the_way_home_is_as_long_as_was_said_or_as_its_own_legs() -> None:
    said = a_road(a_leg(minutes=60), back_minutes=50)
    legs = a_road(a_leg(minutes=60), a_leg(LegKind.RETURN, minutes=90), back_minutes=50)

    assert leaving(said, "2026-03-03 08:00").end == at_step("2026-03-03 09:00")
    assert leaving(said, "2026-03-03 08:00").back == at_step("2026-03-03 10:00")
    assert leaving(legs, "2026-03-03 08:00").end == at_step("2026-03-03 09:00")
    assert leaving(legs, "2026-03-03 08:00").back == at_step("2026-03-03 10:30")


def test_a_way_home_by_time_at_the_wheel_has_its_break_whatever_minutes_it_has_besides() -> None:
    """5 h at the wheel: a break of 45 min after 4:30 (Regulation (EC) No 561/2006, article 7)."""
    beside = Beside(workshop=a_workshop(), equipment={}, check_in=lambda _: 60)
    home = a_leg(LegKind.RETURN, minutes=120, driving_minutes=300)
    journey = replace(a_journey(legs=(a_leg(minutes=60), home)), back_minutes=0)
    road = road_of(journey, a_site(), a_window(end="2026-03-08 18:00"), GRID, beside)

    assert leaving(road, "2026-03-03 08:00").back == at_step("2026-03-03 14:45")


def test_a_ride_costs_the_sailings_that_it_catches_and_no_others() -> None:
    """At 7:30 on the quay the ship of 8:00 is caught, at 7:45 only that of 12:00."""
    ships = a_ship(("08:00", "09:00", 120), ("12:00", "13:00", 80))
    road = a_road(a_leg(minutes=30), ships, a_leg(minutes=30))

    assert price_of(road, leaving(road, "2026-03-03 07:00")) == 120
    assert price_of(road, leaving(road, "2026-03-03 07:15")) == 80


def test_a_cure_before_the_quay_lets_the_first_ship_go() -> None:
    ships = a_ship(("08:00", "09:00", 120), ("12:00", "13:00", 80))
    road = a_road(a_leg(minutes=30, cure_hours=Decimal(1)), ships)

    assert price_of(road, leaving(road, "2026-03-03 06:00")) == 120
    assert price_of(road, leaving(road, "2026-03-03 06:15")) == 80


def test_what_a_ship_may_cost_is_asked_dearest_first() -> None:
    ships = a_ship(("08:00", "09:00", 120), ("12:00", "13:00", 80))

    assert caps_of(a_journey(legs=(a_leg(), ships))) == [(Decimal(120),), (Decimal(80),)]
    assert caps_of(a_journey(legs=(a_leg(), a_ship(("08:00", "09:00", 120))))) == [()]


def test_work_that_pauses_is_on_in_each_opening_between_its_start_and_its_end() -> None:
    """Access 8 to 12: three hours from 10:00, the rest of five on the next day."""
    access = (a_shift("08:00", "12:00", days=EVERY_DAY, breaks=()),)
    window = replace(a_window(end="2026-03-08 18:00"), start=at("2026-03-02 00:00"), access=access)
    road = a_road(
        a_leg(minutes=60),
        a_leg(LegKind.ASSEMBLE, minutes=300, inside=True),
        a_leg(LegKind.SIGN_OFF, minutes=15, inside=True),
        window=window,
    )
    found = leaving(road, "2026-03-03 08:00")

    assert worked(road, found, 0) == [(at_step("2026-03-03 08:00"), at_step("2026-03-03 09:00"))]
    assert worked(road, found, 1) == [
        (at_step("2026-03-03 09:00"), at_step("2026-03-03 12:00")),
        (at_step("2026-03-04 08:00"), at_step("2026-03-04 10:00")),
    ]


def test_others_on_the_site_are_gone_before_work_inside_begins() -> None:
    blocked = (Booking(start=at("2026-03-03 09:00"), end=at("2026-03-03 11:00")),)
    window = replace(
        a_window(end="2026-03-08 18:00"), start=at("2026-03-02 00:00"), blocked=blocked
    )
    road = a_road(
        a_leg(minutes=60), a_leg(LegKind.ASSEMBLE, minutes=60, inside=True), window=window
    )

    assert leaving(road, "2026-03-03 07:00").end == at_step("2026-03-03 09:00")
    assert leaving(road, "2026-03-03 07:30").end == at_step("2026-03-03 11:30")


def test_a_crane_that_is_booked_or_shut_keeps_a_lift_waiting() -> None:
    crane = an_equipment(
        "crane",
        kind=EquipmentKind.CRANE,
        bookings=(Booking(start=at("2026-03-03 09:00"), end=at("2026-03-03 11:00")),),
    )
    beside = Beside(
        workshop=a_workshop(), equipment={crane.id: crane}, check_in=lambda _: 60, pieces=1
    )
    legs = (a_leg(minutes=60), a_leg(LegKind.LIFT, minutes=60, equipment=(crane.id,)))
    journey = replace(a_journey(legs=legs), back_minutes=0)

    def over(beside: Beside | None) -> int:
        road = road_of(journey, a_site(), a_window(end="2026-03-08 18:00"), GRID, beside)
        return leaving(road, "2026-03-03 08:00").end

    assert over(None) == at_step("2026-03-03 10:00")
    assert over(beside) == at_step("2026-03-03 12:00")

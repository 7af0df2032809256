"""How long a leg takes; every number worked out by hand from the figures it names."""

from decimal import Decimal

import pytest

from shared.book import LegKind, OwnFigure, RoadShare
from shared.delivery.lengths import home_minutes, minutes_of, shares_of, wheel_quarters
from tests.builders import a_leg, a_workshop
from tests.shared.delivery.journeys import drive, journey


@pytest.mark.parametrize(
    ("hours", "hands", "minutes"),
    [
        (10, 1, 600),
        # 10 h by two, each pair losing 5 %: 10 * 1.05 / 2 = 5.25 h.
        (10, 2, 315),
        # 10 * 1.10 / 3 = 3 h 40 min.
        (10, 3, 220),
        # 10 * 1.15 / 4 = 2.875 h = 172.5 min, rounded up.
        (10, 4, 173),
    ],
)
def test_person_hours_are_shared_with_the_loss_of_each_further_pair(
    hours: int, hands: int, minutes: int
) -> None:
    leg = a_leg(LegKind.ASSEMBLE, 45, person_hours=Decimal(hours), hands=hands)

    assert minutes_of(leg, a_workshop(pair_loss_percent=Decimal(5))) == minutes


@pytest.mark.parametrize(
    ("kind", "minutes"),
    [
        (LegKind.ARRIVE, 30),
        (LegKind.UNLOAD, 60),
        (LegKind.LIFT, 45),
        (LegKind.CARRY, 45),
        (LegKind.ASSEMBLE, 240),
        (LegKind.SEAL, 60),
        (LegKind.INSPECT, 30),
        (LegKind.SIGN_OFF, 15),
        (LegKind.TAKE_AWAY, 60),
        (LegKind.SNAGS, 30),
        (LegKind.BORDER, 30),
        (LegKind.LOAD, 180),
    ],
)
def test_no_leg_takes_no_time(kind: LegKind, minutes: int) -> None:
    """Common practice, no source: figures CP157, CP159 to CP162, CP620 to CP627; three pieces."""
    assert minutes_of(a_leg(kind, 0), a_workshop(), pieces=3) == minutes


def test_what_is_written_goes_before_what_is_usual() -> None:
    assert minutes_of(a_leg(LegKind.ARRIVE, 5), a_workshop()) == 5


def test_where_nobody_says_how_many_pieces_there_is_one() -> None:
    """Figure CP622, common practice, no source."""
    assert minutes_of(a_leg(LegKind.LIFT, 0), a_workshop()) == 15


def test_the_workshop_knows_better_than_the_table() -> None:
    slower = a_workshop(figures=(OwnFigure(figure="CP622", value=Decimal(25)),))

    assert minutes_of(a_leg(LegKind.LIFT, 0), slower, pieces=2) == 50


@pytest.mark.parametrize(
    ("changes", "quarters"),
    [
        ({"driving_minutes": 181}, 13),
        # 130 km at 65 km/h (TR22b, common practice) are two hours.
        ({"distance_km": Decimal(130)}, 8),
        # 100 km at 80 km/h are 75 minutes.
        ({"distance_km": Decimal(100), "speed_kmh": Decimal(80)}, 5),
        ({"distance_km": Decimal("100.1"), "speed_kmh": Decimal(80)}, 6),
        ({"minutes": 61}, 5),
        ({"minutes": 0}, 1),
        ({"minutes": 15}, 1),
        ({"driving_minutes": 15}, 1),
        ({"driving_minutes": 60, "distance_km": Decimal(500)}, 4),
    ],
)
def test_quarters_at_the_wheel_are_rounded_up(changes: dict[str, object], quarters: int) -> None:
    leg = a_leg(LegKind.DRIVE, **{"minutes": 0, **changes})  # type: ignore[arg-type]

    assert wheel_quarters(leg, a_workshop()) == quarters


def test_shares_are_cut_in_order_by_running_sums_rounded_up() -> None:
    """10 quarters by thirds: 3.33 up to 4, 6.66 up to 7, and the last takes three."""
    shares = (
        RoadShare(country="GB", percent=Decimal("33.3")),
        RoadShare(country="FR", percent=Decimal("33.3")),
        RoadShare(country="DE", percent=Decimal("33.4"), subdivision="BY"),
    )

    assert shares_of(drive(150, shares=shares), 10) == (
        (4, "GB", None),
        (3, "FR", None),
        (3, "DE", "BY"),
    )


def test_a_share_may_be_left_with_nothing() -> None:
    shares = (
        RoadShare(country="NL", percent=Decimal(99)),
        RoadShare(country="BE", percent=Decimal(1)),
    )

    assert shares_of(drive(30, shares=shares), 2) == ((2, "NL", None), (0, "BE", None))


def test_a_drive_without_shares_lies_in_its_country() -> None:
    assert shares_of(drive(30), 2) == ((2, "GB", None),)
    assert shares_of(drive(30, country=None), 2) == ()  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("driving", "minutes"),
    [
        (270, 270),
        # One break of 45 minutes after four and a half hours (DR01).
        (285, 330),
        (540, 585),
        # After nine hours a daily rest of eleven (DR02, DR04).
        (555, 1260),
    ],
)
def test_the_way_home_has_the_least_breaks_and_rests(driving: int, minutes: int) -> None:
    back = a_leg(LegKind.RETURN, 0, driving_minutes=driving)

    assert home_minutes(journey(drive(60), back, back_minutes=999), a_workshop()) == minutes


def test_without_legs_home_the_minutes_are_those_of_the_journey() -> None:
    assert home_minutes(journey(drive(60), back_minutes=77), a_workshop()) == 77
    plain = a_leg(LegKind.RETURN, 90)
    assert home_minutes(journey(drive(60), plain, plain), a_workshop()) == 180

"""Abnormal loads: which notices by which day.

Limits and days: notification tables of police forces in Great Britain (figures TR03 to TR07, TR10);
the order behind them is SI 2003/1998 (from memory). Public holidays: Banking and Financial
Dealings Act 1971, Sch. 1. What has no source is common practice and named so.
"""

from datetime import date
from decimal import Decimal

import pytest

from shared.book import Body, Counted, LegKind, Means, RoadShare
from shared.ids import EquipmentId
from shared.notices import Due
from tests.builders import a_leg, a_site, a_workshop, an_equipment, at
from tests.shared.notices.deliveries import Delivered, delivered, drive, legs_of

PLAIN = (drive(), a_leg(LegKind.UNLOAD), a_leg(LegKind.ASSEMBLE, inside=True))
TUE_29_DEC = legs_of("2026-12-29 06:00", "2026-12-29 08:00", "2026-12-29 09:00", "2026-12-29 12:00")


def moved(width: str = "2", length: str = "8", height: str = "2", **changes: object) -> Delivered:
    """A piece on an open bed, moved on Tue 29 Dec 2026, with 0.1 m of wrapping in its width."""
    return delivered(PLAIN, TUE_29_DEC, sizes=(length, width, height), **changes)  # type: ignore[arg-type]


def facts(due: Due) -> dict[str, object]:
    return dict(due.because)


def test_a_load_within_the_limits_calls_for_nothing() -> None:
    assert moved("2.8").dues() == {}


def test_a_wide_load_is_told_to_the_police_two_clear_working_days_before() -> None:
    # Clear are Wed 23 and Thu 24; Fri 25 to Mon 28 Dec don't count.
    due = moved("3").dues()["road_notice"]

    assert due.by == date(2026, 12, 22)
    assert (due.lead, due.counted) == (2, Counted.CLEAR_WORKING_DAYS)
    assert due.figures == ("TR03c", "TR03a")
    assert facts(due) == {"what": "width", "size": 3100, "limit": 2900, "piece": "Heron-torso"}
    assert due.at == at("2026-12-29 06:00")
    assert (due.country, due.is_over, due.late_days) == ("GB", False, 0)
    assert due.is_legal


def test_the_first_one_to_a_force_is_registered_three_working_days_before() -> None:
    found = moved("3").dues()

    # Back from Tue 22 Dec: Mon 21, Fri 18, Thu 17.
    assert found["road_registration"].by == date(2026, 12, 17)
    assert found["road_registration"].figures == ("TR10",)


def test_a_wider_one_has_its_form_by_the_same_day() -> None:
    # 5.1 m: between 5.0 and 6.1 m.
    found = moved("5").dues()

    assert found["road_form"].by == found["road_notice"].by == date(2026, 12, 22)
    assert found["road_form"].figures == ("TR03c", "TR04")
    assert "road_order" not in found


def test_the_widest_has_a_special_order_ten_weeks_and_five_clear_days_before() -> None:
    # Five clear days: 17, 18, 21 to 24 Dec are worked; 21, 22, 23, 24 and 18 are clear.
    found = moved("6.5").dues()

    assert found["road_notice"].by == date(2026, 12, 17)
    assert (found["road_notice"].lead, found["road_notice"].figures[0]) == (5, "TR05c")
    assert found["road_order"].by == date(2026, 10, 20)
    assert (found["road_order"].lead, found["road_order"].counted) == (10, Counted.WEEKS)
    assert "road_form" not in found


@pytest.mark.parametrize(
    ("length", "code", "figure"),
    [("18.5", None, ""), ("18.6", "road_notice", "TR06a"), ("30", "road_order", "TR05d")],
)
def test_a_long_one_by_its_length(length: str, code: str | None, figure: str) -> None:
    # As moved 0.1 m longer; above 18.65 m it is told, above 30 m it is a special order.
    found = moved(length=length).dues()

    if code is None:
        assert found == {}
    else:
        assert found[code].figures[1] == figure


def test_a_short_bed_makes_an_overhang() -> None:
    # 10.1 m on 7 m: 3.1 m hang over, 3.05 are free.
    bed = an_equipment(
        "bed", body=Body.OPEN, inside_length_m=Decimal(7), inside_width_m=Decimal("2.5")
    )
    due = moved(length="10", book={"equipment": (bed,)}).dues()["road_notice"]

    assert facts(due) | {"piece": ""} == {
        "what": "overhang",
        "size": 3100,
        "limit": 3050,
        "piece": "",
    }
    assert due.figures[1] == "TR06d"
    assert moved(length="9.9", book={"equipment": (bed,)}).dues() == {}


def test_a_narrow_bed_makes_one_at_its_sides() -> None:
    # 2.7 m on 2 m: 350 mm on either side, 305 are free.
    bed = an_equipment("bed", body=Body.OPEN, inside_length_m=Decimal(8), inside_width_m=Decimal(2))
    due = moved("2.6", book={"equipment": (bed,)}).dues()["road_notice"]

    assert (facts(due)["what"], facts(due)["size"], due.figures[1]) == ("side", 350, "TR06e")


@pytest.mark.parametrize(
    ("gross", "by", "lead"),
    [(44, None, 0), (46, date(2026, 12, 22), 2), (81, date(2026, 12, 17), 5)],
)
def test_a_heavy_lorry_by_its_mass(gross: int, by: date | None, lead: int) -> None:
    # Nobody knows what the lorry itself weighs, so what it may weigh counts: the stricter.
    bed = an_equipment("bed", body=Body.OPEN, gross_t=Decimal(gross))
    due = moved(book={"equipment": (bed,)}).dues().get("road_notice")

    assert (due.by if due else None, due.lead if due else 0) == (by, lead)


def test_a_lorry_that_carries_little_of_what_it_may_is_not_heavy() -> None:
    # 60 t that may carry 30: itself 30, with a piece of at most 80 kg.
    bed = an_equipment("bed", body=Body.OPEN, gross_t=Decimal(60), payload_kg=Decimal(30_000))

    assert moved(book={"equipment": (bed,)}).dues() == {}


def test_a_high_one_has_its_route_looked_at() -> None:
    # 0.1 m wrapping, 0.15 m skates, a bed of 0.9 m: above 4.95 m. The lead is common practice.
    found = moved(height="3.9").dues()

    assert set(found) == {"road_route"}
    assert found["road_route"].figures == ("CP662", "TR08")
    assert not found["road_route"].is_legal


def test_of_two_offices_on_one_road_the_earliest_date_rules() -> None:
    # Tue 5 Jan 2027. England: Mon 4 is worked, so Thu 31 Dec and Mon 4 are clear: Wed 30.
    # Scotland has Mon 4 Jan in place of Sat 2 (1971 Act, Sch. 1): clear are 30 and 31: Tue 29.
    shares = (
        RoadShare(country="GB", percent=Decimal(60), subdivision="ENG"),
        RoadShare(country="GB", percent=Decimal(40), subdivision="SCT"),
    )
    there = legs_of("2027-01-05 06:00", "2027-01-05 08:00", "2027-01-05 12:00")
    legs = (drive(), a_leg(LegKind.ASSEMBLE, inside=True))
    far = (drive(shares=shares), a_leg(LegKind.ASSEMBLE, inside=True))
    near, both = (
        delivered(each, there, sizes=("8", "3", "2")).dues()["road_notice"] for each in (legs, far)
    )

    assert (near.by, near.receiver.subdivision) == (date(2026, 12, 30), "ENG")
    assert (both.by, both.receiver.subdivision) == (date(2026, 12, 29), "SCT")


def test_where_no_part_of_the_country_is_told_the_stricter_one_counts() -> None:
    there = legs_of("2027-01-05 06:00", "2027-01-05 08:00", "2027-01-05 12:00")
    found = delivered(
        (drive(), a_leg(LegKind.ASSEMBLE, inside=True)),
        there,
        sizes=("8", "3", "2"),
        job={"site": a_site(subdivision=None)},
        book={
            "workshop": a_workshop(subdivision=None),
            "equipment": (an_equipment("bed", body=Body.OPEN),),
        },
    )

    assert found.dues()["road_notice"].by == date(2026, 12, 29)


def test_abroad_each_country_of_the_road_is_asked_for_its_permit() -> None:
    # Common practice: four weeks; taken back to a day that is worked there.
    legs = (
        drive(
            None,
            shares=(
                RoadShare(country="FR", percent=Decimal(50)),
                RoadShare(country="DE", percent=Decimal(50), subdivision="BY"),
            ),
        ),
        a_leg(LegKind.ASSEMBLE, inside=True),
    )
    bed = an_equipment("bed", body=Body.OPEN)
    found = delivered(
        legs,
        legs_of("2026-06-08 04:00", "2026-06-08 20:00", "2026-06-09 12:00"),
        sizes=("8", "2.6", "1.5"),
        job={"site": a_site(zone="Europe/Berlin", country="DE", subdivision="BY")},
        book={
            "workshop": a_workshop(zone="Europe/Paris", country="FR", subdivision=None),
            "equipment": (bed,),
        },
    ).dues()

    permits = [found["road_permit"], found["road_permit-2"]]
    assert {(due.country, due.receiver.subdivision) for due in permits} == {
        ("FR", None),
        ("DE", "BY"),
    }
    assert {due.by for due in permits} == {date(2026, 5, 11)}
    assert facts(permits[0])["limit"] == 2550


def test_late_ones_say_by_how_many_days() -> None:
    load = moved("3")
    in_time = load.dues(at("2026-12-22 16:59"))["road_notice"]
    too_late = load.dues(at("2026-12-22 17:00"))["road_notice"]
    later = load.dues(at("2026-12-24 09:00"))["road_notice"]

    assert (in_time.is_over, in_time.late_days) == (False, 0)
    assert (too_late.is_over, too_late.late_days) == (True, 0)
    assert (later.is_over, later.late_days) == (True, 2)


CLEAR = {
    "CW01": ("ENG", "2026-12-29", "2026-12-22", 2),
    "CW02": ("ENG", "2027-04-01", "2027-03-25", 2),
    "CW03": ("ENG", "2027-03-30", "2027-03-23", 2),
    "CW04": ("ENG", "2027-01-04", "2026-12-22", 5),
}


@pytest.mark.parametrize("row", CLEAR)
def test_clear_working_days_of_the_tables_as_dues(row: str) -> None:
    # Counted out by hand on the days of Sch. 1 of the 1971 Act; of four more countries below.
    _, day, by, days = CLEAR[row]
    there = legs_of(f"{day} 06:00", f"{day} 08:00", f"{day} 12:00")
    legs = (drive(), a_leg(LegKind.ASSEMBLE, inside=True))
    width = "3" if days == 2 else "6.5"
    due = delivered(legs, there, sizes=("8", width, "2")).dues()["road_notice"]

    assert (due.by, due.lead) == (date.fromisoformat(by), days)


def test_by_which_of_two_rules_a_load_goes_is_not_said_as_fact() -> None:
    # As moved 3.0 m: above 2.9 in ordinary use, not above 3.0 by the order for special types.
    stricter, both = (moved(width).dues()["road_notice"] for width in ("2.9", "3"))

    assert facts(stricter)["rules"] == "stricter"
    assert "rules" not in facts(both)


def test_a_heavy_and_wide_one_has_its_form_and_the_longer_notice() -> None:
    bed = an_equipment("bed", body=Body.OPEN, gross_t=Decimal(81))
    found = moved("5", book={"equipment": (bed,)}).dues()

    assert (found["road_form"].lead, found["road_notice"].lead) == (2, 5)
    assert facts(found["road_notice"])["what"] == "mass"


@pytest.mark.parametrize(("abnormal", "is_told"), [(True, True), (False, False), (None, False)])
def test_a_load_that_is_said_to_be_abnormal_is_told(abnormal: bool | None, is_told: bool) -> None:
    means = Means(id="low-loader", vehicles=(EquipmentId("bed"),), abnormal=abnormal)
    found = moved(journey={"means": (means,)}, trip={"means": "low-loader"}).dues()

    assert ("road_notice" in found) is is_told
    if is_told:
        assert facts(found["road_notice"])["what"] == "said"
        assert found["road_notice"].figures == ("TR03c",)

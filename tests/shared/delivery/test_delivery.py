"""Deliveries of one feature each; every instant is worked out by hand in the test's words.

Rules by their figures: a break after four and a half hours at the wheel (DR01), a daily rest of
eleven hours in twenty-four (DR04, DR05, DR15, DR16), bans on French roads from Saturday 22:00 to
Sunday 22:00 (DR18). Nothing of any limit is kept unless a test says so.
"""

from datetime import datetime, timedelta
from decimal import Decimal

import pytest

from scheduler.check.road.replay import replay
from shared.book import Driving, LegKind, RoadShare
from shared.delivery.codes import Note
from shared.delivery.delivery import Delivery, delivery_of
from shared.delivery.judged import is_judged
from shared.delivery.run import Trouble
from shared.ids import EquipmentId
from shared.plan import Because, Doing
from shared.road.itinerary import Itinerary
from shared.road.regime import RegimeBecause
from shared.worktime import Span
from tests.builders import a_book, a_job, a_journey, a_leg, a_site, a_workshop
from tests.shared.delivery.journeys import (
    AMSTERDAM,
    LONDON,
    PARIS,
    at,
    booked,
    delivery,
    drive,
    hired,
    inside,
    journey,
    latest,
    lorry,
    only,
    own_van,
    sails,
    shift,
    van,
    window,
    worked,
)

DAY = window(LONDON, "2027-03-18T08:00", "2027-03-18T18:00", shift("08:00", "18:00"))
TWO_DAYS = window(LONDON, "2027-03-17T08:00", "2027-03-18T18:00", shift("08:00", "18:00"))


def thursday(hour: str) -> datetime:
    return at(LONDON, f"2027-03-18T{hour}")


def test_minutes_that_elapse_are_not_judged() -> None:
    assert not is_judged(a_journey())
    assert is_judged(journey(a_leg(), means=(hired(),)))
    assert not is_judged(journey(a_leg(), means=(hired(rules=None),)))
    assert is_judged(journey(drive(60), means=(hired(rules=None),)))
    assert is_judged(journey(a_leg(rules="gb_domestic"), means=(hired(rules=None),)))
    assert is_judged(journey(a_leg(distance_km=Decimal(10)), means=(hired(rules=None),)))


def test_work_on_site_makes_room_for_other_trades() -> None:
    """Four hours before 18:00 without 14:00 to 16:00: from 12:00, so 11:00 from home."""
    blocked = window(
        LONDON,
        "2027-03-18T08:00",
        "2027-03-18T18:00",
        shift("08:00", "18:00"),
        blocked=(booked(LONDON, "2027-03-18T14:00", "2027-03-18T16:00"),),
    )

    run = latest(delivery(journey(drive(60), inside(LegKind.ASSEMBLE, 240)), blocked))

    assert run.leaves == thursday("11:00")
    assert worked(run.stretches, 1) == [
        (thursday("12:00"), thursday("14:00")),
        (thursday("16:00"), thursday("18:00")),
    ]


def slotted(minutes: int) -> Delivery:
    lift = inside(
        LegKind.LIFT, minutes, slots=(booked(LONDON, "2027-03-18T10:00", "2027-03-18T12:00"),)
    )
    return delivery(journey(drive(60), lift, inside(LegKind.CARRY, 60)), DAY)


def test_a_lift_lies_whole_in_its_slot() -> None:
    """45 minutes by 12:00: at the gate by 11:15."""
    found = slotted(45)

    run = latest(found)

    assert found.site_by(only(found)) == thursday("11:15")
    assert run.leaves == thursday("10:15")
    assert run.ends == (thursday("11:15"), thursday("12:00"), thursday("13:00"))


def test_who_misses_the_only_slot_never_gets_done() -> None:
    found = slotted(45)

    assert found.leaving(only(found), at(LONDON, "2027-03-18T10:30")) is None


def test_a_slot_that_is_too_short_is_the_sites_trouble() -> None:
    found = slotted(135)

    assert found.latest(only(found)) is None
    assert found.trouble(only(found)) is Trouble.SITE_TOO_SHORT


def test_nobody_is_needed_while_sealant_cures() -> None:
    """Sealed in an hour, cured in twelve, inspected in half an hour before 17:00: from 03:30."""
    all_day = window(LONDON, "2027-03-17T00:00", "2027-03-18T18:00")
    legs = (
        drive(60),
        inside(LegKind.SEAL, 60, cure_hours=Decimal(12)),
        inside(LegKind.INSPECT, 30, opens=(shift("09:00", "17:00"),)),
    )

    run = latest(delivery(journey(*legs), all_day))

    assert run.gate == thursday("03:30")
    assert run.ends[1:] == (thursday("04:30"), thursday("17:00"))
    stands = [each for each in run.stretches if each.doing is Doing.STAND]
    assert [(each.leg, each.start, each.end) for each in stands] == [
        (1, thursday("04:30"), thursday("16:30"))
    ]


@pytest.mark.parametrize(("hours", "minutes"), [("0.1", 15), ("0.25", 15), ("0.3", 30)])
def test_a_short_cure_is_waited_for_by_the_quarter(hours: str, minutes: int) -> None:
    legs = (
        drive(60),
        inside(LegKind.SEAL, 60, cure_hours=Decimal(hours)),
        inside(LegKind.INSPECT, 30),
    )

    run = latest(delivery(journey(*legs), DAY))

    (stands,) = [each for each in run.stretches if each.doing is Doing.STAND]
    assert stands.end - stands.start == timedelta(minutes=minutes)


def test_nothing_waits_for_a_cure_after_the_last_leg() -> None:
    legs = (drive(60), inside(LegKind.SEAL, 60, cure_hours=Decimal(12)))

    assert latest(delivery(journey(*legs), DAY)).end == thursday("18:00")


def test_the_way_home_is_told_apart_from_the_window() -> None:
    legs = (drive(60), inside(LegKind.UNLOAD, 60), a_leg(LegKind.RETURN, 0, driving_minutes=300))

    run = latest(delivery(journey(*legs, back_minutes=15), DAY))

    assert run.end == thursday("18:00")
    # Five hours at the wheel and a break of 45 minutes.
    assert run.back == thursday("23:45")
    assert run.ends[-1] == run.back
    assert run.stretches[-1].end == run.end
    assert Note.HOME_NOT_JUDGED in run.choice.notes


def test_what_is_not_inside_may_follow_after_the_window() -> None:
    """Unloading is inside and over at 18:00; snags may follow after it."""
    legs = (drive(60), inside(LegKind.UNLOAD, 60), a_leg(LegKind.SNAGS, 30))

    run = latest(delivery(journey(*legs), DAY))

    assert run.ends == (thursday("17:00"), thursday("18:00"), thursday("18:30"))
    assert run.kept


def across() -> Delivery:
    """A cheap early and a dear late sailing on Wednesday, three hours on either side."""
    sea = a_leg(
        LegKind.SAILING,
        0,
        bunk=True,
        departures=(
            sails(at(LONDON, "2027-03-17T18:00"), at(AMSTERDAM, "2027-03-18T06:00"), price=300),
            sails(at(LONDON, "2027-03-17T22:00"), at(AMSTERDAM, "2027-03-18T08:00"), price=450),
        ),
    )
    legs = (drive(180), sea, drive(180, "NL"), inside(LegKind.UNLOAD, 60))
    site = a_site(zone=AMSTERDAM, country="NL", subdivision=None)
    week = window(AMSTERDAM, "2027-03-18T08:00", "2027-03-18T16:00")
    means = (hired(price=Decimal(900)), hired(id="dear", price=Decimal(1000)))
    return delivery(journey(*legs, means=means), week, site)


def test_each_means_by_each_fare_is_a_choice_of_its_own() -> None:
    found = across()

    assert [(each.means_id, int(each.price)) for each in found.choices] == [
        ("hired", 1200),
        ("hired", 1350),
        ("dear", 1300),
        ("dear", 1450),
    ]
    early, late = (found.latest(each) for each in found.choices[:2])
    assert early is not None
    assert late is not None
    # An hour before it sails, three at the wheel.
    assert early.leaves == at(LONDON, "2027-03-17T14:00")
    assert late.leaves == at(LONDON, "2027-03-17T18:00")
    assert {each.sailing for each in early.stretches if each.doing is Doing.SEA_REST} == {0}
    assert {each.sailing for each in late.stretches if each.doing is Doing.SEA_REST} == {1}
    assert (int(early.price), int(late.price)) == (1200, 1350)


def test_a_sailing_that_lands_after_the_window_is_missed() -> None:
    sea = a_leg(
        LegKind.SAILING,
        0,
        departures=(sails(at(LONDON, "2027-03-18T08:00"), at(AMSTERDAM, "2027-03-18T17:00")),),
    )
    legs = (drive(60), sea, drive(60, "NL"), a_leg(LegKind.UNLOAD, 60, inside=True))
    found = delivery(journey(*legs), DAY)

    assert found.trouble(only(found)) is Trouble.SAILING_MISSED


def test_without_a_sailing_there_is_no_way() -> None:
    sea = a_leg(
        LegKind.SAILING,
        0,
        departures=(sails(at(LONDON, "2026-03-18T08:00"), at(AMSTERDAM, "2026-03-18T17:00")),),
    )
    found = delivery(journey(drive(60), sea, inside(LegKind.UNLOAD, 60)), DAY)

    assert found.latest(only(found)) is None
    assert found.leaving(only(found), at(LONDON, "2027-03-18T08:00")) is None
    assert found.trouble(only(found)) is Trouble.NO_SAILING


def test_who_is_late_may_take_what_sails_in_the_four_weeks_after_the_window() -> None:
    """Half a day before they are over is in them, half a day after isn't; no source."""
    in_time, late, too_late = (
        sails(DAY.end + off, DAY.end + off + HOUR, price=price)
        for off, price in (
            (-6 * HOUR, 100),
            (timedelta(days=27, hours=12), 200),
            (timedelta(days=28, hours=12), 300),
        )
    )
    sea = a_leg(LegKind.SAILING, 0, departures=(in_time, late, too_late))
    found = delivery(journey(drive(60), sea, inside(LegKind.UNLOAD, 60)), DAY)

    assert [int(each.price) for each in found.choices] == [100, 200]


@pytest.mark.parametrize("days", [0, 1, 2, 13])
def test_work_that_sets_for_days_before_the_window_is_reached_by_an_early_sailing(
    days: int,
) -> None:
    """Of the 30 hours that it may take, 13 from home to the site; the road shuts on Thursday."""
    sailed = thursday("08:00") - timedelta(days=days, hours=20)
    sea = a_leg(LegKind.SAILING, 0, departures=(sails(sailed, sailed + 10 * HOUR),))
    legs = (
        drive(60),
        sea,
        drive(60),
        a_leg(LegKind.SEAL, 60, cure_hours=Decimal(24 * days)),
        inside(LegKind.ASSEMBLE, 60),
    )
    found = delivery(journey(*legs, longest_days=Decimal("1.25")), DAY)

    run = latest(found)

    # There an hour before it sails, after an hour at the wheel; a quarter of an hour to land.
    assert run.leaves == sailed - 2 * HOUR
    assert run.gate == sailed + timedelta(hours=11, minutes=15)
    assert run.end == thursday("09:00")


def test_customs_shut_on_a_holiday_of_one_country() -> None:
    """W09 of the worked journeys: Monday 17 May is closed in Norway, cleared on Tuesday at 10:00.

    26 h at sea from Sat 15 or Tue 18 May 16:00, customs Mon-Fri 08:00-15:30, there by Wed 12:00.
    """
    oslo = "Europe/Oslo"
    sea = a_leg(
        LegKind.SAILING,
        0,
        bunk=True,
        departures=tuple(
            sails(
                at(LONDON, f"2027-05-{day}T16:00"),
                at(LONDON, f"2027-05-{day}T16:00") + timedelta(hours=26),
                120,
            )
            for day in (15, 18)
        ),
    )
    customs = a_leg(
        LegKind.BORDER,
        120,
        opens=(shift("08:00", "15:30", (0, 1, 2, 3, 4)),),
        zone=oslo,
        country="NO",
    )
    # Whoever signs in at the port works a quarter of an hour.
    port = a_leg(LegKind.WAIT, 15)
    legs = (drive(150), port, sea, customs, drive(240, "NO"))
    site = a_site(zone=oslo, country="NO", subdivision=None)
    week = window(oslo, "2027-05-14T00:00", "2027-05-19T12:00")

    run = latest(delivery(journey(*legs), week, site))

    # 2.5 h at the wheel, a quarter at the port, there two hours before: W09 has "no earlier
    # than" its cut-off in it.
    assert run.leaves == at(LONDON, "2027-05-15T11:15")
    assert run.ends[3] == at(oslo, "2027-05-18T10:00")
    assert run.end == at(oslo, "2027-05-18T14:00")


def test_a_ban_holds_on_the_share_of_its_country() -> None:
    """Four hours: a share of two in Spain, then two in France, banned on Sunday until 22:00.

    Left on Sunday at 19:00: at the border at 21:00, on at 22:00, there at midnight.
    """
    shares = (
        RoadShare(country="ES", percent=Decimal(50)),
        RoadShare(country="FR", percent=Decimal(50)),
    )
    site = a_site(zone=PARIS, country="FR", subdivision=None)
    week = window(PARIS, "2027-03-22T00:00", "2027-03-23T00:00")
    legs = (drive(240, shares=shares), inside(LegKind.UNLOAD, 60))
    found = delivery(journey(*legs), week, site)

    run = found.leaving(only(found), at(PARIS, "2027-03-21T19:00"))

    assert run is not None
    assert [
        (each.share, each.doing, each.because, each.rule, each.end)
        for each in run.stretches
        if each.leg == 0
    ] == [
        (0, Doing.DRIVE, None, "", at(PARIS, "2027-03-21T21:00")),
        (1, Doing.REST, Because.BAN, "DR18a", at(PARIS, "2027-03-21T22:00")),
        (1, Doing.DRIVE, None, "", at(PARIS, "2027-03-22T00:00")),
    ]


def test_a_lorry_of_unknown_mass_is_taken_for_a_heavy_one() -> None:
    site = a_site(zone=PARIS, country="FR", subdivision=None)
    week = window(PARIS, "2027-03-20T00:00", "2027-03-22T00:00")
    legs = (drive(120, "FR"), inside(LegKind.UNLOAD, 60))
    light = delivery(journey(*legs, means=(hired(vehicles=(EquipmentId("van"),)),)), week, site)
    unknown = delivery(journey(*legs, means=(hired(vehicles=()),)), week, site)

    # At the gate by Sunday 23:00: the ban that ends at 22:00 leaves an hour on either side.
    assert latest(light).leaves == at(PARIS, "2027-03-21T21:00")
    assert latest(unknown).leaves == at(PARIS, "2027-03-20T21:00")
    assert Note.MASS_UNKNOWN in only(unknown).notes
    assert Note.MASS_UNKNOWN not in only(light).notes


@pytest.mark.parametrize(("km", "because"), [(50, RegimeBecause.CRAFT), (51, RegimeBecause.HEAVY)])
def test_how_far_it_is_goes_by_the_roads_alone(km: int, because: RegimeBecause) -> None:
    """Crafts within 100 km are out of Regulation (EC) 561/2006 by its Article 3(aa) (DR12).

    Loading on the way has no kilometres, and none are missing.
    """
    truck = van("7.5", id=EquipmentId("truck"))
    means = own_van(vehicles=(truck.id,))
    roads = drive(60, distance_km=Decimal(50)), drive(60, distance_km=Decimal(km))
    found = delivery(
        journey(roads[0], a_leg(LegKind.LOAD, 30), roads[1], means=(means,)),
        DAY,
        equipment=(truck,),
    )

    assert only(found).regime.because is because


def test_a_reserve_is_kept_of_the_day() -> None:
    """Ten hours of an extended day less 45 minutes: 9.25 h at the wheel, not ten."""
    legs = (drive(600), inside(LegKind.UNLOAD, 60))
    plain = delivery(journey(*legs), TWO_DAYS)
    kept = delivery(journey(*legs, reserve_minutes=None), TWO_DAYS)

    # 17:00 less 11.5 h; with the reserve the last 45 minutes follow a rest of nine hours.
    assert latest(plain).leaves == thursday("05:30")
    assert latest(kept).leaves < thursday("05:30")
    assert Note.RESERVE_KEPT in only(kept).notes
    assert Note.RESERVE_KEPT not in only(plain).notes
    assert only(kept).law.reserve == 0


def test_a_driver_as_they_stand_may_have_no_hours_left() -> None:
    """56 h a week less 54 leave two before Monday (DR03); the way takes three."""
    told = Driving(as_of=at(LONDON, "2027-03-18T00:00"), week_hours=Decimal(54))
    legs = (drive(180), inside(LegKind.UNLOAD, 60))
    found = delivery(journey(*legs, means=(hired(driving=(told,)),), longest_days=Decimal(2)), DAY)

    assert found.trouble(only(found)) is Trouble.NO_DEPARTURE


def test_a_weekly_rest_that_is_due_is_named() -> None:
    """The last one ended six days before Thursday 06:00; DR07 wants the next begun by then."""
    told = Driving(
        as_of=at(LONDON, "2027-03-17T00:00"), weekly_rest_ended=at(LONDON, "2027-03-12T06:00")
    )
    day = window(LONDON, "2027-03-18T08:00", "2027-03-18T18:00")
    legs = (drive(180), inside(LegKind.UNLOAD, 60))
    asked = journey(*legs, means=(hired(driving=(told,)),), longest_days=Decimal("0.5"))
    found = delivery(asked, day)

    assert found.latest(only(found)) is None
    assert found.trouble(only(found)) is Trouble.WEEKLY_REST_DUE


def test_a_window_that_is_past_is_no_other_trouble() -> None:
    found = delivery(journey(drive(60), inside(LegKind.UNLOAD, 60)), DAY)
    choice = only(found)

    assert found.trouble(choice, at(LONDON, "2027-03-18T16:00")) is None
    assert found.trouble(choice, at(LONDON, "2027-03-18T16:15")) is Trouble.WINDOW_PAST
    assert found.latest(choice, at(LONDON, "2027-03-18T16:15")) is None


@pytest.mark.parametrize("day", ["2027-03-19", "2027-04-16", "2027-06-01", "2027-12-01"])
def test_who_is_late_by_months_still_has_hours(day: str) -> None:
    """Access from 08:00; left at 07:30, there at 08:30, an hour of unloading."""
    found = delivery(journey(drive(60), inside(LegKind.UNLOAD, 60)), DAY)

    run = found.leaving(only(found), at(LONDON, f"{day}T07:30"))

    assert run is not None
    assert run.end == at(LONDON, f"{day}T09:30")
    assert not run.kept


def test_departures_are_those_that_leave_and_keep_the_window() -> None:
    """Two sailings, 12:00 and 16:00, each an hour from home with an hour of check-in.

    From longest_days before the latest on: 14:00 Thursday back to 14:00 Wednesday.
    """
    sea = a_leg(
        LegKind.SAILING,
        0,
        departures=tuple(
            sails(at(LONDON, f"2027-03-18T{h}:00"), at(LONDON, f"2027-03-18T{h}:00") + HOUR)
            for h in (12, 16)
        ),
    )
    legs = (
        drive(60),
        sea,
        a_leg(LegKind.UNLOAD, 60, inside=True, opens=(shift("13:00", "19:00"),)),
    )
    day = window(LONDON, "2027-03-18T08:00", "2027-03-18T19:00")
    found = delivery(journey(*legs, longest_days=Decimal(1)), day)
    choice = only(found)

    spans = found.departures(choice, at(LONDON, "2027-03-18T06:00"))

    assert spans == (Span(start=thursday("06:00"), end=thursday("14:15")),)


HOUR = timedelta(hours=1)


def test_asked_twice_it_is_the_same_delivery() -> None:
    asked = journey(drive(60), inside(LegKind.UNLOAD, 60))
    job = a_job(windows=(DAY,))
    book = a_book(job, equipment=(lorry(), van()), workshop=a_workshop())

    assert delivery_of(book, job, asked, DAY) is delivery_of(book, job, asked, DAY)


@pytest.mark.parametrize("minutes", [60, 240, 420, 600])
@pytest.mark.parametrize("driving", [120, 300, 540])
def test_what_an_own_van_does_is_sound_by_the_second_opinion(minutes: int, driving: int) -> None:
    legs = (drive(driving), inside(LegKind.ASSEMBLE, minutes))
    found = delivery(journey(*legs, means=(own_van(),)), TWO_DAYS)
    run = latest(found)
    choice = only(found)
    laid = found._lorry(choice, found._crew.horizon)
    assert laid is not None

    wrong = replay(
        laid.journey(choice.lorry),
        found._drivers(choice),
        choice.law,
        Itinerary(stretches=run.stretches),
    )

    assert wrong == ()
    later = found.leaving(choice, run.leaves + timedelta(minutes=15))
    assert later is None or not later.kept

"""Itineraries broken in one way each, and what the replay says of them."""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check.road import Wrong, replay
from shared.road.countback import Trip, earliest_arrival
from shared.road.itinerary import Doing, Itinerary, Stretch
from shared.road.legs import Leg
from shared.road.state import Driver
from tests.shared.road.trips import AMSTERDAM, HEAVY, LONDON, at, drive, ferry, trip, work

SIX = at(LONDON, "2027-03-15T06:00")
FRESH = Driver(as_of=SIX)
QUARTER = timedelta(minutes=15)


def itinerary(*parts: tuple[Doing, int, int]) -> Itinerary:
    """Stretches from Monday 06:00 on: what is done, on which leg, for how many quarters."""
    found, now = [], SIX
    for doing, leg, quarters in parts:
        end = now + quarters * QUARTER
        found.append(Stretch(doing=doing, leg=leg, start=now, end=end))
        now = end
    return Itinerary(stretches=tuple(found))


def wrongs(journey: Trip, found: Itinerary) -> set[Wrong]:
    told = replay(journey.journey, (journey.driver,), journey.rules, found)
    return {each.wrong for each in told}


def driving(*quarters: int, driver: Driver = FRESH) -> set[Wrong]:
    """What is wrong with driving and resting in turns, so many quarters each."""
    parts = [
        (Doing.REST if number % 2 else Doing.DRIVE, 0, each) for number, each in enumerate(quarters)
    ]
    return wrongs(trip(driver, drive(sum(quarters[::2]))), itinerary(*parts))


@pytest.mark.parametrize(
    ("quarters", "sound"),
    [
        ((18, 3, 18), True),
        ((19,), False),
        ((18, 2, 1), False),
        ((9, 1, 9, 2, 18), True),
        ((9, 2, 9, 1, 1), False),
        ((18, 3, 18, 3, 4), True),
        ((18, 3, 18, 3, 5), False),
        ((18, 3, 18, 36, 18), True),
        ((18, 3, 18, 3, 4, 35, 1), False),
    ],
)
def test_breaks_and_daily_driving(quarters: tuple[int, ...], sound: bool) -> None:
    """Articles 6 and 7, in quarters: driving, rest, driving and so on."""
    assert (driving(*quarters) == set()) == sound


def test_reductions_extensions_and_weeks_run_out() -> None:
    reduced = (18, 3, 18, 36, 18)

    assert driving(*reduced, driver=replace(FRESH, reductions=3)) == {Wrong.HOURS}
    assert driving(18, 3, 18, 3, 4, driver=replace(FRESH, extensions=2)) == {Wrong.HOURS}
    assert driving(4, driver=replace(FRESH, week=221)) == {Wrong.HOURS}
    assert driving(4, driver=replace(FRESH, week=220)) == set()
    assert driving(4, driver=replace(FRESH, week=160, week_before=200)) == {Wrong.HOURS}


def test_a_weekly_rest_that_was_due_is_missed() -> None:
    due = replace(FRESH, weekly_rest_ended=SIX - timedelta(hours=143))

    assert driving(4, driver=due) == set()
    assert driving(5, driver=due) == {Wrong.HOURS}


def test_work_goes_on_for_six_hours_at_most() -> None:
    assert wrongs(trip(FRESH, work(24)), itinerary((Doing.WORK, 0, 24))) == set()
    assert wrongs(trip(FRESH, work(25)), itinerary((Doing.WORK, 0, 25))) == {Wrong.HOURS}


def test_a_leg_done_short_or_otherwise_is_found() -> None:
    short = itinerary((Doing.DRIVE, 0, 3))
    worked = itinerary((Doing.WORK, 0, 4))

    assert wrongs(trip(FRESH, drive(4)), short) == {Wrong.LEGS}
    assert wrongs(trip(FRESH, drive(4)), worked) == {Wrong.LEGS}


def test_a_gap_is_found() -> None:
    sound = itinerary((Doing.DRIVE, 0, 2), (Doing.DRIVE, 0, 2))
    first, second = sound.stretches
    late = replace(second, start=second.start + QUARTER, end=second.end + QUARTER)

    found = wrongs(trip(FRESH, drive(4)), Itinerary(stretches=(first, late)))

    assert found == {Wrong.GAP}


def test_work_outside_its_opening_is_found() -> None:
    shut = work(4, LONDON, ("2027-03-15T06:30", "2027-03-15T12:00"))

    assert wrongs(trip(FRESH, shut), itinerary((Doing.WORK, 0, 4))) == {Wrong.CLOSED}


def test_driving_in_a_ban_is_found() -> None:
    """Easter Monday, 29 March 2027, on German roads."""
    leaves = at(LONDON, "2027-03-29T07:00")
    wheels = Stretch(doing=Doing.DRIVE, leg=0, start=leaves, end=leaves + 4 * QUARTER)

    found = wrongs(trip(FRESH, drive(4, "DE"), lorry=HEAVY), Itinerary(stretches=(wheels,)))

    assert found == {Wrong.BAN}


def test_a_ship_sails_when_it_does_and_waits_for_nobody() -> None:
    ship = ferry((at(LONDON, "2027-03-15T10:00"), at(AMSTERDAM, "2027-03-15T20:00")))
    crossing = trip(FRESH, drive(8), ship, drive(4, "NL"))
    sound = earliest_arrival(crossing, SIX)
    assert sound is not None
    assert wrongs(crossing, sound) == set()

    later = replace(
        crossing,
        journey=replace(crossing.journey, legs=(drive(8), _an_hour_later(), drive(4, "NL"))),
    )
    closed = ferry((at(LONDON, "2027-03-15T10:00"), at(AMSTERDAM, "2027-03-15T20:00")), cut_off=121)
    early = replace(
        crossing, journey=replace(crossing.journey, legs=(drive(8), closed, drive(4, "NL")))
    )

    assert Wrong.SAILING in wrongs(later, sound)
    assert Wrong.SAILING in wrongs(early, sound)


def _an_hour_later() -> Leg:
    return ferry((at(LONDON, "2027-03-15T11:00"), at(AMSTERDAM, "2027-03-15T21:00")))

"""What a trip needs of others, how far it is arranged, and the calls when a window moves."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from shared.book import (
    Arrangement,
    ArrangementState,
    Booking,
    Counted,
    Departure,
    Engaged,
    EngagementState,
    Journey,
    LegKind,
    Notice,
)
from shared.edits import move_window
from shared.ids import StepId
from shared.notices import Call, Calling, Wanted, wanted
from shared.notices.calling import calls, side_of, total_cost
from shared.plan import Because, Doing, LegTime, Stretch, Trip
from shared.shifting import shifts_of
from tests.builders import a_leg, a_person, a_window, at, on
from tests.shared.notices.deliveries import Delivered, delivered, drive, legs_of

SLOT = Booking(start=at("2026-03-04 08:00"), end=at("2026-03-04 10:00"), name="gate two")
SAILS = Departure(leaves=at("2026-03-03 20:00"), arrives=at("2026-03-04 05:00"), price=Decimal(400))
LEGS = (
    drive(),
    a_leg(LegKind.SAILING, 0, departures=(SAILS,), name="the night boat"),
    a_leg(LegKind.UNLOAD, 60, slots=(SLOT,), by="the gatekeeper"),
    a_leg(LegKind.LIFT, 60, inside=True, name="over the wall"),
    a_leg(LegKind.ASSEMBLE, 300, inside=True),
)
TIMES = legs_of(
    *("2026-03-03 14:00", "2026-03-03 19:00", "2026-03-04 05:00", "2026-03-04 09:00"),
    *("2026-03-04 10:00", "2026-03-05 12:00"),
)
CRANE = Arrangement(
    id="crane",
    what="crane",
    name="the big crane",
    state=ArrangementState.BOOKED,
    reference="K 17",
    with_whom="Lifters",
    call="01 234",
    leg=4,
    start=at("2026-03-04 08:00"),
    end=at("2026-03-04 12:00"),
    free_until=at("2026-02-20 12:00"),
    cost_after=Decimal(350),
)


def there(**changes: Any) -> Delivered:
    usual: dict[str, Any] = {"journey": {"crew": ("ana",)}}
    return delivered(LEGS, TIMES, **{**usual, **changes})


def needs(made: Delivered) -> list[Wanted]:
    return list(wanted(made.book, made.job, made.trips))


def test_what_nobody_has_arranged_is_to_ask_with_the_instants_it_must_be_for() -> None:
    sailing, crane, hotel = needs(there())

    assert (sailing.what, sailing.leg, int(sailing.price)) == ("sailing", 2, 400)
    assert (sailing.start, sailing.end) == (SAILS.leaves, SAILS.arrives)
    assert (crane.what, crane.leg, crane.name) == ("crane", 4, "over the wall")
    assert (crane.start, crane.end) == (at("2026-03-04 09:00"), at("2026-03-04 10:00"))
    assert (hotel.what, hotel.start) == ("hotel", at("2026-03-05 00:00"))
    assert {each.state for each in (sailing, crane, hotel)} == {ArrangementState.TO_ASK}


def test_a_sailing_with_a_reference_is_booked() -> None:
    legs = (LEGS[0], replace(LEGS[1], departures=(replace(SAILS, reference="B 2"),)), *LEGS[2:])
    sailing = needs(delivered(legs, TIMES))[0]

    assert (sailing.state, sailing.reference) == (ArrangementState.BOOKED, "B 2")


def test_an_arrangement_stands_with_what_it_is_for() -> None:
    crane = needs(there(job={"arrangements": (CRANE,)}))[1]

    assert (crane.state, crane.reference, crane.arrangement) == ("booked", "K 17", CRANE)
    assert not crane.is_moved


@pytest.mark.parametrize(
    ("start", "end", "is_moved"),
    [
        ("2026-03-04 09:00", "2026-03-04 10:00", False),
        ("2026-03-04 09:15", "2026-03-04 12:00", True),
        ("2026-03-04 08:00", "2026-03-04 09:45", True),
    ],
)
def test_one_for_other_instants_is_told(start: str, end: str, is_moved: bool) -> None:
    other = replace(CRANE, start=at(start), end=at(end))

    assert needs(there(job={"arrangements": (other,)}))[1].is_moved is is_moved
    to_ask = replace(other, state=ArrangementState.TO_ASK)
    assert not needs(there(job={"arrangements": (to_ask,)}))[1].is_moved


def test_one_for_another_leg_or_thing_stands_besides() -> None:
    other = replace(CRANE, leg=5)
    floodlight = replace(CRANE, id="light", what="floodlight", leg=None)
    found = needs(there(job={"arrangements": (other, floodlight)}))

    assert found[1].arrangement is None
    assert [each.what for each in found[3:]] == ["crane", "floodlight"]
    assert not any(each.is_needed for each in found[3:])


def test_of_two_arrangements_the_nearer_in_time_is_meant() -> None:
    far = replace(CRANE, id="far", start=at("2026-04-04 08:00"), end=at("2026-04-04 12:00"))

    assert needs(there(job={"arrangements": (far, CRANE)}))[1].arrangement == CRANE


def test_an_escort_is_wanted_where_the_size_asks_for_notice() -> None:
    wide = needs(there(sizes=("8", "3", "1")))

    assert [each.what for each in wide] == ["escort", "sailing", "crane", "hotel"]
    assert (wide[0].start, wide[0].end) == (at("2026-03-03 14:00"), at("2026-03-04 05:00"))


def test_a_rest_of_the_crew_at_the_site_wants_a_bed_and_a_driver_sleeps_in_the_cab() -> None:
    def rest(leg: int, start: str, end: str) -> Stretch:
        return Stretch(
            doing=Doing.REST, leg=leg, start=at(start), end=at(end), because=Because.DAILY_REST
        )

    stretches = (
        rest(0, "2026-03-03 15:00", "2026-03-03 18:30"),
        rest(1, "2026-03-03 19:00", "2026-03-04 04:00"),
        rest(4, "2026-03-04 12:00", "2026-03-04 12:45"),
        rest(4, "2026-03-04 17:00", "2026-03-05 01:00"),
        rest(4, "2026-03-05 01:00", "2026-03-05 07:00"),
    )
    beds = [each for each in needs(there(trip={"stretches": stretches})) if each.what == "hotel"]

    assert [(bed.start, bed.end) for bed in beds] == [
        (at("2026-03-04 17:00"), at("2026-03-05 07:00"))
    ]
    # Six hours (common practice) are a bed, less is a break.
    short = (rest(4, "2026-03-04 17:00", "2026-03-04 22:45"),)
    assert not [each for each in needs(there(trip={"stretches": short})) if each.what == "hotel"]


def test_without_a_crew_nobody_wants_a_bed() -> None:
    assert "hotel" not in {each.what for each in needs(there(journey={}))}


@pytest.mark.parametrize(
    ("state", "last", "expected"),
    [
        (EngagementState.CONFIRMED, "2026-03-05", "booked"),
        (EngagementState.CONFIRMED, "2026-03-04", "to_ask"),
        (EngagementState.PENCILLED, "2026-03-05", "to_ask"),
    ],
)
def test_a_freelancer_is_wanted_for_every_day(
    state: EngagementState, last: str, expected: str
) -> None:
    engaged = Engaged(first=on("2026-03-03"), last=on(last), state=state)
    ana = a_person(freelance=True, engaged=(engaged,))
    made = there()
    book = replace(made.book, people=(ana,))
    found = needs(Delivered(book, made.job, made.trips))

    (free,) = [each for each in found if each.what == "freelancer"]
    assert (free.person, free.state) == ("ana", expected)


# The window moves.


def later(trip: Trip, by: timedelta) -> Trip:
    legs = tuple(LegTime(start=leg.start + by, end=leg.end + by) for leg in trip.legs)
    return replace(
        trip,
        start=trip.start + by,
        end=trip.end + by,
        back=trip.back + by,
        free=trip.free + by,
        legs=legs,
    )


def moved(now: str = "2026-02-01 12:00", **changes: Any) -> tuple[list[Call], Delivered]:
    """Move the window from Mon 2 Mar by three weeks to Mon 23 Mar."""
    sails = tuple(
        replace(
            SAILS,
            leaves=SAILS.leaves + timedelta(days=n),
            arrives=SAILS.arrives + timedelta(days=n),
        )
        for n in (0, 21)
    )
    legs = (LEGS[0], replace(LEGS[1], departures=sails), *LEGS[2:])
    window = a_window("heron-window", blocked=(replace(SLOT, name="painters"),))
    made = delivered(
        legs,
        TIMES,
        **{
            "journey": {"crew": ("ana",)},
            **changes,
            "job": {"windows": (window,), **changes.get("job", {})},
        },
    )
    start, end = at("2026-03-23 08:00"), at("2026-03-27 18:00")
    shifts = shifts_of(made.job, window, start)
    after = move_window(made.book, made.job.id, start, end).book
    trips = tuple(later(trip, timedelta(days=21)) for trip in made.trips)
    found = calls(
        side_of(made.book, made.job, made.trips),
        side_of(after, after.jobs[0], trips),
        shifts,
        at(now),
    )
    return list(found), made


def of(found: list[Call], calling: Calling) -> list[Call]:
    return [each for each in found if each.calling is calling]


def test_what_is_booked_is_called_about_with_number_and_cost() -> None:
    found, _ = moved(job={"arrangements": (CRANE,)})
    (call,) = of(found, Calling.CHANGE)

    assert (call.what, call.whom, call.number, call.reference) == (
        "crane",
        "Lifters",
        "01 234",
        "K 17",
    )
    assert call.was == (CRANE.start, CRANE.end)
    assert call.now == (at("2026-03-25 09:00"), at("2026-03-25 10:00"))
    assert (call.free_until, int(call.cost)) == (CRANE.free_until, 0)


@pytest.mark.parametrize(
    ("now", "state", "cost"),
    [
        ("2026-02-20 12:00", ArrangementState.BOOKED, 0),
        ("2026-02-20 12:01", ArrangementState.BOOKED, 350),
        ("2026-02-20 12:01", ArrangementState.ASKED, 0),
    ],
)
def test_a_change_is_free_until_its_instant_and_costs_after(
    now: str, state: ArrangementState, cost: int
) -> None:
    found, _ = moved(now, job={"arrangements": (replace(CRANE, state=state),)})

    assert of(found, Calling.CHANGE)[0].cost == cost
    assert total_cost(found) == cost


def test_without_a_day_until_which_it_is_free_it_costs() -> None:
    found, _ = moved(job={"arrangements": (replace(CRANE, free_until=None),)})

    assert total_cost(found) == 350


def test_what_nobody_has_asked_for_is_asked_for_the_new_instants() -> None:
    found, _ = moved()
    asked = {call.what: call for call in of(found, Calling.ASK)}

    assert set(asked) == {"sailing", "crane", "hotel"}
    assert asked["sailing"].now == (at("2026-03-24 20:00"), at("2026-03-25 05:00"))
    assert [asked["sailing"].price, total_cost(found)] == [Decimal(400), Decimal(0)]


def test_slots_and_blocked_stretches_shift_and_are_called_about() -> None:
    found, _ = moved()
    (slot,), (blocked,) = of(found, Calling.SLOT), of(found, Calling.BLOCKED)

    assert (slot.name, slot.whom) == ("gate two", "the gatekeeper")
    assert slot.was == (SLOT.start, SLOT.end)
    assert slot.now == (at("2026-03-25 08:00"), at("2026-03-25 10:00"))
    assert (blocked.name, blocked.now) == ("painters", slot.now)


def test_notices_given_for_the_old_date_are_given_anew_and_others_not() -> None:
    given = on("2026-01-20")
    notices = tuple(
        Notice(id=name, name="", lead=2, counted=Counted.WORKING_DAYS, done=given)
        for name in ("road_notice", "insurance", "town")
    )
    found, _ = moved(sizes=("8", "3", "1"), job={"notices": notices})
    anew = of(found, Calling.NOTICE)

    assert {call.what for call in anew} == {"road_notice", "own"}
    assert {call.given for call in anew} == {given}


def test_what_the_new_plan_does_not_need_is_cancelled() -> None:
    made = there(job={"arrangements": (CRANE,)})
    goes = made.job.steps[-1]
    assert isinstance(goes, Journey)
    shorter = replace(goes, legs=(LEGS[0],))
    job = replace(made.job, steps=(*made.job.steps[:-1], shorter))
    book = replace(made.book, jobs=(job,))
    trip = replace(made.trips[0], step=StepId("heron-journey"), legs=TIMES[:1])
    found = calls(
        side_of(made.book, made.job, made.trips),
        side_of(book, job, (trip,)),
        shifts_of(made.job, made.job.windows[0], made.job.windows[0].start),
        at("2026-03-01 12:00"),
    )
    (cancelled,) = of(list(found), Calling.CANCEL)

    assert (cancelled.what, int(cancelled.cost)) == ("crane", 350)
    assert cancelled.now == (None, None)


def test_a_move_to_where_it_is_calls_nobody_about_what_is_booked() -> None:
    made = there(job={"arrangements": (CRANE,)})
    side = side_of(made.book, made.job, made.trips)
    none = shifts_of(made.job, made.job.windows[0], made.job.windows[0].start)
    found = list(calls(side, side, none, at("2026-02-01 12:00")))

    assert {call.calling for call in found} == {Calling.ASK}

"""Delivery as part of the plan: small books in which one thing about the journey decides, or bars.

Every plan here has passed the check, which reads journeys by its own code.
"""

from dataclasses import replace
from datetime import datetime, time, timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.check import check
from scheduler.grid import DAY_STEPS
from scheduler.model.run import Limits
from scheduler.model.whole import solve_whole
from scheduler.normalise import Memory, Normal, normalise
from scheduler.outcome import Outcome, Verdict
from scheduler.place import place
from scheduler.problem import Going, Schedule
from scheduler.rules import Rule
from scheduler.shifts import first_schedule
from scheduler.unfold import to_plan
from shared.book import (
    Book,
    Booking,
    Departure,
    Equipment,
    EquipmentKind,
    FactKind,
    Journey,
    Leg,
    LegKind,
    Means,
    Pin,
    Timetable,
    Window,
)
from shared.ids import EquipmentId, PersonId
from shared.units import instant_of
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_segment,
    a_stage,
    a_told,
    a_window,
    an_equipment,
    an_other_work,
    at,
)
from tests.scheduler.normals import job_of, normal_of, placed, solved, trip_of

HOUR = timedelta(hours=1)
WEEK = a_window("heron-window")
"""From Monday 2 March 2026 at 8:00 to Friday 6 March at 18:00, at any hour."""


def thing(name: str, kind: EquipmentKind = EquipmentKind.VEHICLE, **said: Any) -> Equipment:
    return an_equipment(name, kind=kind, **said)


THINGS = (
    thing("van", gross_t=Decimal("3.5")),
    thing("lorry", gross_t=Decimal(18)),
    thing("crane", EquipmentKind.CRANE),
)


def drive(minutes: int, **said: Any) -> Leg:
    return a_leg(LegKind.DRIVE, 0, driving_minutes=minutes, country="GB", **said)


def inside(kind: LegKind, minutes: int, **said: Any) -> Leg:
    return a_leg(kind, minutes, inside=True, **said)


def means(name: str, vehicle: str, price: int = 0, **said: Any) -> Means:
    return Means(id=name, vehicles=(EquipmentId(vehicle),), price=Decimal(price), **said)


def booked(start: str, end: str) -> Booking:
    return Booking(start=at(start), end=at(end))


HIRED = means("hired", "lorry", 400, rules="eu_one_driver")
ANA = PersonId("ana")
OWN = means("own", "van", 100, driven_by=(ANA,))
ROAD = (drive(240), inside(LegKind.ASSEMBLE, 120))
PLAIN = (a_leg(minutes=240), inside(LegKind.ASSEMBLE, 120))


def a_delivery(
    *legs: Leg,
    ways: tuple[Means, ...] = (),
    window: Window = WEEK,
    hours: int = 8,
    things: tuple[Equipment, ...] = THINGS,
    book: dict[str, Any] | None = None,
    stage: dict[str, Any] | None = None,
    **said: Any,
) -> Book:
    """One job that is carved, loaded and delivered; two people."""
    journey: Journey = a_journey(legs=legs, means=ways, **said)
    steps = (a_stage("carve", hours=hours, **(stage or {})), a_gate(), journey)
    job = a_job(steps=steps, windows=(window,))
    usual = {"equipment": things, "people": (a_person("ana"), a_person("ben"))}
    return a_book(job, **{**usual, **(book or {})})


def goings(book: Book, now: datetime = NOW) -> list[Going]:
    trip = normal_of(book, now).problem.jobs[0].trip
    return [] if trip is None else list(trip.options)


def both_ways(book: Book, now: datetime = NOW) -> tuple[Normal, list[int]]:
    """The option that the pass takes and the one that the solver takes, both checked."""
    normal = normal_of(book, now)
    index = Index(normal.problem)
    first = first_schedule(index, 1)
    assert not isinstance(first, Unfit)
    best = solve_whole(index, Limits(effort=300, workers=1)).schedule
    assert best is not None
    for schedule in (first, best):
        assert not check(book, to_plan(normal, schedule)).breaches
    return normal, [first.trips[0], best.trips[0]]


class TestChoosing:
    CHEAP_SHIP = Departure(
        leaves=at("2026-03-02 10:00"), arrives=at("2026-03-04 10:00"), price=Decimal(50)
    )
    DEAR_SHIP = Departure(
        leaves=at("2026-03-05 10:00"), arrives=at("2026-03-06 10:00"), price=Decimal(90)
    )
    SEA = (a_leg(LegKind.SAILING, 0, departures=(CHEAP_SHIP, DEAR_SHIP)), *PLAIN)

    def _of(self, hours: int) -> tuple[list[int], list[Going]]:
        book = a_delivery(*self.SEA, hours=hours, crew=())
        normal, taken = both_ways(book)
        trip = normal.problem.jobs[0].trip
        assert trip is not None
        return [trip.options[at].price for at in taken], list(trip.options)

    def test_the_cheap_sailing_is_taken_while_there_is_time(self) -> None:
        prices, options = self._of(hours=8)

        assert prices == [5000, 5000]
        assert [going.price for going in options if going.in_time] == [9000, 5000]

    def test_the_dear_sailing_is_taken_where_there_is_not(self) -> None:
        # 39 working days of 6.5 useful hours lie before 2 March.
        prices, _ = self._of(hours=270)

        assert prices == [9000, 9000]

    def test_the_latest_loading_is_that_of_the_last_ship(self) -> None:
        outcome = solved(a_delivery(*self.SEA, crew=()))

        assert job_of(outcome, "heron").latest_loading == at("2026-03-05 10:00")
        assert outcome.levels[6] == 5000

    def test_judged_means_are_chosen_by_price_too(self) -> None:
        outcome = solved(a_delivery(*ROAD, ways=(HIRED, OWN), crew=("ana",)))

        assert trip_of(outcome, "journey").means == "own"
        assert outcome.levels[6] == 10000

    def test_who_drives_is_busy_and_the_dear_one_goes(self) -> None:
        course = an_other_work("course", start=at("2026-02-23 00:00"), end=at("2026-03-07 00:00"))
        course = replace(course, people=(PersonId("ana"),), places=(), equipment=())
        outcome = solved(a_delivery(*ROAD, ways=(HIRED, OWN), book={"other_work": (course,)}))

        assert trip_of(outcome, "journey").means == "hired"
        assert outcome.verdict is Verdict.FITS

    def test_means_that_cannot_carry_the_pieces_fall_away(self) -> None:
        small = replace(
            THINGS[0],
            inside_length_m=Decimal(1),
            inside_width_m=Decimal(1),
            inside_height_m=Decimal(1),
        )
        book = a_delivery(*ROAD, ways=(HIRED, OWN), things=(small, THINGS[1]))
        only = a_delivery(*ROAD, ways=(OWN,), things=(small, THINGS[1]))

        assert trip_of(solved(book), "journey").means == "hired"
        assert job_of(solved(only), "heron").verdict is Verdict.CANNOT
        assert job_of(solved(only), "heron").reasons[0].code == "too_big"


class TestForbidding:
    def test_a_slot_decides_when_it_leaves(self) -> None:
        lift = inside(LegKind.LIFT, 120, slots=(booked("2026-03-04 09:00", "2026-03-04 11:00"),))

        trip = trip_of(solved(a_delivery(drive(240), lift, ways=(HIRED,))), "journey")

        assert trip.legs[-1].end == at("2026-03-04 11:00")

    @pytest.mark.parametrize("legs", [(drive(240),), (a_leg(minutes=240),)])
    def test_a_slot_that_is_too_short_is_none(self, legs: tuple[Leg, ...]) -> None:
        lift = inside(LegKind.LIFT, 135, slots=(booked("2026-03-04 09:00", "2026-03-04 11:00"),))
        ways = (HIRED,) if legs[0].driving_minutes else ()

        outcome = solved(a_delivery(*legs, lift, ways=ways))

        assert job_of(outcome, "heron").verdict is Verdict.CANNOT
        expected = "site_too_short" if ways else "no_departure"
        assert job_of(outcome, "heron").reasons[0].code == expected

    def test_other_trades_have_the_site(self) -> None:
        window = replace(WEEK, blocked=(booked("2026-03-04 00:00", "2026-03-06 18:00"),))
        for legs, ways in ((ROAD, (HIRED,)), (PLAIN, ())):
            trip = trip_of(solved(a_delivery(*legs, ways=ways, window=window)), "journey")
            assert trip.legs[-1].end == at("2026-03-04 00:00")

    def test_a_crane_is_booked_by_others(self) -> None:
        things = (
            *THINGS[:2],
            replace(THINGS[2], bookings=(booked("2026-03-04 00:00", "2026-03-07 00:00"),)),
        )
        lift = inside(LegKind.LIFT, 60, equipment=(EquipmentId("crane"),))
        for way, ways in ((drive(240), (HIRED,)), (a_leg(minutes=240), ())):
            book = a_delivery(way, lift, ways=ways, things=things)
            assert trip_of(solved(book), "journey").end == at("2026-03-04 00:00")

    def test_a_crane_is_held_during_its_leg_only(self) -> None:
        lift = inside(LegKind.LIFT, 60, equipment=(EquipmentId("crane"),))
        first = goings(a_delivery(a_leg(minutes=240), lift, inside(LegKind.ASSEMBLE, 120)))[0]
        judged = goings(a_delivery(drive(240), lift, inside(LegKind.ASSEMBLE, 120), ways=(HIRED,)))[
            0
        ]

        ((_, start, end, _),) = first.takes
        assert (start - first.leaves, end - start) == (16, 4)
        (held,) = [each for each in judged.takes if each[2] - each[1] == 4]
        assert held[1] > judged.leaves

    def test_a_loaded_lorry_that_may_not_stand(self) -> None:
        book = a_delivery(*ROAD, ways=(HIRED,), stands_most_minutes=60)

        for outcome in (solved(book), solved(a_delivery(*PLAIN, stands_most_minutes=60))):
            trip, loading = trip_of(outcome, "journey"), placed(outcome, "loading")
            assert timedelta() <= trip.start - loading.end <= HOUR
            assert outcome.verdict is Verdict.FITS


class TestOneDay:
    """Driving, site and bench are one day of one person."""

    EARLY = replace(WEEK, end=at("2026-03-04 08:30"))
    """It leaves at 2:30, so that whoever drives has gone home by 15:30 the day before."""

    def test_whoever_drives_has_rested_right_before(self) -> None:
        book = a_delivery(*ROAD, ways=(OWN,), window=self.EARLY, crew=())
        first = goings(book)[0]

        rests = [(end - start, end) for _, start, end in first.rests]
        assert (44, first.leaves) in rests

    def test_the_bench_before_is_somebody_elses(self) -> None:
        hours = ("2026-03-03 14:30", "2026-03-03 13:00")
        pins = (Pin(start=at(hour), people=(PersonId("ana"),)) for hour in hours)
        late, soon = (
            a_delivery(*ROAD, ways=(OWN,), window=self.EARLY, hours=1, stage={"pin": pin})
            for pin in pins
        )

        assert placed(solved(late), "carve").end == at("2026-03-03 15:45")
        assert trip_of(solved(soon), "journey").start == at("2026-03-04 02:30")
        assert trip_of(solved(late), "journey").start > at("2026-03-04 02:30")
        for book in (late, soon):
            both_ways(book)

    def test_whoever_rides_along_rests_where_it_costs_the_bench_least(self) -> None:
        book = a_delivery(
            *ROAD, ways=(HIRED,), window=replace(WEEK, end=at("2026-03-04 18:00")), crew=("ana",)
        )
        first = goings(book)[0]
        before = [each for each in first.rests if each[2] <= first.leaves]

        ((_, start, end),) = before
        origin = normal_of(book).origin
        assert instant_of(origin, start) >= at("2026-03-03 16:00")
        assert instant_of(origin, end) <= at("2026-03-04 07:30")

    @pytest.mark.parametrize(("who", "is_rested"), [("ana", False), ("ben", True)])
    def test_what_is_under_way_counts(self, who: str, is_rested: bool) -> None:
        begun = a_fact(
            "begun",
            "carve",
            kind=FactKind.RUNNING,
            at=at("2026-03-03 14:00"),
            people=(PersonId(who),),
            remaining_hours=Decimal(0),
        )
        now = at("2026-03-04 01:00")
        book = a_delivery(*ROAD, ways=(OWN,), window=self.EARLY, book={"facts": (begun,)})

        assert any(going.in_time for going in goings(book, now)) is is_rested
        reasons = [reason.code for reason in job_of(solved(book, now=now), "heron").reasons]
        assert ("crew_away" in reasons) is not is_rested


class TestLegsWithoutDriversHours:
    def test_person_hours_of_some_hands_take_their_loss(self) -> None:
        # 10 hours of two, 5 % lost: 5 h 15 (design: hours x (1 + loss x (hands - 1)) / hands).
        legs = (a_leg(minutes=60), inside(LegKind.ASSEMBLE, 0, person_hours=Decimal(10), hands=2))
        trip = trip_of(solved(a_delivery(*legs)), "journey")

        assert trip.legs[1].end - trip.legs[1].start == timedelta(hours=5, minutes=15)

    def test_a_cure_lies_before_the_next_leg(self) -> None:
        legs = (
            a_leg(minutes=60),
            inside(LegKind.SEAL, 60, cure_hours=Decimal(12)),
            inside(LegKind.SIGN_OFF, 30),
        )
        trip = trip_of(solved(a_delivery(*legs)), "journey")

        assert trip.legs[2].end - trip.legs[1].end == timedelta(hours=12, minutes=30)

    def test_the_way_home_is_a_leg_and_no_part_of_the_window(self) -> None:
        legs = (*PLAIN, a_leg(LegKind.RETURN, 300))
        trip = trip_of(solved(a_delivery(*legs)), "journey")

        assert trip.end == WEEK.end
        assert trip.back == trip.end + 5 * HOUR == trip.legs[-1].end

    def test_a_train_by_timetable(self) -> None:
        nightly = Timetable(
            weekdays=(2,),
            leaves=time(22),
            arrives=time(6),
            zone="Europe/London",
            days_later=1,
            check_in_minutes=30,
        )
        legs = (a_leg(minutes=60), a_leg(LegKind.TRAIN, 0, timetable=(nightly,)), *PLAIN)
        trip = trip_of(solved(a_delivery(*legs)), "journey")

        assert trip.start == at("2026-03-03 20:30")
        assert trip.legs[1].end == at("2026-03-04 06:00")

    def test_signing_in_takes_its_usual_time(self) -> None:
        legs = (a_leg(minutes=60), inside(LegKind.ARRIVE, 0))
        trip = trip_of(solved(a_delivery(*legs)), "journey")

        assert trip.legs[1].end > trip.legs[1].start


def test_a_job_that_has_gone_is_where_its_means_has_got_to() -> None:
    left = a_fact("gone", "journey", kind=FactKind.GONE, at=at("2026-03-04 05:00"))
    book = a_delivery(*ROAD, ways=(HIRED, OWN), crew=("ana",), book={"facts": (left,)})
    outcome: Outcome = solved(book, now=at("2026-03-04 06:00"))
    trip = trip_of(outcome, "journey")

    assert (trip.start, trip.means) == (at("2026-03-04 05:00"), "hired")
    assert trip.stretches
    assert job_of(outcome, "heron").verdict is Verdict.FITS


def test_departures_in_time_are_offered_before_the_latest_one() -> None:
    found = goings(a_delivery(*ROAD, ways=(HIRED,), crew=("ana",)))
    in_time = [going.leaves for going in found if going.in_time]

    assert in_time == sorted(in_time, reverse=True)
    assert in_time[0] - in_time[-1] == 2 * DAY_STEPS
    assert all(going.leaves > in_time[0] for going in found if not going.in_time)


def test_a_crew_goes_by_itself_when_it_is_needed_at_the_gate() -> None:
    book = a_delivery(
        *ROAD,
        ways=(HIRED,),
        crew=("ben",),
        travel=(drive(120),),
        travel_vehicles=(EquipmentId("van"),),
    )
    outcome = solved(book)
    trip, first = trip_of(outcome, "journey"), goings(book)[0]

    assert trip.crew_from is not None
    assert trip.crew_from > trip.start
    assert [start - first.leaves > 0 for _, start, _ in first.away] == [True]


def a_slow_crew(**more: Any) -> Book:
    """Loaded by Friday at 6:00; the lorry has to leave by 12:00, the crew on Thursday at 19:30."""
    done = {"carve": "2026-03-05 16:00", "loading": "2026-03-05 17:00"}
    return a_delivery(
        *ROAD,
        ways=(HIRED,),
        crew=("ben",),
        travel=(drive(540),),
        travel_vehicles=(EquipmentId("van"),),
        book={"facts": tuple(a_fact(s, s, at=at(when)) for s, when in done.items()), **more},
    )


def test_no_crew_goes_before_now() -> None:
    book, in_time, too_late = a_slow_crew(), at("2026-03-05 18:00"), at("2026-03-06 06:00")
    plan = solved(book, now=in_time).plan

    assert plan.trips[0].crew_from == at("2026-03-05 19:30")
    assert goings(book, in_time)[0].in_time
    assert not any(going.in_time for going in goings(book, too_late))
    assert job_of(solved(book, now=too_late), "heron").verdict is Verdict.NOT_FOUND
    assert Rule.BEFORE_NOW in {found.rule for found in check(book, plan, now=too_late).breaches}


def test_a_crew_that_was_told_to_go_before_now_has_gone() -> None:
    plan = solved(a_slow_crew(), now=at("2026-03-05 18:00")).plan
    told = a_slow_crew(told=a_told(plan, at=at("2026-03-05 18:00")))
    too_late, memory = at("2026-03-06 06:00"), Memory()
    outcome = solved(told, now=too_late)

    without = a_slow_crew(told=a_told(replace(plan, trips=())))
    assert normalise(without, too_late, memory=memory) == normal_of(without, too_late)
    assert normalise(told, too_late, memory=memory) == normal_of(told, too_late)
    assert job_of(outcome, "heron").verdict in {Verdict.FITS, Verdict.TIGHT}
    assert trip_of(outcome, "journey").crew_from == at("2026-03-05 19:30")


def test_a_journey_that_only_later_loses_its_window_leaves_after_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    book = a_delivery(*ROAD, ways=(HIRED,), crew=("ana",))

    def worse(index: Index, *_: object, **__: object) -> Schedule:
        """Carve a week after the window, which the first schedule kept."""
        stages = len(index.problem.stages)
        found = place(index, range(stages), release=[64 * DAY_STEPS] * stages)
        assert not isinstance(found, Unfit)
        return found

    monkeypatch.setattr("scheduler.solve.SMALL_STAGES", 0)
    monkeypatch.setattr("scheduler.improve.improve", worse)
    outcome = solved(book)

    assert outcome.levels[:2] == (1, 0)
    assert trip_of(outcome, "journey").start > placed(outcome, "loading").end > WEEK.end


def busy_by_day(days: int) -> dict[str, Any]:
    """Ana is elsewhere from 8 to 18 on each day from 24 February on."""
    first = at("2026-02-24 08:00")
    return {
        "other_work": tuple(
            replace(
                an_other_work(
                    f"course-{day}",
                    start=first + day * 24 * HOUR,
                    end=first + (day * 24 + 10) * HOUR,
                ),
                people=(PersonId("ana"),),
                places=(),
                equipment=(),
            )
            for day in range(days)
        )
    }


def test_nothing_is_proved_where_departures_were_passed_over() -> None:
    """Whoever drives is elsewhere by day: no departure is found, but not each was looked at."""
    book = a_delivery(*ROAD, ways=(OWN,), crew=("ana",), book=busy_by_day(14))
    outcome = solved(book)

    assert normal_of(book).problem.jobs[0].guessed
    assert job_of(outcome, "heron").verdict is Verdict.NOT_FOUND
    assert outcome.proved_levels == 0
    assert trip_of(outcome, "journey").start == at("2026-03-10 07:30")


def test_between_the_few_departures_offered_another_is_found_once_they_are_missed() -> None:
    """Pinned to the bench around each of the few, ana can go in the night to Thursday only."""
    hours = ("2026-03-04 08:00", "2026-03-05 15:00", "2026-03-06 09:00")
    benches = tuple(
        a_stage(f"bench-{at_}", hours=Decimal("0.25"), pin=Pin(start=at(at_), people=(ANA,)))
        for at_ in hours
    )
    other = a_job("wren", segments=(a_segment("wren-body"),), steps=(*benches, a_gate("gate")))
    book = a_delivery(*ROAD, ways=(OWN,), crew=())
    busy = replace(book, jobs=(*book.jobs, replace(other, windows=())))
    few = {going.leaves for going in goings(busy) if going.in_time}
    trip = trip_of(solved(busy), "journey")

    assert len(few) == 4
    assert trip.end <= WEEK.end
    assert at("2026-03-04 19:00") <= trip.start <= at("2026-03-04 22:00")

"""The door: what comes back, how it ends, what it never does."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import count

import pytest

from scheduler.check import check
from scheduler.outcome import Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, EquipmentNeed, GateKind, Kind, Pin, Standing
from shared.files.write import digest
from shared.ids import EquipmentId, JobId, StepId
from shared.plan import Plan, Unplaced
from tests.builders import (
    NOW,
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_place,
    a_stage,
    a_way,
    a_window,
    an_after,
    an_equipment,
    at,
)
from tests.scheduler.normals import job_of, of_steps, placed, solved, trip_of


class Heard:
    """Keeps what a solve tells of."""

    def __init__(self) -> None:
        self.plans: list[tuple[Plan, tuple[int, ...]]] = []
        self.bounds: list[tuple[JobId, int]] = []

    def plan(self, plan: Plan, levels: tuple[int, ...]) -> None:
        self.plans.append((plan, levels))

    def bound(self, job: JobId, minutes: int) -> None:
        self.bounds.append((job, minutes))


def ticking() -> Iterator[float]:
    return (float(second) for second in count())


def two_jobs() -> Book:
    return a_book(a_job("heron"), a_job("finch"), people=(a_person(), a_person("ben")))


def test_the_usual_book_is_planned_and_sound() -> None:
    outcome = solved(a_book())

    assert outcome.check.sound
    assert outcome.verdict is Verdict.FITS
    carve, trip = placed(outcome, "heron-carve"), trip_of(outcome, "heron-journey")
    assert carve.people == ("ana",)
    assert carve.way == "bench"
    assert trip.start >= placed(outcome, "heron-loading").end
    assert len(trip.legs) == 2
    assert trip.legs[0].end == trip.legs[1].start


def test_the_answer_names_what_it_was_made_from() -> None:
    book = replace(a_book(), revision=7)
    outcome = solved(book)

    assert (outcome.revision, outcome.now) == (7, NOW)
    assert outcome.plan.made_from.digest == digest(book)
    assert (outcome.plan.now, outcome.plan.seed) == (NOW, 1)


def test_placements_stand_in_order_of_job_step_round_and_part() -> None:
    keys = [
        (each.job, each.step, each.round, each.part) for each in solved(two_jobs()).plan.placements
    ]

    assert keys == sorted(keys)


def test_the_same_effort_gives_the_same_plan() -> None:
    request = SolveRequest(book=two_jobs(), now=NOW, effort=6, workers=1)

    first, second = solve(request), solve(request)

    assert first == second
    assert first.stopped in ("effort", "proved")


def test_told_plans_are_checked_and_get_no_worse() -> None:
    book, heard = two_jobs(), Heard()
    clock = ticking()
    outcome = solve(
        SolveRequest(book=book, now=NOW, effort=20), progress=heard, clock=lambda: next(clock)
    )

    levels = [found for _, found in heard.plans] + [outcome.levels]
    assert heard.plans
    assert levels == sorted(levels, reverse=True)
    assert all(check(book, plan).sound for plan, _ in heard.plans)


def test_a_cancelled_solve_gives_the_plan_it_has() -> None:
    outcome = solve(SolveRequest(book=two_jobs(), now=NOW), cancel=lambda: True)

    assert outcome.stopped == "cancelled"
    assert outcome.check.sound
    assert len(outcome.plan.trips) == 2


def test_time_that_is_up_ends_a_solve() -> None:
    clock = ticking()
    outcome = solve(SolveRequest(book=two_jobs(), now=NOW, seconds=3), clock=lambda: next(clock))

    assert outcome.stopped in ("time", "proved")
    assert outcome.check.sound


def test_a_book_without_jobs_has_an_empty_plan() -> None:
    outcome = solved(replace(a_book(), jobs=()))

    assert outcome.verdict is Verdict.FITS
    assert outcome.plan.placements == ()
    assert outcome.jobs == ()


def test_an_enquiry_is_planned_only_when_asked_for() -> None:
    book = a_book(a_job("heron"), a_job("finch", standing=Standing.ENQUIRY))

    assert [job.id for job in solved(book).jobs] == ["heron"]
    assert [job.id for job in solved(book, asked=("finch",)).jobs] == ["heron", "finch"]


def test_steps_that_nothing_allows_are_left_out_and_the_other_jobs_planned() -> None:
    odd = a_job(
        "finch",
        steps=(a_stage("f.carve", ways=(a_way(skill="juggle"),)), a_gate("f.load"), a_journey("f")),
    )
    outcome = solved(a_book(a_job("heron"), odd))

    assert outcome.check.sound
    assert job_of(outcome, "finch").verdict is Verdict.CANNOT
    assert job_of(outcome, "finch").reasons[0].code == "nobody_can"
    assert job_of(outcome, "heron").verdict is Verdict.FITS
    assert outcome.plan.unplaced == tuple(
        Unplaced(job=JobId("finch"), step=StepId(step), code=code)
        for step, code in (
            ("f", "follows_unplaced"),
            ("f.carve", "nobody_can"),
            ("f.load", "follows_unplaced"),
        )
    )


def test_a_pin_where_nobody_works_leaves_the_job_out_and_says_not_found() -> None:
    pinned = a_job(
        "finch",
        steps=(
            a_stage("f.carve", pin=Pin(start=at("2026-01-10 10:00"))),
            a_gate("f.load"),
            a_journey("f"),
        ),
    )
    outcome = solved(a_book(a_job("heron"), pinned))

    assert job_of(outcome, "finch").verdict is Verdict.NOT_FOUND
    assert job_of(outcome, "finch").reasons[0].code == "not_placed"
    assert job_of(outcome, "heron").verdict is Verdict.FITS
    assert ("f.carve", "not_placed") in {(one.step, one.code) for one in outcome.plan.unplaced}


def test_a_door_at_the_site_opens_when_the_journey_is_over() -> None:
    job = a_job(steps=(a_stage("carve"), a_gate(), a_journey(), a_gate("door", GateKind.SITE)))
    outcome = solved(a_book(job))

    assert placed(outcome, "door").start == trip_of(outcome, "journey").end


def test_work_after_the_journey_is_left_out_and_said_so() -> None:
    job = a_job(steps=(a_stage("carve"), a_gate(), a_journey(), a_stage("touch up")))
    outcome = solved(a_book(job))

    assert [(one.step, one.code) for one in outcome.plan.unplaced] == [
        ("touch up", "after_journey")
    ]


def test_crew_and_vehicles_are_away_until_they_are_back_and_rested() -> None:
    legs = (a_leg(minutes=120), a_leg(minutes=60, inside=True))
    steps = (
        a_stage("carve"),
        a_gate(),
        a_journey(legs=legs, crew=("ana",), vehicles=("lorry",), back_minutes=120),
    )
    outcome = solved(a_book(a_job(steps=steps), equipment=(an_equipment(),)))
    trip = trip_of(outcome, "journey")

    assert (trip.back - trip.end).total_seconds() == 2 * 3600
    assert (trip.free - trip.back).total_seconds() == 11 * 3600


def test_a_crew_on_leave_leaves_sooner_or_not_at_all() -> None:
    from shared.book import Leave

    steps = (a_stage("carve", hands=0), a_gate(), a_journey(crew=("ana",)))
    fortnight = Leave(start=at("2026-03-04 00:00"), end=at("2026-03-12 00:00"))
    month = Leave(start=at("2026-02-20 00:00"), end=at("2026-03-12 00:00"))
    book = a_book(a_job(steps=steps))

    early = solved(replace(book, people=(a_person(leave=(fortnight,)),)))
    never = solved(replace(book, people=(a_person(leave=(month,)),)))

    assert trip_of(early, "journey").back <= fortnight.start
    assert job_of(never, "heron").verdict is Verdict.CANNOT
    assert job_of(never, "heron").reasons[0].code == "crew_away"
    assert trip_of(never, "journey").start >= month.end


def test_two_journeys_of_a_job_both_make_the_window() -> None:
    steps = (
        a_stage("carve"),
        a_gate(),
        a_journey("lorry"),
        a_journey("van", after=(an_after("loading"),), legs=(a_leg(minutes=300, inside=True),)),
    )
    outcome = solved(a_book(a_job(steps=steps)))

    assert outcome.verdict is Verdict.FITS
    assert {trip.step for trip in outcome.plan.trips} == {"lorry", "van"}


def test_equipment_of_the_way_stands_in_the_plan() -> None:
    needs = (EquipmentNeed(equipment=EquipmentId("lorry"), count=2),)
    stage = a_stage("carve", ways=(a_way(equipment=needs),))
    outcome = solved(replace(of_steps(stage), equipment=(an_equipment(count=2),)))

    assert placed(outcome, "carve").equipment == ("lorry", "lorry")


def test_work_of_no_length_still_names_who_could_do_it() -> None:
    outcome = solved(of_steps(a_stage("look", hours=0)))

    assert placed(outcome, "look").people == ("ana",)


def test_a_window_that_no_sailing_reaches_is_missed_with_the_next_one() -> None:
    from shared.book import Departure, LegKind

    boats = tuple(
        Departure(leaves=at(f"2026-03-{day} 10:00"), arrives=at(f"2026-03-{day} 20:00"))
        for day in ("07", "14")
    )
    legs = (a_leg(LegKind.SAILING, minutes=0, departures=boats), a_leg(inside=True))
    outcome = solved(a_book(a_job(steps=(a_stage("carve"), a_gate(), a_journey(legs=legs)))))

    assert job_of(outcome, "heron").verdict is Verdict.CANNOT
    assert job_of(outcome, "heron").reasons[0].code == "no_departure"
    assert trip_of(outcome, "journey").legs[0].end == at("2026-03-07 20:00")


def test_a_journey_that_never_gets_there_is_left_out() -> None:
    from shared.book import Departure, LegKind

    gone = Departure(leaves=at("2026-01-02 10:00"), arrives=at("2026-01-02 20:00"))
    legs = (a_leg(LegKind.SAILING, minutes=0, departures=(gone,)), a_leg(inside=True))
    outcome = solved(a_book(a_job(steps=(a_stage("carve"), a_gate(), a_journey(legs=legs)))))

    assert [(one.step, one.code) for one in outcome.plan.unplaced] == [("journey", "no_departure")]
    assert placed(outcome, "carve").start >= NOW


def test_a_job_without_a_window_cannot_keep_it() -> None:
    outcome = solved(a_book(a_job(windows=())))

    assert outcome.verdict is Verdict.CANNOT
    assert job_of(outcome, "heron").reasons[0].code == "no_window"


@pytest.mark.parametrize("now", ["2026-01-05 08:07", "2026-01-05 23:59"])
def test_a_now_off_the_grid_starts_with_the_next_quarter(now: str) -> None:
    outcome = solved(a_book(), now=at(now))

    assert outcome.plan.now == at(now)
    assert placed(outcome, "heron-carve").start >= at(now)


def test_a_recoat_time_is_kept_even_where_it_costs_waiting() -> None:
    stages = (
        a_stage("first", Kind.COAT, in_one_go=True, hours=4, recoat_hours=Decimal(4)),
        a_stage("second", Kind.COAT, in_one_go=True, hours=3),
    )
    outcome = solved(of_steps(*stages))

    wait = placed(outcome, "second").start - placed(outcome, "first").end
    assert wait.total_seconds() <= 4 * 3600


def test_pieces_that_may_not_stand_together_are_made_one_after_the_other() -> None:
    jobs = [
        a_job(
            name,
            segments=None,
            windows=(a_window(f"{name}-w"),),
            steps=(a_stage(f"{name}-carve"), a_gate(f"{name}-load"), a_journey(f"{name}-go")),
        )
        for name in ("heron", "finch")
    ]
    book = a_book(
        *jobs,
        places=(a_place(), a_floor(area_m2="3.4")),
        people=(a_person(), a_person("ben")),
    )
    outcome = solved(book)
    first, second = sorted(
        (placed(outcome, f"{name}-carve").start, placed(outcome, f"{name}-load").end)
        for name in ("heron", "finch")
    )

    assert first[1] <= second[0]


def test_a_recoat_time_that_runs_to_the_lorry_is_planned_but_not_called_sound() -> None:
    lacquer = a_stage("lacquer", Kind.LACQUER, cure_hours=1, recoat_hours=Decimal(2))
    outcome = solved(a_book(a_job("heron", steps=(lacquer, a_journey("away")))))

    assert outcome.check.breaches == ()
    assert outcome.check.not_judged == ("wait_for_journey",)

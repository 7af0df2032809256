"""Plans as time goes on: what is done, running, awaited or gone stays; the rest is planned anew."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random
from zoneinfo import ZoneInfo

import pytest

from scheduler.normalise.facts import told_facts
from scheduler.reasons import Reason
from shared.book import (
    Abrade,
    Answer,
    Book,
    Certificate,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Kind,
    Leave,
    Standing,
    Told,
)
from shared.ids import FactId, PersonId, PlaceId, StepId
from shared.plan import Placement, Plan
from tests.books.shapes import SHAPES
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_stage,
    a_told,
    a_way,
    at,
)
from tests.scheduler.normals import (
    codes,
    normal_of,
    of_steps,
    placed,
    position,
    solved,
    stage_of,
    worker_of,
)

TWO_COATS = of_steps(
    a_stage("first", Kind.COAT, cure_hours=20, recoat_hours=Decimal(40)),
    a_stage("second", Kind.COAT),
)


def running(step: str = "carve", **changes: object) -> Fact:
    usual = a_fact(
        kind=FactKind.RUNNING,
        step=step,
        at=at("2026-01-02 09:07"),
        people=(PersonId("ana"),),
        way="bench",
        remaining_hours=Decimal("6.5"),
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def test_what_is_done_leaves_the_problem_and_its_cure_counts_from_the_told_end() -> None:
    done = a_fact(step="first", at=at("2026-01-05 07:07"))
    book = replace(TWO_COATS, facts=(done,))
    normal = normal_of(book)

    assert [name.step for name in normal.stages] == ["second", "loading"]
    second = stage_of(normal, "second")
    # 20 h after 7:07 is 3:07, rounded up; 40 h after is 23:07, rounded down: from Monday 8:00.
    assert (second.release, second.start_by) == (19 * 4 + 1, 39 * 4)
    kept = placed(solved(book), "first")
    assert kept.end == done.at


def test_a_recoat_time_that_has_run_out_is_a_fact_of_the_job() -> None:
    done = a_fact(step="first", at=at("2026-01-02 07:00"))
    normal = normal_of(replace(TWO_COATS, facts=(done,)))

    assert codes(normal) == [Reason.RECOAT_OVER]


def test_a_running_stage_goes_on_with_the_same_people_for_what_is_left() -> None:
    book = replace(
        of_steps(a_stage("carve", hours=80)),
        people=(a_person("ana"), a_person("ben")),
        facts=(running(people=(PersonId("ben"),)),),
    )
    kept = placed(solved(book), "carve")

    assert kept.people == ("ben",)
    assert kept.start == at("2026-01-02 09:07")
    # 6.5 h x 8 / 6.5 are 8 h of the shift from 8:00, half an hour of break among them.
    assert kept.end == at("2026-01-06 08:00")


def test_whoever_is_on_it_is_taken_to_be_able_to_do_it() -> None:
    book = replace(
        of_steps(a_stage("carve")),
        people=(a_person("ana"), a_person("ben", skills=())),
        facts=(running(people=(PersonId("ben"),)),),
    )

    assert placed(solved(book), "carve").people == ("ben",)


def test_a_running_stage_of_nobody_in_particular_takes_who_is_asked_for_and_certified() -> None:
    held = (Certificate(certificate="first aid"),)
    people = (a_person("ana"), a_person("ben"), a_person("cid", certificates=held))
    for stage, wanted in (
        (a_stage("carve", people=(PersonId("ben"),)), "ben"),
        (a_stage("carve", certificates=("first aid",)), "cid"),
    ):
        book = replace(of_steps(stage), people=people, facts=(running(people=()),))

        assert placed(solved(book), "carve").people == (wanted,)


def test_a_running_stage_of_nobody_in_particular_takes_who_can() -> None:
    book = replace(of_steps(a_stage("carve")), facts=(running(people=()),))

    assert placed(solved(book), "carve").people == ("ana",)


def test_a_running_stage_waits_for_its_people_and_keeps_its_place() -> None:
    away = a_person(leave=(Leave(start=NOW, end=at("2026-01-07 00:00")),))
    book = replace(
        of_steps(a_stage("carve", places=("bay",))),
        people=(away,),
        facts=(running(place=PlaceId("bay")),),
    )
    normal = normal_of(book)
    stage = stage_of(normal, "carve")

    start = (2 * 24) * 4 - 2
    assert stage.fixed_start == start
    assert [use.before for use in stage.ways[0].uses] == [start]
    assert solved(book).check.sound


def test_two_running_stages_of_one_person_go_on_one_after_the_other() -> None:
    book = replace(
        of_steps(a_stage("carve"), a_stage("fill", after=())),
        facts=(running(), running("fill", id=FactId("two"))),
    )
    outcome = solved(book)

    assert placed(outcome, "fill").end > placed(outcome, "carve").end


def test_what_is_running_is_over_at_once_when_nothing_is_left() -> None:
    book = replace(of_steps(a_stage("carve")), facts=(running(remaining_hours=Decimal(0)),))

    assert placed(solved(book), "carve").end == NOW


def test_the_crew_of_a_lorry_that_has_gone_is_away_until_it_has_rested() -> None:
    steps = (a_stage("carve"), a_gate(), a_journey(crew=("ana",)))
    facts = (
        a_fact("a", step="carve", at=at("2026-03-02 09:00")),
        a_fact("b", step="loading", at=at("2026-03-02 10:00")),
        a_fact("c", kind=FactKind.GONE, step="journey", at=at("2026-03-02 10:05")),
    )
    book = replace(a_book(a_job(steps=steps), a_job("finch")), facts=facts)
    normal = normal_of(book, at("2026-03-02 11:00"))

    # It left at 10:05, counted from 10:15; four hours there, then eleven of rest: 1:15.
    assert worker_of(normal, "ana").busy == ((0, 57),)
    assert [gone.kept for gone in normal.gone] == [True]


def test_steps_never_told_of_a_job_that_has_left_stand_as_such() -> None:
    gone = a_fact("c", kind=FactKind.GONE, step="heron-journey", at=at("2026-03-02 10:05"))
    outcome = solved(replace(a_book(), facts=(gone,)), now=at("2026-03-02 11:00"))

    left = {(one.step, one.code) for one in outcome.plan.unplaced}
    assert left == {("heron-carve", "gone"), ("heron-loading", "gone")}


def test_a_loading_waits_for_a_step_nobody_told_of_though_later_ones_are_done() -> None:
    book = of_steps(a_stage("carve"), a_stage("skin"))
    outcome = solved(replace(book, facts=(a_fact(step="skin"),)))

    assert placed(outcome, "loading").start >= placed(outcome, "carve").end


def test_a_told_plan_lends_its_starts_and_teams() -> None:
    placement = Placement(
        job=a_job().id,
        step=a_stage("carve").id,
        start=at("2026-01-06 09:00"),
        end=at("2026-01-07 09:00"),
        people=(PersonId("ana"),),
    )
    plan = Plan(made_from=a_told().plan.made_from, now=NOW, placements=(placement,))
    normal = normal_of(replace(of_steps(a_stage("carve")), told=a_told(plan)))
    stage = stage_of(normal, "carve")

    assert (stage.told_start, stage.told_team) == (100, (0,))
    assert stage_of(normal, "loading").told_start is None


def facts_at(book: Book, plan: Plan, now: datetime, draw: Random) -> Iterator[Fact]:
    """Give what somebody might have told by now of a plan that people worked by, with holes."""
    steps = {step.id: step for job in book.jobs for step in job.steps}
    for number, each in enumerate(plan.placements):
        step = steps[each.step]
        usual = Fact(
            id=FactId(f"f{number}"),
            kind=FactKind.DONE,
            step=each.step,
            at=each.end,
            told_by="Ana",
            people=each.people if draw.random() < 0.8 else (),
            place=each.place,
            way=each.way,
        )
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
            yield from _answered(each, usual, now, draw)
        elif each.end <= now and draw.random() < 0.95:
            late = timedelta(minutes=draw.choice((0, 7, 23)))
            yield replace(usual, at=max(each.start, each.end - late))
        elif each.start < now < each.end and each.way:
            left = Decimal(draw.randrange(12))
            yield replace(usual, kind=FactKind.RUNNING, at=each.start, remaining_hours=left)
    for number, trip in enumerate(plan.trips):
        if trip.start < now:
            yield a_fact(f"g{number}", kind=FactKind.GONE, step=trip.step, at=trip.start)


def _answered(each: Placement, usual: Fact, now: datetime, draw: Random) -> Iterator[Fact]:
    if each.part or each.start >= now or each.round > 1:
        return
    yield replace(usual, kind=FactKind.PICTURES, at=each.start, way="")
    if each.end < now and draw.random() < 0.8:
        answer = draw.choice(tuple(Answer))
        name = FactId(f"{usual.id}-answer")
        yield replace(usual, id=name, kind=FactKind.ANSWER, way="", answer=answer)


@pytest.mark.parametrize("seed", range(12))
def test_any_made_up_book_is_planned_soundly_at_any_moment(seed: int) -> None:
    draw = Random(seed)
    book = SHAPES["tiny"](seed).book
    assert book.as_of is not None
    asked = tuple(str(job.id) for job in book.jobs)
    plan = solved(book, book.as_of, effort=2, asked=asked).plan
    end = max((each.end for each in plan.placements), default=book.as_of)
    for _ in range(3):
        now = book.as_of + timedelta(
            seconds=draw.randrange(int((end - book.as_of).total_seconds() * 1.05) + 1)
        )
        facts = tuple(facts_at(book, plan, now, draw))
        told = Told(plan=plan, at=book.as_of) if draw.random() < 0.3 else None
        outcome = solved(replace(book, facts=facts, told=told), now, effort=2, asked=asked)

        assert set(outcome.check.not_judged) <= {"let_go"}
        assert len(outcome.jobs) == len(book.jobs)


def test_an_answer_that_somebody_just_ticked_off_is_a_yes() -> None:
    rework = Abrade(ways=(a_way(hours=4),))
    gate = a_gate("approve", GateKind.ANSWER, allow_no=1, rework=rework)
    outcome = solved(replace(of_steps(gate, a_stage("skin")), facts=(a_fact(step="approve"),)))

    assert [placed(outcome, "approve", number).end for number in (1, 2)] == [
        at("2026-01-05 07:00")
    ] * 2


def test_stages_done_elsewhere_hold_back_what_comes_after_them() -> None:
    book = of_steps(a_stage("carve"))
    (job,) = book.jobs
    lapsed = a_job("finch", steps=(a_stage("plug", cure_hours=10),))
    changed = replace(job, steps=(a_stage("carve", after=("plug",)), *job.steps[1:]))
    whole = replace(
        book,
        jobs=(changed, replace(lapsed, standing=Standing.ENQUIRY)),
        facts=(a_fact(step="plug", at=at("2026-01-05 07:00")),),
    )

    assert stage_of(normal_of(whole), "carve").release == 9 * 4


def test_ways_and_places_of_what_is_running_are_as_told() -> None:
    stage = a_stage("carve", ways=(a_way("one", places=("bay",)), a_way("two", places=("hall",))))
    fact = running(way="two", place=PlaceId("bay"))
    book = replace(of_steps(stage), facts=(fact,), places=(a_place(), a_floor()))
    normal = normal_of(book)

    (name,) = normal.ways[position(normal, "carve")]
    assert (name.way, name.place) == ("two", "bay")
    assert solved(book).check.sound


def test_hours_since_a_fact_are_counted_as_they_pass_when_the_clock_is_put_back() -> None:
    """London's clock is put back on 31 October 2027, so 72 hours end an hour sooner by it."""
    london = ZoneInfo("Europe/London")
    ended = datetime(2027, 10, 29, 11, 30, tzinfo=london)
    told = told_facts(replace(a_book(), facts=(running(at=ended),)))[StepId("carve")].running
    assert told is not None
    over = told.at + timedelta(hours=72)
    assert over.astimezone(london) == datetime(2027, 11, 1, 10, 30, tzinfo=london)

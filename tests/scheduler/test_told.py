"""What people were told: today and tomorrow stay so, what is past and unmarked is as told."""

from dataclasses import replace
from decimal import Decimal

import pytest

from scheduler.check import check
from scheduler.outcome import Outcome
from scheduler.rules import Rule
from shared.as_told import as_told
from shared.book import Book, Fact, FactKind, Gate, GateKind, Kind, Leave, Pin
from shared.ids import PersonId
from shared.plan import LetGo, MadeFrom, Placement, Plan
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_placement,
    a_stage,
    a_told,
    an_after,
    at,
)
from tests.scheduler.normals import normal_of, of_steps, placed, solved, stage_of

TUESDAY = at("2026-01-06 08:00")


def told(book: Book, *placements: Placement) -> Book:
    """Give a book whose people were told these placements."""
    plan = Plan(
        made_from=MadeFrom(revision=1, digest="0" * 64),
        now=NOW,
        jobs=tuple(job.id for job in book.jobs),
        placements=placements,
    )
    return replace(book, told=a_told(plan))


def of(step: str, start: str, end: str, *people: str) -> Placement:
    job = a_job().id
    return a_placement(step, start, end, job, people or ("ana",))


def two_people(*steps: str, **changes: object) -> Book:
    made = (a_stage(step, after=()) for step in steps)
    book = of_steps(*made)
    return replace(book, people=(a_person("ana"), a_person("ben")), **changes)  # type: ignore[arg-type]


def slots(outcome: Outcome) -> list[tuple[str, str, str]]:
    return [(each.step, str(each.start), ",".join(each.people)) for each in outcome.plan.placements]


# Today and tomorrow.


@pytest.mark.parametrize("day", ["05", "06"])
def test_work_told_for_today_or_tomorrow_stays_as_told(day: str) -> None:
    # Alone the plan would begin at once; 8 person-hours are 8 h x 8 / 6.5 of the shift.
    book = two_people("carve")
    held = told(book, of("carve", f"2026-01-{day} 11:00", f"2026-01-{day} 12:00", "ben"))

    assert placed(solved(book), "carve").start != at(f"2026-01-{day} 11:00")
    kept = placed(solved(held), "carve")
    assert (kept.start, kept.people) == (at(f"2026-01-{day} 11:00"), ("ben",))


def test_work_told_for_later_is_held_by_nothing_but_the_aims() -> None:
    later = told(two_people("carve"), of("carve", "2026-01-07 11:00", "2026-01-08 12:00", "ben"))
    normal = normal_of(later)

    assert stage_of(normal, "carve").fixed_start is None
    assert solved(later).plan.let_go == ()


def test_what_was_told_to_somebody_away_is_let_go_and_said_so() -> None:
    ill = Leave(start=NOW, end=at("2026-01-20 00:00"))
    book = two_people("carve")
    book = replace(book, people=(a_person("ana", leave=(ill,)), a_person("ben")))
    outcome = solved(told(book, of("carve", "2026-01-06 09:00", "2026-01-07 09:00")))

    assert placed(outcome, "carve").people == ("ben",)
    assert outcome.plan.let_go == (LetGo(job=a_job().id, step=a_stage("carve").id),)
    assert outcome.check.sound


def test_what_comes_after_something_let_go_is_let_go_as_well() -> None:
    book = of_steps(a_stage("carve", hours=2), a_stage("fill", Kind.FILL, hours=2))
    longer = of_steps(a_stage("carve", hours=40), a_stage("fill", Kind.FILL, hours=2))
    sheet = (
        of("carve", "2026-01-05 08:00", "2026-01-05 10:30"),
        of("fill", "2026-01-05 13:00", "2026-01-05 15:30"),
    )

    assert solved(told(book, *sheet)).plan.let_go == ()
    outcome = solved(told(longer, *sheet))
    assert placed(outcome, "carve").start == NOW
    assert [one.step for one in outcome.plan.let_go] == ["fill"]
    assert outcome.check.sound


def test_a_pin_is_how_the_foreman_says_otherwise() -> None:
    pinned = a_stage("carve", pin=Pin(start=at("2026-01-07 08:00")))
    outcome = solved(told(of_steps(pinned), of("carve", "2026-01-06 09:00", "2026-01-07 09:00")))

    assert placed(outcome, "carve").start == at("2026-01-07 08:00")
    assert outcome.check.sound


def test_the_place_stays_as_told() -> None:
    stage = a_stage("carve", places=("bay", "yard"))
    book = replace(of_steps(stage), places=(a_place(), a_place("yard")))
    sheet = replace(of("carve", "2026-01-06 09:00", "2026-01-07 09:00"), place=a_place("yard").id)

    assert placed(solved(told(book, sheet)), "carve").place == "yard"


def test_the_check_names_what_was_moved_without_need() -> None:
    book = two_people("carve")
    free = solved(book).plan
    sheet = told(book, of("carve", "2026-01-06 09:00", "2026-01-07 11:00", "ben"))
    result = check(sheet, free)

    assert [each.rule for each in result.breaches] == [Rule.TOLD.value]
    let_go = replace(free, let_go=(LetGo(job=a_job().id, step=a_stage("carve").id),))
    assert check(sheet, let_go).breaches == ()
    assert check(sheet, let_go).not_judged == (Rule.LET_GO.value,)


# What is past and unmarked.


SHEET = of("first", "2026-01-05 08:00", "2026-01-05 13:30")


def coats(**changes: object) -> Book:
    first = a_stage("first", Kind.COAT, hours=4, cure_hours=20)
    return told(of_steps(first, a_stage("second", Kind.COAT, hours=4)), SHEET)


def test_past_work_that_nobody_marked_counts_as_done_but_not_as_cured() -> None:
    outcome = solved(coats(), TUESDAY)

    assert placed(outcome, "first") == SHEET
    # The cure of 20 h counts from now, Tuesday 8:00, not from Monday 13:30.
    assert placed(outcome, "second").start == at("2026-01-07 07:30")
    assert outcome.check.sound


def test_once_it_is_confirmed_the_cure_counts_from_its_end() -> None:
    done = a_fact(step="first", at=SHEET.end, people=SHEET.people, way="bench")
    outcome = solved(replace(coats(), facts=(done,)), TUESDAY)

    assert placed(outcome, "second").start == at("2026-01-06 09:30")


def test_a_plan_that_counts_an_unconfirmed_cure_is_broken() -> None:
    plan = solved(coats(), TUESDAY).plan
    soon = tuple(
        replace(each, start=at("2026-01-06 09:30"), end=at("2026-01-06 14:30"))
        if each.step == "second"
        else each
        for each in plan.placements
    )
    found = check(coats(), replace(plan, placements=soon)).breaches

    assert Rule.CURE.value in [each.rule for each in found]


def test_work_under_way_goes_on_to_its_told_end_with_the_same_people() -> None:
    book = two_people("carve")
    sheet = of("carve", "2026-01-05 08:00", "2026-01-06 10:00", "ben")
    for now in (at("2026-01-05 10:10"), at("2026-01-05 16:00"), at("2026-01-06 08:45")):
        kept = placed(solved(told(book, sheet), now), "carve")

        assert (kept.start, kept.end, kept.people) == (sheet.start, sheet.end, ("ben",))


def test_what_runs_waits_for_somebody_who_falls_ill_meanwhile() -> None:
    ill = Leave(start=TUESDAY, end=at("2026-01-07 00:00"))
    book = replace(of_steps(a_stage("carve", hours=20)), people=(a_person(leave=(ill,)),))
    sheet = of("carve", "2026-01-05 08:00", "2026-01-08 08:30")

    assert placed(solved(told(book, sheet), TUESDAY), "carve").end > at("2026-01-09 08:00")


def test_what_waits_for_somebody_ill_has_as_much_left_once_it_is_told_anew() -> None:
    ill = Leave(start=at("2026-01-06 00:00"), end=at("2026-01-07 00:00"))
    book = replace(of_steps(a_stage("carve")), people=(a_person(leave=(ill,)),))
    evening = at("2026-01-05 16:00")
    # Ten hours of the shift, of which Monday has seven and a half: two and a half are left.
    sheet = told(book, of("carve", "2026-01-05 08:00", "2026-01-06 10:00"))
    kept = placed(solved(sheet, evening), "carve")
    anew = placed(solved(told(book, kept), evening), "carve")

    assert kept.end == anew.end == at("2026-01-07 10:00")


@pytest.mark.parametrize(
    "leave",
    [Leave(start=at("2026-01-05 00:00"), end=at("2026-01-06 00:00"))],
)
def test_who_was_away_has_not_done_as_told(leave: Leave) -> None:
    book = replace(of_steps(a_stage("carve", hours=4)), people=(a_person(leave=(leave,)),))
    sheet = told(book, of("carve", "2026-01-05 08:00", "2026-01-05 13:30"))

    assert as_told(sheet, TUESDAY) == ()
    assert placed(solved(sheet, TUESDAY), "carve").start >= TUESDAY


def test_nothing_is_as_told_behind_what_still_runs() -> None:
    book = of_steps(a_stage("carve", hours=4), a_stage("fill", Kind.FILL, hours=1))
    running = Fact(
        id=a_fact().id,
        kind=FactKind.RUNNING,
        step=a_stage("carve").id,
        at=NOW,
        told_by="Ana",
        people=(PersonId("ana"),),
        remaining_hours=Decimal(4),
    )
    sheet = (
        of("carve", "2026-01-05 08:00", "2026-01-05 13:30"),
        of("fill", "2026-01-05 13:30", "2026-01-05 15:00"),
    )

    assert [fact.step for fact in as_told(told(book, *sheet), TUESDAY)] == [
        *("carve", "carve", "fill", "fill"),
    ]
    assert as_told(replace(told(book, *sheet), facts=(running,)), TUESDAY) == ()


def test_answers_loadings_and_journeys_are_never_as_told() -> None:
    steps: tuple[Gate | object, ...] = (
        a_gate("approve", GateKind.ANSWER, after=()),
        a_gate("loading", after=()),
        a_journey("journey", after=(an_after("loading"),)),
    )
    book = a_book(a_job(steps=steps))  # type: ignore[arg-type]
    sheet = (
        replace(of("approve", "2026-01-05 08:00", "2026-01-05 09:00"), people=(), round=1),
        replace(of("loading", "2026-01-05 08:00", "2026-01-05 09:00"), people=()),
    )

    assert as_told(told(book, *sheet), TUESDAY) == ()

"""A recoat time that runs out calls for abrading, where the coat says how."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.check import check
from scheduler.normalise.people import workshop_calendar
from scheduler.outcome import Verdict
from scheduler.reasons import Reason
from scheduler.rules import Rule
from shared.book import Abrade, Book, Kind, Stage
from shared.plan import Placement
from shared.worktime import open_spans
from tests.builders import a_fact, a_segment, a_stage, a_way, a_workshop, an_after, at
from tests.scheduler.normals import (
    codes,
    job_of,
    normal_of,
    of_steps,
    placed,
    position,
    solved,
    stage_of,
)

ABRADE = Abrade(ways=(a_way("rub", hours=2, skill="fill"),))


def coats(recoat_hours: int, abrade: Abrade | None = ABRADE, **changes: object) -> Book:
    """Give two coats of half a shift in one go, 20 hours of cure between them."""
    return of_steps(
        a_stage(
            "first",
            Kind.COAT,
            hours=4,
            in_one_go=True,
            cure_hours=20,
            recoat_hours=Decimal(recoat_hours),
            abrade=abrade,
        ),
        a_stage("second", Kind.COAT, hours=4, in_one_go=True, **changes),  # type: ignore[arg-type]
    )


def is_abraded(book: Book) -> bool:
    outcome = solved(book)
    assert outcome.check.sound
    parts = {(each.step, each.part) for each in outcome.plan.placements}
    return ("second", "abrade") in parts


def test_a_coat_within_its_recoat_time_is_not_abraded() -> None:
    assert not is_abraded(coats(30))


def test_a_recoat_time_shorter_than_the_cure_must_be_abraded() -> None:
    book = coats(10)
    outcome = solved(book)
    first, rub, second = (
        placed(outcome, "first"),
        placed(outcome, "second", part="abrade"),
        placed(outcome, "second"),
    )

    assert rub.start - first.end >= timedelta(hours=20)
    assert rub.end <= second.start
    assert rub.way == "rub"


def test_without_abrading_it_can_not_be() -> None:
    outcome = solved(coats(10, abrade=None))

    assert outcome.verdict is Verdict.NOT_FOUND
    assert {one.step for one in outcome.plan.unplaced} >= {"second"}


def test_abrading_that_nobody_can_do_lifts_nothing() -> None:
    odd = Abrade(ways=(a_way(skill="juggle"),))
    normal = normal_of(coats(30, odd))

    assert "abrade" not in [name.part for name in normal.stages]
    assert [edge.most for edge in normal.problem.edges if edge.most is not None] == [120]


@pytest.mark.parametrize(
    ("ended", "abraded"), [("2026-01-05 07:00", False), ("2025-12-29 07:00", True)]
)
def test_the_recoat_time_of_a_coat_that_is_done_runs_on(ended: str, abraded: bool) -> None:
    book = replace(coats(30), facts=(a_fact(step="first", at=at(ended)),))

    assert is_abraded(book) is abraded
    assert not codes(normal_of(book))


def test_a_coat_done_too_long_ago_that_cannot_be_abraded_is_a_fact_of_the_job() -> None:
    done = a_fact(step="first", at=at("2025-12-29 07:00"))

    assert codes(normal_of(replace(coats(30, None), facts=(done,)))) == [Reason.RECOAT_OVER]


def test_a_greatest_wait_that_is_named_holds_in_spite_of_abrading() -> None:
    after = an_after("first", most_hours=Decimal(60))
    normal = normal_of(coats(30, after=(after,)))

    assert sorted(
        (edge.most, edge.insert is not None)
        for edge in normal.problem.edges
        if edge.most is not None
    ) == [(120, True), (240, False)]
    assert stage_of(normal, "second", part="abrade").optional


def test_abrading_takes_part_in_no_deadline() -> None:
    steps = job_of(solved(coats(10)), "heron").steps

    assert [times.step for times in steps] == ["first", "second", "loading"]


def of_two_coats(fin: int, tail: int, other: str = "rub") -> Book:
    """Give a coat on each of two pieces and one over both, each coat with its own abrading."""
    ways = {
        "fin": a_way("rub", hours=fin, skill="fill"),
        "tail": a_way(other, hours=tail, skill="fill"),
    }
    first = [
        a_stage(
            piece,
            Kind.COAT,
            segments=(piece,),
            hours=4,
            in_one_go=True,
            cure_hours=20,
            recoat_hours=Decimal(10),
            abrade=Abrade(ways=(ways[piece],)),
        )
        for piece in ("fin", "tail")
    ]
    over = a_stage("over", Kind.COAT, segments=("fin", "tail"), hours=4, in_one_go=True)
    return of_steps(*first, over, segments=(a_segment("fin"), a_segment("tail")))


def test_before_a_coat_over_two_both_are_abraded() -> None:
    book = of_two_coats(2, 3)
    outcome = solved(book)
    rub = placed(outcome, "over", part="abrade")

    # Five person-hours, 8 / 6.5 of them on the clock, rounded up to a quarter; breaks besides.
    assert working(rub) == timedelta(hours=6, minutes=15)
    assert outcome.check.sound
    shorter = replace(
        outcome.plan,
        placements=tuple(
            replace(each, end=each.end - timedelta(hours=1)) if each == rub else each
            for each in outcome.plan.placements
        ),
    )
    assert [broken.rule for broken in check(book, shorter).breaches] == [Rule.DURATION]


def working(placement: Placement) -> timedelta:
    spans = open_spans(workshop_calendar(a_workshop()), placement.start, placement.end)
    return sum((span.end - span.start for span in spans), timedelta(0))


def test_ways_of_other_names_stay_apart() -> None:
    normal = normal_of(of_two_coats(2, 3, other="wipe"))
    names = normal.ways[position(normal, "over", part="abrade")]

    assert [name.way for name in names] == ["rub", "wipe"]


def test_a_coat_is_abraded_as_the_one_before_it_says_not_as_it_says_itself() -> None:
    own = Abrade(ways=(a_way("rub", hours=5, skill="fill"),))
    first, second = coats(10).jobs[0].steps[:2]
    assert isinstance(second, Stage)
    second = replace(second, recoat_hours=Decimal(30), abrade=own)
    rub = placed(solved(of_steps(first, second)), "second", part="abrade")

    # Two person-hours are 2.46 on the clock.
    assert working(rub) == timedelta(hours=2, minutes=30)


def test_abrading_goes_by_what_is_named_not_by_the_list() -> None:
    between = a_stage("between", Kind.FILL, after=())
    first, second = coats(10).jobs[0].steps[:2]
    assert isinstance(second, Stage)
    book = of_steps(first, between, replace(second, after=(an_after("first"),)))

    assert is_abraded(book)

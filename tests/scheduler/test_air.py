"""Acts kept apart in shared air: resin and sparks, dust and what is wet, pauses, facts."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.check import check
from scheduler.normalise import RoomName
from scheduler.outcome import Outcome, Verdict
from shared.book import (
    Abrade,
    Act,
    Answer,
    Apart,
    Book,
    FactKind,
    GateKind,
    Kind,
    Leave,
    Place,
    Stage,
)
from shared.ids import PersonId, PlaceId
from shared.trade.defaults import APART
from tests.builders import (
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_segment,
    a_stage,
    a_way,
    a_window,
    a_workshop,
    an_after,
    at,
)
from tests.scheduler.check.change import moved, named
from tests.scheduler.normals import (
    job_of,
    normal_of,
    placed,
    solved,
    stage_of,
)

ENOUGH = 200
"""Effort for a proof."""
HOUR = timedelta(hours=1)
RESIN_AND_WIRE = Apart(first=Act.RESIN, second=Act.HOT_WIRE)
SHARED = {"air": "hall"}


def two_bays(**changes: Any) -> tuple[Place, ...]:
    """Give two bays that share air unless a test says otherwise."""
    shared = SHARED | changes
    return (a_place("bay", slots=2, **shared), a_place("nook", slots=2, **shared), a_floor())


def pair_of(
    first: Stage,
    second: Stage,
    *pairs: Apart,
    places: tuple[Place, ...] | None = None,
    window: str = "2026-03-06 18:00",
    **changes: Any,
) -> Book:
    """Give a job of two pieces, one stage each, and one person for each of them."""
    job = a_job(
        segments=(a_segment("left"), a_segment("right")),
        steps=(first, second, a_gate()),
        windows=(a_window(end=window, start="2026-01-05 00:00"),),
    )
    return a_book(
        job,
        workshop=a_workshop(apart=pairs or None),
        places=places or two_bays(),
        people=(a_person("ana"), a_person("ben")),
        **changes,
    )


def carve(**changes: Any) -> Stage:
    return a_stage("carve", segments=("left",), **{"hours": 4, "places": ("bay",), **changes})


def skin(**changes: Any) -> Stage:
    usual = {"hours": 4, "places": ("nook",), **changes}
    return a_stage("skin", Kind.LAMINATE, segments=("right",), **usual)


def overlap(outcome: Outcome, one: str, other: str) -> bool:
    first, second = placed(outcome, one), placed(outcome, other)
    return max(first.start, second.start) < min(first.end, second.end)


def air_rooms(book: Book) -> list[tuple[str | None, Act | None]]:
    return [(name.air, name.act) for name in normal_of(book).rooms if name.act is not None]


def test_nobody_cuts_foam_with_a_hot_wire_beside_wet_resin() -> None:
    """In air of their own both begin at once, in shared air the second waits for the first."""
    apart = solved(pair_of(carve(), skin(), places=two_bays(air=None), window="2026-01-05 18:00"))
    shared = solved(pair_of(carve(), skin()))

    assert placed(apart, "carve").start == placed(apart, "skin").start == at("2026-01-05 08:00")
    assert not overlap(shared, "carve", "skin")


def test_what_shares_air_can_make_a_window_impossible() -> None:
    """Two times four hours, stretched to five by pauses, are more than a day has."""
    late = solved(pair_of(carve(), skin(), window="2026-01-05 18:00"), effort=ENOUGH)

    assert job_of(late, "heron").verdict is Verdict.CANNOT


def test_a_plan_with_both_in_one_air_is_broken() -> None:
    book = pair_of(carve(), skin())
    own = pair_of(carve(), skin(), places=two_bays(air=None))
    plan = solved(own).plan

    assert named(own, plan) == set()
    assert {rule for rule, _ in named(book, plan)} == {"shared_air"}
    assert check(book, plan).not_judged == ()


def test_one_place_is_one_air() -> None:
    book = pair_of(carve(), skin(places=("bay",)), places=two_bays(air=None))

    assert not overlap(solved(book), "carve", "skin")


def test_stages_without_a_place_share_no_air() -> None:
    book = pair_of(carve(places=()), skin(places=()))

    assert air_rooms(book) == []
    assert solved(book).check.sound


@pytest.mark.parametrize(
    "book",
    [
        pair_of(carve(), skin(), places=two_bays(air=None)),
        pair_of(carve(does=()), skin()),
        pair_of(carve(does=(Act.HOT_WIRE, Act.RESIN)), skin(does=(Act.LIFT,))),
        replace(pair_of(carve(), skin()), workshop=a_workshop(apart=())),
    ],
)
def test_no_room_is_made_where_nothing_meets(book: Book) -> None:
    assert air_rooms(book) == []


def test_a_room_is_made_for_each_act_that_meets_its_counterpart() -> None:
    normal = normal_of(pair_of(carve(), skin()))
    first, second = len(normal.rooms) - 2, len(normal.rooms) - 1

    assert normal.rooms[first] == RoomName(air="hall", act=Act.RESIN)
    assert normal.rooms[second] == RoomName(air="hall", act=Act.HOT_WIRE)
    assert [
        (use.room, use.against)
        for step in ("carve", "skin")
        for use in stage_of(normal, step).ways[0].uses[1:]
    ] == [(second, (first,)), (first, (second,))]


@pytest.mark.parametrize("pair", [one for one in APART if one.minutes == 0])
def test_every_usual_pair_is_kept_apart(pair: Apart) -> None:
    """Common practice, no source."""
    wet = {"wet_hours": Decimal(0)}
    book = pair_of(carve(does=(pair.first,), **wet), skin(does=(pair.second,), **wet))
    own = replace(book, workshop=a_workshop(apart=()))

    assert not overlap(solved(book), "carve", "skin")
    assert {rule for rule, _ in named(book, solved(own).plan)} == {"shared_air"}


def test_a_stage_is_not_kept_apart_from_itself() -> None:
    """Sanding between wet coats: one stage gives off dust and is wet, the other likewise."""
    both = (Act.DUST, Act.WET)
    dusty = Apart(first=Act.DUST, second=Act.WET)
    book = pair_of(carve(does=both), skin(does=both, wet_hours=Decimal(1)), dusty)
    alone = solved(pair_of(carve(does=both), skin(does=()), dusty))

    assert overlap(alone, "carve", "skin")
    assert not overlap(solved(book), "carve", "skin")


def test_an_act_can_be_kept_apart_from_itself() -> None:
    """Nobody sprays beside somebody who sprays, and half an hour lies between, whoever is first."""
    spray = (Act.SPRAY,)
    pair = Apart(first=Act.SPRAY, second=Act.SPRAY, minutes=30)
    outcome = solved(pair_of(carve(does=spray), skin(does=spray), pair))
    first, second = sorted(
        (placed(outcome, "carve"), placed(outcome, "skin")), key=lambda one: one.start
    )

    assert second.start >= first.end + HOUR / 2
    book = pair_of(carve(does=spray), skin(does=spray), replace(pair, minutes=15))
    assert ("shared_air", second.step) in named(
        pair_of(carve(does=spray), skin(does=spray), replace(pair, minutes=24 * 60)), outcome.plan
    )
    assert named(book, outcome.plan) == set()


def at_eight(book: Book, skin_from: datetime, carve_from: datetime) -> set[str]:
    """Give what is broken of the air where both take two hours from then on."""
    plan = solved(book).plan
    plan = moved(plan, "carve", start=carve_from, end=carve_from + 2 * HOUR)
    plan = moved(plan, "skin", start=skin_from, end=skin_from + 2 * HOUR)
    return {where for rule, where in named(book, plan) if rule == "shared_air"}


EIGHT = at("2026-01-06 08:00")
DUST_THEN_SPRAY = pair_of(
    carve(does=(Act.DUST,), hours=2, in_one_go=True),
    skin(does=(Act.SPRAY,), hours=2, in_one_go=True, watch_minutes=0),
)


def test_dust_settles_for_two_hours_before_anybody_sprays() -> None:
    """In extracted air: common practice, no source. After spraying, no pause is asked for."""
    outcome = solved(DUST_THEN_SPRAY)
    dust, spray = placed(outcome, "carve"), placed(outcome, "skin")

    assert spray.start >= dust.end + 2 * HOUR or dust.start >= spray.end
    assert at_eight(DUST_THEN_SPRAY, EIGHT + 3.75 * HOUR, EIGHT) == {"skin"}
    assert at_eight(DUST_THEN_SPRAY, EIGHT + 4 * HOUR, EIGHT) == set()
    assert at_eight(DUST_THEN_SPRAY, EIGHT, EIGHT + 1.75 * HOUR) == {"carve"}
    assert at_eight(DUST_THEN_SPRAY, EIGHT, EIGHT + 2 * HOUR) == set()


@pytest.mark.parametrize(("end", "verdict"), [("14:30", Verdict.TIGHT), ("14:15", Verdict.CANNOT)])
def test_the_pause_after_dust_can_make_a_window_impossible(end: str, verdict: Verdict) -> None:
    """From 8:00: dust to 10:00, rest to 12:00, lunch to 12:30, spraying to 14:30."""
    book = DUST_THEN_SPRAY
    job = book.jobs[0]
    carving, skinning, loading = job.steps
    window = a_window(end=f"2026-01-05 {end}", start="2026-01-05 00:00")
    steps = (carving, replace(skinning, after=(an_after("carve"),)), loading)
    late = replace(book, jobs=(replace(job, steps=steps, windows=(window,)),))

    assert job_of(solved(late, effort=ENOUGH), "heron").verdict is verdict


def test_dust_keeps_off_what_is_wet_as_long_as_it_says() -> None:
    """Three hours wet after its end: common practice, no source; told by the stage itself."""
    wet = skin(does=(Act.WET,), wet_hours=Decimal(3), hours=2, in_one_go=True, watch_minutes=0)
    book = pair_of(carve(does=(Act.DUST,), hours=2, in_one_go=True), wet)
    outcome = solved(book)
    dust, coat = placed(outcome, "carve"), placed(outcome, "skin")

    assert coat.start >= dust.end or dust.start >= coat.end + 3 * HOUR
    assert at_eight(book, EIGHT, EIGHT + 4.75 * HOUR) == {"carve"}
    assert at_eight(book, EIGHT, EIGHT + 5 * HOUR) == set()
    assert at_eight(book, EIGHT + 2 * HOUR, EIGHT) == set()


def test_a_kind_says_how_long_it_stays_wet() -> None:
    """A coat of resin is wet for four hours where its stage doesn't say: common practice."""
    coat = a_stage("skin", Kind.COAT, segments=("right",), hours=2, places=("nook",))
    book = pair_of(carve(does=(Act.DUST,), hours=2), coat)

    assert at_eight(book, EIGHT, EIGHT + 5.75 * HOUR) == {"carve"}
    assert at_eight(book, EIGHT, EIGHT + 6 * HOUR) == set()


def test_a_coat_that_is_done_keeps_dust_off_until_it_is_dry() -> None:
    """It was done at 7:00 and is wet for five hours: dust begins at noon."""
    wet = skin(does=(Act.WET,), wet_hours=Decimal(5))
    book = pair_of(carve(does=(Act.DUST,), hours=2), wet)
    done = replace(book, facts=(a_fact(step="skin", place=PlaceId("nook")),))
    untold = replace(book, facts=(a_fact(step="skin"),))

    for told in (done, untold):
        outcome = solved(told)
        assert room_of_air(told, Act.WET) == ((0, 16, 1),)
        assert placed(outcome, "carve").start >= at("2026-01-05 12:00")
        early = moved(outcome.plan, "carve", start=at("2026-01-05 11:45"))
        assert ("shared_air", "carve") in named(told, early)


def room_of_air(book: Book, act: Act) -> tuple[tuple[int, int, int], ...]:
    normal = normal_of(book)
    (room,) = [at for at, name in enumerate(normal.rooms) if name.act is act]
    return normal.problem.rooms[room].busy


def test_dust_that_is_done_settles_before_anybody_sprays() -> None:
    """It was done at 7:00: spraying begins at 9:00."""
    told = replace(DUST_THEN_SPRAY, facts=(a_fact(step="carve", place=PlaceId("bay")),))
    outcome = solved(told)

    assert placed(outcome, "skin").start >= at("2026-01-05 09:00")
    assert ("shared_air", "skin") in named(
        told, moved(outcome.plan, "skin", start=at("2026-01-05 08:45"))
    )


def under_way(step: str, person: str, **changes: Any) -> Any:
    return a_fact(
        step,
        step,
        kind=FactKind.RUNNING,
        people=(PersonId(person),),
        remaining_hours=Decimal(2),
        **changes,
    )


def test_what_is_under_way_keeps_its_air() -> None:
    book = replace(pair_of(carve(), skin()), facts=(under_way("skin", "ana"),))
    outcome = solved(book)

    assert placed(outcome, "carve").start >= placed(outcome, "skin").end
    assert placed(outcome, "skin").end == at("2026-01-05 10:30")
    early = moved(outcome.plan, "carve", start=at("2026-01-05 10:15"))
    assert ("shared_air", "carve") in named(book, early)


def test_of_two_under_way_in_one_air_one_goes_on_when_the_other_is_over() -> None:
    """Carving, told first, goes on; laying up waits although its people are there."""
    facts = (under_way("carve", "ana"), under_way("skin", "ben"))
    book = replace(pair_of(carve(), skin()), facts=facts)
    outcome = solved(book)

    assert placed(outcome, "carve").end == at("2026-01-05 10:30")
    assert placed(outcome, "skin").end == at("2026-01-05 13:30")
    both = moved(outcome.plan, "skin", end=at("2026-01-05 10:30"))
    assert "shared_air" in {rule for rule, _ in named(book, both)}
    apart = replace(book, places=two_bays(air=None))
    assert placed(solved(apart), "skin").end == at("2026-01-05 10:30")
    assert ("duration", "skin") in named(apart, outcome.plan)


def test_what_is_under_way_is_kept_apart_from_when_it_goes_on() -> None:
    """Ben is away until Wednesday: what he lays up meets nothing that is over by then."""
    away = Leave(start=at("2026-01-05 08:00"), end=at("2026-01-07 00:00"))
    facts = (under_way("carve", "ana"), under_way("skin", "ben"))
    people = (a_person("ana"), a_person("ben", leave=(away,)))
    outcome = solved(replace(pair_of(carve(), skin()), facts=facts, people=people))

    assert placed(outcome, "carve").end == at("2026-01-05 10:30")
    assert placed(outcome, "skin").end == at("2026-01-07 10:00")


def test_what_is_under_way_waits_for_what_is_done_and_wet() -> None:
    """The coat was done at 7:00 and is wet for five hours: sanding goes on at noon, after lunch."""
    wet = skin(does=(Act.WET,), wet_hours=Decimal(5))
    book = pair_of(carve(does=(Act.DUST,)), wet)
    book = replace(book, facts=(a_fact(step="skin"), under_way("carve", "ana")))

    assert placed(solved(book), "carve").end == at("2026-01-05 15:00")


def test_what_nobody_is_named_on_keeps_apart_like_any_other() -> None:
    nobody = a_fact("skin", "skin", kind=FactKind.RUNNING, remaining_hours=Decimal(2))
    book = replace(pair_of(carve(), skin()), facts=(under_way("carve", "ana"), nobody))
    outcome = solved(book)

    assert placed(outcome, "skin").end >= at("2026-01-05 13:00")


def test_abrading_raises_dust() -> None:
    """A recoat time that runs out before Monday brings abrading beside a coat that is wet."""
    abrade = Abrade(ways=(a_way("abrade", 2, skill="fill", places=("bay",)),))
    coat = a_stage(
        "coat", Kind.PACK, segments=("left",), hours=1, recoat_hours=Decimal(24), abrade=abrade
    )
    again = a_stage("again", Kind.PACK, segments=("left",), hours=1)
    wet = skin(does=(Act.WET,), wet_hours=Decimal(3))
    job = a_job(
        segments=(a_segment("left"), a_segment("right")),
        steps=(coat, replace(again, not_before=at("2026-01-08 00:00").date()), wet, a_gate()),
    )
    book = replace(
        pair_of(carve(), skin()),
        jobs=(job,),
        facts=(a_fact(step="coat"),),
    )
    normal = normal_of(book)

    assert [act for _, act in air_rooms(book)] == [Act.DUST, Act.WET]
    assert len(stage_of(normal, "again", part="abrade").ways[0].uses) == 2
    plan = solved(book).plan
    sanded = placed(solved(book), "again", part="abrade")
    beside = moved(plan, "skin", start=sanded.start - 2 * HOUR, end=sanded.start - HOUR)
    assert "shared_air" in {rule for rule, _ in named(book, beside)}


@pytest.mark.parametrize("part", ["rework", "changes"])
def test_what_an_answer_calls_for_repeats_what_was_shown(part: str) -> None:
    """Recarving is done with the hot wire again, and kept from resin."""
    work = Abrade(ways=(a_way(part, 2, places=("bay",)),))
    asked: Any = {part: work}
    gate = a_gate("approve", GateKind.ANSWER, segments=("left",), **asked)
    answer = Answer.NO if part == "rework" else Answer.CHANGES
    told = a_fact("answer", "approve", kind=FactKind.ANSWER, answer=answer)
    job = a_job(
        segments=(a_segment("left"), a_segment("right")),
        steps=(carve(), gate, skin(), a_gate()),
    )
    book = replace(
        pair_of(carve(), skin()),
        jobs=(job,),
        facts=(a_fact("carved", "carve", at=at("2026-01-05 06:00")), told),
    )
    normal = normal_of(book)
    outcome = solved(book)
    done = placed(outcome, "approve", 1, part)

    assert stage_of(normal, "approve", 1, part).ways[0].uses[1:]
    assert max(done.start, placed(outcome, "skin").start) >= min(
        done.end, placed(outcome, "skin").end
    )
    beside = moved(outcome.plan, "skin", start=done.start, end=done.end)
    assert "shared_air" in {rule for rule, _ in named(book, beside)}


def test_isocyanates_are_spraying_as_far_as_air_goes() -> None:
    """Who writes only isocyanates means that they are sprayed."""
    whole = a_way(hours=4, places=("bay",), whole_place=True)
    book = pair_of(
        carve(does=(Act.ISOCYANATE,), ways=(whole,)),
        skin(does=(Act.WELD,)),
        places=two_bays(enclosed=True),
    )

    assert not overlap(solved(book), "carve", "skin")
    assert air_rooms(book) == [("hall", Act.SPRAY), ("hall", Act.WELD)]

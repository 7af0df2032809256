"""Why a job stands as it does, in words: every sentence once, with names of a small book."""

from dataclasses import replace

import pytest

from app.words import Words
from app.words.why import AT_BEST, RUNGS, SENTENCES, WhyWords, _variant
from scheduler.outcome import JobOutcome, Rung, Verdict
from scheduler.why.anatomy import Anatomy
from scheduler.why.chain_links import Link, LinkKind, Then
from scheduler.why.values import Why
from shared.book import Book, Kind
from shared.findings import Fact
from shared.ids import JobId, StepId
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_segment,
    a_stage,
    an_equipment,
)

HERON = JobId("heron")
TOLD = JobOutcome(id=HERON, name="Heron", verdict=Verdict.MISSES)


def the_book() -> Book:
    steps = (
        a_stage("carve", segments=("head",)),
        a_stage("lay-up", Kind.LAMINATE, segments=("head",), cure_hours=48),
        a_stage("sand", Kind.FILL, segments=("head",)),
        a_stage("paint", Kind.PAINT, segments=("head",)),
        a_gate("approve"),
        a_gate(),
        a_journey("ship"),
    )
    heron = a_job("heron", (a_segment("head"), a_segment("tail")), steps)
    return a_book(
        heron,
        a_job("otter"),
        places=(a_place("booth"), a_place("hall")),
        people=(a_person("ana"), a_person("tom")),
        equipment=(an_equipment("hoist"),),
    )


WORDS = Words("en", book=the_book())


def why(*chain: Link, told: JobOutcome = TOLD, **more: object) -> WhyWords:
    found = Why(told=told, chain=chain, anatomy=Anatomy(job=HERON, parts=()), **more)  # type: ignore[arg-type]
    return WhyWords(WORDS, found, NOW)


def a_link(kind: LinkKind, *then: Then, **facts: Fact) -> Link:
    usual: dict[str, Fact] = {
        "step": "sand",
        "job": "heron",
        "start": "2026-01-12T07:30:00+00:00",
        "end": "2026-01-12T16:00:00+00:00",
    }
    told = {**usual, **facts}
    (behind,) = then or (Then.NOTHING,)
    return Link(kind=kind, id="x", step=StepId("sand"), then=behind, facts=tuple(told.items()))


ENDED = "2026-01-09T15:00:00+00:00"
READY = "2026-01-11T15:00:00+00:00"
MIDNIGHT = "2026-01-10T00:00:00+00:00"
BEFORE: dict[str, Fact] = {"before": "lay-up", "ended": ENDED, "ready": READY}
OTHER: dict[str, Fact] = {"before": "otter-carve", "other_job": "otter", "ended": ENDED}
TAKEN: dict[str, Fact] = {"place": "booth", "ready": READY, **OTHER}
HOURS: dict[str, Fact] = {"wanted": 44, "have": 36, "first": ENDED, "until": READY}

ROWS: list[tuple[Link, str]] = [
    (a_link(LinkKind.NOW), "Sand on Head can start at once, Mon 12 Jan 07:30."),
    (a_link(LinkKind.NOW, Then.OFF), "Sand on Head can start Mon 12 Jan 07:30, when work begins."),
    (
        a_link(LinkKind.NOW, Then.ONE_GO),
        "Sand on Head can start Mon 12 Jan 07:30: before that no shift is long enough for it in "
        "one go.",
    ),
    (
        a_link(LinkKind.NOW, Then.CLIMATE),
        "Sand on Head can start Mon 12 Jan 07:30, the first time that it may.",
    ),
    (
        a_link(LinkKind.NOW, Then.BESIDE, ready=ENDED),
        "Sand on Head could start at once, Fri 9 Jan 15:00.",
    ),
    (
        a_link(LinkKind.AFTER, Then.BESIDE, before="lay-up", ready=ENDED),
        "Sand on Head could start Fri 9 Jan 15:00 at the soonest: lay-up on Head lasts until then.",
    ),
    (
        a_link(LinkKind.CURE, Then.BESIDE, **BEFORE),
        "Sand on Head could start Sun 11 Jan 15:00 at the soonest: lay-up on Head has to cure "
        "until then.",
    ),
    (
        a_link(LinkKind.CLIENT, Then.BESIDE, before="approve", ready=READY, ended=ENDED),
        "Sand on Head could start Sun 11 Jan 15:00 at the soonest: pictures go out Fri 9 Jan "
        "15:00, and the client has until then to answer (approve).",
    ),
    (
        a_link(LinkKind.FACT),
        "Sand on Head may not start before Mon 12 Jan 07:30: that is what is written.",
    ),
    (a_link(LinkKind.FACT, what="under_way"), "Sand on Head is under way."),
    (a_link(LinkKind.PIN), "Sand on Head is pinned to Mon 12 Jan 07:30."),
    (
        a_link(LinkKind.AFTER, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head lasts until then.",
    ),
    (
        a_link(LinkKind.AFTER, Then.OFF, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head lasts until Fri 9 Jan "
        "15:00, and work goes on only then.",
    ),
    (
        a_link(LinkKind.AFTER, Then.ONE_GO, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head lasts until Fri 9 Jan "
        "15:00, and what is left of the shift is too short to do it in one go.",
    ),
    (
        a_link(LinkKind.AFTER, Then.CLIMATE, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head lasts until Fri 9 Jan "
        "15:00, and it may not be done sooner after that.",
    ),
    (
        a_link(LinkKind.CURE, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head has to cure until then.",
    ),
    (
        a_link(LinkKind.CURE, Then.OFF, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head has to cure until Sun 11 "
        "Jan 15:00, and work goes on only then.",
    ),
    (
        a_link(LinkKind.CURE, Then.ONE_GO, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head has to cure until Sun 11 "
        "Jan 15:00, and what is left of the shift is too short to do it in one go.",
    ),
    (
        a_link(LinkKind.CURE, Then.CLIMATE, **BEFORE),
        "Sand on Head can't start before Mon 12 Jan 07:30: lay-up on Head has to cure until Sun 11 "
        "Jan 15:00, and it may not be done sooner after that.",
    ),
    (
        a_link(LinkKind.CLIENT, before="approve", ready=READY),
        "Sand on Head can't start before Mon 12 Jan 07:30: the client has until Sun 11 Jan 15:00 "
        "to answer (approve).",
    ),
    (
        a_link(LinkKind.CLIENT, before="approve", ready=READY, ended=ENDED, who="The engineer"),
        "Sand on Head can't start before Mon 12 Jan 07:30: pictures go out Fri 9 Jan 15:00, and "
        "The engineer has until Sun 11 Jan 15:00 to answer (approve).",
    ),
    (
        a_link(LinkKind.PERSON, person="ana", **OTHER),
        "Sand on Head waits for Ana until Fri 9 Jan 15:00: otter-carve for Otter comes first.",
    ),
    (
        a_link(LinkKind.PERSON, person="ana", only=1, **BEFORE),
        "Sand on Head waits for Ana until Fri 9 Jan 15:00, and nobody else can do it: lay-up on "
        "Head comes first.",
    ),
    (
        a_link(LinkKind.PERSON, person="ana", work="Varnish crates", ended=ENDED),
        "Sand on Head waits for Ana until Fri 9 Jan 15:00: Varnish crates.",
    ),
    (
        a_link(LinkKind.PERSON, person="ana", only=1, ended=ENDED),
        "Sand on Head waits for Ana until Fri 9 Jan 15:00, and nobody else can do it: something "
        "else that is booked.",
    ),
    (
        a_link(LinkKind.PERSON, person="ana", journey="ship", ended=ENDED),
        "Sand on Head waits for Ana, who is away with Ship until Fri 9 Jan 15:00.",
    ),
    (
        a_link(LinkKind.PERSON, others="Ana, Tom", **HOURS),
        "Ana, Tom: 44 h of work between Fri 9 Jan 15:00 and Sun 11 Jan 15:00, and 36 h there.",
    ),
    (
        a_link(LinkKind.PERSON, person="ana", leave=1, until=ENDED),
        "Sand on Head then waits while Ana is away, until Fri 9 Jan 15:00, and starts Mon 12 Jan "
        "07:30.",
    ),
    (
        a_link(LinkKind.PERSON, person="ana", leave=1, only=1, until=MIDNIGHT),
        "Sand on Head then waits while Ana is away, until the end of Fri 9 Jan, since nobody else "
        "can do it, and starts Mon 12 Jan 07:30.",
    ),
    (
        a_link(LinkKind.CERTIFICATE, certificate="isocyanates", others="Tom"),
        "Sand on Head needs isocyanates, which Tom can't show.",
    ),
    (
        a_link(LinkKind.PLACE, **TAKEN),
        "Sand on Head waits for Booth until Sun 11 Jan 15:00: otter-carve for Otter is in it.",
    ),
    (
        a_link(LinkKind.PLACE, place="booth", booking="booth filters", ended=ENDED),
        "Sand on Head waits for Booth, which is taken until Fri 9 Jan 15:00 (booth filters).",
    ),
    (
        a_link(LinkKind.PLACE, place="booth", ended=ENDED),
        "Sand on Head waits for Booth, which is not to be had until Fri 9 Jan 15:00.",
    ),
    (
        a_link(LinkKind.PLACE, place="booth", **HOURS),
        "Booth: 44 h of use between Fri 9 Jan 15:00 and Sun 11 Jan 15:00, and 36 h there.",
    ),
    (
        a_link(LinkKind.FLOOR, **{**TAKEN, "place": "hall"}),
        "Sand on Head waits for room on Hall until Sun 11 Jan 15:00: a piece stands there until "
        "otter-carve for Otter is over.",
    ),
    (
        a_link(LinkKind.FLOOR, place="hall", booking="stock", ended=ENDED),
        "Sand on Head waits for room on Hall, which is taken until Fri 9 Jan 15:00 (stock).",
    ),
    (
        a_link(LinkKind.FLOOR, place="hall", ended=ENDED),
        "Sand on Head waits for room on Hall, which is not to be had until Fri 9 Jan 15:00.",
    ),
    (
        a_link(LinkKind.EQUIPMENT, equipment="hoist", ready=READY, **OTHER),
        "Sand on Head waits for Hoist until Sun 11 Jan 15:00: otter-carve for Otter has it.",
    ),
    (
        a_link(LinkKind.EQUIPMENT, equipment="hoist", booking="its test", ended=ENDED),
        "Sand on Head waits for Hoist, which is taken until Fri 9 Jan 15:00 (its test).",
    ),
    (
        a_link(LinkKind.EQUIPMENT, equipment="hoist", ended=ENDED),
        "Sand on Head waits for Hoist, which is not to be had until Fri 9 Jan 15:00.",
    ),
    (
        a_link(LinkKind.AIR, ready=READY, **OTHER),
        "Sand on Head waits until Sun 11 Jan 15:00: otter-carve for Otter shares its air, and the "
        "two may not meet.",
    ),
    (a_link(LinkKind.AIR, ended=ENDED), "Sand on Head waits until Fri 9 Jan 15:00 for clean air."),
    (
        a_link(LinkKind.RECOAT, next="paint"),
        "Sand on Head is put off until Mon 12 Jan 07:30, so that paint on Head can follow within "
        "its recoat time.",
    ),
    (
        a_link(LinkKind.CLIMATE),
        "Sand on Head then waits until Mon 12 Jan 07:30: before that it is too cold, too warm or "
        "too damp for it to be done and to cure.",
    ),
    (
        Link(
            kind=LinkKind.JOURNEY,
            id="ship",
            step=StepId("ship"),
            facts=(("latest", ENDED),),
        ),
        "Loading has to end by Fri 9 Jan 15:00, so that Ship makes the window.",
    ),
    (
        a_link(LinkKind.JOURNEY),
        "Sand on Head is put off until Mon 12 Jan 07:30: the loaded lorry may not stand.",
    ),
    (
        Link(
            kind=LinkKind.SAILING,
            id="ship",
            step=StepId("ship"),
            facts=(("latest", ENDED), ("leg", "North Sea")),
        ),
        "Loading has to end by Fri 9 Jan 15:00, so that Ship reaches the last sailing that makes "
        "the window (North Sea).",
    ),
    (
        Link(kind=LinkKind.WINDOW, id="w", facts=(("first", ENDED), ("until", READY))),
        "The window is Fri 9 Jan 15:00 to Sun 11 Jan 15:00.",
    ),
]


@pytest.mark.parametrize(("link", "sentence"), ROWS, ids=[f"{each.kind}" for each, _ in ROWS])
def test_a_link_is_said(link: Link, sentence: str) -> None:
    assert why().link(link) == sentence


def test_every_sentence_of_a_link_is_in_the_table() -> None:
    assert {(link.kind, _variant(link)) for link, _ in ROWS} == set(SENTENCES)


def test_something_written_is_said_as_in_the_plan() -> None:
    link = Link(
        kind=LinkKind.PERSON,
        id="sand",
        facts=(("code", "nobody_can"), ("step", "sand"), ("skill", "sand")),
    )

    assert why().link(link) == "Sand on Head needs sand, and nobody can do it."


def test_a_row_of_steps_is_one_line_and_a_long_cure_its_own() -> None:
    carve = a_link(LinkKind.AFTER, step="lay-up", before="carve", ended=ENDED, ready=ENDED)
    sand = a_link(LinkKind.CURE, Then.OFF, **BEFORE)
    loading = a_link(LinkKind.AFTER, step="loading", before="sand", ended=ENDED, ready=ENDED)
    lines = why(carve, sand, loading).chain_lines()
    assert lines == [
        "Lay-up and sand on Head, loading: one after the other, from Fri 9 Jan 15:00 to Mon 12 Jan "
        "16:00, 2 days of it curing and drying."
    ]

    week = a_link(LinkKind.CURE, before="lay-up", ended="2026-01-05T07:30:00+00:00", ready=READY)
    assert len(why(carve, week, loading).chain_lines()) == 3
    assert why(carve, replace(sand, side=True)).side_lines() == [why().link(sand)]


def test_steps_of_another_job_say_so() -> None:
    mine = a_link(LinkKind.PERSON, person="ana", step="otter-carve", job="otter", **BEFORE)

    assert why().link(mine) == (
        "Otter-carve for Otter waits for Ana until Fri 9 Jan 15:00: lay-up on Head for Otter comes "
        "first."
    )


def rung(rung: Rung | None, **more: object) -> list[str]:
    beside = tuple(map(JobId, ("otter",))) if rung is Rung.FREE else ()
    return why(told=replace(TOLD, rung=rung, beside=beside), **more).known_lines()


@pytest.mark.parametrize("each", Rung)
def test_every_rung_says_what_it_speaks_of(each: Rung) -> None:
    (line,) = rung(each)
    assert line.endswith(".")
    assert "{" not in line
    assert set(RUNGS) == set(Rung)


def test_a_bound_is_told_rounded_down() -> None:
    told = replace(TOLD, rung=Rung.CHAIN, bound_minutes=3 * 24 * 60 + 60)

    assert why(told=told).known_lines()[1] == (
        "Whatever the plan, loading ends at least 3 days too late then."
    )


def test_a_proof_beside_others_names_them_and_is_no_cannot() -> None:
    assert rung(Rung.FREE) == [
        "That is proved as long as Otter is in time; work on other jobs may be moved for it. Alone "
        "it could still fit."
    ]
    assert rung(None) == ["Nothing is proved yet: a plan that keeps the window may still exist."]


def test_the_title_says_if_the_job_goes_first() -> None:
    assert why().chain_title == "What decides, from first to last:"
    assert why(goes_first=True).chain_title == (
        "What decides even if it goes before all other jobs, from first to last:"
    )


@pytest.mark.parametrize("at_best", AT_BEST)
def test_a_proof_says_for_which_hours_it_holds(at_best: bool) -> None:
    lines = rung(Rung.CHAIN, even_at_best=at_best)
    assert lines[1] == AT_BEST[at_best]


@pytest.mark.parametrize(
    ("needed", "there", "sentence"),
    [
        (
            27 * 480,
            24 * 480,
            "Together this takes 27 days of working time from now, and there are 24 days: 3 days "
            "too few.",
        ),
        (
            5 * 480,
            6 * 480,
            "Together this takes 5 days of working time from now, which leaves 1 day before "
            "loading has to end.",
        ),
        (480, 480, "Together this takes 1 day of working time from now, all that there is."),
        (None, 480, ""),
    ],
)
def test_the_sum_is_said(needed: int | None, there: int, sentence: str) -> None:
    assert why(needed_minutes=needed, there_minutes=there).sum_line() == sentence

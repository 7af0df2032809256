"""What the days of a job go into, what is to spare in them, and certificates, in words."""

from dataclasses import replace

import pytest

from app.words import certificate as certificate_words
from app.words.why_days import CLASSES, day_lines, slack_lines
from scheduler.check.certificate import Judged, Trouble
from scheduler.outcome import JobOutcome
from scheduler.why.anatomy import Anatomy, Part
from scheduler.why.day_classes import Class
from scheduler.why.stage_slack import JobSlack, StageSlack
from scheduler.why.values import Why
from scheduler.why.worth import Worth
from shared.certificate import Certificate, ProofBy
from shared.findings import Fact
from shared.ids import JobId, PersonId, StepId
from shared.plan import MadeFrom
from tests.app.test_words_why import ENDED, HERON, READY, TOLD, WORDS
from tests.builders import NOW, at


def test_every_class_of_days_has_its_words() -> None:
    assert set(CLASSES) == set(Class)


def days_of(told: JobOutcome) -> list[str]:
    parts = (
        Part(what=Class.WORK, start=0, end=8),
        Part(what=Class.PEOPLE, start=8, end=32),
        Part(what=Class.NIGHTS, start=32, end=80),
        Part(what=Class.SLACK, start=80, end=84),
    )
    worths = (
        (Class.PEOPLE, Worth(elapsed_minutes=67 * 60, working_minutes=240)),
        (Class.NIGHTS, Worth()),
    )
    found = Why(told=told, chain=(), anatomy=Anatomy(job=HERON, parts=parts), worths=worths)
    return day_lines(WORDS, found)


def test_days_are_told_the_most_first_with_what_leaving_out_is_worth() -> None:
    assert days_of(replace(TOLD, slack_minutes=60)) == [
        "Its days, 21 h from now:",
        "12 h  nights, weekends and breaks; without it no sooner",
        " 6 h  waiting for people; without it 3 days sooner",
        " 2 h  work",
        " 1 h  to spare",
    ]
    assert days_of(TOLD)[-1] == " 1 h  loaded and waiting to leave"


OTHERS = 3


def slack_of(minutes: int, buffer: int | None, shared: tuple[int, ...] = ()) -> list[str]:
    stage = StageSlack(
        stage=0, step=StepId("sand"), start=0, latest_start=9, minutes=240, shared_with=shared
    )
    steps = ("sand", "paint", "loading", "otter-carve")
    names = tuple(
        (at, StepId(step), JobId("otter" if at == OTHERS else "heron"))
        for at, step in enumerate(steps)
    )
    slack = JobSlack(job=HERON, minutes=minutes, stages=(stage,), names=names)
    told = replace(TOLD, slack_minutes=buffer)
    return slack_lines(
        WORDS, Why(told=told, chain=(), anatomy=Anatomy(job=HERON, parts=()), slack=slack)
    )


def test_slack_is_told_with_the_buffer_and_who_shares_it() -> None:
    assert slack_of(240, 960, (1,)) == [
        "Its work has ½ a day to spare along everyone's order; the buffer before the latest end of "
        "loading is 2 days.",
        "Sand on Head has ½ a day, and shares it with one more step: Paint on Head.",
    ]
    assert slack_of(0, 960, (1, OTHERS)) == [
        "Its work has nothing to spare along everyone's order; the buffer before the latest end of "
        "loading is 2 days.",
        "Sand on Head has ½ a day, and shares it with two more steps: Paint on Head and "
        "Otter-carve for Otter.",
    ]
    assert slack_of(240, None)[0] == "Its work has ½ a day to spare along everyone's order."
    assert slack_of(240, None)[1] == "Sand on Head has ½ a day of its own."


def test_a_buffer_is_proposed_beside_what_is_wished() -> None:
    stage = StageSlack(stage=0, step=StepId("sand"), start=0, latest_start=9, minutes=240)
    slack = JobSlack(job=HERON, minutes=240, stages=(stage,))
    told = replace(TOLD, slack_minutes=960, wished_buffer_minutes=960)
    days = Anatomy(job=HERON, parts=())
    found = Why(told=told, chain=(), anatomy=days, slack=slack, buffer_minutes=1500)

    assert slack_lines(WORDS, found)[1] == (
        "By the ranges of its hours the buffer proposed is 3¼ days; the one wished for is 2 days."
    )
    assert len(slack_lines(WORDS, replace(found, told=TOLD))) == 2


def test_what_cannot_slip_is_told_with_what_holds_it() -> None:
    steps = ("carve", "sand", "paint")
    stages = tuple(
        StageSlack(stage=at, step=StepId(step), start=at, latest_start=at, minutes=0, held_by=2)
        for at, step in enumerate(steps)
    )
    names = tuple((at, StepId(step), HERON) for at, step in enumerate(steps))

    def told(count: int, *, held: bool = True) -> str:
        chosen = tuple(each if held else replace(each, held_by=None) for each in stages[:count])
        slack = JobSlack(job=HERON, minutes=0, stages=chosen, names=names)
        found = Why(told=TOLD, chain=(), anatomy=Anatomy(job=HERON, parts=()), slack=slack)
        return slack_lines(WORDS, found)[1]

    assert told(1) == (
        "Carve on Head can't slip at all; what holds it is Paint on Head, which can't be later."
    )
    assert told(3) == (
        "Carve on Head and two more steps can't slip at all; what holds Carve on Head is Paint on "
        "Head, which can't be later."
    )
    assert told(1, held=False) == "Carve on Head can't slip at all."


# Certificates

A_CERTIFICATE = Certificate(
    made_from=MadeFrom(revision=1, digest="x"),
    now=NOW,
    job=HERON,
    by=ProofBy.CHAIN,
    late_minutes=3 * 24 * 60,
    loaded_by=at("2026-01-09 15:00"),
    people=(PersonId("ana"),),
)


@pytest.mark.parametrize("by", ProofBy)
def test_a_certificate_says_what_it_says_and_whether_it_holds(by: ProofBy) -> None:
    found = replace(A_CERTIFICATE, by=by)
    assert certificate_words.says_line(WORDS, found).startswith(
        "The certificate says that Heron is loaded"
    )
    is_search = by is ProofBy.SEARCH
    judged = Judged(holds=not is_search, replayable=not is_search, is_of_book=True)
    line = certificate_words.judged_line(WORDS, found, judged)
    assert line.startswith("It can't be followed" if is_search else "It holds: ")


FACTS: dict[str, Fact] = {
    "job": "heron",
    "loaded_by": ENDED,
    "step": "sand",
    "end": READY,
    "late_minutes": 60,
    "minutes": 60,
    "there_minutes": 720,
    "wanted_minutes": 600,
}


@pytest.mark.parametrize("code", certificate_words.TROUBLES)
def test_every_trouble_of_a_certificate_has_its_sentence(code: str) -> None:
    trouble = Trouble(code=code, facts=tuple(FACTS.items()))
    judged = Judged(holds=False, replayable=True, is_of_book=True, troubles=(trouble,))
    line = certificate_words.judged_line(WORDS, A_CERTIFICATE, judged)

    assert line.startswith("It does not hold. ")
    assert "…" not in line

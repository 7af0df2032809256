"""Sentences about somebody or something away, and about the answers."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

import pytest

from app.words import Words
from app.words import away as say
from scheduler.away.values import Answer, Answers, Hit, Move, MoveKind
from scheduler.outcome import CheckResult, JobOutcome, Verdict
from scheduler.told_changes import told_changes
from shared.absence import Absence, AwayKind
from shared.book import Book
from shared.ids import JobId, StepId
from shared.plan import Placement
from tests.builders import NOW, a_material, a_place, an_equipment, at
from tests.scheduler.told_work import ANA, first, plan_of, second, told_book

TODAY = NOW.date()
FOX = JobId("fox")


def a_told_book() -> Book:
    workshop = replace(told_book().workshop, currency="EUR")
    return replace(
        told_book(),
        workshop=workshop,
        places=(a_place(),),
        equipment=(an_equipment(),),
        materials=(a_material(),),
    )


WORDS = Words("en", book=a_told_book())


def absence(kind: AwayKind, who: str, start: datetime, end: datetime) -> Absence:
    return Absence(kind=kind, id=who, start=start, end=end)


ILL = absence(AwayKind.PERSON, "ana", at("2026-01-06 00:00"), at("2026-01-09 00:00"))


@pytest.mark.parametrize(
    ("found", "line"),
    [
        (ILL, "Ana is away from Tue 6 Jan to Thu 8 Jan."),
        (replace(ILL, end=at("2026-01-07 00:00")), "Ana is away on Tue 6 Jan."),
        (
            replace(ILL, start=at("2026-01-05 12:00"), end=at("2026-01-06 12:00")),
            "Ana is away from Mon 5 Jan 12:00 to Tue 6 Jan 12:00.",
        ),
        (
            replace(ILL, kind=AwayKind.PLACE, id="bay"),
            "Bay is not to be had from Tue 6 Jan to Thu 8 Jan.",
        ),
        (
            replace(ILL, kind=AwayKind.EQUIPMENT, id="lorry", end=at("2026-01-07 00:00")),
            "Lorry is not to be had on Tue 6 Jan.",
        ),
        (
            replace(ILL, kind=AwayKind.EQUIPMENT, id="lorry", end=at("2026-01-06 12:00")),
            "Lorry is not to be had from Tue 6 Jan 00:00 to Tue 6 Jan 12:00.",
        ),
        (
            replace(ILL, kind=AwayKind.DELIVERY, id="primer", end=at("2026-01-07 11:00")),
            "The delivery of Primer comes on Wed 7 Jan 11:00 only.",
        ),
    ],
)
def test_who_is_away_is_said_with_days_and_without_a_reason(found: Absence, line: str) -> None:
    assert say.who_line(WORDS, found, TODAY) == line


def an_answer(*placements: Placement, price: int = 0, slack: int = 480) -> Answer:
    book = a_told_book()
    plan = plan_of(*placements)
    changes = told_changes(book, plan, NOW, missing=(ANA,))
    waits = changes.each[0].now is not None and "ana" in changes.each[0].now.people
    kind = MoveKind.WAITS if waits else MoveKind.TAKEN_OVER
    return Answer(
        moves=(Move(kind=kind, job=FOX, step=StepId("first")),),
        levers=(),
        changes=changes,
        price=Decimal(price),
        missed=frozenset(),
        lost=frozenset(),
        tight=frozenset(),
        proved_cheapest=True,
        book=book,
        plan=plan,
        check=CheckResult(),
        jobs=(a_job_at(Verdict.FITS, slack),),
    )


def a_job_at(verdict: Verdict, slack: int) -> JobOutcome:
    return JobOutcome(id=FOX, name="Fox", verdict=verdict, slack_minutes=slack)


def of(answer: Answer, hits: int = 1, verdict: Verdict = Verdict.FITS) -> Answers:
    stood = Hit(job=FOX, step=StepId("first"), start=first().start, end=first().end)
    return Answers(
        absence=ILL,
        now=NOW,
        hits=(stood,) * hits,
        before=(a_job_at(verdict, 480),),
        answers=(answer,),
    )


WAIT = an_answer(first("ana", day="09"), second("ben"))
SOONER = an_answer(first("ana", day="05", start="09:00"), second("ben"))
STAND_IN = an_answer(first("cid"), second("ben"), price=240, slack=240)
SWAP = an_answer(first("ben"), second("cid"))


@pytest.mark.parametrize(
    ("answer", "head", "lines"),
    [
        (
            WAIT,
            "1  Nobody else hears anything new for today or tomorrow; it costs nothing.",
            ["First for Fox waits for Ana, until Fri 9 Jan 07:30."],
        ),
        (
            SOONER,
            "1  Nobody else hears anything new for today or tomorrow; it costs nothing.",
            ["Ana does First for Fox sooner, Mon 5 Jan 09:00."],
        ),
        (
            STAND_IN,
            "1  One other person hears something new for today or tomorrow; it costs 240 EUR.",
            ["Cid does First for Fox, Tue 6 Jan 07:30 to 14:30, instead of Ana."],
        ),
        (
            SWAP,
            "1  Two other people hear something new for today or tomorrow; it costs nothing.",
            [
                "Ben does First for Fox, Tue 6 Jan 07:30 to 14:30, instead of Ana.",
                "Ben no longer does Second for Fox, Tue 6 Jan 07:30 to 14:30; Cid will.",
                "Cid does Second for Fox, Tue 6 Jan 07:30 to 14:30, instead of Ben.",
            ],
        ),
    ],
)
def test_an_answer_says_whom_it_changes_what_for(
    answer: Answer, head: str, lines: list[str]
) -> None:
    assert say.answer_line(WORDS, answer, 1) == head
    assert say.answer_lines(WORDS, of(answer), answer, TODAY) == lines


def test_an_answer_says_what_becomes_of_slack_and_verdicts() -> None:
    assert say.verdict_lines(WORDS, of(WAIT), WAIT) == ["Every job stands as it did."]
    assert say.verdict_lines(WORDS, of(STAND_IN), STAND_IN) == [
        "Fox then has ½ a day to spare, and had 1 day."
    ]
    assert say.verdict_lines(WORDS, of(WAIT, verdict=Verdict.TIGHT), WAIT)[0].startswith("Then: ")


@pytest.mark.parametrize(
    ("count", "title", "length"),
    [
        (0, "Nothing that is planned then needs Ana.", 0),
        (1, "One piece of work is touched:", 1),
        (9, "9 pieces of work are touched:", 9),
        (12, "12 pieces of work are touched:", 9),
    ],
)
def test_what_is_touched_is_listed(count: int, title: str, length: int) -> None:
    found = of(WAIT, count)
    lines = say.hit_lines(WORDS, found.hits, TODAY)

    assert say.hits_title(WORDS, found) == title
    assert len(lines) == length
    assert set(lines[:8]) <= {"First for Fox, Tue 6 Jan 07:30 to 14:30"}


def test_an_answer_with_many_changes_says_how_many_more_there_are() -> None:
    many = replace(SWAP, changes=replace(SWAP.changes, each=SWAP.changes.each * 4))
    lines = say.answer_lines(WORDS, of(many), many, TODAY)

    assert len(lines) == say.SAID_MAX + 1
    assert lines[-1] == "4 more changes, see --json."

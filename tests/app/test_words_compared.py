"""What is said of a book that somebody else changed: each difference as one sentence."""

from dataclasses import replace
from decimal import Decimal

import pytest

from app.words import Words
from app.words import compared as say
from shared.book import Answer, FactKind, Held
from shared.comparing import Difference, How, Sort, differences
from tests.builders import a_book, a_fact, a_job, a_person, a_stage, at

JOB = a_job("fox", steps=(a_stage("first"), a_stage("second")))
BOOK = a_book(JOB, people=(a_person("ana"),))
TOLD = at("2026-01-05 12:00")


def _said(**fields: object) -> str:
    found = Difference(**{"how": How.OTHER, "id": "first", "name": "First", "job": "Fox", **fields})  # type: ignore[arg-type]
    return say.line(found, Words(book=BOOK), BOOK)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("1", "First for Fox takes 1 person-hour more."),
        ("2.50", "First for Fox takes 2.5 person-hours more."),
        ("-1", "First for Fox takes 1 person-hour less."),
        ("-0.5", "First for Fox takes 0.5 person-hours less."),
    ],
)
def test_hours_are_said_in_the_singular_and_the_plural(more: str, said: str) -> None:
    assert _said(sort=Sort.HOURS, more=Decimal(more)) == said


def test_everything_that_can_differ_has_its_sentence() -> None:
    things = {Sort.JOB, Sort.SEGMENT, Sort.STEP, Sort.PERSON, Sort.PLACE}
    wanted = {(sort, how) for sort in things for how in How}
    wanted |= {(sort, How.OTHER) for sort in set(Sort) - things - {Sort.TOLD, Sort.HOURS}}
    wanted |= {(Sort.TOLD, How.NEW), (Sort.TOLD, How.GONE), (Sort.FACT, How.GONE)}
    assert set(say.SAID) == wanted
    for sort, how in wanted - {(Sort.FACT, How.OTHER), (Sort.FACT, How.GONE)}:
        assert _said(sort=sort, how=how).endswith(".")


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"kind": FactKind.DONE}, "First for Fox is done: Mon 5 Jan 2026 12:00, Mara says."),
        (
            {"kind": FactKind.RUNNING, "remaining_hours": Decimal(6)},
            "First for Fox: 6 person-hours are still to do from Mon 5 Jan 2026 12:00 on, Mara "
            "says.",
        ),
        (
            {"kind": FactKind.RUNNING},
            "First for Fox is under way since Mon 5 Jan 2026 12:00, Mara says.",
        ),
        (
            {"kind": FactKind.ANSWER, "answer": Answer.YES},
            "First for Fox: the answer is written down, Mon 5 Jan 2026 12:00, by Mara.",
        ),
        (
            {"kind": FactKind.MATERIAL},
            "All that First for Fox takes was there Mon 5 Jan 2026 12:00, Mara says.",
        ),
        (
            {"kind": FactKind.HELD, "held_by": Held.TOOL},
            "First for Fox had not begun Mon 5 Jan 2026 12:00, Mara says: a tool or a machine was "
            "missing. What the sheet has for it before is void.",
        ),
    ],
)
def test_what_was_told_is_said_with_who_and_when(fields: dict[str, object], said: str) -> None:
    fact = a_fact("x", "first", at=TOLD, told_by="Mara", told_at=None, **fields)
    after = replace(BOOK, facts=(fact,))
    assert say.lines(differences(BOOK, after), BOOK, after, 9) == [said]


def test_what_was_told_and_is_taken_back_is_named() -> None:
    fact = a_fact("x", "first", at=TOLD, told_by="Mara", kind=FactKind.DONE)
    before = replace(BOOK, facts=(fact,))
    assert say.lines(differences(before, BOOK), before, BOOK, 9) == [
        "What was told of First for Fox is taken back: Mon 5 Jan 2026 12:00, by Mara."
    ]


@pytest.mark.parametrize(
    ("count", "last"),
    [(3, "The job Fox 2 is new."), (4, "and 2 things more"), (5, "and 3 things more")],
)
def test_of_many_differences_the_last_line_says_how_many_more(count: int, last: str) -> None:
    jobs = tuple(a_job(f"fox{index}", name=f"Fox {index}") for index in range(count))
    after = replace(BOOK, jobs=(*BOOK.jobs, *jobs))
    lines = say.lines(differences(BOOK, after), BOOK, after, 3)
    assert (len(lines), lines[-1]) == (3, last)
    assert say.lines(differences(BOOK, after), BOOK, after, 99) == [
        f"The job Fox {index} is new." for index in range(count)
    ]
    assert Words(book=BOOK).say(say.MORE, count=1, number="1") == "and one thing more"

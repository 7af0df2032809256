"""Sentences of what changes against the sheet, and of what is to be said."""

from dataclasses import replace

import pytest

from app.words import Words
from app.words import changes as say
from scheduler.asks import Ask, Asked
from scheduler.told_changes import told_changes
from shared.ids import JobId, PersonId, PlaceId, StepId
from shared.plan import Placement
from tests.builders import NOW, at
from tests.scheduler.told_work import first, plan_of, second, told_book

TODAY = NOW.date()

LINES: list[tuple[tuple[Placement, ...], list[str]]] = [
    (
        (first("ben"), second("cid")),
        [
            "Ana no longer does First for Fox, Tue 6 Jan 07:30 to 14:30; Ben will.",
            "Ben does First for Fox, Tue 6 Jan 07:30 to 14:30, instead of Ana.",
            "Ben no longer does Second for Fox, Tue 6 Jan 07:30 to 14:30; Cid will.",
            "Cid does Second for Fox, Tue 6 Jan 07:30 to 14:30, instead of Ben.",
        ],
    ),
    (
        (first("ana", day="07"), second("ben")),
        [
            "Ana: First for Fox moves from Tue 6 Jan 07:30 to Wed 7 Jan 07:30.",
        ],
    ),
    ((second("ben"),), ["Ana: First for Fox, Tue 6 Jan 07:30 to 14:30, is off the sheet."]),
    (
        (first("ana", "cid"), second("ben")),
        ["Cid does First for Fox, Tue 6 Jan 07:30 to 14:30, as well."],
    ),
    (
        (replace(first("ana"), place=PlaceId("bay")), second("ben")),
        ["Ana: First for Fox, Tue 6 Jan 07:30 to 14:30, is now done in Bay."],
    ),
    (
        (replace(first("ana"), end=at("2026-01-06 15:00")), second("ben")),
        ["Ana: First for Fox now takes until Tue 6 Jan 15:00, not until Tue 6 Jan 14:30."],
    ),
    (
        (first("ana"), second("ben", day="28")),
        ["Ben: Second for Fox moves from Tue 6 Jan 07:30 to Wed 28 Jan 07:30."],
    ),
]


@pytest.mark.parametrize(("placements", "lines"), LINES)
def test_changes_are_said_person_by_person(
    placements: tuple[Placement, ...], lines: list[str]
) -> None:
    book = told_book()
    found = told_changes(book, plan_of(*placements), NOW)

    assert say.change_lines(Words("en", book=book), found, TODAY) == lines


def test_what_lies_further_ahead_is_counted() -> None:
    book = told_book()
    assert book.told is not None
    told = replace(book.told, plan=plan_of(first("ana", day="28"), second("ben", day="29")))
    later = replace(book, told=told)
    words = Words("en", book=later)
    one = told_changes(later, plan_of(first("ben", day="28"), second("ben", day="29")), NOW)
    two = told_changes(later, plan_of(), NOW)

    assert say.change_lines(words, one, TODAY) == [
        "One more change lies further ahead than two weeks."
    ]
    assert say.change_lines(words, two, TODAY) == [
        "2 more changes lie further ahead than two weeks."
    ]


def test_titles_name_the_sheet() -> None:
    book = told_book()
    words = Words("en", book=book)
    assert book.told is not None
    same = told_changes(book, plan_of(first("ana"), second("ben")), NOW)
    other = told_changes(book, plan_of(), NOW)

    assert say.title(words, book.told, same) == (
        "Nothing has changed since the sheet of Mon 5 Jan 2026 08:00, number 3."
    )
    assert say.title(words, book.told, other) == (
        "Changed since the sheet of Mon 5 Jan 2026 08:00, number 3"
    )


ASKED = [
    (
        Ask.DONE,
        False,
        "First for Fox: done Mon 5 Jan 08:00, as told? Nobody has said so; its hours count as "
        "done.",
    ),
    (
        Ask.DONE,
        True,
        "First for Fox: done Mon 5 Jan 08:00, as told? Nobody has said so; its hours count as "
        "done, but it cures from now on only.",
    ),
    (
        Ask.UNDER_WAY,
        False,
        "First for Fox: begun Mon 5 Jan 08:00, as told? Nobody has said so; it counts as under "
        "way.",
    ),
    (
        Ask.ANSWER,
        False,
        "First for Fox: the answer is overdue. It is assumed for Mon 5 Jan 08:00; silence is no "
        "yes.",
    ),
    (
        Ask.INTERRUPTED,
        False,
        "First for Fox is done in one go and was interrupted; it began Mon 5 Jan 08:00. Does it "
        "go on, is it done again, or is it done?",
    ),
]


@pytest.mark.parametrize(("ask", "cures", "sentence"), ASKED)
def test_what_is_to_be_said(ask: Ask, *, cures: bool, sentence: str) -> None:
    found = Asked(ask=ask, job=JobId("fox"), step=StepId("first"), at=NOW, cures=cures)

    assert say.ask_line(Words("en", book=told_book()), found, TODAY) == sentence


BY_NAME = [
    (
        ("ana",),
        False,
        "Ask Ana: is First for Fox done, Mon 5 Jan 08:00, as told? Nobody has said so for two "
        "working days; its hours count as done.",
    ),
    (
        ("ana", "ben"),
        False,
        "Ask Ana and Ben: is First for Fox done, Mon 5 Jan 08:00, as told? None of them has said "
        "so for two working days; its hours count as done.",
    ),
    (
        ("ana",),
        True,
        "Ask Ana: is First for Fox done, Mon 5 Jan 08:00, as told? Nobody has said so for two "
        "working days; its hours count as done, but it cures from now on only.",
    ),
]


@pytest.mark.parametrize(("people", "cures", "sentence"), BY_NAME)
def test_whoever_is_long_silent_is_asked_by_name(
    people: tuple[str, ...], *, cures: bool, sentence: str
) -> None:
    found = Asked(
        ask=Ask.DONE,
        job=JobId("fox"),
        step=StepId("first"),
        at=NOW,
        cures=cures,
        people=tuple(PersonId(person) for person in people),
        by_name=True,
    )
    assert say.ask_line(Words("en", book=told_book()), found, TODAY) == sentence


def test_every_question_has_its_sentence() -> None:
    assert {ask for ask, _, _ in ASKED} == set(Ask) == set(say.ASKS)


@pytest.mark.parametrize(("more", "last"), [(1, "One more thing"), (2, "2 more things")])
def test_a_dozen_questions_are_enough(more: int, last: str) -> None:
    found = Asked(ask=Ask.DONE, job=JobId("fox"), step=StepId("first"), at=NOW)
    lines = say.ask_lines(Words("en", book=told_book()), [found] * (12 + more), TODAY)

    assert len(lines) == 13
    assert lines[-1].startswith(last)


def test_work_besides_a_step_is_named_for_what_it_is() -> None:
    words = Words("en", book=told_book())

    assert say.work_of(words, "fox", "first", "abrade") == "the abrading before First for Fox"

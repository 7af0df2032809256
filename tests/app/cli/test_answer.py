"""`countback answer`: what is written down, what it is said to mean, what is refused."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from shared.book import Abrade, Answer, Book, Fact, FactKind, Gate, GateKind, Kind, Step
from shared.files.disk import load
from shared.files.lock import Lock, take
from shared.files.read import read_book
from tests.app.cli.shell import Said, a_file, countback
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_place,
    a_stage,
    a_way,
    at,
)

CHANGES = Abrade(ways=(a_way(hours=6),))
CARVED = a_fact("carved", step="carve", at=at("2025-12-12 10:00"))


def a_book_with(gate: Gate, *facts: Fact) -> Book:
    steps: tuple[Step, ...] = (
        a_stage("carve"),
        gate,
        a_stage("skin", Kind.LAMINATE),
        a_gate(),
        a_journey(),
    )
    book = a_book(a_job(steps=steps), places=(a_place(), a_floor()), revision=3)
    return replace(book, facts=(CARVED, *facts))


def an_answer(step: str = "approve", **changes: Any) -> Gate:
    return replace(a_gate(step, GateKind.ANSWER), **changes)


def answered(path: Path, *arguments: str) -> Said:
    return countback("answer", path, *arguments, "--seconds", "1", "--json")


def read(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


def test_a_yes_keeps_who_when_and_which_pictures(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book_with(an_answer()))
    said = answered(
        *(path, "approve", "yes", "--by", "Rowan", "--at", "2026-01-02T11:00"),
        *("--shown", "front", "--shown", "left side"),
    )

    assert (said.code, said.err) == (0, "")
    fact = read(path).facts[-1]
    assert (fact.kind, fact.step, fact.answer) == (FactKind.ANSWER, "approve", Answer.YES)
    assert (fact.told_by, fact.at, fact.told_at) == ("Rowan", at("2026-01-02 11:00"), NOW)
    assert fact.shown == ("front", "left side")
    lines = " ".join(said.out.splitlines())
    assert (
        "Rowan told on Fri 2 Jan 2026 11:00: yes to Approve. What waits for it may go on." in lines
    )
    assert "It was about “front” and “left side”." in lines
    assert "Now: Heron fits" in lines
    assert "is saved as revision 4; countback undo takes that back." in lines


def test_programs_get_the_answer_and_the_plan_after_it(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book_with(an_answer()))
    told = answered(path, "approve", "no", "--by", "Rowan").last

    assert list(told) == ["taken", "revision", "gate", "answer", "after"]
    assert (told["taken"], told["revision"]) == (True, 4)
    assert (told["gate"], told["answer"]) == ("approve", "no")
    assert told["after"]["revision"] == 4
    assert [job["id"] for job in told["after"]["jobs"]] == ["heron"]


@pytest.mark.parametrize(
    ("gate", "facts", "answer", "means"),
    [
        (
            an_answer(changes=CHANGES),
            (),
            "changes",
            "with changes. They are 6 h of work, ",
        ),
        (an_answer(), (), "changes", "No work is written for them: countback change brings in"),
        (
            an_answer(changes=CHANGES),
            (a_fact("skinned", step="skin", at=at("2026-01-04 10:00")),),
            "changes",
            "Something behind it has begun, so that they count as done.",
        ),
        (
            an_answer(changes=Abrade(ways=(a_way(skill="juggle"),))),
            (),
            "changes",
            "They find no place.",
        ),
        (an_answer(rework=CHANGES), (), "no", "no to Approve. Round 2 comes after 6 h of rework."),
        (an_answer(), (), "no", "Round 2 comes; no rework is written."),
    ],
    ids=["changes", "unwritten", "over", "nobody", "rework", "no rework"],
)
def test_what_an_answer_means_is_said(
    tmp_path: Path, gate: Gate, facts: tuple[Fact, ...], answer: str, means: str
) -> None:
    book = a_book_with(gate, *facts)
    path = a_file(tmp_path, book)
    said = answered(path, "approve", answer, "--by", "Rowan")

    assert means in " ".join(said.out.splitlines()), said.out + said.err


def test_the_next_round_is_counted_from_the_answers_there_are(tmp_path: Path) -> None:
    no = a_fact("no", step="approve", kind=FactKind.ANSWER, answer=Answer.NO)
    path = a_file(tmp_path, a_book_with(an_answer(), no))
    said = answered(path, "approve", "no", "--by", "Rowan")

    assert "Round 3 comes" in said.out


def test_a_job_that_misses_its_window_ends_with_3_and_says_why(tmp_path: Path) -> None:
    book = a_book_with(an_answer(changes=Abrade(ways=(a_way(hours=400),))))
    path = a_file(tmp_path, book)
    said = answered(path, "approve", "changes", "--by", "Rowan")

    assert said.code == 3
    assert "Now: Heron: cannot." in said.out
    assert said.last["after"]["jobs"][0]["reason"]


@pytest.mark.parametrize(
    ("arguments", "trouble"),
    [
        (("approve", "perhaps", "--by", "Rowan"), "“perhaps” is no answer; there are yes, chan"),
        (("approve", "yes"), "--by NAME is missing: countback answer BOOK GATE ANSWER --by NAME"),
        (("nowhere", "yes", "--by", "R"), "No answer is called “nowhere”; there are model, maq"),
        (("m", "yes", "--by", "R"), "“m” could be model, maquette: write the id."),
        (("approve", "yes", "--by", "R", "--at", "2026-01-05T09:00"), "is yet to come"),
        (("approve", "yes", "--by", "R", "--at", "soon"), "“soon” is no moment in time"),
        (("carve", "yes", "--by", "R"), "No answer is called “carve”"),
    ],
)
def test_what_can_t_be_meant_is_refused_and_nothing_is_written(
    tmp_path: Path, arguments: tuple[str, ...], trouble: str
) -> None:
    book = a_book_with(an_answer())
    job = book.jobs[0]
    more = tuple(an_answer(name) for name in ("model", "maquette"))
    path = a_file(tmp_path, replace(book, jobs=(replace(job, steps=(*more, *job.steps)),)))
    data = path.read_bytes()
    said = answered(path, *arguments)

    assert (said.code, said.out) == (2, "")
    assert trouble in said.err
    assert path.read_bytes() == data
    assert [each.name for each in tmp_path.iterdir()] == [path.name]


def test_a_second_yes_is_refused(tmp_path: Path) -> None:
    yes = a_fact("yes", step="approve", kind=FactKind.ANSWER, answer=Answer.YES)
    said = answered(a_file(tmp_path, a_book_with(an_answer(), yes)), "approve", "no", "--by", "R")

    assert said.code == 2
    assert said.err == "Approve has its yes: Ana told so on Mon 5 Jan 2026 07:00.\n"


def test_a_book_that_somebody_has_is_left(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book_with(an_answer()))
    lock = take(path, "anna", NOW)
    assert isinstance(lock, Lock)
    with lock:
        said = answered(path, "approve", "yes", "--by", "R")

    assert said.code == 2
    assert "anna" in said.err


def test_a_book_with_findings_that_stop_is_left(tmp_path: Path) -> None:
    book = a_book_with(an_answer())
    path = a_file(tmp_path, replace(book, jobs=(replace(book.jobs[0], windows=()),)))
    data = path.read_bytes()
    said = answered(path, "approve", "yes", "--by", "R")

    assert said.code == 2
    assert "Nothing is written before that is mended." in said.out
    assert said.last["taken"] is False
    assert [each["code"] for each in said.last["findings"]] == ["job_without_window"]
    assert path.read_bytes() == data

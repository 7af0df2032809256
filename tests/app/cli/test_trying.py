"""`countback again` and `countback change`: tried, taken, refused."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.cli.trying import coming_in
from app.solved import Solved
from app.words import Words
from app.words import repairs as say
from shared.book import Answer, Book, FactKind, GateKind, Kind, Stage, Standing, Step
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.cli.outcomes import MET, an_outcome
from tests.app.cli.shell import Said, a_file, countback
from tests.builders import (
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_placement,
    a_plan,
    a_segment,
    a_stage,
    a_way,
    at,
)

PLAN_FIELDS_HEAD = ["as_of", "revision", "checked", "verdict"]


def a_lacquered_book(**changes: Any) -> Book:
    """Give a piece that is lacquered and not loaded yet."""
    steps: tuple[Step, ...] = (
        a_stage("carve"),
        a_gate("approve", GateKind.ANSWER),
        a_stage("skin", Kind.LAMINATE),
        a_stage("sand", Kind.FILL),
        a_stage("lacquer", Kind.LACQUER, hours=3, cure_hours=12),
        a_gate(),
        a_journey(),
    )
    facts = tuple(
        a_fact(f"{step}-done", step=step, at=at("2026-01-02 10:00"))
        for step in ("carve", "skin", "sand", "lacquer")
    )
    yes = a_fact("yes", step="approve", kind=FactKind.ANSWER, answer=Answer.YES)
    ana = a_person(rate_per_hour=Decimal(40))
    usual = a_book(
        a_job(steps=steps), places=(a_place(), a_floor()), people=(ana,), facts=(*facts, yes)
    )
    return replace(usual, revision=3, **changes)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_lacquered_book())


def read(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


def run(*arguments: str | Path) -> Said:
    return countback(*arguments, "--seconds", "1", "--json")


def test_repairs_are_tried_and_nothing_is_written(path: Path, tmp_path: Path) -> None:
    data = path.read_bytes()
    said = run("again", path, "lacquer", "--because", "run")
    lines = said.out.splitlines()

    assert (said.code, said.err) == (0, "")
    assert lines[0] == "The lacquer on Heron-torso has run: again from Lacquer on."
    assert lines[1].startswith("    sand back: 1¾ h, ")
    assert lines[2].startswith("    Lacquer again: 3 h, ")
    # 4 h 45 min at 40 an hour.
    assert "It costs 190 EUR." in said.out
    assert "Before: Heron fits, with" in said.out
    assert "After: Heron fits, with" in said.out
    assert "This was tried; nothing is written. With --take it is." in lines
    assert path.read_bytes() == data
    assert list(tmp_path.iterdir()) == [path]


def test_repairs_that_are_taken_are_written_with_the_book_before(path: Path) -> None:
    data = path.read_bytes()
    said = run("again", path, "lacquer", "--because", "run", "--take")

    assert said.code == 0
    lines = " ".join(said.out.splitlines())
    assert "is saved as revision 4; countback undo takes that back." in lines
    book = read(path)
    assert [step.id for step in book.jobs[0].steps][4:7] == [
        "lacquer",
        "heron-torso.sand-back",
        "lacquer-again",
    ]
    assert path.with_name(path.name + ".before").read_bytes() == data
    assert countback("undo", path).code == 0
    assert replace(read(path), revision=3) == a_lacquered_book()


def test_programs_get_what_comes_in_and_both_plans(path: Path) -> None:
    told = run("again", path, "lacquer", "--because", "run").last

    assert list(told) == [
        *("taken", "revision", "stages", "person_minutes", "cost", "without_rate"),
        *("over", "before", "after"),
    ]
    assert (told["taken"], told["revision"]) == (False, None)
    assert (told["person_minutes"], told["cost"], told["without_rate"]) == (285, 190.0, [])
    first, second = told["stages"]
    assert (first["name"], first["person_minutes"]) == ("sand back", 105)
    assert (second["id"], second["person_minutes"]) == ("lacquer-again", 180)
    assert first["end"] <= second["start"] < second["end"] == told["over"]
    assert (told["before"]["revision"], told["after"]["revision"]) == (3, 4)
    assert list(told["after"])[:4] == PLAN_FIELDS_HEAD


def test_a_change_is_tried_and_taken_with_a_new_answer(path: Path) -> None:
    change = ("change", path, "Heron-torso", "--what", "ears", "--share", "25", "--answer")
    tried, taken = run(*change), run(*change, "--take")

    assert (tried.code, taken.code) == (0, 0)
    names = [stage["name"] for stage in taken.last["stages"]]
    assert names == [stage["name"] for stage in tried.last["stages"]]
    assert names == [
        "strip",
        "Carve again: ears",
        "Approve again",
        "Skin again",
        "Sand again",
        "Lacquer again",
    ]
    assert "Heron-torso changes after the yes, 25 % of it: ears." in tried.out
    assert "Approve again: pictures out and the answer, " in tried.out
    assert read(path).revision == 4


def test_the_share_of_hours_can_be_typed(path: Path) -> None:
    told = run("again", path, "lacquer", "--because", "run", "--share", "50").last

    assert told["stages"][1]["person_minutes"] == 90


def test_a_stage_of_several_pieces_is_done_again_on_one(tmp_path: Path) -> None:
    pieces = ("heron-a", "heron-b")
    steps: tuple[Step, ...] = (
        a_stage("lacquer", Kind.LACQUER, hours=4, segments=pieces),
        a_gate(),
        a_journey(),
    )
    job = a_job(segments=tuple(map(a_segment, pieces)), steps=steps)
    path = a_file(tmp_path, a_book(job, facts=(a_fact(step="lacquer"),)))
    one = run("again", path, "lacquer", "--because", "run")
    other = run("again", path, "lacquer", "--because", "run", "--on", "heron-b")

    assert one.code == 2
    assert one.err == "Lacquer is work on Heron-a, Heron-b: say on which with --on.\n"
    assert other.code == 0
    assert [stage["person_minutes"] for stage in other.last["stages"]] == [120]


def test_an_enquiry_that_is_spoken_of_is_planned(tmp_path: Path) -> None:
    book = a_lacquered_book()
    asked = replace(book.jobs[0], standing=Standing.ENQUIRY)
    path = a_file(tmp_path, replace(book, jobs=(asked,)))
    told = run("again", path, "lacquer", "--because", "run").last

    assert [job["id"] for job in told["after"]["jobs"]] == ["heron"]


def test_what_makes_the_window_missed_ends_with_3_and_says_why(tmp_path: Path) -> None:
    book = a_lacquered_book()
    lacquer = next(s for s in book.jobs[0].steps if s.id == "lacquer")
    assert isinstance(lacquer, Stage)
    long = replace(lacquer, cure_hours=Decimal(24 * 70))
    steps = tuple(long if step.id == "lacquer" else step for step in book.jobs[0].steps)
    facts = tuple(
        replace(fact, at=at("2025-12-01 10:00")) if fact.step == "lacquer" else fact
        for fact in book.facts
    )
    jobs = (replace(book.jobs[0], steps=steps),)
    path = a_file(tmp_path, replace(book, jobs=jobs, facts=facts))
    said = run("again", path, "lacquer", "--because", "run")

    assert said.code == 3
    assert "Before: Heron fits" in said.out
    assert "After: Heron: cannot." in said.out
    assert said.last["after"]["jobs"][0]["reason"]


@pytest.mark.parametrize(
    ("arguments", "trouble"),
    [
        (("again", "lacquer"), "--because CAUSE is missing"),
        (("again", "lacquer", "--because", "fire"), "“fire” is no cause; there are dropped, soft"),
        (("again", "lacquer", "--because", "run", "--share", "101"), "“101” is no share"),
        (("again", "lacquer", "--because", "run", "--share", "0"), "“0” is no whole number from 1"),
        (("again", "nothing", "--because", "run"), "No stage is called “nothing”; there are carve"),
        (("again", "loading", "--because", "run"), "No stage is called “loading”"),
        (("again", "carve", "--because", "run", "--on", "no"), "No segment is called “no”"),
        (("change", "heron-torso", "--share", "10"), "--what TEXT is missing"),
        (("change", "heron-torso", "--what", " ", "--share", "9"), "--what TEXT is missing"),
        (("change", "heron-torso", "--what", "ears"), "--share PERCENT is missing"),
        (("change", "tail", "--what", "ears", "--share", "9"), "No segment is called “tail”"),
    ],
)
def test_what_can_t_be_meant_is_refused(
    path: Path, tmp_path: Path, arguments: tuple[str, ...], trouble: str
) -> None:
    verb, *rest = arguments
    said = run(verb, path, *rest, "--take")

    assert (said.code, said.out) == (2, "")
    assert trouble in said.err
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize(
    ("step", "because", "told", "trouble"),
    [
        ("lacquer", "run", ("carve",), "Lacquer has not begun, so that nothing of it must be done"),
        ("carve", "run", ("carve",), "From Carve on nothing was done that this calls for again."),
        ("carve", "dropped", ("carve", "loading"), "Loading of Heron has begun: take back what"),
    ],
)
def test_what_gives_no_occasion_is_said(
    tmp_path: Path, step: str, because: str, told: tuple[str, ...], trouble: str
) -> None:
    facts = tuple(a_fact(f"{each}-done", step=each) for each in told)
    path = a_file(tmp_path, a_lacquered_book(facts=facts))
    said = run("again", path, step, "--because", because)

    assert said.code == 2
    assert trouble in said.err


def test_a_book_with_findings_that_stop_is_left(tmp_path: Path) -> None:
    book = a_lacquered_book()
    path = a_file(tmp_path, replace(book, jobs=(replace(book.jobs[0], windows=()),)))
    said = run("again", path, "lacquer", "--because", "run", "--take")

    assert said.code == 2
    assert said.last["taken"] is False
    assert said.last["after"]["verdict"] is None
    assert [each["code"] for each in said.last["findings"]] == ["job_without_window"]


def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    assert run("again", tmp_path / "no", "lacquer", "--because", "run").code == 2
    assert not list(tmp_path.iterdir())


def test_costs_are_hours_by_rates_and_the_costs_of_ways() -> None:
    way = a_way(hours=6, hands=2, cost=Decimal("12.5"))
    steps = (a_stage("carve", ways=(way,)), a_gate(), a_journey())
    people = (a_person("ana", rate_per_hour=Decimal(30)), a_person("ben"))
    book = a_book(a_job(steps=steps), people=people)
    plan = a_plan(book, placements=(a_placement("carve", people=("ana", "ben")),))
    made = Solved(outcome=an_outcome(book, MET, plan=plan), seconds=1)

    found = coming_in(book, steps[:1], made)

    # Three of the six hours are Ana's at 30; of Ben's no rate is known.
    assert (found.minutes, found.cost, found.without_rate) == (360, Decimal("102.5"), ("ben",))
    words = Words("en", book=book)
    line = say.cost_line(words, found.cost, ["Ben"])
    assert line == ("It costs 103 EUR without the hours of Ben: no rate is written for them.")


def test_what_finds_no_place_is_said() -> None:
    steps = (a_stage("carve"), a_gate(), a_journey())
    book = a_book(a_job(steps=steps))
    plan = a_plan(book, placements=())
    found = coming_in(book, steps[:1], Solved(outcome=an_outcome(book, MET, plan=plan), seconds=1))
    words = Words("en", book=book)

    assert found.over is None
    assert say.total_line(words, found.minutes, found.over) == (
        "In all 8 h of work, and not all of it finds a place."
    )
    assert say.stage_line(words, "Carve", 480, None) == "Carve: 8 h, and it finds no place."
    assert say.cost_line(words, Decimal(0), []) == "It costs nothing that is known."

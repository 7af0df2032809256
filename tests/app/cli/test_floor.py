"""`countback done`, `late`, `held`, `came`: written down, refused, and taken back."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shared.book import Book, Delivery, FactKind, GateKind
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.cli.shell import Said, a_file, countback
from tests.builders import a_gate, a_job, a_journey, a_material, a_stage, at
from tests.scheduler.told_work import told_book

EVENING = ("--now", "2026-01-06T16:00", "--by", "Mara")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, told_book())


def book_at(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


def test_a_stage_is_done_as_the_sheet_has_it_and_undo_takes_that_back(path: Path) -> None:
    before = book_at(path)
    said = countback("done", path, "first", *EVENING, "--json")
    assert said.code == 0, said.err
    assert said.out.startswith("First for Fox is done: Tue 6 Jan 2026 14:30, Mara says.\n")
    assert "is saved as revision 2" in " ".join(said.out.split())
    assert [fact["kind"] for fact in said.last["facts"]] == ["running", "done"]
    assert [fact.kind for fact in book_at(path).facts] == [FactKind.RUNNING, FactKind.DONE]
    assert countback("undo", path).code == 0
    assert book_at(path).facts == before.facts == ()


def test_a_stage_is_done_early(path: Path) -> None:
    said = countback("done", path, "First", "--at", "2026-01-06T11:30", *EVENING)
    assert "is done: Tue 6 Jan 2026 11:30, Mara says." in said.out
    assert book_at(path).facts[-1].at == at("2026-01-06 11:30")


def test_a_day_is_ticked_as_told(path: Path) -> None:
    said = countback("done", path, "--as-told", "2026-01-06", *EVENING, "--json")
    assert said.code == 0, said.err
    assert said.out.splitlines()[:2] == [
        "2 pieces of work of Tue 6 Jan 2026 are done as told, Mara says.",
        "Answers, cures, loadings and journeys are never ticked.",
    ]
    assert {fact["step"] for fact in said.last["facts"]} == {"first", "second"}
    revision = book_at(path).revision
    again = countback("done", path, "--as-told", "2026-01-06", *EVENING, "--json")
    assert again.code == 0
    assert again.out.startswith("Nothing of Tue 6 Jan 2026 is to be ticked")
    assert again.last == {"told": False, "revision": revision, "facts": []}
    assert book_at(path).revision == revision


def test_what_cannot_be_ticked_is_named(path: Path) -> None:
    held = countback("held", path, "second", "--because", "material", *EVENING)
    assert held.code == 0, held.err
    assert held.out.startswith(
        "Second for Fox had not begun Tue 6 Jan 2026 16:00, Mara says: the material was not there."
    )
    said = countback("done", path, "--as-told", "2026-01-06", *EVENING)
    assert "One piece of work of Tue 6 Jan 2026 is done as told" in said.out
    assert "Second for Fox is not ticked" in said.out


def test_so_many_hours_are_left_and_why(path: Path) -> None:
    said = countback("late", path, "first", "6.50", "--because", "tool", *EVENING, "--json")
    assert said.code == 0, said.err
    assert said.out.startswith(
        "First for Fox: 6.5 person-hours are still to do from Tue 6 Jan 2026 16:00 on, Mara says.\n"
        "It was held up: a tool or a machine was missing.\n"
    )
    assert said.last["facts"][0]["remaining_hours"] == 6.5
    assert said.last["facts"][0]["held_by"] == "tool"


def test_material_came_for_a_step_or_as_ordered(path: Path) -> None:
    material = a_material("resin", supplier=None)
    on_order = Delivery(material=material.id, quantity=Decimal(25), at=at("2026-01-09 08:00"))
    book = replace(told_book(), materials=(material,), deliveries=(on_order,))
    path = a_file(path.parent, book)
    said = countback("came", path, "resin", *EVENING)
    assert said.code == 0, said.err
    assert "has come: Tue 6 Jan 2026 16:00, Mara says." in said.out
    (came,) = book_at(path).deliveries
    assert (came.arrived, came.told_by) == (True, "Mara")
    assert "on order of" in countback("came", path, "resin", *EVENING).err
    assert countback("came", path, "first", *EVENING).code == 0
    assert book_at(path).facts[-1].kind is FactKind.MATERIAL


def a_whole_file(folder: Path) -> Path:
    gates = (a_gate("yes", GateKind.ANSWER), a_gate("load", GateKind.LOADING), a_journey("go"))
    job = a_job("fox", steps=(a_stage("first", after=()), a_stage("second", after=()), *gates))
    return a_file(folder, replace(told_book(), jobs=(job,)))


REFUSED = [
    (("done", "nobody"), "No step is called “nobody”"),
    (("done",), "Say which step is done"),
    (("done", "first", "--as-told", "2026-01-06"), "Say which step is done"),
    (("done", "first", "--at", "2026-01-06T16:15"), "is yet to come"),
    (("done", "--as-told", "2026-01-07"), "is yet to come"),
    (("done", "--as-told", "yesterday"), "is no day"),
    (("done", "yes"), "countback answer"),
    (("late", "first", "0"), "countback done when nothing is left"),
    (("late", "first", "soon"), "is no number of hours"),
    (("late", "load", "2"), "is no work that takes hours"),
    (("late", "first", "2", "--because", "flu"), "is no cause"),
    (("held", "first"), "--because CAUSE is missing"),
    (("held", "first", "--because", "flu"), "is no cause"),
    (("came", "nothing"), "No step is called"),
]


@pytest.mark.parametrize(("words", "part"), REFUSED, ids=lambda each: " ".join(each)[:30])
def test_a_mistake_is_said_with_its_cure(words: tuple[str, ...], part: str, tmp_path: Path) -> None:
    path = a_whole_file(tmp_path)
    before = path.read_bytes()
    verb, *more = words
    said = countback(verb, path, *more, *EVENING)
    assert (said.code, said.out) == (2, "")
    assert part in said.err
    assert path.read_bytes() == before


def test_what_is_done_already_and_what_began_later_are_said_with_their_moment(path: Path) -> None:
    assert countback("done", path, "first", *EVENING).code == 0

    def refused(*words: str) -> str:
        said: Said = countback(words[0], path, *words[1:], *EVENING)
        assert said.code == 2
        return said.err

    assert "marked done Tue 6 Jan 2026 14:30, as Mara told" in refused("done", "first")
    assert countback("late", path, "second", "3", *EVENING).code == 0
    assert "began Tue 6 Jan 2026 07:30" in refused("done", "second", "--at", "2026-01-06T07:00")
    assert "countback late" in refused("held", "second", "--because", "place")

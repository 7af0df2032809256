from dataclasses import replace
from pathlib import Path

from shared.files.write import write_plan
from shared.plan import MadeFrom
from tests.app.cli.shell import a_file, countback
from tests.builders import NOW, a_book, a_plan

FIELDS = {"sound", "breaches", "not_judged"}


def test_a_broken_plan_is_named_rule_by_rule(tmp_path: Path) -> None:
    book = a_book()
    path = tmp_path / "plan.json"
    path.write_bytes(write_plan(replace(a_plan(book), placements=(), trips=())))
    said = countback("check", a_file(tmp_path, book), path, "--json")

    assert said.code == 4
    assert set(said.last) == FIELDS
    assert said.last["sound"] is False
    assert {breach["rule"] for breach in said.last["breaches"]} >= {"missing_step"}
    assert all(set(breach) == {"rule", "where", "text"} for breach in said.last["breaches"])
    assert "Heron: Heron-carve is in the book" in said.out


def test_a_plan_from_another_revision_says_so_first(tmp_path: Path) -> None:
    book = a_book(revision=9)
    plan = replace(a_plan(book), made_from=MadeFrom(revision=8, digest="0" * 64))
    path = tmp_path / "plan.json"
    path.write_bytes(write_plan(plan))
    said = countback("check", a_file(tmp_path, book), path)

    assert said.out.splitlines()[0] == (
        "The plan was made from revision 8; it is held against revision 9."
    )


def test_the_same_revision_of_another_book_says_so_first(tmp_path: Path) -> None:
    book = a_book(revision=9)
    plan = replace(a_plan(book), made_from=MadeFrom(revision=9, digest="0" * 64))
    path = tmp_path / "plan.json"
    path.write_bytes(write_plan(plan))
    said = countback("check", a_file(tmp_path, book), path)

    assert said.out.startswith("The plan was made from the same revision of a book that reads")


def test_a_book_or_a_plan_that_stops_is_refused(tmp_path: Path) -> None:
    book = a_file(tmp_path, a_book())
    plan = tmp_path / "plan.json"
    plan.write_bytes(write_plan(a_plan(a_book())))

    for arguments in ((book, book), (plan, plan)):
        said = countback("check", *arguments, "--json")
        assert said.code == 2
        assert said.last["sound"] is None
        assert [each["code"] for each in said.last["findings"]] == ["wrong_kind"]
    assert countback("check", book, tmp_path / "nowhere").code == 2


def test_a_now_that_is_typed_is_the_one_judged_by(tmp_path: Path) -> None:
    book = a_book()
    path = tmp_path / "plan.json"
    path.write_bytes(write_plan(replace(a_plan(book), now=NOW)))
    later = countback("check", a_file(tmp_path, book), path, "--now", "2026-01-07T08:00", "--json")

    assert "before_now" in {breach["rule"] for breach in later.last["breaches"]}

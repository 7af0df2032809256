"""`countback estimate`: what it says, what it gives programs, and what it refuses all at once."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from shared.book import Book, OwnFigure, Stage
from shared.edits import change_step, take_route
from shared.routes import program_route
from shared.trade import figure
from tests.app.cli.shell import a_file, countback
from tests.builders import a_book, a_job, a_segment, a_workshop

SIZE = ("--size", "2x1.5x1")


def a_made_book(**of_workshop: Any) -> Book:
    pieces = (a_segment("torso"), a_segment("tail"))
    book = a_book(a_job(segments=pieces, steps=()), workshop=a_workshop(**of_workshop))
    way = program_route("hollow")
    assert way is not None
    return take_route(book, book.jobs[0].id, [piece.id for piece in pieces], way).book


def told(*words: str | Path) -> dict[str, Any]:
    said = countback("estimate", *words, "--json")
    assert said.code == 0, said.err
    made: dict[str, Any] = said.last
    return made


def line_of(made: dict[str, Any], stage: str) -> dict[str, Any]:
    found: dict[str, Any] = next(each for each in made["lines"] if each["stage"] == stage)
    return found


def test_a_size_alone_gives_hours_and_material_with_their_sums() -> None:
    said = countback("estimate", *SIZE)

    assert said.code == 0
    assert said.out.startswith("1 piece of 2 × 1.5 × 1 m: ")
    # Skin: 0.7 of the surface of the box, 13 m2.
    assert "carve: 36.5 h (18.25 to 91): 9.1 m² × 4 h; QL03b, CP134" in said.out
    assert "EPS blocks: 3 m³ (3 to 3.3); 3.9 m³ with 30 % wasted, 3 blocks of 1.813 m³ each" in (
        said.out
    )
    assert "QL03b: carving (default), 0.25 (0.1 to 0.5) m2/person-hour. no source." in said.out
    assert "common practice" in said.out


def test_programs_get_every_number_with_its_figures_and_their_sources() -> None:
    made = told(*SIZE, "--pieces", "2")
    carve = line_of(made, "carve")

    assert carve["hours"] == {"low": 18.5, "likely": 36.5, "high": 91.0}
    assert carve["formula"]["code"] == "grows"
    assert carve["formula"]["rate"] == "1/QL03b"
    assert carve["figures"] == ["QL03b", "CP134"]
    assert (carve["confidence"], carve["own"]) == ("P", False)
    assert len(carve["steps"]) == 2
    for name, told_figure in made["figures"].items():
        known = figure(name)
        assert told_figure["source"] == known.source
        assert told_figure["confidence"] == known.confidence.value
    quantities = {each["material"]: each for each in made["quantities"]}
    assert quantities["foam"]["net"]["likely"] == 3
    assert quantities["foam"]["with_waste"]["likely"] == 3.9
    assert quantities["resin"]["takes"][0]["figures"] == ["PL21", "PL15", "PL10"]
    assert made["mass_kg"]["foam"]["likely"] == 45
    named = {f for each in made["lines"] for f in each["figures"]}
    assert named <= set(made["figures"])


def test_feet_and_inches_are_shown_back_in_metres() -> None:
    said = countback("estimate", "--size", "6ft 6in x 5ft x 3ft 4in")

    assert said.out.startswith("1 piece of 1.981 × 1.524 × 1.016 m: ")


def test_a_surface_that_was_measured_goes_before_the_share() -> None:
    said = countback("estimate", *SIZE, "--surface", "12.5")

    assert "carve: 50 h (25 to 125): 12.5 m² × 4 h; QL03b" in said.out
    assert "CP134" not in said.out


def test_classes_and_options_count() -> None:
    usual = told(*SIZE)
    fine = told(*SIZE, "--detail", "very fine", "--finish", "plain", "--option", "walked-on")

    ratio = line_of(fine, "carve")["hours"]["likely"] / line_of(usual, "carve")["hours"]["likely"]
    assert ratio == pytest.approx(float(figure("CP504").amount), rel=0.01)
    assert line_of(fine, "fair")["hours"]["likely"] < line_of(usual, "fair")["hours"]["likely"]
    assert line_of(fine, "second-laminate")


def test_a_job_of_a_book_is_told_as_it_stands(tmp_path: Path) -> None:
    book = a_made_book()
    carve = next(step for step in book.jobs[0].steps if step.id == "torso.carve")
    assert isinstance(carve, Stage)
    mine = replace(carve.ways[0].hours, low=Decimal(1), likely=Decimal(2), high=Decimal(3))
    ways = (replace(carve.ways[0], hours=mine), *carve.ways[1:])
    path = a_file(tmp_path, change_step(book, replace(carve, ways=ways)).book)
    said = countback("estimate", path, "heron")
    made = told(path, "heron")

    assert "carve: 2 h (1 to 3), your own: as the book has it" in said.out
    assert [each["own"] for each in made["lines"] if each["stage"] == "carve"] == [True, False]


def test_a_job_without_steps_is_estimated_by_a_way_of_making(tmp_path: Path) -> None:
    bare = a_book(a_job(segments=(a_segment("torso"),), steps=()))
    made = told(a_file(tmp_path, bare), "heron", "--route", "hard-coat")

    assert line_of(made, "hard-coat")


def test_figures_of_the_books_own_are_taken_and_said_to_be(tmp_path: Path) -> None:
    own = OwnFigure(figure="QL03b", value=Decimal("0.5"), note="two years of carving")
    path = a_file(tmp_path, a_made_book(figures=(own,)))
    said = countback("estimate", path, *SIZE)

    assert "carve: 18.25 h (9.25 to 45.5): 9.1 m² × 2 h; QL03b, CP134" not in said.out
    assert "9.1 m² × 2 h" in said.out
    assert "the workshop’s own: two years of carving." in said.out
    assert told(path, *SIZE)["figures"]["QL03b"]["confidence"] == "own"


def test_like_a_past_job_so_much_larger(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_made_book())
    before, after = told(path, "heron"), told(path, "--like", "heron", "--times", "2")
    said = countback("estimate", path, "--like", "heron", "--times", "2")

    assert line_of(after, "carve")["hours"]["likely"] == (
        4 * line_of(before, "carve")["hours"]["likely"]
    )
    assert line_of(after, "carve")["formula"]["code"] == "like"
    assert " × 2 squared, as written there" in said.out
    assert "survey: 8 h (4 to 16): 8 h, as written there; it does not grow" in said.out


def test_like_a_past_job_and_of_another_size(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_made_book())
    like = told(path, "--like", "heron", "--times", "2")
    made = told(path, "--like", "heron", "--times", "2", *SIZE, "--pieces", "2")

    wanted = line_of(like, "carve")["hours"]["likely"]
    assert line_of(made, "carve")["hours"]["likely"] == pytest.approx(wanted, abs=1)
    assert made["left"] == []


def test_all_that_is_wrong_is_told_at_once_with_place_and_cure() -> None:
    said = countback(
        *("estimate", "--size", "2x1.5x1k", "--surface", "-3", "--pieces", "0", "--detail", "fin"),
        *("--finish", "gloss", "--times", "x", "--route", "hollo", "--like", "heron", "--json"),
    )
    found = said.last["findings"]

    assert said.code == 2
    assert said.last["hours"] is None
    assert [each["path"] for each in found] == [
        *("--size", "--surface", "--pieces", "--detail", "--finish", "--times", "--route"),
        "--like",
    ]
    assert all(each["text"] and each["cure"] and each["stops"] for each in found)
    assert found[0]["text"] == "“k” in “2x1.5x1k”, at character 8, is no unit."
    assert "8 findings: 8 stop." in said.out


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("--size", ""), "empty_size"),
        (("--size", "2x3"), "wrong_count"),
        (("--size", "0x1x1"), "no_size"),
        (("--size", "200x1x1"), "too_long"),
        ((*SIZE, "--surface", "many"), "bad_area"),
        ((*SIZE, "--surface", "NaN"), "bad_area"),
        ((*SIZE, "--pieces", "49"), "bad_count"),
        ((*SIZE, "--pieces", "1.5"), "bad_count"),
        ((*SIZE, "--option", "walked"), "unknown_route_option"),
        ((*SIZE, "--times", "2"), "times_without_like"),
        ((*SIZE, "--like", "heron"), "like_without_book"),
    ],
)
def test_what_can_not_be_taken_has_its_code(words: tuple[str, ...], code: str) -> None:
    said = countback("estimate", *words, "--json")

    assert said.code == 2
    assert code in [each["code"] for each in said.last["findings"]]


def test_like_wants_its_times_and_a_job_that_is_there(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_made_book())
    said = countback("estimate", path, "--like", "goose", "--json")

    assert [each["code"] for each in said.last["findings"]] == ["unknown_job", "like_without_times"]


def test_nothing_at_all_is_no_question(tmp_path: Path) -> None:
    assert countback("estimate").code == 2
    assert "--size" in countback("estimate", a_file(tmp_path, a_book())).err


def test_a_book_that_stops_is_refused(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book(a_job(windows=())))

    assert countback("estimate", path, "heron").code == 2

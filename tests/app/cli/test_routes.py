"""`countback routes` and `countback make`: what there is, what is in it, and writing it down."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from shared.book import Book, Gate, GateKind, Journey, Stage
from shared.files.disk import load
from shared.files.lock import Lock, lock_path, take
from shared.files.read import read_book
from shared.routes import PROGRAM_ROUTES
from tests.app.cli.shell import a_file, countback
from tests.books.commissions import two_days
from tests.books.shops import commissioned, piece, shop
from tests.builders import NOW


def read(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


@pytest.fixture
def path(tmp_path: Path) -> Path:
    book = shop("Hall Seven", 5, "1")
    pieces = (
        piece("snail", "Shell", ("2", "1", "1"), "6", "3"),
        piece("snail", "Foot", ("2", "1", "0.5"), "4", "3"),
        piece("snail", "Stone", ("1", "0.5", "0.5"), "1.5"),
    )
    held = two_days(date(2027, 5, 4))
    return a_file(
        tmp_path, commissioned(book, "snail", "Garden snail", "Mill market", held, pieces)
    )


def test_the_programs_ways_are_listed_without_a_book() -> None:
    said = countback("routes", "--json")
    assert said.code == 0
    assert [route["id"] for route in said.last["routes"]] == list(PROGRAM_ROUTES)
    assert not any(route["own"] for route in said.last["routes"])
    assert "hollow: carved and skinned, foam taken out (the program’s)" in said.out
    assert "walked-on" in said.out


def test_one_way_is_told_with_hours_waits_and_figures() -> None:
    said = countback("routes", "--of", "hollow", "--json")
    out = " ".join(said.out.split())
    assert "carve: 4 h a m²; from QL03b" in out
    assert "second laminate (with walked-on): 0.5 h and 0.45 h a m², then 48 h at 20 °C" in out
    assert "QL03b: carving (default), 0.25 (0.1 to 0.5) m2/person-hour." in out
    assert "PT01a: PU over PU recoat window, hottest surface 16-21 degC, 8 to 48 h." in out
    numbers = said.last["routes"][0]["numbers"]
    assert {
        "step": "carve",
        "field": "ways.0.hours.likely",
        "number": "4",
        "figures": "1/QL03b",
    } in (numbers)


def test_a_way_is_copied_into_the_book_and_from_then_on_is_its_own(path: Path) -> None:
    said = countback("routes", path, "--copy", "cast")
    assert (said.code, said.err) == (0, "")
    assert [route.id for route in read(path).routes] == ["cast"]
    listed = countback("routes", path, "--json").last["routes"]
    assert [(route["id"], route["own"]) for route in listed][:2] == [
        ("cast", True),
        ("hollow", False),
    ]
    assert countback("undo", path).code == 0
    assert read(path).routes == ()


def test_a_way_is_written_into_a_job_and_taken_back(path: Path) -> None:
    before = path.read_bytes()
    said = countback(
        *("make", path, "snail", "Shell", "snail.foot", "--option", "walked-on"),
        *("--crew", "dilys", "--in", "laminate=bay-3,bay-4"),
    )
    assert (said.code, said.err) == (0, "")
    assert "“carved and skinned, foam taken out” are written for Shell and Foot" in " ".join(
        said.out.split()
    )
    job = read(path).jobs[0]
    assert [segment.route for segment in job.segments] == ["hollow", "hollow", None]
    skin = next(step for step in job.steps if step.id == "snail.foot.second-laminate")
    assert isinstance(skin, Stage)
    assert skin.ways[0].places == ("bay-3", "bay-4")
    journey = job.steps[-1]
    assert isinstance(journey, Journey)
    assert journey.crew == ("dilys",)
    assert not lock_path(path).exists()
    assert countback("undo", path).code == 0
    assert replace(read(path), revision=1) == replace(_read(before), revision=1)


def _read(data: bytes) -> Book:
    book = read_book(data).book
    assert book is not None
    return book


def test_a_second_way_goes_with_the_first_ones_loading(path: Path) -> None:
    assert countback("make", path, "snail", "Shell", "Foot").code == 0
    assert countback("make", path, "Garden snail", "Stone", "--route", "foam-kept").code == 0
    job = read(path).jobs[0]
    gates = [s for s in job.steps if isinstance(s, Gate) and s.gate is GateKind.LOADING]
    assert [len(gate.segments) for gate in gates] == [3]
    planned = countback("plan", path, "--seconds", "1", "--json")
    assert planned.code == 0
    assert planned.last["checked"] is True
    assert [each["verdict"] for each in planned.last["jobs"]] == ["fits"]


def test_sizes_that_are_taken_from_the_box_are_told(tmp_path: Path) -> None:
    bare = replace(piece("snail", "Shell", ("2", "1", "1"), "6"), surface_m2=None)
    held = two_days(date(2027, 5, 4))
    book = shop("Hall Seven", 5, "1")
    book = commissioned(book, "snail", "Garden snail", "Mill market", held, (bare,))
    said = countback("make", a_file(tmp_path, book), "snail", "all", "--route", "repair")
    assert said.code == 0
    assert "surface_m2, which isn’t written down; 7.0 is taken" in " ".join(said.out.split())


def test_words_that_stand_for_nothing_are_told(path: Path) -> None:
    said = countback("make", path, "snail", "Stone", "--as", "hoist=crane", "--as", "spray=gun")
    assert said.code == 0
    assert "nothing that is called hoist and spray" in " ".join(said.out.split())


REFUSED = [
    (("make", "JOB", "Shell"), "No job, or more than one, is called “JOB”; there are snail."),
    (
        ("make", "snail", "Horn"),
        "Garden snail has no segment “Horn”; there are snail.shell, snail.foot, snail.stone, or "
        "all.",
    ),
    (
        ("make", "snail", "Shell", "--route", "woven"),
        "No way of making is called “woven”; there are hollow, foam-kept, cast, hard-coat, repair.",
    ),
    (
        ("make", "snail", "Shell", "--route", "repair", "--option", "walked-on"),
        "“walked-on” is no option of repair; there are broken, airbrush, spatter, grip, texture, "
        "sealant, colour-board, self-coloured.",
    ),
    (
        ("make", "snail", "Shell", "--in", "laminate=attic"),
        "There is no place “attic”; there are bay-1, bay-2, bay-3, bay-4, booth, floor.",
    ),
    (
        ("make", "snail", "Shell", "--in", "baking=bay-1"),
        "“baking” is no kind of work; there are foam, laminate, coat, fill, paint, lacquer, pack.",
    ),
    (
        ("make", "snail", "Shell", "--crew", "nobody"),
        "There is nobody “nobody”; there are asta, cato, dilys, edda, femi.",
    ),
    (("make", "snail", "Shell", "--as", "hoist"), "“hoist” is no WORD=ID, which --as wants."),
    (("routes", "--copy", "woven"), "No way of making is called “woven”; there are hollow, "),
]


@pytest.mark.parametrize(("typed", "sentence"), REFUSED)
def test_what_can_t_be_meant_is_refused_and_nothing_is_written(
    path: Path, typed: tuple[str, ...], sentence: str
) -> None:
    before = path.read_bytes()
    said = countback(typed[0], path, *typed[1:])
    assert (said.code, said.out) == (2, "")
    assert said.err.startswith(sentence)
    assert path.read_bytes() == before


def test_a_copy_wants_a_book_and_a_book_that_is_there(tmp_path: Path) -> None:
    assert "countback routes BOOK --copy" in countback("routes", "--copy", "cast").err
    assert countback("routes", tmp_path / "none", "--copy", "cast").code == 2
    assert countback("make", tmp_path / "none", "snail", "all").code == 2
    assert not list(tmp_path.iterdir())


def test_a_segment_is_not_made_twice(path: Path) -> None:
    assert countback("make", path, "snail", "Shell").code == 0
    said = countback("make", path, "snail", "Shell", "--route", "repair")
    assert (said.code, said.out) == (2, "")
    assert said.err == "Shell has its steps already; take them out first.\n"


@pytest.mark.parametrize(
    "typed", [("make", "snail", "all"), ("routes", "--copy", "cast"), ("routes",)]
)
def test_a_book_with_findings_that_stop_is_left_as_it_is(
    path: Path, typed: tuple[str, ...]
) -> None:
    book = read(path)
    broken = a_file(path.parent, replace(book, jobs=(replace(book.jobs[0], windows=()),)))
    before = broken.read_bytes()
    said = countback(typed[0], broken, *typed[1:])
    assert said.code == 2
    assert "Nothing is written before that is mended." in said.out
    assert broken.read_bytes() == before


def test_a_book_that_somebody_has_is_left_as_it_is(path: Path) -> None:
    lock = take(path, "anna", NOW)
    assert isinstance(lock, Lock)
    with lock:
        assert "anna" in countback("make", path, "snail", "all").err
        assert "anna" in countback("routes", path, "--copy", "cast").err
    assert read(path).jobs[0].steps == ()

"""`countback legs`: what is ready-made, what of a job is to be filled in, written and undone."""

from pathlib import Path

import pytest

from shared.book import Book, Journey, LegKind
from shared.files.disk import load
from shared.files.read import read_book
from shared.journeys import PROGRAM_LEGS
from tests.app.cli.shell import a_file, countback
from tests.builders import a_book, a_gate, a_job, a_journey, a_segment, a_stage


def read(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


def journeys(path: Path) -> list[Journey]:
    return [step for step in read(path).jobs[0].steps if isinstance(step, Journey)]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    steps = (
        a_stage("carve", segments=("heron-torso",)),
        a_gate("heron-loading"),
        a_journey("heron-ship"),
    )
    pieces = (a_segment("heron-torso"), a_segment("heron-neck"))
    return a_file(tmp_path, a_book(a_job(steps=steps, segments=pieces)))


def test_all_are_listed_with_their_legs_and_figures() -> None:
    said = countback("legs", "--json")
    assert said.code == 0
    assert [legs["id"] for legs in said.last["legs"]] == list(PROGRAM_LEGS)
    out = " ".join(said.out.split())
    assert "crossing: a lorry over the sea by night" in out
    assert "To the port, export cleared, overnight sailing, import cleared" in out
    assert "unloading 60 min (CP159, common practice, no source)" in out


def test_a_job_is_told_with_what_is_to_be_filled_in(path: Path) -> None:
    before = path.read_bytes()
    said = countback("legs", path, "heron", "--json")
    assert (said.code, said.last["journeys"][0]["id"]) == (0, "heron-ship")
    blanks = said.last["journeys"][0]["to_fill_in"]
    assert [(blank["what"], blank["leg"]) for blank in blanks] == [
        ("vehicle", None),
        ("crew", None),
    ]
    assert "the vehicle it goes in" in said.out
    assert path.read_bytes() == before


def test_legs_are_written_into_a_job_and_taken_back_by_one_undo(path: Path) -> None:
    before = read(path)
    said = countback("legs", path, "Heron", "--as", "crossing", "--json")
    assert (said.code, said.err) == (0, "")
    kinds = [leg.kind for leg in journeys(path)[0].legs]
    assert kinds[:3] == [LegKind.DRIVE, LegKind.BORDER, LegKind.SAILING]
    out = " ".join(said.out.split())
    assert "are written into its journey" in out
    assert "Heron-ship, leg 3 (overnight sailing): when it leaves and arrives" in out
    stops = [found["code"] for found in said.last["findings"] if found["stops"]]
    assert "sailing_without_departures" in stops
    assert countback("undo", path).code == 0
    assert read(path).jobs == before.jobs


def test_legs_that_are_still_to_be_filled_in_may_give_way_to_others(path: Path) -> None:
    assert countback("legs", path, "heron", "--as", "crossing").code == 0
    assert countback("findings", path).code == 2
    assert countback("legs", path, "heron", "--as", "local-van").code == 0
    assert LegKind.SAILING not in [leg.kind for leg in journeys(path)[0].legs]


def test_several_trips_are_named_with_their_pieces(path: Path) -> None:
    said = countback("legs", path, "heron", "--as", "trips")
    assert said.code == 0
    out = " ".join(said.out.split())
    assert "into its two journeys" in out
    assert "first trip (Heron-torso): " in out
    assert "last trip (Heron-neck): " in out


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--as", "crossing"), "countback legs BOOK JOB --as NAME"),
        (("BOOK", "--as", "crossing"), "countback legs BOOK JOB --as NAME"),
        (("BOOK", "egret", "--as", "crossing"), "there are heron"),
        (("BOOK", "heron", "--as", "balloon"), "there are local-van, domestic-lorry, crossing"),
    ],
)
def test_what_cannot_be_meant_is_refused(path: Path, typed: tuple[str, ...], told: str) -> None:
    before = path.read_bytes()
    said = countback("legs", *(path if word == "BOOK" else word for word in typed))
    assert said.code == 2
    assert told in said.err
    assert path.read_bytes() == before


def test_one_piece_is_not_shared_out(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    said = countback("legs", path, "heron", "--as", "trips")
    assert said.code == 2
    assert "too few pieces to share out; 2 at least" in said.err

"""`countback loads`: the list, what is taken, and what is written."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from app.words import Words
from app.words import loads as say
from scheduler.load_effects import Effect
from scheduler.loads import Load, Proposal
from shared.book import Book, Kind, PlaceKind, Stage, Standing
from shared.files.disk import load as bytes_of
from shared.files.lock import Lock, take
from shared.files.read import read_book
from shared.ids import JobId, PlaceId, SegmentId, StepId
from tests.app.cli.shell import a_file, countback
from tests.builders import NOW, a_book, a_floor, a_gate, a_job, a_place, a_segment, a_stage, a_way

STEPS = ("fin-coat", "tail-coat")


def a_coat(piece: str, word: str = "coat") -> Stage:
    way = a_way("gun", hours=3, skill="paint", places=("booth",), setup_hours=Decimal(1))
    usual = a_stage(f"{piece}-{word}", Kind.PAINT, segments=(piece,), ways=(way,), in_one_go=True)
    return replace(usual, name=word)


def a_coated_book() -> Book:
    """Give two pieces with a coat and a gloss, and two with a coat."""
    steps = [a_coat(piece, word) for piece in ("fin", "tail") for word in ("coat", "gloss")]
    steps += [a_coat(piece) for piece in ("crest", "claw")]
    segments = tuple(a_segment(piece) for piece in ("fin", "tail", "crest", "claw"))
    places = (a_place("booth", PlaceKind.BOOTH), a_floor())
    places = (replace(places[0], slots=None), places[1])
    return a_book(a_job(segments=segments, steps=(*steps, a_gate())), places=places)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_coated_book())


def read(path: Path) -> Book:
    book = read_book(bytes_of(path)).book
    assert book is not None
    return book


def test_loads_are_numbered_with_what_each_saves(path: Path) -> None:
    before = path.read_bytes()
    said = countback("loads", path, "--json")

    assert said.code == 0
    assert said.err == ""
    lines = said.out.splitlines()
    assert lines[0] == "Pieces could be sprayed at once in two ways."
    assert lines[2] == "1.  Heron: Fin and Tail at once in Booth: coat and gloss."
    assert lines[3].startswith("    Booth is taken 3 h less: 2 h of work, 1 h of clearing.")
    assert "2.  Heron: Crest and Claw at once in Booth: coat." in lines
    first, second = said.last["loads"]
    assert (first["number"], first["job"], first["segments"]) == (1, "heron", ["fin", "tail"])
    coat, gloss = first["loads"]
    assert (coat["name"], coat["steps"], coat["place"]) == ("coat", list(STEPS), "booth")
    assert (coat["work_minutes"], gloss["clearance_minutes"]) == (60, 30)
    assert first["booth_minutes"] == 180
    assert {"floor_minutes", "earlier_minutes", "missed_count", "placed_count"} <= set(second)
    assert path.read_bytes() == before


def test_taking_writes_the_book_and_one_undo_takes_it_back(path: Path) -> None:
    before = read(path)
    said = countback("loads", path, "--take", "2", "--take", "1", "--json")
    after = read(path)

    assert said.code == 0
    assert said.out.startswith("Taken. Heron: Fin and Tail at once in Booth: coat and gloss.\n")
    names = [step.id for step in after.jobs[0].steps]
    assert names == ["fin-coat", "fin-gloss", "crest-coat", "loading"]
    assert after.revision == before.revision + 2
    assert said.last["taken"] == [1, 2]
    assert said.last["revision"] == after.revision

    assert countback("undo", path).code == 0
    assert read(path).jobs == before.jobs


def test_all_can_be_taken_and_then_there_is_nothing_more(path: Path) -> None:
    assert countback("loads", path, "--take", "all").code == 0
    assert len(read(path).jobs[0].steps) == 4

    said = countback("loads", path)
    assert (said.code, said.out) == (0, "No pieces could be sprayed at once.\n")
    refused = countback("loads", path, "--take", "1")
    assert (refused.code, refused.out) == (2, "")
    assert refused.err == "There is nothing to take: no pieces could be sprayed at once.\n"


@pytest.mark.parametrize("word", ["0", "3", "-1", "both", "٢"])
def test_what_is_no_load_is_not_taken(path: Path, word: str) -> None:
    before = path.read_bytes()
    said = countback("loads", path, f"--take={word}")

    assert said.code == 2
    assert said.err == f"“{word}” is none of them; there are 1 to 2, or all.\n"
    assert path.read_bytes() == before


def test_the_number_of_pieces_can_be_bounded(path: Path) -> None:
    assert countback("loads", path, "--pieces", "1").out == "No pieces could be sprayed at once.\n"
    assert countback("loads", path, "--pieces", "0").code == 2


def test_a_book_that_somebody_has_is_not_written(path: Path) -> None:
    held = take(path, "ana", NOW)
    assert isinstance(held, Lock)
    before = path.read_bytes()
    with held:
        assert countback("loads", path).code == 0
        assert countback("loads", path, "--take", "1").code == 2
    assert path.read_bytes() == before


def test_what_can_t_be_planned_has_no_loads(tmp_path: Path) -> None:
    book = a_coated_book()
    (job,) = book.jobs
    broken = replace(book, jobs=(replace(job, steps=(*job.steps, a_gate())),))
    said = countback("loads", a_file(tmp_path, broken), "--json")

    assert said.code == 2
    assert said.last["loads"] == []
    assert said.last["findings"]
    assert countback("loads", tmp_path / "none", "--take", "1").code == 2


def test_enquiries_are_in_no_load(tmp_path: Path) -> None:
    book = a_coated_book()
    asked = replace(book, jobs=(replace(book.jobs[0], standing=Standing.ENQUIRY),))

    assert countback("loads", a_file(tmp_path, asked)).out.startswith("No pieces")


# Sentences.

COAT = Load(
    name="coat",
    steps=(StepId("fin-coat"), StepId("tail-coat")),
    place=PlaceId("booth"),
    work_minutes=60,
    clearance_minutes=45,
    cure_minutes=720,
)
PROPOSAL = Proposal(
    job=JobId("heron"), segments=(SegmentId("fin"), SegmentId("tail")), loads=(COAT,)
)


def an_effect(**changes: int) -> Effect:
    usual = Effect(floor_minutes=0)
    return replace(usual, **changes)


def test_a_cure_in_the_booth_is_told() -> None:
    words = Words("en", book=a_coated_book())

    assert say.booth_line(words, PROPOSAL) == (
        "Booth is taken 13¾ h less: 1 h of work, 45 min of clearing, 12 h of cure."
    )


@pytest.mark.parametrize(
    ("effect", "told"),
    [
        (None, ["How long pieces stand is not known: some of the work finds no place."]),
        (an_effect(), ["All pieces together stand as long as without."]),
        (an_effect(floor_minutes=4320), ["All pieces together stand 3 days less."]),
        (an_effect(floor_minutes=-1441), ["All pieces together stand 24¼ h longer."]),
        (
            an_effect(earlier_minutes=150),
            ["All pieces together stand as long as without.", "Heron is loaded 2½ h sooner."],
        ),
        (
            an_effect(earlier_minutes=-2881),
            ["All pieces together stand as long as without.", "Heron is loaded 2¼ days later."],
        ),
        (
            an_effect(missed_count=1, placed_count=2),
            [
                "All pieces together stand as long as without.",
                "One window more is kept.",
                "More of the work finds a place.",
            ],
        ),
        (
            an_effect(missed_count=-2, placed_count=-1),
            [
                "All pieces together stand as long as without.",
                "Two windows more are missed.",
                "Some of the work no longer finds a place.",
            ],
        ),
    ],
)
def test_what_changes_in_the_plan_is_told(effect: Effect | None, told: list[str]) -> None:
    assert say.effect_lines(Words("en"), effect, "Heron") == told

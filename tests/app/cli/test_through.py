"""`countback through` and `countback split`: what is said, what programs get, how they end."""

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.words import Words
from app.words import passing as say
from shared.book import Body, Book, LegKind
from shared.passing.boxes import mm
from tests.app.cli.shell import a_file, countback
from tests.shared.passing.pieces import a_vehicle, an_opening, on_its_way, passing_of, sized

SHIPPED = (LegKind.DRIVE, LegKind.SAILING, LegKind.ASSEMBLE)


def told(book: Book) -> str:
    """Give the sentence of what decides."""
    deciding = passing_of(book).deciding
    assert deciding is not None
    return say.judged_line(Words("en"), deciding)


def by(*sizes: Any, **way: Any) -> Book:
    piece = {"turns": way.pop("turns")} if "turns" in way else {}
    return on_its_way(sized(*sizes, **piece), **way)


def door(*sizes: Any, **more: Any) -> dict[str, Any]:
    return {"out": (an_opening("roller door", *sizes, **more),), "legs": ()}


@pytest.mark.parametrize(
    ("book", "said"),
    [
        (
            by(2, 1, 1, **door(2, "2.5")),
            "Roller door is passed as it is made, length ahead, with 900 mm to spare in its width.",
        ),
        (
            by(2, "1.5", 1, **door("1.2", "2.4")),
            "Roller door is passed only on its side, length ahead, with 100 mm to spare in its "
            "width.",
        ),
        (
            by(2, 1, 1, **door("1.4", "2.3", 2)),
            "Roller door: measure it, on its end, width ahead there are only 50 mm to spare in its "
            "height.",
        ),
        (
            by(2, 1, 1, **door(1, 1)),
            "Roller door is not passed: whichever way round, the piece is 250 mm too high or more.",
        ),
        (
            by(2, 1, 1, **door(3, 3, measured=False)),
            "Roller door: measure it, nobody has; as it is written, as it is made, 1750 mm to "
            "spare in its height.",
        ),
        (
            by(2, 1, 1, vehicles=(a_vehicle(),)),
            "Inside Van: measure it, nobody has; by the usual sizes (TR14a, TR14b, TR14c, common "
            "practice), as it is made, 900 mm to spare in its width.",
        ),
        (
            by(2, 1, 1),
            "Inside the haulier’s lorry: measure it, nobody has; by the usual sizes (TR13a, TR13b, "
            "TR13c, common practice), as it is made, 1350 mm to spare in its width.",
        ),
        (
            by(2, 1, 1, vehicles=(a_vehicle(inside_height_m=Decimal(2)),)),
            "Inside Van: measure the rest of it; by what is known, as it is made, 750 mm to spare "
            "in its height.",
        ),
        (
            by("2.0", 1, 1, vehicles=(a_vehicle("box", body=Body.CONTAINER_20),)),
            "The door of Box is passed as it is made, length ahead, with 1030 mm to spare in its "
            "height.",
        ),
        (
            by(8, "2.9", 2, turns=("upright",), vehicles=(a_vehicle("bed", body=Body.OPEN),)),
            "The road in Great Britain, on an open bed is passed as it is made with notice: "
            "100 mm above 2.9 m. Tell the police 2 clear working days ahead.",
        ),
        (
            by(8, 5, 2, turns=("upright",), vehicles=(a_vehicle("bed", body=Body.OPEN),)),
            "The road in Great Britain, on an open bed is passed as it is made with notice: "
            "100 mm above 5 m. It wants form VR1 and 2 clear working days of notice.",
        ),
        (
            by(8, "6.2", 2, turns=("upright",), vehicles=(a_vehicle("bed", body=Body.OPEN),)),
            "The road in Great Britain, on an open bed is passed as it is made with notice: "
            "200 mm above 6.1 m. It wants a special order, applied for 10 weeks ahead, and 5 clear "
            "working days of notice.",
        ),
        (
            by(
                *(8, "2.5", 2),
                turns=("upright",),
                vehicles=(a_vehicle("bed", body=Body.OPEN),),
                country="NL",
                legs=SHIPPED,
            ),
            "The ferry sailing, on an open bed is passed as it is made with notice: 100 mm above "
            "2.5 m. Ask the line 2 working days ahead or more.",
        ),
        (
            by(
                *(8, "2.6", 2),
                turns=("upright",),
                vehicles=(a_vehicle("bed", body=Body.OPEN),),
                country="NL",
            ),
            "The road by the limits of the European Union, on an open bed is passed as it is made "
            "with notice: 150 mm above 2.55 m. It wants a permit of the road authority.",
        ),
        (
            by(5, 2, "3.95", turns=("upright",), vehicles=(a_vehicle("bed", body=Body.OPEN),)),
            "The road in Great Britain, on an open bed is passed as it is made with notice: "
            "150 mm above 4.05 m. Have the height of the route looked at.",
        ),
    ],
)
def test_each_answer_has_its_sentence(book: Book, said: str) -> None:
    assert told(book) == said


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give a job of three pieces, one too big for the door, driven by a measured van."""
    pieces = (
        sized(2, 1, 1, segment="head", joints_m=Decimal(3)),
        sized(2, "1.5", 1, segment="body", joints_m=Decimal(3)),
        sized(6, "1.5", "1.5", segment="tail", joints_m=None),
    )
    book = on_its_way(
        *pieces,
        out=(an_opening("lift", 2, "2.4", "2.2"),),
        vehicles=(a_vehicle("van", 11, 2, "2.2", payload_kg=Decimal(900)),),
        into=(an_opening("hall", 3, 3),),
    )
    return a_file(tmp_path, book)


def test_every_piece_is_told_with_what_decides(path: Path) -> None:
    before = path.read_bytes()
    said = countback("through", path, "--json")

    assert (said.code, said.err) == (3, "")
    lines = said.out.splitlines()
    assert "  Head: 2 × 1 × 1 m, as moved 2.1 × 1.1 × 1.25 m." in lines
    assert (
        "    What decides: Lift is passed as it is made, length ahead, with 100 mm to" in said.out
    )
    assert "countback split says where it could be cut." in said.out
    assert "All that go into Van go in one trip." in said.out
    assert "loaded in this order: Tail, Body, Head." in said.out
    assert "the lift plan of a competent person decides" in said.out
    assert path.read_bytes() == before
    (job,) = said.last["jobs"]
    answers = {piece["id"]: piece["answer"] for piece in job["segments"]}
    assert answers == {"head": "passes", "body": "passes", "tail": "too_big"}
    assert job["segments"][2]["deciding"]["name"] == "lift"
    assert [each["name"] for each in job["segments"][0]["passages"]] == ["lift", "Van", "hall"]
    assert job["loads"][0]["trips"][0]["order"] == ["tail", "body", "head"]
    assert job["taking"]["is_estimated"]


def test_nothing_is_said_of_kilograms_left_over(path: Path) -> None:
    said = countback("through", path)

    assert "kg to spare" not in said.out
    assert "900 kg" in said.out


@pytest.mark.parametrize(("tonnes", "told"), [(32, False), (33, True)])
def test_what_alone_weighs_more_than_a_lorry_may_is_told(
    tmp_path: Path, tonnes: int, told: bool
) -> None:
    # TR07b: 44 t; at the high end a third more for frame and fixings, and 60 kg of gear.
    heavy = sized(2, 1, 1, mass_high_kg=Decimal(tonnes * 1000))
    said = countback("through", a_file(tmp_path, on_its_way(heavy)))

    assert ("ask the road authority" in said.out) is told


def test_a_size_that_was_typed_is_judged_instead(path: Path) -> None:
    said = countback("through", path, "heron", "--size", "6ft x 3ft 6in x 3ft", "--json")

    assert said.code == 0
    assert "A piece of 1.828 × 1.066 × 0.914 m, as moved 1.928 × 1.166 × 1.164 m." in said.out
    assert "trip" not in said.out
    (piece,) = said.last["jobs"][0]["segments"]
    assert piece["sizes_m"] == [1.8288, 1.0668, 0.9144]


def test_a_bad_size_is_refused_with_place_and_cure(path: Path) -> None:
    said = countback("through", path, "--size", "2.4x2.1yx2.6")

    assert (said.code, said.out) == (2, "")
    assert "“y” in “2.4x2.1yx2.6”, at character 8, is no unit" in said.err


def test_a_piece_without_a_size_and_a_job_that_is_not_there(tmp_path: Path) -> None:
    path = a_file(tmp_path, on_its_way(sized(2, 1, 1, segment="head"), **door(3, 3)))
    bare = on_its_way(sized(2, 1, 1), **door(3, 3))
    bare_path = a_file(tmp_path, _without_height(bare), "bare.countback")

    said = countback("through", bare_path, "--json")
    assert said.code == 0
    assert "Torso: no size, so nobody knows what it passes." in said.out
    assert said.last["jobs"][0]["segments"][0]["answer"] is None
    unknown = countback("through", path, "otter")
    assert (unknown.code, unknown.err) == (
        2,
        "No job, or more than one, is called “otter”; there are heron.\n",
    )


def _without_height(book: Book) -> Book:
    from dataclasses import replace

    job = book.jobs[0]
    segments = tuple(replace(each, height_m=None) for each in job.segments)
    return replace(book, jobs=(replace(job, segments=segments),))


def test_a_book_that_can_t_be_taken_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "x.countback"
    path.write_text("{}")

    for verb in (("through", path), ("split", path, "head")):
        said = countback(*verb, "--json")
        assert said.code == 2
        assert said.last["findings"]


def test_cuts_are_proposed_with_what_decides_and_what_they_add(path: Path) -> None:
    said = countback("split", path, "tail", "--json")

    assert (said.code, said.err) == (0, "")
    assert said.out.startswith(
        "Tail: two cuts across its length make three segments of 2 × 1.5 × 1.5 m, and they pass."
    )
    assert "The limit that decides: Lift is passed as it is made, length ahead, with 100 mm" in (
        " ".join(said.out.split())
    )
    # Two seams of 6 m; 12 x 2.95 h and two pieces more of 3 h.
    assert "12 m of seams, and 42 person-hours" in " ".join(said.out.split())
    found = said.last
    assert (found["count"], found["parts_along"]["length"]) == (3, 3)
    assert found["limit"]["name"] == "lift"
    assert found["whole"]["answer"] == "too_big"
    assert found["hours"]["likely"] == 41.4


def test_what_passes_is_not_cut(path: Path) -> None:
    said = countback("split", path, "head")

    assert (said.code, said.out) == (0, "Head passes as it is; nothing needs to be cut.\n")


def test_cuts_by_hand_are_judged_the_same_way(path: Path) -> None:
    good = countback("split", path, "tail", "--cut", "length=2,4", "--json")
    bad = countback("split", path, "tail", "--cut", "length=1,13ft 6in", "--json")

    assert good.code == 0
    assert "  Segment 1, 2 × 1.5 × 1.5 m: Lift is passed as it is made" in good.out
    assert [part["answer"] for part in good.last["parts"]] == ["passes"] * 3
    assert bad.code == 3
    assert [part["answer"] for part in bad.last["parts"]] == ["passes", "too_big", "passes"]


@pytest.mark.parametrize(
    ("cut", "said"),
    [
        ("depth=1", "“depth=1” is no cut; write length, width or height and the places, as in"),
        ("length", "“length” is no cut;"),
        ("length=7", "A cut at 7 m lies outside the piece, or on another: its length is 6 m."),
        ("length=0.1yd", "“yd” in “0.1yd”, at character 4, is no unit;"),
    ],
)
def test_a_cut_that_is_none_is_refused(path: Path, cut: str, said: str) -> None:
    refused = countback("split", path, "tail", "--cut", cut)

    assert refused.code == 2
    assert refused.err.startswith(said)


def test_where_no_cut_helps_what_decides_is_named(tmp_path: Path) -> None:
    narrow = an_opening("letterbox", "0.1", 3)
    path = a_file(tmp_path, on_its_way(sized(2, 1, 1), out=(narrow,), legs=()))

    said = countback("split", path, "torso", "--json")

    assert said.code == 3
    assert said.out.startswith("Torso: no straight cuts into 48 parts or fewer pass. Letterbox")
    assert said.last["count"] is None


def test_the_mass_may_decide(tmp_path: Path) -> None:
    heavy = sized(2, 1, 1, mass_low_kg=Decimal(100), mass_high_kg=Decimal(120))
    van = a_vehicle("van", 9, 3, 3, payload_kg=Decimal(60))
    path = a_file(tmp_path, on_its_way(heavy, vehicles=(van,)))

    said = countback("split", path, "torso", "--json")

    assert "What decides is the mass: a vehicle carries no larger part." in said.out
    assert (said.last["count"], said.last["is_by_mass"]) == (2, True)


def test_metres_are_shown_to_the_millimetre() -> None:
    shown = [say.metres(mm(Decimal(size))) for size in ("2.40", "2.3876", "3", "0.001")]

    assert shown == ["2.4", "2.387", "3", "0.001"]

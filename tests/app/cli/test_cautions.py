"""`countback cautions`: of one step, of steps of one name, of a whole book."""

from decimal import Decimal
from pathlib import Path

import pytest

from shared.book import Kind
from tests.app.cli.shell import a_file, countback
from tests.builders import a_book, a_job, a_place, a_segment, a_stage

DEFERS = "What local codes, the product's data sheet and licensed people say comes before all"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    segments = (a_segment("head"), a_segment("tail"))
    skins = tuple(
        a_stage(f"{each}-skin", Kind.LAMINATE, segments=(each,), places=("bay",), cure_hours=48)
        for each in ("head", "tail")
    )
    pack = a_stage("box", Kind.PACK)
    return a_file(
        tmp_path, a_book(a_job(segments=segments, steps=(*skins, pack)), places=(a_place(),))
    )


def test_of_one_step_each_is_said_with_its_source(path: Path) -> None:
    before = path.read_bytes()
    said = countback("cautions", path, "head-skin", "--json")
    text = " ".join(said.out.split())

    assert said.code == 0
    assert said.out.startswith("Head-skin on Head, Heron\n  Styrene vapour: extraction")
    assert "Here that is Bay. Source: common practice, no source." in text
    assert "Source: HSE guidance note CS21, organic peroxides." in text
    assert DEFERS in text
    (step,) = said.last["steps"]
    assert step["cautions"][1] == {"id": "styrene_cure", "places": ["bay"]}
    assert DEFERS in said.last["cautions"]["styrene_cure"]["text"]
    assert "Bay" not in said.last["cautions"]["styrene_cure"]["text"]
    assert not said.last["cautions"]["peroxide"]["is_from_memory"]
    assert path.read_bytes() == before


def test_of_all_steps_each_is_said_once(path: Path) -> None:
    said = countback("cautions", path, "--json")

    assert said.code == 0
    assert said.out.count("Styrene vapour goes on") == 2, "once for people, once for programs"
    assert "In Head-skin, Tail-skin." in said.out
    assert [step["step"] for step in said.last["steps"]] == ["head-skin", "tail-skin", "box"]
    assert said.last["steps"][2]["cautions"] == []


def test_steps_of_one_name_are_said_together(tmp_path: Path) -> None:
    steps = tuple(a_stage(f"{each}-cut", segments=(each,), name="cut") for each in ("head", "tail"))
    segments = (a_segment("head"), a_segment("tail"))
    said = countback(
        "cautions", a_file(tmp_path, a_book(a_job(segments=segments, steps=steps))), "cut", "--json"
    )

    assert "    In cut." in said.out.splitlines()
    assert [step["step"] for step in said.last["steps"]] == ["head-cut", "tail-cut"]


def test_a_step_without_cautions_says_so(path: Path) -> None:
    said = countback("cautions", path, "box")

    assert said.out.splitlines() == ["Box, Heron", "No cautions are known for this."]


def test_an_unknown_step_is_refused_and_so_is_a_book_that_is_not_understood(
    path: Path, tmp_path: Path
) -> None:
    unknown = countback("cautions", path, "skim")
    assert (unknown.code, unknown.out) == (2, "")
    assert "No step is called “skim”; there are head-skin, tail-skin, box." in unknown.err

    wrong = a_segment(length_m=Decimal(0))
    bad = countback("cautions", a_file(tmp_path, a_book(a_job(segments=(wrong,)))), "--json")
    assert bad.code == 2
    assert bad.last["steps"] == []
    assert bad.last["findings"][0]["code"] == "not_above_zero"

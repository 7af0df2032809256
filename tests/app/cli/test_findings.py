import json
from dataclasses import replace
from pathlib import Path

import pytest

from shared.files.lock import Lock, take
from tests.app.cli.shell import a_file, countback
from tests.builders import NOW, a_book, a_job, a_person, a_workshop

FIELDS = {"code", "path", "name", "text", "cure", "stops"}


def test_a_sound_book_has_nothing_to_mend(tmp_path: Path) -> None:
    said = countback("findings", a_file(tmp_path, a_book()), "--json")

    assert said.code == 0
    assert said.last == {"findings": []}


def test_what_stops_comes_first_with_its_place_name_and_cure(tmp_path: Path) -> None:
    job = a_job()
    nowhere = replace(job, windows=())
    book = a_book(nowhere, people=(a_person(skills=("carve", "carve")),))
    said = countback("findings", a_file(tmp_path, book), "--json")
    first, *_ = said.last["findings"]

    assert said.code == 2
    assert said.out.splitlines()[0] == "stops  jobs[0].windows (Heron)"
    assert {each["code"] for each in said.last["findings"]} == {
        "job_without_window",
        "skill_doubled",
    }
    assert all(set(each) == FIELDS for each in said.last["findings"])
    assert "2 findings: 1 stops." in said.out
    assert first["text"]
    assert first["cure"]


def test_what_only_tells_lets_the_book_pass(tmp_path: Path) -> None:
    book = a_book(people=(a_person(skills=("carve", "carve")),))
    said = countback("findings", a_file(tmp_path, book))

    assert said.code == 0
    assert said.out.startswith("tells  people[0]")
    assert said.out.endswith("1 finding: none stops.\n")


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "not_json"),
        (b"\xff\xfe", "not_utf8"),
        (b"[" * 100_000, "too_deep"),
        (b"{}", "not_countback"),
        (b'{"countback": {"kind": "plan", "format": 1}}', "wrong_kind"),
        (b'{"countback": {"kind": "book", "format": 99}}', "newer_format"),
    ],
)
def test_what_is_no_book_is_a_finding(tmp_path: Path, data: bytes, code: str) -> None:
    path = tmp_path / "book.countback"
    path.write_bytes(data)
    said = countback("findings", path, "--json")

    assert said.code == 2
    assert code in {each["code"] for each in said.last["findings"]}
    assert path.read_bytes() == data


def test_a_long_list_stays_within_its_columns(tmp_path: Path) -> None:
    book = a_book(workshop=a_workshop(zone="Europe/Londn", country="QQ", shifts=()))
    said = countback("findings", a_file(tmp_path, book))

    assert said.code == 2
    assert max(map(len, said.out.splitlines())) <= 100


@pytest.mark.parametrize("name", ["nowhere.countback", "."])
def test_what_can_t_be_read_is_one_sentence(tmp_path: Path, name: str) -> None:
    said = countback("findings", tmp_path / name)

    assert (said.code, said.out) == (2, "")
    assert len(said.err.splitlines()) == 1


def test_a_book_that_somebody_else_has_open_is_read_all_the_same(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    lock = take(path, "anna", NOW)
    assert isinstance(lock, Lock)

    with lock:
        before = sorted(tmp_path.iterdir())
        said = countback("findings", path)
        assert sorted(tmp_path.iterdir()) == before

    assert said.code == 0


def test_colour_is_for_terminals_that_want_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "book.countback"
    path.write_bytes(b"{")
    monkeypatch.delenv("NO_COLOR", raising=False)

    assert "\x1b[" in countback("findings", path, is_terminal=True).out
    assert "\x1b[" not in countback("findings", path).out
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\x1b[" not in countback("findings", path, is_terminal=True).out


def test_the_object_is_on_one_line_whatever_the_names(tmp_path: Path) -> None:
    job = replace(a_job(), name="two\nlines\u2028three", windows=())
    said = countback("findings", a_file(tmp_path, a_book(job)), "--json")

    assert json.loads(said.out.split("\n")[-2])["findings"][0]["name"] == "two\nlines\u2028three"

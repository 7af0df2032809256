"""`countback bring`: looked at first, taken whole or not at all, and taken back by undo."""

import re
from pathlib import Path

import pytest

from app.exchange.bring.bringing import TABLES
from app.exchange.bring.columns import guessed
from app.exchange.bring.fields import FIELDS
from app.exchange.bring.grid import read_grid
from app.words import bring as say
from app.words.language import speak
from shared.files.read import read_book
from tests.app.cli.shell import a_file, countback
from tests.app.exchange.bring.made import a_book, written
from tests.house.tree import ROOT

PEOPLE = b"name,skills\nZita,carve\nYann,paint\n"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_book())


def test_a_table_is_looked_at_and_nothing_is_written(path: Path) -> None:
    before = path.read_bytes()
    file = written(path.parent, "people.csv", PEOPLE)
    said = countback("bring", path, "people", file, "--json")
    text = " ".join(said.out.split())

    assert said.code == 0
    assert path.read_bytes() == before
    assert "Two rows are in" in text
    assert "name = name, skills = skills" in text
    assert "Row 2: name Zita, skills carve." in text
    assert "Nothing is taken yet: --take takes it." in text
    assert said.last["taken"] is False
    assert said.last["columns"] == {"name": "name", "skills": "skills"}


def test_it_is_taken_when_told_and_taken_back_by_undo(path: Path) -> None:
    before = read_book(path.read_bytes()).book
    file = written(path.parent, "people.csv", PEOPLE)
    said = countback("bring", path, "people", file, "--take", "--json")
    after = read_book(path.read_bytes()).book
    assert before is not None
    assert after is not None

    assert said.code == 0
    assert said.last["taken"]
    assert [one.name for one in after.people[len(before.people) :]] == ["Zita", "Yann"]
    assert after.revision == before.revision + 1
    assert countback("undo", path).code == 0
    back = read_book(path.read_bytes()).book
    assert back is not None
    assert back.people == before.people


def test_one_bad_row_and_nothing_is_taken(path: Path) -> None:
    before = path.read_bytes()
    file = written(path.parent, "people.csv", b"name,pace\nZita,1\nYann,quick\n,1\n")
    said = countback("bring", path, "people", file, "--take", "--json")

    assert said.code == 2
    assert path.read_bytes() == before
    assert not (path.parent / "book.countback.before").exists()
    assert "Row 3, column B (pace): “quick” is no number. Write it as 12.5." in said.out
    assert "Row 4, column A (name): It is empty, and is needed. Fill it in." in said.out
    assert [(t["row"], t["column"]) for t in said.last["troubles"]] == [(3, "B"), (4, "A")]
    assert said.last["taken"] is False


def test_a_table_of_which_no_column_is_known_is_told_as_a_table(path: Path) -> None:
    file = written(path.parent, "people.csv", b"a,b\nZita,carve\n")
    said = countback("bring", path, "people", file, "--json")
    (trouble,) = said.last["troubles"]

    assert said.code == 2
    assert trouble["text"].startswith("The names of the columns: No column is there for “name”")


def test_columns_may_be_said(path: Path) -> None:
    file = written(path.parent, "people.csv", b"a,b\nZita,carve\n")

    assert countback("bring", path, "people", file).code == 2
    said = countback("bring", path, "people", file, "--map", "name=a", "--map", "skills=B")
    assert said.code == 0
    assert "skills = b" in said.out


@pytest.mark.parametrize("kind", TABLES)
@pytest.mark.parametrize("suffix", [".csv", ".xlsx"])
@pytest.mark.parametrize("language", ["en", "de"])
def test_a_template_has_every_column_and_is_read_back(
    path: Path, kind: str, suffix: str, language: str
) -> None:
    file = path.parent / f"template{suffix}"
    speak(language)
    try:
        first = countback("bring", path, kind, file, "--template")
        again = countback("bring", path, kind, file, "--template")
    finally:
        speak("en")
    grid = read_grid(file.read_bytes())
    columns, troubles = guessed(grid, FIELDS[kind], {})

    assert (first.code, again.code) == (0, 2)
    assert not troubles
    assert list(columns.at.values()) == sorted(columns.at.values())
    assert set(columns.at) == {each.id for each in FIELDS[kind]}
    assert len(grid.lines) == 1


LEAVE = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:1\r\n"
    b"DTSTART;VALUE=DATE:20270705\r\nSUMMARY:secret-cause\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
)


def test_leave_comes_from_a_calendar_without_its_cause(path: Path) -> None:
    file = written(path.parent, "leave.ics", LEAVE)
    person = a_book().people[0]
    said = countback("bring", path, "leave", file, "--of", person.name, "--take")
    after = read_book(path.read_bytes()).book
    assert after is not None

    assert said.code == 0
    assert "One entry is in" in said.out
    assert len(after.people[0].leave) == len(person.leave) + 1
    assert b"secret-cause" not in path.read_bytes()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("animals", "x.csv"), "“animals” is nothing that can be brought in; there are jobs,"),
        (("leave", "leave.ics"), "Say whose leave it is, with --of."),
        (("leave", "leave.ics", "--of", "Nobody"), "There is nobody “Nobody”"),
        (("leave", "leave.ics", "--of", "Asta", "--map", "a=b"), "--map goes with a table only"),
        (("leave", "new.csv", "--template"), "leave comes from a calendar and has no template"),
        (("people", "x.ods", "--template"), "has to end in .csv, .xlsx"),
        (("people", "people.csv", "--map", "weight=a"), "“weight=a” is no FIELD=COLUMN"),
        (("people", "none.csv"), "There is no file none.csv"),
    ],
)
def test_what_can_t_be_asked_is_said(
    path: Path, words: tuple[str, ...], sentence: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(path.parent)
    written(path.parent, "leave.ics", LEAVE)
    written(path.parent, "people.csv", PEOPLE)
    said = countback("bring", path, *words)

    assert said.code == 2
    assert sentence in said.err


@pytest.mark.parametrize("data", [b"", b"name\n", b"PK\x03\x04"])
def test_a_file_that_holds_no_table_says_why(path: Path, data: bytes) -> None:
    file = written(path.parent, "x.csv", data)
    said = countback("bring", path, "people", file, "--take", "--json")

    assert said.code == 2
    assert said.last["taken"] is False
    assert str(file) in said.last["text"]


def test_every_code_has_its_sentence() -> None:
    code = re.compile(
        r'Bad\(\s*"([a-z_0-9]+)"|Misnamed\(\s*(?:"[a-z_0-9]*"|\w+),\s*"([a-z_0-9]+)"'
        r'|code = "([a-z_]+)"|else "([a-z_]+)"|code="([a-z_]+)"'
    )
    said = re.compile(r'NoTable\("([a-z_]+)"')
    texts = [p.read_text() for p in (ROOT / "app/exchange/bring").glob("*.py")]
    found = {each for text in texts for groups in code.findall(text) for each in groups}
    troubles = found - {"", "leg"}
    tables = {each for text in texts for each in said.findall(text)}

    assert len(troubles) > 20
    assert troubles == set(say.TROUBLES)
    assert tables == set(say.NO_TABLE)

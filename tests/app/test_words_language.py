"""A second language changes every sentence and no code.

The .mo file is written by this test as section "The Format of GNU MO Files" of the GNU gettext
manual has it.
"""

import struct
from pathlib import Path

import pytest

from app.words import Words
from scheduler.outcome import JobOutcome, Verdict
from shared.findings import Finding
from shared.ids import JobId

MAGIC = 0x950412DE
HEADER = "Content-Type: text/plain; charset=UTF-8\nPlural-Forms: nplurals=2; plural=(n != 1);\n"

GERMAN = {
    "": HEADER,
    "{job} fits, with {spare} to spare.": "{job} passt, {spare} Luft.",
    "{job} misses its window by {late}.": "{job} verpasst das Fenster um {late}.",
    "to spare\4{days} day\0{days} days": "{days} Tag\0{days} Tage",
    "late\4{days} day\0{days} days": "{days} Tag\0{days} Tage",
    "late, with a fraction\4{days} days\0{days} days": "{days} Tage\0{days} Tage",
    "There is {count} more finding that is not listed.\0"
    "There are {count} more findings that are not listed.": (
        "{count} weiterer Befund ist nicht aufgeführt.\0"
        "{count} weitere Befunde sind nicht aufgeführt."
    ),
    "weekday\4Thu": "Do",
    "month\4Mar": "März",
    "{weekday} {day} {month} {year}": "{weekday} {day}. {month} {year}",
    "between thousands\4,": ".",
}
# Three forms, as Polish has them (gettext manual, section "Plural forms").
POLISH = {
    "": "Content-Type: text/plain; charset=UTF-8\nPlural-Forms: nplurals=3; plural=(n==1 ? 0 : "
    "n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\n",
    "to spare\4{days} day\0{days} days": "{days} dzień\0{days} dni\0{days} dni razem",
}


def write_mo(path: Path, texts: dict[str, str]) -> None:
    entries = sorted((key.encode(), value.encode()) for key, value in texts.items())
    count = len(entries)
    keys_at, values_at = 28, 28 + 8 * count
    start = values_at + 8 * count
    keys, values, data = b"", b"", b""
    for at, table in ((0, "keys"), (1, "values")):
        for entry in entries:
            row = struct.pack("<II", len(entry[at]), start + len(data))
            data += entry[at] + b"\0"
            if table == "keys":
                keys += row
            else:
                values += row
    head = struct.pack("<7I", MAGIC, 0, count, keys_at, values_at, 0, start)
    path.parent.mkdir(parents=True)
    path.write_bytes(head + keys + values + data)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for language, texts in (("de", GERMAN), ("pl", POLISH)):
        write_mo(tmp_path / language / "LC_MESSAGES" / "countback.mo", texts)
    return tmp_path


def fits(slack: int) -> JobOutcome:
    return JobOutcome(id=JobId("m"), name="Mond", verdict=Verdict.FITS, slack_minutes=slack)


def test_sentences_are_said_in_another_language(folder: Path) -> None:
    words = Words("de", folder=folder)
    late = JobOutcome(
        id=JobId("m"),
        name="Mond",
        verdict=Verdict.MISSES,
        missed_by_minutes=900,
        missed_by_working_minutes=600,
    )

    assert words.verdict_line(fits(480)) == "Mond passt, 1 Tag Luft."
    assert words.verdict_line(fits(960)) == "Mond passt, 2 Tage Luft."
    assert words.verdict_line(late) == "Mond verpasst das Fenster um 1¼ Tage."
    assert words.number(12_345) == "12.345"


def test_dates_follow_the_language(folder: Path) -> None:
    from datetime import date

    assert Words("de", folder=folder).day(date(2027, 3, 18), after=None) == "Do 18. März 2027"


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (1, "1 weiterer Befund ist nicht aufgeführt."),
        (3, "3 weitere Befunde sind nicht aufgeführt."),
    ],
)
def test_plurals_of_a_sentence_follow_the_language(folder: Path, count: int, said: str) -> None:
    found = Finding(code="more_findings", path=(), facts=(("count", count),))

    assert Words("de", folder=folder).finding(found)[0] == said


@pytest.mark.parametrize(("days", "said"), [(1, "1 dzień"), (3, "3 dni"), (5, "5 dni razem")])
def test_a_language_with_three_plural_forms_has_its_third(
    folder: Path, days: int, said: str
) -> None:
    assert Words("pl", folder=folder).spare(days * 480) == said


def test_what_is_not_translated_stays_english(folder: Path) -> None:
    assert Words("de", folder=folder).undo_label("add_job", name="Mond") == "add the job Mond"


def test_the_environment_chooses_when_nobody_says(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")

    assert Words(folder=folder).verdict_line(fits(480)) == "Mond passt, 1 Tag Luft."


def test_a_template_that_a_translator_broke_still_says_the_rest(tmp_path: Path) -> None:
    broken = {"": HEADER, "add the job {name}": "{namme} dazu"}
    write_mo(tmp_path / "de" / "LC_MESSAGES" / "countback.mo", broken)

    assert Words("de", folder=tmp_path).undo_label("add_job", name="Mond") == "… dazu"

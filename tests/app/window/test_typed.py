"""What is typed into blanks."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.words import Words

WORDS = Words("en")
MONTHS = typed.months_of(WORDS)
NEAR = datetime(2027, 4, 13, 6, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", "12"),
        (" 12.5 ", "12.5"),
        ("12,5", "12.5"),
        ("12½", "12.5"),
        ("¾", "0.75"),
        ("1 ¼", "1.25"),
        ("0", "0"),
    ],
)
def test_numbers_are_read_leniently(text: str, value: str) -> None:
    assert typed.number(text) == Decimal(value)


@pytest.mark.parametrize("text", ["", "x", "12h", "1e9", "NaN", "Infinity", "1.2.3", "½½"])
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(NotTaken) as no:
        typed.number(text)
    assert no.value.code == "not_a_number"


def test_less_than_nothing_is_refused_by_its_own_word() -> None:
    with pytest.raises(NotTaken) as no:
        typed.number("-3")
    assert no.value.code == "not_positive"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tue 13 Apr 06:00", "2027-04-13T05:00"),
        ("13 Apr 06:00", "2027-04-13T05:00"),
        ("13 april 2027 6:00", "2027-04-13T05:00"),
        ("2027-04-13 06:00", "2027-04-13T05:00"),
        ("Mon, 4 Jan 07.30", "2027-01-04T07:30"),
        ("30 Dec 12:00", "2026-12-30T12:00"),
    ],
)
def test_moments_are_read_by_the_sites_clock(text: str, expected: str) -> None:
    when = typed.moment(text, "Europe/London", NEAR, MONTHS)

    assert typed.utc(when) == datetime.fromisoformat(expected).replace(tzinfo=UTC)


@pytest.mark.parametrize(
    "text", ["", "tomorrow", "31 Feb 07:00", "13 Apr", "13 Foo 07:00", "2027-02-30 07:00", "25:00"]
)
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(NotTaken) as no:
        typed.moment(text, "Europe/London", NEAR, MONTHS)
    assert no.value.code == "not_a_moment"


@pytest.mark.parametrize("zone", ["Europe/London", "Europe/Berlin", "Asia/Tokyo"])
@pytest.mark.parametrize("hour", range(0, 24, 5))
def test_a_moment_that_is_written_reads_back_as_itself(zone: str, hour: int) -> None:
    when = datetime(2027, 6, 15, hour, 30, tzinfo=UTC)
    text = typed.written_moment(WORDS, when, zone)

    assert typed.utc(typed.moment(text, zone, when, MONTHS)) == when


def test_people_are_known_by_name_in_any_order_and_case() -> None:
    known = {"Edda": "e", "Kofi": "k", "Juno": "j"}

    assert typed.people("kofi and Edda, JUNO", known) == ("k", "e", "j")
    assert typed.people("Edda, Edda", known) == ("e",)
    with pytest.raises(NotTaken) as no:
        typed.people("Edda, Nobody", known)
    assert no.value.facts["value"] == "Nobody"


def test_a_word_may_be_begun() -> None:
    known = {"foam": "foam", "fill and sand": "fill", "fit and pack": "pack", "coat": "coat"}

    assert typed.one_of("FOAM", known, "not_a_kind") == "foam"
    assert typed.one_of("fill", known, "not_a_kind") == "fill"
    for text in ("f", "", "glue"):
        with pytest.raises(NotTaken):
            typed.one_of(text, known, "not_a_kind")


def test_sizes_may_be_open_but_never_nothing() -> None:
    assert typed.size_or_none("") is None
    assert typed.size_or_none("–") is None
    assert typed.size_or_none("2.4") == Decimal("2.4")
    for text in ("0", "wide"):
        with pytest.raises(NotTaken) as no:
            typed.size_or_none(text)
        assert no.value.code == "not_a_size"


def test_names_and_whole_numbers() -> None:
    assert typed.name("  a   pitcher plant ") == "a pitcher plant"
    assert typed.whole("10") == 10
    assert typed.figure(Decimal("12.50")) == "12.5"
    assert typed.figure(Decimal(100)) == "100"
    assert typed.figure(None) == ""
    with pytest.raises(NotTaken):
        typed.whole("1.5")
    with pytest.raises(NotTaken):
        typed.name("   ")

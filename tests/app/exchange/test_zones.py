"""VTIMEZONE by RFC 5545 section 3.6.5, read back with dateutil and held against the zone itself."""

import io
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil.tz import tzical

from app.exchange.zones import timezone

ZONES = (
    "Europe/London",
    "Europe/Oslo",
    "Europe/Berlin",
    "Europe/Dublin",
    "America/New_York",
    "America/Sao_Paulo",
    "Asia/Kolkata",
)
ODD = ("Australia/Lord_Howe", "Africa/Casablanca")
"""Half an hour of summer time; a winter clock in the month of fasting: dateutil reads neither."""
FIRST, LAST = date(2026, 2, 1), date(2028, 4, 30)


def text_of(name: str, first: date = FIRST, last: date = LAST) -> str:
    return bytes(timezone(name, first, last).to_ical()).decode()


def moments(name: str) -> list[datetime]:
    """Noon and midnight of every day, and every half hour about a change of the clock."""
    zone, half_hour = ZoneInfo(name), timedelta(minutes=30)
    first = datetime(FIRST.year, FIRST.month, FIRST.day, tzinfo=UTC)
    found = [first + timedelta(hours=12 * at) for at in range(2 * (LAST - FIRST).days)]
    for at in found[1:]:
        before = at - timedelta(hours=12)
        if before.astimezone(zone).utcoffset() != at.astimezone(zone).utcoffset():
            found += [before + each * half_hour for each in range(24)]
    return found


@pytest.mark.parametrize("name", ZONES)
def test_another_library_reads_the_same_clock(name: str) -> None:
    read = tzical(io.StringIO(text_of(name))).get(name)
    zone = ZoneInfo(name)
    for at in moments(name):
        here, there = at.astimezone(zone), at.astimezone(read)
        assert there.replace(tzinfo=None) == here.replace(tzinfo=None), at
    noon = datetime(2026, 7, 1, 12, tzinfo=UTC)
    assert noon.astimezone(read).tzname() == noon.astimezone(zone).tzname()


def onsets(text: str) -> list[tuple[datetime, timedelta]]:
    """By section 3.6.5: DTSTART is local time by TZOFFSETFROM, from then on TZOFFSETTO holds."""
    found = []
    parts = text.replace("BEGIN:DAYLIGHT", "BEGIN:STANDARD").split("BEGIN:STANDARD\r\n")[1:]
    for part in parts:
        lines = dict(line.split(":", 1) for line in part.split("\r\n") if ":" in line)
        told = [lines["TZOFFSETFROM"], lines["TZOFFSETTO"]]
        before, after = (datetime.strptime(each, "%z").utcoffset() for each in told)
        assert before is not None
        assert after is not None
        local = datetime.strptime(lines["DTSTART"], "%Y%m%dT%H%M%S").replace(tzinfo=UTC)
        found.append((local - before, after))
    return found


@pytest.mark.parametrize("name", [*ZONES, *ODD])
def test_read_by_the_standard_the_offset_is_that_of_the_zone(name: str) -> None:
    zone, known = ZoneInfo(name), onsets(text_of(name))
    for at in moments(name):
        (*_, last) = (after for onset, after in known if onset <= at)
        assert at.astimezone(zone).utcoffset() == last, at


def test_an_onset_is_told_by_the_clock_that_ends() -> None:
    # RFC 5545 section 3.6.5, its example of New York: 2 o'clock in the morning both times.
    text = text_of("America/New_York", date(2007, 1, 1), date(2007, 12, 31))

    assert "DTSTART:20070311T020000" in text
    assert "DTSTART:20071104T020000" in text
    assert text.count("BEGIN:DAYLIGHT") == 1
    assert "TZOFFSETFROM:-0500\r\nTZOFFSETTO:-0400" in text


def test_a_zone_says_what_it_must_and_begins_before_its_first_day() -> None:
    for name in (*ZONES, *ODD):
        lines = text_of(name).split("\r\n")

        assert lines[:2] == ["BEGIN:VTIMEZONE", f"TZID:{name}"]
        parts = sum(line in ("BEGIN:STANDARD", "BEGIN:DAYLIGHT") for line in lines)
        assert parts >= 1
        for must in ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO"):
            assert sum(line.startswith(f"{must}:") for line in lines) == parts
        starts = [line.partition(":")[2] for line in lines if line.startswith("DTSTART")]
        assert min(starts) <= FIRST.strftime("%Y%m%dT000000")

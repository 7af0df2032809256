"""Calendars held against RFC 5545 and read back with vobject, value by value."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import vobject

from app.exchange.calendar import Feed, Whose, calendar, feeds
from app.exchange.entries import Entry, entries
from app.exchange.text import plain
from app.window.sheets.day import Sort
from app.window.sheets.rows import Day
from app.words import Words
from shared.book import Book, Gate, GateKind, Journey, Stage, Standing
from shared.ids import PersonId
from shared.journeys.clocks import clocks_of
from shared.plan import Plan
from tests.app.exchange.scenes import (
    a_book,
    an_awkward_book,
    changed_since,
    give,
    replanned,
    told,
)

BOOKS = {"usual": a_book, "awkward": an_awkward_book}


@cache
def made(which: str = "usual") -> dict[Feed, tuple[bytes, tuple[Entry, ...]]]:
    book = BOOKS[which]()
    given = give(book)
    found = entries(given)
    return {
        feed: (calendar(given, feed, found), tuple(e for e in found if feed.holds(e)))
        for feed in feeds(book)
    }


def unfolded(data: bytes) -> list[str]:
    """RFC 5545 section 3.1: a line end and one blank or tab in front of the next is nothing."""
    return data.replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode().split("\r\n")


def events_of(lines: list[str]) -> list[list[str]]:
    starts = [at for at, line in enumerate(lines) if line == "BEGIN:VEVENT"]
    return [lines[at : lines.index("END:VEVENT", at)] for at in starts]


def named(lines: list[str], name: str) -> list[str]:
    return [each for each in lines if each.split(":")[0].split(";")[0] == name]


@pytest.mark.parametrize("which", BOOKS)
def test_lines_end_and_fold_as_section_3_1_says(which: str) -> None:
    for data, _ in made(which).values():
        assert data.endswith(b"END:VCALENDAR\r\n")
        assert data.count(b"\n") == data.count(b"\r\n") == data.count(b"\r")
        lines = data.split(b"\r\n")
        assert max(map(len, lines)) <= 75
        for line in lines:
            line.decode()
        assert not [c for c in data.decode() if ord(c) < 0x20 and c not in "\r\n\t"]


def test_long_names_are_folded_at_all() -> None:
    assert any(b"\r\n " in data for data, _ in made("awkward").values())


@pytest.mark.parametrize("which", BOOKS)
def test_a_calendar_says_once_what_sections_3_6_and_3_7_want(which: str) -> None:
    for data, _ in made(which).values():
        lines = unfolded(data)
        head = lines[: lines.index("BEGIN:VTIMEZONE")] if "BEGIN:VTIMEZONE" in lines else lines
        assert lines[0] == "BEGIN:VCALENDAR"
        assert named(lines, "VERSION") == ["VERSION:2.0"]
        assert len(named(lines, "PRODID")) == 1
        assert named(head, "CALSCALE") == ["CALSCALE:GREGORIAN"]
        assert not named(lines, "METHOD"), "RFC 5546 would then want an organizer"
        assert Counter(line for line in lines if line.startswith("BEGIN:")) == Counter(
            line.replace("END:", "BEGIN:") for line in lines if line.startswith("END:")
        )


@pytest.mark.parametrize("which", BOOKS)
def test_an_event_says_what_section_3_6_1_wants(which: str) -> None:
    count = 0
    for data, _ in made(which).values():
        uids = []
        for event in events_of(unfolded(data)):
            for must in ("UID", "DTSTAMP", "DTSTART", "SUMMARY", "SEQUENCE", "STATUS", "TRANSP"):
                assert len(named(event, must)) == 1, must
            for may in ("DTEND", "LOCATION", "DESCRIPTION", "LAST-MODIFIED"):
                assert len(named(event, may)) <= 1, may
            assert named(event, "DTSTAMP")[0].endswith("Z"), "section 3.8.7.2: in UTC"
            assert named(event, "STATUS")[0] in ("STATUS:TENTATIVE", "STATUS:CONFIRMED")
            assert named(event, "TRANSP")[0] in ("TRANSP:OPAQUE", "TRANSP:TRANSPARENT")
            uids += named(event, "UID")
            count += 1
        assert len(set(uids)) == len(uids), "section 3.8.4.7"
    assert count > 200


@pytest.mark.parametrize("which", BOOKS)
def test_every_zone_that_is_named_is_told_in_the_same_file(which: str) -> None:
    # RFC 5545 section 3.2.19.
    for data, _ in made(which).values():
        lines = unfolded(data)
        zones = {line.partition(":")[2] for line in named(lines, "TZID")}
        wanted = {
            part.partition("=")[2]
            for line in lines
            for part in line.partition(":")[0].split(";")[1:]
            if part.startswith("TZID=")
        }
        assert wanted == zones


def test_texts_are_escaped_as_section_3_3_11_says() -> None:
    name = an_awkward_book().jobs[0].name
    book = an_awkward_book()
    told = "comma, semicolon; back\\slash\nnew line\ttab"
    job = replace(book.jobs[0], name=told)
    changed = replace(book, jobs=(job, *book.jobs[1:]))
    assert book.plan is not None
    given = give(changed, replanned(changed, book.plan))
    feed = Feed(whose=Whose.JOB, id=job.id, name=told)
    lines = unfolded(calendar(given, feed, entries(given)))

    assert name != told
    escaped = "comma\\, semicolon\\; back\\\\slash\\nnew line\ttab"
    assert f"NAME:{escaped}" in lines
    assert f"CATEGORIES:{escaped}" in lines


def value(event: Any, name: str) -> Any:
    return getattr(event, name).value


def instant(found: datetime) -> datetime:
    assert found.tzinfo is not None
    return found.astimezone(UTC)


@pytest.mark.parametrize("which", BOOKS)
def test_another_library_reads_every_value_back(which: str) -> None:
    book = BOOKS[which]()
    words = Words("en", book=book)
    count = 0
    for feed, (data, wanted) in made(which).items():
        read = vobject.readOne(data.decode())
        found = list(getattr(read, "vevent_list", []))
        assert len(found) == len(wanted)
        (name,) = read.contents["name"]
        assert name.value == plain(feed.name)
        for event, entry in zip(found, wanted, strict=True):
            assert value(event, "summary") == plain(entry.title)
            assert instant(value(event, "dtstart")) == entry.start
            shown = value(event, "dtstart").replace(tzinfo=None)
            assert shown == entry.start.astimezone(ZoneInfo(entry.zone)).replace(tzinfo=None)
            if entry.end is None:
                assert not hasattr(event, "dtend")
            else:
                assert instant(value(event, "dtend")) == entry.end
                assert entry.start < entry.end, "section 3.8.2.2"
            where = value(event, "location") if hasattr(event, "location") else ""
            assert where == plain(entry.where)
            assert instant(value(event, "dtstamp")) == plan_of(book).now
            assert value(event, "sequence") == str(book.revision)
            takes_time = entry.takes_time and entry.end is not None
            assert value(event, "transp") == ("OPAQUE" if takes_time else "TRANSPARENT")
            others = [words.names.of("person", p) for p in entry.people if p != feed.id]
            for name in others:
                assert plain(name) in value(event, "description")
            count += 1
    assert count > 200


def plan_of(book: Book) -> Plan:
    assert book.plan is not None
    return book.plan


def test_the_days_of_a_person_are_those_of_the_sheets() -> None:
    book = a_book()
    words = Words("en", book=book)
    found = entries(give(book))
    zone = ZoneInfo(book.workshop.zone)
    count = 0
    for ahead in range(0, 40, 3):
        day = (plan_of(book).now + timedelta(days=ahead)).date()
        stints = Day(book, words, day).stints(plan_of(book))
        for person in book.people:
            mine = {
                (each.start, each.end)
                for each in found
                if person.id in each.people and each.start.astimezone(zone).date() == day
                if each.end is not None and each.end.astimezone(zone).date() == day
            }
            shown = {
                (stint.start, stint.end)
                for stint in stints.get(person.id, ())
                if stint.row.sort is not Sort.ROAD
            }
            assert shown <= mine
            count += len(shown)
    assert count > 30


def test_a_job_has_its_work_moments_legs_cures_and_window() -> None:
    book = a_book()
    plan = plan_of(book)
    for job in book.jobs:
        mine = {each.key: each for each in entries(give(book)) if each.job == job.id}
        held = job.held_window
        assert held is not None
        window = mine[f"{job.id}|window"]
        assert (window.start, window.end, window.zone) == (held.start, held.end, job.site.zone)
        for placed in (p for p in plan.placements if p.job == job.id):
            step = next(s for s in job.steps if s.id == placed.step)
            key = f"{step.id}|{placed.round}|{placed.part}"
            if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
                assert mine[key].start == placed.end
                assert mine[f"{key}|pictures"].start == placed.start
            elif isinstance(step, Stage):
                spans = [each for name, each in mine.items() if name.startswith(f"{key}|")]
                work = [each for each in spans if not each.key.endswith("|cure")]
                assert min(each.start for each in work) == placed.start
                assert max(each.end or each.start for each in work) == placed.end
        for trip in (t for t in plan.trips if t.job == job.id):
            journey = next(s for s in job.steps if s.id == trip.step)
            assert isinstance(journey, Journey)
            legs = [mine[f"{trip.step}|leg|{at}"] for at in range(len(journey.legs))]
            assert [leg.start for leg in legs] == [each.start for each in trip.legs]
            clocks = clocks_of(book, job, journey.legs)
            assert [(leg.zone, leg.end_zone) for leg in legs] == [(c.start, c.end) for c in clocks]


def uids(book: Book, plan: Plan | None = None) -> dict[str, str]:
    given = give(book, plan)
    feed = feeds(book)[0]
    found = [each for each in entries(given) if feed.holds(each)]
    read = vobject.readOne(calendar(given, feed, found).decode())
    named = (value(event, "uid") for event in getattr(read, "vevent_list", []))
    return {entry.key: uid for entry, uid in zip(found, named, strict=True)}


def test_an_entry_keeps_its_uid_when_the_book_goes_on() -> None:
    book = a_book()
    before = uids(book)
    later = replace(book, revision=9, jobs=tuple(reversed(book.jobs)))
    after = uids(later, replanned(later, plan_of(book)))

    assert before
    assert after == before
    first, second = feeds(book)[:2]
    given = give(book)
    both = [
        {value(e, "uid") for e in vobject.readOne(data.decode()).vevent_list}
        for data in (calendar(given, feed, entries(given)) for feed in (first, second))
    ]
    assert not both[0] & both[1], "the entry of another person is another one"


def test_the_same_plan_gives_the_same_bytes() -> None:
    given = give(a_book())
    feed = feeds(given.book)[0]

    assert calendar(given, feed, entries(given)) == calendar(given, feed, entries(given))


def statuses(book: Book) -> set[str]:
    given = give(book)
    feed = next(f for f in feeds(book) if f.whose is Whose.JOB)
    read = vobject.readOne(calendar(given, feed, entries(given)).decode())
    return {value(event, "status") for event in read.vevent_list}


def test_only_what_firm_jobs_were_told_is_called_confirmed() -> None:
    book = a_book()
    first = replace(book.jobs[0], standing=Standing.PENCILLED)
    pencilled = replace(book, jobs=(first, *book.jobs[1:]))
    pencilled = replace(pencilled, plan=replanned(pencilled, plan_of(book)))

    assert {job.standing for job in book.jobs[:1]} == {Standing.FIRM}
    assert statuses(told(book)) == {"CONFIRMED"}
    assert statuses(book) == {"TENTATIVE"}
    assert statuses(told(pencilled)) == {"TENTATIVE"}
    assert statuses(changed_since(told(book))) == {"TENTATIVE"}


@pytest.mark.parametrize("hour", [0, 1])
def test_an_hour_that_comes_twice_is_the_one_that_is_meant(hour: int) -> None:
    # RFC 5545 section 3.3.5, the form with local time and time zone reference.
    given = give(a_book())
    feed = feeds(given.book)[0]
    start = datetime(2027, 10, 31, hour, 30, tzinfo=UTC)
    entry = Entry(
        key="night",
        start=start,
        end=start + timedelta(hours=4),
        zone="Europe/London",
        end_zone="Europe/London",
        title="a night",
        people=(PersonId(feed.id),),
    )
    (read,) = vobject.readOne(calendar(given, feed, [entry]).decode()).vevent_list

    assert instant(value(read, "dtstart")) == start
    assert instant(value(read, "dtend")) == start + timedelta(hours=4)

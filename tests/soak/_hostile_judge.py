"""One file taken as the program takes it: what may not happen is raised."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

from app.cli.arguments import Usage
from app.cli.rush import _with_enquiry
from app.exchange.bring.asked import AskBring
from app.exchange.bring.bringing import CALENDARS, TABLES, Judged, bring_calendar, bring_table
from app.exchange.bring.cells import NoTable
from app.recovery import left_behind
from app.settings import read_settings, write_settings
from app.words import Words
from app.words import bring as say
from scheduler.check import check
from scheduler.normalise import normalise
from shared.book import Book, Person
from shared.examine import examine, take_in
from shared.files.disk import before, load
from shared.files.lock import Lock, look, take
from shared.files.read import read_plan
from shared.files.undo import undo_file
from shared.files.write import write_book, write_plan
from shared.findings import Finding
from tests.app.exchange.bring.made import a_book as taken_into
from tests.app.exchange.scenes import a_book as planned_book

NOW = datetime(2027, 5, 1, 8, tzinfo=UTC)
MOST_TOLD = 20


class FaultError(AssertionError):
    """Something that must not happen, in words."""


def judge(kind: str, data: bytes, folder: Path, turn: int) -> Book | None:
    """Take a file of a kind in a folder of its own. turn: chooses among ways to take it.

    A book that was read well is given, to be made a problem of, which may take the longer.
    """
    return _JUDGES[kind](data, folder, turn)


def made_a_problem(book: Book) -> None:
    """What the engine does first with a book, in a child that can be ended."""
    normalise(book, book.as_of or NOW)


def _wanted(holds: object, text: str) -> None:
    if not holds:
        raise FaultError(text)


def _told(words: Words, findings: tuple[Finding, ...]) -> None:
    """Every finding can be said and printed."""
    for each in findings[:MOST_TOLD]:
        for text in (*words.finding(each), words.path(each.path)):
            text.encode()


def _book(data: bytes, folder: Path, turn: int) -> Book | None:
    if turn % 8 == 0:
        _undone(data, folder, turn)
        return None
    path = folder / "file.countback"
    path.write_bytes(data)
    read = take_in(load(path))
    _wanted(path.read_bytes() == data, "the file was changed by reading it")
    stops = any(each.stops for each in read.findings)
    _wanted((read.book is None) == stops, "a book and a reason against it, or neither")
    _told(Words("de" if turn % 3 else "en", book=read.book or read.whole), read.findings)
    if read.whole is not None:
        again = take_in(write_book(read.whole))
        _wanted(again.book == read.whole, "the whole part doesn't read back")
    if read.book is not None:
        _unchanged(read.book)
    return read.book


def _undone(data: bytes, folder: Path, turn: int) -> None:
    """The spoiled file as the former book, or as the later one."""
    path = folder / "file.countback"
    good = _good()
    now, former = (data, good) if turn % 16 else (good, data)
    path.write_bytes(now)
    before(path).write_bytes(former)
    lock = take(path, "soak", NOW)
    assert isinstance(lock, Lock)
    with lock:
        undone = undo_file(path, lock)
        is_told = undone.book or any(each.stops for each in undone.findings)
        _wanted(is_told, "undone into nothing, and nothing said")


def _unchanged(book: Book) -> None:
    written = write_book(book)
    again = take_in(written)
    _wanted(again.book == book, "a book that was written doesn't read back as it was")
    _wanted(write_book(book) == written, "the same book is written in two ways")


def _plan(data: bytes, folder: Path, turn: int) -> None:
    path = folder / "file.plan"
    path.write_bytes(data)
    read = read_plan(load(path))
    stops = any(each.stops for each in read.findings)
    _wanted((read.plan is None) == stops, "a plan and a reason against it, or neither")
    words = Words("de" if turn % 3 else "en", book=planned_book())
    _told(words, read.findings)
    if read.plan is None:
        return
    _wanted(read_plan(write_plan(read.plan)).plan == read.plan, "a plan doesn't read back")
    for breach in check(planned_book(), read.plan).breaches[:MOST_TOLD]:
        words.breach(breach).encode()


def _brought(data: bytes, folder: Path, turn: int) -> None:
    """As the window asks, or as a command does by a kind that was said."""
    path = folder / "file"
    path.write_bytes(data)
    data = load(path)
    book, kinds = taken_into(), (*TABLES, *CALENDARS)
    person = book.people[turn % len(book.people)]
    if turn % 2:
        _by_kind(data, kinds[turn // 2 % len(kinds)], person, turn)
        return
    asked = AskBring(book=book, data=data, now=NOW, by="soak", person=person.id)
    found = asked.answer(HELP)
    if found.judged is None:
        _say_none(found.trouble, found.facts, turn)
    else:
        edit = found.edited() if found.can_be_taken else None
        _said(found.kind, replace(found.judged, troubles=found.troubles(0), edited=edit), turn)


def _by_kind(data: bytes, kind: str, person: Person, turn: int) -> None:
    try:
        if kind in TABLES:
            judged = bring_table(taken_into(), kind, data, {}, NOW, "soak")
        else:
            judged = bring_calendar(taken_into(), kind, data, person)
    except NoTable as trouble:
        _say_none(trouble.code, trouble.facts, turn)
    else:
        _said(kind, judged, turn)


def _say_none(code: str, facts: Mapping[str, str | int], turn: int) -> None:
    _words(turn % 3).say(say.NO_TABLE[code], path="x", **facts).encode()


@cache
def _words(turn: int) -> Words:
    return Words("de" if turn % 3 else "en", book=taken_into())


def _said(kind: str, judged: Judged, turn: int) -> None:
    words = _words(turn % 3)
    for each in judged.troubles[:MOST_TOLD]:
        where = (each.row, each.column, judged.columns.get(each.of, each.of))
        if kind in CALENDARS:
            say.entry_line(words, each.row, each.code, each.facts).encode()
        else:
            say.trouble_line(words, where, each.code, each.facts).encode()
    _told(words, judged.findings)
    _wanted(not (judged.troubles and judged.edited), "taken in spite of troubles")
    if judged.edited is not None:
        _unchanged(judged.edited.book)


def _copy(data: bytes, folder: Path, turn: int) -> None:
    """What a copy is of is spoiled; at other turns the copy itself is."""
    here, good = folder / "a.countback", _good()
    here.write_bytes(good)
    (folder / "a.json").write_bytes(data)
    for each in left_behind(folder):
        str(each.of).encode("utf-8", "backslashreplace")
        _wanted(each.is_behind in (True, False), "neither behind nor not")
    _wanted(here.read_bytes() == good, "the copy was changed")


def _settings(data: bytes, folder: Path, turn: int) -> None:
    path = folder / "settings.json"
    path.write_bytes(data)
    found = read_settings(folder)
    write_settings(folder, found)
    _wanted(read_settings(folder) == found, "settings don't read back")
    found.who.encode()


def _lock(data: bytes, folder: Path, turn: int) -> None:
    (folder / ".x.countback.lock").write_bytes(data)
    held = look(folder / "x.countback")
    _wanted(held is not None, "a lock that is there is not seen")
    assert held is not None
    f"{held.host} {held.who}".encode()


def _enquiry(data: bytes, folder: Path, turn: int) -> None:
    path = folder / "job.json"
    path.write_bytes(data)
    try:
        found = _with_enquiry(_plain_book(), str(path))
    except Usage as trouble:
        repr(trouble.facts).encode()
        return
    findings = examine(found[0]) if isinstance(found, tuple) else found.findings
    _told(Words(), findings)
    if isinstance(found, tuple) and not any(each.stops for each in findings):
        _unchanged(found[0])


@cache
def _good() -> bytes:
    return write_book(taken_into())


@cache
def _plain_book() -> Book:
    from tests.house.tree import ROOT

    found = take_in((ROOT / "sample_jobs/repair.countback").read_bytes()).book
    assert found is not None
    return found


HELP: Any = None
"""What answers of files never look at."""
_JUDGES: dict[str, Callable[[bytes, Path, int], Book | None]] = {
    "book": _book,
    "plan": _plan,
    "csv": _brought,
    "xlsx": _brought,
    "ics": _brought,
    "copy": _copy,
    "settings": _settings,
    "lock": _lock,
    "enquiry": _enquiry,
}

"""From the first start to a printed sheet, and from an illness to a plan that people are told."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt

from app.window.main import MainWindow
from app.window.people.days import half_hour
from app.window.people.view import PeopleView
from app.window.sheets.paper import pdf_of
from app.window.sheets.view import SheetsView
from shared.book import Book, Leave, Person
from shared.files.write import write_book
from tests.app.window import pdf_text
from tests.books.samples import small
from tests.journeys.whole import Started, at, book, key, keys, on_disk, settle

pytestmark = [pytest.mark.journey, pytest.mark.screen]

NOW = datetime(2027, 1, 18, 7, 41, tzinfo=UTC)
A4 = (595, 842)
"""ISO 216: 210 by 297 mm, in points, as whole as a PDF has them."""
Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier


def sheets(window: MainWindow) -> SheetsView:
    view = window.shelf.view
    assert isinstance(view, SheetsView)
    return view


def test_first_start_to_a_printed_sheet_by_keys_alone(
    start: Callable[..., Started], tmp_path: Path
) -> None:
    started = start(now=NOW)
    window, asker = started.window, started.asker
    assert started.sentence.startswith("Nothing on the wall yet.")
    for text in ("a garden snail", "2.4 x 1.2 x 1.8", "15 Apr"):
        keys(at(), text)
        key(at(), Key.Key_Tab)
    keys(at(), "England")
    key(at(), Key.Key_Return)
    started.planned()
    assert started.sentence.startswith("Garden snail fits, with ")

    key(at(), "s")
    settle()
    shown = sheets(window).shown
    assert shown is not None
    asker.path = tmp_path / "today"
    key(at(), Key.Key_Return)

    data = (tmp_path / "today.pdf").read_bytes()
    assert pdf_text.boxes(data) == [A4] * len(shown.pages)
    texts = [text for page in pdf_text.pages(data) for text in page]
    at_work = [person for person in shown.sheet.people if any(row.start for row in person.rows)]
    assert at_work, "somebody begins on the first day"
    plan = window.desk.plan
    assert plan is not None
    first = min((p for p in plan.placements if p.people), key=lambda p: p.start)
    names = {person.id: person.name for person in book(window).people}
    assert names[first.people[0]] in texts
    zone = window.desk.words.zone
    told = first.start, half_hour(first.start, zone)
    begins = {f"{when.astimezone(ZoneInfo(zone)):%H:%M}" for when in told}
    assert begins & set(texts), "in half hours but for ends of shifts"
    assert "today.pdf" in window.desk.note

    asker.path = tmp_path / "snail"
    key(at(), Key.Key_S, CTRL)
    settle()
    kept = on_disk(tmp_path / "snail.countback")
    assert [job.name for job in kept.jobs] == ["Garden snail"]
    assert kept.told is None, "printing tells nobody"
    assert window.windowTitle() == "A new book — Countback"


def test_illness_to_a_told_plan_and_back(start: Callable[..., Started], tmp_path: Path) -> None:
    path = tmp_path / "small.countback"
    path.write_bytes(write_book(small()))
    started = start(path).planned()
    window = started.window
    ill = on_the_bench(window)
    leave = choose_an_answer(started, ill, until="Mon 25 Jan")
    started.planned()
    plan = window.desk.plan
    assert plan is not None
    missing = [p for p in plan.placements if ill.id in p.people]
    assert missing
    assert all(p.end <= leave.start or p.start >= leave.end for p in missing)

    key(at(), "s")
    settle()
    key(at(), "y")
    settle()
    told = book(window).told
    assert told is not None
    assert told.plan == plan
    assert sheets(window).shown.sheet.title in texts_of(window)  # type: ignore[union-attr]
    key(at(), Key.Key_S, CTRL)
    settle()
    kept = on_disk(path)
    assert kept.told == told
    assert person_of(kept, ill.id).leave == (leave,)

    for _ in range(2):
        key(at(), Key.Key_Z, CTRL)
        settle()
    assert book(window).told is None
    assert person_of(book(window), ill.id) == ill, "the answer was one undo"
    assert not window.desk.document.undo_label  # type: ignore[union-attr]
    assert on_disk(path) == kept


def choose_an_answer(started: Started, ill: Person, until: str) -> Leave:
    """Say who is away until when, and take the last of the answers by its figure."""
    window = started.window
    key(at(), "a")
    settle()
    view = window.shelf.view
    assert isinstance(view, PeopleView)
    keys(at(), ill.name)
    key(at(), Key.Key_Tab)
    key(at(), Key.Key_Tab)
    key(at(), Key.Key_A, CTRL)
    keys(at(), until)
    key(at(), Key.Key_Return)
    started.wait(lambda: any(entry.is_tried for entry in view.side.panel.entries))
    assert started.sentence.startswith(f"{ill.name} is away")
    assert not person_of(book(window), ill.id).leave, "nothing is changed while it is tried"
    number = len(view.side.panel.entries)
    if number > 1:  # The figure of the one that is tried would take it.
        key(at(), str(number))
        settle()
    assert [e.is_tried for e in view.side.panel.entries] == [False] * (number - 1) + [True]
    key(at(), Key.Key_Return)
    settle()
    (leave,) = person_of(book(window), ill.id).leave
    assert leave.start.date() == (window.desk.now + timedelta(days=1)).date()
    assert leave.end.date() >= date(2027, 1, 25)
    return leave


def texts_of(window: MainWindow) -> list[str]:
    shown = sheets(window).shown
    assert shown is not None
    data = pdf_of(shown.pages, shown.sheet.title)
    return [text for page in pdf_text.pages(data) for text in page]


def on_the_bench(window: MainWindow) -> Person:
    """Whoever has most to do tomorrow."""
    plan, zone = window.desk.plan, ZoneInfo(window.desk.words.zone)
    assert plan is not None
    tomorrow = window.desk.now.astimezone(zone).date() + timedelta(days=1)
    busy = [
        each
        for placed in plan.placements
        if placed.start.astimezone(zone).date() <= tomorrow <= placed.end.astimezone(zone).date()
        for each in placed.people
    ]
    return person_of(book(window), max(sorted(set(busy)), key=busy.count))


def person_of(found: Book, identity: str) -> Person:
    return next(each for each in found.people if each.id == identity)

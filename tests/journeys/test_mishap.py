"""A piece breaks while it is loaded: planned anew, the verdict, the ways out, one of them taken."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from app.window.countback.view import CountbackView
from app.window.views.view import Which
from app.window.wall.items import Role
from app.window.workshop.standing import reach
from app.words import Words
from scheduler.outcome import Verdict
from shared.book import Book, Gate, GateKind
from shared.files.write import write_book
from shared.ids import WindowId
from tests.books.samples import small
from tests.journeys.whole import Started, at, book, key, keys, on_disk, settle

pytestmark = [pytest.mark.journey, pytest.mark.screen]

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
MET = {Verdict.FITS, Verdict.TIGHT}


def at_loading(days: int) -> Book:
    """The owl, packed, so many days before its window; another a week later is on offer."""
    made = small()
    (job,) = made.jobs
    held = job.held_window
    assert held is not None
    week = timedelta(days=7)
    later = replace(held, id=WindowId("later"), start=held.start + week, end=held.end + week)
    offered = replace(made, jobs=(replace(job, windows=(*job.windows, later)),))
    gate = next(s for s in job.steps if isinstance(s, Gate) and s.gate is GateKind.LOADING)
    now = held.start - timedelta(days=days)
    reached = reach(offered, gate.id, now - week, Words(book=made), job.name).book
    return replace(reached, as_of=now, plan=None, told=None)


def choose(started: Started, role: Role) -> None:
    """Go to the first thing of a kind on the wall by its own keys."""
    window = started.window
    for _ in range(20):
        key(at(), "g")
        settle()
        spot = window.wall.spot
        item = window.wall.wall.item(spot.item) if spot is not None else None
        if item is not None and item.role is role:
            return
    raise AssertionError(role)


def test_broken_at_loading_to_a_way_out_that_is_taken(
    start: Callable[..., Started], tmp_path: Path
) -> None:
    path = tmp_path / "owl.countback"
    path.write_bytes(write_book(at_loading(days=12)))
    started = start(path).planned()
    window = started.window
    assert started.sentence.startswith("Reading owl fits, with ")
    before = book(window)
    break_at_loading(started)
    added = [s.name for s in book(window).jobs[0].steps if s not in before.jobs[0].steps]
    assert {"cut back", "laminate again", "lacquer again", "wrap again"} <= set(added)
    started.planned()
    assert started.job().verdict not in MET
    assert started.sentence.startswith("Reading owl: cannot.")
    key(at(), Key.Key_Escape)
    settle()
    assert window.wall.isVisible()
    assert any(item.name.endswith("laminate again") for item in window.wall.wall.items)

    take_a_way_out(started)
    (job,) = book(window).jobs
    assert job.window == "later"
    started.planned()
    assert started.job().verdict in MET
    key(at(), Key.Key_S, CTRL)
    settle()
    assert on_disk(path) == book(window)
    for _ in range(2):
        key(at(), Key.Key_Z, CTRL)
        settle()
    assert book(window).jobs == before.jobs


def break_at_loading(started: Started) -> None:
    """Say of the piece of the loading's row that it was broken."""
    window = started.window
    choose(started, Role.LOADING)
    assert "B" in {name for name, _ in window.slip._keys(window.slip.item)}  # type: ignore[arg-type]
    key(at(), "b")
    settle()
    assert window.sheet.isVisible()
    assert at() is window.sheet.blank("cause")
    keys(at(), "it was broken")
    key(at(), Key.Key_Return)
    settle()
    assert window.desk.document.undo_label.code == "again"  # type: ignore[union-attr]


def take_a_way_out(started: Started) -> None:
    """Ask why and for the ways out, try the first, and take it."""
    window = started.window
    key(at(), "l")
    settle()
    assert window.shelf.front is Which.COUNTBACK
    view = window.shelf.view
    assert isinstance(view, CountbackView)
    started.wait(lambda: view.why.ways is not None and view.why.ways.is_whole)
    ways = view.why.ways
    assert ways is not None
    assert ways.found, ways.sentence
    untried = book(window)
    key(at(), "1")
    started.wait(lambda: window.desk.trial is not None)
    assert book(window) is untried
    assert "Enter takes it" in " ".join(text for text, _ in window.foot.parts)
    key(at(), Key.Key_Return)
    settle()
    assert window.desk.trial is None


def test_what_has_not_begun_has_nothing_to_do_again(
    start: Callable[..., Started], tmp_path: Path
) -> None:
    path = tmp_path / "owl.countback"
    path.write_bytes(write_book(small()))
    started = start(path).planned()
    key(at(), Key.Key_Right)
    key(at(), "b")
    settle()
    sheet = started.window.sheet
    assert sheet.isVisible()
    assert sheet.note("work") == ("Nothing has begun on Head, so there is nothing to do again.")

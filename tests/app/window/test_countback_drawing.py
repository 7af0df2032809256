"""A drawing of the piece: read as SVG 2 says, dropped, pasted, taken back."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QUrl
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.window.countback.drawing import path_of
from app.window.countback.outline import NoDrawing, commands, outlines_of, written
from app.window.countback.view import CountbackView
from app.window.main import MainWindow
from app.window.views.view import Which
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.window.scenes import planted

TRIANGLE = "M 100 100 L 300 100 L 200 300 z"
"""The first example of SVG 2, chapter 9."""


def bounds(data: str) -> tuple[float, float, float, float]:
    rect = path_of(data).boundingRect()
    return rect.left(), rect.top(), rect.right(), rect.bottom()


@pytest.mark.parametrize(
    ("data", "wanted"),
    [
        (TRIANGLE, (100, 100, 300, 300)),
        ("m100,100 200,0-100,200z", (100, 100, 300, 300)),
        ("M100 100H300V300h-200z", (100, 100, 300, 300)),
        ("M0 0 C 0 -10 20 -10 20 0", (0, -7.5, 20, 0)),
        ("M0 0 Q 10 -10 20 0", (0, -5, 20, 0)),
        ("M0 0 Q 10 -10 20 0 T 40 0", (0, -5, 40, 5)),
        ("M0 0A10 10 0 0 1 20 0", (0, -10, 20, 0)),
        ("M0 0a10 10 0 0120 0", (0, -10, 20, 0)),
        ("M0 0A10 10 0 0 0 20 0", (0, 0, 20, 10)),
        ("M0 0A5 5 0 0 1 20 0", (0, -10, 20, 0)),
        ("M10 0A10 5 90 1 1 10 .001", (10, -10, 20, 10)),
    ],
)
def test_path_data_is_read_as_the_standard_has_it(
    data: str, wanted: tuple[float, float, float, float]
) -> None:
    """Lines, curves and arcs by their definitions; an arc too small for its ends grows (B.2.5)."""
    assert bounds(data) == pytest.approx(wanted, abs=0.05)
    assert bounds(written(commands(data))) == pytest.approx(wanted, abs=0.05)


@pytest.mark.parametrize("data", ["", "M", "M 1", "L a b", "M 0 0 X 1 1", "M 0 0 L 1"])
def test_what_is_no_path_is_refused(data: str) -> None:
    with pytest.raises(NoDrawing, match="bad_path"):
        commands(data)


def svg(inside: str, head: str = "") -> str:
    return f'{head}<svg xmlns="http://www.w3.org/2000/svg">{inside}</svg>'


def test_paths_are_found_by_id_or_name_and_moved_by_their_groups() -> None:
    segments = planted().book.jobs[0].segments
    first, second = segments[:2]
    text = svg(
        f'<g transform="translate(10 20)"><path id="{first.id}" d="{TRIANGLE}"/></g>'
        f'<path id="{second.name.upper()}" d="{TRIANGLE}" transform="scale(2)"/>'
        '<path id="ground" d="M0 0H9"/>'
    )
    found = outlines_of(text, segments)
    assert set(found) == {first.id, second.id}
    assert bounds(found[first.id]) == pytest.approx((110, 120, 310, 320), abs=0.01)
    assert bounds(found[second.id]) == pytest.approx((200, 200, 600, 600), abs=0.01)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("no drawing", "not_svg"),
        ("<html/>", "not_svg"),
        (svg('<path id="else" d="M0 0H9"/>'), "no_path"),
        (svg("", '<!DOCTYPE a [<!ENTITY b "b">]>'), "not_svg"),
        (svg(" " * 2_000_000), "too_large"),
    ],
)
def test_what_is_no_drawing_is_refused(text: str, code: str) -> None:
    with pytest.raises(NoDrawing, match=code):
        outlines_of(text, planted().book.jobs[0].segments)


def go(window: MainWindow) -> CountbackView:
    window.shelf.show(Which.COUNTBACK)
    view = window.shelf.view
    assert isinstance(view, CountbackView)
    return view


def a_drawing(view: CountbackView) -> str:
    assert view.one is not None
    return svg(
        "".join(
            f'<path id="{s.id}" d="M{at * 40} 0h30v20h-30z"/>'
            for at, s in enumerate(view.one.job.segments)
        )
    )


def test_a_file_dropped_takes_the_place_of_the_boxes_and_is_taken_back(
    window: MainWindow, tmp_path: Path
) -> None:
    view = go(window)
    assert window.desk.document is not None
    before = window.desk.document.book
    path = tmp_path / "piece.svg"
    path.write_text(a_drawing(view), encoding="utf-8")
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    view.piece_below.dropped.emit(data)
    assert view.one is not None
    assert set(view.piece_below.paths) == {s.id for s in view.one.job.segments}
    boxes = [spot.rect for spot in view.piece_below.spots if spot.id.startswith("box ")]
    assert len(boxes) == len(view.one.job.segments)
    assert all(a.right() < b.left() for a, b in pairwise(boxes))
    assert not window.grab().toImage().isNull()
    assert read_book(write_book(window.desk.document.book)).book == window.desk.document.book
    window.desk.undo()
    assert view.piece_below.paths == {}
    assert window.desk.document.book.jobs == before.jobs


def test_a_drawing_is_pasted_with_the_keyboard_and_deleted(window: MainWindow) -> None:
    view = go(window)
    QApplication.clipboard().setText(a_drawing(view))
    QTest.keySequence(view.piece_below, QKeySequence(QKeySequence.StandardKey.Paste))
    assert view.piece_below.paths
    view.piece_below.setFocus()
    QTest.keySequence(view.piece_below, QKeySequence(QKeySequence.StandardKey.Delete))
    assert view.piece_below.paths == {}


def test_a_file_that_is_none_says_so_and_changes_nothing(
    window: MainWindow, tmp_path: Path
) -> None:
    view = go(window)
    assert window.desk.document is not None
    before = window.desk.document.book
    for name, text in (("a.svg", b"\xff\xfe"), ("b.svg", b"<svg/>"), ("missing.svg", None)):
        if text is not None:
            (tmp_path / name).write_bytes(text)
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(tmp_path / name))])
        view.piece_below.dropped.emit(data)
        assert "not taken" in view.bar.message.text
        assert view.bar.message.is_alarm
    assert window.desk.document.book is before


def test_a_drawing_of_other_hands_that_cannot_be_read_leaves_boxes(window: MainWindow) -> None:
    view = go(window)
    assert window.desk.document is not None
    book = window.desk.document.book
    job = book.jobs[0]
    odd = tuple(replace(each, outline="M nonsense") for each in job.segments)
    jobs = (replace(job, segments=odd), *book.jobs[1:])
    window.desk.job = job.id
    window.desk.document.book = replace(book, jobs=jobs)
    view.refresh()
    assert view.piece_below.paths == {}
    assert view.piece_below.spots

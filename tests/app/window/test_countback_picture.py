"""A picture of the piece: dropped or pasted, kept small in the book, taken back."""

from base64 import b64decode, b64encode
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QUrl
from PySide6.QtGui import QColor, QImage, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.window.countback.drawing import MOST_PIXELS, picture_of
from app.window.countback.view import CountbackView
from app.window.main import MainWindow
from app.window.views.view import Which
from shared.book import Job
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.window.test_countback_drawing import a_drawing


@pytest.fixture
def view(window: MainWindow) -> CountbackView:
    window.shelf.show(Which.COUNTBACK)
    found = window.shelf.view
    assert isinstance(found, CountbackView)
    return found


def job_of(window: MainWindow, view: CountbackView) -> Job:
    assert window.desk.document is not None
    assert view.one is not None
    shown = view.one.job.id
    return next(job for job in window.desk.document.book.jobs if job.id == shown)


def an_image(width: int = 1600, height: int = 800, *, is_clear: bool = False) -> QImage:
    kind = QImage.Format.Format_ARGB32 if is_clear else QImage.Format.Format_RGB32
    image = QImage(width, height, kind)
    image.fill(QColor(200, 40, 40, 0 if is_clear else 255))
    return image


@pytest.mark.parametrize(
    ("ending", "is_clear", "magic"),
    [("jpg", False, b"\xff\xd8\xff"), ("png", True, b"\x89PNG\r\n\x1a\n")],
)
def test_a_file_dropped_is_kept_small_and_shown(
    window: MainWindow,
    view: CountbackView,
    tmp_path: Path,
    ending: str,
    is_clear: bool,
    magic: bytes,
) -> None:
    """The first bytes of JPEG (ISO/IEC 10918-1, B.1.1.3) and of PNG (ISO/IEC 15948, 5.2)."""
    path = tmp_path / f"piece.{ending}"
    assert an_image(is_clear=is_clear).save(str(path))
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    view.piece_below.dropped.emit(data)
    kept = job_of(window, view).picture
    assert kept is not None
    assert b64decode(kept).startswith(magic)
    assert len(kept) < 40_000
    shown = view.piece_below.picture
    assert shown is not None
    assert (shown.width(), shown.height()) == (MOST_PIXELS, MOST_PIXELS // 2)
    spots = {spot.id: spot for spot in view.piece_below.spots}
    assert "picture" in spots
    assert not any(each.startswith("box ") for each in spots)
    assert any(each.startswith("size ") for each in spots), "segments are chosen by their rows"
    assert window.desk.document is not None
    book = window.desk.document.book
    assert read_book(write_book(book)).book == book
    if not is_clear:
        at = spots["picture"].rect.center()
        seen = view.piece_below.grab().toImage()
        ratio = seen.devicePixelRatio()
        colour = seen.pixelColor(round(at.x() * ratio), round(at.y() * ratio))
        assert colour.red() > 150 > colour.green()
    window.desk.undo()
    assert view.piece_below.picture is None
    assert job_of(window, view).picture is None


def test_a_picture_is_pasted_and_deleted_by_keys(window: MainWindow, view: CountbackView) -> None:
    QApplication.clipboard().setImage(an_image(64, 64))
    QTest.keySequence(view.piece_below, QKeySequence(QKeySequence.StandardKey.Paste))
    assert view.piece_below.picture is not None
    view.piece_below.setFocus()
    QTest.keySequence(view.piece_below, QKeySequence(QKeySequence.StandardKey.Delete))
    assert view.piece_below.picture is None


def test_the_last_of_drawing_and_picture_stays(window: MainWindow, view: CountbackView) -> None:
    drawing, picture = QMimeData(), QMimeData()
    drawing.setText(a_drawing(view))
    picture.setImageData(an_image(64, 64))
    for data, has_picture in ((drawing, False), (picture, True), (drawing, False)):
        view.take_drawing(data)
        job = job_of(window, view)
        assert (job.picture is not None) == has_picture
        assert any(each.outline for each in job.segments) != has_picture


def test_what_is_no_picture_says_so(
    window: MainWindow, view: CountbackView, tmp_path: Path
) -> None:
    (tmp_path / "a.png").write_bytes(b"no picture")
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "a.png"))])
    view.take_drawing(data)
    assert view.bar.message.is_alarm
    assert job_of(window, view).picture is None


@pytest.mark.parametrize("odd", ["?", b64encode(b"no picture").decode()])
def test_a_picture_of_other_hands_that_cannot_be_read_leaves_boxes(
    window: MainWindow, view: CountbackView, odd: str
) -> None:
    assert picture_of(replace(job_of(window, view), picture=odd)) is None

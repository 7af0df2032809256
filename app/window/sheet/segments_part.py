"""The segments of a job as a small grid."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from app.window.bits import theme_of
from app.window.guard import guarded
from app.window.sheet import typed, writing
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.form import Form
from app.window.sheet.typed import NotTaken
from app.window.wall import pens
from app.words import window as say
from shared.book import Book
from shared.edits import Edited, remove_segment
from shared.ids import SegmentId

GRID = (say.LENGTH, say.WIDTH, say.HEIGHT_M)


def write_segments(sheet: Form, column: QVBoxLayout) -> None:
    """Write the grid of segments."""
    assert sheet.book is not None
    assert sheet.job is not None
    column.addWidget(Fixed(sheet.say(say.SHEET_SEGMENTS), pixels=17, weight=600, serif=True))
    holder = QWidget()
    grid = QGridLayout(holder)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(2)
    grid.setColumnStretch(0, 1)
    for index, template in enumerate(GRID):
        head = Fixed(sheet.say(template), pixels=12)
        grid.addWidget(head, 0, index + 1, Qt.AlignmentFlag.AlignRight)
    for row, segment in enumerate(writing.job(sheet.book, sheet.job).segments, start=1):
        _segment_row(sheet, grid, row, segment.id)
    column.addWidget(holder)
    sheet.add_note(column, "segments")
    sheet.add_actions(
        column,
        [
            (sheet.say(say.DO_ADD_SEGMENT), partial(_add_segment, sheet)),
            (sheet.say(say.DO_COPY), partial(_copy_segment, sheet)),
            (sheet.say(say.DO_REMOVE), partial(_remove_segment, sheet)),
        ],
    )


def _segment_row(sheet: Form, grid: QGridLayout, row: int, segment: SegmentId) -> None:
    name = sheet.add_blank(
        f"segment {row} name",
        lambda b: _segment(b, segment, "name"),
        lambda b, t: writing.segment_name(b, segment, t),
        pixels=13,
        weight=600 if segment == sheet.segment else 400,
    )
    line = QWidget()
    side = QHBoxLayout(line)
    side.setContentsMargins(0, 0, 0, 0)
    side.setSpacing(5)
    side.addWidget(Chooser(segment == sheet.segment, partial(_on_segment, sheet, segment)))
    side.addWidget(name)
    side.addStretch(1)
    grid.addWidget(line, row, 0)
    name.tell_refused(partial(sheet.refuse, "segments"))
    for index, which in enumerate(writing.SIZES):
        blank = sheet.add_blank(
            f"segment {row} {which}",
            partial(_size, segment, which),
            partial(_write_size, segment, which),
            pixels=13,
            weight=400,
        )
        blank.setAlignment(Qt.AlignmentFlag.AlignRight)
        blank.tell_refused(partial(sheet.refuse, "segments"))
        grid.addWidget(blank, row, index + 1, Qt.AlignmentFlag.AlignRight)


def _on_segment(sheet: Form, segment: SegmentId) -> None:
    sheet.segment = segment
    sheet.settle()
    sheet.refresh()
    sheet.moved.emit(sheet)


def _add_segment(sheet: Form) -> None:
    assert sheet.words is not None
    words, like = sheet.words, sheet.segment
    if like is not None:
        sheet.do(lambda b: writing.another_segment(b, like, words))


def _copy_segment(sheet: Form) -> None:
    assert sheet.words is not None
    words, like = sheet.words, sheet.segment
    if like is not None:
        sheet.do(lambda b: writing.same_segment(b, like, words))


def _remove_segment(sheet: Form) -> None:
    assert sheet.book is not None
    assert sheet.job is not None
    if len(writing.job(sheet.book, sheet.job).segments) < 2:
        sheet.refuse("segments", NotTaken("last_segment"))
    elif sheet.segment is not None:
        gone = sheet.segment
        sheet.do(lambda b: remove_segment(b, gone))


def _segment(book: Book, segment: SegmentId, field: str) -> str:
    found = next(s for job in book.jobs for s in job.segments if s.id == segment)
    return str(getattr(found, field))


def _size(segment: SegmentId, which: str, book: Book) -> str:
    found = next(s for job in book.jobs for s in job.segments if s.id == segment)
    return typed.figure(getattr(found, which))


def _write_size(segment: SegmentId, which: str, book: Book, text: str) -> Edited:
    return writing.segment_size(book, segment, which, text)


class Chooser(QAbstractButton):
    """A mark at the left of a segment's row; filled when it is the one written out below."""

    def __init__(self, chosen: bool, do: Callable[[], None]) -> None:
        super().__init__()
        self._chosen = chosen
        self.setFixedSize(14, 22)
        self.setAccessibleName("●" if chosen else "○")
        self.clicked.connect(do)

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(14, 22)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        if self._chosen:
            pens.flat_rect(painter, 2, 3, 3, 16, of.ink)
        elif self.underMouse() or self.hasFocus():
            pens.flat_rect(painter, 2, 3, 3, 16, of.ink3)
        painter.end()

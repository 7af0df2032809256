"""The segments of a job as a small grid: arrows and Tab walk it, rows can be pasted into it."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from app.window.bits import KeyWord, theme_of
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.sheet import estimating, grid, through, typed, writing
from app.window.sheet.blanks import Blank, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.form import Form
from app.window.sheet.through import Trouble
from app.window.sheet.typed import NotTaken
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import editor as say
from app.words import window as window_words
from shared.book import Book, Detail, Finish
from shared.edits import Edited, move_segment, remove_segment
from shared.ids import SegmentId

HOURS = {"low": say.HOURS_LOW, "likely": say.HOURS_LIKELY, "high": say.HOURS_HIGH}
_EDGES = {
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
    Qt.Key.Key_Return: (0, 1),
    Qt.Key.Key_Enter: (0, 1),
}
_DOING: dict[tuple[Qt.Key, Qt.KeyboardModifier], str] = {
    (Qt.Key.Key_Insert, Qt.KeyboardModifier.NoModifier): "another",
    (Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier): "again",
    (Qt.Key.Key_Delete, Qt.KeyboardModifier.ControlModifier): "remove",
    (Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier): "earlier",
    (Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier): "later",
}


class Cell(Blank):
    """A cell of the grid.

    walked: go to the cell beside it. pasted: rows of a table. done: a key that changes the rows.
    arrived: the caret has come here.
    """

    walked = Signal(int, int)
    pasted = Signal(str)
    done = Signal(str)
    arrived = Signal()
    has_line = False

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, held = Qt.Key(event.key()), event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        table = (
            QGuiApplication.clipboard().text()
            if event.matches(QKeySequence.StandardKey.Paste)
            else ""
        )
        if grid.is_table(table):
            self.pasted.emit(table)
        elif (key, held) in _DOING:
            self.done.emit(_DOING[key, held])
        elif not held and key in _EDGES:
            if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                super().keyPressEvent(event)
            self.walked.emit(*_EDGES[key])
        elif not held and self._is_at_edge(key):
            self.walked.emit(-1 if key is Qt.Key.Key_Left else 1, 0)
        else:
            super().keyPressEvent(event)

    def _is_at_edge(self, key: Qt.Key) -> bool:
        whole = self.hasSelectedText() and self.selectedText() == self.text()
        if key is Qt.Key.Key_Left:
            return whole or self.cursorPosition() == 0
        return key is Qt.Key.Key_Right and (whole or self.cursorPosition() == len(self.text()))

    @guarded
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.arrived.emit()


class Told(QWidget):
    """A figure that nobody types, at the right of its column."""

    def __init__(self, read: Callable[[], str], *, is_strong: bool, wide: int) -> None:
        super().__init__()
        self._read, self._weight = read, 600 if is_strong else 400
        self.setFixedSize(px(wide), px(22))

    @guarded
    def sizeHint(self) -> QSize:
        return self.size()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        text = self._read()
        ink = of.ink if self._weight == 600 else of.ink2
        x = self.width() - text_width(text, 13, self._weight) - 2
        pens.words(painter, x, px(16), text, ink, 13, self._weight)
        painter.end()


class Rows(QWidget):
    """The ground of the grid: a hairline over each row."""

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        lines = [QRect(0, mark.y() - 2, self.width(), 1) for mark in self.findChildren(RowMark)]
        pens.flat_rects(painter, lines, of.line)
        painter.end()


class RowMark(QWidget):
    """The mark at the left of the row whose making is written out below."""

    def __init__(self, is_chosen: Callable[[], bool]) -> None:
        super().__init__()
        self._is_chosen = is_chosen
        self.setFixedSize(6, px(22))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        if self._is_chosen():
            painter = QPainter(self)
            pens.flat_rect(painter, 0, 0, 3, self.height(), theme_of(self).ink)
            painter.end()


def write_segments(sheet: Form, column: QVBoxLayout) -> None:
    """Write the grid of segments."""
    assert sheet.book is not None
    assert sheet.job is not None
    holder = Rows()
    lay = QGridLayout(holder)
    lay.setContentsMargins(0, 0, 0, 0)
    lay.setHorizontalSpacing(10)
    lay.setVerticalSpacing(2)
    _heads(sheet, lay)
    segments = writing.job(sheet.book, sheet.job).segments
    for number, segment in enumerate(segments, start=1):
        _row(sheet, lay, number, segment.id)
    lay.setColumnStretch(1, 1)
    column.addWidget(holder)
    sheet.add_note(column, "segments")
    _actions(sheet, column)


def _heads(sheet: Form, lay: QGridLayout) -> None:
    title = Fixed(sheet.say(window_words.SHEET_SEGMENTS), pixels=17, weight=600, serif=True)
    lay.addWidget(title, 0, 0, 1, 2)
    right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom
    left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
    for place, name in enumerate(grid.COLUMNS[1:], start=2):
        head = Fixed(sheet.say(grid.HEADS[name]), pixels=12)
        lay.addWidget(head, 0, place, right if name in grid.FIGURES else left)
    for place, template in enumerate(HOURS.values(), start=len(grid.COLUMNS) + 1):
        lay.addWidget(Fixed(sheet.say(template), pixels=12), 0, place, right)


def _row(sheet: Form, lay: QGridLayout, number: int, segment: SegmentId) -> None:
    words = sheet.words
    assert words is not None
    lay.addWidget(RowMark(lambda: sheet.segment == segment), 3 * number, 0)
    for place, name in enumerate(grid.COLUMNS, start=1):
        cell = sheet.add_blank(
            f"segment {number} {name}",
            partial(_read, segment, name, words),
            partial(_write, sheet, segment, name),
            pixels=13,
            weight=600 if name == "name" else 400,
            suggestions=grid.suggestions(name, words),
            label=_label(sheet, segment, name),
            hint=_hint(sheet, name),
            of=Cell,
        )
        assert isinstance(cell, Cell)
        _connect(sheet, cell, number, segment, name)
        side = Qt.AlignmentFlag.AlignRight if name in grid.FIGURES else Qt.AlignmentFlag.AlignLeft
        cell.setAlignment(side)
        lay.addWidget(cell, 3 * number, place, side)
    for place, which in enumerate(HOURS, start=len(grid.COLUMNS) + 1):
        read = partial(_hours, sheet, segment, which)
        lay.addWidget(Told(read, is_strong=which == "likely", wide=44), 3 * number, place)
    note = sheet.make_note(f"segment {number}")
    lay.addWidget(note, 3 * number + 1, 1, 1, len(grid.COLUMNS) + len(HOURS))
    trouble = sheet.troubles().get(segment)
    if trouble is not None:
        line = _trouble_line(sheet, segment, trouble)
        lay.addWidget(line, 3 * number + 2, 1, 1, len(grid.COLUMNS) + len(HOURS))


def _hint(sheet: Form, name: str) -> str:
    """Return what an empty cell means."""
    templates = {"detail": say.DETAILS[Detail.USUAL], "finish_class": say.FINISHES[Finish.USUAL]}
    return sheet.say(templates[name]) if name in templates else "–"


def _trouble_line(sheet: Form, segment: SegmentId, trouble: Trouble) -> QWidget:
    """Return why a segment doesn't pass, with the word that cuts it."""
    holder = QWidget()
    lay = QHBoxLayout(holder)
    lay.setContentsMargins(0, 0, 0, 0)
    note = Note()
    if trouble.count:
        note.say(trouble.line)
        number = sheet.words.number_word(trouble.count) if sheet.words else ""
        word = sheet.say(say.CUT, count=trouble.count, number=number)
        lay.addWidget(note, 1)
        lay.addWidget(KeyWord(word, partial(_cut, sheet, segment)))
    else:
        note.say(f"{trouble.line} {sheet.say(say.NO_CUT)}")
        lay.addWidget(note, 1)
    return holder


def _cut(sheet: Form, segment: SegmentId) -> None:
    assert sheet.book is not None
    assert sheet.words is not None
    assert sheet.job is not None
    edited = through.cut(sheet.book, sheet.job, segment, sheet.words)
    if edited is not None:
        sheet.edited.emit(estimating.following(sheet.book, edited, sheet.job), "")


def _label(sheet: Form, segment: SegmentId, name: str) -> str:
    assert sheet.book is not None
    column = sheet.say(grid.HEADS[name])
    assert sheet.words is not None
    called = grid.read(sheet.book, segment, "name", sheet.words)
    return sheet.say(say.CELL_NAME, column=column, segment=called)


def _connect(sheet: Form, cell: Cell, number: int, segment: SegmentId, name: str) -> None:
    cell.tell_refused(partial(sheet.refuse, f"segment {number}"))
    cell.walked.connect(partial(_walk, sheet, segment, name))
    cell.pasted.connect(partial(_paste, sheet, segment, name))
    cell.done.connect(partial(do_with_segment, sheet))
    cell.arrived.connect(partial(_choose, sheet, segment))


def _read(segment: SegmentId, name: str, words: Words, book: Book) -> str:
    return grid.read(book, segment, name, words)


def _write(sheet: Form, segment: SegmentId, name: str, book: Book, text: str) -> Edited:
    assert sheet.words is not None
    assert sheet.job is not None
    edited = grid.write(book, segment, name, text, sheet.words)
    return edited if name == "name" else estimating.following(book, edited, sheet.job)


def _hours(sheet: Form, segment: SegmentId, which: str) -> str:
    found = sheet.hours().get(segment)
    return "" if found is None else typed.figure(getattr(found, which))


def _choose(sheet: Form, segment: SegmentId) -> None:
    if sheet.segment != segment:
        sheet.segment = segment
        sheet.settle()
        sheet.refresh()
        sheet.moved.emit(sheet)


def _walk(sheet: Form, segment: SegmentId, name: str, dx: int, dy: int) -> None:
    assert sheet.book is not None
    assert sheet.job is not None
    segments = [each.id for each in writing.job(sheet.book, sheet.job).segments]
    if segment not in segments:
        return
    found = grid.neighbour(segments, (segment, name), dx, dy)
    if found is not None:
        sheet.enter(f"segment {segments.index(found[0]) + 1} {found[1]}")


def _paste(sheet: Form, segment: SegmentId, name: str, text: str) -> None:
    assert sheet.book is not None
    assert sheet.words is not None
    assert sheet.job is not None
    try:
        edited = grid.paste(sheet.book, sheet.job, (segment, name), text, sheet.words)
    except NotTaken as no:
        sheet.refuse("segments", no)
        return
    sheet.edited.emit(estimating.following(sheet.book, edited, sheet.job), "")


def do_with_segment(sheet: Form, what: str) -> None:
    """Add another segment, the same again, remove the chosen one or move it past another."""
    words, like, job = sheet.words, sheet.segment, sheet.job
    assert words is not None
    assert sheet.book is not None
    assert job is not None
    if like is None:
        return
    if what == "another":
        sheet.do(lambda b: writing.another_segment(b, like, words))
    elif what == "again":
        sheet.do(lambda b: writing.same_segment(b, like, words))
    elif what in {"earlier", "later"}:
        ids = [each.id for each in writing.job(sheet.book, job).segments]
        to = ids.index(like) + (1 if what == "later" else -1)
        sheet.do(lambda b: move_segment(b, like, to))
        sheet.enter_later(f"segment {max(0, min(to, len(ids) - 1)) + 1} name")
    elif len(writing.job(sheet.book, job).segments) < 2:
        sheet.refuse("segments", NotTaken("last_segment"))
    else:
        sheet.do(lambda b: remove_segment(b, like))


def _actions(sheet: Form, column: QVBoxLayout) -> None:
    flow = sheet.add_actions(
        column,
        [
            (
                sheet.say(window_words.DO_ADD_SEGMENT),
                partial(do_with_segment, sheet, "another"),
                "Ins",
            ),
            (sheet.say(window_words.DO_COPY), partial(do_with_segment, sheet, "again"), "Ctrl D"),
            (
                sheet.say(window_words.DO_REMOVE),
                partial(do_with_segment, sheet, "remove"),
                "Ctrl Del",
            ),
        ],
    )
    flow.addWidget(Told(partial(_in_all, sheet), is_strong=False, wide=330))


def _in_all(sheet: Form) -> str:
    """Return the hours of all segments, and what else can be done here."""
    sums = [Decimal(0)] * len(HOURS)
    for hours in sheet.hours().values():
        for place, which in enumerate(HOURS):
            sums[place] += getattr(hours, which)
    low, likely, high = (typed.figure(each) for each in sums)
    told = sheet.say(say.ALL_HOURS, low=low, likely=likely, high=high)
    return f"{told}; {sheet.say(say.PASTE)}"

"""A part of the workshop's page as widgets: sentences with blanks, grids, findings below."""

from collections.abc import Callable, Iterable
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.bits import KeyWord, theme_of
from app.window.guard import guarded
from app.window.sheet.blanks import Blank, Flow, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.sentence import pieces
from app.window.sheet.typed import NotTaken
from app.window.spots.drawn import Drawn
from app.window.tokens import px
from app.window.wall import pens
from app.window.workshop.items import (
    Act,
    Field,
    Grid,
    Item,
    Part,
    Records,
    Sentence,
    Standing,
    Text,
    Ticks,
    Title,
    line_for,
)
from app.window.workshop.ticks import BOX, paint_level
from app.words import Words
from app.words import workshop_view as say
from app.words.fields import field_text
from shared.book import Book
from shared.findings import Finding

if TYPE_CHECKING:
    from shared.edits import Edited

MOST_WIDTH = 1140
NO_PART = Part(name="", title="")


class ListBlank(Blank):
    """A blank into which a list of several lines is pasted whole."""

    def __init__(
        self,
        label: str,
        read: Callable[[], str],
        write: Callable[[str], None],
        *,
        hint: str,
    ) -> None:
        super().__init__(label, read, write, hint=hint)
        self._taking = write

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        text = QGuiApplication.clipboard().text()
        if event.matches(QKeySequence.StandardKey.Paste) and "\n" in text.strip():
            self.take_list(text)
        else:
            super().keyPressEvent(event)

    def take_list(self, text: str) -> None:
        """Take a list of several lines, as if all of it had been typed."""
        try:
            self._taking(text)
        except NotTaken as no:
            self._set_refused(no)


class TickBox(QAbstractButton):
    """A box that is ticked or not: Space or a click."""

    def __init__(self, field: Field, turn: Callable[[str], object]) -> None:
        super().__init__()
        self.setCheckable(True)
        self.setChecked(bool(field.text))
        self.setAccessibleName(field_text(field.label))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFixedSize(BOX + 8, px(15) + 11)
        self.clicked.connect(lambda is_ticked: turn("yes" if is_ticked else ""))

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(BOX + 8, px(15) + 11)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        paint_level(painter, of, 4, (self.height() - BOX) // 2, "yes" if self.isChecked() else "")
        if self.hasFocus():
            pens.frame(painter, self.rect(), of.ink, 2)
        painter.end()


class Paper(QScrollArea):
    """Shows one part. edited: an edit, and what it merges with. before: what Tab leaves for it.

    tab_chain: that and all blanks, in the order in which Tab goes on.
    """

    edited = Signal(object, str)

    def __init__(self, ticks: Drawn, strips: Drawn, dots: Drawn) -> None:
        super().__init__()
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._lasting: dict[type, Drawn] = {Ticks: ticks, Standing: strips, Records: dots}
        for part in self._lasting.values():
            part.hide()
            part.setParent(self)
        self.part, self.words = NO_PART, Words()
        self._book: Book | None = None
        self._findings: tuple[Finding, ...] = ()
        self._fields: dict[str, Field] = {}
        self._blanks: dict[str, Blank] = {}
        self._boxes: dict[str, TickBox] = {}
        self._notes: dict[str, Note] = {}
        self._lines: dict[str, str] = {}
        self._refused: set[str] = set()
        self._shape: object = None
        self._wanted = ""
        self.tab_chain: list[QWidget] = []
        self.before: QWidget | None = None

    # Showing.

    def show_part(self, part: Part, book: Book, words: Words, findings: Iterable[Finding]) -> None:
        """Show a part of a book; laid out anew only where there is more or less of it."""
        self.part, self.words, self._book = part, words, book
        self._findings = tuple(each for each in findings if part.owns(each))
        self._fields = {field.name: field for field in part.fields}
        if _shape_of(part) != self._shape:
            QTimer.singleShot(0, self, self.lay_out)
            return
        for name, blank in self._blanks.items():
            blank.setAccessibleName(field_text(self._fields[name].label))
            blank.refresh()
        for name, box in self._boxes.items():
            box.setChecked(bool(self._fields[name].text))
        self._say_findings()

    def lay_out(self) -> None:
        """Write the part anew; what has the keyboard keeps it."""
        shape = _shape_of(self.part)
        if shape == self._shape:
            return
        self._shape = shape
        focused = self._wanted or self._focused()
        self._wanted = ""
        at = self.verticalScrollBar().value()
        self._blanks, self._boxes, self._notes, self._lines = {}, {}, {}, {}
        self._refused.clear()
        self.tab_chain = [self.before] if self.before is not None else []
        for part in self._lasting.values():
            part.hide()
            part.setParent(self)
        body = QWidget()
        if not any(isinstance(item, Standing) for item in self.part.items):
            body.setMaximumWidth(px(MOST_WIDTH))
        column = QVBoxLayout(body)
        column.setContentsMargins(20, 14, 20, 24)
        column.setSpacing(3)
        self._add_note(column, "")
        for number, item in enumerate(self.part.items):
            self._add(column, number, item)
        column.addStretch(1)
        self.setWidget(body)
        body.show()
        self.verticalScrollBar().setValue(at)
        self._say_findings()
        self.focus(focused)

    def _focused(self) -> str:
        for kind, part in self._lasting.items():
            if part.hasFocus():
                return kind.__name__
        widgets: dict[str, QWidget] = {**self._blanks, **self._boxes}
        return next((name for name, widget in widgets.items() if widget.hasFocus()), "")

    def focus(self, name: str) -> bool:
        """Give the keyboard to a blank, a box or a drawn part by its name."""
        for kind, part in self._lasting.items():
            if kind.__name__ == name and part.isVisibleTo(self):
                part.setFocus()
                return True
        widget = self._blanks.get(name) or self._boxes.get(name)
        if widget is not None:
            widget.setFocus()
            self.ensureWidgetVisible(widget, 0, 60)
        return widget is not None

    def focus_when_there(self, name: str) -> None:
        """Give the keyboard to what comes with the next layout, or is there already."""
        if not self.focus(name):
            self._wanted = name

    def blank(self, name: str) -> Blank:
        """Return a blank by its name."""
        return self._blanks[name]

    def box(self, name: str) -> TickBox:
        """Return a box by its name."""
        return self._boxes[name]

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all blanks and boxes, in reading order."""
        return tuple(name for name in self._fields if name in self._blanks or name in self._boxes)

    def note(self, line: str = "") -> str:
        """Return what stands under a line; "" is the line at the top."""
        return self._notes[line].text if line in self._notes else ""

    @property
    def notes(self) -> tuple[str, ...]:
        """All that stands under lines."""
        return tuple(note.text for note in self._notes.values() if note.text)

    # Writing the items.

    def _add(self, column: QVBoxLayout, number: int, item: Item) -> None:
        if isinstance(item, Title):
            self._add_title(column, item)
        elif isinstance(item, Sentence):
            self._add_sentence(column, f"{number}", item)
        elif isinstance(item, Grid):
            self._add_grid(column, number, item)
        elif isinstance(item, Text):
            self._add_text(column, item)
        else:
            part = self._lasting[type(item)]
            column.addWidget(part)
            part.show()
            self.tab_chain.append(part)

    def _add_title(self, column: QVBoxLayout, item: Title) -> None:
        holder = QWidget()
        line = QHBoxLayout(holder)
        line.setContentsMargins(0, 10, 0, 2)
        line.setSpacing(12)
        line.addWidget(Fixed(item.text, pixels=17, weight=600, serif=True))
        if item.aside:
            line.addWidget(Fixed(item.aside, pixels=12))
        line.addStretch(1)
        column.addWidget(holder)

    def _add_text(self, column: QVBoxLayout, item: Text) -> None:
        if not item.is_bold:
            note = Note(is_alarm=False)
            column.addWidget(note)
            note.say(item.text)
            return
        holder = QWidget()
        flow = Flow(10)
        holder.setLayout(flow)
        flow.addWidget(Fixed(item.text, pixels=15, weight=600))
        self._add_acts(flow, item.acts)
        column.addWidget(holder)

    def _add_sentence(self, column: QVBoxLayout, line: str, item: Sentence) -> None:
        holder = QWidget()
        flow = Flow()
        holder.setLayout(flow)
        fields = dict(item.fields)
        for piece in pieces(self.words, item.template, fields):
            found = fields.get(piece.field)
            if isinstance(found, Field):
                flow.addWidget(self._widget(found, line, 15))
            elif found:
                flow.addWidget(Fixed(found, weight=600))
            elif piece.text:
                flow.addWidget(Fixed(piece.text))
        self._add_acts(flow, item.acts)
        column.addWidget(holder)
        self._add_note(column, line)

    def _add_grid(self, column: QVBoxLayout, number: int, item: Grid) -> None:
        holder = QWidget()
        grid = QGridLayout(holder)
        grid.setContentsMargins(0, 2, 0, 2)
        grid.setHorizontalSpacing(18)
        grid.setVerticalSpacing(0)
        sides = [_side(field) for field in item.rows[0].fields] if item.rows else []
        if item.rows and item.rows[0].label:
            sides.insert(0, Qt.AlignmentFlag.AlignLeft)
        for at, (head, side) in enumerate(zip(item.heads, sides, strict=True)):
            grid.addWidget(Fixed(head, pixels=12), 0, at, side)
        for at, row in enumerate(item.rows):
            line = f"{number} {at}"
            if row.label:
                grid.addWidget(Fixed(row.label, pixels=13, weight=600), 2 * at + 1, 0)
            for place, field in enumerate(row.fields, start=bool(row.label)):
                grid.addWidget(self._widget(field, line, 13), 2 * at + 1, place, _side(field))
            if row.acts:
                grid.addWidget(self._flow(row.acts), 2 * at + 1, len(sides))
            self._notes[line] = Note()
            grid.addWidget(self._notes[line], 2 * at + 2, 0, 1, len(sides) + 1)
        grid.setColumnStretch(max(len(item.heads), 1), 1)
        column.addWidget(holder)
        for above, below in pairwise(item.rows):
            for field, under in zip(above.fields, below.fields, strict=True):
                if field.name in self._blanks:
                    enter = partial(self.focus_when_there, under.name)
                    self._blanks[field.name].entered.connect(enter)

    def _widget(self, field: Field, line: str, pixels: int) -> QWidget:
        self._lines[field.name] = line
        taken = partial(self._take, field.name)
        if field.is_tick:
            self._boxes[field.name] = TickBox(field, taken)
            self.tab_chain.append(self._boxes[field.name])
            return self._boxes[field.name]
        read = partial(self._read, field.name)
        if field.is_list:
            blank: Blank = ListBlank(field.label, read, taken, hint=field.hint)
        else:
            blank = Blank(
                field.label,
                read,
                taken,
                pixels=pixels,
                weight=600 if pixels > 13 else 400,
                suggestions=field.suggestions,
                hint=field.hint,
            )
        if field.is_figure:
            blank.setAlignment(Qt.AlignmentFlag.AlignRight)
        blank.tell_refused(partial(self._refuse, line))
        self._blanks[field.name] = blank
        self.tab_chain.append(blank)
        return blank

    def _flow(self, acts: Iterable[Act]) -> QWidget:
        holder = QWidget()
        flow = Flow(10)
        holder.setLayout(flow)
        self._add_acts(flow, acts)
        return holder

    def _add_acts(self, flow: QLayout, acts: Iterable[Act]) -> None:
        for act in acts:
            word = KeyWord(act.text, partial(self._do, act))
            flow.addWidget(_lowered(word))
            self.tab_chain.append(word)

    def _add_note(self, column: QVBoxLayout, line: str) -> None:
        self._notes[line] = Note()
        column.addWidget(self._notes[line])

    # Doing.

    def _read(self, name: str) -> str:
        field = self._fields.get(name)
        return field.text if field else ""

    def _take(self, name: str, text: str) -> None:
        field = self._fields[name]
        if field.keep is not None:
            field.keep(text)
        elif self._book is not None:
            merge = "" if "add " in name else f"workshop {name} {field.label}"
            self.edited.emit(field.write(self._book, text), merge)

    def _do(self, act: Act) -> None:
        if act.edit is not None and self._book is not None:
            edited: Edited = act.edit(self._book)
            self.edited.emit(edited, "")

    def _refuse(self, line: str, no: NotTaken | None) -> None:
        if line not in self._notes:
            return
        if no is not None:
            self._refused.add(line)
            self._notes[line].say(say.not_taken(self.words, no.code, **no.facts))
        else:
            self._refused.discard(line)
            self._say_findings()

    def _say_findings(self) -> None:
        """Put each finding under the line that it is about, with its cure."""
        by_line: dict[str, list[str]] = {}
        for finding in self._findings:
            sentence, cure = self.words.finding(finding)
            line = line_for(self.part, finding)
            about = f"{finding.name}: " if finding.name and not line else ""
            by_line.setdefault(line, []).append(f"{about}{sentence} {cure}")
        for line, note in self._notes.items():
            if line not in self._refused:
                note.say(" ".join(dict.fromkeys(by_line.get(line, []))))
        paths = {finding.path for finding in self._findings}
        for name, blank in self._blanks.items():
            blank.set_found(self._fields[name].path in paths)


def _shape_of(part: Part) -> object:
    """Return what makes more or less of a part; what only stands in fields does not."""
    found: list[object] = [part.name]
    for item in part.items:
        if isinstance(item, Sentence):
            fields = tuple(f.name if isinstance(f, Field) else f for _, f in item.fields)
            found.append((item.template, fields, tuple(act.text for act in item.acts)))
        elif isinstance(item, Grid):
            found.append((item.heads, tuple(f.name for row in item.rows for f in row.fields)))
        else:
            found.append(item if isinstance(item, Title) else _words_of(item))
    return tuple(found)


def _words_of(item: Item) -> object:
    if isinstance(item, Text):
        return item.text, item.is_bold, tuple(act.text for act in item.acts)
    return type(item).__name__


def _lowered(word: KeyWord) -> QWidget:
    """Return a word with its baseline on that of the words and blanks before it."""
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 4, 0, 0)
    column.addWidget(word)
    holder.setFixedSize(word.width(), word.height() + 4)
    return holder


def _side(field: Field) -> Qt.AlignmentFlag:
    return Qt.AlignmentFlag.AlignRight if field.is_figure else Qt.AlignmentFlag.AlignLeft

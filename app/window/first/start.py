"""The page of an empty wall: its ghost, a sentence with four blanks, and the other ways in."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QEvent, QLocale, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.window.bits import KeyWord, paint_key, theme_of
from app.window.desk import Desk
from app.window.first import asked
from app.window.first.asked import FIELDS, Blanks
from app.window.first.ghost import Ghost, paint_ghost
from app.window.first.usual import NAMES, text_of, usual, with_text
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.reader import READER
from app.window.sheet.blanks import Blank, Flow, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.sentence import pieces
from app.window.sheet.typed import NotTaken
from app.window.tokens import px
from app.window.wall import pens
from app.words import first as say
from app.words import window as window_words
from app.words.template import Template
from shared.worktime.zones import local_date

LEFT, TEXT, RIGHT = 24, 86, 24
LINE = 36
LEAST_GHOST = 120
SENTENCE_PIXELS, USUAL_PIXELS = 19, 14
_HINTS: dict[str, Template] = {
    "what": say.HINT_WHAT,
    "size": say.HINT_SIZE,
    "by": say.HINT_DATE,
    "country": say.HINT_COUNTRY,
    "past": say.HINT_PAST,
    "times": say.HINT_TIMES,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """What else can be done here. recent: names of books opened lately, each with what opens it."""

    open_: Callable[[], object]
    sample: Callable[[str], object]
    begin: Callable[[], object]
    recent: tuple[tuple[str, Callable[[], object]], ...] = ()


class Line(QAbstractButton):
    """A way in: its key, what it is, and a word about it."""

    def __init__(self, key: str, title: str, note: str, do: Callable[[], object]) -> None:
        super().__init__()
        self.key, self._note = key, note
        self.setText(title)
        self.setAccessibleName(f"{title}, {key}")
        self.setAccessibleDescription(note)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(lambda: do())
        self.is_high = False
        self.setFixedSize(self.sizeHint())

    def fit(self, room: int) -> None:
        """Write the note under the title where both are too wide for one row."""
        self.is_high = self._wide() > room
        self.setFixedSize(min(self.sizeHint().width(), room), self.sizeHint().height())

    def _wide(self) -> int:
        title = text_width(self.text(), SENTENCE_PIXELS - 1, 600, serif=True)
        return round(TEXT - LEFT + title + 18 + text_width(self._note, 13)) + 11

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(self._wide(), px(2 * LINE - 10 if self.is_high else LINE - 6))

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        paint_key(painter, of, 3, px(19), self.key)
        pixels = SENTENCE_PIXELS - 1
        x = pens.words(
            painter, TEXT - LEFT + 3, px(21), self.text(), of.ink, pixels, 600, serif=True
        )
        if self.underMouse():
            pens.flat_rect(painter, TEXT - LEFT + 3, px(25), round(x) - TEXT + LEFT - 3, 1, of.ink)
        left, base = (TEXT - LEFT + 3, px(20 + 24)) if self.is_high else (x + 18, px(20))
        pens.words(painter, left, base, self._note, of.ink2, 13)
        if self.hasFocus():
            pens.frame(painter, self.rect(), of.ink, 2)
        painter.end()

    @guarded
    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()

    @guarded
    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()


class Start(QWidget):
    """Write a job in four blanks; Enter in the last answers. Its letters work outside blanks.

    answered: the edit that puts the job into the book. is_first: nothing is on the wall yet.
    behind: gives a picture of what is, where something is.
    """

    answered = Signal(object)

    def __init__(
        self,
        desk: Desk,
        ways: Ways,
        *,
        is_first: bool,
        behind: Callable[[], QPixmap] | None = None,
    ) -> None:
        super().__init__()
        self._behind = behind
        self._picture: QPixmap | None = None
        assert desk.document is not None
        self.desk, self.ways, self.is_first = desk, ways, is_first
        self.book, self.words = desk.document.book, desk.words
        self.blanks = Blanks(country=self._home())
        self.assumed = usual()
        self.fields: dict[str, Blank] = {}
        self._is_new = True
        self._refused: dict[str, str] = {}
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setAccessibleName(self.words.say(window_words.EMPTY))
        self._readers = asked.readers(self.words, self.book, desk.now)
        self._write()

    def _home(self) -> str:
        from shared.asking import country_named

        own = self.book.workshop.country
        system = QLocale.territoryToCode(QLocale.system().territory())
        if asked.is_bare(self.book) and country_named(system) is not None:
            own = system
        found = country_named(own)
        return self.words.brought(found.name) if found is not None else ""

    # Writing.

    def _write(self) -> None:
        self._sentence = self._holder(
            say.SENTENCE, {name: self._blank(name) for name in FIELDS}, SENTENCE_PIXELS, serif=True
        )
        self._like: QWidget | None = None
        if any(job.segments for job in self.book.jobs):
            blanks = {name: self._blank(name) for name in ("past", "times")}
            self._like = self._holder(say.SENTENCE_LIKE, blanks, SENTENCE_PIXELS, serif=True)
        self._note = Note()
        self._note.setParent(self)
        self._lines = self._ways()
        self._extras = self._more()
        self._usual: list[QWidget] = []
        if asked.is_bare(self.book):
            for template in (say.USUAL_HOURS, say.USUAL_OTHERS):
                self._usual.append(self._usual_line(template))

    def _blank(self, name: str) -> Blank:
        suggestions: tuple[str, ...] = ()
        if name == "past":
            suggestions = tuple(job.name for job in self.book.jobs if job.segments)
        hint = self.words.say(_HINTS[name])
        made = Blank(
            hint,
            lambda: getattr(self.blanks, name),
            partial(self._take, name),
            pixels=SENTENCE_PIXELS,
            serif=True,
            hint=hint,
            suggestions=suggestions,
        )
        made.tell_refused(partial(self._refuse, name))
        made.entered.connect(self.answer)
        self.fields[name] = made
        return made

    def _usual_line(self, template: Template) -> QWidget:
        blanks = {name: self._usual_blank(name) for name in NAMES if f"{{{name}}}" in str(template)}
        return self._holder(template, blanks, USUAL_PIXELS, serif=False)

    def _usual_blank(self, name: str) -> Blank:
        made = Blank(
            self.words.say(say.USUAL_NAMES[name]),
            lambda: text_of(self.assumed, name, self.words),
            partial(self._take_usual, name),
            pixels=USUAL_PIXELS,
            hint=self._money_hint() if name == "money" else "",
        )
        made.tell_refused(partial(self._refuse, name))
        made.entered.connect(self.answer)
        self.fields[name] = made
        return made

    def _money_hint(self) -> str:
        return self.words.say(say.MONEY_OF_COUNTRY)

    def _holder(
        self, template: Template, blanks: Mapping[str, Blank], pixels: int, *, serif: bool
    ) -> QWidget:
        holder = QWidget(self)
        flow = Flow(3 if serif else 1)
        holder.setLayout(flow)
        for piece in pieces(self.words, template, blanks):
            if piece.field:
                flow.addWidget(blanks[piece.field])
            else:
                flow.addWidget(Fixed(piece.text, pixels=pixels, serif=serif))
        return holder

    def _ways(self) -> list[Line]:
        if not self.is_first:
            return []
        words, ways = self.words, self.ways
        lines = [
            Line("Ctrl O", words.say(say.OPEN), words.say(say.OPEN_NOTE), ways.open_),
            Line(
                "M",
                words.say(say.LOOK_ROUND),
                words.say(say.LOOK_ROUND_NOTE),
                partial(ways.sample, "full"),
            ),
            Line("W", words.say(say.BEGIN), words.say(say.BEGIN_NOTE), ways.begin),
        ]
        for line in lines:
            line.setParent(self)
        return lines

    def _more(self) -> list[list[KeyWord]]:
        """Return, beside each line, the words of what else it opens."""
        if not self.is_first:
            return []
        recent = [
            KeyWord(name, do, str(number))
            for number, (name, do) in enumerate(self.ways.recent, start=1)
        ]
        samples = [
            KeyWord(self.words.say(template), partial(self.ways.sample, name))
            for name, template in say.SAMPLES.items()
        ]
        for word in (*recent, *samples):
            word.setParent(self)
        return [recent, samples, []]

    # What is typed.

    def _take(self, name: str, text: str) -> None:
        if text.strip() or name in {"past", "times"}:
            self._readers[name](text)
        self.blanks = asked.with_blank(self.blanks, name, text)

    def _take_usual(self, name: str, text: str) -> None:
        self.assumed = with_text(self.assumed, name, text, self.words)

    def _refuse(self, name: str, no: NotTaken | None) -> None:
        self._refused.pop(name, None)
        if no is not None:
            self._refused[name] = window_words.not_taken(self.words, no.code, **no.facts)
        self._say_refused()

    def _say_refused(self) -> None:
        self._note.say(" ".join(self._refused.values()))
        if self._note.text:
            READER.announce(self, self._note.text)
        self._arrange()

    def answer(self) -> None:
        """Answer if the four blanks are filled, else go to the first that is not."""
        if self._refused:
            self.fields[next(iter(self._refused))].setFocus()
            return
        empty = self.blanks.empty
        if empty is not None:
            self.fields[empty].setFocus()
            return
        self._make(asked.asked)

    def begin(self) -> None:
        """Give the book the assumed workshop, and no job yet."""
        self._make(asked.begun)

    def _make(self, make: Callable[..., object]) -> None:
        try:
            made = make(self.book, self.blanks, self.assumed, self.words, self.desk.now)
        except NotTaken as no:
            self._refuse("", no)
            return
        self.answered.emit(made)

    # Keys.

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, text = event.key(), event.text().casefold()
        has_caret = any(blank.hasFocus() for blank in self.fields.values())
        if key == Qt.Key.Key_Escape and has_caret and self.is_first:
            self.setFocus()
        elif event.modifiers() or has_caret or not self._letter(text):
            event.ignore()

    def _letter(self, text: str) -> bool:
        if text == "n":
            self.fields["what"].setFocus()
            return True
        all_words: list[Line | KeyWord] = [*self._lines, *(w for ws in self._extras for w in ws)]
        for word in all_words:
            if text and word.key.casefold() == text:
                word.click()
                return True
        return False

    @guarded
    def focusInEvent(self, event: QFocusEvent) -> None:
        if self._is_new:
            self._is_new = False
            self.fields["what"].setFocus()
        self.update()

    # Arranging and painting.

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        self._picture = None
        if event.type() == QEvent.Type.FontChange:
            QTimer.singleShot(0, self, self._write_anew)

    def _write_anew(self) -> None:
        """Write all of it in another size of text; what was typed stays."""
        direct = Qt.FindChildOption.FindDirectChildrenOnly
        had_caret = any(blank.hasFocus() for blank in self.fields.values())
        for part in self.findChildren(QWidget, options=direct):
            part.setParent(None)
            part.deleteLater()
        self.fields.clear()
        self._refused.clear()
        self._write()
        for part in self.findChildren(QWidget, options=direct):
            part.setVisible(part is not self._note)
        self._arrange()
        if had_caret:
            self.fields["what"].setFocus()

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._picture = None
        self._arrange()

    @property
    def _ghost_height(self) -> int:
        if not self.is_first:
            return 0
        tall = self.height() - self._below()
        return tall if tall >= px(LEAST_GHOST) else 0

    def _below(self) -> int:
        wide = max(200, self.width() - TEXT - RIGHT)
        usual = sum(_height(each, wide + TEXT - 16) + 6 for each in self._usual)
        lines = px(LINE) * sum(self._rows_of(number) for number in range(len(self._lines)))
        below = 16 + px(34 + 24) + usual if usual else 16
        return 30 + _height(self._sentence, wide) + px(18) + lines + below

    def _beside(self, number: int) -> list[tuple[int, int]]:
        """Return the left and the row of each word beside a line, further ones on rows below."""
        line, row = self._lines[number], 0
        x, found = line.x() + line.width() + 12, []
        if line.is_high:
            x, row = TEXT, 2
        for word in self._extras[number]:
            if x + word.width() > self.width() - RIGHT and x > TEXT:
                x, row = TEXT, row + 1
            found.append((x, row))
            x += word.width() + 8
        return found

    def _rows_of(self, number: int) -> int:
        least = 1 if self._lines[number].is_high else 0
        return 1 + max([least, *(row for _, row in self._beside(number))])

    def _arrange(self) -> None:
        wide = max(200, self.width() - TEXT - RIGHT)
        for line in self._lines:
            line.fit(self.width() - LEFT - RIGHT)
        y = self._ghost_height + 16
        for holder in (self._sentence, self._like):
            if holder is not None:
                holder.setGeometry(TEXT, y, wide, _height(holder, wide))
                y += holder.height() + 8
        self._note.setGeometry(TEXT, y - 6, wide, px(24))
        y += px(18)
        for number, line in enumerate(self._lines):
            line.move(LEFT - 3, y)
            for word, (x, row) in zip(self._extras[number], self._beside(number), strict=True):
                word.setVisible(True)
                word.move(x, y + row * px(LINE) + px(3))
            y += px(LINE) * self._rows_of(number)
        self._usual_top = y + 8
        y = self._usual_top + px(34)
        for holder in self._usual:
            holder.setGeometry(16, y, wide + TEXT - 16, _height(holder, wide + TEXT - 16))
            y += holder.height() + 6
        self.update()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        tall = self._ghost_height
        if tall:
            today = local_date(self.desk.now, self.words.zone)
            paint_ghost(painter, of, Ghost(self.width(), tall, today, self.words))
        top = self._sentence.y()
        paint_key(painter, of, LEFT, top + px(20), "N")
        if any(self.fields[name].hasFocus() for name in FIELDS):
            pens.flat_rect(painter, 10, top - 4, 3, self._sentence.height() + 8, of.ink)
        self._paint_note(painter, top)
        for line in self._lines:
            pens.flat_rect(painter, LEFT, line.y() - 4, self.width() - LEFT - RIGHT, 1, of.line)
        if self._usual:
            self._paint_usual(painter)
        if self._behind is not None:
            self._picture = self._picture or self._behind()
            self._paint_behind(painter, self._picture)
        painter.end()

    def _paint_behind(self, painter: QPainter, behind: QPixmap) -> None:
        """Paint what lies on the wall so far, veiled, below the sentence."""
        of, y = theme_of(self), self._usual_top
        pens.flat_rect(painter, 0, y, self.width(), 1, of.ink)
        painter.drawPixmap(0, y + 1, behind)
        painter.fillRect(0, y + 1, self.width(), self.height() - y, of.veil)

    def _paint_note(self, painter: QPainter, top: int) -> None:
        of = theme_of(self)
        last = self._sentence.children()[-1]
        assert isinstance(last, QWidget)
        has_caret = any(blank.hasFocus() for blank in self.fields.values())
        text = self.words.say(say.SENTENCE_NOTE)
        if has_caret and self.is_first:
            text = f"{text}; {self.words.say(say.FREE_THE_KEYS)}"
        x = TEXT + last.x() + last.width() + 16
        y = top + last.y() + px(20)
        if x + text_width(text, 13) > self.width() - RIGHT:
            low = self._like or self._sentence
            x, y = TEXT, low.y() + low.height() + px(12)
            if self._note.text:
                return
        pens.words(painter, x, y, text, of.ink2, 13)

    def _paint_usual(self, painter: QPainter) -> None:
        of, y = theme_of(self), self._usual_top
        pens.flat_rect(painter, 16, y, self.width() - 32, 1, of.line)
        pens.words(painter, 16, y + px(24), self.words.say(say.UNTIL), of.ink, 16, 600, serif=True)
        end = self._usual[-1].y() + self._usual[-1].height()
        pens.words(painter, 16, end + px(16), self.words.say(say.USUAL_NOTE), of.ink2, 12)


def _height(holder: QWidget, width: int) -> int:
    layout = holder.layout()
    assert isinstance(layout, Flow)
    return layout.heightForWidth(width)

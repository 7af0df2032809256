"""The slip: the facts of what is chosen, as sentences, in the empty corner of the wall."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.window.bits import paint_key, theme_of, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import STOPS, Item, Role
from app.words import Words
from app.words import window as say

PADDING = 16
TITLE_PIXELS, TEXT_PIXELS, LINE = 17, 13, 19


class Slip(QWidget):
    """Tells of the chosen stage, gate, leg, segment or job."""

    def __init__(self, parent: QWidget, words: Words) -> None:
        super().__init__(parent)
        self.words = words
        self.item: Item | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def show_item(self, item: Item | None, words: Words) -> None:
        """Show another item; None empties the slip."""
        self.item, self.words = item, words
        if item is not None:
            self.setAccessibleName(item.name)
            self.setAccessibleDescription(item.description)
        self.update()

    def height_for(self, width: int) -> int:
        """Return how high the slip is at a width."""
        if self.item is None:
            return 0
        room = width - 2 * PADDING
        title = wrapped(_title(self.item), room, TITLE_PIXELS, 600, serif=True)
        lines = sum(len(wrapped(s, room, TEXT_PIXELS)) for s in _sentences(self.item))
        return 2 * PADDING + px(22) * len(title) + px(LINE) * lines + px(34)

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(420, self.height_for(420))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        if self.item is None:
            return
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.sheet)
        pens.frame(painter, self.rect(), of.line, 1)
        pens.flat_rect(painter, 0, 0, self.width(), 3, of.ink)
        room, y = self.width() - 2 * PADDING, PADDING + px(14)
        for line in wrapped(_title(self.item), room, TITLE_PIXELS, 600, serif=True):
            pens.words(painter, PADDING, y, line, of.ink, TITLE_PIXELS, 600, serif=True)
            y += px(22)
        for sentence in _sentences(self.item):
            for line in wrapped(sentence, room, TEXT_PIXELS):
                pens.words(painter, PADDING, y, line, of.ink2, TEXT_PIXELS)
                y += px(LINE)
        x: float = PADDING
        for key, text in self._keys(self.item):
            x = paint_key(painter, of, x, y + px(8), key) + 6
            pens.words(painter, x, y + px(8), text, of.ink2, 12)
            x += text_width(text, 12) + 16
        painter.end()

    def _keys(self, item: Item) -> list[tuple[str, str]]:
        keys = [("E", self.words.say(say.DO_WRITE))]
        if item.role in STOPS and item.role not in {Role.LEG, Role.ANSWER}:
            text = say.DO_UNPIN if item.is_pinned else say.DO_PIN
            keys.append(("P", self.words.say(text)))
        return keys


def _title(item: Item) -> str:
    return item.name


def _sentences(item: Item) -> list[str]:
    """Return the description's sentences without the one that only repeats the name."""
    text = item.description.removeprefix(f"{item.name}.").strip()
    return [s if s.endswith(".") else f"{s}." for s in text.split(". ") if s]

"""What can be said to the client, with the price that the owner asks and what can be done now."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.window.bits import KeyWord, theme_of, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.sheet.blanks import Blank
from app.window.sheet.typed import NotTaken
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import enquiry_view as say
from app.words import window as of_window

_LINE, _PIXELS = 22, 16


class Quote(Drawn):
    """The words for the client, read out as a whole."""

    def __init__(self) -> None:
        super().__init__()
        self.words = Words()
        self.text = ""

    def show_text(self, text: str, words: Words) -> None:
        """Show other words."""
        self.text, self.words = text, words
        self.setAccessibleName(words.say(say.SAY))
        self.refresh()

    def _lines(self, width: int) -> list[str]:
        if not self.text:
            return []
        return wrapped(
            self.words.say(say.CLIENT_QUOTED, text=self.text), width - 20, _PIXELS, serif=True
        )

    def height_at(self, width: int) -> int:
        """Return how high the title and the words are."""
        return px(36) + px(_LINE) * max(1, len(self._lines(width)))

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return one spot with all the words."""
        if not self.text:
            return []
        rect = QRect(0, px(30), width - 8, self.height_at(width) - px(32))
        return [Spot(id="words", rect=rect, name=self.words.say(say.SAY), description=self.text)]

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint them in the hand of what is said."""
        title = self.words.say(say.SAY)
        pens.words(painter, 0, px(22), title, of.ink, 17, 600, serif=True)
        for at, line in enumerate(self._lines(width)):
            y = px(48) + px(_LINE) * at
            pens.words(painter, 0, y, line, of.ink, _PIXELS, serif=True, italic=True)


class Saying(QWidget):
    """The words, a blank for the price asked, and words with their keys."""

    def __init__(self, read_price: Callable[[], str], write_price: Callable[[str], None]) -> None:
        super().__init__()
        self.words = Words()
        self.quote = Quote()
        self.price = Blank("price", read_price, write_price, pixels=14)
        self.trouble = self.note = ""
        self._label = ""
        self.keys: list[KeyWord] = []
        self.quote.setParent(self)
        self.price.setParent(self)
        self.price.tell_refused(self._on_refused)

    def show_keys(self, keys: list[KeyWord]) -> None:
        """Show what can be done."""
        for old in self.keys:
            old.hide()
            old.deleteLater()
        self.keys = keys
        for key in keys:
            key.setParent(self)
            key.show()

    def show_text(self, text: str, note: str, words: Words, *, has_price: bool) -> None:
        """Show other words for the client. note: for the owner, below them."""
        self.words, self.note = words, note
        self._label = words.say(say.ASKED) if has_price else ""
        self.price.setAccessibleName(words.say(say.ASKED))
        self.price.setVisible(has_price)
        self.price.refresh()
        self.quote.show_text(text, words)
        self.setAccessibleDescription(note)
        self._arrange()
        self.update()

    def _on_refused(self, no: NotTaken | None) -> None:
        self.trouble = "" if no is None else of_window.not_taken(self.words, no.code, **no.facts)
        self.update()

    def _notes(self, width: int) -> list[str]:
        return wrapped(self.note, width - 8, 12) if self.note else []

    def _price_top_at(self, width: int) -> int:
        return self.quote.height_at(width) + px(4) + px(16) * len(self._notes(width))

    @property
    def _price_top(self) -> int:
        return self._price_top_at(max(1, self.width()))

    def height_at(self, width: int) -> int:
        """Return how high words, price and keys are."""
        return self._placed(width)[1]

    def _placed(self, width: int) -> tuple[list[QPoint], int]:
        """Return where each key stands, and how high all of it is."""
        top = self._price_top_at(width)
        x, y, found = -3, top + (px(34) if self._label else px(4)), []
        for key in self.keys:
            if x > 0 and x + key.width() > width:
                x, y = -3, y + px(26)
            found.append(QPoint(x, y))
            x += key.width() + px(10)
        return found, y + px(26)

    def _arrange(self) -> None:
        width = max(1, self.width())
        self.setMinimumHeight(self.height_at(width))
        self.quote.setMinimumHeight(0)
        self.quote.setGeometry(0, 0, width, self.quote.height_at(width))
        self.price.move(round(text_width(self._label, 13)) + 8, self._price_top)
        for key, at in zip(self.keys, self._placed(width)[0], strict=True):
            key.move(at)

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    @guarded
    def paintEvent(self, event: object) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        width = max(1, self.width())
        y = self.quote.height_at(width) + px(10)
        for line in self._notes(width):
            pens.words(painter, 0, y, line, of.ink2, 12)
            y += px(16)
        y = self._price_top + px(17)
        if self._label:
            pens.words(painter, 0, y, self._label, of.ink2, 13)
            right = self.price.x() + self.price.width() + 6
            if self.trouble:
                pens.words(painter, right, y, self.trouble, of.miss, 12)
            else:
                pens.words(painter, right, y, self.words.currency, of.ink2, 13)
        painter.end()

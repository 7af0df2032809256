"""A page in the wall's place: what to do first, all keys, a damaged book, the closing question."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.window.bits import KeyWord, paint_key, theme_of, wrapped
from app.window.guard import guarded
from app.window.wall import pens

LEFT, TOP, LINE = 24, 30, 24
KEY_COLUMN = 190
TEXT_WIDTH = 760


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Something to do: its key, its words."""

    key: str
    text: str
    do: Callable[[], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What a page says: a title, rows of (keys, text), and what can be done.

    is_sentence: the title stands in the masthead, not on the page. next: what stands under it
    there. body: a part that fills the page instead of rows and choices. has_ghost: the page goes
    once there is a job on the wall.
    """

    title: str
    rows: tuple[tuple[str, str], ...] = ()
    choices: tuple[Choice, ...] = ()
    has_ghost: bool = False
    is_sentence: bool = False
    next: str = ""
    body: QWidget | None = None


class Page(QWidget):
    """Read it, and press the key of what to do."""

    def __init__(self) -> None:
        super().__init__()
        self.content = Content(title="")
        self._words: list[KeyWord] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_content(self, content: Content) -> None:
        """Show another page."""
        for word in self._words:
            word.hide()
            word.deleteLater()
        if self.content.body is not None and self.content.body is not content.body:
            self.content.body.hide()
        self.content = content
        if content.body is not None:
            content.body.setParent(self)
            content.body.setGeometry(self.rect())
            content.body.show()
            self.setFocusProxy(content.body)
        else:
            self.setFocusProxy(None)  # type: ignore[arg-type]
        self.setAccessibleName(content.title)
        told = " ".join(f"{keys} {text}".strip() for keys, text in content.rows)
        self.setAccessibleDescription(told)
        self._words = [KeyWord(c.text, c.do, c.key) for c in content.choices]
        y = self._top - 14 + self._rows_height() + 12
        for word in self._words:
            word.setParent(self)
            word.move(LEFT - 3, y)
            word.show()
            y += 30
        self.update()

    def choose(self, key: str) -> bool:
        """Do what a key stands for; whether there is such a thing."""
        for choice in self.content.choices:
            if choice.key.casefold() == key.casefold():
                choice.do()
                return True
        return False

    @property
    def _top(self) -> int:
        return TOP if self.content.is_sentence else TOP + 40

    def _rows_height(self) -> int:
        return sum(
            LINE + 18 * (len(self._lines(keys, text)) - 1) for keys, text in self.content.rows
        )

    def _lines(self, keys: str, text: str) -> list[str]:
        return wrapped(text, TEXT_WIDTH - (KEY_COLUMN if keys else 0), 14) or [""]

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        if self.content.body is not None:
            self.content.body.setGeometry(self.rect())

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.modifiers() or not self.choose(event.text()):
            event.ignore()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.ink)
        if not self.content.is_sentence:
            title = self.content.title
            pens.words(painter, LEFT, TOP + 4, title, of.ink, 17, 600, serif=True)
        y = self._top
        for keys, text in self.content.rows:
            x: float = LEFT
            for key in keys.split(", ") if keys else ():
                x = paint_key(painter, of, x, y, key) + 6
            for line in self._lines(keys, text):
                left = LEFT + KEY_COLUMN if keys else LEFT
                pens.words(painter, left, y, line, of.ink2, 14)
                y += 18
            y += LINE - 18
        painter.end()

"""All views, one of them in front, and the words by which one goes to another."""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QObject, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.window.bits import theme_of
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.tokens import px
from app.window.views.view import View, Which
from app.window.wall import pens
from app.words import Words
from app.words import window as say
from app.words.keys import key_text

PAGES = (Which.WORKSHOP, Which.MARKS, Which.SHEETS, Which.BRING, Which.GIVE)
"""Views without a word of their own: only their keys lead there."""
PIXELS, GAP, HEIGHT = 14, 22, 26


class ViewWord(QAbstractButton):
    """The word of a view; semibold and underlined while the view is in front."""

    def __init__(self, which: Which, go: Callable[[Which], None]) -> None:
        super().__init__()
        self.which = which
        self.is_front = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(lambda: go(which))

    def show_word(self, word: str, *, is_front: bool, number: int) -> None:
        """Show it in the language of the book."""
        self.setText(word)
        self.is_front = is_front
        self.setAccessibleName(word)
        self.setAccessibleDescription(key_text(f"Ctrl {number}"))
        self.setFixedSize(self.sizeHint())
        self.update()

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(round(text_width(self.text(), PIXELS, 600)) + 4, px(HEIGHT))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        is_near = self.underMouse() or self.hasFocus()
        ink = of.ink if self.is_front or is_near else of.ink2
        weight = 600 if self.is_front else 400
        end = pens.words(painter, 2, px(17), self.text(), ink, PIXELS, weight)
        if self.is_front:
            pens.flat_rect(painter, 2, px(22), round(end) - 2, 2, of.ink)
        if self.hasFocus():
            pens.frame(painter, self.rect(), of.ink, 2)
        painter.end()


class Shelf(QObject):
    """The views beside the wall. The wall itself is the window's own; the shelf only names it."""

    changed = Signal()

    def __init__(self, parent: QWidget, views: Iterable[View]) -> None:
        super().__init__(parent)
        self.front = Which.WALL
        self.views = {view.which: view for view in views}
        self.words: list[ViewWord] = []
        for view in self.views.values():
            view.setParent(parent)
            view.hide()
        for which in Which:
            if which is Which.WALL or (which in self.views and which not in PAGES):
                word = ViewWord(which, self.show)
                word.setParent(parent)
                self.words.append(word)

    @property
    def view(self) -> View | None:
        """The view in front, None for the wall."""
        return self.views.get(self.front)

    def show(self, which: Which) -> None:
        """Bring a view to the front, if there is such a one."""
        if which is not Which.WALL and which not in self.views:
            return
        self.front = which
        self.changed.emit()

    def by_number(self, number: int) -> None:
        """Bring the view of a number to the front: 1 is the wall."""
        self.show(tuple(Which)[number - 1])

    def place_words(self, words: Words, right: int, baseline: int) -> int:
        """Put the words at the right of the masthead; return where they begin."""
        left = right
        for word in reversed(self.words):
            number = tuple(Which).index(word.which) + 1
            text = words.say(say.VIEWS[word.which.value])
            word.show_word(text, is_front=word.which is self.front, number=number)
            left -= word.width()
            word.move(left, baseline - px(17))
            word.raise_()
            left -= GAP
        return left + GAP

"""Where Tab goes: the sentence, what is next, the views, find, the body, the slip, the foot.

Inside the wall and other drawn parts the arrows go on; Tab leaves them.
"""

from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from app.window.bits import theme_of
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.spots.drawn import Drawn
from app.window.wall import pens
from app.words.keys import key_text

if TYPE_CHECKING:
    from app.window.main import MainWindow

_SENTENCE_PART = 0.62
_GAP = 30
_ENTERS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Stop(QWidget):
    """A line of the masthead at which Tab stops, to be read; Enter does what it says."""

    def __init__(self, parent: QWidget, do: Callable[[], object] | None = None) -> None:
        super().__init__(parent)
        self._do = do
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        if do is None:
            self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def show_line(self, text: str, rect: QRect) -> None:
        """Read another line, in another place; none leaves no stop."""
        self.setAccessibleName(text)
        self.setGeometry(rect)
        self.setVisible(bool(text))

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in _ENTERS and self._do is not None:
            self._do()
        else:
            event.ignore()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        if self.hasFocus():
            painter = QPainter(self)
            pens.frame(painter, self.rect(), theme_of(self).ink, 2)
            painter.end()


class Tabbing:
    """The stops of the masthead, and the order of all."""

    def __init__(self, window: "MainWindow") -> None:
        self._window = window
        head = window.masthead
        self.sentence, self.next = Stop(head), Stop(head)
        self.find = Stop(head, self._find)

    def refresh(self) -> None:
        """Read what the masthead says now, where it stands."""
        head = self._window.masthead
        split = round(head.height() * _SENTENCE_PART)
        text, key = head.hint
        wide = round(text_width(text, 13) + text_width(key_text(key), 11, 600)) + _GAP
        right = head.width() - 18 - wide if text else head.width() - 8
        below = head.height() - split - 3
        sentence = QRect(4, 2, max(0, head.words_left - 12), split - 2)
        self.sentence.show_line(head.shown.sentence, sentence)
        told = "".join(part for part, _ in head.shown.next).strip()
        self.next.show_line(told, QRect(4, split, max(0, right - 8), below))
        named = f"{text}, {key_text(key)}" if text else ""
        self.find.show_line(named, QRect(right, split, wide, below))

    def _find(self) -> None:
        window = self._window
        if window.masthead.hint[1] == "Esc":
            window.hand.back()
        else:
            window.hand.find()

    def go(self, *, forward: bool) -> None:
        """Give the keyboard to what comes next, or before; none is left out."""
        order, now = list(self.order()), self._window.focusWidget()
        if now in order:
            at = (order.index(now) + (1 if forward else -1)) % len(order)
        else:
            inside = [each for each in order if self._body.isAncestorOf(each)]
            at = order.index(inside[0 if forward else -1]) if inside else 0
        reason = Qt.FocusReason.TabFocusReason if forward else Qt.FocusReason.BacktabFocusReason
        order[at].setFocus(reason)
        if not isinstance(order[at], Drawn):
            _bring_into_sight(order[at])

    def order(self) -> Iterator[QWidget]:
        """Give all at which Tab stops at present."""
        window = self._window
        head = (self.sentence, self.next, *window.shelf.words, self.find)
        body = [each for each in self._inside(self._body) if _is_stop(each)]
        body = [each for each in body if not (isinstance(each, Drawn) and not each.spots)] or body
        last = (window.slip, *self._in_parts(), *([window.foot] if window.foot.parts else []))
        return (each for each in (*head, *body, *last) if _is_stop(each))

    @property
    def _body(self) -> QWidget:
        window = self._window
        if not window.page.isHidden():
            return window.page
        if not window.sheet.isHidden():
            return window.sheet
        return window.shelf.view or window.wall

    def _in_parts(self) -> Iterator[QWidget]:
        for part in self._window.hand.parts:
            yield from self._inside(part)

    def _inside(self, root: QWidget) -> list[QWidget]:
        """Give a part and all in it as they were made, and the links of each chain in its order."""
        # Walking along Qt's own chain ties every widget to the one before it in Python: all that
        # is tied to one that goes can't be used any more, and never goes itself.
        found = [root, *root.findChildren(QWidget)]
        for each in tuple(found):
            for one, other in pairwise(getattr(each, "tab_chain", ())):
                if one in found and other in found:
                    found.remove(other)
                    found.insert(found.index(one) + 1, other)
        return found


def _bring_into_sight(widget: QWidget) -> None:
    """Scroll to a stop; a drawn part brings the spot that is chosen into sight itself."""
    above = widget.parentWidget()
    while above is not None:
        if isinstance(above, QScrollArea):
            above.ensureWidgetVisible(widget, 4, 4)
        above = above.parentWidget()


def _is_stop(widget: QWidget) -> bool:
    stops = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
    return stops and widget.isVisible() and widget.isEnabled() and widget.focusProxy() is None

"""Parts that several pieces of the window share: wrapped text, words with their keys."""

from collections.abc import Callable, Sequence
from typing import cast

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFocusEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.theme import Theme, theme
from app.window.tokens import GROUNDS, HATCH_PITCH, px
from app.window.wall import pens
from app.words.keys import key_text
from shared.book import Kind

KEY_PIXELS = 11
TEXT_PIXELS = 13


def wrapped(
    text: str, width: float, pixels: int, weight: int = 400, *, serif: bool = False
) -> list[str]:
    """Return a text in lines that fit a width; a word too long for it stands alone."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if line and text_width(longer, pixels, weight, serif=serif) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines


def largest(
    text: str, width: float, sizes: Sequence[int], weight: int = 400, *, serif: bool = False
) -> int:
    """Return the first of falling sizes at which a text fits a width; the last if at none."""
    fits = (each for each in sizes if text_width(text, each, weight, serif=serif) <= width)
    return next(fits, sizes[-1])


def paint_cure(painter: QPainter, of: Theme, rect: QRect, kind: Kind) -> None:
    """Paint a cure of a kind: hatched, with a line above and below."""
    x, y, wide, high = rect.x(), rect.y(), rect.width(), rect.height()
    pens.slanted(painter, pens.hatch_lines(x, y, wide, high, HATCH_PITCH), of.cures[kind])
    edges = [QRect(x, y, wide, 1), QRect(x, rect.bottom(), wide, 1)]
    pens.flat_rects(painter, edges, of.lines[kind])


def paint_key(painter: QPainter, of: Theme, x: float, baseline: float, key: str) -> float:
    """Paint a key's cap; return where it ends."""
    key = key_text(key)
    width = text_width(key, KEY_PIXELS, 600) + 10
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(of.ink3)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    top = round(baseline) - px(12) + 0.5
    painter.drawRoundedRect(QRectF(round(x) + 0.5, top, round(width), px(15)), 3, 3)
    pens.words(painter, round(x) + 5.5, baseline - 0.5, key, of.ink2, KEY_PIXELS, 600)
    return x + width


def theme_of(widget: QWidget) -> Theme:
    """Return the theme a widget stands in: its window says which."""
    name = widget.window().property("ground")
    return theme(cast("str", name) if name in GROUNDS else "light")


class KeyWord(QAbstractButton):
    """A word that does something, with the key that does it too; Enter or a click."""

    def __init__(self, text: str, do: Callable[[], object], key: str = "") -> None:
        super().__init__()
        self.key = key
        self.setText(text)
        self.setAccessibleName(f"{text}, {key_text(key)}" if key else text)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(lambda: do())
        self.setFixedSize(self.sizeHint())

    @guarded
    def sizeHint(self) -> QSize:
        key = text_width(key_text(self.key), KEY_PIXELS, 600) + 16 if self.key else 0
        return QSize(round(key + text_width(self.text(), TEXT_PIXELS)) + 12, px(22))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        x = 3.0
        if self.key:
            x = paint_key(painter, of, x, px(15), self.key) + 6
        ink = of.ink if self.underMouse() or self.hasFocus() else of.ink2
        end = pens.words(painter, x, px(15), self.text(), ink, TEXT_PIXELS)
        if not self.key or self.underMouse():
            pens.flat_rect(painter, round(x), px(18), round(end - x), 1, ink)
        if self.hasFocus():
            pens.frame(painter, self.rect(), of.ink, 2)
        painter.end()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange:
            self.setFixedSize(self.sizeHint())

    @guarded
    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()

    @guarded
    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()

"""The masthead and the foot: the sentence that answers, what is next, the state, the marks."""

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.window import tokens
from app.window.bits import paint_cure, paint_key, theme_of, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.reader import READER
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_marks import paint_verdict
from app.window.wall.paint_ribbons import paint_pattern
from app.words import Words
from app.words import window as say
from shared.book import Kind

SENTENCE_SIZES = (26, 22, 20, 18, 17, 16)
"""Sizes of a sentence on one line; a longer one takes two lines."""
TWO_LINES_SIZES = (16, 15, 14, 13, 12, 11)


class Masthead(QWidget):
    """Says in one sentence whether the windows hold."""

    def __init__(self, words: Words) -> None:
        super().__init__()
        self.words = words
        self.shown = Headline(sentence="")
        self.hover = ""
        self.words_left = 0
        self.hint = ("", "")
        self.progress: float | None = None
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def show_headline(self, shown: Headline, words: Words) -> None:
        """Show another sentence, and say it once."""
        self.words = words
        is_new, self.shown = shown.sentence != self.shown.sentence, shown
        if is_new and shown.sentence:
            READER.announce(self, shown.sentence)
        self.update()

    def show_hover(self, text: str) -> None:
        """Show what is under the pointer in the second line; "" shows what is next again."""
        if text != self.hover:
            self.hover = text
            self.update()

    def show_progress(self, part: float | None) -> None:
        """Fill the line under the masthead; None takes it away."""
        self.progress = part
        self.update()

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(200, tokens.sizes_for(self.width()).masthead)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of, sizes = theme_of(self), tokens.sizes_for(self.width())
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        self._paint_sentence(painter, of, sizes)
        left, baseline = sizes.text_margin, round(sizes.masthead * 0.84)
        if self.hover:
            pens.words(painter, left, baseline, self.hover, of.ink2, 13)
        else:
            limit = self._paint_hint(painter, of, baseline)
            paint_parts(painter, of, left, baseline, self.shown.next, limit)
        if self.progress is not None:
            width = round(self.width() * min(1.0, self.progress))
            pens.flat_rect(painter, 0, self.height() - 3, width, 3, of.ink)
        painter.end()

    def _paint_hint(self, painter: QPainter, of: Theme, baseline: int) -> float:
        """Paint a key beside what it does at the right; return where that begins."""
        text, key = self.hint
        right = float(self.width() - 24)
        if not text:
            return right
        right -= text_width(key, 11, 600) + 10
        paint_key(painter, of, right, baseline, key)
        right -= text_width(text, 13) + 8
        pens.words(painter, right, baseline, text, of.ink2, 13)
        return right - 24

    def _paint_sentence(self, painter: QPainter, of: Theme, sizes: tokens.Sizes) -> None:
        usual = round(sizes.masthead * 0.44) + px(7)
        right = float(self.words_left or self.width() - sizes.text_margin)
        left = float(sizes.text_margin)
        shown = self.shown
        if shown.verdict is not None or shown.is_enquiry:
            at = (left + px(7), usual - px(7), px(7))
            paint_verdict(painter, of, *at, shown.verdict, is_enquiry=shown.is_enquiry)
            left += px(24)
        lines, pixels = fitted(self.shown.sentence, sizes.sentence_px, right - left - 24)
        ink = of.miss if self.shown.is_alarm else of.ink
        first = usual if len(lines) == 1 else round(sizes.masthead * 0.6) - px(pixels + 3)
        for number, line in enumerate(lines):
            baseline = first + number * px(pixels + 3)
            pens.words(painter, left, baseline, line, ink, pixels, 600, serif=True)


def fitted(text: str, largest: int, room: float) -> tuple[list[str], int]:
    """Return a sentence as one line or two, and the largest size at which it fits so.

    Of one that fits two lines at no size, what is over is cut.
    """
    for pixels in SENTENCE_SIZES:
        if pixels <= largest and text_width(text, pixels, 600, serif=True) <= room:
            return [text], pixels
    for pixels in TWO_LINES_SIZES:
        lines = wrapped(text, room, pixels, 600, serif=True)
        if len(lines) <= 2:
            return _even(text, room, pixels), pixels
    first, second = lines[:2]
    while second and text_width(second + "…", pixels, 600, serif=True) > room:
        second = second[:-1]
    return [first, second + "…"], pixels


def _even(text: str, room: float, pixels: int) -> list[str]:
    """Return a sentence in two lines that are about as long as each other."""
    lines = wrapped(text, room, pixels, 600, serif=True)
    while len(narrower := wrapped(text, room * 0.96, pixels, 600, serif=True)) <= 2:
        if len(narrower) < 2 or room < 100:
            break
        lines, room = narrower, room * 0.96
    return lines


def paint_parts(
    painter: QPainter,
    of: Theme,
    x: float,
    y: float,
    parts: tuple[Part, ...],
    limit: float,
    one_ink: QColor | None = None,
) -> float:
    """Write pieces of a line, the answers among them bold; whole pieces only."""
    for text, is_bold in parts:
        width = text_width(text, 13, 600 if is_bold else 400)
        if x + width > limit:
            break
        ink = one_ink or (of.ink if is_bold else of.ink2)
        x = pens.words(painter, x, y, text, ink, 13, 600 if is_bold else 400)
    return x


class Foot(QWidget):
    """Says how old the plan is and what the marks mean."""

    def __init__(self, words: Words) -> None:
        super().__init__()
        self.words = words
        self.parts: tuple[Part, ...] = ()
        self.is_alarm = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def show_parts(self, parts: tuple[Part, ...], words: Words, *, is_alarm: bool = False) -> None:
        """Show another state. is_alarm: the second opinion found faults."""
        self.parts, self.words, self.is_alarm = parts, words, is_alarm
        self.setAccessibleName("".join(text for text, _ in parts).strip())
        self.update()

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(200, tokens.SMALL.foot)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.line)
        key_left = self._paint_key(painter, of)
        ink = of.miss if self.is_alarm else None
        paint_parts(painter, of, 16, px(17), self.parts, key_left - 16, ink)
        if self.hasFocus():
            pens.frame(painter, self.rect(), of.ink, 2)
        painter.end()

    def _paint_key(self, painter: QPainter, of: Theme) -> float:
        """Paint the key to the marks from the right; return where it begins."""
        x = float(self.width() - 12)
        for key in ("?", "K"):
            x -= text_width(key, 11, 600) + 14
            paint_key(painter, of, x, px(17), key)
        said = sum(text_width(text, 13, 600 if bold else 400) for text, bold in self.parts)
        for draw, text in reversed(self._marks()):
            width = text_width(text, 12)
            if x - width - 38 < 16 + said + 16:
                break  # K shows them all
            x -= width + 14
            pens.words(painter, x, px(17), text, of.ink2, 12)
            x -= 24
            draw(painter, of, round(x))
        return x

    def _marks(self) -> list[tuple["Draw", str]]:
        kinds: list[tuple[Draw, str]] = [
            (_Swatch(kind), say.kind_in_key(self.words, kind)) for kind in Kind
        ]
        others: list[tuple[Draw, str]] = [
            (_cure, self.words.say(say.KEY_CURES)),
            (_wait, self.words.say(say.KEY_WAITS)),
            (_spare, self.words.say(say.KEY_SPARE)),
        ]
        return [*kinds, *others]


class Draw:
    """Draws a small mark at a place of the key."""

    def __call__(self, painter: QPainter, of: Theme, x: int) -> None:
        """Draw it."""


class _Swatch(Draw):
    def __init__(self, kind: Kind) -> None:
        self._kind = kind

    def __call__(self, painter: QPainter, of: Theme, x: int) -> None:
        paint_swatch(painter, of, QRect(x, px(7), 18, px(12)), self._kind)


def paint_swatch(painter: QPainter, of: Theme, rect: QRect, kind: Kind) -> None:
    """Paint a small block of a kind."""
    inner = rect.adjusted(1, 1, -1, -1)
    pens.flat_rects(painter, [rect], of.outlines[kind])
    pens.flat_rects(painter, [inner], of.fills[kind])
    paint_pattern(painter, of, kind, [inner])


class _Cure(Draw):
    def __call__(self, painter: QPainter, of: Theme, x: int) -> None:
        paint_cure(painter, of, QRect(x, px(13) - 3, 18, 6), Kind.FILL)


class _Wait(Draw):
    def __call__(self, painter: QPainter, of: Theme, x: int) -> None:
        pens.flat_rects(painter, [QRect(x + dx, px(13), 1, 1) for dx in range(0, 19, 4)], of.ink3)


class _Spare(Draw):
    def __call__(self, painter: QPainter, of: Theme, x: int) -> None:
        pens.flat_rects(
            painter, [QRect(x, px(13) - 3, 18, 1), QRect(x, px(13) + 2, 18, 1)], of.ink3
        )


_cure, _wait, _spare = _Cure(), _Wait(), _Spare()

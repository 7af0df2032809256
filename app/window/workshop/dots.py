"""Recorded hours against estimates as a drawn part: a dot for each record, the factor as a bar."""

from collections.abc import Callable, Sequence
from functools import partial
from math import log

from PySide6.QtCore import QPointF, QRect
from PySide6.QtGui import QPainter

from app.window.bits import paint_key, wrapped
from app.window.fonts import text_width
from app.window.masthead import paint_swatch
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import learn as learning
from app.words import learn_view as say
from app.words.voice import capital, written
from shared.book import Kind
from shared.estimate.learning import Learned

AXIS, ROW, NAMES, SAID, PAD = 30, 58, 150, 250, 12
LEAST, MOST = 1 / 3, 3.0
"""Records further off are errors of booking and are none of these."""
TICKS = ("0.5", "0.7", "1", "1.4", "2")
DOT = 3.4
LAYERS = 4
"""Dots that lie on others go up by so many steps at most."""


class Dots(Drawn):
    """Kinds of work with their records; take: what Enter or a click on what is offered does."""

    def __init__(self, take: Callable[[Kind], object]) -> None:
        super().__init__()
        self._take = take
        self.kinds: tuple[Learned, ...] = ()
        self.words = Words()

    def show_kinds(self, kinds: tuple[Learned, ...], words: Words) -> None:
        """Show other records."""
        self.kinds, self.words = kinds, words
        self.setAccessibleName(words.say(say.PICTURE))
        self.refresh()

    # Laying out.

    def height_at(self, width: int) -> int:
        return px(AXIS) + px(ROW) * len(self.kinds) + 8

    def spots_at(self, width: int) -> Sequence[Spot]:
        found = []
        for at, each in enumerate(self.kinds):
            row = QRect(4, self._top(at), width - 12, px(ROW) - 2)
            name = capital(learning.kind_name(self.words, each.kind))
            told = say.told(self.words, each)
            found.append(Spot(id=each.kind.value, rect=row, name=name, description=told))
            if each.is_offered:
                facts = {"kind": name, "factor": f"{each.factor:.2f}"}
                found.append(
                    Spot(
                        id=f"take {each.kind.value}",
                        rect=self._offer(at, width),
                        name=self.words.say(say.TAKE_NAME, **facts),
                        description=told,
                        do=partial(self._take, each.kind),
                    )
                )
        return found

    def _top(self, at: int) -> int:
        return px(AXIS) + px(ROW) * at

    def _offer(self, at: int, width: int) -> QRect:
        left = width - px(SAID)
        return QRect(left, self._top(at) + px(24), px(SAID) - 14, px(ROW) - px(24) - 6)

    def place_of(self, ratio: float, width: int) -> float:
        """Return where a ratio of recorded to estimated hours stands."""
        left, right = px(NAMES) + PAD, width - px(SAID) - 2 * PAD
        share = (log(ratio) - log(LEAST)) / (log(MOST) - log(LEAST))
        return left + min(1.0, max(0.0, share)) * max(1, right - left)

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        bottom = self._top(len(self.kinds))
        for tick in TICKS:
            x = round(self.place_of(float(tick), width))
            thick, rule, ink, weight = 1, of.line, of.ink2, 400
            if tick == "1":
                thick, rule, ink, weight = 2, of.ink3, of.ink, 600
            pens.flat_rect(painter, x, px(AXIS) - 6, thick, bottom - px(AXIS) + 6, rule)
            text = f"× {written(tick)}"
            left = x - text_width(text, 12, weight) / 2
            pens.words(painter, left, px(AXIS) - 10, text, ink, 12, weight)
        for at, each in enumerate(self.kinds):
            self._paint_kind(painter, of, each, at, width)
            pens.flat_rect(painter, 4, self._top(at) + px(ROW) - 1, width - 12, 1, of.line)

    def _paint_kind(self, painter: QPainter, of: Theme, each: Learned, at: int, width: int) -> None:
        top = self._top(at)
        swatch = QRect(8, top + px(8), px(14), px(14))
        paint_swatch(painter, of, swatch, each.kind)
        x = 8 + px(14) + 8
        name = capital(learning.kind_name(self.words, each.kind))
        pens.words(painter, x, top + px(20), name, of.ink, 13, 600)
        count = self.words.say(say.RECORDS, count=each.count, number=self.words.number(each.count))
        pens.words(painter, x, top + px(38), count, of.ink2, 12)
        self._paint_factor(painter, of, each, top, width)
        self._paint_dots(painter, of, each, top, width)
        self._paint_said(painter, of, each, at, width)

    def _paint_factor(
        self, painter: QPainter, of: Theme, each: Learned, top: int, width: int
    ) -> None:
        """Paint the factor with its range below the dots, and the one that estimates use."""
        y = top + px(42)
        low, middle, high = (
            round(self.place_of(float(value), width))
            for value in (each.low, each.factor, each.high)
        )
        pens.flat_rect(painter, low, y, max(2, high - low), 4, of.ink2)
        pens.flat_rect(painter, middle - 1, y - 5, 3, 14, of.ink)
        if each.taken is not None:
            used = round(self.place_of(float(each.taken), width))
            pens.frame(painter, QRect(used - 5, y - 3, 11, 11), of.ink, 1)

    def _paint_dots(
        self, painter: QPainter, of: Theme, each: Learned, top: int, width: int
    ) -> None:
        """Paint a dot for each record; what lies on another goes up a step."""
        base, step = top + px(32), px(6)
        last: list[float] = []
        points = []
        for x in sorted(self.place_of(ratio, width) for ratio in each.ratios):
            free = (n for n, before in enumerate(last) if x - before >= 2 * DOT)
            layer = next(free, len(last)) % LAYERS
            if layer < len(last):
                last[layer] = x
            else:
                last.append(x)
            points.append(QPointF(x, base - layer * step))
        pens.beads(painter, points, of.paper, DOT + 0.8)
        pens.beads(painter, points, of.ink, DOT)

    def _paint_said(self, painter: QPainter, of: Theme, each: Learned, at: int, width: int) -> None:
        words, left, top = self.words, width - px(SAID), self._top(at)
        facts = {
            "factor": f"{each.factor:.2f}",
            "low": f"{each.low:.2f}",
            "high": f"{each.high:.2f}",
        }
        pens.words(painter, left, top + px(20), words.say(say.RANGE, **facts), of.ink, 13, 600)
        if each.is_offered:
            x = paint_key(painter, of, left, top + px(40), "Enter")
            text = words.say(say.DO_TAKE, factor=facts["factor"])
            pens.words(painter, x + 6, top + px(40), text, of.ink, 12)
            return
        lines = wrapped(say.state_line(words, each), px(SAID) - 16, 12, 400)
        for number, line in enumerate(lines[:2]):
            pens.words(painter, left, top + px(36 + 15 * number), line, of.ink2, 12)

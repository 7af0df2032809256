"""The side as a part that is drawn: title, what is offered with its figure, what it comes to."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from app.window.bits import paint_key, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.people.panel import Entry, Panel, Slack
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_marks import paint_verdict
from app.words import Words
from app.words import people_view as say
from scheduler.outcome import Verdict

PAD = 16
LINE_STEP = 17
DOTS_FROM, DOTS_ZERO, DOTS_TO = 90, 116, 196
DAY_PIXELS, MOST_DAYS = 18, 4


def _head() -> int:
    return PAD + px(24)


@dataclass(slots=True)
class _Laid:
    """What is to be painted, as it is laid out from above."""

    y: int = 0
    texts: list[tuple[int, int, str, int, int, str, bool]] = field(default_factory=list)
    rules: list[int] = field(default_factory=list)
    keys: list[tuple[int, int, str]] = field(default_factory=list)
    marks: list[tuple[int, Verdict]] = field(default_factory=list)
    dots: list[tuple[int, Slack]] = field(default_factory=list)
    tried: list[tuple[int, int]] = field(default_factory=list)


class Side(Drawn):
    """Shows a panel; a figure, Enter or a click chooses what is offered."""

    def __init__(self) -> None:
        super().__init__()
        self.panel = Panel(title="")
        self.words = Words()
        self._do: Callable[[str], object] = lambda _: None
        self._laid = _Laid()
        self._is_open_above = False

    def show_panel(
        self,
        panel: Panel,
        words: Words,
        do: Callable[[str], object],
        *,
        is_open_above: bool = False,
    ) -> None:
        """Show another panel; do: called with the id of the entry that is chosen.

        is_open_above: it goes on below something.
        """
        self._is_open_above = is_open_above
        self.panel, self.words, self._do = panel, words, do
        self.setAccessibleName(words.say(say.SIDE))
        self.refresh()

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        # What is tried already is taken by the window, as anywhere else.
        tried = {entry.id for entry in self.panel.entries if entry.is_tried}
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.at in tried:
            event.ignore()
            return
        super().keyPressEvent(event)

    def height_at(self, width: int) -> int:
        """Return how high all of it is."""
        return self._lay(width)[0].y + PAD

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return the title, each entry, and the lines below them."""
        self._laid, spots = self._lay(width)
        return spots

    # Laying out.

    def _lay(self, width: int) -> tuple[_Laid, list[Spot]]:
        laid, spots = _Laid(y=14), list[Spot]()
        room = width - 2 * PAD
        self._text(laid, PAD, self.panel.title, 17, 600, room, serif=True)
        if self.panel.sub:
            self._text(laid, PAD, self.panel.sub, 13, 400, room, ink="ink2")
        if self.panel.lead:
            self._rule(laid)
            for line in self.panel.lead:
                self._text(laid, PAD, line, 12, 600, room, ink="ink2")
        parts = (f"{self.panel.title}.", self.panel.sub, *self.panel.lead)
        told = " ".join(part for part in parts if part)
        spots.append(self._spot("title", 10, laid.y, width, self.panel.title, told))
        for at, entry in enumerate(self.panel.entries):
            if at and self.panel.is_close:
                laid.y += 5
            else:
                self._rule(laid)
            spots.append(self._entry(laid, entry, width))
        if self.panel.more:
            self._rule(laid)
            top = laid.y
            for at, line in enumerate(self.panel.more):
                self._text(laid, PAD, line, 12, 600 if at == 0 else 400, room, ink="ink2")
            spots.append(
                self._spot(
                    "more", top, laid.y, width, self.panel.more[0], " ".join(self.panel.more)
                )
            )
        self._foot(laid, width)
        return laid, spots

    def _entry(self, laid: _Laid, entry: Entry, width: int) -> Spot:
        top = laid.y
        room = width - _head() - PAD
        if entry.key:
            laid.keys.append((PAD, laid.y + px(13), entry.key))
        self._text(laid, _head(), entry.head, 13, 600, room)
        for line in entry.lines:
            self._text(laid, _head(), line, 12, 400, room, ink="ink2")
        for slack in entry.slacks:
            laid.y += 3
            laid.dots.append((laid.y + px(13), slack))
            laid.y += px(LINE_STEP + 2)
        if entry.sum_up:
            if entry.verdict is not None:
                laid.marks.append((laid.y + px(9), entry.verdict))
            ink = "miss" if entry.is_alarm else "ink"
            self._text(laid, _head() + 20, entry.sum_up, 12, 500, room - 20, ink=ink)
        if entry.is_tried:
            laid.tried.append((top - 4, laid.y))
        return self._spot(entry.id, top - 4, laid.y + 2, width, entry.head, entry.told, entry.key)

    def _spot(
        self, identity: str, top: int, bottom: int, width: int, name: str, told: str, key: str = ""
    ) -> Spot:
        return Spot(
            id=identity,
            rect=QRect(4, top, width - 8, max(1, bottom - top)),
            name=name,
            description=told,
            key=key,
            do=(lambda: self._do(identity)) if key else None,
        )

    def _foot(self, laid: _Laid, width: int) -> None:
        keys = list(self.panel.keys)
        if any(entry.slacks for entry in self.panel.entries):
            self._rule(laid)
            self._text(laid, PAD, self.words.say(say.UPRIGHT), 11, 400, width - 2 * PAD, ink="ink2")
        if any(entry.is_tried for entry in self.panel.entries):
            keys = [
                ("Enter", self.words.say(say.TAKE_KEY)),
                ("Esc", self.words.say(say.LEAVE_KEY)),
                *keys,
            ]
        if keys:
            self._rule(laid)
        for key, text in keys:
            laid.keys.append((PAD, laid.y + px(13), key))
            x = PAD + round(text_width(key, 11, 600)) + 18
            self._text(laid, x, text, 12, 400, width - x - PAD, ink="ink2")
            laid.y += 4

    def _rule(self, laid: _Laid) -> None:
        laid.y += 8
        laid.rules.append(laid.y)
        laid.y += 9

    def _text(
        self,
        laid: _Laid,
        x: int,
        text: str,
        pixels: int,
        weight: int,
        room: int,
        *,
        ink: str = "ink",
        serif: bool = False,
    ) -> None:
        step = px(pixels + 5)
        for line in wrapped(text, room, pixels, weight, serif=serif):
            laid.texts.append((x, laid.y + px(pixels), line, pixels, weight, ink, serif))
            laid.y += step

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint the panel on a sheet of its own."""
        pens.flat_rect(painter, 0, 0, width, self.height(), of.sheet)
        pens.frame(painter, QRect(0, 0, width, self.height()), of.line, 1)
        edge = QRect(PAD, 0, width - 2 * PAD, 1) if self._is_open_above else QRect(0, 0, width, 3)
        pens.flat_rects(painter, [edge], of.line if self._is_open_above else of.ink)
        rules = [QRect(PAD, y, width - 2 * PAD, 1) for y in self._laid.rules]
        pens.flat_rects(painter, rules, of.line)
        for x, y, text, pixels, weight, ink, serif in self._laid.texts:
            pens.words(painter, x, y, text, getattr(of, ink), pixels, weight, serif=serif)
        for x, y, key in self._laid.keys:
            paint_key(painter, of, x, y, key)
        for y, verdict in self._laid.marks:
            paint_verdict(painter, of, _head() + 6, y, 5, verdict)
        for top, bottom in self._laid.tried:
            pens.flat_rect(painter, 6, top, 3, bottom - top, of.ink)
        for y, slack in self._laid.dots:
            self._dots(painter, of, width, y, slack)

    def _dots(self, painter: QPainter, of: Theme, width: int, y: int, slack: Slack) -> None:
        """Paint what is to spare before and after, right of the upright that is the window."""
        zero = _head() + DOTS_ZERO - 30
        name = slack.name.split()[-1] if text_width(slack.name, 12) > 70 else slack.name
        pens.words(painter, _head(), y, name, of.ink2, 12)
        middle = y - px(4)
        day = self.words.day_minutes
        a, b = (self._dot_x(zero, minutes, day) for minutes in (slack.before, slack.after))
        ink = of.miss if slack.is_late else of.ink
        pens.flat_rect(painter, zero - 20, middle, 20 + DAY_PIXELS * MOST_DAYS, 1, of.line)
        pens.flat_rect(painter, min(a, b), middle, abs(a - b), 2, ink)
        pens.flat_rect(painter, zero, middle - 7, 2, 15, of.ink)
        pens.beads(painter, [QPointF(a, middle + 0.5)], of.ink2, 4)
        pens.beads(painter, [QPointF(a, middle + 0.5)], of.sheet, 2.8)
        pens.beads(painter, [QPointF(b, middle + 0.5)], ink, 4)
        wide = text_width(slack.text, 12)
        pens.words(painter, width - PAD - wide, y, slack.text, ink, 12)

    def _dot_x(self, zero: int, minutes: int, day: int) -> int:
        days = max(-1.0, min(float(MOST_DAYS), minutes / max(1, day)))
        return zero + round(days * DAY_PIXELS)

"""The slip: the piece and the facts of what is chosen, as sentences, in the empty corner."""

from typing import Protocol, cast

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.window import tokens
from app.window.bits import paint_key, theme_of, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.sheet.typed import months_of
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import STOPS, Item, Role, Shape
from app.window.wall.sketch import PERSON_M, paint_person, paint_piece, placed
from app.window.wall.view import WallView
from app.words import Words, on_wall
from app.words import window as say

PADDING = 16
TITLE_PIXELS, TEXT_PIXELS, LINE = 17, 13, 19
SIDE, MOST_SIDE_PERCENT = 320, 36
LEAST_CORNER = (420, 190)
GAP = 12
PIECE, PIECE_PERCENT, PERSON_SHARE = 130, 40, 0.14
"""How high the piece is, its share of a wide slip, and that of somebody beside it."""


class Beside(Protocol):
    """What lies in the empty corner of the wall."""

    def height_for(self, width: int) -> int:
        """Return how high it is at a width."""


def put_beside(wall: WallView, part: QWidget, right: int, top: int, bottom: int) -> None:
    """Put a part into the corner where it covers no work, else beside a narrower wall."""
    sizes = tokens.sizes_for(wall.window().width())
    corner, high = wall.free_corner, cast("Beside", part).height_for
    width = min(sizes.slip_width, corner.width())
    if width >= LEAST_CORNER[0] and high(width) <= corner.height():
        part.setGeometry(right - width - GAP, top + sizes.axis + 8, width, high(width))
    else:
        side = min(px(SIDE), wall.window().width() * MOST_SIDE_PERCENT // 100)
        wall.setGeometry(0, top, right - side, bottom - top)
        part.setGeometry(right - side, top + 1, side, min(bottom - top, high(side)))
    part.raise_()


class Slip(QWidget):
    """Tells of the chosen stage, gate, leg, segment or job."""

    def __init__(self, parent: QWidget, words: Words) -> None:
        super().__init__(parent)
        self.words = words
        self.item: Item | None = None
        self.notes: tuple[str, ...] = ()
        self.shapes: tuple[Shape, ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def show_item(
        self,
        item: Item | None,
        words: Words,
        notes: tuple[str, ...] = (),
        shapes: tuple[Shape, ...] = (),
    ) -> None:
        """Show another item; None empties the slip. notes: stand in the place of its sentences.

        shapes: the piece of its job, left out where there are notes.
        """
        self.item, self.words, self.notes = item, words, notes
        self.shapes = () if notes else shapes
        if item is not None:
            self.setAccessibleName(item.name)
            self.setAccessibleDescription(item.description)
        self.update()

    def height_for(self, width: int) -> int:
        """Return how high the slip is at a width."""
        if self.item is None:
            return 0
        room = self._room(width)
        title = wrapped(_title(self.item), room, TITLE_PIXELS, 600, serif=True)
        keys = len(self._key_lines(self.item, room))
        lines = sum(len(wrapped(s, room, TEXT_PIXELS)) for s in self._told(self.item))
        high = (
            2 * PADDING
            + px(22) * len(title)
            + px(LINE) * lines
            + px(34)
            + (keys - 1) * (px(LINE) + 3)
        )
        if not self.shapes:
            return high
        return max(high, px(PIECE) + 2 * PADDING) if self._is_wide(width) else high + px(PIECE)

    def _is_wide(self, width: int) -> bool:
        """Say whether the piece lies beside the sentences, else it lies under them."""
        return bool(self.shapes) and width >= LEAST_CORNER[0]

    def _left(self, width: int) -> int:
        """Return where the sentences begin."""
        return PADDING + (width * PIECE_PERCENT // 100 if self._is_wide(width) else 0)

    def _room(self, width: int) -> int:
        return width - PADDING - self._left(width)

    def _piece_area(self) -> QRectF:
        """Return where the piece lies, with somebody beside it."""
        high = px(PIECE)
        if self._is_wide(self.width()):
            wide = self._left(self.width()) - 2 * PADDING
            return QRectF(PADDING, self.height() - PADDING - high, wide, high)
        foot = self.height() - PADDING
        return QRectF(PADDING, foot - high + 8, self.width() - 2 * PADDING, high - 8)

    def _paint_piece(self, painter: QPainter, of: Theme, item: Item) -> None:
        area = self._piece_area()
        at, metre = placed(self.shapes, area.adjusted(0, 0, -area.width() * PERSON_SHARE, 0))
        metre = min(metre, area.height() / PERSON_M)
        paint_piece(painter, of, at, item.segment, of.sheet)
        right = max((path.boundingRect().right() for _, path in at), default=area.x())
        paint_person(painter, of, right + 8, area.bottom(), metre)

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
        left, room, y = self._left(self.width()), self._room(self.width()), PADDING + px(14)
        if self.shapes:
            self._paint_piece(painter, of, self.item)
        for line in wrapped(_title(self.item), room, TITLE_PIXELS, 600, serif=True):
            pens.words(painter, left, y, line, of.ink, TITLE_PIXELS, 600, serif=True)
            y += px(22)
        for sentence in self._told(self.item):
            for line in wrapped(sentence, room, TEXT_PIXELS):
                pens.words(painter, left, y, line, of.ink2, TEXT_PIXELS)
                y += px(LINE)
        for keys in self._key_lines(self.item, room):
            x: float = left
            for key, text in keys:
                x = paint_key(painter, of, x, y + px(8), key) + 6
                x = pens.words(painter, x, y + px(8), text, of.ink2, 12) + 16
            y += px(LINE) + 3
        if self.hasFocus():
            pens.frame(painter, self.rect(), of.ink, 2)
        painter.end()

    def _key_lines(self, item: Item, room: int) -> list[list[tuple[str, str]]]:
        """Return the keys in lines that fit a width."""
        lines: list[list[tuple[str, str]]] = [[]]
        x = 0.0
        for key, text in self._keys(item):
            width = text_width(key, 11, 600) + text_width(text, 12) + 32
            if lines[-1] and x + width - 16 > room:
                lines.append([])
                x = 0
            lines[-1].append((key, text))
            x += width
        return lines

    @property
    def told(self) -> list[str]:
        """The sentences about what is chosen."""
        return [] if self.item is None else self._told(self.item)

    def _told(self, item: Item) -> list[str]:
        return list(self.notes) or _sentences(item, self.words)

    def _keys(self, item: Item) -> list[tuple[str, str]]:
        keys = [("E", self.words.say(say.DO_WRITE))]
        if item.role in STOPS and item.role not in {Role.LEG, Role.ANSWER}:
            text = say.DO_UNPIN if item.is_pinned else say.DO_PIN
            keys.append(("P", self.words.say(text)))
            keys.append(("C", self.words.say(on_wall.DO_CHAIN)))
            if item.stands != "done" and item.role is Role.BLOCK:
                keys.append(("D", self.words.say(on_wall.DO_DONE)))
                keys.append(("R", self.words.say(on_wall.DO_REMAINING)))
            if item.stands in {"done", "running"} or item.role is Role.LOADING:
                keys.append(("B", self.words.say(on_wall.DO_MISHAP)))
        return keys


def _title(item: Item) -> str:
    return item.name


def _sentences(item: Item, words: Words) -> list[str]:
    """Return the description's sentences without the one that only repeats the name."""
    text = item.description.removeprefix(f"{item.name}.").strip()
    found: list[str] = []
    for part in text.split(". "):
        if found and _is_day_and_month(found[-1], part, words):
            found[-1] += f". {part}"
        elif part:
            found.append(part)
    return [each if each.endswith(".") else f"{each}." for each in found]


def _is_day_and_month(before: str, after: str, words: Words) -> bool:
    """Say whether a point stands in a date, as in "26. Jan", and ends no sentence."""
    return before[-1:].isdigit() and after[:3].casefold() in months_of(words)

"""Pages of paper, upright A4 if not said: what stands where, in tenths of a millimetre.

One layout is painted on the screen, into a PDF and into a picture.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF

from app.window.fonts import paper_font
from app.window.wall.items import Shape
from shared.book import Kind

WIDE, HIGH, MARGIN = 2100, 2970, 150
INNER = WIDE - 2 * MARGIN
RIGHT, BOTTOM = WIDE - MARGIN, HIGH - MARGIN
HAIR, LINE, HEAVY = 2.5, 4, 7
"""Strokes: a quarter of a millimetre at least."""
SMALL, TEXT, NAME, HEADING, TITLE = 28, 32, 39, 46, 78
"""Sizes of text: 8, 9, 11, 13 and 22 points."""
LEADING = 38
FOOT = 60
"""What is kept free over the lower margin for the foot."""


@dataclass(frozen=True, slots=True)
class Text:
    """Words from a point on their baseline; is_right: up to it instead."""

    x: float
    y: float
    text: str
    size: int = TEXT
    weight: int = 400
    serif: bool = False
    italic: bool = False
    is_right: bool = False
    is_turned: bool = False
    """In the colour of the paper, on a dark band."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A filled rectangle: a line, or a band."""

    x: float
    y: float
    w: float
    h: float


@dataclass(frozen=True, slots=True)
class Frame:
    """A rectangle's outline, ticked or not."""

    x: float
    y: float
    w: float
    h: float
    line: float = LINE
    is_ticked: bool = False


@dataclass(frozen=True, slots=True)
class Swatch:
    """The mark of a kind of work; of none: the road, or what belongs to no job."""

    x: float
    y: float
    side: float
    kind: Kind | None
    is_road: bool = False


@dataclass(frozen=True, slots=True)
class Ear:
    """A dog-ear whose upper right corner is a point."""

    x: float
    y: float
    side: float = 28


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip filled as a kind's ribbon is on a printed wall."""

    x: float
    y: float
    w: float
    h: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class Hatch:
    """A hatched rectangle."""

    x: float
    y: float
    w: float
    h: float


@dataclass(frozen=True, slots=True)
class Sketch:
    """The piece of a job: its segments, standing on the lower edge of a square."""

    x: float
    y: float
    side: float
    shapes: tuple[Shape, ...]


Mark = Text | Bar | Frame | Swatch | Ear | Strip | Hatch | Sketch


@dataclass(frozen=True, slots=True)
class Block:
    """A piece of a page that is never cut. Its marks count from its upper edge.

    told: as a screen reader says it, "" for what is not read by itself. holds_next: the block
    after it stands on the same page.
    """

    high: float
    marks: tuple[Mark, ...]
    id: str = ""
    told: str = ""
    holds_next: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """A block on its page."""

    block: Block
    y: float

    @property
    def rect(self) -> QRectF:
        """Return where it lies on the page."""
        return QRectF(MARGIN - 20, self.y, INNER + 40, self.block.high)


@dataclass(slots=True)
class Page:
    """One page: its blocks from top to bottom."""

    blocks: list[Placed] = field(default_factory=list)
    y: float = MARGIN
    wide: int = WIDE
    high: int = HIGH
    lowest: int = BOTTOM - FOOT
    """Where blocks end at the latest."""

    def add(self, block: Block) -> None:
        """Put a block under the others."""
        self.blocks.append(Placed(block, self.y))
        self.y += block.high


@lru_cache(maxsize=4096)
def width_of(
    text: str,
    size: int = TEXT,
    weight: int = 400,
    *,
    serif: bool = False,
    italic: bool = False,
) -> float:
    """Return how wide a text is on paper."""
    made = paper_font(size, weight, serif=serif, italic=italic)
    return QFontMetricsF(made).horizontalAdvance(text)


def title_size(title: str, room: float) -> int:
    """Return how large a title is to fit into one line, unless it is too long for any."""
    size = TITLE
    while size > NAME and width_of(title, size, 600, serif=True) > room:
        size -= 3
    return size


def broken(
    text: str,
    width: float,
    size: int = TEXT,
    weight: int = 400,
    *,
    serif: bool = False,
    italic: bool = False,
) -> list[str]:
    """Return a text in lines that fit a width; a word too long for one is cut."""

    def wide(line: str) -> float:
        return width_of(line, size, weight, serif=serif, italic=italic)

    lines: list[str] = []
    line = ""
    for word in _cut(text.split(), width, wide):
        longer = f"{line} {word}" if line else word
        if line and wide(longer) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines


def _cut(words: Iterable[str], width: float, wide: Callable[[str], float]) -> Iterable[str]:
    for word in words:
        rest = word
        while wide(rest) > width and len(rest) > 1:
            size = next(n for n in range(len(rest) - 1, 0, -1) if n == 1 or wide(rest[:n]) <= width)
            yield rest[:size]
            rest = rest[size:]
        yield rest


def flowed(
    blocks: Iterable[Block],
    head: Callable[[int], Iterable[Block]],
    start: Callable[[], Block] | None = None,
    blank: Callable[[], Page] = Page,
) -> list[Page]:
    """Return blocks on as many pages as they need.

    head: what stands over the page of a number. start: what is put again over rows that go on.
    blank: makes an empty page.
    """
    pages: list[Page] = []
    queue = list(blocks)
    for at, block in enumerate(queue):
        needed = block.high
        follow = at
        while queue[follow].holds_next and follow + 1 < len(queue):
            follow += 1
            needed += queue[follow].high
        if not pages or pages[-1].y + needed > pages[-1].lowest:
            page = blank()
            for each in head(len(pages) + 1):
                page.add(each)
            if pages and start is not None and block.id.startswith("row "):
                page.add(start())
            pages.append(page)
        pages[-1].add(block)
    return pages


def moved(marks: Iterable[Mark], dy: float) -> tuple[Mark, ...]:
    """Return marks further down."""
    return tuple(replace(mark, y=mark.y + dy) for mark in marks)

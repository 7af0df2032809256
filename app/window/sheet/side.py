"""Beside the sentences: the piece as boxes to scale, and the job's own piece of the wall."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from PySide6.QtCore import QEvent, QRect, QSize, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.window import tokens
from app.window.bits import theme_of, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.sheet import typed
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme, theme
from app.window.tokens import px
from app.window.wall import moves, pens
from app.window.wall.items import DAY_MINUTES, Item, Row, Wall, bare_wall
from app.window.wall.view import WallView
from app.words import Words
from app.words import editor as say
from shared.book import Job, Segment
from shared.ids import JobId, SegmentId, StepId

PERSON_M = 1.7
NAMES, PIECE, LEAST_WITH_PIECE = 112, 150, 290
_FLAT_M = 0.5


def only_job(wall: Wall, job: JobId | None) -> Wall:
    """Return a wall on which one job alone stands, from today to behind its window."""
    band = wall.band_of(job)
    if band is None:
        return replace(bare_wall(), now=wall.now, zone=wall.zone, days=wall.days)
    first = band.first_row
    rows = wall.rows[first : first + band.row_count]

    def moved(item: Item) -> Item:
        return replace(item, band=0, row=item.row - first, last_row=item.last_row - first)

    def row(old: Row) -> Row:
        return replace(
            old,
            band=0,
            stops=tuple(map(moved, old.stops)),
            blocks=tuple(map(moved, old.blocks)),
            cures=tuple(map(moved, old.cures)),
            waits=tuple(map(moved, old.waits)),
            spare=None if old.spare is None else moved(old.spare),
        )

    own = replace(
        band,
        first_row=0,
        header=moved(band.header),
        window=None if band.window is None else moved(band.window),
        seams=tuple(map(moved, band.seams)),
        legs=tuple(map(moved, band.legs)),
        late=None if band.late is None else moved(band.late),
    )
    items = tuple(moved(item) for item in wall.items if item.job == job)
    return replace(
        wall,
        bands=(own,),
        rows=tuple(map(row, rows)),
        items=items,
        by_id={item.id: item for item in items},
        first=wall.now - 2 * DAY_MINUTES,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A segment from the front: how wide and high in metres; whether its size is known."""

    segment: SegmentId
    wide: float
    high: float
    is_known: bool


def boxes_of(segments: Sequence[Segment]) -> tuple[Box, ...]:
    """Return the segments as they stand side by side."""
    return tuple(
        Box(
            segment=each.id,
            wide=float(each.length_m or 1),
            high=float(each.height_m or 1) or _FLAT_M,
            is_known=each.length_m is not None and each.height_m is not None,
        )
        for each in segments
    )


class Piece(Drawn):
    """The segments as boxes to scale beside somebody 1.7 m tall; a click chooses one.

    picked: the segment.
    """

    picked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._job: Job | None = None
        self._segment: SegmentId | None = None
        self._words = Words()
        self.tall = px(PIECE)
        self._passed: tuple[tuple[str, bool], ...] = ()

    def show_job(
        self,
        job: Job,
        segment: SegmentId | None,
        words: Words,
        passed: tuple[tuple[str, bool], ...] = (),
    ) -> None:
        """Show another job. passed: what the chosen segment passes, and whether it doesn't."""
        self._job, self._segment, self._words = job, segment, words
        self._passed = passed
        self.setAccessibleName(job.name)
        self.refresh()

    def height_at(self, width: int) -> int:
        """Return how high it is."""
        return self.tall

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return a spot for each segment."""
        if self._job is None:
            return ()
        names = {each.id: each for each in self._job.segments}
        return [
            Spot(
                id=str(box.segment),
                rect=rect,
                name=names[box.segment].name,
                description=f"{names[box.segment].name}, {self._size(names[box.segment])}",
                do=partial(self.picked.emit, str(box.segment)),
                is_chosen=box.segment == self._segment,
            )
            for box, rect in self._laid(width)
        ]

    def _size(self, segment: Segment) -> str:
        sides = (segment.length_m, segment.width_m, segment.height_m)
        if None in sides:
            return self._words.say(say.PIECE_NO_SIZE)
        names = dict(zip(("length", "width", "height"), map(typed.figure, sides), strict=True))
        return self._words.say(say.PIECE_SIZE, **names)

    def _laid(self, width: int) -> list[tuple[Box, QRect]]:
        if self._job is None:
            return []
        boxes = boxes_of(self._job.segments)
        ground, room = self.tall - 12, width * 0.6 - 30
        metres = sum(box.wide for box in boxes) + 0.15 * len(boxes) + 0.9
        scale = min(room / metres, (self.tall - 24) / max(PERSON_M, *(b.high for b in boxes)))
        x, found = 16.0, []
        for box in boxes:
            wide, high = round(box.wide * scale), round(box.high * scale)
            found.append((box, QRect(round(x), ground - high, max(3, wide), max(3, high))))
            x += (box.wide + 0.15) * scale
        self._person = (round(x + 0.25 * scale), ground, scale)
        return found

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint boxes, a person, and what is known of the chosen segment."""
        laid = self._laid(width)
        if self._job is None or not laid:
            return
        for box, rect in laid:
            is_chosen = box.segment == self._segment
            pens.flat_rect(painter, rect.x(), rect.y(), rect.width(), rect.height(), of.sheet)
            if box.is_known or is_chosen:
                pens.frame(painter, rect, of.ink, 3 if is_chosen else 1)
            if not box.is_known:
                painter.setPen(QPen(of.ink3, 1))
                painter.drawLine(rect.topLeft(), rect.bottomRight())
        self._paint_person(painter, of)
        chosen = next((s for s in self._job.segments if s.id == self._segment), None)
        if chosen is not None:
            self._paint_facts(painter, of, chosen, round(width * 0.6))

    def _paint_person(self, painter: QPainter, of: Theme) -> None:
        x, ground, scale = self._person
        tall = round(PERSON_M * scale)
        body, head = max(3, tall // 5), max(2, tall // 12)
        pens.beads(painter, [QRect(x, ground - tall, 1, 1).center().toPointF()], of.ink2, head)
        top = ground - tall + head + 2
        pens.flat_rect(painter, x - body // 2, top, body, ground - top, of.ink2)

    def _paint_facts(self, painter: QPainter, of: Theme, segment: Segment, x: int) -> None:
        y = px(26)
        pens.words(painter, x, y, segment.name, of.ink, 17, 600, serif=True)
        lines = [(line, False) for line in self._facts(segment)]
        for text, is_bad in (*lines, *self._passed):
            for line in wrapped(text, self.width() - x - 10, 13):
                y += px(18)
                if y < self.tall:
                    pens.words(painter, x, y, line, of.miss if is_bad else of.ink2, 13)

    def _facts(self, segment: Segment) -> list[str]:
        lines = [self._size(segment)]
        if segment.length_m and segment.width_m and segment.height_m:
            box = segment.length_m * segment.width_m * segment.height_m
            lines.append(self._words.say(say.PIECE_VOLUME, volume=typed.figure(round(box, 1))))
        if segment.mass_low_kg is not None and segment.mass_high_kg is not None:
            low, high = (
                typed.figure(round(m)) for m in (segment.mass_low_kg, segment.mass_high_kg)
            )
            lines.append(self._words.say(say.PIECE_MASS, low=low, high=high))
        return lines


class OwnWall(WallView):
    """A wall for one job: names of segments need less room than names of jobs."""

    @property
    def sizes(self) -> tokens.Sizes:
        """The sizes of the whole window, with a narrower place for names."""
        return replace(super().sizes, names=px(NAMES))


class Side(QWidget):
    """The piece above, the job's own piece of the wall below.

    picked: a segment was chosen on the piece. hovered: what is under the pointer on the wall.
    """

    picked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.piece = Piece()
        self.piece.setParent(self)
        self.piece.picked.connect(self.picked)
        self.wall = OwnWall(bare_wall(), Words(), theme("light"), self)
        self.words = Words()
        self._shown: JobId | None = None
        self._note = ""

    def show_job(
        self,
        job: Job,
        segment: SegmentId | None,
        wall: Wall,
        words: Words,
        passed: tuple[tuple[str, bool], ...] = (),
    ) -> None:
        """Show a job as it is planned now."""
        self.words = words
        band = wall.band_of(job.id)
        told = "" if band is None else band.header.name.removeprefix(f"{job.name}, ").rstrip(", ")
        self._note = told or words.say(say.ON_THE_WALL_NOTE)
        self.wall.set_theme(theme_of(self))
        self.piece.show_job(job, segment, words, passed)
        self.wall.show_wall(only_job(wall, job.id), words)
        if job.id != self._shown:
            self._shown = job.id
            self.wall.show_season()
        self.update()

    def choose(self, segment: SegmentId | None, step: StepId | None) -> None:
        """Frame on the job's own wall what is written: a step in the row of a segment."""
        wall = self.wall.wall
        row = next((n for n, each in enumerate(wall.rows) if each.segment == segment), None)
        stops = () if row is None else wall.rows[row].stops
        stop = next((each.id for each in stops if each.step == step), f"segment {segment}")
        self.wall.choose(moves.at(wall, stop, row), reveal=False)

    @property
    def _top(self) -> int:
        """Where the wall's heading begins; a low window has no room for the piece above it."""
        if self.height() < px(LEAST_WITH_PIECE):
            return 0
        return min(px(PIECE), self.height() * 2 // 5)

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(484, 400)

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        top = self._top
        self.piece.tall = top
        self.piece.refresh()
        self.piece.setVisible(top > 0)
        self.piece.setGeometry(1, 0, self.width() - 1, top)
        self.wall.setGeometry(1, top + px(30), self.width() - 1, self.height() - top - px(30))
        self.wall.show_season()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.PaletteChange:
            self.wall.set_theme(theme_of(self))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, 1, self.height(), of.line)
        y = self._top + px(20)
        x = pens.words(painter, 16, y, self.words.say(say.ON_THE_WALL), of.ink, 17, 600, serif=True)
        pens.words(painter, x + 12, y, self._fitting(self.width() - x - 20), of.ink2, 13)
        painter.end()

    def _fitting(self, room: float) -> str:
        """Return as many whole pieces of the note as fit."""
        parts = self._note.split(", ")
        while parts and text_width(", ".join(parts), 13) > room:
            parts.pop()
        return ", ".join(parts)

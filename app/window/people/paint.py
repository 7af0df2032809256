"""Paints the foreman's view: ground, bars, names, and the axis of hours and days above."""

from collections import defaultdict
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRect
from PySide6.QtGui import QColor, QPainter, QPainterPath

from app.window import tokens
from app.window.fonts import text_width
from app.window.people.items import Board, Sort
from app.window.people.labels import PAD, PIXELS, SMALL, Label, label_of
from app.window.people.layout import LEFT, Chunk, Layout, Row, Track
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_ribbons import paint_ears, paint_pattern, paint_pins
from app.words import Words

if TYPE_CHECKING:
    from shared.book import Kind

AXIS = 46
NAME_PIXELS, PLACE_PIXELS = 14, 12
MARK_WIDTH = 14
"""The right end of a block, where it is marked as done or not yet said to be."""


def paint_axis(painter: QPainter, of: Theme, board: Board, layout: Layout) -> None:
    """Paint hours over today, the names of the days after, and where now is."""
    high = px(AXIS)
    first = layout.tracks[0]
    for minute, figure in first.column.hours:
        if first.column.start <= minute <= first.column.end:
            x = first.x(minute) - text_width(figure, 12) / 2
            pens.words(painter, x, high - px(8), figure, of.ink2, 12)
    for track in layout.tracks[1:]:
        ink = of.ink2 if track.column.is_off else of.ink
        width = text_width(track.column.label, 12, 600)
        x = (track.left + track.right - width) / 2
        pens.words(painter, x, high - px(8), track.column.label, ink, 12, 600)
    pens.flat_rect(painter, 0, high - 1, layout.width, 1, of.ink)
    _pill(painter, of, board, first, high)


def _pill(painter: QPainter, of: Theme, board: Board, track: Track, high: int) -> None:
    label = track.column.label
    width = round(text_width(label, 12, 600)) + 20
    is_now = track.column.start <= board.now <= track.column.end
    x = track.x(board.now) - width // 3 if is_now else track.left
    x = max(track.left - 3, min(x, track.right - width))
    path = QPainterPath()
    path.addRoundedRect(x, 4, width, px(18), 3, 3)
    pens.fill_path(painter, path, of.ink)
    pens.words(painter, x + 10, 4 + px(13), label, of.paper, 12, 600)
    if is_now:
        at = track.x(board.now)
        tip = QPainterPath(QPointF(at - 4, high - 11))
        tip.lineTo(at + 4, high - 11)
        tip.lineTo(at, high - 4)
        tip.closeSubpath()
        pens.fill_path(painter, tip, of.ink)


def paint_rows(
    painter: QPainter,
    of: Theme,
    board: Board,
    layout: Layout,
    words: Words,
    *,
    row_over: str | None,
) -> None:
    """Paint everything below the axis."""
    _ground(painter, of, layout, row_over)
    _lines(painter, of, layout)
    _bars(painter, of, layout)
    _now(painter, of, board, layout)
    away = [r for chunk in layout.chunks if chunk.bar.sort is Sort.AWAY for r in chunk.rects]
    for chunk in layout.chunks:
        # Of an old plan, work may lie under somebody's absence.
        is_under = chunk.bar.sort is not Sort.AWAY and any(map(chunk.rect.intersects, away))
        if not is_under:
            _label(painter, of, words, chunk)
        _marks(painter, of, chunk)
    _past(painter, of, board, layout)
    _names(painter, of, layout)


def _now(painter: QPainter, of: Theme, board: Board, layout: Layout) -> None:
    first = layout.tracks[0]
    if first.column.start <= board.now <= first.column.end:
        pens.flat_rect(painter, first.x(board.now), 0, 2, layout.height, of.ink)


def _past(painter: QPainter, of: Theme, board: Board, layout: Layout) -> None:
    """Veil what is over, unless somebody has still to say whether it is done."""
    over = [rect for chunk in layout.chunks if _is_past(chunk, board) for rect in chunk.rects]
    pens.flat_rects(painter, over, of.veil)


def _is_past(chunk: Chunk, board: Board) -> bool:
    return chunk.bar.end <= board.now and not chunk.bar.is_unsure


def _ground(painter: QPainter, of: Theme, layout: Layout, row_over: str | None) -> None:
    off: list[QRect] = []
    shut: list[QRect] = []
    for row in layout.rows:
        if row.line.id == row_over:
            pens.flat_rect(painter, 0, row.top, layout.width, row.height, of.sheet)
        for track in layout.tracks:
            whole = QRect(track.left, row.top, track.right - track.left, row.height)
            if track.column.is_shut:
                shut.append(whole)
            elif row.line.is_place:
                off += [whole] if track.column.is_off else []
            else:
                off += _not_there(row, track)
    pens.flat_rects(painter, off, of.off)
    pens.flat_rects(painter, shut, of.shut)


def _not_there(row: Row, track: Track) -> list[QRect]:
    """Return where somebody is not to be had within a day's hours."""
    found, at = [], track.column.start
    for start, end in row.line.there:
        if end <= track.column.start or start >= track.column.end:
            continue
        if start > at:
            found.append((at, start))
        at = max(at, end)
    if at < track.column.end:
        found.append((at, track.column.end))
    return [
        QRect(track.x(start), row.top, track.x(end) - track.x(start), row.height)
        for start, end in found
    ]


def _lines(painter: QPainter, of: Theme, layout: Layout) -> None:
    level = [
        QRect(LEFT, row.top + row.height, layout.width - LEFT - 8, 1)
        for row in layout.rows
        if not row.line.is_place
    ]
    first = layout.tracks[0]
    upright = [
        QRect(first.x(minute), 0, 1, layout.height)
        for minute, _ in first.column.hours
        if first.column.start < minute < first.column.end
    ]
    upright += [QRect(track.right + 2, 0, 1, layout.height) for track in layout.tracks[1:]]
    pens.flat_rects(painter, [*level, *upright], of.line)
    pens.flat_rect(painter, 0, layout.places_y, layout.width, 1, of.ink3)
    pens.flat_rect(painter, layout.seam_x, 0, 1, layout.height, of.ink3)


# Bars, collected by kind and painted in one call each.


def _bars(painter: QPainter, of: Theme, layout: Layout) -> None:
    by_kind: dict[Kind, list[QRect]] = defaultdict(list)
    bare: list[QRect] = []
    for chunk in layout.chunks:
        if chunk.is_still and chunk.bar.kind is not None:
            continue
        if chunk.bar.sort is Sort.WORK and chunk.bar.kind is not None:
            by_kind[chunk.bar.kind] += chunk.rects
        elif chunk.bar.sort is Sort.OTHER:
            bare += chunk.rects
    for chunk in layout.chunks:
        _neck(painter, of, chunk)
    for kind, rects in by_kind.items():
        pens.flat_rects(painter, rects, of.outlines[kind])
        pens.flat_rects(painter, _inner(rects), of.fills[kind])
        paint_pattern(painter, of, kind, _inner(rects))
    pens.flat_rects(painter, bare, of.ink3)
    pens.flat_rects(painter, _inner(bare), of.sheet)
    for chunk in layout.chunks:
        _special(painter, of, chunk)


def _inner(rects: list[QRect]) -> list[QRect]:
    return [rect.adjusted(1, 1, -1, -1) for rect in rects if rect.width() > 2]


def _neck(painter: QPainter, of: Theme, chunk: Chunk) -> None:
    if len(chunk.rects) < 2 or chunk.bar.sort is Sort.AWAY:
        return
    ink = of.lines[chunk.bar.kind] if chunk.bar.kind is not None else of.ink3
    whole = chunk.rect
    y = whole.y() + whole.height() // 2 - 1
    pens.flat_rect(painter, whole.x(), y, whole.width(), 2, ink)


def _special(painter: QPainter, of: Theme, chunk: Chunk) -> None:
    """Paint what is no stage: the road, a cure, somebody away."""
    sort = chunk.bar.sort
    for rect in chunk.rects:
        inner = rect.adjusted(1, 1, -1, -1)
        if chunk.is_still and chunk.bar.kind is not None:
            pens.flat_rects(painter, [rect], of.outlines[chunk.bar.kind])
            pens.flat_rects(painter, [inner], of.paper)
        elif sort is Sort.ROAD:
            pens.flat_rects(painter, [rect], of.ink2)
        elif sort is Sort.AWAY:
            pens.flat_rects(painter, [rect], of.ink3)
            pens.flat_rects(painter, [inner], of.paper)
            pens.slanted(painter, _hatch(inner), of.ink3)
        elif sort is Sort.CURE and chunk.bar.kind is not None:
            pens.flat_rects(painter, [inner], of.paper)
            pens.slanted(painter, _hatch(inner), of.cures[chunk.bar.kind])
            edges = [
                QRect(rect.x(), rect.y(), rect.width(), 1),
                QRect(rect.x(), rect.bottom(), rect.width(), 1),
            ]
            pens.flat_rects(painter, edges, of.lines[chunk.bar.kind])


def _hatch(rect: QRect) -> list[QLineF]:
    return pens.hatch_lines(
        rect.x(), rect.y(), rect.width(), rect.height(), tokens.HATCH_PITCH, rect.x()
    )


def _inks(of: Theme, chunk: Chunk) -> tuple[QColor, QColor]:
    """Return the ink of words in a bar and the ground of their plates."""
    bar = chunk.bar
    if chunk.is_still:
        return of.ink2, of.paper
    if bar.sort is Sort.WORK and bar.kind is not None:
        return of.on_fill, of.fills[bar.kind]
    if bar.sort is Sort.ROAD:
        return of.paper, of.ink2
    return of.ink, of.sheet if bar.sort is Sort.OTHER else of.paper


def _label(painter: QPainter, of: Theme, words: Words, chunk: Chunk) -> None:
    rect = max(chunk.rects, key=lambda each: each.width())
    has_mark = chunk.bar.is_unsure or chunk.bar.is_done
    free = (
        rect.adjusted(0, 0, -MARK_WIDTH, 0)
        if has_mark and rect.right() == chunk.rect.right()
        else rect
    )
    label = label_of(words, chunk.bar, free.width(), free.height(), is_narrow=chunk.number > 0)
    if label.bold and rect.height() >= px(12):
        ink, plate = _inks(of, chunk)
        _written(painter, free, label, ink, plate)


def _written(painter: QPainter, rect: QRect, label: Label, ink: QColor, plate: QColor) -> None:
    x = rect.x() + PAD
    has_two = bool(label.below)
    middle = rect.y() + rect.height() / 2
    baseline = round(middle - px(2) if has_two else middle + px(4))
    wide = text_width(label.bold, PIXELS, 600)
    if label.plain:
        wide += 5 + text_width(label.plain, PIXELS)
    wide = max(wide, text_width(label.below, SMALL))
    pens.flat_rect(
        painter, rect.x() + 1, rect.y() + 1, round(wide) + PAD + 2, rect.height() - 2, plate
    )
    end = pens.words(painter, x, baseline, label.bold, ink, PIXELS, 600)
    if label.plain:
        pens.words(painter, end + 5, baseline, label.plain, ink, PIXELS)
    if label.below:
        pens.words(painter, x, round(middle + px(10)), label.below, ink, SMALL)
    if label.right:
        width = round(text_width(label.right, SMALL))
        left = rect.right() - width - PAD
        pens.flat_rect(painter, left - 3, rect.y() + 1, width + PAD + 3, rect.height() - 2, plate)
        pens.words(painter, left, baseline, label.right, ink, SMALL)


def _marks(painter: QPainter, of: Theme, chunk: Chunk) -> None:
    bar, rect = chunk.bar, chunk.rect
    if bar.sort is not Sort.WORK:
        return
    if bar.is_anew and not bar.is_done:
        paint_ears(painter, of, [rect])
    if bar.is_pinned and not chunk.line.is_place:
        paint_pins(painter, of, [rect.topLeft()])
    if chunk.is_out:
        pens.flat_rect(painter, rect.x(), rect.y(), rect.width(), 2, of.ink)
    if bar.is_done:
        _tick(painter, of, rect)
    elif bar.is_unsure:
        _question(painter, of, chunk)


def _tick(painter: QPainter, of: Theme, rect: QRect) -> None:
    """Paint the mark of what is done at the lower right."""
    x, y = rect.right() - 12, rect.bottom() - 6
    path = QPainterPath(QPointF(x, y - 3))
    path.lineTo(x + 3, y)
    path.lineTo(x + 9, y - 7)
    pens.outline_path(painter, path, of.on_fill, 2)


def _question(painter: QPainter, of: Theme, chunk: Chunk) -> None:
    """Paint the mark of what is over, as told, and nobody has said so."""
    rect = chunk.rect
    ink, plate = _inks(of, chunk)
    if rect.width() >= 24:
        left = rect.right() - 11
        pens.flat_rect(painter, left - 2, rect.y() + 1, 12, rect.height() - 2, plate)
        pens.words(painter, left, rect.y() + rect.height() / 2 + 4, "?", ink, PIXELS, 600)


def _names(painter: QPainter, of: Theme, layout: Layout) -> None:
    for row in layout.rows:
        pixels = PLACE_PIXELS if row.line.is_place else NAME_PIXELS
        ink = of.ink2 if row.line.is_place or row.line.is_away else of.ink
        baseline = round(row.top + row.height / 2 + px(5))
        name = _fitted(row.line.name, pixels, layout.names - 4)
        pens.words(painter, LEFT, baseline, name, ink, pixels, 600)


def _fitted(name: str, pixels: int, room: int) -> str:
    """Return a name, or its first words that fit."""
    parts = name.split()
    while len(parts) > 1 and text_width(" ".join(parts), pixels, 600) > room:
        parts.pop()
    return " ".join(parts)

"""Each mark by its name, drawn into a box with the strokes of the wall."""

from collections.abc import Callable

from PySide6.QtCore import QLine, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.window.bits import paint_cure
from app.window.fonts import text_width
from app.window.theme import Theme, over_opening
from app.window.wall import pens
from app.window.wall.items import Shape
from app.window.wall.paint_marks import (
    paint_answer,
    paint_fan,
    paint_leg,
    paint_teeth,
    paint_verdict,
    torn,
)
from app.window.wall.paint_pointed import dashed_frame
from app.window.wall.paint_ribbons import BEYOND, paint_ears, paint_pattern, paint_pins
from app.window.wall.paint_signs import Signs, paint_letter
from app.window.wall.sketch import paint_piece, placed
from scheduler.outcome import Verdict
from shared.book import Kind, LegKind
from shared.ids import SegmentId

HIGH = 20
_HOURS = "53 h"
_VERDICTS = {
    "fits": Verdict.FITS,
    "tight": Verdict.TIGHT,
    "misses": Verdict.MISSES,
    "cannot": Verdict.CANNOT,
    "not found": Verdict.NOT_FOUND,
}
_Draw = Callable[[QPainter, Theme, QRect], None]


def paint_mark(painter: QPainter, of: Theme, box: QRect, name: str) -> None:
    """Paint the mark of that name into a box."""
    if name in {kind.value for kind in Kind}:
        _block(painter, of, box, Kind(name))
    elif name in _VERDICTS:
        at = box.center()
        paint_verdict(painter, of, at.x(), at.y(), 8, _VERDICTS[name])
    else:
        _DRAWN[name](painter, of, box)


def _block(painter: QPainter, of: Theme, rect: QRect, kind: Kind) -> QRect:
    inner = rect.adjusted(1, 1, -1, -1)
    pens.flat_rects(painter, [rect], of.outlines[kind])
    pens.flat_rects(painter, [inner], of.fills[kind])
    paint_pattern(painter, of, kind, [inner])
    return rect


def _part(box: QRect, left: int, right: int) -> QRect:
    """Return what lies from so many to so many hundredths of a box."""
    a, b = box.x() + box.width() * left // 100, box.x() + box.width() * right // 100
    return QRect(a, box.y(), b - a, box.height())


def _cure(painter: QPainter, of: Theme, rect: QRect, kind: Kind) -> None:
    paint_cure(painter, of, QRect(rect.x(), rect.center().y() - 3, rect.width(), 7), kind)


def _thickness(painter: QPainter, of: Theme, box: QRect) -> None:
    for index, percent in enumerate((60, 80, 100)):
        high = box.height() * percent // 100
        part = _part(box, 33 * index, 33 * index + 33)
        _block(
            painter,
            of,
            QRect(part.x(), box.center().y() - high // 2, part.width(), high),
            Kind.FOAM,
        )


def _neck(painter: QPainter, of: Theme, box: QRect) -> None:
    _block(painter, of, _part(box, 0, 33), Kind.FILL)
    _block(painter, of, _part(box, 67, 100), Kind.FILL)
    middle = _part(box, 33, 67)
    line = QRect(middle.x(), box.center().y() - 1, middle.width(), 2)
    pens.flat_rects(painter, [line], of.lines[Kind.FILL])


def _cures(painter: QPainter, of: Theme, box: QRect) -> None:
    _block(painter, of, _part(box, 0, 25), Kind.LAMINATE)
    strip = _part(box, 25, 100)
    _cure(painter, of, strip, Kind.LAMINATE)
    x = strip.x() + (strip.width() - text_width(_HOURS, 11, 500)) / 2
    pens.words(painter, x, strip.center().y() - 6, _HOURS, of.ink2, 11, 500)


def _held(painter: QPainter, of: Theme, box: QRect) -> None:
    _block(painter, of, _part(box, 0, 18), Kind.LACQUER)
    rest = _part(box, 18, 100)
    _cure(painter, of, rest, Kind.LACQUER)
    pens.flat_rects(painter, [QRect(rest.x(), rest.center().y() + 6, rest.width(), 2)], of.ink)


def _recoat(painter: QPainter, of: Theme, box: QRect) -> None:
    _coats(painter, of, box)
    signs = Signs()
    rest = _part(box, 44, 84)
    signs.bracket(rest.x(), rest.right(), box.bottom() + 3)
    signs.paint(painter, of)


def _coats(painter: QPainter, of: Theme, box: QRect) -> None:
    _block(painter, of, _part(box, 0, 15), Kind.PAINT)
    _cure(painter, of, _part(box, 15, 44), Kind.PAINT)
    _block(painter, of, _part(box, 60, 76), Kind.PAINT)


def _abrade(painter: QPainter, of: Theme, box: QRect) -> None:
    _block(painter, of, _part(box, 0, 15), Kind.PAINT)
    _cure(painter, of, _part(box, 15, 40), Kind.PAINT)
    abraded = _block(painter, of, _part(box, 66, 76), Kind.FILL)
    _block(painter, of, _part(box, 76, 96), Kind.PAINT)
    signs = Signs()
    signs.wedge(abraded)
    signs.paint(painter, of)


def _waits(painter: QPainter, of: Theme, box: QRect) -> None:
    _block(painter, of, _part(box, 0, 20), Kind.FOAM)
    _block(painter, of, _part(box, 80, 100), Kind.LAMINATE)
    y, middle = box.center().y(), _part(box, 20, 80)
    line = QLine(middle.x() + 3, y, middle.right() - 1, y)
    pens.dotted(painter, [line], of.ink3)


def _spare(painter: QPainter, of: Theme, box: QRect) -> None:
    _block(painter, of, _part(box, 0, 20), Kind.PACK)
    rest = _part(box, 24, 92)
    y = box.center().y()
    lines = [QRect(rest.x(), y + dy, rest.width(), 1) for dy in (-4, 4)]
    pens.flat_rects(painter, lines, of.ink3)
    pens.flat_rects(painter, [QRect(_part(box, 95, 100).x(), box.y(), 3, box.height())], of.ink)


def _answer(painter: QPainter, of: Theme, box: QRect) -> None:
    for at, state in ((30, "open"), (70, "done")):
        x = _part(box, at, 100).x()
        paint_answer(painter, of, x, box.y() - 4, box.bottom() + 4, state)


def _trial_fit(painter: QPainter, of: Theme, box: QRect) -> None:
    paint_teeth(painter, of, box.center().x(), box.y() - 4, box.bottom() + 4)


def _loading(painter: QPainter, of: Theme, box: QRect) -> None:
    x, middle = _part(box, 30, 100).x(), box.center().y()
    pens.flat_rects(painter, [QRect(x, box.y() - 2, 3, box.height() + 4)], of.ink)
    road = _part(box, 58, 100)
    paint_fan(painter, of, (x + 3, road.x()), [box.y(), middle, box.bottom()], middle)
    _leg(painter, of, road, LegKind.DRIVE)


def _leg(painter: QPainter, of: Theme, box: QRect, leg: LegKind) -> None:
    high = 9
    paint_leg(painter, of, leg, QRect(box.x(), box.center().y() - high // 2, box.width(), high))


def _drive(painter: QPainter, of: Theme, box: QRect) -> None:
    _leg(painter, of, box, LegKind.DRIVE)


def _sailing(painter: QPainter, of: Theme, box: QRect) -> None:
    _leg(painter, of, box, LegKind.SAILING)


def _border(painter: QPainter, of: Theme, box: QRect) -> None:
    _leg(painter, of, _part(box, 0, 42), LegKind.BORDER)
    _leg(painter, of, _part(box, 50, 100), LegKind.WAIT)


def _posts(painter: QPainter, of: Theme, box: QRect, *, is_held: bool = False) -> QRect:
    window = _part(box, 20, 84).adjusted(0, -4, 0, 4)
    pens.flat_rects(painter, [window], of.opening)
    posts = [window.x() - 2, window.right() + 1]
    posts += [window.x() - 6, window.right() + 5] if is_held else []
    high = window.height()
    pens.flat_rects(painter, [QRect(x, window.y(), 2, high) for x in posts], of.post)
    lintel = QRect(window.x() - 6, window.y() - 3, window.width() + 12, 3)
    pens.flat_rects(painter, [lintel], of.post)
    return window


def _window(painter: QPainter, of: Theme, box: QRect) -> None:
    inside, inks = _posts(painter, of, box).adjusted(6, 6, -6, -6), over_opening(of.name)
    for leg, part in (
        (LegKind.LIFT, _part(inside, 0, 40)),
        (LegKind.ASSEMBLE, _part(inside, 40, 80)),
        (LegKind.SIGN_OFF, _part(inside, 80, 100)),
    ):
        _leg(painter, inks, part, leg)


def _late(painter: QPainter, of: Theme, box: QRect) -> None:
    pens.flat_rects(painter, [QRect(box.x() + 18, box.y() - 3, 2, box.height() + 6)], of.post)
    r = box.adjusted(22, 0, -8, 0)
    path = torn(r.x(), r.right(), r.y(), r.bottom())
    pens.fill_path(painter, path, of.missbg)
    painter.save()
    painter.setClipPath(path)
    hatch = pens.hatch_lines(r.x(), r.y(), r.width(), r.height(), 6)
    pens.slanted(painter, hatch, of.miss)
    painter.restore()
    pens.outline_path(painter, path, of.miss, 1)


def _enquiry(painter: QPainter, of: Theme, box: QRect) -> None:
    at = box.center()
    paint_verdict(painter, of, at.x(), at.y(), 7, None, is_enquiry=True)


def _pinned(painter: QPainter, of: Theme, box: QRect) -> None:
    block = _block(painter, of, _part(box, 10, 90), Kind.FILL)
    paint_pins(painter, of, [QPoint(block.x() + 3, block.y())])


def _held_job(painter: QPainter, of: Theme, box: QRect) -> None:
    _posts(painter, of, box, is_held=True)


def _changed(painter: QPainter, of: Theme, box: QRect) -> None:
    paint_ears(painter, of, [_block(painter, of, _part(box, 10, 90), Kind.FOAM)])


def _stands(painter: QPainter, of: Theme, box: QRect, stands: str, hours: str = "") -> None:
    block = _block(painter, of, _part(box, 10, 90), Kind.PAINT)
    signs = Signs()
    signs.box(block, stands)
    if hours:
        signs.figure(block, 44, hours)
    signs.paint(painter, of)


def _done(painter: QPainter, of: Theme, box: QRect) -> None:
    _stands(painter, of, box, "done")


def _running(painter: QPainter, of: Theme, box: QRect) -> None:
    _stands(painter, of, box, "running", "6½")


def _told(painter: QPainter, of: Theme, box: QRect) -> None:
    _stands(painter, of, box, "told")


def _letter(painter: QPainter, of: Theme, box: QRect) -> None:
    y = box.center().y()
    pens.dotted(painter, [QLine(box.x() + 4, y, box.right() - 4, y)], of.ink)
    paint_letter(painter, of, box.center().x(), y, "A")


def _chosen(painter: QPainter, of: Theme, box: QRect) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(of.sheet)
    painter.setPen(QPen(of.ink, 1.5))
    painter.drawRoundedRect(QRectF(box.adjusted(-1, -4, 1, 4)), 2.5, 2.5)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    block = _block(painter, of, _part(box, 14, 54), Kind.LAMINATE)
    _cure(painter, of, _part(box, 54, 92), Kind.LAMINATE)
    pens.frame(painter, block.adjusted(-2, -2, 2, 2), of.paper, 2)
    pens.frame(painter, block.adjusted(-4, -4, 4, 4), of.ink, 2)


def _latest(painter: QPainter, of: Theme, box: QRect) -> None:
    parts = [_part(box, 0, 38).adjusted(0, 6, 0, -6), _part(box, 62, 100).adjusted(0, 6, 0, -6)]
    for part in parts:
        pens.frame(painter, part, of.ink2, 1)
    line = QRect(parts[0].right(), box.center().y(), parts[1].x() - parts[0].right(), 1)
    pens.flat_rects(painter, [line], of.ink2)


def _beyond(painter: QPainter, of: Theme, box: QRect) -> None:
    block = _block(painter, of, _part(box, 10, 90), Kind.LAMINATE)
    late = QRect(block.center().x(), block.y(), block.right() - block.center().x() + 1, BEYOND)
    pens.flat_rects(painter, [late], of.ink)


def _since(painter: QPainter, of: Theme, box: QRect) -> None:
    block = _block(painter, of, _part(box, 16, 84), Kind.FOAM)
    pens.flat_rects(painter, [block], of.veil)
    dashed_frame(painter, of, block.adjusted(-4, -4, 4, 4))


def _piece(painter: QPainter, of: Theme, box: QRect) -> None:
    reached = (Kind.FOAM, Kind.LAMINATE, None)
    shapes = [
        Shape(segment=SegmentId(str(at)), wide=wide, high=high, reached=kind)
        for at, (kind, wide, high) in enumerate(
            zip(reached, (2, 1.6, 1), (1, 1.2, 0.8), strict=True)
        )
    ]
    at = placed(shapes, QRectF(box.adjusted(0, -4, 0, 4)))[0]
    paint_piece(painter, of, at, None, of.paper)


def _today(painter: QPainter, of: Theme, box: QRect) -> None:
    block = _block(painter, of, _part(box, 10, 90), Kind.FOAM)
    x = block.center().x()
    veil = QRect(box.x(), box.y() - 4, x - box.x(), box.height() + 8)
    pens.flat_rects(painter, [veil], of.veil)
    pens.flat_rects(painter, [QRect(x, box.y() - 5, 2, box.height() + 10)], of.ink)


_DRAWN: dict[str, _Draw] = {
    "thickness": _thickness,
    "neck": _neck,
    "cure": _cures,
    "held place": _held,
    "recoat": _recoat,
    "abrade": _abrade,
    "waits": _waits,
    "spare": _spare,
    "answer": _answer,
    "trial fit": _trial_fit,
    "loading": _loading,
    "drive": _drive,
    "sailing": _sailing,
    "border": _border,
    "window": _window,
    "late": _late,
    "enquiry": _enquiry,
    "pinned": _pinned,
    "held job": _held_job,
    "changed": _changed,
    "done": _done,
    "running": _running,
    "told": _told,
    "letter": _letter,
    "chosen": _chosen,
    "latest": _latest,
    "beyond": _beyond,
    "since": _since,
    "piece": _piece,
    "today": _today,
}

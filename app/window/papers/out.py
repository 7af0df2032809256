"""Paper as files without a window: PDF, SVG and PNG by the painter that prints."""

import re
from base64 import b64encode
from functools import cache
from importlib.resources import files

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRectF, QSize
from PySide6.QtGui import (
    QColor,
    QFontDatabase,
    QGuiApplication,
    QImage,
    QPageLayout,
    QPainter,
)
from PySide6.QtSvg import QSvgGenerator

from app.window import tokens
from app.window.fonts import load_fonts
from app.window.printing import MILLIMETRES_A_PIXEL, Job, Paint, page_size, pdf_of

PICTURE_DOTS_PER_INCH = 200
_MM_PER_INCH = 25.4
_UNITS = 10
"""Of an SVG to a pixel of the page: a fortieth of a millimetre."""
_A_MM = 10
"""Of the size that an SVG says of itself: it holds whole numbers only."""
_WHITE = QColor(255, 255, 255)
_FONT = re.compile(rb'font-family="([^"]+)"')
_FILES = {
    "Barlow Semi Condensed": "BarlowSemiCondensed-Regular.ttf",
    "Barlow Semi Condensed Medium": "BarlowSemiCondensed-Medium.ttf",
    "Barlow Semi Condensed SemiBold": "BarlowSemiCondensed-SemiBold.ttf",
    "Source Serif 4": "SourceSerif4-Italic.ttf",
    "Source Serif 4 SemiBold": "SourceSerif4-SemiBold.ttf",
}


@cache
def begun() -> QGuiApplication:
    """Return what Qt needs to lay out and paint, begun without a display if nobody has."""
    app = QGuiApplication.instance()
    if not isinstance(app, QGuiApplication):
        app = QGuiApplication(["countback", "-platform", "offscreen"])
    if tokens.SANS not in QFontDatabase.families():
        load_fonts()
    return app


def written(job: Job, layout: QPageLayout, suffix: str) -> dict[str, bytes]:
    """Return pages as files, by what comes behind the stem of their names.

    A PDF holds them all; of pictures each holds one, "" the first, "-2" the second.
    """
    if suffix == ".pdf":
        return {"": pdf_of(job, layout)}
    one = _svg if suffix == ".svg" else _png
    size = page_size(layout)
    return {
        f"-{number}" if number > 1 else "": one(page, job.title, size)
        for number, page in enumerate(job.pages(size), start=1)
    }


def _png(page: Paint, title: str, size: QSize) -> bytes:
    scale = PICTURE_DOTS_PER_INCH * MILLIMETRES_A_PIXEL / _MM_PER_INCH
    wide, high = round(size.width() * scale), round(size.height() * scale)
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(_WHITE)
    dots = round(PICTURE_DOTS_PER_INCH * 1000 / _MM_PER_INCH)
    image.setText("Title", title)
    image.setDotsPerMeterX(dots)
    image.setDotsPerMeterY(dots)
    painter = QPainter(image)
    try:
        painter.scale(scale, scale)
        page(painter, size)
    finally:
        painter.end()
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    buffer.close()
    return bytes(data.data())


def _svg(page: Paint, title: str, size: QSize) -> bytes:
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    made = QSvgGenerator(QSvgGenerator.SvgVersion.Svg11)
    made.setOutputDevice(buffer)
    made.setTitle(title)
    made.setDescription("Countback")
    made.setResolution(round(_MM_PER_INCH * _A_MM))
    made.setSize(size * (_A_MM * MILLIMETRES_A_PIXEL))
    whole = QRectF(0, 0, size.width() * _UNITS, size.height() * _UNITS)
    made.setViewBox(whole)
    painter = QPainter(made)
    try:
        painter.fillRect(whole, _WHITE)
        painter.scale(_UNITS, _UNITS)
        page(painter, size)
    finally:
        painter.end()
        buffer.close()
    return _with_fonts(bytes(data.data()))


def _with_fonts(svg: bytes) -> bytes:
    """Return an SVG that holds the fonts it names, so that it looks alike everywhere."""
    named = {name.decode() for name in _FONT.findall(svg)} & set(_FILES)
    folder = files("app") / "resources" / "fonts"
    faces = b"".join(
        b'@font-face{font-family:"%s";src:url(data:font/ttf;base64,%s)}\n'
        % (name.encode(), b64encode((folder / _FILES[name]).read_bytes()))
        for name in sorted(named)
    )
    head, defs, rest = svg.partition(b"<defs>")
    return b"".join((head, defs, b"<style>\n", faces, b"</style>\n", rest)) if defs else svg

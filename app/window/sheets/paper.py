"""Sheets as files: a PDF in lines and letters, and a picture of a page."""

import re
from collections.abc import Callable, Sequence

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter, QPdfWriter

from app.window.sheets.layout import HIGH, WIDE, Page
from app.window.sheets.paint import WHITE, PagePainter

DOTS_PER_INCH = 1200
_PER_INCH = 254
"""Tenths of a millimetre."""
_NAMED = re.compile(rb"(?s)beginbfrange\n.*?endbfrange")
_SHARED = ((b"<0009>", b"<0020>"), (b"<02BC>", b"<2019>"))


def pdf_of(pages: Sequence[Page], title: str) -> bytes:
    """Return upright A4 pages as a PDF, without margins of its own."""

    def paint(writer: QPdfWriter) -> None:
        painter = QPainter(writer)
        try:
            scale = writer.width() / WIDE
            for number, page in enumerate(pages):
                if number:
                    writer.newPage()
                painter.resetTransform()
                painter.scale(scale, scale)
                PagePainter(painter).page(page)
        finally:
            painter.end()

    return pdf_painted(title, layout_of("A4", is_across=False), paint)


def pdf_painted(title: str, layout: QPageLayout, paint: Callable[[QPdfWriter], object]) -> bytes:
    """Return what is painted on pages as a PDF whose words can be searched."""
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DOTS_PER_INCH)
    writer.setPageLayout(layout)
    writer.setTitle(title)
    writer.setCreator("Countback")
    try:
        paint(writer)
    finally:
        buffer.close()
    return _readable(bytes(data.data()))


def _readable(data: bytes) -> bytes:
    """Return a PDF whose words can be searched and read out.

    Where several letters share a glyph, Qt names the lowest: for a space that is the tab, for an
    apostrophe one of phonetics. Names are as long as each other, so nothing moves.
    """

    def named(found: re.Match[bytes]) -> bytes:
        names = found[0]
        for lowest, meant in _SHARED:
            names = names.replace(lowest, meant)
        return names

    return _NAMED.sub(named, data)


def layout_of(name: str, *, is_across: bool) -> QPageLayout:
    """Return a sheet of paper. name: A4 or A3."""
    around = QPageLayout.Orientation
    return QPageLayout(
        QPageSize(QPageSize.PageSizeId[name]),
        around.Landscape if is_across else around.Portrait,
        QMarginsF(0, 0, 0, 0),
    )


def picture_of(page: Page, dots_per_inch: int = 200) -> QImage:
    """Return a page as a picture."""
    scale = dots_per_inch / _PER_INCH
    image = QImage(round(WIDE * scale), round(HIGH * scale), QImage.Format.Format_RGB32)
    image.fill(WHITE)
    painter = QPainter(image)
    try:
        painter.scale(scale, scale)
        PagePainter(painter).page(page)
    finally:
        painter.end()
    return image

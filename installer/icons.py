"""The icon's drawing as pictures of the sizes that desktops ask for."""

import struct
from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice, Qt
from PySide6.QtGui import QImage, QImageWriter, QPainter
from PySide6.QtSvg import QSvgRenderer

DRAWING = Path(__file__).resolve().parents[1] / "app/resources/countback.svg"
SIZES = (16, 24, 32, 48, 64, 128, 256, 512)
_OF_MAC = {16: b"icp4", 32: b"icp5", 128: b"ic07", 256: b"ic08", 512: b"ic09"}
"""The kinds of an ICNS file that hold a PNG of one size."""


def png(size: int) -> bytes:
    """Draw the icon, so many pixels wide and high."""
    image = QImage(size, size, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    QSvgRenderer(str(DRAWING)).render(painter)
    painter.end()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, b"png").write(image)
    return bytes(buffer.data().data())


def ico() -> bytes:
    """Give the icon of a Windows program: the sizes up to 256, each a PNG."""
    pictures = [(size, png(size)) for size in SIZES if size <= 256]
    at = 6 + 16 * len(pictures)
    head = struct.pack("<HHH", 0, 1, len(pictures))
    for size, data in pictures:
        head += struct.pack("<BBBBHHII", size % 256, size % 256, 0, 0, 1, 32, len(data), at)
        at += len(data)
    return head + b"".join(data for _, data in pictures)


def icns() -> bytes:
    """Give the icon of a Mac program."""
    parts = [(kind, png(size)) for size, kind in _OF_MAC.items()]
    body = b"".join(kind + struct.pack(">I", 8 + len(data)) + data for kind, data in parts)
    return b"icns" + struct.pack(">I", 8 + len(body)) + body


def write_themed(folder: Path) -> None:
    """Write the icon as a theme's folders have it: SIZExSIZE/countback.png and the drawing."""
    for size in SIZES:
        target = folder / f"{size}x{size}" / "countback.png"
        target.parent.mkdir(parents=True)
        target.write_bytes(png(size))
    target = folder / "scalable" / "countback.svg"
    target.parent.mkdir()
    target.write_bytes(DRAWING.read_bytes())

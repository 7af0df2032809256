"""A drawing of a job's piece: dropped or pasted, taken into the book, given back as paths.

A picture (a photograph, a scan) is taken too, made smaller; it has no segments of its own.
"""

from base64 import b64decode, b64encode
from binascii import Error as NoBase64
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMimeData, Qt
from PySide6.QtGui import QImage, QPainterPath

from app.window.countback.outline import MOST_CHARACTERS, NoDrawing, commands, outlines_of
from shared.book import Book, Job
from shared.edits import Edited, change_job
from shared.ids import SegmentId

MOST_PIXELS = 640
"""A picture is kept no wider and no higher than this: it is shown small, and a book is mailed."""
PICTURES = (".png", ".jpg", ".jpeg", ".bmp", ".gif", ".webp")


def path_of(data: str) -> QPainterPath:
    """Return path data as a path. Raises NoDrawing."""
    made = QPainterPath()
    for letter, n in commands(data):
        if letter == "M":
            made.moveTo(n[0], n[1])
        elif letter == "L":
            made.lineTo(n[0], n[1])
        elif letter == "C":
            made.cubicTo(*n)
        else:
            made.closeSubpath()
    return made


def paths_of(job: Job) -> dict[SegmentId, QPainterPath]:
    """Return a job's drawing; what a book of other hands has and can't be read is left out."""
    found = {}
    for segment in job.segments:
        if segment.outline:
            try:
                found[segment.id] = path_of(segment.outline)
            except NoDrawing:
                continue
    return found


def text_in(data: QMimeData) -> str | None:
    """Return the drawing that is dropped or pasted, None where it is something else.

    Raises NoDrawing where its file can't be read.
    """
    for url in data.urls():
        if url.isLocalFile() and url.toLocalFile().casefold().endswith(".svg"):
            try:
                path = Path(url.toLocalFile())
                if path.stat().st_size > MOST_CHARACTERS:
                    raise NoDrawing("too_large")
                return path.read_text(encoding="utf-8")
            except (OSError, UnicodeDecodeError):
                raise NoDrawing("not_read") from None
    text = data.text() if data.hasText() else ""
    return text if "<svg" in text else None


def picture_in(data: QMimeData) -> QImage | None:
    """Return the picture that is dropped or pasted, None where it is something else.

    Raises NoDrawing where its file can't be read as one.
    """
    for url in data.urls():
        if url.isLocalFile() and url.toLocalFile().casefold().endswith(PICTURES):
            image = QImage(url.toLocalFile())
            if image.isNull():
                raise NoDrawing("not_read")
            return image
    image = QImage(data.imageData()) if data.hasImage() else QImage()
    return None if image.isNull() else image


def pictured(book: Book, job: Job, image: QImage) -> Edited:
    """Return the edit that takes a picture for a job, in the place of a drawing."""
    if max(image.width(), image.height()) > MOST_PIXELS:
        image = image.scaled(
            MOST_PIXELS,
            MOST_PIXELS,
            Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
    made, buffer = QByteArray(), QBuffer()
    buffer.setBuffer(made)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG" if image.hasAlphaChannel() else "JPEG", 85)  # type: ignore[call-overload]
    return _outlined(book, job, {}, b64encode(made.data()).decode("ascii"))


def picture_of(job: Job) -> QImage | None:
    """Return a job's picture; what a book of other hands has and can't be read is none."""
    if not job.picture:
        return None
    try:
        image = QImage.fromData(QByteArray(b64decode(job.picture, validate=True)))
    except (NoBase64, ValueError):
        return None
    return None if image.isNull() else image


def drawn(book: Book, job: Job, text: str) -> Edited:
    """Return the edit that takes a drawing for a job. Raises NoDrawing."""
    return _outlined(book, job, outlines_of(text, job.segments))


def bare(book: Book, job: Job) -> Edited:
    """Return the edit that takes a job's drawing or picture away."""
    return _outlined(book, job, {})


def _outlined(
    book: Book, job: Job, outlines: Mapping[SegmentId, str], picture: str | None = None
) -> Edited:
    segments = (replace(each, outline=outlines.get(each.id)) for each in job.segments)
    return change_job(book, replace(job, segments=tuple(segments), picture=picture))

"""A drawing of a job's piece: dropped or pasted, taken into the book, given back as paths."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QPainterPath

from app.window.countback.outline import MOST_CHARACTERS, NoDrawing, commands, outlines_of
from shared.book import Book, Job
from shared.edits import Edited, change_job
from shared.ids import SegmentId


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


def drawn(book: Book, job: Job, text: str) -> Edited:
    """Return the edit that takes a drawing for a job. Raises NoDrawing."""
    return _outlined(book, job, outlines_of(text, job.segments))


def bare(book: Book, job: Job) -> Edited:
    """Return the edit that takes a job's drawing away."""
    return _outlined(book, job, {})


def _outlined(book: Book, job: Job, outlines: Mapping[SegmentId, str]) -> Edited:
    segments = (replace(each, outline=outlines.get(each.id)) for each in job.segments)
    return change_job(book, replace(job, segments=tuple(segments)))

"""The grid of segments: what stands in each cell, what is written there, what is pasted. No Qt."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.window.sheet.writing import another_segment
from app.window.sheet.writing import job as job_of
from app.words import Words
from app.words import editor as say
from app.words import window as window_words
from app.words.template import Template
from shared.book import Book, Detail, Finish, Segment
from shared.edits import Edited, change_job, change_segment
from shared.edits.edited import label
from shared.edits.lookup import segment_of
from shared.ids import JobId, SegmentId

if TYPE_CHECKING:
    from shared.book import Hours

COLUMNS = (
    *("name", "length_m", "width_m", "height_m"),
    *("surface_m2", "detail", "finish_class"),
)
HEADS: Mapping[str, Template] = {
    "name": say.COLUMN_NAME,
    "length_m": window_words.LENGTH,
    "width_m": window_words.WIDTH,
    "height_m": window_words.HEIGHT_M,
    "surface_m2": say.AREA,
    "detail": say.DETAIL,
    "finish_class": say.FINISH,
}
FIGURES = frozenset({"length_m", "width_m", "height_m", "surface_m2"})
MOST_ROWS = 60


def text_of(segment: Segment, column: str, words: Words) -> str:
    """Return what stands in a cell."""
    value = getattr(segment, column)
    if column == "detail":
        return "" if value is None else say.detail(words, value)
    if column == "finish_class":
        return "" if value is None else say.finish(words, value)
    return value if isinstance(value, str) else typed.figure(value)


def read(book: Book, segment: SegmentId, column: str, words: Words) -> str:
    """Return what stands in a cell of a book."""
    return text_of(segment_of(book, segment), column, words)


def write(book: Book, segment: SegmentId, column: str, text: str, words: Words) -> Edited:
    """Write one cell.

    Raises NotTaken when that can't be meant.
    """
    made = changed(segment_of(book, segment), column, text, words)
    return change_segment(book, made)


def changed(segment: Segment, column: str, text: str, words: Words) -> Segment:
    """Return a segment with another text in one of its cells; nothing typed means not known.

    Raises NotTaken when that can't be meant.
    """
    return _WRITERS[column](segment, text, words)


def suggestions(column: str, words: Words) -> tuple[str, ...]:
    """Return the words that a cell may hold, none where it may hold anything."""
    if column == "detail":
        return tuple(say.detail(words, each) for each in Detail)
    if column == "finish_class":
        return tuple(say.finish(words, each) for each in Finish)
    return ()


def _detail(segment: Segment, text: str, words: Words) -> Segment:
    if not text.strip():
        return replace(segment, detail=None)
    known = {say.detail(words, each): each.value for each in Detail}
    return replace(segment, detail=Detail(typed.one_of(text, known, "not_a_class")))


def _finish(segment: Segment, text: str, words: Words) -> Segment:
    if not text.strip():
        return replace(segment, finish_class=None)
    known = {say.finish(words, each): each.value for each in Finish}
    return replace(segment, finish_class=Finish(typed.one_of(text, known, "not_a_class")))


_WRITERS: Mapping[str, Callable[[Segment, str, Words], Segment]] = {
    "name": lambda segment, text, _: replace(segment, name=typed.name(text)),
    "length_m": lambda segment, text, _: replace(segment, length_m=typed.size_or_none(text)),
    "width_m": lambda segment, text, _: replace(segment, width_m=typed.size_or_none(text)),
    "height_m": lambda segment, text, _: replace(segment, height_m=typed.size_or_none(text)),
    "surface_m2": lambda segment, text, _: replace(segment, surface_m2=typed.size_or_none(text)),
    "detail": _detail,
    "finish_class": _finish,
}


# Pasting.


def rows_of(text: str) -> tuple[tuple[str, ...], ...]:
    """Return the cells of text that a spreadsheet gives: lines of cells with tabs between."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    while lines and not lines[-1].strip():
        lines.pop()
    return tuple(tuple(cell.strip() for cell in line.split("\t")) for line in lines)


def is_table(text: str) -> bool:
    """Say whether a text is more than one cell."""
    return "\t" in text or len(rows_of(text)) > 1


def paste(book: Book, job: JobId, corner: tuple[SegmentId, str], text: str, words: Words) -> Edited:
    """Write rows into the grid from a cell on; rows beyond the last become segments like it.

    Raises NotTaken, naming the row, when a cell can't be meant; nothing is written then.
    """
    rows = _without_heads(rows_of(text), words)
    segments = job_of(book, job).segments
    first = next(index for index, each in enumerate(segments) if each.id == corner[0])
    if first + len(rows) > MOST_ROWS:
        raise NotTaken("too_many_rows", count=len(rows), most=MOST_ROWS)
    made = book
    while len(job_of(made, job).segments) < first + len(rows):
        made = another_segment(made, job_of(made, job).segments[-1].id, words).book
    columns = COLUMNS[COLUMNS.index(corner[1]) :]
    found = list(job_of(made, job).segments)
    for number, cells in enumerate(rows):
        found[first + number] = _filled(found[first + number], columns, cells, number + 1, words)
    edited = change_job(made, replace(job_of(made, job), segments=tuple(found)))
    return Edited(
        book=replace(edited.book, revision=book.revision + 1),
        changed=edited.changed,
        label=label("paste_segments", name=job_of(book, job).name, count=len(rows)),
    )


def _filled(
    segment: Segment, columns: Sequence[str], cells: Sequence[str], row: int, words: Words
) -> Segment:
    for column, cell in zip(columns, cells, strict=False):
        try:
            segment = changed(segment, column, cell, words)
        except NotTaken as no:
            reason = window_words.not_taken(words, no.code, **no.facts)
            raise NotTaken("row_not_taken", row=row, reason=reason) from None
    return segment


def _without_heads(rows: tuple[tuple[str, ...], ...], words: Words) -> tuple[tuple[str, ...], ...]:
    """Return rows without a first one that only names columns."""
    heads = {words.say(template).casefold() for template in HEADS.values()}
    has_heads = len(rows) > 1 and any(cell.casefold() in heads for cell in rows[0])
    return rows[1:] if has_heads else rows


# Hours.


def hours_of(book: Book, job: JobId) -> "Mapping[SegmentId, Hours]":
    """Return the person-hours of each segment; a stage on several counts for each its share."""
    from shared.book import Hours, Journey

    owner = job_of(book, job)
    sums = {segment.id: [Decimal(0)] * 3 for segment in owner.segments}
    for step in owner.steps:
        if isinstance(step, Journey) or not step.ways:
            continue
        over = [each for each in (step.segments or tuple(sums)) if each in sums]
        hours = step.ways[0].hours
        for each in over:
            for place, value in enumerate((hours.low, hours.likely, hours.high)):
                sums[each][place] += value / len(over)
    return {
        each: Hours(low=round(low), likely=round(likely), high=round(high))  # type: ignore[arg-type]
        for each, (low, likely, high) in sums.items()
    }


def neighbour(
    segments: Sequence[SegmentId], at: tuple[SegmentId, str], dx: int, dy: int
) -> tuple[SegmentId, str] | None:
    """Return the cell beside one, None at the edge."""
    row, column = segments.index(at[0]) + dy, COLUMNS.index(at[1]) + dx
    if not 0 <= row < len(segments) or not 0 <= column < len(COLUMNS):
        return None
    return segments[row], COLUMNS[column]

"""What is written into a bar: as much as fits, never cut with dots."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.window.fonts import text_width
from app.window.people.items import Bar, Sort
from app.window.tokens import px
from app.words import Words
from app.words import people_view as say

PIXELS, SMALL = 12, 11
PAD = 5
TWO_LINES = 26
"""So high, at 100 % of text, a block holds two lines."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What is written: bold, then plain behind it, then at the right end or in a second line."""

    bold: str = ""
    plain: str = ""
    right: str = ""
    below: str = ""


def label_of(words: Words, bar: Bar, width: int, height: int, *, is_narrow: bool) -> Label:
    """Return the fullest label that fits."""
    room = width - 2 * PAD
    for label in _candidates(words, bar, is_narrow=is_narrow):
        has_lines = not label.below or height >= px(TWO_LINES)
        if has_lines and _width(label) <= room and text_width(label.below, SMALL) <= room:
            return label
    return Label()


def _candidates(words: Words, bar: Bar, *, is_narrow: bool) -> list[Label]:
    if bar.sort is not Sort.WORK:
        return [*_of_other(bar)]
    with_job = words.say(say.STAGE_JOB, stage=bar.stage, job=bar.job_word)
    segment_job = words.say(say.WHAT_JOB, segment=bar.what, job=bar.job_word)
    if bar.what.endswith(bar.job_word):
        with_job, segment_job = bar.stage, bar.what
    full = [
        Label(bold=bar.what, plain=with_job, right=bar.beside),
        Label(bold=bar.what, plain=with_job, below=bar.beside),
        Label(bold=bar.what, plain=bar.stage, below=bar.beside),
    ]
    short = [
        Label(bold=bar.what, plain=with_job),
        Label(bold=bar.what, plain=bar.stage, below=bar.job_word),
        Label(bold=segment_job, below=bar.stage),
        Label(bold=bar.what, plain=bar.stage),
        Label(bold=bar.what, below=bar.stage),
        Label(bold=segment_job),
        Label(bold=bar.what),
        Label(bold=bar.what.split()[-1], below=bar.stage),
        Label(bold=bar.stage),
        Label(bold=bar.what.split()[-1]),
    ]
    return short if is_narrow else [*full, *short]


def _of_other(bar: Bar) -> Iterator[Label]:
    """Give labels of what is no stage: as it is called, less and less of it."""
    yield Label(bold=bar.what, plain=bar.stage, right=bar.beside)
    yield Label(bold=bar.what, plain=bar.stage)
    yield Label(bold=bar.what, below=bar.stage)
    yield Label(bold=bar.what)
    yield Label(bold=bar.what.split(",")[0])
    if bar.sort in (Sort.OTHER, Sort.ROAD) and bar.what.split():
        yield Label(bold=bar.what.split()[-1])


def _width(label: Label) -> float:
    found = text_width(label.bold, PIXELS, 600)
    if label.plain:
        found += 5 + text_width(label.plain, PIXELS)
    if label.right:
        found += 18 + text_width(label.right, SMALL)
    return found

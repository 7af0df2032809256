"""On each page what nobody reads past, of an old plan a dark band, else a frame; and its foot."""

from collections.abc import Iterable

from app.window.sheets.layout import (
    BOTTOM,
    HEAVY,
    INNER,
    MARGIN,
    NAME,
    RIGHT,
    SMALL,
    Bar,
    Block,
    Frame,
    Mark,
    Page,
    Placed,
    Text,
    broken,
)
from app.words import Words
from app.words import sheets as say

_PAD, _TOP = 20, 8


def bands(
    texts: Iterable[str],
    page: int,
    *,
    is_old: bool,
    left: int = MARGIN,
    wide: int = INNER,
    size: int = NAME,
) -> list[Block]:
    """Return warnings across the page of a number."""
    return [
        _band(text, f"mark {page} {at}", (left, wide, size), is_old=is_old)
        for at, text in enumerate(texts)
    ]


def _band(text: str, identity: str, place: tuple[int, int, int], *, is_old: bool) -> Block:
    left, wide, size = place
    lines = broken(text, wide - 2 * _PAD, size, 600)
    step = round(size * 1.23)
    high = step * len(lines) + _PAD + 2
    ground = Bar(left, _TOP, wide, high - _TOP)
    marks: list[Mark] = [ground if is_old else Frame(left, _TOP, wide, high - _TOP, HEAVY)]
    marks += [
        Text(left + _PAD, step * (n + 1) + 2, line, size, 600, is_turned=is_old)
        for n, line in enumerate(lines)
    ]
    return Block(high, tuple(marks), id=identity, told=text)


def footed(pages: list[Page], foot: str, words: Words) -> tuple[Page, ...]:
    """Return upright A4 pages with what stands below on each, and which page it is."""
    for number, page in enumerate(pages, start=1):
        text = words.say(say.PAGE, page=number, pages=len(pages))
        marks = (Text(MARGIN, 34, foot, SMALL), Text(RIGHT, 34, text, SMALL, is_right=True))
        page.blocks.append(Placed(Block(40, marks), BOTTOM - 40))
    return tuple(pages)

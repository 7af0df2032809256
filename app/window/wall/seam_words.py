"""Where the words of answers and trial fits stand in a job's header line, so that none meet."""

from collections.abc import Iterator

from app.window.fonts import text_width
from app.window.wall.items import Band, Item, Role
from app.window.wall.layout import Layout

NAMED_FROM = 7
"""From so many pixels a day on trial fits are named."""
PLATE, LINE_ROOM, NUMBER_ROOM = 3, 4, 60
Span = tuple[int, int]


def seam_words(layout: Layout, band: Band) -> list[tuple[Item, int, str]]:
    """Return seams in sight, each with where its words begin and what they are.

    Words for which no room is left are not there.
    """
    edge, limit = layout.sizes.margin, layout.names_x - 6
    if band.window is not None:
        limit = min(limit, layout.scale.x(band.window.start) - NUMBER_ROOM)
    lines = [_line(layout, seam) for seam in band.seams if seam.role is not Role.LOADING]
    taken = [(x - LINE_ROOM, x + LINE_ROOM) for x in lines]
    found = []
    for seam in sorted(band.seams, key=lambda each: _line(layout, each)):
        for x, text in _candidates(layout, seam):
            span = x - PLATE, x + round(text_width(text, 11, 500)) + PLATE
            if edge <= span[0] and span[1] <= limit and not any(_meet(span, at) for at in taken):
                taken.append(span)
                found.append((seam, x, text))
                break
    return found


def _line(layout: Layout, seam: Item) -> int:
    return layout.scale.x(seam.end if seam.role is Role.ANSWER else seam.start)


def _meet(one: Span, other: Span) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _candidates(layout: Layout, seam: Item) -> Iterator[tuple[int, str]]:
    """Give places for a seam's words, the best first: in its bracket, right of it, shorter."""
    if seam.role is Role.TRIAL_FIT and layout.scale.pixels_per_day > NAMED_FROM:
        yield _line(layout, seam) + 7, seam.label
    if seam.role is not Role.ANSWER:
        return
    right = _line(layout, seam) - 3
    left = max(layout.scale.x(seam.start), layout.sizes.margin)
    edge = min(right, layout.names_x - 6)
    for text in (seam.label, seam.short):
        width = round(text_width(text, 11, 500))
        if width + 22 < edge - left:
            yield (left + edge - width) // 2, text
        yield right + 9, text

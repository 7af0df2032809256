"""What nobody reads past on paper: of an old plan a dark band, else a frame."""

from app.window.sheets.layout import (
    HEAVY,
    INNER,
    MARGIN,
    NAME,
    Bar,
    Block,
    Frame,
    Mark,
    Text,
    broken,
)

_PAD, _TOP = 20, 8


def band(
    text: str,
    identity: str,
    *,
    is_old: bool,
    left: int = MARGIN,
    wide: int = INNER,
    size: int = NAME,
) -> Block:
    """Return a warning across a page."""
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

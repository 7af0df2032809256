"""Pages of plain words on upright A4: head, what must not be missed, sentence, parts of lines."""

from app.window.papers.text import Item, Paper, Part
from app.window.sheets.bands import bands, footed
from app.window.sheets.layout import (
    HAIR,
    HEADING,
    HEAVY,
    INNER,
    MARGIN,
    RIGHT,
    TEXT,
    Bar,
    Block,
    Mark,
    Page,
    Text,
    broken,
    flowed,
    title_size,
    width_of,
)
from app.words import Words

_SENTENCE, _STEP, _LINE = 46, 58, 40
_BETWEEN = 40


def text_pages(paper: Paper, words: Words) -> tuple[Page, ...]:
    """Return a paper on as many pages as it needs, marked on each."""
    blocks = [*_sentence(paper.first)]
    for part in paper.parts:
        blocks += _part(part)
    if paper.last:
        blocks.append(_last(paper.last))
    return footed(flowed(blocks, lambda number: _head(paper, number)), paper.foot, words)


def _head(paper: Paper, number: int) -> list[Block]:
    size = title_size(paper.title, INNER)
    lines = broken(paper.title, INNER, size, 600, serif=True)
    marks: list[Mark] = [
        Text(MARGIN, 26, paper.shop, TEXT, 600),
        *(Text(MARGIN, 110 + 70 * n, line, size, 600, serif=True) for n, line in enumerate(lines)),
    ]
    y = 110 + 70 * (len(lines) - 1) + 50
    below = broken(paper.line, INNER, TEXT)
    marks += [Text(MARGIN, y + _LINE * n, line) for n, line in enumerate(below)]
    high = y + _LINE * (len(below) - 1) + 24
    found = [Block(high, tuple(marks), id=f"head {number}", told=f"{paper.title}. {paper.line}.")]
    found += bands(paper.marks, number, is_old=paper.is_old)
    return [*found, Block(22, (Bar(MARGIN, 12, INNER, HEAVY),))]


def _sentence(text: str) -> list[Block]:
    lines = broken(text, INNER, _SENTENCE, 600, serif=True)
    if not lines:
        return []
    marks = tuple(
        Text(MARGIN, 52 + _STEP * n, line, _SENTENCE, 600, serif=True)
        for n, line in enumerate(lines)
    )
    return [Block(20 + _STEP * len(lines), marks, id="sentence", told=text)]


def _part(part: Part) -> list[Block]:
    heading = Text(MARGIN, 78, part.title, HEADING, 600, serif=True)
    first = Block(92, (heading,), id=part.title, told=part.title, holds_next=True)
    return [first, *(_item(item, f"{part.title} {at}") for at, item in enumerate(part.items))]


def _item(item: Item, identity: str) -> Block:
    """Return a line with its rule above: when at the right, below what where both are long."""
    weight = 600 if item.is_strong else 400
    wide = width_of(item.when, TEXT, 600)
    is_beside = wide <= INNER * 0.6
    room = INNER - wide - _BETWEEN if is_beside and item.when else INNER
    lines = broken(item.what, room, TEXT, weight)
    marks: list[Mark] = [Bar(MARGIN, 0, INNER, HAIR)]
    marks += [Text(MARGIN, 38 + _LINE * n, line, TEXT, weight) for n, line in enumerate(lines)]
    y = 38 + _LINE * (len(lines) - 1)
    if item.when and is_beside:
        marks.append(Text(RIGHT, 38, item.when, TEXT, 600, is_right=True))
    elif item.when:
        below = broken(item.when, INNER, TEXT, 600)
        marks += [
            Text(MARGIN, y + _LINE * (n + 1), line, TEXT, 600) for n, line in enumerate(below)
        ]
        y += _LINE * len(below)
    told = " ".join(each for each in (item.what, item.when) if each)
    return Block(y + 16, tuple(marks), id=identity, told=told)


def _last(text: str) -> Block:
    lines = broken(text, INNER, TEXT, serif=True, italic=True)
    marks = tuple(
        Text(MARGIN, 60 + _LINE * n, line, TEXT, serif=True, italic=True)
        for n, line in enumerate(lines)
    )
    return Block(40 + _LINE * len(lines), marks, id="last", told=text)

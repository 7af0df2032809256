"""The week board on A3 across, to be read from two metres: rows of people, columns of days."""

from functools import partial

from app.window.papers.board import Board, BoardRow, Entry
from app.window.sheets.bands import bands
from app.window.sheets.layout import (
    HEAVY,
    LINE,
    Bar,
    Block,
    Ear,
    Frame,
    Hatch,
    Mark,
    Page,
    Placed,
    Strip,
    Text,
    broken,
    moved,
    width_of,
)
from app.window.sheets.layout import flowed as flow
from app.words import Words
from app.words import papers as say
from app.words import window as wording
from shared.book import Kind

WIDE, HIGH, MARGIN = 4200, 2970, 100
INNER, RIGHT = WIDE - 2 * MARGIN, WIDE - MARGIN
PIECE, STAGE = 70, 58
"""Sizes of the two sorts of words in a cell: seven millimetres, and a little less."""
_TITLE, _DAYS, _NAME, _SMALL, _KEY, _LEAVE = 130, 84, 90, 46, 46, 58
_NAMES = 420
_STRIP, _PAD, _EAR = 46, 16, 40
_LEAST_ROW, _COLUMNS = 172, 110


def board_pages(board: Board, words: Words) -> tuple[Page, ...]:
    """Return the board on as many pages as its people need, none of them cut."""
    return tuple(_Board(board, words).pages())


class _Board:
    def __init__(self, board: Board, words: Words) -> None:
        self.board, self.words = board, words
        self.day = (INNER - _NAMES) / max(1, len(board.days))
        self.left = [MARGIN + _NAMES + n * self.day for n in range(len(board.days))]
        self.foot = self._foot_lines()

    def pages(self) -> list[Page]:
        below = 150 + 72 * len(self.foot)
        blank = partial(Page, y=MARGIN, wide=WIDE, high=HIGH, lowest=HIGH - MARGIN - below)
        rows = [self._row(row, at) for at, row in enumerate(self.board.rows)]
        if not rows:
            text = Text(MARGIN, 120, self.words.say(say.NOBODY), _NAME)
            rows = [Block(160, (text,), id="row nobody", told=text.text)]
        pages = flow(rows, self._head, blank=blank)
        for number, page in enumerate(pages, start=1):
            page.blocks.append(Placed(self._foot(number, len(pages)), page.y))
        return pages

    # Head.

    def _head(self, number: int) -> list[Block]:
        board = self.board
        marks: list[Mark] = [
            Text(MARGIN, 105, board.title, _TITLE, 600, serif=True),
            Text(RIGHT, 50, board.shop, 58, 600, is_right=True),
            Text(RIGHT, 110, board.number_line, _SMALL, is_right=True),
        ]
        told = f"{board.title}. {board.number_line}."
        found = [Block(140, tuple(marks), id=f"head {number}", told=told)]
        across = bands(
            board.marks, number, is_old=board.is_old, left=MARGIN, wide=INNER, size=_LEAVE
        )
        return [*found, *across, self._columns()]

    def _columns(self) -> Block:
        marks: list[Mark] = []
        for left, label in zip(self.left, self.board.days, strict=True):
            x = left + (self.day - width_of(label, _DAYS, 600)) / 2
            marks.append(Text(x, 82, label, _DAYS, 600))
        marks += self._uprights(_COLUMNS)
        marks.append(Bar(MARGIN, _COLUMNS - LINE, INNER, LINE))
        return Block(_COLUMNS, tuple(marks), id="columns", told=", ".join(self.board.days))

    def _uprights(self, high: float) -> list[Mark]:
        return [Bar(x - LINE / 2, 0, LINE, high) for x in self.left]

    # Rows.

    def _row(self, row: BoardRow, at: int) -> Block:
        names = broken(row.name, _NAMES - 30, _NAME, 600)
        drawn: list[Mark] = []
        deepest = max(_LEAST_ROW, 40 + 96.0 * len(names))
        for left, entries in zip(self.left, row.days, strict=True):
            for half in (0, 1):
                y = 10.0
                for entry in (each for each in entries if each.first == half):
                    x, wide = self._room(left, entry)
                    marks, high = self._entry(entry, x, wide)
                    drawn += moved(marks, y)
                    y += high + 10
                deepest = max(deepest, y + 2)
        found: list[Mark] = [
            Text(MARGIN, 100 + 96 * n, name, _NAME, 600) for n, name in enumerate(names)
        ]
        found += [*self._uprights(deepest), *drawn]
        found.append(Bar(MARGIN, deepest - LINE, INNER, LINE))
        return Block(deepest, tuple(found), id=f"row {at}", told=_told(row, self.board.days))

    def _room(self, left: float, entry: Entry) -> tuple[float, float]:
        """Return from where on and how wide an entry is."""
        half = self.day / 2
        return left + 10 + entry.first * half, (entry.last - entry.first + 1) * half - 20

    def _entry(self, entry: Entry, x: float, wide: float) -> tuple[list[Mark], float]:
        """Return an entry counted from its upper edge, and how high it is."""
        if entry.away:
            return self._away(entry.away, x, wide)
        strip = _STRIP if entry.kind is not None or entry.is_road else 0
        left = x + strip + _PAD
        room = wide - strip - 2 * _PAD
        ear = _EAR - _PAD if entry.is_changed else 0
        lines, high = _written(left, room, ear, entry.what, entry.stage)
        high = max(high, _LEAST_ROW - 22.0)
        marks: list[Mark] = []
        if entry.kind is not None:
            marks.append(Strip(x, 0, strip, high, entry.kind))
        elif entry.is_road:
            marks.append(Bar(x, 0, strip, high))
        if strip:
            marks.append(Bar(x + strip, 0, LINE, high))
        marks += [Frame(x, 0, wide, high, LINE), *lines]
        if entry.is_changed:
            marks.append(Ear(x + wide, 0, _EAR))
        return marks, high

    def _away(self, text: str, x: float, wide: float) -> tuple[list[Mark], float]:
        """Return a time away: hatched about its words, without a frame."""
        high = _LEAST_ROW - 22.0
        lines = broken(text, wide - 2 * _PAD, PIECE, 600)
        high = max(high, 30 + 78.0 * len(lines))
        widest = max(width_of(line, PIECE, 600) for line in lines)
        room = max(0.0, (wide - widest - 40) / 2)
        top = (high - 78 * len(lines)) / 2 + 58
        marks: list[Mark] = []
        if room > 10:
            marks = [Hatch(x, 0, room, high), Hatch(x + wide - room, 0, room, high)]
        for n, line in enumerate(lines):
            inset = (wide - width_of(line, PIECE, 600)) / 2
            marks.append(Text(x + inset, top + 78 * n, line, PIECE, 600))
        return marks, high

    # Foot.

    def _foot_lines(self) -> list[str]:
        return broken(self.board.leave, INNER, _LEAVE, 600)

    def _foot(self, number: int, count: int) -> Block:
        marks: list[Mark] = [Bar(MARGIN, 0, INNER, HEAVY)]
        x, y = float(MARGIN), 62.0
        for kind in Kind:
            marks += [Strip(x, y - 40, 48, 48, kind), Frame(x, y - 40, 48, 48, LINE)]
            text = wording.kind_in_key(self.words, kind)
            marks.append(Text(x + 62, y, text, _KEY))
            x += 62 + width_of(text, _KEY) + 50
        if self.board.changed:
            marks += [Ear(x + 44, y - 38, 44), Text(x + 58, y, self.board.changed, _KEY)]
        for at, line in enumerate(self.foot):
            marks.append(Text(MARGIN, y + 76 + 72 * at, line, _LEAVE, 600))
        bottom = y + 76 + 72 * len(self.foot) - 20
        page = self.words.say(say.PAGE, page=number, pages=count)
        marks.append(Text(RIGHT, y, f"{self.board.foot} · {page}", _SMALL - 6, is_right=True))
        return Block(bottom, tuple(marks), id="foot", told=self.board.leave)


def _written(
    left: float, room: float, ear: float, what: str, stage: str
) -> tuple[list[Mark], float]:
    """Return piece and stage: side by side where there is room, else one below the other.

    ear: what a dog-ear takes of the room of the piece.
    """
    wide = width_of(what, PIECE, 600)
    if wide + 22 + width_of(stage, STAGE) <= room - ear:
        y = (_LEAST_ROW - 22) / 2 + 24
        marks: list[Mark] = [Text(left, y, what, PIECE, 600)]
        if stage:
            marks.append(Text(left + wide + 22, y, stage, STAGE))
        return marks, 0.0
    pieces, stages = broken(what, room - ear, PIECE, 600), broken(stage, room, STAGE)
    marks = [Text(left, 66 + 72 * n, line, PIECE, 600) for n, line in enumerate(pieces)]
    y = 66.0 + 72 * (len(pieces) - 1)
    marks += [Text(left, y + 64 * (n + 1), line, STAGE) for n, line in enumerate(stages)]
    return marks, y + 64 * len(stages) + 22


def _told(row: BoardRow, days: tuple[str, ...]) -> str:
    said = [
        f"{day}: {', '.join(e.away or ' '.join((e.what, e.stage)).strip() for e in entries)}."
        for day, entries in zip(days, row.days, strict=True)
        if entries
    ]
    return " ".join((row.name + ".", *said))

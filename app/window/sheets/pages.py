"""A day's sheets as pages: head, rows by person, and what stands under them."""

from itertools import chain

from app.window.sheets.bands import bands, footed
from app.window.sheets.day import Care, DaySheet, Left, Line, Person, Row, Sort
from app.window.sheets.layout import (
    HAIR,
    HEADING,
    HEAVY,
    INNER,
    LEADING,
    LINE,
    MARGIN,
    NAME,
    RIGHT,
    SMALL,
    TEXT,
    Bar,
    Block,
    Ear,
    Frame,
    Mark,
    Page,
    Sketch,
    Swatch,
    Text,
    broken,
    flowed,
    title_size,
    width_of,
)
from app.words import Words
from app.words import sheets as say
from app.words.template import Template

ROW, BASE = 54, 39
_FROM, _TO, _SIGN, _SEGMENT, _STAGE, _PLACE, _WITH, _HOURS, _DONE = (
    MARGIN + x for x in (212, 308, 402, 456, 862, 1098, 1262, 1570, 1732)
)
_GAP = 14
_BOX, _SIGN_SIDE = 36, 34
_CARE = MARGIN + 320
_MIDDLE_GAP = 70
_CELLS, _FIGURE, _SKETCH = 6, 56, 92


def pages_of(sheets: tuple[DaySheet, ...], words: Words) -> tuple[Page, ...]:
    """Return the pages of sheets, each sheet on pages of its own, with their feet."""
    return tuple(chain.from_iterable(_Sheet(sheet, words).pages() for sheet in sheets))


class _Sheet:
    def __init__(self, sheet: DaySheet, words: Words) -> None:
        self.sheet, self.words = sheet, words

    def pages(self) -> tuple[Page, ...]:
        pages = flowed(self._blocks(), self._head, self._columns)
        return footed(pages, self.sheet.foot, self.words)

    # The head.

    def _head(self, number: int) -> list[Block]:
        sheet = self.sheet
        title = sheet.title
        if sheet.person:
            title = self.words.say(say.FOR_ONE, who=sheet.person, day=sheet.title)
        shop = max(width_of(sheet.shop, TEXT, 600), width_of(sheet.number_line, SMALL))
        size = title_size(title, INNER - shop - 40)
        marks: list[Mark] = [
            Text(MARGIN, 66, title, size, 600, serif=True),
            Text(RIGHT, 30, sheet.shop, TEXT, 600, is_right=True),
            Text(RIGHT, 72, sheet.number_line, SMALL, is_right=True),
        ]
        told = " ".join((title + ".", sheet.number_line + "."))
        found = [Block(92, tuple(marks), id=f"head {number}", told=told)]
        found += bands(sheet.marks, number, is_old=sheet.is_old)
        if number == 1:
            found.append(self._summary())
        return [*found, self._rule(HEAVY, 20)]

    def _summary(self) -> Block:
        marks: list[Mark] = []
        x, y = float(MARGIN), 42.0
        changes = self.words.say(say.MARKED, changed=self.sheet.changes)
        parts = (*self.sheet.summary, *(((changes, False),) if self.sheet.changes else ()))
        for text, is_bold in parts:
            weight = 600 if is_bold else 400
            lines = self._after(text, RIGHT - 40 - x, weight)
            for number, line in enumerate(lines):
                if number:
                    x, y = float(MARGIN), y + LEADING
                if line:
                    marks.append(Text(x, y, line, TEXT, weight))
                    x += width_of(line, TEXT, weight) + 24
        if self.sheet.changes:
            marks.append(Ear(x + 12, y - 24))
        told = " ".join(text for text, _ in parts)
        return Block(y + 16, tuple(marks), id="summary", told=told)

    def _after(self, text: str, room: float, weight: int) -> list[str]:
        """Return a text in lines, the first of them no wider than the room that is left."""
        words = text.split()
        first = len(words)
        while first and width_of(" ".join(words[:first]), TEXT, weight) > room:
            first -= 1
        rest = " ".join(words[first:])
        return [" ".join(words[:first]), *broken(rest, INNER - 40, TEXT, weight)]

    def _rule(self, line: float, after: float = 0) -> Block:
        return Block(line + after / 2, (Bar(MARGIN, 0, INNER, line),))

    # Rows.

    def _columns(self) -> Block:
        named = (
            (MARGIN, say.WHO),
            (_FROM, say.FROM),
            (_TO, say.TO),
            (_SIGN, say.SEGMENT),
            (_STAGE, say.STAGE),
            (_PLACE, say.PLACE),
            (_WITH, say.WITH),
            (_HOURS, say.HOURS),
        )
        marks: list[Mark] = [Text(x, 30, self.words.say(word), SMALL) for x, word in named]
        marks.append(Text(RIGHT, 30, self.words.say(say.DONE), SMALL, is_right=True))
        marks.append(Bar(MARGIN, 44, INNER, LINE))
        return Block(44 + LINE, tuple(marks), holds_next=True)

    def _person(self, person: Person) -> list[Block]:
        """Return somebody's rows in one block, which no page cuts."""
        lines = broken(person.name, _FROM - MARGIN - 40, NAME, 600)
        marks: list[Mark] = [
            Text(MARGIN, 43 + 40 * n, line, NAME, 600) for n, line in enumerate(lines)
        ]
        y, told = 0.0, [person.name + "."]
        for at, row in enumerate(person.rows):
            if at:
                marks.append(Bar(_FROM, y, RIGHT - _FROM, HAIR))
            drawn, high = self._row(row, y)
            marks += drawn
            y += high
            told.append(self._row_told(row))
        y = max(y, 18 + 40.0 * len(lines))
        marks.append(Bar(MARGIN, y, INNER, LINE))
        return [Block(y + LINE, tuple(marks), id=f"row {person.id}", told=" ".join(told))]

    def _row(self, row: Row, y: float) -> tuple[list[Mark], float]:
        cells = (
            (_SEGMENT, _STAGE, row.segment, 400 if row.sort is Sort.FREE else 600),
            (_STAGE, _PLACE, row.stage, 400),
            (_PLACE, _WITH, row.place, 400),
            (_WITH, _HOURS, row.beside, 400),
        )
        marks: list[Mark] = [Ear(_FROM - 16, y + 9)] if row.is_changed else []
        is_free = row.sort is Sort.FREE
        if not is_free:
            marks += [
                Text(_FROM, y + BASE, row.start, TEXT, 600),
                Text(_TO, y + BASE, row.end, TEXT),
                Swatch(_SIGN, y + 11, _SIGN_SIDE, row.kind, row.sort is Sort.ROAD),
            ]
        deepest = 1
        for x, end, text, weight in cells:
            lines = broken(text, end - x - _GAP, TEXT, weight)
            deepest = max(deepest, len(lines))
            marks += [
                Text(x, y + BASE + LEADING * n, line, TEXT, weight) for n, line in enumerate(lines)
            ]
        if not is_free:
            marks += [
                Bar(_HOURS, y + BASE + 4, 105, HAIR),
                Frame(RIGHT - _BOX, y + 10, _BOX, _BOX, is_ticked=row.is_done),
            ]
        return marks, ROW + LEADING * (deepest - 1)

    def _row_told(self, row: Row) -> str:
        if row.sort is Sort.FREE:
            told = row.segment + "."
        else:
            template = say.ROW_TOLD_AT if row.place else say.ROW_TOLD
            facts = {"start": row.start, "end": row.end, "place": row.place}
            stage = row.stage or "–"
            told = self.words.say(template, segment=row.segment, stage=stage, **facts)
        if row.beside:
            told = self.words.say(say.ROW_TOLD_WITH, told=told, people=row.beside)
        if row.is_changed:
            told = self.words.say(say.ROW_CHANGED, told=told)
        return self.words.say(say.ROW_DONE, told=told) if row.is_done else told

    # What stands under the rows.

    def _blocks(self) -> list[Block]:
        sheet = self.sheet
        found: list[Block] = []
        if sheet.people:
            found.append(self._columns())
            for person in sheet.people:
                found += self._person(person)
        if sheet.cures or sheet.dues:
            found.append(self._beside())
        if sheet.cares:
            found.append(self._heading(say.CARE, has_line=bool(sheet.cures or sheet.dues)))
            found += [self._care(care) for care in sheet.cares]
            found.append(self._defers())
        found += [self._in_the_way(), *self._days_left()]
        return found

    def _heading(self, template: Template, *, has_line: bool = True) -> Block:
        text = self.words.say(template)
        down = 82 if has_line else 66
        marks: list[Mark] = [Text(MARGIN, down, text, HEADING, 600, serif=True)]
        if has_line:
            marks.append(Bar(MARGIN, 22, INNER, HEAVY))
        return Block(down + 18, tuple(marks), holds_next=True)

    def _beside(self) -> Block:
        """Return cures at the left and what is due at the right, under their headings."""
        wide = (INNER - _MIDDLE_GAP) / 2
        both = ((say.CURES, self.sheet.cures), (say.DUE, self.sheet.dues))
        filled = [(template, lines) for template, lines in both if lines]
        marks: list[Mark] = []
        deepest, told = 0.0, []
        for at, (template, lines) in enumerate(filled):
            x = MARGIN + at * (wide + _MIDDLE_GAP)
            room = wide if len(filled) == 2 else INNER
            heading = self.words.say(template)
            marks.append(Text(x, 66, heading, HEADING, 600, serif=True))
            drawn, high = self._lines(lines, x, room, 84)
            marks += drawn
            deepest = max(deepest, high)
            told += [heading + ":", *(f"{line.what}, {line.when}." for line in lines)]
        return Block(deepest, tuple(marks), id="beside", told=" ".join(told))

    def _lines(
        self, lines: tuple[Line, ...], x: float, wide: float, y: float
    ) -> tuple[list[Mark], float]:
        marks: list[Mark] = []
        for line in lines:
            room = wide - width_of(line.when, TEXT, 600) - 30
            texts = broken(line.what, room, TEXT)
            marks.append(Bar(x, y, wide, HAIR))
            marks += [Text(x, y + 38 + LEADING * n, text) for n, text in enumerate(texts)]
            marks.append(Text(x + wide, y + 38, line.when, TEXT, 600, is_right=True))
            y += 52 + LEADING * (len(texts) - 1)
        return marks, y

    def _care(self, care: Care) -> Block:
        names = broken(care.name, _CARE - MARGIN - 30, TEXT, 600)
        texts = broken(care.text, RIGHT - _CARE, TEXT)
        marks = [Text(MARGIN, 32 + LEADING * n, t, TEXT, 600) for n, t in enumerate(names)]
        marks += [Text(_CARE, 32 + LEADING * n, t) for n, t in enumerate(texts)]
        high = 14 + LEADING * max(len(names), len(texts))
        return Block(high, tuple(marks), id=f"care {care.id}", told=f"{care.name}. {care.text}")

    def _defers(self) -> Block:
        text = self.words.say(say.DEFERS)
        lines = broken(text, INNER, TEXT, serif=True, italic=True)
        marks = tuple(
            Text(MARGIN, 36 + LEADING * n, line, TEXT, serif=True, italic=True)
            for n, line in enumerate(lines)
        )
        return Block(10 + LEADING * len(lines), marks, id="defers", told=text)

    def _in_the_way(self) -> Block:
        text = self.words.say(say.IN_THE_WAY)
        marks = (
            Text(MARGIN, 62, text, HEADING, 600, serif=True),
            Bar(MARGIN, 142, INNER, HAIR),
            Bar(MARGIN, 210, INNER, HAIR),
        )
        return Block(220, marks, id="in the way", told=text)

    def _days_left(self) -> list[Block]:
        left = self.sheet.left
        if not left:
            return []
        rows = [left[at : at + _CELLS] for at in range(0, len(left), _CELLS)]
        heading = self._heading(say.LEFT)
        cells = [self._cells(row, at) for at, row in enumerate(rows)]
        return [heading, *cells]

    def _cells(self, left: tuple[Left, ...], at: int) -> Block:
        wide = INNER / _CELLS
        marks: list[Mark] = []
        deepest = 1
        for number, each in enumerate(left):
            x = MARGIN + number * wide
            marks.append(Sketch(x, 8, _SKETCH, each.shapes))
            x += _SKETCH + 22
            marks.append(Text(x, 52, each.figure, _FIGURE, 600, serif=True))
            names = broken(each.job, wide - _SKETCH - 40, SMALL)
            deepest = max(deepest, len(names))
            marks += [Text(x, 88 + 32 * n, name, SMALL) for n, name in enumerate(names)]
        told = " ".join(f"{each.job}: {each.figure}." for each in left)
        return Block(106 + 32 * (deepest - 1), tuple(marks), id=f"left {at}", told=told)

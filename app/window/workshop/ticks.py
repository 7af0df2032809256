"""The ticked grid of people and skills as a drawn part: arrows walk it, Space ticks."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QLineF, QRect, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.workshop.people import level_of, next_level, skills_of
from app.words import Words
from app.words import workshop_view as say
from shared.book import Book, Person
from shared.ids import PersonId, SkillId

NAMES, ROW, BOX = 168, 25, 15
HEAD, HEAD_TWICE = 28, 46
COLUMN_LEAST, COLUMN_MOST = 40, 96


class TickGrid(Drawn):
    """Rows are people, columns skills.

    tick: makes a cell a level. tick_all: ticks a skill for everybody. open_: goes on to what else
    is said of a person.
    """

    def __init__(
        self,
        tick: Callable[[PersonId, SkillId, str], object],
        tick_all: Callable[[SkillId], object],
        open_: Callable[[PersonId], object],
    ) -> None:
        super().__init__()
        self._tick, self._tick_all, self._open = tick, tick_all, open_
        self.people: tuple[Person, ...] = ()
        self.skills: tuple[SkillId, ...] = ()
        self.words = Words()

    def show_book(self, book: Book, words: Words) -> None:
        """Show the people of a book."""
        self.people, self.skills, self.words = book.people, skills_of(book), words
        self.setAccessibleName(words.say(say.WHO_CAN))
        self.refresh()

    @property
    def person(self) -> PersonId | None:
        """Whose row the keyboard is on."""
        wanted = (self.at or "").split("|")[0]
        return next((p.id for p in self.people if p.id == wanted), None)

    # Laying out.

    def _column(self, width: int) -> int:
        room = (width - px(NAMES) - 8) // max(1, len(self.skills))
        return max(px(COLUMN_LEAST), min(px(COLUMN_MOST), room))

    def _cell(self, row: int, column: int, width: int) -> QRect:
        wide = self._column(width)
        return QRect(px(NAMES) + column * wide, self._top(width) + row * px(ROW), wide, px(ROW))

    def _is_narrow(self, width: int) -> bool:
        """Return whether the skills are written in two lines, every other one higher."""
        room = self._column(width) - 8
        return any(text_width(self.words.brought(s), 12, 600) > room for s in self.skills)

    def _top(self, width: int) -> int:
        return px(HEAD_TWICE) if self._is_narrow(width) else px(HEAD)

    def height_at(self, width: int) -> int:
        return self._top(width) + px(ROW) * len(self.people) + 8

    def spots_at(self, width: int) -> Sequence[Spot]:
        found = [self._head(index, skill, width) for index, skill in enumerate(self.skills)]
        for row, person in enumerate(self.people):
            found.append(self._named(row, person, width))
            for column, skill in enumerate(self.skills):
                found.append(self._ticked(row, column, person, skill, width))
        return found

    def _head(self, index: int, skill: SkillId, width: int) -> Spot:
        wide = self._column(width)
        count = sum(bool(level_of(person, skill)) for person in self.people)
        number = self.words.number_word(count)
        said = self.words.say(say.TICK_SKILL, skill=skill, count=count, number=number)
        return Spot(
            id=f"|{skill}",
            rect=QRect(px(NAMES) + index * wide, self._top(width) - px(22), wide, px(20)),
            name=said,
            description=said,
            do=partial(self._tick_all, skill),
            key="Enter",
        )

    def _named(self, row: int, person: Person, width: int) -> Spot:
        skills = self.words.series(str(each.skill) for each in person.skills)
        skills = skills or self.words.say(say.TICK_NOTHING)
        said = self.words.say(say.TICK_PERSON, person=person.name, skills=skills)
        rect = QRect(0, self._top(width) + row * px(ROW), px(NAMES) - 8, px(ROW))
        do = partial(self._open, person.id)
        return Spot(id=f"{person.id}|", rect=rect, name=person.name, description=said, do=do)

    def _ticked(self, row: int, column: int, person: Person, skill: SkillId, width: int) -> Spot:
        level = level_of(person, skill)
        said = self.words.say(
            say.TICK_NAME,
            person=person.name,
            skill=skill,
            level=self.words.say(say.LEVELS[level]),
        )
        return Spot(
            id=f"{person.id}|{skill}",
            rect=self._cell(row, column, width),
            name=said,
            description=said,
            do=partial(self._turn, person, skill),
            key="Space",
            is_chosen=bool(level),
        )

    def _turn(self, person: Person, skill: SkillId) -> None:
        self._tick(person.id, skill, "" if level_of(person, skill) else "can")

    def _more(self, by: int) -> None:
        who, _, skill = (self.at or "").partition("|")
        person = next((p for p in self.people if p.id == who), None)
        if person is not None and skill:
            level = level_of(person, SkillId(skill))
            self._tick(person.id, SkillId(skill), next_level(level, by))

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        wide = self._column(width)
        here, _, mine = (self.at or "").partition("|")
        for index, skill in enumerate(self.skills):
            is_mine = skill == mine
            self._paint_head(painter, of, px(NAMES) + index * wide, index, skill, bold=is_mine)
        right = px(NAMES) + wide * len(self.skills)
        for row, person in enumerate(self.people):
            top = self._top(width) + row * px(ROW)
            is_here = person.id == here
            if is_here:
                pens.flat_rect(painter, 0, top, right, px(ROW), of.sheet)
                pens.flat_rect(painter, 0, top, 3, px(ROW), of.ink)
            ink, weight = of.ink, 600 if is_here else 400
            pens.words(painter, 8, top + px(17), person.name, ink, 13, weight)
            for column, skill in enumerate(self.skills):
                x = px(NAMES) + column * wide + 4
                paint_level(painter, of, x, top + (px(ROW) - BOX) // 2, level_of(person, skill))
            pens.flat_rect(painter, 0, top + px(ROW) - 1, right, 1, of.line)

    def _paint_head(
        self, painter: QPainter, of: Theme, x: int, index: int, skill: str, *, bold: bool
    ) -> None:
        """Write a skill over its column; where columns are narrow every other one is higher."""
        top = self._top(self.width())
        is_high = self._is_narrow(self.width()) and index % 2 == 1
        y = top - px(26) if is_high else top - px(8)
        if is_high:
            pens.flat_rect(painter, x + 4, y + 5, 1, 16, of.line)
        ink, weight = (of.ink, 600) if bold else (of.ink2, 400)
        pens.words(painter, x + 4, y, self.words.brought(skill), ink, 12, weight)

    # Keys.

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        spot = self.spot(self.at)
        if key is Qt.Key.Key_Space and spot is not None and spot.do:
            spot.do()
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self._more(1)
        elif key is Qt.Key.Key_Minus:
            self._more(-1)
        else:
            super().keyPressEvent(event)


def paint_level(painter: QPainter, of: Theme, x: int, y: int, level: str) -> None:
    """Paint a box: empty, a dot for who may help, a tick for who can, two for who leads."""
    pens.frame(painter, QRect(x, y, BOX, BOX), of.ink2 if level else of.ink3, 1)
    if level == "helps":
        pens.flat_rect(painter, x + 5, y + 5, 5, 5, of.ink)
    if level in ("can", "leads", "yes"):
        _tick(painter, of, x, y)
    if level == "leads":
        _tick(painter, of, x + BOX + 2, y)


def _tick(painter: QPainter, of: Theme, x: int, y: int) -> None:
    lines = [QLineF(x + 3, y + 8, x + 6, y + 11), QLineF(x + 6, y + 11, x + 12, y + 3)]
    pens.slanted(painter, lines, of.ink, 2)

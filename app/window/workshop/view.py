"""The workshop's page under W: its parts at the left, the one in front as sentences and grids."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent

from app.window.bits import theme_of
from app.window.desk import Desk
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.sheet import typed as plain
from app.window.spots.drawn import scrolled
from app.window.spots.spot import Spot
from app.window.tokens import px
from app.window.views.view import View, Which
from app.window.wall import pens
from app.window.workshop import learned, people, standing
from app.window.workshop.coming import next_dates
from app.window.workshop.contents import Contents, Entry
from app.window.workshop.dots import Dots
from app.window.workshop.paper import Paper
from app.window.workshop.parts import PARTS, now_text, owned, part_of
from app.window.workshop.people import At
from app.window.workshop.strips import Strips
from app.window.workshop.ticks import TickGrid
from app.words import window as usual
from app.words import workshop_view as say
from app.words.voice import capital
from shared.book import Book, Kind
from shared.edits import Edited
from shared.estimate.learning import learning_of
from shared.ids import PersonId, SkillId, StepId
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from datetime import datetime

    from shared.findings import Finding

SIDE = 214


class WorkshopView(View):
    """Answers whether the workshop is written down, and takes what is missing."""

    which = Which.WORKSHOP

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.front = PARTS[0]
        self.person: PersonId | None = None
        self.ended: datetime | None = None
        self._found: dict[str, tuple[Finding, ...]] = {}
        self.ticks = TickGrid(self._tick, self._tick_all, self._open_person)
        self.strips = Strips(self._reach)
        self.contents = Contents(self.show_part)
        self.dots = Dots(self._take_factor)
        self.paper = Paper(self.ticks, self.strips, self.dots)
        self._list = scrolled(self.contents)
        self.paper.before = self.contents
        for part in (self._list, self.paper):
            part.setParent(self)
        for drawn in (self.ticks, self.strips, self.dots, self.contents):
            drawn.hovered.connect(self._on_hovered)
        self.ticks.chosen.connect(self._on_ticks)
        self.contents.chosen.connect(self._on_contents)
        self.paper.edited.connect(self._on_edited)

    # Showing.

    @property
    def book(self) -> Book:
        """The book at work."""
        assert self.desk.document is not None
        return self.desk.document.book

    @property
    def at(self) -> At:
        """What the page is written for."""
        words = self.desk.words
        return At(
            words=words,
            now=self.desk.now,
            today=local_date(self.desk.now, words.zone),
            person=self.person,
            is_money_hidden=self.desk.is_money_hidden,
            is_given_away=self.is_given_away,
        )

    def refresh(self) -> None:
        if self.desk.document is None:
            return
        book, words, at = self.book, self.desk.words, self.at
        self.ticks.show_book(book, words)
        if self.front == "standing":
            self.strips.show_jobs(standing.derive(book, words), words)
        if self.front == "learned":
            self.dots.show_kinds(learning_of(book).kinds, words)
        ended = now_text(at, self.ended or self.desk.now)
        part = part_of(self.front, book, at, ended, self._keep_ended)
        self.paper.show_part(part, book, words, self.desk.findings)
        self._found = owned(self.desk.findings, book, at)
        entries = tuple(self._entry(name) for name in PARTS)
        self.contents.show_entries(entries, self.front, words.say(say.PARTS_NAME))

    def _entry(self, name: str) -> Entry:
        words, count = self.desk.words, len(self._found.get(name, ()))
        mend = ""
        if count:
            number = words.number_word(count)
            mend = words.say(say.PART_FINDINGS, count=count, number=number)
        return Entry(name=name, title=words.say(say.PARTS[name]), mend=mend)

    def headline(self) -> Headline:
        if self.desk.document is None:
            return Headline(sentence="")
        if self.desk.trouble:
            return Headline(sentence=self.desk.trouble, is_alarm=True)
        if self.front == "standing" and self.strips.jobs:
            return self._standing()
        words = self.desk.words
        found = [each for name in PARTS for each in self._found.get(name, ())]
        if not found:
            return Headline(sentence=self._head(), next=self._next())
        number = capital(words.number_word(len(found)))
        sentence = words.say(say.MEND, head=self._head(), count=len(found), number=number)
        first, cure = words.finding(found[0])
        named = f"{found[0].name}: " if found[0].name else ""
        return Headline(sentence=sentence, next=((named, True), (f"{first} {cure}", False)))

    def _standing(self) -> Headline:
        """Return what day one asks, and how far it has got."""
        words, jobs = self.desk.words, self.strips.jobs
        strips = [strip for job in jobs for strip in job.strips]
        begun = sum(any(stop.state == "over" for stop in strip.stops) for strip in strips)
        sentence = words.say(
            say.STANDS,
            count=len(jobs),
            number=words.number_word(len(jobs)),
            job=jobs[0].name,
            begun=begun,
            all=len(strips),
        )
        return Headline(sentence=sentence, next=self._next())

    def _next(self) -> tuple[Part, ...]:
        found = next_dates(self.book, self.at)
        parts: list[Part] = [(self.desk.words.say(usual.NEXT), True)] if found else []
        for number, (text, day) in enumerate(found, start=1):
            parts += [(f"  {text} ", False), (day + ("," if number < len(found) else ""), True)]
        return tuple(parts)

    def _head(self) -> str:
        words, book = self.desk.words, self.book
        if not book.people:
            return words.say(say.NOBODY)
        many, places = len(book.people), len(book.places)
        people_said = words.say(say.PEOPLE_COUNT, count=many, number=words.number_word(many))
        places_said = words.say(say.PLACES_COUNT, count=places, number=words.number_word(places))
        return words.say(say.HEAD, people=capital(people_said), places=places_said)

    def show_part(self, name: str) -> None:
        """Bring a part of the page to the front."""
        if name != self.front:
            self.front = name
            self.paper.verticalScrollBar().setValue(0)
            self.refresh()
            self.headline_changed.emit()

    # Arranging.

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        side = px(SIDE)
        self._list.setGeometry(0, 1, side, self.height() - 1)
        self.paper.setGeometry(side, 1, self.width() - side, self.height() - 1)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.ink)
        painter.end()

    # Doing.

    def enter(self) -> None:
        self.contents.setFocus()
        self.contents.choose(self.front, tell=False)

    def back(self) -> bool:
        if self.contents.hasFocus():
            return False
        self.enter()
        return True

    def _on_hovered(self, spot: Spot | None) -> None:
        self.hovered.emit(spot.description if spot else "")

    def _on_contents(self, spot: Spot | None) -> None:
        if spot is not None:
            self.show_part(spot.id)

    def _on_ticks(self, spot: Spot | None) -> None:
        person = self.ticks.person
        if spot is not None and person is not None and person != self.person:
            self.person = person
            self.refresh()

    def _on_edited(self, edited: object, merge: str) -> None:
        assert isinstance(edited, Edited)
        self.desk.edit(edited, merge)

    def _tick(self, person: PersonId, skill: SkillId, level: str) -> None:
        self.desk.edit(people.tick(self.book, person, skill, level))

    def _tick_all(self, skill: SkillId) -> None:
        self.desk.edit(people.tick_all(self.book, skill))

    def _open_person(self, person: PersonId) -> None:
        self.person = person
        self.refresh()
        self.paper.focus_when_there("person hours")

    def _reach(self, step: StepId, segment: str) -> None:
        ended = self.ended or self.desk.now
        self.desk.edit(standing.reach(self.book, step, ended, self.desk.words, segment))

    def _take_factor(self, kind: Kind) -> None:
        """Let new estimates of a kind use what its records say, and say so."""
        edited, said = learned.take(self.book, kind, self.at)
        self.desk.edit(edited)
        self.desk.note = said
        self.desk.state_changed.emit()

    def _keep_ended(self, text: str) -> None:
        words = self.desk.words
        months = plain.months_of(words)
        self.ended = plain.utc(plain.moment(text, words.zone, self.desk.now, months))
        self.refresh()

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        if shift:
            return False
        if key is Qt.Key.Key_H:
            self.desk.hide_money()
            return True
        if key is Qt.Key.Key_W:
            self.enter()
            return True
        number = key - Qt.Key.Key_1
        if 0 <= number < len(PARTS):
            self.contents.choose(PARTS[number])
            return True
        return False

"""The foreman's view: today by the hour, the days after, and what can be done, at the side."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent

from app.window.desk import Desk
from app.window.guard import guarded
from app.window.headline import Headline
from app.window.people import days, doing, evening
from app.window.people.asked import Typed
from app.window.people.away_form import AwayForm
from app.window.people.awaying import Awaying
from app.window.people.board import Axis, BoardPart
from app.window.people.choice import Choice
from app.window.people.derive import Sight, derive
from app.window.people.edits import without_reasons
from app.window.people.evening import Evening
from app.window.people.giving import Giving
from app.window.people.headline import people_headline
from app.window.people.how_form import HowForm
from app.window.people.items import Bar, Board, Line, Sort
from app.window.people.layout import day_count, sizes_for
from app.window.people.paint import AXIS
from app.window.people.side import Side
from app.window.spots.drawn import scrolled
from app.window.spots.spot import Spot
from app.window.tokens import px
from app.window.views.view import View, Which
from app.words import people_view as say
from shared.absence import AwayKind
from shared.ids import PersonId, StepId

SIDE_GAP = 16


def side_width() -> int:
    """Return how wide the side is: it grows half as fast as text."""
    return 62 + px(250)


class PeopleView(View):
    """Who works where, and with whom; who could do it instead; what if somebody is away."""

    which = Which.PEOPLE

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.part, self.side = BoardPart(), Side()
        self.form, self.how = AwayForm(), HowForm()
        self.axis = Axis(self.part)
        self.area, self.side_area = scrolled(self.part), scrolled(self.side)
        for each in (self.axis, self.area, self.form, self.how, self.side_area):
            each.setParent(self)
        self.form.hide()
        self.how.hide()
        self.evening = Evening()
        self.ahead = 0
        self.base: Board | None = None
        self.choice = Choice()
        self.giving = Giving(desk, self._show_side)
        self.awaying = Awaying(desk, self._show_side)
        self._revision = -1
        self._held_over: tuple[Bar, Line] | None = None
        self._doing: dict[str, Callable[[], object]] = {}
        self._connect()

    def _connect(self) -> None:
        self.part.chosen.connect(self._on_chosen)
        self.part.hovered.connect(self._on_hovered)
        self.side.hovered.connect(self._on_hovered)
        self.part.told.connect(self.hovered)
        self.part.given.connect(self._on_given)
        self.part.over.connect(self._on_over)
        self.part.away.connect(self._on_drawn)
        self.part.beside.connect(lambda stride: doing.give_beside(self, stride))
        self.form.written.connect(self.awaying.write)
        self.form.entered.connect(self.side.setFocus)
        for form in (self.form, self.how):
            form.resized.connect(self._place)
        self.how.entered.connect(self.part.setFocus)
        self.part.pressed.connect(self._on_pressed)
        self.desk.counsel.refused.connect(self._on_refused)

    # Showing.

    def refresh(self) -> None:
        """Show the book and its plan as they are now."""
        document = self.desk.document
        if document is None:
            return
        if document.book.revision != self._revision:
            self._revision = document.book.revision
            self._settle()
        self._place()
        shown, words = self.desk.shown, self.desk.words
        if self.is_given_away:
            shown = replace(shown, book=without_reasons(shown.book))
        sizes = sizes_for(self.width())
        wide = self.width() - side_width() - SIDE_GAP
        sight = self._sight(day_count(sizes, wide))
        room = self.height() - px(AXIS)
        before = self.desk.plan if self.desk.trial is not None else None
        board = derive(shown, words, sight, before)
        if before is None:
            self.base = board
        self.part.show_board(board, words, sizes, room)
        self._follow()
        self.axis.update()
        self._show_how()
        self._show_side()

    def _sight(self, count: int) -> Sight:
        """Return the days to show: from today, or from an absence on that begins after them."""
        book, now = self.desk.shown.book, self.desk.now
        first = days.first_day(book, now) + timedelta(days=self.ahead)
        absence = self.awaying.absence
        if absence is not None:
            day = days.first_day(book, absence.start)
            if day >= first + timedelta(days=count):
                return Sight(first=day, count=count)
        return Sight(first=first, count=count)

    def _follow(self) -> None:
        """Keep what is chosen chosen where a trial has put it, and back where it was."""
        if self.part.at is None and self.choice.line and self.part.layout_ is not None:
            mine = [c for c in self.part.layout_.chunks if c.bar.id == self.choice.bar]
            mine.sort(key=lambda c: (c.line.id != self.choice.line, c.line.is_place))
            same = [c for c in mine if c.number == self.choice.number] or mine
            self.part.at = same[0].id if same else None

    def _settle(self) -> None:
        """Let go of what was asked of another state of the book."""
        self.giving.forget()
        self.awaying.close()
        self.choice = replace(self.choice, is_whole=False, picked=())
        self.form.hide()
        self._place()

    @contextmanager
    def given_away(self) -> Iterator[None]:
        """Show for a while what others may see: not why somebody is away."""
        is_open = {form: not form.isHidden() for form in (self.form, self.how)}
        for form in is_open:
            form.hide()
        try:
            with super().given_away():
                yield
        finally:
            for form, was_open in is_open.items():
                form.setVisible(was_open)
            self._place()

    def headline(self) -> Headline:
        """Return who is at work, or what is tried and what it does to the windows."""
        if self.part.board is None:
            return Headline(sentence="")
        return people_headline(self.desk, self.part.board)

    @property
    def step(self) -> StepId | None:
        """The step of the bar that is chosen."""
        chunk = self.part.chunk(self.part.at)
        return chunk.bar.step if chunk else None

    def enter(self) -> None:
        """Take the keyboard."""
        if not self.awaying.is_open:
            self.part.setFocus()
        if not self.choice.line:
            # What had the keyboard was hidden, and Qt went on from it as if by Tab.
            self.part.at = None

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place()
        if self.isVisible():
            self.refresh()

    def _place(self) -> None:
        high, wide = px(AXIS), self.width() - side_width() - SIDE_GAP
        self.axis.setGeometry(0, 0, wide, high)
        self.area.setGeometry(0, high, wide, self.height() - high)
        top = 8
        for form in (self.form, self.how):
            if not form.isHidden():
                tall = form.height_at(side_width())
                form.setGeometry(wide, top, side_width(), tall)
                top += tall
        self.side_area.setGeometry(wide, top, side_width(), self.height() - top - 10)

    # The side.

    def _show_side(self) -> None:
        """Show what is offered for what is chosen or asked, and what each figure does."""
        if self.part.board is None or self.desk.document is None:
            return
        panel, self._doing = doing.offered(self)
        if self.part.is_dragging and self._held_over is not None:
            self.hovered.emit(doing.judged_text(self, *self._held_over))
        self.side.show_panel(panel, self.desk.words, self.do, is_open_above=self._is_open_above)
        self.part.update()
        self.headline_changed.emit()

    @property
    def _is_open_above(self) -> bool:
        return not (self.form.isHidden() and self.how.isHidden())

    def do(self, identity: str) -> None:
        """Do what is offered under an id; what is tried already is taken."""
        if identity in self._doing:
            self._doing[identity]()

    def take_or(self, *, is_tried: bool, do: Callable[[], object]) -> None:
        """Take what is tried, else do something."""
        if not is_tried or not self.desk.take_trial():
            do()

    # Hands.

    def _on_chosen(self, spot: Spot | None) -> None:
        chunk = self.part.chunk(spot.id if spot else None)
        line = self.part.line_at(spot.id if spot else None)
        if chunk is not None and chunk.bar.job is not None:
            self.desk.job = chunk.bar.job
        before = self.choice
        self.choice = Choice(
            line=line.id if line else "",
            bar=chunk.bar.id if chunk else "",
            number=chunk.number if chunk else 0,
        )
        if self.choice != before:
            self.giving.forget()
            if self.awaying.is_open:
                self._close_form()
            self.desk.leave_trial()
        self._show_how()
        self._show_side()

    def _on_hovered(self, spot: Spot | None) -> None:
        self.hovered.emit(spot.description or spot.name if spot else "")

    def _on_over(self, bar: Bar, line: Line, to: Line) -> None:
        self._held_over = bar, to
        self.hovered.emit(doing.judge_person(self, bar, line, to))

    def _on_given(self, bar: Bar, line: Line, to: Line) -> None:
        self._held_over = None
        if doing.could(self, bar, line, to):
            doing.try_person(self, bar, line.id, PersonId(to.id))
        else:
            facts = {"work": bar.name, "who": to.name}
            self.hovered.emit(self.desk.words.say(say.DRAG_CANNOT, **facts))

    def _on_drawn(self, line: Line, start: int, end: int) -> None:
        zone = self.part.words.zone
        first, last = (_local(minute, zone) for minute in (start, end))
        columns = (
            {(each.start, each.end) for each in self.part.board.columns}
            if self.part.board
            else set()
        )
        is_whole = any(s == start for s, _ in columns) and any(e == end for _, e in columns)
        if is_whole:
            typed = Typed(id=line.id, start=first.date(), end=last.date())
        else:
            typed = Typed(id=line.id, start=first, end=last)
        self._open_form(typed)
        self.side.setFocus()

    def _on_refused(self, _: object) -> None:
        self.giving.fail()
        self.awaying.fail()

    # Somebody is away.

    def ask_away(self) -> None:
        """Ask who is away; whoever is chosen, and the day chosen, stand there already."""
        document = self.desk.document
        if document is None or self.part.board is None:
            return
        line = self.part.board.line(self.choice.line)
        columns = self.part.board.columns
        today = days.first_day(document.book, self.desk.now)
        number = min(self.choice.number, len(columns) - 1)
        day = max(columns[number].date, today) if self.choice.bar else None
        if day is None:
            day = days.next_day(document.book, self.desk.now)
        kind = AwayKind.PLACE if line is not None and line.is_place else AwayKind.PERSON
        identity = line.id.removeprefix("place ") if line is not None else ""
        self._open_form(Typed(kind=kind, id=identity, start=day, end=day))

    def _open_form(self, typed: Typed) -> None:
        document = self.desk.document
        assert document is not None
        self.giving.forget()
        self.close_evening()
        self.form.open(typed, document.book, self.desk.words, self.desk.now)
        self.form.show()
        self.form.in_tab_order(self.part, self.side)
        self._place()
        self.form.take_caret()
        self.awaying.open(typed)

    def _close_form(self) -> None:
        self.awaying.close()
        self.form.hide()
        self.part.setFocus()
        self.refresh()

    # What went otherwise.

    def ask_how(self) -> None:
        """Ask what went otherwise than told; of what is chosen, how it went."""
        document = self.desk.document
        if document is None or self.part.board is None:
            return
        if self.awaying.is_open:
            self._close_form()
        self.giving.forget()
        self.desk.leave_trial()
        self.evening.is_open = True
        self.how.open(self.desk.words, self._take_how, lambda: self.desk.who, self._record_as)
        self.how.in_tab_order(self.part, self.side)
        self._show_how()
        self._show_side()
        if not self.how.isHidden():
            self.how.take_caret()

    def close_evening(self) -> None:
        """Ask no more what went otherwise."""
        if self.evening.is_open:
            self.evening.is_open = False
            self.part.setFocus()
            self._show_how()

    def _show_how(self) -> None:
        bar, _ = doing.chosen(self)
        is_asked = bar is not None and bar.sort is Sort.WORK and not bar.part and not bar.is_done
        self.how.setVisible(self.evening.is_open and is_asked)
        self._place()

    def _on_pressed(self) -> None:
        if self.evening.is_open and not self.how.isHidden():
            self.how.take_caret()

    def _take_how(self, text: str) -> None:
        evening.take_typed(self, doing.chosen(self)[0], text)

    def _record_as(self, who: str) -> None:
        self.desk.record_as(" ".join(who.split()))

    def choose_work(self) -> None:
        """Choose the first piece of work of the first person who has any."""
        laid = self.part.layout_
        found = [c for c in laid.chunks if c.bar.sort is Sort.WORK] if laid else []
        if found:
            self.part.choose(found[0].id)

    def back(self) -> bool:
        """Put back one thing: the question of an absence, then what is chosen."""
        if self.awaying.is_open:
            self._close_form()
            self._show_side()
            return True
        if self.evening.is_open:
            self.close_evening()
            self._show_side()
            return True
        if self.part.at is None:
            return False
        self.part.choose(None)
        return True

    # Keys.

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Do what a letter or figure does here; whether it does anything."""
        if shift:
            return False
        if Qt.Key.Key_1 <= key <= Qt.Key.Key_9:
            return self._choose_number(key - Qt.Key.Key_0)
        does: dict[Qt.Key, Callable[[], object]] = {
            Qt.Key.Key_A: self.ask_away,
            Qt.Key.Key_C: lambda: evening.put_material_down(self, doing.chosen(self)[0]),
            Qt.Key.Key_R: self.ask_how,
            Qt.Key.Key_T: lambda: evening.tick(self),
            Qt.Key.Key_D: lambda: doing.finish_chosen(self),
            Qt.Key.Key_M: lambda: doing.mark_only(self),
            Qt.Key.Key_O: lambda: doing.other_scope(self),
            Qt.Key.Key_P: lambda: doing.pin_chosen(self),
            Qt.Key.Key_PageDown: lambda: self._go(1),
            Qt.Key.Key_PageUp: lambda: self._go(-1),
        }
        if key not in does or (key == Qt.Key.Key_M and not self.awaying.is_open):
            return False
        does[key]()
        return True

    def _choose_number(self, number: int) -> bool:
        entry = next((e for e in self.side.panel.entries if e.key == str(number)), None)
        if entry is None:
            return False
        self.do(entry.id)
        return True

    def _go(self, days_on: int) -> None:
        self.ahead = max(0, self.ahead + days_on)
        self.part.at = None
        self.choice = Choice()
        self.refresh()


def _local(minute: int, zone: str) -> datetime:
    return datetime.fromtimestamp(minute * 60, UTC).astimezone(ZoneInfo(zone))

"""The Orders view: what is to be ordered, by its day, and beside it what is on its way."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent

from app.window.bits import theme_of
from app.window.desk import Desk
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.orders import derive as reckon
from app.window.orders.derive import Line, Orders
from app.window.orders.ladder import Ladder, Said
from app.window.spots.drawn import scrolled
from app.window.spots.spot import Spot
from app.window.tokens import px
from app.window.trial import whole_edit
from app.window.views.view import View, Which
from app.window.wall import pens
from app.words import orders_view as say
from app.words import window as usual
from shared.book import Book, Gate, Stage
from shared.edits import change_step, move_delivery, order_material, take_delivery
from shared.edits.lookup import step_of
from shared.ids import MaterialId
from shared.orders import buying
from shared.orders.days import first_open, workshop_days
from shared.worktime import NoWorkingTime, local_instant
from shared.worktime.zones import local_date

SIDE = 418
SIDE_LARGE, LARGE_FROM = 464, 1700
NOON = time(12)


class OrdersView(View):
    """Answers what is to be bought by when; Enter marks it as ordered, or as come."""

    which = Which.ORDERS

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.orders = Orders()
        self.to_order = Ladder(self.mark_ordered, self.begin_later)
        self.on_order = Ladder(self.mark_come, self.begin_later, is_sheet=True)
        self._areas = [scrolled(self.to_order), scrolled(self.on_order)]
        for area, ladder in zip(self._areas, (self.to_order, self.on_order), strict=True):
            area.setParent(self)
            ladder.hovered.connect(self._on_hovered)
            ladder.chosen.connect(self._on_chosen)

    # Showing.

    @property
    def today(self) -> date:
        """The workshop's day."""
        return local_date(self.desk.now, self.desk.words.zone)

    def refresh(self) -> None:
        desk = self.desk
        if desk.document is None:
            return
        shown = desk.shown
        self.orders = Orders()
        if shown.plan is not None and not desk.stopping:
            found = buying(shown.book, shown.plan, desk.now)
            self.orders = reckon.derive(
                shown.book, shown.plan, shown.outcome, found, desk.words, self.today
            )
        self.to_order.show_lines(self._lines(), self._said_to_order())
        self.on_order.show_lines(self.orders.on_order, self._said_on_order())
        self.arrange()

    def _lines(self) -> tuple[Line, ...]:
        if not self.desk.is_money_hidden:
            return self.orders.to_order
        return tuple(replace(line, cells=line.cells[:3]) for line in self.orders.to_order)

    def _said_to_order(self) -> Said:
        words, is_hidden = self.desk.words, self.desk.is_money_hidden
        heads = [say.DAYS_LEFT, say.WHAT, say.ORDER_BY, say.NOT_BEFORE, say.HERE_BY]
        if not is_hidden:
            heads.append(say.PRICE)
        total = self.orders.total
        return Said(
            title=words.say(say.TO_ORDER),
            heads=tuple(words.say(head) for head in heads),
            act=words.say(say.DO_ORDERED),
            late=words.say(say.LATE_DAYS),
            empty=self._sentence(),
            foot=words.say(say.TOTAL_HIDDEN) if is_hidden and total else total,
            enter=words.say(say.ENTER_ORDERS),
        )

    def _said_on_order(self) -> Said:
        words = self.desk.words
        heads = (say.DAYS_LEFT, say.WHAT, say.COMES)
        return Said(
            title=words.say(say.ON_ORDER),
            heads=tuple(words.say(head) for head in heads),
            act=words.say(say.DO_COME),
            late=words.say(say.LATE_DAYS),
            empty=words.say(say.NONE_ON_ORDER),
            foot=self.orders.undated,
            enter=words.say(say.ENTER_TAKES),
        )

    def _sentence(self) -> str:
        desk, words = self.desk, self.desk.words
        if desk.document is None:
            return ""
        if desk.stopping:
            return words.say(say.NOT_ASKED)
        if not desk.shown.book.materials:
            return words.say(say.NO_MATERIALS)
        if desk.shown.plan is None:
            return words.say(say.NO_PLAN)
        return reckon.sentence(self.orders, words, self._names(), self.today)

    def _names(self) -> dict[MaterialId, str]:
        return {each.id: each.name for each in self.desk.shown.book.materials}

    def headline(self) -> Headline:
        desk, words = self.desk, self.desk.words
        if desk.trouble:
            return Headline(sentence=desk.trouble, is_alarm=True)
        if desk.document is not None and not desk.shown.book.materials:
            bare: tuple[Part, ...] = ((words.say(say.NO_MATERIALS_NEXT), False),)
            return Headline(sentence=self._sentence(), next=bare)
        found = reckon.next_parts(self.orders, words, self._names(), self.today)
        parts: list[Part] = [(words.say(usual.NEXT), True)] if found else []
        for number, (text, day) in enumerate(found, start=1):
            parts += [(f"  {text} ", False), (day + ("," if number < len(found) else ""), True)]
        return Headline(sentence=self._sentence(), next=tuple(parts))

    # Arranging.

    def arrange(self) -> None:
        """Give the two ladders their places."""
        wanted = px(SIDE_LARGE if self.width() >= LARGE_FROM else SIDE)
        side = min(wanted, self.width() // 3)
        left, right = self._areas
        left.setGeometry(0, 1, self.width() - side, self.height() - 1)
        right.setGeometry(self.width() - side, 1, side, self.height() - 1)
        for ladder, area in ((self.to_order, left), (self.on_order, right)):
            ladder.setMinimumHeight(max(ladder.height_at(area.width()), area.height()))

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.arrange()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.ink)
        painter.end()

    # Doing.

    def enter(self) -> None:
        ladder = self.to_order if self.to_order.lines or not self.on_order.lines else self.on_order
        ladder.setFocus()
        if ladder.at is None and ladder.lines:
            ladder.choose(ladder.lines[0].id, tell=False)

    def _on_hovered(self, spot: Spot | None) -> None:
        self.hovered.emit(spot.description if spot else "")

    def _on_chosen(self, spot: object) -> None:
        line = self._line()
        if spot is not None and line is not None and line.job is not None:
            self.desk.job = line.job

    def _line(self) -> Line | None:
        ladder = self.on_order if self.on_order.hasFocus() else self.to_order
        return ladder.line

    def _at_noon(self, day: date) -> datetime:
        return local_instant(day, NOON, self.desk.words.zone, opening=True)

    def mark_ordered(self, line: Line) -> None:
        """Write down that a line is ordered; the next row is chosen."""
        book = self._book()
        if book is None or line.order is None or line.expected is None:
            return
        self._go_on(self.to_order, line)
        expected = self._at_noon(line.expected)
        self.desk.edit(order_material(book, line.order.material, line.order.quantity, expected))

    def mark_come(self, line: Line) -> None:
        """Write down that what is on order has come."""
        book = self._book()
        if book is None or line.delivery is None:
            return
        self._go_on(self.on_order, line)
        self.desk.edit(take_delivery(book, line.delivery, self.desk.now, self.desk.who))

    def begin_later(self, line: Line) -> None:
        """Let the work that waits for what comes late begin no earlier than it can."""
        book = self._book()
        if book is None or not line.begin:
            return
        made, label = book, None
        for identity, day in line.begin:
            step = step_of(made, identity)
            if isinstance(step, Stage | Gate):
                edited = change_step(made, replace(step, not_before=day))
                made, label = edited.book, label or edited.label
        if label is not None:
            self.desk.edit(whole_edit(book, made, label))

    def move_day(self, by: int) -> bool:
        """Let what is on order come a working day later or earlier."""
        book, line = self._book(), self.on_order.line
        if book is None or line is None or line.delivery is None:
            return False
        day = max(self.today, local_date(line.delivery.at, self.desk.words.zone))
        try:
            there = self._open(book, day, by)
        except NoWorkingTime:
            return True
        moved = move_delivery(book, line.delivery, self._at_noon(there))
        self.desk.edit(moved, f"delivery {line.delivery.material}")
        return True

    def _open(self, book: Book, day: date, by: int) -> date:
        here = workshop_days(book.workshop)
        if by > 0:
            return first_open(here, day + timedelta(days=1))
        for back in range(1, 15):
            earlier = day - timedelta(days=back)
            if earlier < self.today:
                return day
            if first_open(here, earlier) == earlier:
                return earlier
        return day

    def _book(self) -> Book | None:
        """Return the book that is edited; while something is tried that is taken instead."""
        if self.desk.take_trial():
            return None
        return self.desk.document.book if self.desk.document else None

    def _go_on(self, ladder: Ladder, line: Line) -> None:
        """Choose the row after one that is about to go."""
        at = next((i for i, each in enumerate(ladder.lines) if each.id == line.id), 0)
        others = (*ladder.lines[at + 1 : at + 2], *ladder.lines[max(0, at - 1) : at])
        ladder.choose(others[0].id if others else None, tell=False)

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        line = self._line()
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Minus) and self.on_order.hasFocus():
            return self.move_day(1 if key is Qt.Key.Key_Plus else -1)
        if shift:
            return False
        if key is Qt.Key.Key_H:
            self.desk.hide_money()
            return True
        if key is Qt.Key.Key_1 and line is not None and line.begin:
            self.begin_later(line)
            return True
        return False

"""The foreman's view: today by the hour, the days after, and what can be done, at the side."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent

from app.window.desk import Desk
from app.window.guard import guarded
from app.window.headline import Headline
from app.window.people import days
from app.window.people.board import Axis, BoardPart
from app.window.people.derive import Sight, derive
from app.window.people.headline import people_headline
from app.window.people.layout import day_count, sizes_for
from app.window.people.paint import AXIS
from app.window.spots.drawn import scrolled
from app.window.spots.spot import Spot
from app.window.tokens import px
from app.window.views.view import View, Which

SIDE, SIDE_GAP = 312, 16


class PeopleView(View):
    """Who works where, and with whom."""

    which = Which.PEOPLE

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.part = BoardPart()
        self.axis = Axis(self.part)
        self.area = scrolled(self.part)
        self.axis.setParent(self)
        self.area.setParent(self)
        self.ahead = 0
        self.part.chosen.connect(self._on_chosen)
        self.part.hovered.connect(self._on_hovered)
        self.part.told.connect(self.hovered)

    # Showing.

    def refresh(self) -> None:
        """Show the book and its plan as they are now."""
        if self.desk.document is None:
            return
        shown, words = self.desk.shown, self.desk.words
        sizes = sizes_for(self.width())
        wide = self.width() - SIDE - SIDE_GAP
        first = days.first_day(shown.book, shown.now) + timedelta(days=self.ahead)
        sight = Sight(first=first, count=day_count(sizes, wide))
        room = self.height() - px(AXIS)
        self.part.show_board(derive(shown, words, sight), words, sizes, room)
        self.axis.update()
        self.headline_changed.emit()

    def headline(self) -> Headline:
        """Return who is at work, and what is next."""
        if self.part.board is None:
            return Headline(sentence="")
        return people_headline(self.desk, self.part.board)

    def enter(self) -> None:
        """Take the keyboard."""
        self.part.setFocus()

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        high, wide = px(AXIS), self.width() - SIDE - SIDE_GAP
        self.axis.setGeometry(0, 0, wide, high)
        self.area.setGeometry(0, high, wide, self.height() - high)
        if self.isVisible():
            self.refresh()

    # Hands and keys.

    def _on_chosen(self, spot: Spot | None) -> None:
        chunk = self.part.chunk(spot.id if spot else None)
        if chunk is not None and chunk.bar.job is not None:
            self.desk.job = chunk.bar.job

    def _on_hovered(self, spot: Spot | None) -> None:
        self.hovered.emit(spot.description or spot.name if spot else "")

    def back(self) -> bool:
        """Let go of what is chosen."""
        if self.part.at is None:
            return False
        self.part.choose(None)
        return True

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Do what a letter does here; whether it does anything."""
        if shift:
            return False
        moves = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_PageUp: -1}
        if key in moves:
            self.ahead = max(0, self.ahead + moves[key])
            self.refresh()
            return True
        return False

    @property
    def zone(self) -> ZoneInfo:
        """The workshop's zone."""
        return ZoneInfo(self.desk.words.zone)

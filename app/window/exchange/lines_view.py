"""What the pages of lines have in common: the lines that scroll, and the sentence over them."""

from collections.abc import Sequence

from PySide6.QtGui import QResizeEvent

from app.window.desk import Desk
from app.window.exchange.lines import Line, Lines
from app.window.filing import Filing
from app.window.guard import guarded
from app.window.spots.drawn import scrolled
from app.window.views.view import View
from shared.book import Book


class LinesView(View):
    """Whoever derives from it says what its lines are."""

    def __init__(self, desk: Desk, filing: Filing) -> None:
        super().__init__(desk)
        self._filing = filing
        self.lines = Lines()
        self._area = scrolled(self.lines)
        self._area.setParent(self)
        self.setFocusProxy(self.lines)
        self.lines.hovered.connect(lambda spot: self.hovered.emit(spot.description if spot else ""))

    @property
    def book(self) -> Book:
        """The book at work."""
        assert self.desk.document is not None
        return self.desk.document.book

    def _show_lines(self, lines: Sequence[Line], wanted: str | None = None) -> None:
        """Show lines under the sentence; wanted: which is chosen if it is there."""
        self.lines.show_lines(lines, self.headline().sentence)
        if wanted is not None and self.lines.spot(wanted) is not None:
            self.lines.choose(wanted, tell=False)
        if self.lines.at is None and self.lines.spots:
            self.lines.choose(self.lines.spots[0].id, tell=False)
        self.headline_changed.emit()

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._area.setGeometry(self.rect())

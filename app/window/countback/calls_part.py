"""The calls and dates that a moved window makes necessary, in lines above the strands."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.window.bits import theme_of, wrapped
from app.window.guard import guarded
from app.window.tokens import px
from app.window.wall import pens

LEFT, TITLE_PIXELS, TEXT_PIXELS, LINE = 24, 15, 13, 19


class CallsPart(QWidget):
    """Reads out what is to be done once the window moves; hidden while none does."""

    def __init__(self) -> None:
        super().__init__()
        self.title = ""
        self.lines: tuple[str, ...] = ()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.hide()

    def show_lines(self, title: str, lines: tuple[str, ...]) -> None:
        """Show other lines; none hide it."""
        self.title, self.lines = title, lines
        self.setAccessibleName(title)
        self.setAccessibleDescription(" ".join(lines))
        self.setVisible(bool(lines))
        self._set_height()
        self.update()

    def _laid(self) -> list[str]:
        room = max(px(120), self.width() - 2 * LEFT)
        return [part for line in self.lines for part in wrapped(line, room, TEXT_PIXELS)]

    def _set_height(self) -> None:
        self.setFixedHeight(px(34) + px(LINE) * len(self._laid()) + px(10) if self.lines else 0)

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._set_height()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.words(painter, LEFT, px(24), self.title, of.ink, TITLE_PIXELS, 600, serif=True)
        for number, line in enumerate(self._laid()):
            y = px(34) + px(LINE) * number + px(12)
            pens.words(painter, LEFT, y, line, of.ink2, TEXT_PIXELS)
        if self.hasFocus():
            pens.frame(painter, self.rect(), of.ink, 1)
        painter.end()

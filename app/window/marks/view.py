"""The key to the marks as a view: K brings it to the front, Esc goes back to the wall."""

from collections.abc import Sequence

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter, QResizeEvent

from app.window.desk import Desk
from app.window.guard import guarded
from app.window.headline import Headline
from app.window.marks.drawing import HIGH, paint_mark
from app.window.spots.drawn import Drawn, scrolled
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.views.view import View, Which
from app.window.wall import pens
from app.words import Words
from app.words import on_wall as say

LEFT, TOP, PITCH, COLUMN, MARK = 24, 16, 46, 430, 92


class MarksPart(Drawn):
    """All marks in columns, each beside its words."""

    def __init__(self) -> None:
        super().__init__()
        self.words = Words()

    def height_at(self, width: int) -> int:
        return 2 * TOP + self._rows(width) * px(PITCH)

    def _columns(self, width: int) -> int:
        return max(1, min(4, (width - LEFT) // px(COLUMN)))

    def _rows(self, width: int) -> int:
        return -(-len(say.MARKS) // self._columns(width))

    def _at(self, index: int, width: int) -> QRect:
        """Return the place of a mark with its words."""
        rows, columns = self._rows(width), self._columns(width)
        pitch = (width - LEFT) // columns
        column, row = divmod(index, rows)
        return QRect(LEFT + column * pitch, TOP + row * px(PITCH), pitch - 8, px(PITCH) - 4)

    def spots_at(self, width: int) -> Sequence[Spot]:
        return [
            Spot(
                id=name,
                rect=self._at(index, width),
                name=self.words.say(title),
                description=f"{self.words.say(title)}: {self.words.say(told)}",
            )
            for index, (name, (title, told)) in enumerate(say.MARKS.items())
        ]

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        for index, (name, (title, told)) in enumerate(say.MARKS.items()):
            box = self._at(index, width)
            mark = QRect(box.x() + 6, box.y() + (box.height() - HIGH) // 2, MARK, HIGH)
            paint_mark(painter, of, mark, name)
            x = mark.right() + 20
            pens.words(painter, x, box.y() + px(17), self.words.say(title), of.ink, 13, 600)
            pens.words(painter, x, box.y() + px(34), self.words.say(told), of.ink2, 12)


class MarksView(View):
    """Shows what every mark means."""

    which = Which.MARKS

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.part = MarksPart()
        self._area = scrolled(self.part)
        self._area.setParent(self)
        self.setFocusProxy(self.part)
        self.part.hovered.connect(
            lambda spot: self.hovered.emit(spot.description if spot is not None else "")
        )

    def refresh(self) -> None:
        self.part.words = self.desk.words
        self.part.setAccessibleName(self.desk.words.say(say.KEY_TITLE))
        self.part.refresh()

    def headline(self) -> Headline:
        words = self.desk.words
        return Headline(sentence=words.say(say.KEY_TITLE), next=((words.say(say.KEY_NEXT), False),))

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._area.setGeometry(self.rect())

"""What every view beside the wall is: a sentence, a body, and what its keys do."""

from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from app.window.desk import Desk
from app.window.headline import Headline
from shared.ids import StepId


class Which(StrEnum):
    """The views, in the order of their words and of their keys Ctrl 1 to 5, and the pages."""

    WALL = "wall"
    COUNTBACK = "countback"
    PEOPLE = "people"
    ORDERS = "orders"
    ENQUIRY = "enquiry"
    WORKSHOP = "workshop"
    MARKS = "marks"
    SHEETS = "sheets"
    BRING = "bring"
    GIVE = "give"


OF_KEYS = {
    Qt.Key.Key_A: Which.PEOPLE,
    Qt.Key.Key_S: Which.SHEETS,
    Qt.Key.Key_Q: Which.ENQUIRY,
    Qt.Key.Key_V: Which.ENQUIRY,
    Qt.Key.Key_T: Which.COUNTBACK,
    Qt.Key.Key_L: Which.COUNTBACK,
    Qt.Key.Key_W: Which.WORKSHOP,
    Qt.Key.Key_F: Which.WALL,
    Qt.Key.Key_K: Which.MARKS,
    Qt.Key.Key_I: Which.BRING,
    Qt.Key.Key_U: Which.GIVE,
}
"""Keys that a view hears, and that bring it to the front from any other."""


class View(QWidget):
    """A view. Whoever derives from it says what its sentence is and shows the desk's book.

    headline_changed: its sentence is another one. hovered: the facts under the pointer, "" for
    none.
    """

    which: Which
    headline_changed = Signal()
    hovered = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk, self.is_given_away = desk, False

    def refresh(self) -> None:
        """Show the book and its plan as they are now. Called only while the view is in front."""
        raise NotImplementedError

    def headline(self) -> Headline:
        """Return its sentence and what is next."""
        raise NotImplementedError

    @property
    def step(self) -> StepId | None:
        """The step that is chosen in it, if one is."""
        return None

    def enter(self) -> None:
        """Take the keyboard, as the view comes to the front."""
        self.setFocus()

    @contextmanager
    def given_away(self) -> Iterator[None]:
        """Show for a while only what others may see: it is painted into a file or onto paper."""
        self.is_given_away = True
        self.refresh()
        try:
            yield
        finally:
            self.is_given_away = False
            self.refresh()

    def picture(self) -> QImage:
        """Return a picture of it that may be saved and given away."""
        with self.given_away():
            return self.grab().toImage()

    def back(self) -> bool:
        """Put back one thing (what is tried, a field that is open); whether there was any."""
        return False

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Do what a letter does here; whether it does anything."""
        del key, shift
        return False

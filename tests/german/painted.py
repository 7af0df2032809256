"""What a window writes while it is painted, and where that has no room."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QWidget

from app.window.sheet.blanks import Words as Fixed
from app.window.wall import pens

_NEAR = (-4, -4, 4, 4)
"""So far words may reach out: their frame is a little wider than they are."""
_ABOVE, _BELOW, _TOUCH = 0.72, 0.18, 1.5
"""Of a text's size: how far its letters reach; and how many pixels of two texts may touch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A text on a widget: where it begins and ends, its baseline, and the room that is there."""

    text: str
    widget: int
    left: float
    right: float
    baseline: float
    pixels: int
    room: float
    on_plate: bool


class Painted:
    """Keeps every text that is painted; a plate hides what it lies on, so it may overlap."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.texts: list[Written] = []
        self._is_plate = False
        self._words, self._plate = pens.words, pens.words_on_plate
        monkeypatch.setattr(pens, "words", self._write)
        monkeypatch.setattr(pens, "words_on_plate", self._write_on_plate)

    def _write_on_plate(self, *what: object, **how: object) -> None:
        self._is_plate = True
        self._plate(*what, **how)  # type: ignore[arg-type]
        self._is_plate = False

    def _write(  # noqa: PLR0913 - as it is painted
        self,
        painter: QPainter,
        x: float,
        baseline: float,
        text: str,
        colour: QColor,
        pixels: int = 12,
        weight: int = 400,
        *,
        serif: bool = False,
        italic: bool = False,
    ) -> float:
        end = self._words(
            painter, x, baseline, text, colour, pixels, weight, serif=serif, italic=italic
        )
        device, moved = painter.device(), painter.worldTransform()
        at, room = moved.map(QPointF(x, baseline)), float(device.width())
        if painter.hasClipping():
            room = min(room, moved.mapRect(painter.clipBoundingRect()).right())
        if text.strip():
            self.texts.append(
                Written(
                    text=text,
                    widget=id(device),
                    left=at.x(),
                    right=at.x() + end - x,
                    baseline=at.y(),
                    pixels=pixels,
                    room=room,
                    on_plate=self._is_plate,
                )
            )
        return end

    def cut(self) -> list[str]:
        """Return texts that run out of their room on the right, or were given up to fit it."""
        return [
            each.text
            for each in self.texts
            if each.left < each.room < each.right - 1 or each.text.rstrip().endswith("…")
        ]

    def overlapping(self) -> list[tuple[str, str]]:
        """Return pairs of texts that are written over each other."""
        plain = [each for each in self.texts if not each.on_plate]
        return [(a.text, b.text) for a, b in combinations(plain, 2) if _meet(a, b)]


def _meet(one: Written, other: Written) -> bool:
    if one.widget != other.widget or one.text == other.text:
        return False
    across = min(one.right, other.right) - max(one.left, other.left)
    top = max(one.baseline - _ABOVE * one.pixels, other.baseline - _ABOVE * other.pixels)
    bottom = min(one.baseline + _BELOW * one.pixels, other.baseline + _BELOW * other.pixels)
    return across > _TOUCH and bottom - top > _TOUCH


def narrow(window: QWidget) -> list[str]:
    """Return what stands in blanks that are too narrow for it."""
    found = []
    for blank in window.findChildren(QLineEdit):
        text, margins = blank.text() or blank.placeholderText(), blank.textMargins()
        room = blank.width() - margins.left() - margins.right() - 4
        if blank.isVisible() and blank.fontMetrics().horizontalAdvance(text) > room:
            found.append(text)
    return found


def outside(window: QWidget) -> list[str]:
    """Return the words and blanks that reach out of what they stand in, or of a small window."""
    found = []
    for part in window.findChildren(QWidget):
        above = part.parentWidget()
        text = _text_of(part)
        if (
            text
            and part.isVisible()
            and above is not None
            and not above.rect().adjusted(*_NEAR).contains(part.geometry())
        ):
            found.append(text)
    return found


def _text_of(part: QWidget) -> str:
    if isinstance(part, QAbstractButton | QLineEdit):
        return part.text() or part.accessibleName()
    return part.text if isinstance(part, Fixed) else ""


def told(window: QWidget) -> Iterator[str]:
    """Give all that a screen reader is told of what is shown, and what stands in blanks."""
    for part in window.findChildren(QWidget):
        if not part.isVisible():
            continue
        yield from (part.accessibleName(), part.accessibleDescription())
        if isinstance(part, QLineEdit):
            yield from (part.text(), part.placeholderText())
        if isinstance(part, QAbstractButton):
            yield part.text()

"""A place in a drawn part that can be pointed at, reached by keys and read out. No widgets."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRect

_ASIDE = 3
"""So much more than a step ahead a step aside weighs, when an arrow looks for the next spot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One place.

    name, description: as a screen reader says them; the description is also shown in the masthead
    while the pointer is over it. do: what Enter or a click does besides choosing it. key: what is
    pressed for the same, "" for none; it is shown, the view itself hears it. is_row: it is read
    and walked to, but gets no frame of its own unless it is chosen.
    """

    id: str
    rect: QRect
    name: str
    description: str = ""
    do: Callable[[], object] | None = None
    key: str = ""
    is_chosen: bool = False


def spot_at(spots: Sequence[Spot], point: QPoint) -> Spot | None:
    """Return the smallest spot under a point, of several as small the last."""
    found = [spot for spot in spots if spot.rect.contains(point)]
    return min(reversed(found), key=_area, default=None)


def _area(spot: Spot) -> int:
    return spot.rect.width() * spot.rect.height()


def beside(spots: Sequence[Spot], spot: Spot, dx: int, dy: int) -> Spot | None:
    """Return the nearest spot in a direction: (1, 0) is right, (0, -1) is up; None at the end."""
    best, least = None, 0.0
    for other in spots:
        ahead, aside = _apart(spot.rect, other.rect, dx, dy)
        if other.id == spot.id or ahead <= 0:
            continue
        far = ahead + _ASIDE * aside
        if best is None or far < least:
            best, least = other, far
    return best


def _apart(here: QRect, there: QRect, dx: int, dy: int) -> tuple[float, float]:
    """Return how far ahead the middle of a rectangle lies, and how far the two miss each other."""
    if dx:
        ahead = dx * (there.center().x() - here.center().x())
        aside = max(here.top() - there.bottom(), there.top() - here.bottom(), 0)
        return ahead, aside
    ahead = dy * (there.center().y() - here.center().y())
    aside = max(here.left() - there.right(), there.left() - here.right(), 0)
    return ahead, aside

"""What stands in a room from the start of one stage to the end of another, while a pass runs."""

from collections.abc import Iterable

from scheduler.busy import Busy
from scheduler.calendar import Index
from scheduler.search import Spot
from scheduler.terms import FOREVER, Stand


class Stands:
    """The stands of a pass. ends: by stage that ends a stand, its end once it is placed.

    A stand whose end is not known yet takes its units for ever; they are given back from the
    end on as soon as that is known.
    """

    def __init__(self, index: Index, busy: Busy) -> None:
        self._busy = busy
        self._stands = [stand for stand in index.terms.stands if stand.units]
        self._by_first = _by_stage((stand.first, stand) for stand in self._stands)
        self._by_last = _by_stage((stand.last, stand) for stand in self._stands)
        self._opened: set[int] = set()
        self.ends: dict[int, int] = {}
        for stand in self._by_first.get(None, ()):
            busy.book_room(stand.room, 0, FOREVER, stand.units)

    def any_open(self) -> bool:
        """Return whether something stands whose end is not known yet."""
        return any(
            stand.last is not None and stand.last not in self.ends and self._is_open(stand)
            for stand in self._stands
        )

    def close_with(self, stages: Iterable[int]) -> bool:
        """Return whether a stand ends with one of these stages."""
        return any(stage in self._by_last for stage in stages)

    def book(self, stage: int, spot: Spot) -> None:
        """Book what begins to stand with a stage, and give back what leaves with it."""
        for stand in self._by_last.get(stage, ()):
            if stand.first != stage and self._is_open(stand):
                self._busy.book_room(stand.room, spot.end, FOREVER, -stand.units)
        if stage in self._by_last:
            self.ends[stage] = spot.end
        for stand in self._by_first.get(stage, ()):
            end = FOREVER if stand.last is None else self.ends.get(stand.last, FOREVER)
            self._busy.book_room(stand.room, spot.start, end, stand.units)
        if stage in self._by_first:
            self._opened.add(stage)

    def lift(self, stage: int, spot: Spot) -> None:
        """Take back what a stage booked, whatever was booked since."""
        for stand in self._by_first.get(stage, ()):
            end = FOREVER if stand.last is None else self.ends.get(stand.last, FOREVER)
            self._busy.book_room(stand.room, spot.start, end, -stand.units)
        for stand in self._by_last.get(stage, ()):
            if stand.first != stage and self._is_open(stand):
                self._busy.book_room(stand.room, spot.end, FOREVER, stand.units)
        self.forget(stage)

    def forget(self, stage: int) -> None:
        """Forget a stage whose bookings are being taken back."""
        self.ends.pop(stage, None)
        self._opened.discard(stage)

    def _is_open(self, stand: Stand) -> bool:
        return stand.first is None or stand.first in self._opened


def _by_stage(pairs: Iterable[tuple[int | None, Stand]]) -> dict[int | None, list[Stand]]:
    found: dict[int | None, list[Stand]] = {}
    for stage, stand in pairs:
        found.setdefault(stage, []).append(stand)
    return found

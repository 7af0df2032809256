"""When a step that ended somewhere has cured, and until when the next coat may start."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from shared.book import Book, Gate, Stage
from shared.ids import PlaceId
from shared.units import ceil_to_step, floor_to_step

if TYPE_CHECKING:
    from scheduler.normalise.climate import Climates

_REACH_WEEKS = 60
"""What is not cured so long after the last moment asked about is taken to be cured then."""


class Cured:
    """The cures and recoat times of one book, by the temperature of the place of each.

    Least waits go by the coldest that is expected and round up to a quarter of an hour, greatest
    by the hottest and round down.
    """

    def __init__(self, book: Book, now: datetime, last: datetime) -> None:
        """Take the book and the first and last moment that anything ends at."""
        self._book, self._now, self._last = book, now, max(now, last)
        self._made: Climates | None = None

    def ready(self, step: Stage | Gate, place: PlaceId | None, end: datetime) -> datetime:
        """Return when what follows a step that ended in a place may start."""
        if isinstance(step, Gate) or step.cure_celsius is None or not step.cure_hours:
            return ceil_to_step(end + _elapsed(step.cure_hours))
        return ceil_to_step(self._climates.cured(step, place, end))

    def coat_by(self, stage: Stage, place: PlaceId | None, end: datetime) -> datetime | None:
        """Return until when a coat that ended in a place may be coated again; None: for ever."""
        if not stage.recoat_bands:
            most = stage.recoat_hours
            return None if most is None else floor_to_step(end + _elapsed(most))
        latest = self._climates.coat_by(stage, place, end)
        return None if latest is None else floor_to_step(latest)

    @property
    def _climates(self) -> "Climates":
        # Only a book that goes by temperature pays for what reads it.
        from scheduler.grid import WEEK_STEPS, Grid, origin_of
        from scheduler.normalise.climate import Climates

        if self._made is None:
            origin = origin_of(self._now)
            plain = Grid(origin=origin, horizon=0, zone=self._book.workshop.zone)
            horizon = plain.up(self._last) + _REACH_WEEKS * WEEK_STEPS
            grid = Grid(origin=origin, horizon=horizon, zone=plain.zone)
            self._made = Climates(self._book, grid)
        return self._made


def _elapsed(hours: Decimal) -> timedelta:
    return timedelta(seconds=int(hours * 3600))

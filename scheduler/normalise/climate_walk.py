"""Cures and recoat times from any instant on, hour by hour: for what is done already."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from functools import cached_property

from scheduler.normalise.climate_pace import bands_of, cure_of
from shared.book import Book, Gate, Stage
from shared.climate import Climate, Hour
from shared.ids import PlaceId
from shared.units import STEP_SECONDS, elapsed

_HOUR = timedelta(hours=1)
_SECOND = timedelta(seconds=1)


class Walk:
    """Cures and recoat times of one book; its climate is looked up when the first asks for it."""

    def __init__(self, book: Book) -> None:
        """Take the book."""
        self._book = book

    @cached_property
    def climate(self) -> Climate:
        """Return what is expected of every place."""
        return Climate(self._book)

    def cured(
        self, step: Stage | Gate, place: PlaceId | None, end: datetime, until: datetime
    ) -> datetime:
        """Return when the cure of a step that ended in a place is over, to the second, rounded up.

        until: where to stop looking; what is not cured by then is ready then.
        """
        cure = cure_of(step)
        if cure is None:
            return end + elapsed(step.cure_hours)
        left = cure.need * STEP_SECONDS
        for start, stop, hour in _hours(self.climate, place, end, until):
            pace = cure.pace(hour.coldest)
            done = pace * ((stop - start) // _SECOND)
            if done >= left:
                return start + _SECOND * -(-left // pace)
            left -= done
        return max(end, until)

    def coat_by(
        self, stage: Stage, place: PlaceId | None, end: datetime, until: datetime
    ) -> datetime | None:
        """Return until when a coat that ended may be coated again, `until` at the latest.

        None: as long as one likes.
        """
        if not stage.recoat_bands:
            return None if stage.recoat_hours is None else end + elapsed(stage.recoat_hours)
        bands, latest = bands_of(stage.recoat_bands), max(end, until)
        for start, _, hour in _hours(self.climate, place, end, until):
            if start >= latest:
                break
            latest = min(latest, max(start, end + elapsed(bands.hours(hour.hottest))))
        return latest


def _hours(
    climate: Climate, place: PlaceId | None, start: datetime, until: datetime
) -> Iterator[tuple[datetime, datetime, Hour]]:
    """Give the hours of the workshop's clock from an instant on, the first and last in part."""
    at = start.astimezone(UTC)
    while at < until:
        stop = min(climate.hour_of(at) + _HOUR, until)
        yield at, stop, climate.expected(place, at)
        at = stop

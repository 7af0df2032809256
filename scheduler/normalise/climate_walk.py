"""Cures and recoat times from any instant on, hour by hour: for what is done already."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from scheduler.normalise.climate_pace import Bands, Cure
from shared.climate import Climate, Hour
from shared.ids import PlaceId
from shared.units import STEP_SECONDS

_HOUR = timedelta(hours=1)
_SECOND = timedelta(seconds=1)


def cured_at(
    climate: Climate, place: PlaceId | None, cure: Cure, end: datetime, until: datetime
) -> datetime:
    """Return when the cure of something that ended is over, to the second, rounded up.

    until: where to stop looking; what is not cured by then is ready then.
    """
    left = cure.need * STEP_SECONDS
    for start, stop, hour in _hours(climate, place, end, until):
        pace = cure.pace(hour.coldest)
        done = pace * ((stop - start) // _SECOND)
        if done >= left:
            return start + _SECOND * -(-left // pace) if left else start
        left -= done
    return max(end, until)


def coat_by(
    climate: Climate, place: PlaceId | None, bands: Bands, end: datetime, until: datetime
) -> datetime:
    """Return until when a coat that ended may be coated again, `until` at the latest."""
    latest = max(end, until)
    for start, _, hour in _hours(climate, place, end, until):
        if start >= latest:
            break
        most = end + _elapsed(bands.hours(hour.hottest))
        latest = min(latest, max(start, most))
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


def _elapsed(hours: Decimal) -> timedelta:
    return timedelta(seconds=int(hours * 3600))

"""Wall-clock times turned into instants, also on the days when the clock changes."""

from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from shared.worktime.errors import UnknownZone

# These read the machine's own setting or count leap seconds: not the same on every machine.
_NOT_PLACES = frozenset({"", "Factory", "localtime", "posixrules"})
_NOT_PLACES_UNDER = ("posix/", "right/")


@lru_cache(maxsize=256)
def zone_named(name: str) -> ZoneInfo:
    """Give the zone of an IANA name such as "Europe/London".

    Raises
    ------
    UnknownZone
        If there is none of that name.
    """
    if name in _NOT_PLACES or name.startswith(_NOT_PLACES_UNDER):
        raise UnknownZone(name)
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as trouble:
        raise UnknownZone(name) from trouble


def is_known_zone(name: str) -> bool:
    """Say whether a time zone of this name is known."""
    try:
        zone_named(name)
    except UnknownZone:
        return False
    return True


@lru_cache(maxsize=16384)
def local_instant(day: date, at: time, zone: str, *, opening: bool) -> datetime:
    """Give the UTC instant at which the wall clock of a zone shows `at` on `day`.

    A time in the hour that a clock change leaves out is read at the instant the clock jumps.
    In the hour that comes twice, an opening is read the first time and a closing the second.

    Raises
    ------
    UnknownZone
        If there is no zone of that name.
    """
    wall = datetime.combine(day, at.replace(microsecond=0, fold=0), tzinfo=zone_named(zone))
    first, second = wall.astimezone(UTC), wall.replace(fold=1).astimezone(UTC)
    if second < first:
        return _jump_between(second, first, zone_named(zone))
    return first if opening else second


def _jump_between(before: datetime, after: datetime, zone: ZoneInfo) -> datetime:
    """Find the first second, after `before`, at which the offset of `after` holds."""
    new_offset = after.astimezone(zone).utcoffset()
    while after - before > timedelta(seconds=1):
        middle = before + timedelta(seconds=(after - before) // timedelta(seconds=2))
        if middle.astimezone(zone).utcoffset() == new_offset:
            after = middle
        else:
            before = middle
    return after


def local_date(instant: datetime, zone: str) -> date:
    """Give the calendar day that the instant falls on in a zone."""
    return instant.astimezone(zone_named(zone)).date()

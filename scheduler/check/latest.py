"""The latest moment at which loading may end, as far as plain counting knows.

Walked back from the end of the window leg by leg, each as quick as it is written and nothing of
drivers' rests, bans or crews: what is later than this makes the window in no case.
"""

from collections.abc import Iterator
from datetime import timedelta

from scheduler.check.clock import hours, instant, seconds
from shared.book import Job, Journey, Leg, LegKind, Site, Window
from shared.book.journeys import AT_SEA, Timetable
from shared.trade import figure
from shared.worktime import access_spans, local_instant
from shared.worktime.zones import local_date

_WEEKS_BACK = 5
_SPEED = "TR22b"


def loaded_by(job: Job) -> int | None:
    """Return the second after which no end of loading makes the window, None if none does."""
    window = job.held_window
    if window is None:
        return None
    journeys = [step for step in job.steps if isinstance(step, Journey)]
    if not journeys:
        return seconds(window.end)
    found = [_leaves_by(job.site, window, journey) for journey in journeys]
    known = [each for each in found if each is not None]
    return max(known) if known else None


def _leaves_by(site: Site, window: Window, journey: Journey) -> int | None:
    legs = [leg for leg in journey.legs if leg.kind is not LegKind.RETURN]
    inside = [at for at, leg in enumerate(legs) if leg.inside]
    last = inside[-1] if inside else len(legs) - 1
    t: int | None = seconds(window.end)
    for leg in reversed(legs[: last + 1]):
        if t is None:
            return None
        t = _starts_by(site, window, leg, t)
    return t


def _starts_by(site: Site, window: Window, leg: Leg, ends_by: int) -> int | None:
    """Return by when a leg must begin to be over by then."""
    if leg.cure_hours is not None:
        ends_by -= hours(leg.cure_hours)
    if leg.kind in AT_SEA:
        return max(_sails(leg, ends_by), default=None)
    if leg.slots:
        ends = [seconds(slot.end) for slot in leg.slots]
        ends_by = min(ends_by, max(ends))
    if leg.inside and window.access:
        return _in_access(site, window, leg, ends_by)
    return ends_by - _seconds(leg)


def _in_access(site: Site, window: Window, leg: Leg, ends_by: int) -> int | None:
    """Return by when work at the site must begin: it goes on in access hours only."""
    left = _seconds(leg)
    spans = access_spans(site.zone, window.access, window.start, window.end)
    for span in reversed(spans):
        start, end = seconds(span.start), min(seconds(span.end), ends_by)
        if end <= start and left:
            continue
        if end - left >= start:
            return end - left
        left -= max(0, end - start)
    return None


def _sails(leg: Leg, arrives_by: int) -> Iterator[int]:
    for one in leg.departures:
        if seconds(one.arrives) <= arrives_by:
            yield seconds(one.leaves) - 60 * one.check_in_minutes
    for table in leg.timetable:
        yield from _by_timetable(table, arrives_by)


def _by_timetable(table: Timetable, arrives_by: int) -> Iterator[int]:
    last = local_date(instant(arrives_by), table.zone)
    for back in range(7 * _WEEKS_BACK):
        day = last - timedelta(days=back)
        is_season = (table.first is None or day >= table.first) and (
            table.last is None or day <= table.last
        )
        if not is_season or day.isoweekday() not in table.weekdays:
            continue
        arrives = local_instant(
            day + timedelta(days=table.days_later),
            table.arrives,
            table.arrives_zone or table.zone,
            opening=True,
        )
        if seconds(arrives) <= arrives_by:
            leaves = local_instant(day, table.leaves, table.zone, opening=True)
            yield seconds(leaves) - 60 * (table.check_in_minutes or 0)


def _seconds(leg: Leg) -> int:
    """Return how long a leg takes at the very least."""
    if leg.driving_minutes is not None:
        return 60 * leg.driving_minutes
    if leg.distance_km is not None:
        speed = figure(_SPEED).amount if leg.speed_kmh is None else leg.speed_kmh
        return int(leg.distance_km * 3600 / speed)
    if leg.person_hours is not None:
        return int(leg.person_hours * 3600 / max(1, leg.hands or 1))
    return 60 * leg.minutes

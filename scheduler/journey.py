"""The journey on the grid: where the lorry is when, and which departures make the window.

What is elapsed on the road runs on; a leg with opening hours waits until one of them holds all
of it; a sailing waits for the next departure; work at the site runs in access hours only.
Arrivals and durations round up; check-ins, closings, the window's end and departures down.
Drivers' hours are not held here yet. Arrival need not rise with departure once they are: so
departures are scanned, never bisected.
"""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from scheduler.grid import DAY_STEPS, Grid, joined
from scheduler.problem import Spans
from shared.book import Journey, Leg, LegKind, Site, Window
from shared.units import minutes_up
from shared.worktime import HolidayRule, WorkCalendar, access_spans, open_spans

LONGEST_WAIT_AT_SITE_DAYS = 7
"""How long before the latest departure one may leave at the earliest."""

_ON_SITE = frozenset(
    {
        LegKind.UNLOAD,
        LegKind.LIFT,
        LegKind.CARRY,
        LegKind.ASSEMBLE,
        LegKind.SEAL,
        LegKind.INSPECT,
        LegKind.SIGN_OFF,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sailing:
    """The last step to be there, and the step of arrival."""

    last_check_in: int
    arrives: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A leg on the grid.

    steps: how long it takes. opens: when it can happen (None: always). pauses: it goes on in
    the next opening; else one opening holds it all. sailings: in the order of check-in, of
    which it takes the first that can still be reached. inside: it starts no earlier than the
    window. by_end: it must be over by the window's end.
    """

    steps: int
    opens: Spans | None = None
    pauses: bool = False
    sailings: tuple[Sailing, ...] | None = None
    inside: bool = False
    by_end: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """A journey to one window: its legs, and the window's first and last step."""

    parts: tuple[Part, ...]
    window_start: int
    window_end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ride:
    """A journey in time: when it leaves, by leg when it is over, and whether it is in time."""

    leaves: int
    ends: tuple[int, ...]
    kept: bool

    @property
    def end(self) -> int:
        """Return when the last leg is over."""
        return self.ends[-1] if self.ends else self.leaves


def road_of(journey: Journey, site: Site, window: Window, grid: Grid) -> Road:
    """Return a journey on the grid."""
    access = None
    if window.access:
        access = grid.inner(access_spans(site.zone, window.access, grid.origin, grid.end))
    lasts = [at for at, leg in enumerate(journey.legs) if leg.inside] or [len(journey.legs) - 1]
    return Road(
        parts=tuple(
            _part(leg, site, access, grid, by_end=at in lasts)
            for at, leg in enumerate(journey.legs)
        ),
        window_start=grid.up(window.start),
        window_end=grid.down(window.end),
    )


def ride(road: Road, leaves: int) -> Ride | None:
    """Return the journey that leaves at a step, None if it never gets there.

    It ends as early as it can, be that after the window's end.
    """
    at, kept, ends = leaves, bool(road.parts) or leaves <= road.window_end, []
    for part in road.parts:
        reached = _through(part, at, road.window_start)
        if reached is None:
            return None
        at = reached
        ends.append(at)
        kept = kept and not (part.by_end and at > road.window_end)
    return Ride(leaves=leaves, ends=tuple(ends), kept=kept)


def latest_ride(road: Road, *, first: int = 0) -> Ride | None:
    """Return the ride that leaves last of those in time, None if none from `first` on is."""
    return next(_kept_rides(road, last_thinkable(road), first), None)


def departures(road: Road, *, first: int = 0) -> Spans:
    """Return the steps at which one may leave, half-open, with their gaps.

    They go back from the latest by LONGEST_WAIT_AT_SITE_DAYS, and no further than `first`.
    """
    latest = latest_ride(road, first=first)
    if latest is None:
        return ()
    low = max(first, latest.leaves - LONGEST_WAIT_AT_SITE_DAYS * DAY_STEPS)
    found = _kept_rides(road, latest.leaves, low)
    return joined((kept.leaves, kept.leaves + 1) for kept in found)


def last_thinkable(road: Road) -> int:
    """Return a step after which no departure can be in time."""
    last = max((at for at, part in enumerate(road.parts) if part.by_end), default=-1)
    return road.window_end - sum(part.steps for part in road.parts[: last + 1])


def _kept_rides(road: Road, last: int, first: int) -> Iterator[Ride]:
    for leaves in range(last, first - 1, -1):
        found = ride(road, leaves)
        if found is not None and found.kept:
            yield found


def _part(leg: Leg, site: Site, access: Spans | None, grid: Grid, *, by_end: bool) -> Part:
    opens = _opens(leg, site, grid)
    if leg.inside:
        opens = _both(opens, access)
    return Part(
        steps=minutes_up(leg.minutes),
        opens=opens,
        pauses=leg.inside or leg.kind in _ON_SITE,
        sailings=_sailings(leg, grid) if leg.kind is LegKind.SAILING else None,
        inside=leg.inside,
        by_end=by_end,
    )


def _opens(leg: Leg, site: Site, grid: Grid) -> Spans | None:
    """Return a leg's own opening hours; on public holidays of its country it is shut."""
    if not leg.opens:
        return None
    holidays = None if leg.country is None else HolidayRule(country=leg.country)
    calendar = WorkCalendar(zone=leg.zone or site.zone, shifts=leg.opens, holidays=holidays)
    return grid.inner(open_spans(calendar, grid.origin, grid.end))


def _both(opens: Spans | None, access: Spans | None) -> Spans | None:
    if opens is None or access is None:
        return access if opens is None else opens
    pairs = (
        (max(first[0], second[0]), min(first[1], second[1]))
        for first in opens
        for second in access
        if first[0] < second[1] and second[0] < first[1]
    )
    return tuple(sorted(pairs))


def _sailings(leg: Leg, grid: Grid) -> tuple[Sailing, ...]:
    """Return the sailings by check-in, those that a later one overtakes left out."""
    rows = sorted(
        (
            (grid.down(one.leaves - timedelta(minutes=one.check_in_minutes)), grid.up(one.arrives))
            for one in leg.departures
        ),
        reverse=True,
    )
    kept: list[Sailing] = []
    for last_check_in, arrives in rows:
        if not kept or arrives < kept[-1].arrives:
            kept.append(Sailing(last_check_in=last_check_in, arrives=arrives))
    return tuple(reversed(kept))


def _through(part: Part, at: int, window_start: int) -> int | None:
    """Return when a leg is over that is reached at a step."""
    if part.sailings is not None:
        caught = (one.arrives for one in part.sailings if one.last_check_in >= at)
        return next(caught, None)
    if part.inside:
        at = max(at, window_start)
    if part.opens is None:
        return at + part.steps
    return _working(part, at) if part.pauses else _within_one(part, at)


def _working(part: Part, at: int) -> int | None:
    """Return the end of work that goes on from one opening to the next."""
    left = part.steps
    for start, end in _from(part.opens or (), at):
        begun = max(at, start)
        if end - begun >= left:
            return begun + left
        left -= end - begun
    return None


def _within_one(part: Part, at: int) -> int | None:
    """Return the end in the first opening that holds all of it."""
    for start, end in _from(part.opens or (), at):
        begun = max(at, start)
        if end - begun >= part.steps:
            return begun + part.steps
    return None


def _from(spans: Spans, at: int) -> Iterator[tuple[int, int]]:
    """Give the spans that end after a step, in order."""
    first = bisect_right(spans, at, key=lambda span: span[1])
    yield from (spans[position] for position in range(first, len(spans)))

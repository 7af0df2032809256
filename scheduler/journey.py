"""The journey on the grid: where the lorry is when, and which departures make the window.

For journeys that no drivers' hours are asked of. What is elapsed on the road runs on; a leg with
opening hours waits until one of them holds all of it; a sailing waits for the next departure; work
at the site runs in its openings only, and whole in one of its slots where it has some. Arrivals and
durations round up; check-ins, closings, the window's end and departures down. Here arrival rises
with departure; still departures are scanned, never bisected.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from itertools import product

from scheduler.grid import DAY_STEPS, Grid, joined
from scheduler.problem import Span, Spans
from shared.book import Departure, Equipment, Journey, Leg, LegKind, Site, Window, Workshop
from shared.delivery.judged import AT_SEA, ON_SITE, goal_of, home_from
from shared.ids import EquipmentId
from shared.units import hours_up, minutes_up
from shared.worktime import HolidayRule, WorkCalendar, access_spans, open_spans

LONGEST_WAIT_AT_SITE_DAYS = 7
"""How long before the latest departure one may leave at the earliest."""

Caps = tuple[Decimal, ...]
"""By leg that sails, in their order, the most that its sailing may cost."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What legs are read with: workshop, equipment by id, how many pieces are carried.

    check_in: by the number of a leg, the usual minutes before its sailing.
    """

    workshop: Workshop
    equipment: Mapping[EquipmentId, Equipment]
    check_in: Callable[[int], int]
    pieces: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Sailing:
    """The last step to be there, and the step of arrival."""

    last_check_in: int
    arrives: int
    price: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A leg on the grid.

    steps: how long it takes. opens: when it can happen (None: always). pauses: it goes on in
    the next opening; else one opening holds it all. sailings: in the order of check-in, of
    which it takes the first that can still be reached. inside: it starts no earlier than the
    window. by_end: it must be over by the window's end. cures: steps after it before the next.
    """

    steps: int
    opens: Spans | None = None
    pauses: bool = False
    sailings: tuple[Sailing, ...] | None = None
    inside: bool = False
    by_end: bool = False
    cures: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """A journey to one window: its legs, and the window's first and last step.

    site_count: of its legs before the way home; the rest are that. home: steps of a way home that
    is no leg.
    """

    parts: tuple[Part, ...]
    window_start: int
    window_end: int
    site_count: int
    home: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ride:
    """A journey in time: when it leaves, by leg when it is over, and whether it is in time.

    end: the last leg before the way home is over. back: its vehicles and crew are home.
    """

    leaves: int
    ends: tuple[int, ...]
    kept: bool
    end: int
    back: int


def road_of(
    journey: Journey,
    site: Site,
    window: Window,
    grid: Grid,
    beside: Beside | None = None,
    caps: Caps | None = None,
) -> Road:
    """Return a journey on the grid.

    beside: without it every leg takes its minutes and holds no equipment. caps: None: any sailing.
    """
    reader = _Reader(site, window, grid, beside)
    goal = goal_of(journey)
    lasts = [at for at, leg in enumerate(journey.legs[:goal]) if leg.inside] or [goal - 1]
    most = iter(caps or ())
    parts = tuple(
        reader.part(
            at, leg, by_end=at in lasts, most=next(most, None) if leg.kind in AT_SEA else None
        )
        for at, leg in enumerate(journey.legs)
    )
    count = home_from(journey)
    return Road(
        parts=parts,
        window_start=grid.up(window.start),
        window_end=grid.down(window.end),
        site_count=count,
        home=minutes_up(journey.back_minutes) if count == len(parts) else 0,
    )


def caps_of(journey: Journey) -> list[Caps]:
    """Return the kinds of sailing to choose from, by what they cost, the dearest first.

    One without a limit where all cost the same.
    """
    by_leg = [_prices(leg) for leg in journey.legs if leg.kind in AT_SEA]
    if all(len(prices) == 1 for prices in by_leg):
        return [()]
    return list(product(*by_leg))


def _prices(leg: Leg) -> list[Decimal]:
    found = {one.price or Decimal(0) for one in leg.departures}
    found |= {rows.price for rows in leg.timetable}
    return sorted(found or {Decimal(0)}, reverse=True)


def ride(road: Road, leaves: int) -> Ride | None:
    """Return the journey that leaves at a step, None if it never gets there.

    It ends as early as it can, be that after the window's end.
    """
    at, kept, ends = leaves, bool(road.parts) or leaves <= road.window_end, []
    for part in road.parts:
        reached = _through(part, at, road.window_start)
        if reached is None:
            return None
        ends.append(reached)
        kept = kept and not (part.by_end and reached > road.window_end)
        at = reached + part.cures
    end = ends[road.site_count - 1] if road.site_count else leaves
    back = ends[-1] if len(ends) > road.site_count else end + road.home
    return Ride(leaves=leaves, ends=tuple(ends), kept=kept, end=end, back=back)


def price_of(road: Road, found: Ride) -> Decimal:
    """Return what the sailings of a ride cost."""
    at, total = found.leaves, Decimal(0)
    for part, end in zip(road.parts, found.ends, strict=True):
        if part.sailings is not None:
            total += next(one.price for one in part.sailings if one.last_check_in >= at)
        at = end + part.cures
    return total


def worked(road: Road, found: Ride, leg: int) -> list[Span]:
    """Return the stretches in which a leg of a ride is worked on."""
    part = road.parts[leg]
    before = found.leaves if not leg else found.ends[leg - 1] + road.parts[leg - 1].cures
    at, end = max(before, road.window_start) if part.inside else before, found.ends[leg]
    if part.sailings is not None or part.opens is None:
        return [(max(at, end - part.steps), end)] if part.sailings is None else [(at, end)]
    if not part.pauses:
        return [(end - part.steps, end)]
    spans = ((max(at, a), min(end, b)) for a, b in _from(part.opens, at))
    return [(a, b) for a, b in spans if a < b]


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


class _Reader:
    """Reads legs onto the grid."""

    def __init__(self, site: Site, window: Window, grid: Grid, beside: Beside | None) -> None:
        self._site, self._window, self._grid, self._beside = site, window, grid, beside
        self._access: Spans | None = None
        if window.access and not window.blocked:
            found = access_spans(site.zone, window.access, grid.origin, grid.end)
            self._access = grid.inner(found)

    def part(self, at: int, leg: Leg, *, by_end: bool, most: Decimal | None) -> Part:
        return Part(
            steps=self._steps(leg),
            opens=self._opens(leg),
            pauses=(leg.inside or leg.kind in ON_SITE) and not leg.slots,
            sailings=self._sailings(at, leg, most) if leg.kind in AT_SEA else None,
            inside=leg.inside,
            by_end=by_end,
            cures=0 if leg.cure_hours is None else hours_up(leg.cure_hours),
        )

    def _steps(self, leg: Leg) -> int:
        if self._beside is None or leg.kind in AT_SEA:
            return minutes_up(leg.minutes)
        if leg.kind is not LegKind.RETURN and leg.minutes and leg.person_hours is None:
            return minutes_up(leg.minutes)
        from shared.delivery.lengths import home_leg_minutes, minutes_of

        if leg.kind is LegKind.RETURN:
            return minutes_up(home_leg_minutes(leg, self._beside.workshop))
        return minutes_up(minutes_of(leg, self._beside.workshop, self._beside.pieces))

    def _opens(self, leg: Leg) -> Spans | None:
        is_blocked = leg.inside and bool(self._window.blocked)
        if leg.slots or is_blocked or (leg.equipment and self._beside is not None):
            return self._narrow(leg)
        opens = self._hours(leg)
        return _both(opens, self._access) if leg.inside else opens

    def _narrow(self, leg: Leg) -> Spans | None:
        """Return when a leg with slots, others' hours or equipment can be worked on."""
        from shared.delivery.openings import openings_of

        grid, beside = self._grid, self._beside
        known = {} if beside is None else beside.equipment
        held = [known[each] for each in leg.equipment if each in known]
        start, end = grid.origin, grid.end
        found = openings_of(leg, self._site, self._window, start, end, held, grid.zone)
        return None if found is None else grid.inner(found)

    def _hours(self, leg: Leg) -> Spans | None:
        """Return a leg's own opening hours; on public holidays of its country it is shut."""
        if not leg.opens:
            return None
        holidays = None if leg.country is None else HolidayRule(country=leg.country)
        zone = leg.zone or self._site.zone
        calendar = WorkCalendar(zone=zone, shifts=leg.opens, holidays=holidays)
        return self._grid.inner(open_spans(calendar, self._grid.origin, self._grid.end))

    def _sailings(self, at: int, leg: Leg, most: Decimal | None) -> tuple[Sailing, ...]:
        """Return the sailings by check-in, those that a later one overtakes left out."""
        grid = self._grid
        rows = (
            (
                grid.down(one.leaves - timedelta(minutes=one.check_in_minutes)),
                grid.up(one.arrives),
                one.price or Decimal(0),
            )
            for one in self._departures(at, leg)
            if most is None or (one.price or 0) <= most
        )
        kept: list[Sailing] = []
        for last_check_in, arrives, price in sorted(rows, key=_in_order, reverse=True):
            if not kept or arrives < kept[-1].arrives:
                kept.append(Sailing(last_check_in=last_check_in, arrives=arrives, price=price))
        return tuple(reversed(kept))

    def _departures(self, at: int, leg: Leg) -> Iterable[Departure]:
        if not leg.timetable:
            return leg.departures
        from shared.delivery.timetables import departures_of

        usual = 0 if self._beside is None else self._beside.check_in(at)
        return departures_of(leg, self._grid.origin, self._grid.end, usual)


def _in_order(row: tuple[int, int, Decimal]) -> tuple[int, int, Decimal]:
    """Order by check-in; of those alike the one that lands sooner, then the cheaper, is later."""
    last_check_in, arrives, price = row
    return last_check_in, -arrives, -price


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

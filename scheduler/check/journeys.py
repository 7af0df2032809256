"""The journey, leg after leg, and when its crew and vehicles are back.

A leg begins where the one before is over. What is elapsed on the road runs on; with opening
hours it lies in one opening whole. A sailing leaves after its check-in and is over when it
arrives. Work at the site goes on from one opening to the next; what is inside the window
starts no earlier than the window and goes on only in its access hours. Opening hours don't hold
on public holidays of the leg's country. A missed window breaks nothing.
"""

from collections.abc import Iterator

from scheduler.check.clock import DAY, QUARTER, hours, instant, iso, seconds, up
from scheduler.check.openings import Openings, Pairs, common, inside
from scheduler.check.tell import of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Job, Journey, Leg, LegKind, Window
from shared.plan import LegTime, Trip
from shared.worktime import HolidayRule, WorkCalendar, open_spans

_ON_THE_ROAD = frozenset({LegKind.DRIVE, LegKind.SAILING, LegKind.BORDER, LegKind.WAIT})
_LONGEST_LEG = 120 * DAY


def journeys(world: World) -> Iterator[Breach]:
    """Give legs that can't be as the plan says, and crews and vehicles back too soon or late."""
    for step_id, (job, journey, trip) in world.trips.items():
        if world.facts.done(step_id) is None:
            yield from _legs(job, journey, trip)
        yield from _back(world, job, journey, trip)


def _legs(job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    at = seconds(trip.start)
    for number, leg in enumerate(journey.legs, 1):
        planned = trip.legs[number - 1] if number <= len(trip.legs) else None
        expected = over(job, leg, at)
        if planned is None or (seconds(planned.start), seconds(planned.end)) != (at, expected):
            yield _leg(job, journey, leg, number, planned, expected)
        if expected is None:
            return
        at = expected if planned is None else seconds(planned.end)
    for number in range(len(journey.legs) + 1, len(trip.legs) + 1):
        yield _leg(job, journey, None, number, trip.legs[number - 1], None)
    if seconds(trip.end) != at:
        last = len(journey.legs)
        facts = {"start": iso(seconds(trip.start)), "end": iso(seconds(trip.end))}
        yield of_step(Rule.LEG, job, journey, leg=None, number=last, expected=iso(at), **facts)


def _leg(
    job: Job,
    journey: Journey,
    leg: Leg | None,
    number: int,
    planned: LegTime | None,
    expected: int | None,
) -> Breach:
    return of_step(
        Rule.LEG,
        job,
        journey,
        leg=None if leg is None else leg.name or leg.kind.value,
        number=number,
        start=None if planned is None else iso(seconds(planned.start)),
        end=None if planned is None else iso(seconds(planned.end)),
        expected=None if expected is None else iso(expected),
    )


def over(job: Job, leg: Leg, arrived: int) -> int | None:
    """Return when a leg is over that is reached at a second, None if it never is."""
    if leg.kind is LegKind.SAILING:
        return _landed(leg, arrived)
    begin = arrived
    window = job.held_window
    if leg.inside and window is not None:
        begin = max(begin, seconds(window.start))
    first, needed = up(begin), up(leg.minutes * 60)
    opens = _opens(job, leg, window, begin)
    if opens is None:
        return (first + needed) * QUARTER
    if leg.kind in _ON_THE_ROAD and not leg.inside:
        return _in_one(opens, first, needed)
    return _in_turns(opens, first, needed)


def _landed(leg: Leg, arrived: int) -> int | None:
    caught = [
        up(seconds(one.arrives)) * QUARTER
        for one in leg.departures
        if arrived <= (seconds(one.leaves) - one.check_in_minutes * 60) // QUARTER * QUARTER
    ]
    return min(caught, default=None)


def _in_one(opens: Pairs, first: int, needed: int) -> int | None:
    for start, end in opens:
        begun = max(first, start)
        if end > first and end - begun >= needed:
            return (begun + needed) * QUARTER
    return None


def _in_turns(opens: Pairs, first: int, needed: int) -> int | None:
    hours_open = Openings(opens)
    done = hours_open.before(first) + needed
    for start, end in opens:
        if end > first and hours_open.before(end) >= done:
            return (max(first, start) + done - hours_open.before(max(first, start))) * QUARTER
    return None


def _opens(job: Job, leg: Leg, window: Window | None, begin: int) -> Pairs | None:
    """Return when a leg can happen, as quarters, None for at any time."""
    found: list[WorkCalendar] = []
    if leg.opens:
        holidays = None if leg.country is None else HolidayRule(country=leg.country)
        zone = leg.zone or job.site.zone
        found.append(WorkCalendar(zone=zone, shifts=leg.opens, holidays=holidays))
    if leg.inside and window is not None and window.access:
        found.append(WorkCalendar(zone=job.site.zone, shifts=window.access))
    if not found:
        return None
    start, end = instant(begin - DAY), instant(begin + _LONGEST_LEG)
    spans = [inside(open_spans(calendar, start, end)) for calendar in found]
    return spans[0] if len(spans) == 1 else common(spans[0], spans[1])


def _back(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    rest = hours(world.book.workshop.rest_hours)
    home = (up(seconds(trip.end)) + up(journey.back_minutes * 60)) * QUARTER
    for who, planned, expected in (
        ("vehicles", trip.back, home),
        ("crew", trip.free, home + up(rest) * QUARTER),
    ):
        if seconds(planned) != expected:
            facts = {"who": who, "planned": iso(seconds(planned)), "expected": iso(expected)}
            yield of_step(Rule.BACK, job, journey, **facts)

"""The journey, leg after leg, and when its crew and vehicles are back.

A leg begins where the one before is over and cured. Without drivers' hours what is elapsed on the
road runs on; with opening hours it lies in one opening whole. A sailing leaves after its check-in
and is over when it arrives. Work at the site goes on from one opening to the next, with slots
whole in one of them; what is inside the window starts no earlier than the window and goes on only
in its access hours that nobody else has. Opening hours don't hold on public holidays of the leg's
country. A missed window breaks nothing. The way home comes after the end: last legs, or minutes.
"""

from collections.abc import Iterator

from scheduler.check import legs
from scheduler.check.clock import DAY, QUARTER, hours, iso, seconds, up
from scheduler.check.held import is_held_to_hours
from scheduler.check.means import means_of, wrong_means
from scheduler.check.openings import Openings, Pairs
from scheduler.check.tell import of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import AT_SEA, Job, Journey, Leg
from shared.plan import LegTime, Trip

_FARTHEST_SAILING = 60 * DAY
_MOSTLY_ENOUGH = 10 * DAY


def journeys(world: World) -> Iterator[Breach]:
    """Give legs that can't be as the plan says, and crews and vehicles back too soon or late."""
    for step_id, (job, journey, trip) in world.trips.items():
        if world.facts.done(step_id) is None:
            yield from wrong_means(world, job, journey, trip)
            if is_held_to_hours(world, journey, trip):
                from scheduler.check.judged import judged

                yield from judged(world, job, journey, trip)
            elif means_of(journey, trip) is not None:
                yield from _legs(world, job, journey, trip)
            yield from _stood(world, job, journey, trip)
        yield from _back(world, job, journey, trip)


def _stood(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    """Give a loaded lorry that stands for longer than it may before it leaves."""
    most = journey.stands_most_minutes
    if most is None or world.facts.has_begun(journey.id):
        return
    before = (world.any_step(link.before) for link in world.links(job, journey))
    ends = [world.end_of(step.id) for step in before if step and not isinstance(step, Journey)]
    loaded = max((up(end) * QUARTER for end in ends if end is not None), default=None)
    if loaded is not None and seconds(trip.start) - loaded > most * 60:
        stood = (seconds(trip.start) - loaded) // 60
        facts = {"start": iso(seconds(trip.start)), "ended": iso(loaded)}
        yield of_step(Rule.STANDS, job, journey, stood_minutes=stood, most_minutes=most, **facts)


def _legs(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    at, ready, home = seconds(trip.start), 0, legs.home_from(journey)
    end = at
    for number, leg in enumerate(journey.legs, 1):
        planned = trip.legs[number - 1] if number <= len(trip.legs) else None
        expected = _over(world, job, journey, trip, number - 1, max(at, ready), planned)
        if planned is None or (seconds(planned.start), seconds(planned.end)) != (at, expected):
            yield _leg(job, journey, leg, number, planned, expected)
        if expected is None:
            return
        at = expected if planned is None else seconds(planned.end)
        ready = at + legs.cure(leg) * QUARTER
        end = at if number <= home else end
    for number in range(len(journey.legs) + 1, len(trip.legs) + 1):
        yield _leg(job, journey, None, number, trip.legs[number - 1], None)
    if seconds(trip.end) != end:
        facts = {"start": iso(seconds(trip.start)), "end": iso(seconds(trip.end))}
        yield of_step(Rule.LEG, job, journey, leg=None, number=home, expected=iso(end), **facts)


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


def _over(
    world: World,
    job: Job,
    journey: Journey,
    trip: Trip,
    number: int,
    arrived: int,
    planned: LegTime | None,
) -> int | None:
    """Return when a leg is over that is reached at a second, None if it never is.

    Of sailings that can be caught any will do: as planned, if it is one of them.
    """
    leg = journey.legs[number]
    if leg.kind in AT_SEA:
        means = means_of(journey, trip)
        ahead = legs.usual_check_in(world, job, journey, number, means) if means else 0
        caught = _landings(leg, ahead, arrived)
        return (
            seconds(planned.end)
            if planned and seconds(planned.end) in caught
            else min(caught, default=None)
        )
    needed = legs.needed(world, job, journey, leg)
    worked = when_worked(world, job, leg, arrived, needed)
    return worked[-1][1] * QUARTER if worked else None


def _landings(leg: Leg, ahead: int, arrived: int) -> set[int]:
    return {
        up(ship.arrives) * QUARTER
        for ship in legs.ships(leg, ahead, arrived, arrived + _FARTHEST_SAILING)
        if arrived <= ship.check_in // QUARTER * QUARTER
    }


def when_worked(world: World, job: Job, leg: Leg, arrived: int, needed: int) -> Pairs:
    """Return the quarters in which a leg without drivers' hours goes on, none if it never does."""
    window, begin = job.held_window, arrived
    if leg.inside and window is not None:
        begin = max(begin, seconds(window.start))
    first = up(begin)
    for longest in (_MOSTLY_ENOUGH, legs.LONGEST_LEG):
        opens = legs.openings(world, job, leg, begin - DAY, begin + longest)
        if opens is None:
            return ((first, first + needed),)
        work = _in_turns if legs.pauses(leg) else _in_one
        if found := work(opens, first, needed):
            return found
    return ()


def _in_one(opens: Pairs, first: int, needed: int) -> Pairs:
    for start, end in opens:
        begun = max(first, start)
        if end > first and end - begun >= needed:
            return ((begun, begun + needed),)
    return ()


def _in_turns(opens: Pairs, first: int, needed: int) -> Pairs:
    hours_open = Openings(opens)
    done = hours_open.before(first) + needed
    for start, end in opens:
        if end > first and hours_open.before(end) >= done:
            over = max(first, start) + done - hours_open.before(max(first, start))
            return tuple(hours_open.within(first, over)) or ((over, over),)
    return ()


def _back(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    rest = hours(world.book.workshop.rest_hours)
    home = (up(seconds(trip.end)) + up(journey.back_minutes * 60)) * QUARTER
    if legs.home_from(journey) < len(journey.legs) and trip.legs:
        home = up(seconds(trip.legs[-1].end)) * QUARTER
    for who, planned, expected in (
        ("vehicles", trip.back, home),
        ("crew", trip.free, home + up(rest) * QUARTER),
    ):
        if seconds(planned) != expected:
            facts = {"who": who, "planned": iso(seconds(planned)), "expected": iso(expected)}
            yield of_step(Rule.BACK, job, journey, **facts)

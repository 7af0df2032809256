"""The journeys of a job as one trip of the problem, with its departures."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from scheduler.grid import DAY_STEPS, WEEK_STEPS
from scheduler.journey import LONGEST_WAIT_AT_SITE_DAYS, Ride, last_thinkable, ride, road_of
from scheduler.normalise.frame import Frame
from scheduler.normalise.names import JourneyOption
from scheduler.normalise.order import journeys_of
from scheduler.normalise.people import engaged_spans
from scheduler.problem import Span, Trip, Use
from scheduler.reasons import Reason
from shared import worktime
from shared.book import After, Job, Person, Window
from shared.ids import PersonId, StepId
from shared.units import hours_up, minutes_up
from shared.worktime import subtract

DAILY_WEEKS = 6
"""For so long after the latest departure one may leave once a working day; then once a week."""

Rides = tuple[tuple[StepId, Ride], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """The trip of a job with its options; why no departure makes the window, if none does."""

    trip: Trip
    options: tuple[JourneyOption, ...]
    trouble: Reason | None


def delivery_of(
    frame: Frame, job: Job, window: Window, afters: Mapping[StepId, tuple[After, ...]]
) -> Delivery:
    """Return how a job can leave: the latest departure in time, then those that miss it."""
    convoy = _Convoy(frame, job, window, afters)
    latest, trouble = convoy.latest()
    base = max(rides[0][1].leaves for rides in latest) if latest else -1
    in_time = [tuple(one for rides in latest for one in rides)] if latest else []
    options = [convoy.option(rides) for rides in (*in_time, *convoy.later(base))]
    return Delivery(
        trip=Trip(
            crew=convoy.crew,
            uses=tuple(Use(room=room, units=1) for room in convoy.vehicles),
            options=tuple(times for times, _ in options),
            makes_window=bool(latest),
        ),
        options=tuple(named for _, named in options),
        trouble=trouble,
    )


def latest_departure(
    frame: Frame, job: Job, window: Window, afters: Mapping[StepId, tuple[After, ...]]
) -> int | None:
    """Return the latest step at which a job can leave and make a window, None if none does."""
    rides, _ = _Convoy(frame, job, window, afters).latest()
    return min((one.leaves for each in rides for _, one in each), default=None)


class _Convoy:
    """All journeys of a job: those that leave the workshop, each with those that go on from it."""

    def __init__(
        self,
        frame: Frame,
        job: Job,
        window: Window,
        afters: Mapping[StepId, tuple[After, ...]],
    ) -> None:
        self._frame = frame
        self._journeys = {journey.id: journey for journey in journeys_of(job)}
        self._roads = {
            journey.id: road_of(journey, job.site, window, frame.grid)
            for journey in self._journeys.values()
        }
        self._behind = {
            step: [each.step for each in afters[step] if each.step in self._journeys]
            for step in self._journeys
        }
        self.crew = _known(self._crews(), frame.worker_positions)
        wanted = (one for journey in self._journeys.values() for one in journey.vehicles)
        known = dict.fromkeys(one for one in wanted if one in frame.rooms.equipment)
        self.vehicles = tuple(frame.rooms.of_equipment(one) for one in known)
        self._away = [
            span for worker in self.crew for span in _away(frame, frame.book.people[worker])
        ]

    def _crews(self) -> Iterator[PersonId]:
        yield from (one for journey in self._journeys.values() for one in journey.crew)

    def latest(self) -> tuple[list[Rides], Reason | None]:
        """Return, for each journey that leaves here, its latest rides in time; or why none."""
        found: list[Rides] = []
        for step in self._roots():
            rides, trouble = self._latest_from(step)
            if rides is None:
                return [], trouble
            found.append(rides)
        return found, None

    def _roots(self) -> list[StepId]:
        return [step for step, before in self._behind.items() if not before]

    def _latest_from(self, root: StepId) -> tuple[Rides | None, Reason]:
        last = last_thinkable(self._roads[root])
        if last < 0:
            return None, Reason.WINDOW_PAST
        first, trouble = 0, Reason.NO_DEPARTURE
        for leaves in range(last, -1, -1):
            if leaves < first:
                break
            rides = self._ride((root,), leaves)
            if rides is None or not all(one.kept for _, one in rides):
                continue
            if self._can_go(rides):
                return rides, trouble
            if trouble is Reason.NO_DEPARTURE:
                trouble = Reason.CREW_AWAY
                first = leaves - LONGEST_WAIT_AT_SITE_DAYS * DAY_STEPS
        return None, trouble

    def later(self, base: int) -> Iterator[Rides]:
        """Give the rides that leave after a step, the soonest first, in time or not."""
        for leaves in self._moments(base):
            rides = self._ride(tuple(self._roots()), leaves)
            if rides is not None and self._can_go(rides):
                yield rides

    def _moments(self, base: int) -> Iterator[int]:
        """Give the next quarter, then the opening of the workshop once a day, later a week."""
        yield base + 1
        last = base + 1
        calendar = self._frame.calendars.made[self._frame.workshop_calendar]
        for opens, _ in calendar.open:
            apart = DAY_STEPS if opens > base + DAILY_WEEKS * WEEK_STEPS else 0
            if opens > base + 1 and opens - last >= max(DAY_STEPS // 2, 6 * apart):
                last = opens
                yield opens

    def _ride(self, roots: Iterable[StepId], leaves: int) -> Rides | None:
        """Return the rides that leave together and those that go on from them."""
        found: dict[StepId, Ride] = {}
        for step in self._in_order(roots):
            before = [found[one].end for one in self._behind[step] if one in found]
            one = ride(self._roads[step], max(before, default=leaves))
            if one is None:
                return None
            found[step] = one
        return tuple(found.items())

    def _in_order(self, roots: Iterable[StepId]) -> list[StepId]:
        wanted = list(roots)
        for step, before in self._behind.items():
            if step not in wanted and any(one in wanted for one in before):
                wanted.append(step)
        return wanted

    def option(self, rides: Rides) -> tuple[tuple[int, int, int], JourneyOption]:
        """Return when a departure takes crew and vehicles, and its rides."""
        return self._times(rides), JourneyOption(rides=rides)

    def _times(self, rides: Rides) -> tuple[int, int, int]:
        backs = [one.end + minutes_up(self._journeys[step].back_minutes) for step, one in rides]
        leaves = min(one.leaves for _, one in rides)
        back = max(backs)
        return leaves, back, back + hours_up(self._frame.book.workshop.rest_hours)

    def _can_go(self, rides: Rides) -> bool:
        """Return whether crew and vehicles are there, as far as the book knows beforehand."""
        leaves, back, free = self._times(rides)
        workers, rooms = self._frame.workers, self._frame.rooms.made
        held = [span for one in self.crew for span in (*workers[one].busy, *self._frame.held[one])]
        taken = [(start, end) for room in self.vehicles for start, end, _ in rooms[room].busy]
        return not (
            _meets(held, leaves, free)
            or _meets(taken, leaves, back)
            or _meets(self._away, leaves, back)
        )


def _known(people: Iterable[PersonId], positions: Mapping[PersonId, int]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(positions[one] for one in people if one in positions))


def _meets(spans: Iterable[Span], start: int, end: int) -> bool:
    return any(low < end and high > start for low, high in spans)


def _away(frame: Frame, person: Person) -> list[Span]:
    """Return when a person is on leave, or not of the workshop."""
    grid = frame.grid
    found = [grid.outer(leave.start, leave.end) for leave in person.leave]
    engaged = engaged_spans(person, grid)
    if engaged is not None:
        shut = subtract((worktime.Span(start=grid.origin, end=grid.end),), engaged)
        found += [grid.outer(span.start, span.end) for span in shut]
    return [span for span in found if span is not None]

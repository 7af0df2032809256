"""Whom and what a departure takes, and whether they are to be had as far as the book knows."""

from collections.abc import Iterable, Mapping

from scheduler.normalise.frame import Frame
from scheduler.normalise.goers import Goer
from scheduler.normalise.names import Ridden
from scheduler.normalise.one_day import rest_before
from scheduler.normalise.people import engaged_spans
from scheduler.normalise.ways import money
from scheduler.problem import Absence, Going, Span
from shared import worktime
from shared.book import Person
from shared.ids import StepId
from shared.units import hours_up
from shared.worktime import subtract

Rides = tuple[tuple[StepId, Ridden], ...]
Takes = dict[int, list[Span]]


class Holds:
    """Makes goings of rides."""

    def __init__(self, frame: Frame) -> None:
        """Start with nobody looked up."""
        self._frame = frame
        self._free = hours_up(frame.book.workshop.rest_hours)
        self._off: dict[int, list[Span]] = {}

    def going(
        self, rides: Rides, how: Mapping[StepId, Goer], *, in_time: bool = True
    ) -> Going | None:
        """Return what rides take, None where some of it is not to be had whatever is planned."""
        away = self._away(rides, how)
        if any(_meets(self._leave(worker), *span) for worker, span in away.items()):
            return None
        is_judged = any(one.run is not None for _, one in rides)
        rests = self._rests(rides, how, away) if is_judged else ()
        if rests is None:
            return None
        after = 0 if is_judged else self._free
        gone = tuple((one, start, back + after) for one, (start, back) in away.items())
        takes = self._takes(rides, how)
        if not all(self._is_free(one) for one in (*gone, *rests)):
            return None
        if not all(self._has_room(room, *span) for room, span in takes):
            return None
        return Going(
            leaves=min(one.ride.leaves for _, one in rides),
            away=gone,
            rests=rests,
            takes=tuple((room, *span, 1) for room, span in takes),
            price=sum(money(one.price) for _, one in rides),
            in_time=in_time,
        )

    def may_leave(self, goer: Goer, leaves: int) -> bool:
        """Return whether whoever leaves with the lorry, and it, are there at that step at all."""
        with_it = goer.drivers if goer.journey.travel else goer.crew
        return not any(
            _meets(self._held(one), leaves, leaves + 1)
            or _meets(self._leave(one), leaves, leaves + 1)
            for one in with_it
        ) and all(self._has_room(room, leaves, leaves + 1) for room in goer.vehicles)

    def _away(self, rides: Rides, how: Mapping[StepId, Goer]) -> dict[int, Span]:
        """Return who is away from when until they are back."""
        found: dict[int, Span] = {}
        for step, one in rides:
            goer = how[step]
            for worker in goer.crew:
                leaves = one.ride.leaves
                if one.crew_from is not None and worker not in goer.drivers:
                    leaves = one.crew_from
                _widen(found, worker, (leaves, one.ride.back))
        return found

    def _rests(
        self, rides: Rides, how: Mapping[StepId, Goer], away: Mapping[int, Span]
    ) -> tuple[Absence, ...] | None:
        """Return who rests before and after, None where somebody could not before."""
        found = [(one, back, back + self._free) for one, (_, back) in away.items() if self._free]
        for step, ridden in rides:
            if not how[step].is_judged:
                continue
            for worker in how[step].crew:
                if away[worker][0] < self._leaves(how[step], ridden, worker):
                    continue  # Under way already, with a journey before this one.
                duty = None if worker in how[step].drivers else ridden.first_duty_ends
                held = self._held(worker)
                rest = rest_before(self._frame, worker, away[worker][0], duty, held)
                if rest is None:
                    return None
                if rest[1] > 0:
                    found.append((worker, max(0, rest[0]), rest[1]))
        return tuple(found)

    def _leaves(self, goer: Goer, found: Ridden, worker: int) -> int:
        if found.crew_from is not None and worker not in goer.drivers:
            return found.crew_from
        return found.ride.leaves

    def _takes(self, rides: Rides, how: Mapping[StepId, Goer]) -> list[tuple[int, Span]]:
        whole: dict[int, Span] = {}
        legs: list[tuple[int, Span]] = []
        for step, one in rides:
            goer = how[step]
            for room in goer.vehicles:
                _widen(whole, room, (one.ride.leaves, one.ride.back))
            since = one.ride.leaves if one.crew_from is None else one.crew_from
            for room in goer.travel_vehicles:
                _widen(whole, room, (since, one.ride.back))
            legs += goer.takes(one)
        return [*whole.items(), *((room, span) for room, span in legs if room not in whole)]

    def _held(self, worker: int) -> list[Span]:
        frame = self._frame
        return [*frame.workers[worker].busy, *frame.held[worker]]

    def _is_free(self, absence: Absence) -> bool:
        worker, start, end = absence
        return not _meets(self._held(worker), start, end)

    def _has_room(self, room: int, start: int, end: int) -> bool:
        made = self._frame.rooms.made[room]
        there = [(a, b, units) for a, b, units in made.busy if a < end and b > start]
        return all(
            sum(units for a, b, units in there if a <= at < b) < made.capacity
            for at in (start, *(a for a, _, _ in there))
        )

    def _leave(self, worker: int) -> list[Span]:
        """Return when a person is on leave, or not of the workshop."""
        if worker not in self._off:
            self._off[worker] = _off(self._frame, self._frame.book.people[worker])
        return self._off[worker]


def _widen(found: dict[int, Span], at: int, span: Span) -> None:
    known = found.get(at, span)
    found[at] = min(known[0], span[0]), max(known[1], span[1])


def _meets(spans: Iterable[Span], start: int, end: int) -> bool:
    return any(low < end and high > start for low, high in spans)


def _off(frame: Frame, person: Person) -> list[Span]:
    grid = frame.grid
    found = [grid.outer(leave.start, leave.end) for leave in person.leave]
    engaged = engaged_spans(person, grid)
    if engaged is not None:
        shut = subtract((worktime.Span(start=grid.origin, end=grid.end),), engaged)
        found += [grid.outer(span.start, span.end) for span in shut]
    return [span for span in found if span is not None]

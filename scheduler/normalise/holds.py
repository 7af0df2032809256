"""Whom and what a departure takes, and whether they are to be had as far as the book knows."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from scheduler.normalise.duties import Outing, duties, outings
from scheduler.normalise.frame import Frame
from scheduler.normalise.goers import Goer
from scheduler.normalise.names import Ridden
from scheduler.normalise.one_day import rest_before, rest_of_drivers
from scheduler.normalise.people import engaged_spans
from scheduler.normalise.ways import money
from scheduler.problem import Absence, Going, Span
from shared import worktime
from shared.book import Person
from shared.ids import StepId
from shared.units import hours_up
from shared.worktime import subtract

Rides = tuple[tuple[StepId, Ridden], ...]
Duties = list[tuple[int, list[Outing]]]
"""People, each with journeys that are one duty of theirs."""
Absences = tuple[tuple[Absence, ...], tuple[Absence, ...]]
"""Who is away, and who rests."""


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
        if len(rides) == 1 and rides[0][1].run is None:
            return self._plainly(rides, how, in_time=in_time)
        by_duty = _duties(rides, how)
        away = [(worker, duty[0].leaves, duty[-1].back) for worker, duty in by_duty]
        if any(_meets(self._leave(worker), *span) for worker, *span in away):
            return None
        is_judged = any(one.run is not None for _, one in rides)
        rests = self._rests(by_duty, away) if is_judged else ()
        if rests is None:
            return None
        after = 0 if is_judged else self._free
        gone = tuple((one, start, back + after) for one, start, back in away)
        return self._taken(rides, how, (gone, rests), in_time=in_time)

    def _plainly(self, rides: Rides, how: Mapping[StepId, Goer], *, in_time: bool) -> Going | None:
        """Return the same for a single journey by its minutes: all who go are one duty."""
        ((step, one),) = rides
        start, back = one.ride.leaves, one.ride.back
        gone = tuple((worker, start, back + self._free) for worker in how[step].crew)
        if any(_meets(self._leave(worker), start, back) for worker, _, _ in gone):
            return None
        return self._taken(rides, how, (gone, ()), in_time=in_time)

    def _taken(
        self, rides: Rides, how: Mapping[StepId, Goer], absences: Absences, *, in_time: bool
    ) -> Going | None:
        """Return what rides take, None where somebody or something is held already."""
        gone, rests = absences
        takes = self._takes(rides, how)
        if not all(self._is_free(one) for one in (*gone, *rests)):
            return None
        if not all(self._has_room(*taken) for taken in takes):
            return None
        return Going(
            leaves=min(one.ride.leaves for _, one in rides),
            away=gone,
            rests=rests,
            takes=tuple(takes),
            price=sum(money(one.price) for _, one in rides),
            in_time=in_time,
        )

    def may_leave(self, goer: Goer, leaves: int) -> bool:
        """Return whether whoever leaves with the lorry, and it, are there at that step at all."""
        with_it = goer.drivers if goer.journey.travel else goer.crew
        return all(self._may_go(goer, one, leaves) for one in with_it) and all(
            self._has_room(room, leaves, leaves + 1) for room in goer.vehicles
        )

    def _may_go(self, goer: Goer, worker: int, leaves: int) -> bool:
        """Return whether somebody is there at a step, and rested if they are at the wheel."""
        drives = goer.is_judged and worker in goer.drivers
        rest = rest_of_drivers(self._frame) if drives else 0
        return not _meets(self._held(worker), leaves - rest, leaves + 1) and not _meets(
            self._leave(worker), leaves, leaves + 1
        )

    def _rests(self, by_duty: Duties, away: Sequence[Absence]) -> tuple[Absence, ...] | None:
        """Return who rests before and after, None where somebody could not before."""
        found = [(one, back, back + self._free) for one, _, back in away if self._free]
        for worker, duty in by_duty:
            judged = [each for each in duty if each.goer.is_judged]
            if not judged:
                continue
            own = [(a, b) for one, a, b in away if one == worker and b <= duty[0].leaves]
            drives = duty[0].goer.is_judged and worker in duty[0].goer.drivers
            ends = max(each.ridden.first_duty_ends or each.back for each in judged)
            held = [*self._held(worker), *own]
            until = None if drives else ends
            rest = rest_before(self._frame, worker, duty[0].leaves, until, held)
            if rest is None:
                return None
            if rest[1] > 0:
                found.append((worker, max(0, rest[0]), rest[1]))
        return tuple(found)

    def _takes(self, rides: Rides, how: Mapping[StepId, Goer]) -> list[tuple[int, int, int, int]]:
        """Return what is held from when to when, and how many of it at once."""
        held: dict[int, list[Span]] = {}
        for step, one in rides:
            goer = how[step]
            for room in goer.vehicles:
                held.setdefault(room, []).append((one.ride.leaves, one.ride.back))
            since = one.ride.leaves if one.crew_from is None else one.crew_from
            for room in goer.travel_vehicles:
                if room not in goer.vehicles:
                    held.setdefault(room, []).append((since, one.ride.back))
            whole = {*goer.vehicles, *goer.travel_vehicles}
            for room, span in goer.takes(one):
                if room not in whole:
                    held.setdefault(room, []).append(span)
        return [(room, *each) for room, spans in held.items() for each in _at_once(spans)]

    def _held(self, worker: int) -> list[Span]:
        frame = self._frame
        frame.reads.people.add(worker)
        return [*frame.workers[worker].busy, *frame.held[worker]]

    def _is_free(self, absence: Absence) -> bool:
        worker, start, end = absence
        return not _meets(self._held(worker), start, end)

    def _has_room(self, room: int, start: int, end: int, units: int = 1) -> bool:
        self._frame.reads.rooms.add(room)
        made = self._frame.rooms.made[room]
        if not made.busy:
            return units <= made.capacity
        there = [(a, b, taken) for a, b, taken in made.busy if a < end and b > start]
        return all(
            sum(taken for a, b, taken in there if a <= at < b) + units <= made.capacity
            for at in (start, *(a for a, _, _ in there))
        )

    def _leave(self, worker: int) -> list[Span]:
        """Return when a person is on leave, or not of the workshop."""
        if worker not in self._off:
            self._frame.reads.people.add(worker)
            self._off[worker] = off_of(self._frame, self._frame.book.people[worker])
        return self._off[worker]


def _duties(rides: Rides, how: Mapping[StepId, Goer]) -> Duties:
    """Return whoever goes with each of their duties, in the order of the journeys."""
    workers = dict.fromkeys(worker for step, _ in rides for worker in how[step].crew)
    if len(rides) == 1:
        ((step, one),) = rides
        return [(worker, outings(worker, [(how[step], one)])) for worker in workers]
    gone = [(how[step], one) for step, one in rides]
    return [(worker, duty) for worker in workers for duty in duties(outings(worker, gone))]


def _at_once(spans: Sequence[Span]) -> list[tuple[int, int, int]]:
    """Return stretches, apart, with how many spans lie over each."""
    if len(spans) == 1:
        return [(*spans[0], 1)]
    moments = sorted({at for span in spans for at in span})
    counts = (
        (start, end, sum(a <= start and end <= b for a, b in spans))
        for start, end in pairwise(moments)
    )
    return [each for each in counts if each[2]]


def _meets(spans: Iterable[Span], start: int, end: int) -> bool:
    return any(low < end and high > start for low, high in spans)


def off_of(frame: Frame, person: Person) -> list[Span]:
    """Return when a person is on leave, or not of the workshop."""
    grid = frame.grid
    found = [grid.outer(leave.start, leave.end) for leave in person.leave]
    engaged = engaged_spans(person, grid)
    if engaged is not None:
        shut = subtract((worktime.Span(start=grid.origin, end=grid.end),), engaged)
        found += [grid.outer(span.start, span.end) for span in shut]
    return [span for span in found if span is not None]

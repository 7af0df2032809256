"""The road of a plain search: what may be done where in a quarter, whoever does it."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from shared.road.bans import ban_spans
from shared.road.legs import Drive, Ferry, Journey, Stand, Work
from tests.shared.road.plain.crew import Hours

_QUARTER = timedelta(minutes=15)


class Place(NamedTuple):
    """So many quarters of a leg done; `slot` is the ship, or the opening of a whole leg.

    In the lane of a ferry nothing is done and `slot` is the first ship that can be had.
    """

    leg: int
    done: int
    slot: int


class Way:
    """The legs of a journey, and what a crew, by its number, may do on them in a quarter."""

    def __init__(self, journey: Journey, hours: Hours) -> None:
        self.journey, self.hours = journey, hours
        self._banned: dict[tuple[int, int], bool] = {}

    def enter(self, leg: int, quarter: int) -> Place | None:
        """The place at the beginning of a leg; None where no ship is left."""
        if leg < len(self.journey.legs):
            here = self.journey.legs[leg]
            if isinstance(here, Ferry):
                ready = _instant(quarter) + max(_QUARTER, here.cut_off)
                left = [n for n, each in enumerate(here.sailings) if each.departs >= ready]
                return Place(leg, 0, left[0]) if left else None
        return Place(leg, 0, -1)

    def steps(self, place: Place, crew: int, quarter: int) -> Iterator[tuple[Place, int]]:
        """Everything that one more quarter may bring."""
        leg = self.journey.legs[place.leg]
        if isinstance(leg, Ferry):
            yield from self._ferry(leg, place, crew, quarter)
            return
        rested = self.hours.rest(crew)
        if isinstance(leg, Stand):
            yield from self._onward(place, leg.quarters, rested, quarter)
            return
        for each in rested:
            yield place, each
        if isinstance(leg, Drive):
            if not self._is_banned(place.leg, leg, quarter):
                yield from self._onward(place, leg.quarters, self.hours.drive(crew), quarter)
            return
        slot = _opening(leg, place.slot, quarter)
        if slot is not None:
            worked = self.hours.work(crew)
            yield from self._onward(place._replace(slot=slot), leg.quarters, worked, quarter)

    def _onward(
        self, place: Place, length: int, crews: tuple[int, ...], quarter: int
    ) -> Iterator[tuple[Place, int]]:
        there: Place | None = place._replace(done=place.done + 1)
        if place.done + 1 == length:
            there = self.enter(place.leg + 1, quarter + 1)
        if there is not None:
            for each in crews:
                yield there, each

    def _ferry(
        self, leg: Ferry, place: Place, crew: int, quarter: int
    ) -> Iterator[tuple[Place, int]]:
        now, then = _instant(quarter), _instant(quarter + 1)
        if not place.done:
            for each in self.hours.rest(crew):
                yield place, each
            for slot in range(place.slot, len(leg.sailings)):
                if leg.sailings[slot].departs == then:
                    for each in self._busy(leg, crew):
                        yield Place(place.leg, 1, slot), each
        elif now >= leg.sailings[place.slot].arrives:
            ashore = self.enter(place.leg + 1, quarter + 1)
            for each in self._busy(leg, crew):
                if ashore is not None:
                    yield ashore, each
        elif leg.bunk:
            for each in self.hours.rest(crew):
                yield place, each
        else:
            for each in self.hours.sea(crew):
                yield place, each

    def _busy(self, leg: Ferry, crew: int) -> tuple[int, ...]:
        """Boarding or landing: work, or a cut of the rest where there is a bunk."""
        return (*self.hours.work(crew), *(self.hours.cut(crew) if leg.bunk else ()))

    def _is_banned(self, number: int, leg: Drive, quarter: int) -> bool:
        lorry, key = self.journey.lorry, (number, quarter)
        if lorry is None:
            return False
        if key not in self._banned:
            spans = ban_spans(leg.road, lorry, _instant(quarter), _instant(quarter + 1))
            self._banned[key] = bool(spans)
        return self._banned[key]


def _opening(leg: Work, slot: int, quarter: int) -> int | None:
    """Which opening a quarter of work lies in; -1 where any will do, None if it may not be done."""
    if leg.openings is None:
        return -1
    for number, span in enumerate(leg.openings):
        if span.start <= _instant(quarter) and _instant(quarter + 1) <= span.end:
            if not leg.whole:
                return -1
            return number if slot in {-1, number} else None
    return None


def _instant(quarter: int) -> datetime:
    return datetime(1970, 1, 1, tzinfo=UTC) + quarter * _QUARTER

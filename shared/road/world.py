"""A journey on the grid: where the lorry can be, and when it may move there."""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from datetime import datetime
from enum import IntEnum
from itertools import accumulate

from shared.road.bans import ban_spans
from shared.road.legs import Drive, Ferry, Journey, Leg, Stand, Work
from shared.road.quarters import QUARTER, ceil_quarter, floor_quarter, instant_of
from shared.worktime import Spans

FAR = 10**9
"""A quarter that is never reached."""


class Sort(IntEnum):
    """What a leg is made of."""

    DRIVE = 0
    WORK = 1
    FERRY = 2
    STAND = 3
    END = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A leg on the grid: its length, the quarters it may not use, its sailings.

    closures: spans of quarters that are closed, in order; `closed` has each quarter of them.
    openings: of work that is done whole, where it may be. sailings: as (casts off, alongside).
    soonest, shortest: of the sailings from each on, the first alongside and the least at sea.
    ready: quarters before casting off. sea_ahead: a ferry with a bunk is this leg or a later one.
    """

    leg: Leg | None
    sort: Sort
    quarters: int = 0
    closures: tuple[tuple[int, int], ...] = ()
    closed: frozenset[int] = frozenset()
    openings: tuple[tuple[int, int], ...] = ()
    sailings: tuple[tuple[int, int], ...] = ()
    soonest: tuple[int, ...] = ()
    shortest: tuple[int, ...] = ()
    ready: int = 0
    bunk: bool = False
    sea_ahead: bool = False


class Place:
    """Where on the way: leg, quarters of it done, sailing.

    At a ferry `done` 0 is in the lane, `sailing` the first that can be had; 1 is on board. Of work
    that is done whole `sailing` is the opening it has begun in, -1 before.
    """

    __slots__ = ("done", "index", "leg", "onward", "sailing", "sea", "sort", "stage")

    def __init__(self, stage: Stage, index: int, leg: int, done: int, sailing: int) -> None:
        """Stand there."""
        self.stage, self.index = stage, index
        self.leg, self.done, self.sailing = leg, done, sailing
        self.sort = stage.sort
        self.sea = int(stage.sea_ahead)
        self.onward: Place | None = None

    def __repr__(self) -> str:
        """Give leg, quarters done, sailing."""
        return f"Place({self.leg}, {self.done}, {self.sailing})"


class World:
    """The stages of a journey between two instants."""

    def __init__(self, journey: Journey, start: datetime, end: datetime) -> None:
        """Lay the legs on the grid; outside of [start, end) nothing is closed or banned."""
        self.journey = journey
        self.start, self.end = floor_quarter(start), ceil_quarter(end)
        seas = [isinstance(leg, Ferry) and leg.bunk for leg in journey.legs]
        self.stages = (
            *(
                _stage(journey, leg, self.start, self.end, sea_ahead=any(seas[n:]))
                for n, leg in enumerate(journey.legs)
            ),
            Stage(leg=None, sort=Sort.END),
        )
        self.goal = len(journey.legs) if journey.goal is None else journey.goal
        self._places: dict[tuple[int, int, int], Place] = {}

    @property
    def has_middle_goal(self) -> bool:
        """Say whether legs come after the goal."""
        return self.goal < len(self.stages) - 1

    def entry(self, leg: int, quarter: int) -> Place | None:
        """Give the place at the beginning of a leg, None if its last sailing is missed."""
        stage = self.stages[leg]
        if stage.sort is not Sort.FERRY:
            return self._place(leg, 0, -1)
        first = bisect_left(stage.sailings, (quarter + stage.ready,))
        return self._place(leg, 0, first) if first < len(stage.sailings) else None

    def onward(self, place: Place, quarter: int) -> Place | None:
        """Give the place after one more quarter of a leg, that ends at `quarter`."""
        if place.onward is not None:
            return place.onward
        if place.stage.openings:
            return self._onward_whole(place, quarter)
        if place.done + 1 < place.stage.quarters:
            place.onward = self._place(place.leg, place.done + 1, -1)
            return place.onward
        found = self.entry(place.leg + 1, quarter)
        if self.stages[place.leg + 1].sort is not Sort.FERRY:
            place.onward = found
        return found

    def boardings(self, place: Place, quarter: int) -> list[Place]:
        """Give the places on board that are reached in this quarter, from the lane."""
        sailings = place.stage.sailings
        first = bisect_left(sailings, (quarter + 1,), lo=place.sailing)
        found = []
        while first < len(sailings) and sailings[first][0] == quarter + 1:
            found.append(self._place(place.leg, 1, first))
            first += 1
        return found

    def _onward_whole(self, place: Place, quarter: int) -> Place | None:
        """Go on in the opening that work was begun in, or begin where all of it fits."""
        openings = place.stage.openings
        opening = place.sailing
        if opening < 0:
            opening = bisect_right(openings, (quarter - 1, FAR)) - 1
            if opening < 0:
                return None
        left = place.stage.quarters - place.done - 1
        if quarter + left > openings[opening][1]:
            return None
        if left:
            return self._place(place.leg, place.done + 1, opening)
        return self.entry(place.leg + 1, quarter)

    def _place(self, leg: int, done: int, sailing: int) -> Place:
        key = (leg, done, sailing)
        found = self._places.get(key)
        if found is None:
            found = self._places[key] = Place(self.stages[leg], len(self._places), *key)
        return found


def _stage(journey: Journey, leg: Leg, first: int, last: int, *, sea_ahead: bool) -> Stage:
    if isinstance(leg, Ferry):
        sailings = [
            (floor_quarter(each.departs), floor_quarter(each.arrives)) for each in leg.sailings
        ]
        last_first = sailings[::-1]
        return Stage(
            leg=leg,
            sort=Sort.FERRY,
            sailings=tuple(sailings),
            soonest=tuple(accumulate((there for _, there in last_first), min))[::-1],
            shortest=tuple(accumulate((there - off for off, there in last_first), min))[::-1],
            ready=max(1, -(-leg.cut_off // QUARTER)),
            bunk=leg.bunk,
            sea_ahead=sea_ahead,
        )
    if isinstance(leg, Stand):
        return Stage(leg=leg, sort=Sort.STAND, quarters=leg.quarters, sea_ahead=sea_ahead)
    closures: tuple[tuple[int, int], ...] = ()
    openings: tuple[tuple[int, int], ...] = ()
    if isinstance(leg, Drive):
        closures = _banned(journey, leg, first, last)
    elif leg.openings is not None:
        openings = _openings(leg.openings)
        closures = _between(openings, first, last)
    return Stage(
        leg=leg,
        sort=Sort.DRIVE if isinstance(leg, Drive) else Sort.WORK,
        quarters=leg.quarters,
        closures=closures,
        closed=frozenset(each for span in closures for each in range(*span)),
        openings=openings if isinstance(leg, Work) and leg.whole else (),
        sea_ahead=sea_ahead,
    )


def _openings(spans: Spans) -> tuple[tuple[int, int], ...]:
    """Give the whole quarters of openings, in order."""
    found = sorted((ceil_quarter(each.start), floor_quarter(each.end)) for each in spans)
    return tuple(each for each in found if each[0] < each[1])


def _between(
    openings: tuple[tuple[int, int], ...], first: int, last: int
) -> tuple[tuple[int, int], ...]:
    """Give what is closed in [first, last)."""
    found, now = [], first
    for opens, closes in openings:
        if now < min(opens, last):
            found.append((now, min(opens, last)))
        now = max(now, closes)
    if now < last:
        found.append((now, last))
    return tuple(found)


def _banned(journey: Journey, leg: Drive, first: int, last: int) -> tuple[tuple[int, int], ...]:
    if journey.lorry is None:
        return ()
    spans = ban_spans(leg.road, journey.lorry, instant_of(first), instant_of(last))
    return tuple((floor_quarter(each.start), ceil_quarter(each.end)) for each in spans)

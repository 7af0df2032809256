"""A journey on the grid: where the lorry can be, and when it may move there."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from shared.road.bans import ban_spans
from shared.road.legs import Drive, Ferry, Journey, Leg, Work
from shared.road.quarters import QUARTER, ceil_quarter, floor_quarter, instant_of

FAR = 10**9
"""A quarter that is never reached."""


class Position(NamedTuple):
    """Where on the way: leg, quarters of it done, sailing.

    At a ferry `done` 0 is in the lane, `sailing` the first that can be had; 1 is on board.
    """

    leg: int
    done: int
    sailing: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A leg on the grid: its length, the quarters it may not use, its sailings.

    sailings: as (casts off, alongside). ready: quarters before casting off.
    """

    leg: Leg
    quarters: int
    closed: frozenset[int]
    sailings: tuple[tuple[int, int], ...] = ()
    ready: int = 0
    sea_ahead: bool = False


class World:
    """The stages of a journey between two instants, with the bound of the road alone."""

    def __init__(self, journey: Journey, start: datetime, end: datetime) -> None:
        """Lay the legs on the grid; outside of [start, end) nothing is closed or banned."""
        self.start, self.end = floor_quarter(start), ceil_quarter(end)
        seas = [isinstance(leg, Ferry) and leg.bunk for leg in journey.legs]
        self.stages = tuple(
            _stage(journey, leg, self.start, self.end, sea_ahead=any(seas[n:]))
            for n, leg in enumerate(journey.legs)
        )
        self._bounds: dict[tuple[Position, int], int] = {}

    def entry(self, leg: int, quarter: int) -> Position | None:
        """Give the position at the beginning of a leg, None if its last sailing is missed."""
        if leg == len(self.stages) or not self.stages[leg].sailings:
            return Position(leg, 0, 0)
        stage = self.stages[leg]
        first = bisect_left(stage.sailings, (quarter + stage.ready,))
        return Position(leg, 0, first) if first < len(stage.sailings) else None

    def has_arrived(self, where: Position) -> bool:
        """Say whether the journey is over."""
        return where.leg == len(self.stages)

    def sea_ahead(self, where: Position) -> bool:
        """Say whether a rest may still be broken by a ferry with a bunk."""
        return where.leg < len(self.stages) and self.stages[where.leg].sea_ahead

    def earliest(self, where: Position, quarter: int) -> int:
        """Give when the lorry would arrive if it needed no driver; FAR if never.

        No driver can be sooner: the bound of every search.
        """
        key = (where, quarter)
        if key not in self._bounds:
            self._bounds[key] = self._walk(where, quarter)
        return self._bounds[key]

    def boardings(self, where: Position, quarter: int) -> Iterator[int]:
        """Give the sailings that board in this quarter, for a lorry in the lane."""
        stage = self.stages[where.leg]
        for n in range(where.sailing, len(stage.sailings)):
            if stage.sailings[n][0] == quarter + 1:
                yield n

    def _walk(self, where: Position, quarter: int) -> int:
        at = quarter
        if self.has_arrived(where):
            return at
        stage = self.stages[where.leg]
        if stage.sailings:
            if where.done:
                at = stage.sailings[where.sailing][1] + 1
            else:
                later = stage.sailings[where.sailing :]
                at = min((there + 1 for off, there in later if off > at), default=FAR)
        else:
            at = _open_quarters(stage, stage.quarters - where.done, at)
        after = self.entry(where.leg + 1, at) if at < FAR else None
        return FAR if after is None else self.earliest(after, at)


def _open_quarters(stage: Stage, wanted: int, at: int) -> int:
    if not stage.closed:
        return at + wanted
    while wanted:
        wanted -= at not in stage.closed
        at += 1
    return at


def _stage(journey: Journey, leg: Leg, first: int, last: int, *, sea_ahead: bool) -> Stage:
    if isinstance(leg, Ferry):
        return Stage(
            leg=leg,
            quarters=0,
            closed=frozenset(),
            sailings=tuple(
                (floor_quarter(each.departs), floor_quarter(each.arrives)) for each in leg.sailings
            ),
            ready=max(1, -(-leg.cut_off // QUARTER)),
            sea_ahead=sea_ahead,
        )
    closed = _banned(journey, leg, first, last) if isinstance(leg, Drive) else frozenset()
    if isinstance(leg, Work) and leg.openings is not None:
        open_ = {
            quarter
            for span in leg.openings
            for quarter in range(ceil_quarter(span.start), floor_quarter(span.end))
        }
        closed = frozenset(range(first, last)) - open_
    return Stage(leg=leg, quarters=leg.quarters, closed=closed, sea_ahead=sea_ahead)


def _banned(journey: Journey, leg: Drive, first: int, last: int) -> frozenset[int]:
    if journey.lorry is None:
        return frozenset()
    spans = ban_spans(leg.road, journey.lorry, instant_of(first), instant_of(last))
    return frozenset(
        quarter
        for span in spans
        for quarter in range(floor_quarter(span.start), ceil_quarter(span.end))
    )

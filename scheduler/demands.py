"""What a stage wants of rooms, each claim with the load beside which it still fits."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from scheduler.calendar import Index
from scheduler.terms import FOREVER, Claim, Stand


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """A claim, the greatest load beside it, and until when it lasts if not by its own rule."""

    claim: Claim
    most: int
    until: int | None = None


class Demands:
    """The demands of every stage of an index.

    All claims of a stage on one room are counted as if they lay in the same steps. What a claim is
    against is a demand for an empty room that is never booked; the stage itself is not there yet.
    """

    def __init__(self, index: Index) -> None:
        self._rooms = index.problem.rooms
        self._opened = _opened(index.terms.stands)
        self._by_way = [
            [self._of_claims(claims, self._opened.get(stage, ())) for claims in ways]
            for stage, ways in enumerate(index.terms.claims)
        ]

    def of_way(self, stage: int, way: int) -> tuple[Demand, ...]:
        """Return what a way of a stage wants for itself."""
        return self._by_way[stage][way]

    def of_stands(self, stage: int, ends: Mapping[int, int]) -> tuple[Demand, ...]:
        """Return what begins to stand with a stage; ends: by stage, the ends known so far."""
        stands = self._opened.get(stage, ())
        return tuple(
            Demand(
                claim=Claim(room=stand.room, units=stand.units),
                most=self._rooms[stand.room].capacity - _units(stands, stand.room),
                until=_until(stand, stage, ends),
            )
            for stand in stands
        )

    def _of_claims(self, claims: Sequence[Claim], stands: Sequence[Stand]) -> tuple[Demand, ...]:
        own = tuple(
            Demand(
                claim=claim,
                most=self._rooms[claim.room].capacity
                - _units(claims, claim.room)
                - _units(stands, claim.room),
            )
            for claim in claims
            if claim.units
        )
        return own + tuple(_empty(claim, room) for claim in claims for room in claim.against)


def _empty(claim: Claim, room: int) -> Demand:
    return Demand(claim=replace(claim, room=room, units=0, against=()), most=0)


def _units(wants: Sequence[Claim] | Sequence[Stand], room: int) -> int:
    return sum(want.units for want in wants if want.room == room)


def _until(stand: Stand, stage: int, ends: Mapping[int, int]) -> int | None:
    if stand.last == stage:
        return None
    return FOREVER if stand.last is None else ends.get(stand.last, FOREVER)


def _opened(stands: Sequence[Stand]) -> dict[int, tuple[Stand, ...]]:
    found: dict[int, list[Stand]] = {}
    for stand in stands:
        if stand.first is not None and stand.units:
            found.setdefault(stand.first, []).append(stand)
    return {stage: tuple(each) for stage, each in found.items()}

"""What a stage wants of rooms, each claim with the load beside which it still fits."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from scheduler.calendar import Index
from scheduler.lags import Fixed
from scheduler.terms import FOREVER, Claim, Stand


class Demand:
    """A claim, the greatest load beside it, and until when it lasts if not by its own rule.

    before, after: the steps before the start and after the end, as far as they are always the
    same; has_lead, has_tail: the claim itself must be asked for the rest. until: -1 for none.
    """

    __slots__ = ("after", "before", "claim", "has_lead", "has_tail", "most", "room", "until")

    def __init__(self, claim: Claim, most: int, until: int = -1) -> None:
        self.claim = claim
        self.room = claim.room
        self.most = most
        self.until = until
        self.before, self.after = claim.before, claim.after
        self.has_lead = claim.lead is not None and not isinstance(claim.lead, Fixed)
        self.has_tail = claim.tail is not None and not isinstance(claim.tail, Fixed)
        if isinstance(claim.lead, Fixed):
            self.before += claim.lead.steps
        if isinstance(claim.tail, Fixed):
            self.after += claim.tail.steps

    def begins(self, start: int) -> int:
        """Return when it begins for a stage that starts then; never before step 0."""
        if self.has_lead:
            return self.claim.begins(start)
        begin = start - self.before
        return begin if begin > 0 else 0

    def ends(self, end: int) -> int:
        """Return when it is over for a stage that ends then."""
        if self.until >= 0:
            return self.until
        return self.claim.ends(end) if self.has_tail else end + self.after

    def start_after(self, t: int) -> int:
        """Return the least start with which it does not begin before t."""
        return self.claim.start_after(t) if self.has_lead else t + self.before


class Demands:
    """The demands of every stage of an index.

    All claims of a stage on one room are counted as if they lay in the same steps. What a claim is
    against is a demand for an empty room that is never booked; the stage itself is not there yet.
    """

    def __init__(self, index: Index) -> None:
        self._rooms = index.problem.rooms
        self._claims = index.terms.claims
        self._opened = _opened(index.terms.stands)
        self._by_way: list[list[tuple[Demand, ...] | None]] = [
            [None] * len(ways) for ways in index.terms.claims
        ]

    def of_way(self, stage: int, way: int) -> tuple[Demand, ...]:
        """Return what a way of a stage wants for itself."""
        found = self._by_way[stage][way]
        if found is None:
            claims, stands = self._claims[stage][way], self._opened.get(stage, ())
            found = self._by_way[stage][way] = self._of_claims(claims, stands)
        return found

    def of_stands(self, stage: int, ends: Mapping[int, int]) -> tuple[Demand, ...]:
        """Return what begins to stand with a stage; ends: by stage, the ends known so far."""
        stands = self._opened.get(stage)
        if stands is None:
            return ()
        return tuple(
            Demand(
                Claim(room=stand.room, units=stand.units),
                self._rooms[stand.room].capacity - _units(stands, stand.room),
                _until(stand, stage, ends),
            )
            for stand in stands
        )

    def _of_claims(self, claims: Sequence[Claim], stands: Sequence[Stand]) -> tuple[Demand, ...]:
        own = tuple(
            Demand(
                claim,
                self._rooms[claim.room].capacity
                - _units(claims, claim.room)
                - _units(stands, claim.room),
            )
            for claim in claims
            if claim.units
        )
        return own + tuple(_empty(claim, room) for claim in claims for room in claim.against)


def _empty(claim: Claim, room: int) -> Demand:
    return Demand(replace(claim, room=room, units=0, against=()), 0)


def _units(wants: Sequence[Claim] | Sequence[Stand], room: int) -> int:
    return sum(want.units for want in wants if want.room == room)


def _until(stand: Stand, stage: int, ends: Mapping[int, int]) -> int:
    if stand.last == stage:
        return -1
    return FOREVER if stand.last is None else ends.get(stand.last, FOREVER)


def _opened(stands: Sequence[Stand]) -> dict[int, tuple[Stand, ...]]:
    found: dict[int, list[Stand]] = {}
    for stand in stands:
        if stand.first is not None and stand.units:
            found.setdefault(stand.first, []).append(stand)
    return {stage: tuple(each) for stage, each in found.items()}

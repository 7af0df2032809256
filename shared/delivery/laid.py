"""From legs of the book to legs of the road, and from an itinerary back to the book's numbers."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal

from shared.book import Leg, LegKind
from shared.delivery.asked import Asked
from shared.delivery.choices import Choice, check_in_of
from shared.delivery.judged import AT_SEA, is_whole
from shared.delivery.lengths import minutes_of, roads_of, wheel_quarters
from shared.delivery.openings import openings_of
from shared.delivery.timetables import Listed, listed_of
from shared.plan import Stretch
from shared.road.bans import Lorry, Road
from shared.road.itinerary import Itinerary
from shared.road.legs import Drive, Ferry, Journey, Sailing, Stand, Work
from shared.road.legs import Leg as RoadLeg
from shared.road.quarters import ceil_quarter, floor_quarter, instant_of
from shared.units import hours_up, minutes_up
from shared.worktime import Span, Spans


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Where a leg of the road comes from: leg of the book, share of its road, its sailings."""

    leg: int
    share: int = 0
    sailings: tuple[Listed, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Legs of the road with where each comes from."""

    legs: tuple[RoadLeg, ...]
    parts: tuple[Part, ...]

    def until(self, leg: int) -> int:
        """Return how many legs of the road are over when the legs of the book before one are."""
        upto = [at + 1 for at, part in enumerate(self.parts) if part.leg < leg]
        upto = [at for at in upto if not isinstance(self.legs[at - 1], Stand)]
        return upto[-1] if upto else 0

    def journey(self, lorry: Lorry | None = None, goal: int | None = None) -> Journey:
        """Return the journey of the road; `goal` of its legs have to be over in time."""
        wanted = goal if goal and goal < len(self.legs) else None
        return Journey(legs=self.legs, lorry=lorry, goal=wanted)

    def told(self, itinerary: Itinerary) -> tuple[Stretch, ...]:
        """Return the stretches with the numbers of the book."""
        return tuple(self._told(each) for each in itinerary.stretches)

    def fares(self, itinerary: Itinerary) -> Decimal:
        """Return what the sailings that are taken cost."""
        taken = {(each.leg, each.sailing) for each in itinerary.stretches}
        return sum(
            (
                self.parts[leg].sailings[sailing].departure.price or Decimal(0)
                for leg, sailing in taken
                if sailing is not None
            ),
            Decimal(0),
        )

    def _told(self, each: Stretch) -> Stretch:
        part = self.parts[each.leg]
        place = None if each.sailing is None else part.sailings[each.sailing].place
        return replace(each, leg=part.leg, share=part.share, sailing=place)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """Lays legs of the book on the road, with hours and sailings of a stretch of time.

    choice: which sailings are taken; None takes any. forced: work of a leg that happens then.
    """

    asked: Asked
    horizon: Span
    choice: Choice | None = None

    def lay(
        self, legs: Sequence[Leg], first: int = 0, forced: Mapping[int, Spans] | None = None
    ) -> Laid | None:
        """Return the legs, numbered from `first`, on the road; None if one has no sailing.

        Nothing is cured after the last of them.
        """
        made: list[RoadLeg] = []
        parts: list[Part] = []
        for at, leg in enumerate(legs, first):
            opens = None if forced is None else forced.get(at)
            found = self._work(leg, opens) if opens is not None else self._leg(leg, at)
            if found is None:
                return None
            for road, part in found:
                made.append(road)
                parts.append(replace(part, leg=at))
            if leg.cure_hours and at - first < len(legs) - 1:
                made.append(Stand(quarters=max(1, hours_up(leg.cure_hours))))
                parts.append(Part(leg=at))
        return Laid(legs=tuple(made), parts=tuple(parts))

    def _leg(self, leg: Leg, at: int) -> list[tuple[RoadLeg, Part]] | None:
        if leg.kind in (LegKind.DRIVE, LegKind.RETURN):
            return _driven(leg, wheel_quarters(leg, self.asked.workshop))
        if leg.kind in AT_SEA:
            return self._sea(leg, at)
        quarters = max(1, minutes_up(minutes_of(leg, self.asked.workshop, self.asked.pieces)))
        made = Work(quarters=quarters, openings=self._openings(leg), whole=is_whole(leg))
        return [(made, Part(leg=at))]

    def _work(self, leg: Leg, opens: Spans) -> list[tuple[RoadLeg, Part]]:
        quarters = max(1, minutes_up(minutes_of(leg, self.asked.workshop, self.asked.pieces)))
        return [(Work(quarters=quarters, openings=opens), Part(leg=0))]

    def _openings(self, leg: Leg) -> Spans | None:
        asked = self.asked
        return openings_of(
            leg,
            asked.site,
            asked.window,
            self.horizon.start,
            self.horizon.end,
            asked.named(leg.equipment),
            asked.workshop.zone,
        )

    def _sea(self, leg: Leg, at: int) -> list[tuple[RoadLeg, Part]] | None:
        found, ahead = self._taken(leg, at)
        by_quarter: dict[int, Listed] = {}
        for each in found:
            by_quarter.setdefault(floor_quarter(each.departure.leaves), each)
        kept = [
            each
            for off, each in sorted(by_quarter.items())
            if ceil_quarter(each.departure.arrives) > off
        ]
        if not kept:
            return None
        made = Ferry(
            sailings=tuple(_sailing(each) for each in kept),
            cut_off=timedelta(minutes=ahead),
            bunk=bool(leg.bunk),
        )
        return [(made, Part(leg=at, sailings=tuple(kept)))]

    def _taken(self, leg: Leg, at: int) -> tuple[list[Listed], int]:
        """Give the sailings that may be taken, and how many minutes before one is there."""
        first, last = self.horizon.start, self.horizon.end
        if self.choice is None:
            found = list(listed_of(leg, first, last))
            aheads = [each.departure.check_in_minutes for each in found]
            return found, max(aheads, default=0)
        offer = self.choice.offer_of(at)
        if offer is None:
            return [], 0
        usual = check_in_of(self.asked, at, self.choice.means)
        wanted = (offer.price, offer.check_in_minutes)
        found = [each for each in listed_of(leg, first, last, usual) if each.offer == wanted]
        return found, offer.check_in_minutes


def _driven(leg: Leg, quarters: int) -> list[tuple[RoadLeg, Part]]:
    # The findings stop a drive without a country; none has no bans.
    roads = roads_of(leg, quarters) or ((quarters, Road(country="")),)
    return [
        (Drive(quarters=each, road=road), Part(leg=0, share=share))
        for share, (each, road) in enumerate(roads)
        if each
    ]


def _sailing(each: Listed) -> Sailing:
    return Sailing(
        departs=instant_of(floor_quarter(each.departure.leaves)),
        arrives=instant_of(ceil_quarter(each.departure.arrives)),
    )

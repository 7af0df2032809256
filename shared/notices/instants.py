"""When a trip of a plan is where: leaving, at a border, on board, at the gate, lifting."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from shared.book import Before, Departure, Journey, LegKind, Means
from shared.delivery.judged import AT_SEA, ON_SITE, is_whole
from shared.ids import PersonId
from shared.notices.areas import Crossing
from shared.plan import Doing, Stretch, Trip

_QUARTER = timedelta(minutes=15)
_AT_SEA = frozenset({Doing.SEA, Doing.SEA_REST})
_IDLE = frozenset({Doing.REST, Doing.STAND})


@dataclass(frozen=True, slots=True, kw_only=True)
class Travelled:
    """A journey with its trip; asked when what of it happens."""

    journey: Journey
    trip: Trip

    def start(self, index: int) -> datetime:
        """Return when the leg before is over and nothing stands before this one."""
        legs = self.trip.legs
        return legs[index].start if index < len(legs) else self.trip.end

    def end(self, index: int) -> datetime:
        """Return when a leg is over."""
        legs = self.trip.legs
        return legs[index].end if index < len(legs) else self.trip.end

    def begins(self, index: int) -> datetime:
        """Return when a leg is begun, waits before it not counted, as far as that is told."""
        done = [each.start for each in self._stretches(index) if each.doing not in _IDLE]
        if done:
            return min(done)
        leg = self.journey.legs[index]
        if is_whole(leg) and leg.minutes:
            return max(self.start(index), self.end(index) - timedelta(minutes=leg.minutes))
        return self.start(index)

    def legs(self, *kinds: LegKind) -> tuple[int, ...]:
        """Return the numbers of the legs of some kinds, from 0."""
        return tuple(index for index, leg in enumerate(self.journey.legs) if leg.kind in kinds)

    @property
    def gate(self) -> datetime:
        """Return when it is at the gate: the start of the first leg at the site, else its end."""
        at_site = self.legs(*ON_SITE)
        return self.start(at_site[0]) if at_site else self.trip.end

    def sails(self, index: int) -> datetime:
        """Return when the sailing or train of a leg leaves."""
        chosen = self.sailing(index)
        if chosen is not None:
            return chosen.leaves
        at_sea = self._at_sea(index)
        return self.begins(index) if at_sea is None else at_sea

    def sailing(self, index: int) -> Departure | None:
        """Return the sailing of a leg: the one by which it goes, None if none is known as that.

        Leaving is rounded down to a quarter, landing up. Without stretches it is, of those that
        land at the leg's end, the last.
        """
        leg, at_sea = self.journey.legs[index], self._at_sea(index)
        start, end = self.start(index), self.end(index)
        known = leg.departures
        if leg.timetable:
            from shared.delivery.timetables import departures_of

            known = departures_of(leg, start, end)
        fitting = [
            each
            for each in known
            if each.leaves >= start and _is_this(each, at_sea, end) and each.arrives <= end
        ]
        return max(fitting, key=lambda each: each.leaves, default=None)

    def _at_sea(self, index: int) -> datetime | None:
        """Return when a judged leg puts to sea."""
        at_sea = [each.start for each in self._stretches(index) if each.doing in _AT_SEA]
        return min(at_sea, default=None)

    def _stretches(self, index: int) -> tuple[Stretch, ...]:
        return tuple(each for each in self.trip.stretches if each.leg == index)

    def leaves(self, crossing: Crossing) -> datetime:
        """Return when goods are put before the customs of the area that they leave."""
        for index in self._between(crossing):
            if self.journey.legs[index].kind is LegKind.BORDER:
                return self.begins(index)
            return self.sails(index)
        return self.start(crossing.leg)

    def enters(self, crossing: Crossing) -> datetime:
        """Return when they come into the new area."""
        between = self._between(crossing)
        landed = [index for index in between if self.journey.legs[index].kind in AT_SEA]
        if landed:
            return self.end(landed[-1])
        return self.start(between[-1]) if between else self.start(crossing.leg)

    def cleared(self, crossing: Crossing) -> datetime:
        """Return when they are put before the customs of the new area."""
        borders = [
            index
            for index in self._between(crossing)
            if self.journey.legs[index].kind is LegKind.BORDER
        ]
        return self.begins(borders[-1]) if borders else self.enters(crossing)

    def _between(self, crossing: Crossing) -> tuple[int, ...]:
        first = -1 if crossing.behind is None else crossing.behind
        asked = (LegKind.BORDER, *AT_SEA)
        return tuple(index for index in self.legs(*asked) if first < index <= crossing.leg)

    def at(self, before: Before) -> datetime | None:
        """Return when the first of something is; None where the journey has none."""
        if before is Before.DEPARTURE:
            return self.trip.start
        if before is Before.SITE:
            return self.gate
        if before is Before.SAILING:
            return next((self.sails(index) for index in self.legs(*AT_SEA)), None)
        kinds = {
            Before.BORDER: LegKind.BORDER,
            Before.LIFT: LegKind.LIFT,
            Before.INSPECTION: LegKind.INSPECT,
        }
        return next((self.begins(index) for index in self.legs(kinds[before])), None)


def _is_this(sailing: Departure, at_sea: datetime | None, end: datetime) -> bool:
    if at_sea is None:
        return timedelta() <= end - sailing.arrives < _QUARTER
    return timedelta() <= sailing.leaves - at_sea < _QUARTER


def means_of(journey: Journey, trip: Trip) -> Means | None:
    """Return the means by which a trip goes, None where the journey has none to choose from."""
    return next((each for each in journey.means if each.id == trip.means), None)


def travellers(journey: Journey, trip: Trip) -> tuple[PersonId, ...]:
    """Return the people of the workshop who are away with a trip: its crew, and who drives."""
    means = means_of(journey, trip)
    return tuple(dict.fromkeys((*journey.crew, *(means.driven_by if means else ()))))

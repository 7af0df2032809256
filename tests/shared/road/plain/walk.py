"""Leave at a quarter and try everything; leave at each quarter, the last first."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from shared.road.driver import Driver
from shared.road.legs import Journey
from shared.road.rules import HoursRules
from tests.shared.road.plain.crew import Hours, quarter_of, week_of
from tests.shared.road.plain.way import Place, Way

Reached = set[tuple[Place, int]]


class Walk:
    """Every way of a journey between the first departure and when it is to be over."""

    def __init__(
        self,
        journey: Journey,
        drivers: Sequence[Driver],
        rules: HoursRules,
        span: tuple[int, int],
    ) -> None:
        first, self.by = span
        self.legs, self.drivers = len(journey.legs), tuple(drivers)
        self.goal = self.legs if journey.goal is None else journey.goal
        # What comes after the goal has as long again.
        self.end_by = self.by if self.goal == self.legs else 2 * self.by - first
        self.hours = Hours(rules, self.end_by - first)
        self.way = Way(journey, self.hours)
        self._tried: dict[int, Reached] = {}

    def arrival(self, leaves: int) -> int | None:
        """The first quarter at which who leaves at one can be there, None if not in time.

        To be asked for one departure after another only as long as none is in time: where a later
        one came past already and got nowhere, nothing is tried again.
        """
        start = self.way.enter(0, leaves)
        now = {(start, self.hours.leaves(self.drivers, leaves))} if start else set()
        for quarter in range(leaves, self.end_by):
            if quarter > leaves:
                tried = self._tried.setdefault(quarter, set())
                now -= tried
                tried |= now
            # Who leaves when a fixed week begins has begun with it.
            turns = quarter > leaves and week_of(quarter) > week_of(quarter - 1)
            now = self._quarter(now, quarter, turns=turns)
            for place, crew in now:
                if place.leg == self.legs and self.hours.may_end(crew):
                    return quarter + 1
            least = self.goal if quarter + 1 >= self.by else 0
            now = {each for each in now if least <= each[0].leg < self.legs}
        return None

    def _quarter(self, now: Reached, quarter: int, *, turns: bool) -> Reached:
        then: Reached = set()
        for place, crew in now:
            (turned,) = self.hours.turned(crew) if turns else (crew,)
            then.update(self.way.steps(place, turned, quarter))
        return then


def plain_latest(
    journey: Journey,
    drivers: Sequence[Driver],
    rules: HoursRules,
    site_by: datetime,
    longest: timedelta,
) -> tuple[datetime, datetime] | None:
    """The latest departure that is at the goal in time, and its first end; None if none is."""
    by, first = quarter_of(site_by), quarter_of(site_by - longest)
    walk = Walk(journey, drivers, rules, (first, by))
    for leaves in range(by - 1, first - 1, -1):
        there = walk.arrival(leaves)
        if there is not None:
            return _instant(leaves), _instant(there)
    return None


def _instant(quarter: int) -> datetime:
    return datetime(1970, 1, 1, tzinfo=UTC) + quarter * timedelta(minutes=15)

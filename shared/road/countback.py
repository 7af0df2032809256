"""Counting back the road: which departures make it to the gate in time, and the last of them.

Arrival does not grow with departure: who leaves earlier starts the duty clock earlier. So every
departure is asked for itself, never halved between two. Each answer is exact: the search looks at
every legal course but for those that another is as good as, or that a lower bound rules out.
"""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any, TypeVar

from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.laws import law_of
from shared.road.legs import Drive, Journey
from shared.road.machine import Machine, machine_of
from shared.road.quarters import QUARTER, ceil_quarter, floor_quarter, instant_of
from shared.road.rules import NEVER, HoursRules
from shared.road.search import Label, Search, Watch
from shared.road.story import itinerary_of
from shared.road.weekly import weekly_rest_ended
from shared.road.world import Sort, Stage, World
from shared.worktime import Span, Spans, union

LONGEST = timedelta(days=7)
"""How long a journey may take where nothing else is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """A journey, who drives it as they are, and the rules for them."""

    journey: Journey
    drivers: tuple[Driver, ...]
    rules: HoursRules


class Trouble(StrEnum):
    """Why no departure makes it.

    WEEKLY_REST_DUE: some would, if no weekly rest had to begin on the way.
    """

    WEEKLY_REST_DUE = "weekly_rest_due"
    NO_DEPARTURE = "no_departure"


def earliest_arrival(
    trip: Trip,
    departure: datetime,
    *,
    longest: timedelta = LONGEST,
    watch: Watch | None = None,
) -> Itinerary | None:
    """Give the itinerary that is over first when the duty begins at `departure`, rounded up.

    With a goal before the end: that reaches the goal first, and then is over first. None says that
    no legal one is over within `longest`.
    """
    key = ("arrival", trip, departure, longest)
    return _known(key, lambda: _earliest(trip, departure, longest, watch))


def latest_departure(
    trip: Trip,
    site_by: datetime,
    *,
    longest: timedelta = LONGEST,
    watch: Watch | None = None,
) -> Itinerary | None:
    """Give the itinerary of the last departure that is at the goal by `site_by`, over first.

    None: every departure is ruled out, back to `longest` before. What comes after the goal has
    `longest` as well. `watch` is told how many departures, of how many, are looked at, and stops
    the search by raising.
    """
    key = ("latest", trip, site_by, longest)
    return _known(key, lambda: _latest(trip, site_by, longest, watch))


def departures(
    trip: Trip,
    site_by: datetime,
    *,
    longest: timedelta = LONGEST,
    watch: Watch | None = None,
) -> Spans:
    """Give all departures that are at the goal by `site_by`, as spans; there may be gaps.

    A departure on the grid stands for itself to the next one.
    """
    key = ("departures", trip, site_by, longest)
    return _known(key, lambda: _departures(trip, site_by, longest, watch))


def trouble_of(
    trip: Trip,
    site_by: datetime,
    *,
    longest: timedelta = LONGEST,
    watch: Watch | None = None,
) -> Trouble | None:
    """Give why there is no departure that is at the goal by `site_by`; None if there is one."""
    if latest_departure(trip, site_by, longest=longest, watch=watch) is not None:
        return None
    free = replace(trip, rules=replace(trip.rules, weekly_rest_after=NEVER))
    if latest_departure(free, site_by, longest=longest, watch=watch) is not None:
        return Trouble.WEEKLY_REST_DUE
    return Trouble.NO_DEPARTURE


def forget() -> None:
    """Drop every result that is kept."""
    _KEPT.clear()


_Key = tuple[str, Trip, datetime, timedelta]
_Found = TypeVar("_Found")
_KEPT: OrderedDict[_Key, Any] = OrderedDict()
_MOST_KEPT = 512


def _known(key: _Key, find: Callable[[], _Found]) -> _Found:
    """Give what was found for the same question before, or find it; the oldest are dropped."""
    if key in _KEPT:
        _KEPT.move_to_end(key)
        kept: _Found = _KEPT[key]
        return kept
    found = _KEPT[key] = find()
    if len(_KEPT) > _MOST_KEPT:
        _KEPT.popitem(last=False)
    return found


def _earliest(
    trip: Trip, departure: datetime, longest: timedelta, watch: Watch | None
) -> Itinerary | None:
    first, last = ceil_quarter(departure), floor_quarter(departure + longest)
    asked = _Asked(trip, first, last, last)
    found = asked.first(first, watch)
    if found is not None and asked.world.has_middle_goal:
        asked = _Asked(trip, first, asked.earliest_goal(first, watch), last)
        found = asked.first(first, watch) or found
    return None if found is None else asked.told(found)


def _latest(
    trip: Trip, site_by: datetime, longest: timedelta, watch: Watch | None
) -> Itinerary | None:
    asked = _asked_by(trip, site_by, longest)
    for departure in asked.candidates():
        found = asked.first(departure, watch)
        if found is not None:
            return asked.told(found)
    return None


def _departures(trip: Trip, site_by: datetime, longest: timedelta, watch: Watch | None) -> Spans:
    asked = _asked_by(trip, site_by, longest)
    return union(
        Span(start=instant_of(each), end=instant_of(each) + QUARTER)
        for each in asked.candidates()
        if asked.makes_it(each, watch)
    )


def _asked_by(trip: Trip, site_by: datetime, longest: timedelta) -> "_Asked":
    by, first = floor_quarter(site_by), ceil_quarter(site_by - longest)
    goes_on = trip.journey.goal is not None and trip.journey.goal < len(trip.journey.legs)
    return _Asked(trip, first, by, floor_quarter(site_by + longest) if goes_on else by)


class _Asked:
    """A question: departures from `first` on, at the goal by one quarter, over by another."""

    def __init__(self, trip: Trip, first: int, by: int, end_by: int) -> None:
        """Lay out the world; the searches come when they are needed."""
        self._trip, self._first, self._by, self._end_by = trip, first, by, end_by
        self.world = World(trip.journey, instant_of(first), instant_of(max(end_by, first)))
        self._rules = _counted(trip)
        self._least = sum(_no_rest_in(stage) for stage in self.world.stages)
        self._searches: dict[bool, Search] = {}
        self._used: Machine | None = None

    def candidates(self) -> range:
        """Give all departures, the last first."""
        return range(self._by - 1, self._first - 1, -1)

    def first(self, departure: int, watch: Watch | None) -> Label | None:
        """Give the label that is over first from a departure."""
        weekly = self._needs_weekly_rests(departure)
        search, state = self._search(departure, watch, weekly=weekly)
        found = search.first(departure, state)
        by = self._end_by if found is None else found.quarter - 1
        if weekly or not self._gives_anew(departure, by):
            return found
        # Whoever has a weekly rest on the way may still be over sooner.
        plain = self._used
        search, state = self._search(departure, watch, weekly=True)
        sooner = search.first(departure, state, None if found is None else by)
        self._used = self._used if sooner else plain
        return sooner or found

    def makes_it(self, departure: int, watch: Watch | None) -> bool:
        """Say whether a departure makes it."""
        weekly = self._needs_weekly_rests(departure)
        search, state = self._search(departure, watch, weekly=weekly)
        if search.makes_it(departure, state):
            return True
        if weekly or not self._gives_anew(departure, self._end_by):
            return False
        search, state = self._search(departure, watch, weekly=True)
        return search.makes_it(departure, state)

    def earliest_goal(self, departure: int, watch: Watch | None) -> int:
        """Give the quarter in which the goal is reached first by who leaves then."""
        weekly = self._needs_weekly_rests(departure) or self._gives_anew(departure, self._end_by)
        search, state = self._search(departure, watch, weekly=weekly)
        return search.earliest_goal(departure, state)

    def told(self, label: Label) -> Itinerary:
        """Give the itinerary of a label that was just found."""
        if self._used is None:
            raise RuntimeError("nothing was searched for")
        return itinerary_of(self.world, self._trip.rules, self._used, label)

    def _search(self, departure: int, watch: Watch | None, *, weekly: bool) -> tuple[Search, int]:
        law = law_of(self._rules, self._trip.drivers, weekly_rests=weekly)
        search = self._searches.get(weekly)
        if search is None:
            search = Search(self.world, machine_of(law), self._by, self._end_by)
            self._searches[weekly] = search
        machine = self._used = search.machine
        looked, of = self._by - departure, self._by - self._first
        search.told = None if watch is None else lambda: watch(looked, of)
        return search, machine.number(law.begin(self._trip.drivers, departure))

    def _needs_weekly_rests(self, departure: int) -> bool:
        """Say whether a weekly rest comes due."""
        ended = min(weekly_rest_ended(each, departure) for each in self._trip.drivers)
        return self._end_by - ended > self._rules.weekly_rest_after

    def _gives_anew(self, departure: int, by: int) -> bool:
        """Say whether a weekly rest fits in, and reduced rests besides that it has to give anew.

        It may itself have begun as a reduced one.
        """
        rules = self._rules
        spare = by - departure - self._least - rules.weekly_rest
        if spare < 0 or not rules.weekly_rest or not rules.reductions:
            return False
        used = max(each.reductions for each in self._trip.drivers)
        return used + 1 + spare // max(1, rules.reduced_rest) > rules.reductions


def _no_rest_in(stage: Stage) -> int:
    """Give quarters of a leg that can be no part of a weekly rest, at the least."""
    if stage.sort is Sort.FERRY:
        return 2 if stage.bunk else 2 + stage.shortest[0]
    return 0 if stage.sort is Sort.STAND else stage.quarters


def _counted(trip: Trip) -> HoursRules:
    """Give the rules without the limits of weeks where this journey can't reach them."""
    driving = sum(leg.quarters for leg in trip.journey.legs if isinstance(leg, Drive))
    rules = trip.rules
    for driver in trip.drivers:
        week = driver.week + driving
        if week > rules.drive_week or week + driver.week_before > rules.drive_fortnight:
            return rules
    return replace(rules, drive_week=NEVER, drive_fortnight=NEVER)

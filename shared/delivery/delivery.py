"""The question and its answers: which departures of a judged journey make its window."""

from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING

from shared.book import Book, Job, Journey, LegKind, Window
from shared.delivery.asked import Asked, asked_of
from shared.delivery.choices import Choice, choices_of, site_rules_of
from shared.delivery.composed import Way, composed
from shared.delivery.crew import Crew, joint_rules, riding_rules
from shared.delivery.judged import AT_SEA, goal_of, site_from
from shared.delivery.laid import Laid, Layer
from shared.delivery.lengths import roads_of
from shared.delivery.run import Run, Trouble
from shared.plan import Stretch
from shared.road.bans import BanNote, ban_notes
from shared.road.countback import Trip, departures, earliest_arrival, latest_departure, trouble_of
from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.quarters import QUARTER
from shared.road.rules import NEVER
from shared.road.search import Watch
from shared.units import ceil_to_step, floor_to_step, hours_up
from shared.worktime import Span, Spans, clip, union

if TYPE_CHECKING:
    from shared.book import Driving


def delivery_of(book: Book, job: Job, journey: Journey, window: Window) -> "Delivery":
    """Return the delivery of a judged journey; asked twice it is the same, with its answers.

    Kept in process, by what it depends on: workshop, site, window, journey and its equipment.

    Raises
    ------
    UnknownRules
        If a means or drive names rules that there are none of.
    """
    return _kept(asked_of(book, job, journey, window))


@lru_cache(maxsize=256)
def _kept(asked: Asked) -> "Delivery":
    return Delivery(asked)


class Delivery:
    """A judged journey to one window; nothing is searched before it is asked for.

    choices: in the order of means, then by what their sailings cost. All answers are kept.
    """

    def __init__(self, asked: Asked) -> None:
        """Read the choices; see `delivery_of`."""
        self.asked = asked
        self.choices: tuple[Choice, ...] = choices_of(asked)
        self._crew = Crew(asked)
        self._site = site_from(asked.journey)
        self._goal = goal_of(asked.journey)
        self._helped = _helped(asked.journey, self._site)
        self._latest: dict[Choice, Run | None] = {}
        self._runs: dict[tuple[Choice, datetime], Run | None] = {}
        self._times: dict[tuple[Choice, datetime], Spans] = {}
        self._laid: dict[tuple[Choice, Span], Laid | None] = {}

    def latest(
        self, choice: Choice, first: datetime | None = None, *, watch: Watch | None = None
    ) -> Run | None:
        """Return the run that leaves last of those in time, None if none from `first` on is.

        watch: told how far the search of the road is; what it raises ends the search.
        """
        if choice not in self._latest:
            found = self._find_latest(choice, watch)
            self._latest[choice] = found
            if found is not None:
                self._runs[choice, found.leaves] = found
        found = self._latest[choice]
        if found is None or (first is not None and found.leaves < first):
            return None
        return found

    def leaving(self, choice: Choice, at: datetime) -> Run | None:
        """Return the run that leaves at an instant, rounded up; it ends as early as it can.

        Be that after the window's end; None if it never gets there within `longest_days` and the
        site's hours.
        """
        key = choice, ceil_to_step(at)
        if key not in self._runs:
            self._runs[key] = self._find_leaving(*key)
        return self._runs[key]

    def departures(self, choice: Choice, first: datetime) -> Spans:
        """Return the departures in time, as spans with their gaps, earliest first.

        From `first` on, and no more than `longest_days` before the latest. Each on the grid stands
        for its quarter.
        """
        latest = self.latest(choice, first)
        if latest is None:
            return ()
        low = max(ceil_to_step(first), latest.leaves - self.asked.longest)
        key = choice, low
        if key not in self._times:
            self._times[key] = self._find_departures(choice, low, latest.leaves + QUARTER)
        return self._times[key]

    def site_by(self, choice: Choice) -> datetime | None:
        """Return the latest instant at the gate from which the rested people on site are in time.

        Where whoever drives works on site as well, they are as rested. None: never.
        """
        return self._crew.site_by(choice, self._site)

    def trouble(self, choice: Choice, first: datetime | None = None) -> Trouble | None:
        """Return why no departure from `first` on is in time, None if one is."""
        if self.latest(choice, first) is not None:
            return None
        if self.latest(choice) is not None:
            return Trouble.WINDOW_PAST
        return self._no_departure(choice)

    def ban_notes(self, run: Run) -> tuple[BanNote, ...]:
        """Return what is to be looked up about bans on the roads of a run, while it is on them."""
        roads = {
            road: None
            for leg in self.asked.journey.legs[: self.asked.home]
            if leg.kind is LegKind.DRIVE
            for _, road in roads_of(leg, 1)
        }
        return tuple(
            note
            for road in roads
            for note in ban_notes(road, run.choice.lorry, run.leaves, run.gate)
        )

    def _find_latest(self, choice: Choice, watch: Watch | None = None) -> Run | None:
        by, laid = self._by(choice), self._lorry(choice, self._crew.horizon)
        if by is None or laid is None:
            return None
        if not laid.legs:
            return self._run(choice, by, laid, None)
        trip, longest = self._trip(choice, laid), self._longest(choice, by)
        found = latest_departure(trip, by, longest=longest, watch=watch)
        if found is None:
            return None
        run = self._run(choice, found.departure, laid, found)
        if run is not None and run.kept:
            return run
        if choice.crew_rules is None or (run is None and self.asked.journey.travel):
            # Who can't be there for the last departure can't for one before it.
            return None
        joint = self._joint_latest(choice)
        low = by - self._longest(choice, by) if joint is None else joint.leaves + QUARTER
        return self._kept_before(choice, found.departure, low) or joint

    def _kept_before(self, choice: Choice, last: datetime, low: datetime) -> Run | None:
        """Return the last run in time that leaves before an instant, and not before another.

        Asked where the lorry alone would be in time, but not those who ride along or are helped:
        every departure for itself.
        """
        at = last - QUARTER
        while at >= low:
            run = self._apart(choice, at)
            if run is not None and run.kept:
                return run
            at -= QUARTER
        return None

    def _find_leaving(self, choice: Choice, at: datetime) -> Run | None:
        run = self._apart(choice, at)
        if self._rides(choice) and (run is None or not run.kept):
            return _sooner(run, self._joint_leaving(choice, at))
        return run

    def _apart(self, choice: Choice, at: datetime) -> Run | None:
        """Return the run in which the driver is at the gate as early as can be.

        From then on the people on site have what is left of their hours.
        """
        laid = self._lorry(choice, self._crew.horizon_at(at))
        if laid is None:
            return None
        if not laid.legs:
            return self._run(choice, at, laid, None)
        longest = self.asked.longest
        if choice.crew_rules is None:
            longest += self._crew.most_on_site(at)
        found = earliest_arrival(self._trip(choice, laid), at, longest=longest)
        return None if found is None else self._run(choice, at, laid, found)

    def _rides(self, choice: Choice) -> bool:
        """Say whether people ride along with a hired driver, and then work on site."""
        rides = self._crew.rides and choice.crew_rules is not None
        return rides and self._site < self.asked.home

    def _joint(self, choice: Choice, horizon: Span) -> tuple[Trip, Laid] | None:
        """Return road and site as one duty of all, for one driver and whoever rides along.

        The lorry may have to rest on the way for what is to be done on site, where its driver would
        not; then all keep the driver's hours until the end.
        """
        if not self._rides(choice) or choice.rules.drivers > 1:
            return None
        layer = Layer(asked=self.asked, horizon=horizon, choice=choice)
        laid = layer.lay(self.asked.journey.legs[: self.asked.home])
        if laid is None:
            return None
        trip = self._trip(choice, laid)
        return replace(trip, rules=joint_rules(choice.rules, site_rules_of(self.asked))), laid

    def _joint_latest(self, choice: Choice) -> Run | None:
        made = self._joint(choice, self._crew.horizon)
        if made is None:
            return None
        end = floor_to_step(self.asked.window.end)
        found = latest_departure(made[0], end, longest=self._longest(choice, end))
        return None if found is None else self._all_told(choice, made[1], found)

    def _joint_leaving(self, choice: Choice, at: datetime) -> Run | None:
        made = self._joint(choice, self._crew.horizon_at(at))
        if made is None:
            return None
        longest = self.asked.longest + self._crew.most_on_site(at)
        found = earliest_arrival(made[0], at, longest=longest)
        return None if found is None else self._all_told(choice, made[1], found)

    def _all_told(self, choice: Choice, laid: Laid, found: Itinerary) -> Run:
        """Return the run of an itinerary of road and site in one."""
        way = self._way(found.departure, laid.told(found))
        return composed(self.asked, choice, way, None)

    def _find_departures(self, choice: Choice, low: datetime, high: datetime) -> Spans:
        by, laid = self._by(choice), self._lorry(choice, self._crew.horizon)
        if by is None or laid is None:
            return ()
        if not laid.legs:
            return (Span(start=low, end=high),)
        found = clip(departures(self._trip(choice, laid), by, longest=by - low), low, high)
        if choice.crew_rules is None or not self._is_bound():
            return found
        return self._in_time(choice, found)

    def _in_time(self, choice: Choice, spans: Spans) -> Spans:
        """Give those departures of some for which the people on site are in time as well."""
        found: list[Span] = []
        for span in spans:
            at = span.start
            while at < span.end:
                run = self.leaving(choice, at)
                if run is not None and run.kept:
                    found.append(Span(start=at, end=at + QUARTER))
                at += QUARTER
        return union(found)

    def _is_bound(self) -> bool:
        """Say whether the lorry being there in time is not all that there is to it."""
        return self._crew.rides or bool(self._helped)

    def _by(self, choice: Choice) -> datetime | None:
        """Return by when the lorry's part has to be over, its people rested: a bound.

        None: the site part does not fit before the window's end.
        """
        end = floor_to_step(self.asked.window.end)
        by = self.site_by(choice)
        if choice.crew_rules is None or by is None:
            return None if by is None else end
        return self._crew.site_by(choice, self._site + self._helped)

    def _longest(self, choice: Choice, by: datetime) -> timedelta:
        """Return how long before that one may leave: `longest_days` before the gate."""
        gate = self.site_by(choice) or by
        return max(by - gate, timedelta()) + self.asked.longest

    def _numbers(self, choice: Choice) -> int:
        """Return the number of the first leg that is not the driver's."""
        return self.asked.home if choice.crew_rules is None else self._site + self._helped

    def _lorry(self, choice: Choice, horizon: Span) -> Laid | None:
        """Return the driver's part on the road; None if a leg has no sailing."""
        key = choice, horizon
        if key not in self._laid:
            layer = Layer(asked=self.asked, horizon=horizon, choice=choice)
            self._laid[key] = layer.lay(self.asked.journey.legs[: self._numbers(choice)])
        return self._laid[key]

    def _trip(self, choice: Choice, laid: Laid) -> Trip:
        """Return the driver's part; its rests are those of whoever rides along, too."""
        rules = choice.rules
        if self._rides(choice):
            rules = riding_rules(rules, site_rules_of(self.asked))
        return Trip(
            journey=laid.journey(choice.lorry, laid.until(self._goal)),
            drivers=self._drivers(choice),
            rules=rules,
        )

    def _drivers(self, choice: Choice) -> tuple[Driver, ...]:
        """Return the drivers as they stand; who is not told of is fresh."""
        known = [_driver(each) for each in choice.means.driving][: choice.rules.drivers]
        fresh = Driver(as_of=self.asked.window.start)
        return (*known, *[fresh] * (choice.rules.drivers - len(known)))

    def _run(self, choice: Choice, at: datetime, laid: Laid, found: Itinerary | None) -> Run | None:
        """Return the run of an itinerary of the driver's part, with those who work on site."""
        stretches = () if found is None else laid.told(found)
        way = self._way(at, stretches)
        if choice.crew_rules is not None and self._site < self.asked.home:
            there = self._crew.at_site(choice, way, self._helped)
            if there is None:
                return None
            way = replace(way, stretches=(*stretches, *there))
        travel = self._crew.travel(choice, way) if self.asked.journey.travel else None
        if travel is None and self.asked.journey.travel:
            return None
        return composed(self.asked, choice, way, travel)

    def _way(self, leaves: datetime, stretches: tuple[Stretch, ...]) -> Way:
        road = (each.end for each in stretches if each.leg < self._site)
        return Way(
            leaves=leaves, gate=max(road, default=leaves), stretches=stretches, site=self._site
        )

    def _no_departure(self, choice: Choice) -> Trouble:
        """Return why there is no departure at all."""
        if self._lacks_sailing(choice):
            return Trouble.NO_SAILING
        by, laid = self._by(choice), self._lorry(choice, self._crew.horizon)
        if by is None or laid is None:
            return Trouble.SITE_TOO_SHORT
        longest = self._longest(choice, by)
        trip = self._trip(choice, laid)
        if latest_departure(trip, by, longest=longest) is not None:
            return Trouble.CREW_HOURS
        if _has_sea(laid) and not _has_road(trip, by, longest):
            return Trouble.SAILING_MISSED
        why = trouble_of(trip, by, longest=longest)
        return Trouble.NO_DEPARTURE if why is None else Trouble(why.value)

    def _lacks_sailing(self, choice: Choice) -> bool:
        """Say whether a leg has no sailing that lands before the window's end."""
        start, end = self._crew.horizon.start, self.asked.window.end
        if start >= end:
            return True
        layer = Layer(asked=self.asked, horizon=Span(start=start, end=end), choice=choice)
        legs = self.asked.journey.legs[: self._numbers(choice)]
        return any(
            leg.kind in AT_SEA and layer.lay((leg,), at) is None for at, leg in enumerate(legs)
        )


def _sooner(one: Run | None, other: Run | None) -> Run | None:
    """Return which of two runs is over first, the one in time before one that is not."""
    if one is None or other is None:
        return other if one is None else one
    return min((one, other), key=lambda run: (not run.kept, run.end))


def _helped(journey: Journey, site: int) -> int:
    """Count the first legs at the site that a hired driver helps with."""
    count = 0
    for leg in journey.legs[site:]:
        if not leg.driver_helps:
            break
        count += 1
    return count


def _driver(told: "Driving") -> Driver:
    return Driver(
        as_of=told.as_of,
        reductions=told.reduced_rests,
        extensions=told.long_days,
        week=hours_up(told.week_hours),
        week_before=hours_up(told.week_before_hours),
        weekly_rest_ended=told.weekly_rest_ended,
    )


def _has_sea(laid: Laid) -> bool:
    return any(part.sailings for part in laid.parts)


def _has_road(trip: Trip, by: datetime, longest: timedelta) -> bool:
    """Say whether a lorry whose driver needs neither break nor rest would be there in time."""
    rules = replace(
        trip.rules,
        drivers=1,
        drive_unbroken=NEVER,
        drive_daily=NEVER,
        drive_extended=NEVER,
        drive_week=NEVER,
        drive_fortnight=NEVER,
        work_unbroken=NEVER,
        work_daily=NEVER,
        medium_work=NEVER,
        long_work=NEVER,
        rest_within=NEVER,
        weekly_rest_after=NEVER,
    )
    lorry = Trip(journey=trip.journey, drivers=trip.drivers[:1], rules=rules)
    return latest_departure(lorry, by, longest=longest) is not None

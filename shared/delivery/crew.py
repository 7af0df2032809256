"""Those who work on site: their hours from the gate on, and their own way there."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import Decimal

from shared.book import Leg, Means
from shared.delivery.asked import BEFORE_WINDOW, Asked
from shared.delivery.choices import Choice, regime_for, reserve_of, site_rules_of
from shared.delivery.composed import Travel, Way
from shared.delivery.judged import goal_of
from shared.delivery.laid import Laid, Layer
from shared.delivery.lengths import minutes_of
from shared.delivery.rests import on_duty
from shared.plan import Doing, Stretch
from shared.road.countback import Trip, earliest_arrival, latest_departure
from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.quarters import QUARTER
from shared.road.rules import NEVER, HoursRules, rule_set, with_reserve
from shared.trade.own import looked_up
from shared.units import floor_to_step, minutes_up
from shared.worktime import Span, Spans, union

_RESTED = -1
_STRIDE = timedelta(days=28)
_SLACK = timedelta(days=14)
# Where work on site is short of hours, two of a day are had at least; else it is given up.
_HOURS_A_DAY = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class _OwnWay:
    """A way to the site found: its itinerary, and the legs that it goes by."""

    itinerary: Itinerary
    laid: Laid


class Crew:
    """The people on site of a journey, who are not at the wheel of its lorry."""

    def __init__(self, asked: Asked) -> None:
        """Take over what is asked."""
        self._asked = asked
        self.rides = bool(asked.journey.crew) and not asked.journey.travel
        window, longest = asked.window, asked.longest
        self._start = window.start - longest - BEFORE_WINDOW
        self._length = (window.end - self._start) + longest + self._most(timedelta())
        self.horizon = Span(start=self._start, end=self._start + self._length)
        self._bys: dict[tuple[HoursRules, int], datetime | None] = {}

    def horizon_at(self, at: datetime) -> Span:
        """Return the stretch of time whose hours and sailings a departure may need.

        The same for departures near each other, so that what was searched serves again.
        """
        strides = -(-(at - self._asked.window.end) // _STRIDE)
        if strides < 1:
            return self.horizon
        start = self._start + (strides - 1) * _STRIDE
        return Span(start=start, end=start + self._length + _STRIDE)

    def most_on_site(self, gate: datetime) -> timedelta:
        """Return how long after an instant at the gate the work there may take."""
        return self._most(max(timedelta(), self._asked.window.start - gate))

    def site_by(self, choice: Choice, first: int) -> datetime | None:
        """Return the latest instant from which the site's legs from one on are in time.

        By people who are rested then; None: never. Where none is left, the window's end.
        """
        rules = choice.crew_rules or choice.rules
        key = rules, first
        if key not in self._bys:
            self._bys[key] = self._site_by(choice, rules, first)
        return self._bys[key]

    def at_site(self, choice: Choice, way: Way, helped: int) -> tuple[Stretch, ...] | None:
        """Return what they do from the end of the driver's part on, as early as they can.

        They were on duty since the lorry's last daily rest if they ride along, else they begin
        rested. The first `helped` legs they do when the driver does. None: they never get done.
        """
        rules = choice.crew_rules or choice.rules
        forced = _worked(way.stretches, way.site, way.site + helped)
        clock = on_duty(way.stretches, way.gate, rules.rest) if self.rides else _RESTED
        layer = Layer(asked=self._asked, horizon=self.horizon_at(way.leaves))
        laid = layer.lay(self._legs(way.site), way.site, forced)
        if laid is None:
            return None
        trip = self._trip(laid, rules, clock)
        found = earliest_arrival(trip, way.gate, longest=self.most_on_site(way.gate))
        if found is None:
            return None
        after = way.stretches[-1].end if way.stretches else way.leaves
        return tuple(each for each in laid.told(found) if each.start >= after)

    def travel(self, choice: Choice, way: Way) -> Travel | None:
        """Return their own way: the last that lets them do on site what the run has them do.

        Travel and site are one duty; where its rules don't allow for that, a daily rest lies
        between them. None: they are never there.
        """
        journey = self._asked.journey
        works = _worked(way.stretches, way.site, self._asked.home)
        begins = min((span.start for spans in works.values() for span in spans), default=way.gate)
        rules = self._travel_rules()
        layer = Layer(asked=self._asked, horizon=self.horizon_at(way.leaves))
        found = [self._on_one_duty(layer, rules, works), self._rested_there(layer, rules, begins)]
        ways = [each for each in found if each is not None]
        if not ways:
            return None
        best = max(ways, key=lambda each: each.itinerary.departure)
        count = len(journey.travel)
        taken = tuple(each for each in best.laid.told(best.itinerary) if each.leg < count)
        return Travel(
            leaves=best.itinerary.departure,
            stretches=taken,
            price=best.laid.fares(best.itinerary),
        )

    def _most(self, wait: timedelta) -> timedelta:
        quarters = sum(
            minutes_up(minutes_of(leg, self._asked.workshop, self._asked.pieces))
            for leg in self._legs(0)
        )
        cures = sum((leg.cure_hours or Decimal(0) for leg in self._legs(0)), Decimal(0))
        days = quarters // (4 * _HOURS_A_DAY)
        return wait + _SLACK + timedelta(days=days, hours=int(cures) + 1)

    def _legs(self, first: int) -> tuple[Leg, ...]:
        return self._asked.journey.legs[first : self._asked.home]

    def _site_by(self, choice: Choice, rules: HoursRules, first: int) -> datetime | None:
        end = floor_to_step(self._asked.window.end)
        goal = goal_of(self._asked.journey)
        legs = self._asked.journey.legs[first:goal]
        if not legs:
            return end
        laid = Layer(asked=self._asked, horizon=self.horizon, choice=choice).lay(legs, first)
        if laid is None:
            return None
        trip = self._trip(laid, rules, _RESTED)
        longest = end - self.horizon.start - self._asked.longest
        found = latest_departure(trip, end, longest=max(longest, timedelta()))
        return None if found is None else found.departure

    def _trip(self, laid: Laid, rules: HoursRules, clock: int) -> Trip:
        driver = Driver(as_of=self._asked.window.start, clock=clock)
        return Trip(journey=laid.journey(), drivers=(driver,) * rules.drivers, rules=rules)

    def _travel_rules(self) -> HoursRules:
        asked = self._asked
        vehicles = asked.vehicles(asked.journey.travel_vehicles)
        named = any(leg.rules is not None for leg in asked.journey.travel)
        if not vehicles and not named:
            return site_rules_of(asked)
        # Whoever goes there to work has other work than driving, with the workshop's own things.
        means = Means(id="", driven_by=asked.journey.crew, own_account=True)
        regime = regime_for(asked, vehicles, asked.journey.travel, means)
        return with_reserve(rule_set(regime.rules_id, looked_up(asked.workshop)), reserve_of(asked))

    def _on_one_duty(
        self, layer: Layer, rules: HoursRules, works: Mapping[int, Spans]
    ) -> _OwnWay | None:
        """Give the last way after which the work on site, as it is, is within one law with it."""
        travel = self._asked.journey.travel
        on_site = [(at, spans) for at, spans in sorted(works.items())]
        if not on_site:
            return None
        legs = (*travel, *(self._asked.journey.legs[at] for at, _ in on_site))
        forced = {len(travel) + n: spans for n, (_, spans) in enumerate(on_site)}
        laid = layer.lay(legs, 0, forced)
        end = on_site[-1][1][-1].end
        begins = on_site[0][1][0].start
        return self._last(laid, rules, end, (end - begins) + self._asked.longest)

    def _rested_there(self, layer: Layer, rules: HoursRules, begins: datetime) -> _OwnWay | None:
        laid = layer.lay(self._asked.journey.travel)
        return self._last(laid, rules, begins - rules.rest * QUARTER, self._asked.longest)

    def _last(
        self, laid: Laid | None, rules: HoursRules, by: datetime, longest: timedelta
    ) -> _OwnWay | None:
        if laid is None:
            return None
        found = latest_departure(self._trip(laid, rules, 0), by, longest=longest)
        return None if found is None else _OwnWay(itinerary=found, laid=laid)


def riding_rules(driver: HoursRules, crew: HoursRules) -> HoursRules:
    """Return a driver's rules with rests that are those of whoever rides along as well."""
    return replace(
        driver,
        rest=max(driver.rest, crew.rest),
        reduced_rest=max(driver.rest, crew.rest),
        reductions=0,
        rest_part=NEVER,
        rest_within=min(driver.rest_within, crew.rest_within),
        weekly_rest_after=min(driver.weekly_rest_after, crew.weekly_rest_after),
    )


def joint_rules(driver: HoursRules, crew: HoursRules) -> HoursRules:
    """Return rules that keep the hours of one driver and of those who ride along at once."""
    return replace(
        riding_rules(driver, crew),
        work_unbroken=min(driver.work_unbroken, crew.work_unbroken),
        break_counts=max(driver.break_counts, crew.break_counts),
        work_daily=min(driver.work_daily, crew.work_daily),
    )


def _worked(stretches: tuple[Stretch, ...], first: int, last: int) -> dict[int, Spans]:
    """Give when each leg from the first up to the last was worked on."""
    found: dict[int, list[Span]] = {}
    for each in stretches:
        if first <= each.leg < last and each.doing is Doing.WORK:
            found.setdefault(each.leg, []).append(Span(start=each.start, end=each.end))
    return {leg: union(spans) for leg, spans in found.items()}

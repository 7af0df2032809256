"""Hours of drivers and of people on site, and lorry bans, over the stretches of a trip.

Hired drivers are through with it at the gate, or after the first legs there that they help with;
from the gate on whoever works on site has a duty of their own. Who rides along has been on duty
since the lorry last stood for a daily rest; who goes there by themselves, since they left. People
of the workshop at the wheel work on site as well: all of it is theirs. The law itself is asked,
without what the plan keeps in reserve.
"""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from itertools import groupby

from scheduler.check import legs
from scheduler.check.clock import QUARTER, day_of, hours, iso, seconds, up
from scheduler.check.duties import at_the_wheel_again
from scheduler.check.held import rules_of
from scheduler.check.legs import Share, shares, things, wheel
from scheduler.check.means import means_of
from scheduler.check.regime import (
    Driven,
    as_bans_see,
    drives_of,
    roads_of,
    rules_named,
    rules_on_site,
    rules_that_apply,
)
from scheduler.check.road.acts import BREAKS_REST, RESTS
from scheduler.check.road.bans import first_banned
from scheduler.check.road.replay import hours as kept_hours
from scheduler.check.tell import Fact, of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Driving, EquipmentKind, Job, Journey, Leg, Means
from shared.ids import EquipmentId
from shared.plan import Doing, Stretch, Trip
from shared.road.bans import Road
from shared.road.driver import Driver
from shared.road.rules import HoursRules

_ONE_QUARTER = timedelta(seconds=QUARTER)
_IDLE = RESTS


def law(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    """Give the bans and the limits of hours that a judged trip breaks."""
    means = means_of(journey, trip)
    if means is None:
        return
    driven = _driven(world, trip, journey.legs[: legs.home_from(journey)], means, means.vehicles)
    yield from _bans(world, job, journey, driven, (journey.legs, trip.stretches))
    rules = _that_hold(world, driven)
    there = len(means.driven_by) or means.drivers
    if there and there < rules.drivers:
        yield of_step(Rule.WHEEL, job, journey, start=iso(seconds(trip.start)), rules=rules.id)
        return
    if means.driven_by:
        names = [world.people[one].name for one in means.driven_by if one in world.people]
        yield from _people(job, journey, _drivers(means, rules), rules, trip.stretches, names)
        yield from at_the_wheel_again(world, job, journey, trip, rules)
        return
    gate = gate_of(journey, trip)
    if means.drivers:
        yield from _people(
            job, journey, _drivers(means, rules), rules, _until_helped(journey, trip, gate)
        )
    yield from _on_site(world, job, journey, trip, gate)


def _driven(
    world: World,
    trip: Trip,
    over: Sequence[Leg],
    means: Means,
    vehicles: Sequence[EquipmentId],
) -> Driven:
    named = things(world, tuple(vehicles))
    return Driven(
        vehicles=tuple(each for each in named if each.kind is EquipmentKind.VEHICLE),
        drives=drives_of(over),
        means=means,
        day=day_of(seconds(trip.start), world.zone),
    )


def _that_hold(world: World, driven: Driven) -> HoursRules:
    rules = rules_of(world, rules_named(driven) or rules_that_apply(world, driven))
    assert rules is not None, "asked of known rules only"
    return rules


def _drivers(means: Means, rules: HoursRules) -> tuple[Driver, ...]:
    """Return the drivers as they stand; of whom nothing is told is fresh from a weekly rest."""
    known = [_driver(told) for told in means.driving[: rules.drivers]]
    fresh = Driver(as_of=datetime.max.replace(tzinfo=UTC))
    return (*known, *(fresh,) * (rules.drivers - len(known)))


def _driver(told: Driving) -> Driver:
    return Driver(
        as_of=told.as_of,
        reductions=told.reduced_rests,
        extensions=told.long_days,
        week=up(hours(told.week_hours)),
        week_before=up(hours(told.week_before_hours)),
        weekly_rest_ended=told.weekly_rest_ended,
    )


def gate_of(journey: Journey, trip: Trip) -> datetime:
    """Return when the lorry is at the site: what it does before is over."""
    site = legs.site_from(journey)
    ends = [each.end for each in trip.stretches if each.leg < site and each.doing not in _IDLE]
    return max(ends, default=trip.start)


def _until_helped(journey: Journey, trip: Trip, gate: datetime) -> list[Stretch]:
    """Return what the driver does: up to the gate, or to the end of the legs they help with."""
    site = last = legs.site_from(journey)
    while last < len(journey.legs) and journey.legs[last].driver_helps:
        last += 1
    worked = [e.end for e in trip.stretches if site <= e.leg < last and e.doing is Doing.WORK]
    end = max(worked, default=gate)
    return [each for each in trip.stretches if each.end <= end]


def _on_site(
    world: World, job: Job, journey: Journey, trip: Trip, gate: datetime
) -> Iterator[Breach]:
    """Give the limits that whoever works on site passes, on their way there or since."""
    site = [each for each in trip.stretches if each.start >= gate]
    worked = [each for each in site if each.doing not in _IDLE]
    if not worked:
        return
    rules = rules_of(world, rules_on_site(world, job.site.country))
    assert rules is not None, "a rule set of the program"
    if journey.travel and trip.travel:
        yield from _own_way(world, job, journey, trip, site)
        return
    rides = bool(journey.crew) and not journey.travel
    clock = _on_duty(trip, gate, rules.rest) if rides else -1
    # Riding along is no work: who did so for longer than a duty rests before anything else.
    clock = min(clock, rules.rest_within - rules.rest)
    yield from _people(job, journey, (Driver(as_of=gate, clock=clock),), rules, site)


def _on_duty(trip: Trip, gate: datetime, rest: int) -> int:
    """Return the quarters from the end of the lorry's last daily rest to the gate."""
    began = trip.start
    before = [each for each in trip.stretches if each.end <= gate]
    for at_rest, group in groupby(before, key=lambda one: one.doing in RESTS | BREAKS_REST):
        run = list(group)
        net = sum((e.end - e.start for e in run if e.doing in RESTS), timedelta())
        if at_rest and net >= rest * _ONE_QUARTER:
            began = run[-1].end
    return (gate - began) // _ONE_QUARTER or -1


def _own_way(
    world: World, job: Job, journey: Journey, trip: Trip, site: list[Stretch]
) -> Iterator[Breach]:
    """Give the bans and limits of the crew's own way, one duty with what they do on site."""
    means = Means(id="", driven_by=journey.crew, own_account=True)
    driven = _driven(world, trip, journey.travel, means, journey.travel_vehicles)
    yield from _bans(world, job, journey, driven, (journey.travel, trip.travel))
    if driven.vehicles or rules_named(driven):
        rules = _that_hold(world, driven)
    else:
        found = rules_of(world, rules_on_site(world, job.site.country))
        assert found is not None, "a rule set of the program"
        rules = found
    drivers = (Driver(as_of=trip.travel[0].start),) * rules.drivers
    yield from _people(job, journey, drivers, rules, _one_way(trip.travel, site))


def _one_way(travel: Sequence[Stretch], site: Sequence[Stretch]) -> list[Stretch]:
    """Return the way and the work without a gap: who is there early waits, and rests."""
    begins = next(each.start for each in site if each.doing not in _IDLE)
    there = travel[-1].end
    waits = Stretch(doing=Doing.REST, leg=travel[-1].leg, start=there, end=begins)
    later = [each for each in site if each.start >= begins]
    return [*travel, *([waits] if there < begins else []), *later]


def _people(
    job: Job,
    journey: Journey,
    drivers: tuple[Driver, ...],
    rules: HoursRules,
    stretches: Sequence[Stretch],
    names: Sequence[str] = (),
) -> Iterator[Breach]:
    for found in kept_hours(drivers, rules, stretches) if stretches else ():
        start = iso(seconds(found.at))
        if found.limit is None:
            yield of_step(Rule.WHEEL, job, journey, start=start, rules=rules.id)
            return
        yield of_step(
            Rule.DRIVING,
            job,
            journey,
            driver=_name(names, found.driver, rules.drivers),
            start=start,
            limit=found.limit.value,
            rules=rules.id,
            figure=found.rule or None,
        )


def _name(names: Sequence[str], driver: int, count: int) -> str | None:
    """Return who a driver is: by name, by number of two, None of one that is hired."""
    if driver <= len(names):
        return names[driver - 1]
    return str(driver) if count > 1 else None


def _bans(
    world: World,
    job: Job,
    journey: Journey,
    driven: Driven,
    way: tuple[Sequence[Leg], Sequence[Stretch]],
) -> Iterator[Breach]:
    """Give the wheels that turn where and when they may not."""
    over, stretches = way
    lorry = as_bans_see(world, driven)
    if not roads_of(driven.drives):
        return
    for each in stretches:
        leg = over[each.leg] if 0 <= each.leg < len(over) else None
        if each.doing is not Doing.DRIVE or leg is None:
            continue
        share = _share(world, leg, each)
        _, country, subdivision, listed, area = share
        road = Road(country=country, subdivision=subdivision, listed=listed, area=area)
        found = first_banned(road, lorry, each.start, each.end)
        if found is not None:
            facts: dict[str, Fact] = {"country": share.country, "figure": found.rule}
            name, number = leg.name or leg.kind.value, each.leg + 1
            start = iso(seconds(found.at))
            yield of_step(Rule.BAN, job, journey, leg=name, number=number, start=start, **facts)


def _share(world: World, leg: Leg, each: Stretch) -> Share:
    cut = shares(leg, wheel(world, leg))
    return cut[each.share] if 0 <= each.share < len(cut) else cut[-1]

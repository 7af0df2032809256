"""What a leg of a journey takes, when it may happen, and what sails: read from the book."""

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from scheduler.check.clock import DAY, day_after, day_of, hours, instant, midnight, seconds
from scheduler.check.clock import down as floor
from scheduler.check.clock import up as ceil
from scheduler.check.openings import Pairs, common, inside
from scheduler.check.world import World
from shared.book import ON_SITE, Equipment, Job, Journey, Leg, LegKind, Means, Timetable
from shared.ids import EquipmentId
from shared.trade.defaults import USUAL_LEG, USUAL_LEG_PER_PIECE
from shared.trade.own import looked_up
from shared.worktime import HolidayRule, WorkCalendar, local_instant, open_spans

LONGEST_LEG = 120 * DAY

_IN_ONE = frozenset({LegKind.LIFT, LegKind.INSPECT, LegKind.SIGN_OFF, LegKind.BORDER})
_SHORT_CROSSING = 150 * 60
_A_SUMMER_DAY = date(2027, 6, 1)


class Share(NamedTuple):
    """Quarters at the wheel on the roads of a country, as bans see them."""

    quarters: int
    country: str
    subdivision: str | None
    listed: bool | None = None
    area: str | None = None


class Ship(NamedTuple):
    """When it leaves and arrives, and by when one has to be there, in seconds."""

    leaves: int
    arrives: int
    check_in: int


def is_judged(journey: Journey) -> bool:
    """Return whether a journey is held against drivers' hours."""
    return any(means.rules for means in journey.means) or any(
        leg.kind is LegKind.DRIVE and is_driven(leg) for leg in (*journey.legs, *journey.travel)
    )


def is_driven(leg: Leg) -> bool:
    """Return whether a leg says how long the wheel is held, or by which rules."""
    told = (leg.rules, leg.driving_minutes, leg.distance_km)
    return any(each is not None for each in told)


def home_from(journey: Journey) -> int:
    """Return how many legs come before the way home."""
    count = len(journey.legs)
    while count and journey.legs[count - 1].kind is LegKind.RETURN:
        count -= 1
    return count


def site_from(journey: Journey) -> int:
    """Return how many legs come before the first at the site."""
    home = home_from(journey)
    for number, leg in enumerate(journey.legs[:home]):
        if leg.kind in ON_SITE:
            return number
    return home


def is_in_one(leg: Leg) -> bool:
    """Return whether a judged leg lies in one opening from beginning to end."""
    if leg.slots or leg.kind in _IN_ONE:
        return True
    return not (leg.inside or leg.kind in ON_SITE)


def pauses(leg: Leg) -> bool:
    """Return whether a leg without drivers' hours goes on from one opening to the next."""
    return not leg.slots and (leg.inside or leg.kind in ON_SITE)


def needed(world: World, job: Job, journey: Journey, leg: Leg) -> int:
    """Return the quarters of a leg that is neither at the wheel nor at sea."""
    if leg.kind is LegKind.RETURN:
        return _home(world, leg)
    if leg.person_hours is not None:
        hands = max(1, leg.hands or 1)
        loss = Fraction(world.book.workshop.pair_loss_percent) / 100
        exact = Fraction(leg.person_hours) * (1 + loss * (hands - 1)) / hands
        return ceil(_whole(exact * 3600))
    if leg.minutes:
        return ceil(leg.minutes * 60)
    return ceil(_whole(_usual(world, job, journey, leg) * 60))


def _usual(world: World, job: Job, journey: Journey, leg: Leg) -> Fraction:
    """Return the minutes that a leg takes for which none are written."""
    look = looked_up(world.book.workshop)
    if leg.kind in USUAL_LEG:
        return sum((Fraction(look(each).amount) for each in USUAL_LEG[leg.kind]), Fraction())
    if leg.kind in USUAL_LEG_PER_PIECE:
        row = look(USUAL_LEG_PER_PIECE[leg.kind])
        pieces = max(1, len(world.segments_of(job, journey)))
        return Fraction(row.amount) * pieces * (1 if row.unit == "min" else 60)
    return Fraction()


def _whole(exact: Fraction) -> int:
    return -(-exact.numerator // exact.denominator)


def wheel(world: World, leg: Leg) -> int:
    """Return the quarters at the wheel of a drive, at least one."""
    if leg.driving_minutes is not None:
        return max(1, ceil(leg.driving_minutes * 60))
    if leg.distance_km is None:
        return max(1, ceil(leg.minutes * 60))
    speed = leg.speed_kmh or looked_up(world.book.workshop)("TR22b").amount
    return max(1, _whole(Fraction(leg.distance_km) / Fraction(speed) * 4))


def _home(world: World, leg: Leg) -> int:
    """Return the quarters of a leg of the way home, the least breaks and rests with it."""
    if leg.driving_minutes is None and leg.distance_km is None:
        return ceil(leg.minutes * 60)
    look = looked_up(world.book.workshop)
    driven = wheel(world, leg)
    nights = (driven - 1) // int(look("DR02a").amount * 4)
    breaks = (driven - 1) // int(look("DR01a").amount * 4) - nights
    return (
        driven
        + nights * int(look("DR04a").amount * 4)
        + breaks * ceil(int(look("DR01b").amount * 60))
    )


def shares(leg: Leg, quarters: int) -> list[Share]:
    """Return the roads of a drive in their order, cut by percent; those with nothing too."""
    if not leg.shares:
        return [Share(quarters, leg.country or "", None)]
    found, before, percent = [], 0, Fraction()
    for number, share in enumerate(leg.shares, 1):
        percent += Fraction(share.percent)
        upto = min(quarters, _whole(percent * quarters / 100))
        upto = quarters if number == len(leg.shares) else max(before, upto)
        road = (share.country, share.subdivision, share.listed, share.area)
        found.append(Share(upto - before, *road))
        before = upto
    return found


def cure(leg: Leg) -> int:
    """Return the quarters that must pass after a leg before the next."""
    return 0 if leg.cure_hours is None else ceil(hours(leg.cure_hours))


def own_hours(job: Job, leg: Leg, start: int, end: int) -> Pairs | None:
    """Return a leg's opening hours between two seconds, None where it has none.

    They don't hold on public holidays of its country.
    """
    if not leg.opens:
        return None
    holidays = None if leg.country is None else HolidayRule(country=leg.country)
    calendar = WorkCalendar(zone=leg.zone or job.site.zone, shifts=leg.opens, holidays=holidays)
    return inside(open_spans(calendar, instant(start), instant(end)))


def access(job: Job, leg: Leg, start: int, end: int) -> Pairs | None:
    """Return when a leg inside the window may happen, None for any other; it may be late."""
    window = job.held_window
    if not leg.inside or window is None:
        return None
    first = max(start, seconds(window.start))
    if first >= end:
        return ()
    if not window.access:
        return ((ceil(first), floor(end)),)
    calendar = WorkCalendar(zone=job.site.zone, shifts=window.access)
    begin = first - 2 * DAY
    found = inside(open_spans(calendar, instant(begin), instant(end)))
    return common(found, ((ceil(first), floor(end)),))


def blocked(job: Job, leg: Leg) -> list[tuple[int, int, str]]:
    """Return the quarters in which others have the site, and who."""
    window = job.held_window
    if not leg.inside or window is None:
        return []
    return [
        (floor(seconds(each.start)), ceil(seconds(each.end)), each.name)
        for each in window.blocked
        if each.start < each.end
    ]


def slots(leg: Leg) -> Pairs | None:
    """Return the slots of a leg, None where it has none."""
    if not leg.slots:
        return None
    pairs = ((ceil(seconds(each.start)), floor(seconds(each.end))) for each in leg.slots)
    return tuple(sorted(pair for pair in pairs if pair[0] < pair[1]))


def openings(world: World, job: Job, leg: Leg, start: int, end: int) -> Pairs | None:
    """Return when a leg may happen between two seconds, all told, None for at any time."""
    parts = [own_hours(job, leg, start, end), access(job, leg, start, end), slots(leg)]
    known = [part for part in parts if part is not None]
    shut = [(a, b) for a, b, _ in blocked(job, leg)]
    shut += [pair for thing in things(world, leg.equipment) for pair in _taken(world, thing)]
    if not known and not shut:
        return None
    found: Pairs = ((ceil(start), floor(end)),)
    for part in known:
        found = common(found, part)
    return common(found, _between(sorted(shut), ceil(start), floor(end))) if shut else found


def _between(shut: list[tuple[int, int]], start: int, end: int) -> Pairs:
    """Return what is left of a stretch between those that are shut, in order."""
    found, at = [], start
    for closes, opens in shut:
        if at < closes:
            found.append((at, min(closes, end)))
        at = max(at, opens)
    return tuple(pair for pair in (*found, (at, end)) if pair[0] < pair[1])


def things(world: World, names: tuple[EquipmentId, ...]) -> list[Equipment]:
    """Return the equipment of some names that the book has, each once."""
    return [world.equipment[name] for name in dict.fromkeys(names) if name in world.equipment]


def _taken(world: World, thing: Equipment) -> Iterator[tuple[int, int]]:
    """Give the quarters in which equipment may not be used, or all of it is booked."""
    if thing.usable_from is not None:
        yield -(10**9), ceil(midnight(thing.usable_from, world.zone))
    last = [day for day in (thing.usable_until, thing.test_due) if day is not None]
    if last:
        yield floor(midnight(day_after(min(last)), world.zone)), 10**9
    spans = [(seconds(each.start), seconds(each.end)) for each in thing.bookings]
    edges = sorted({edge for span in spans for edge in span if span[0] < span[1]})
    for low, high in pairwise(edges):
        if sum(a <= low and high <= b for a, b in spans) >= thing.count:
            yield floor(low), ceil(high)


def ships(leg: Leg, check_in: int, start: int, end: int) -> list[Ship]:
    """Return what leaves between two seconds; `check_in` minutes where a timetable has none."""
    found = [
        Ship(
            seconds(each.leaves),
            seconds(each.arrives),
            seconds(each.leaves) - 60 * each.check_in_minutes,
        )
        for each in leg.departures
    ]
    for table in leg.timetable:
        found += _recurring(table, check_in, start, end)
    return [one for one in found if start <= one.leaves < end and one.leaves < one.arrives]


def _recurring(table: Timetable, check_in: int, start: int, end: int) -> Iterator[Ship]:
    usual = table.check_in_minutes
    ahead = 60 * (check_in if usual is None else usual)
    day, last = day_of(start, table.zone), day_of(end, table.zone)
    while day <= last:
        early = table.first is not None and day < table.first
        late = table.last is not None and day > table.last
        if day.isoweekday() in table.weekdays and not early and not late:
            lands = day + timedelta(days=table.days_later)
            there = table.arrives_zone or table.zone
            leaves = seconds(local_instant(day, table.leaves, table.zone, opening=True))
            arrives = seconds(local_instant(lands, table.arrives, there, opening=False))
            yield Ship(leaves, arrives, leaves - ahead)
        day = day_after(day)


def usual_check_in(world: World, job: Job, journey: Journey, number: int, means: Means) -> int:
    """Return the minutes before a sailing where its timetable says none.

    A trailer that nobody drives is dropped some hours before; a short crossing over the border of
    Great Britain takes the longest time, all others the usual one.
    """
    look = looked_up(world.book.workshop)
    if not means.drivers:
        return int(look("TR15b").amount * 60)
    before, after = _shores(world, job, journey, number)
    border = "GB" in (before, after) and before != after and None not in (before, after)
    tables = journey.legs[number].timetable
    if border and tables and all(_is_short(each) for each in tables):
        return int(look("TR15c").most or 0)
    return plain_check_in(world)


def plain_check_in(world: World) -> int:
    """Return the usual minutes before a sailing."""
    return int(looked_up(world.book.workshop)("TR15").amount)


def _shores(world: World, job: Job, journey: Journey, number: int) -> tuple[str | None, str | None]:
    """Return the countries of the roads before and after a leg."""
    before: str | None = world.book.workshop.country
    after: str | None = job.site.country
    for leg in journey.legs[:number]:
        if leg.kind is LegKind.DRIVE:
            before = leg.shares[-1].country if leg.shares else leg.country
    for leg in reversed(journey.legs[number + 1 :]):
        if leg.kind is LegKind.DRIVE:
            after = leg.shares[0].country if leg.shares else leg.country
    return before, after


def _is_short(table: Timetable) -> bool:
    """Return whether a crossing takes no longer than two and a half hours, by summer time."""
    lands = _A_SUMMER_DAY + timedelta(days=table.days_later)
    there = table.arrives_zone or table.zone
    leaves = seconds(local_instant(_A_SUMMER_DAY, table.leaves, table.zone, opening=True))
    arrives = seconds(local_instant(lands, table.arrives, there, opening=True))
    return arrives - leaves <= _SHORT_CROSSING

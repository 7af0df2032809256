"""The last days of a job to the hour, in the site's zone. No Qt."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.countback.duty import Duty, duties
from app.window.countback.one_job import OneJob
from app.window.wall.items import Piece, instant_at, minute_of
from app.words import Words, moments
from app.words import countback_view as say
from app.words import deliver as delivering
from app.words import window as wording
from shared.asking.countries import country_named
from shared.book import Gate, GateKind, Journey, Leg, LegKind
from shared.plan import Because, Doing
from shared.worktime import local_instant

if TYPE_CHECKING:
    from shared.plan import LegTime, Trip
    from shared.plan import Stretch as Done

NIGHT_FROM, NIGHT_TO = time(20), time(6)
"""Between these hours of the site's clock nobody is asked to work: common practice, no source."""
_MARGIN_MINUTES = 3 * 60
_BEFORE_MINUTES = 24 * 60
"""No more than so long before leaving is drawn: what stands loaded for weeks is told in words."""
_MOST_DAYS = 9
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A part of the last days, in minutes since 1970.

    leg: None for loading, for standing loaded (`is_wait`) and for what nobody works in within a
    leg (`is_rest`): rest, break, shut, curing. who: who is with it. is_late: it ends past the
    window.
    """

    id: str
    start: int
    end: int
    name: str
    span: str
    who: str
    leg: LegKind | None = None
    is_wait: bool = False
    is_rest: bool = False
    is_inside: bool = False
    is_late: bool = False

    @property
    def text(self) -> str:
        """Return it as it is read out."""
        return " ".join(f"{each}." for each in (self.name, self.span, self.who) if each)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """An hour on the axis; day: the date in words where it is midnight, else ""."""

    minute: int
    hour: int
    day: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LastDays:
    """What happens from loading to the sign-off.

    window: None where none is held. nights: shaded. open: when the site may be entered. zone_line:
    whose clock it is. duties: the days of the crew.
    """

    first: int
    last: int
    stretches: tuple[Stretch, ...]
    nights: tuple[Piece, ...]
    ticks: tuple[Tick, ...]
    window: Piece | None
    open: tuple[Piece, ...]
    zone_line: str
    duties: tuple[Duty, ...] = ()


def last_days(one: OneJob, words: Words) -> LastDays | None:
    """Return the last days of a job, None where no journey of it is planned."""
    stretches = tuple(_stretches(one, words))
    if not any(each.leg is not None for each in stretches):
        return None
    ends = [each.end for each in stretches]
    window = one.band.window
    if window is not None:
        ends.append(window.end)
    leaves = min(each.start for each in stretches if each.leg is not None)
    first = max(min(each.start for each in stretches), leaves - _BEFORE_MINUTES) - _MARGIN_MINUTES
    last = min(max(ends) + _MARGIN_MINUTES, first + _MOST_DAYS * 24 * 60)
    zone = one.job.site.zone
    return LastDays(
        first=first,
        last=last,
        stretches=tuple(each for each in stretches if each.end > first),
        nights=tuple(_nights(first, last, zone)),
        ticks=tuple(_ticks(first, last, zone, words)),
        window=None if window is None else (window.start, window.end),
        open=one.band.access,
        zone_line=_zone_line(one, words),
        duties=duties(one, first, last, words),
    )


def _zone_line(one: OneJob, words: Words) -> str:
    """Return whose clock it is, by its place where that isn't the workshop's."""
    zone, held = one.job.site.zone, one.job.held_window
    here = ZoneInfo(one.shown.book.workshop.zone)
    at = one.shown.now if held is None else held.start
    if at.astimezone(ZoneInfo(zone)).utcoffset() == at.astimezone(here).utcoffset():
        return words.say(say.SITE_TIME, site=one.job.site.name)
    place = zone.rpartition("/")[2].replace("_", " ")
    return words.say(say.SITE_TIME_ZONE, site=one.job.site.name, place=place)


def _stretches(one: OneJob, words: Words) -> Iterator[Stretch]:
    trips = {trip.step: trip for trip in one.plan.trips} if one.plan else {}
    journeys = [s for s in one.job.steps if isinstance(s, Journey) and s.id in trips]
    if not journeys:
        return
    loaded = None
    for stretch in _loadings(one, words):
        loaded = max(loaded or 0, stretch.end)
        yield stretch
    for step in journeys:
        trip = trips[step.id]
        leaves = minute_of(trip.start)
        if loaded is not None and loaded < leaves:
            yield _stood(one, words, step, loaded, leaves)
        yield from _legs(one, words, step, trip)


def _loadings(one: OneJob, words: Words) -> Iterator[Stretch]:
    loads = {s.id for s in one.job.steps if isinstance(s, Gate) and s.gate is GateKind.LOADING}
    for placed in one.plan.placements if one.plan else ():
        if placed.step in loads and not placed.part:
            yield Stretch(
                id=f"load {placed.step}",
                start=minute_of(placed.start),
                end=minute_of(placed.end),
                name=words.names.bare_step(placed.step),
                span=_span(one, words, placed.start, placed.end),
                who=words.series(words.names.of("person", person) for person in placed.people),
            )


def _stood(one: OneJob, words: Words, step: Journey, start: int, end: int) -> Stretch:
    return Stretch(
        id=f"stood {step.id}",
        start=start,
        end=end,
        name=words.say(say.STANDS_LOADED, hours=words.elapsed(end - start)),
        span=_span(one, words, instant_at(start), instant_at(end)),
        who="",
        is_wait=True,
    )


def _legs(one: OneJob, words: Words, step: Journey, trip: "Trip") -> Iterator[Stretch]:
    crew = words.series(words.names.of("person", person) for person in step.crew)
    window = one.band.window
    for index, (leg, at) in enumerate(zip(step.legs, trip.legs, strict=False)):
        if leg.kind is LegKind.RETURN:
            continue
        yield Stretch(
            id=f"leg {step.id} {index}",
            start=minute_of(at.start),
            end=minute_of(at.end),
            name=leg.name or wording.leg(words, leg.kind),
            span=_span(one, words, at.start, at.end),
            who=leg.by or crew,
            leg=leg.kind,
            is_inside=leg.inside,
            is_late=window is not None and minute_of(at.end) > window.end,
        )
    yield from _rests(one, words, step, trip)


def _rests(one: OneJob, words: Words, step: Journey, trip: "Trip") -> Iterator[Stretch]:
    """Give what is rest or wait within the legs, and what lies between two of them."""
    for index, each in enumerate(trip.stretches):
        if each.doing in {Doing.REST, Doing.STAND} and each.start < each.end:
            name = _rest_name(words, step.legs[each.leg], each)
            yield _rest(one, words, f"rest {step.id} {index}", name, each)
    for index, (before, after) in enumerate(pairwise(trip.legs)):
        if before.end < after.start:
            gap = replace(before, start=before.end, end=after.start)
            hours = words.elapsed(minute_of(gap.end) - minute_of(gap.start))
            name = words.say(delivering.WAITS[None], hours=hours)
            yield _rest(one, words, f"gap {step.id} {index}", name, gap)


def _rest(one: OneJob, words: Words, identity: str, name: str, at: "Done | LegTime") -> Stretch:
    return Stretch(
        id=identity,
        start=minute_of(at.start),
        end=minute_of(at.end),
        name=name,
        span=_span(one, words, at.start, at.end),
        who="",
        is_rest=True,
    )


def _rest_name(words: Words, leg: Leg, each: "Done") -> str:
    hours = words.elapsed(minute_of(each.end) - minute_of(each.start))
    code = leg.shares[each.share].country if each.share < len(leg.shares) else leg.country
    country = None if code is None else country_named(code)
    place = code or "" if country is None else country.name
    facts: dict[str, object] = {"hours": hours, "country": place}
    if each.doing is Doing.STAND:
        return delivering.doing_line(words, each.doing, leg, facts)
    if each.because is Because.CLOSED:
        return delivering.closed_line(words, leg, hours, "")
    return words.say(delivering.WAITS[each.because], **facts)


def _span(one: OneJob, words: Words, start: datetime, end: datetime) -> str:
    """Return hours by the site's clock, a day only where it ends on another."""
    zone = ZoneInfo(one.job.site.zone)
    first, last = start.astimezone(zone), end.astimezone(zone)
    begun = moments.clock(words, first)
    ended = moments.clock(words, last)
    if first.date() != last.date():
        ended = wording.short_moment_bare(words, end, one.job.site.zone)
    return words.say(say.FROM_TO, start=begun, end=ended)


def _days(first: int, last: int, zone: str) -> Iterator[date]:
    day = instant_at(first).astimezone(ZoneInfo(zone)).date() - _ONE_DAY
    while day <= instant_at(last).astimezone(ZoneInfo(zone)).date():
        yield day
        day += _ONE_DAY


def _nights(first: int, last: int, zone: str) -> Iterator[Piece]:
    for day in _days(first, last, zone):
        start = minute_of(local_instant(day, NIGHT_FROM, zone, opening=True))
        end = minute_of(local_instant(day + _ONE_DAY, NIGHT_TO, zone, opening=True))
        if start < last and end > first:
            yield max(start, first), min(end, last)


def _ticks(first: int, last: int, zone: str, words: Words) -> Iterator[Tick]:
    """Give every hour that the site's clock shows; one that it leaves out is left out."""
    for day in _days(first, last, zone):
        for hour in range(24):
            minute = minute_of(local_instant(day, time(hour), zone, opening=True))
            is_shown = instant_at(minute).astimezone(ZoneInfo(zone)).hour == hour
            if is_shown and first <= minute < last:
                text = wording.short_day(words, day) if hour == 0 else ""
                yield Tick(minute=minute, hour=hour, day=text)

"""A journey held to drivers' hours: every stretch of it against its legs and against the law.

The stretches of a trip follow each other from its start to its end, leg after leg. A drive has
its quarters at the wheel, road by road; a ferry is boarded in the quarter before it leaves and
left in the one after it arrives; all other work has its length inside its hours.
"""

from collections.abc import Iterator
from datetime import datetime

from scheduler.check import legs
from scheduler.check.clock import DAY, QUARTER, hours, is_on_grid, iso, seconds
from scheduler.check.law import gate_of, law
from scheduler.check.means import means_of
from scheduler.check.openings import Openings, Pairs
from scheduler.check.own_way import own_way
from scheduler.check.sailed import IDLE, is_on, pair_of, quarters_of
from scheduler.check.tell import Fact, of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import AT_SEA, Job, Journey, Leg, LegKind, Means
from shared.plan import Doing, LegTime, Stretch, Trip

_MINUTES = 15
_USUAL_DAYS = 7


def judged(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    """Give what is wrong with a trip that is held to drivers' hours."""
    trial = _Trial(world, job, journey, trip)
    broken = list(trial.order())
    yield from broken
    if broken:
        return
    yield from trial.times()
    for number in range(trial.home):
        yield from trial.leg(number)
    yield from trial.longest()
    yield from own_way(world, job, journey, trip)
    yield from law(world, job, journey, trip)


class _Trial:
    """One trip, its stretches by leg."""

    def __init__(self, world: World, job: Job, journey: Journey, trip: Trip) -> None:
        self.world, self.job, self.journey, self.trip = world, job, journey, trip
        self.home = legs.home_from(journey)
        self.means = means_of(journey, trip) or Means(id="")
        self.by_leg: dict[int, list[Stretch]] = {number: [] for number in range(self.home)}
        for each in trip.stretches:
            self.by_leg.setdefault(each.leg, []).append(each)

    def order(self) -> Iterator[Breach]:
        """Give the stretches that don't follow each other, leg after leg, start to end."""
        now, leg = self.trip.start, 0
        for each in self.trip.stretches:
            in_order = leg <= each.leg < self.home and is_on_grid(each.start)
            if each.start != now or each.end <= each.start or not in_order:
                yield self._stretch(each.start, each.end, now)
                return
            now, leg = each.end, each.leg
        if now != self.trip.end or (self.home and not self.trip.stretches):
            yield self._stretch(self.trip.start, self.trip.end, now)

    def _stretch(self, start: datetime, end: datetime, expected: datetime) -> Breach:
        facts = {"start": iso(seconds(start)), "end": iso(seconds(end))}
        return of_step(
            Rule.STRETCH, self.job, self.journey, expected=iso(seconds(expected)), **facts
        )

    def _told(self, number: int, rule: Rule, **facts: Fact) -> Breach:
        leg = self.journey.legs[number]
        name = leg.name or leg.kind.value
        return of_step(rule, self.job, self.journey, leg=name, number=number + 1, **facts)

    def _active(self, number: int) -> list[Stretch]:
        return [each for each in self.by_leg[number] if each.doing not in IDLE]

    def times(self) -> Iterator[Breach]:
        """Give the legs whose times are not those of their stretches, or of the way home."""
        at = seconds(self.trip.start)
        for number, leg in enumerate(self.journey.legs):
            if number < self.home:
                active = self._active(number)
                end = seconds(active[-1].end) if active else at
            else:
                end = at + QUARTER * legs.needed(self.world, self.job, self.journey, leg)
            planned = self.trip.legs[number] if number < len(self.trip.legs) else None
            if planned is None or (seconds(planned.start), seconds(planned.end)) != (at, end):
                yield self._time(number, planned, end)
            at = end
        for number in range(len(self.journey.legs), len(self.trip.legs)):
            yield self._time(number, self.trip.legs[number], at)

    def _time(self, number: int, planned: LegTime | None, expected: int) -> Breach:
        legs_of = self.journey.legs
        leg = legs_of[number] if number < len(legs_of) else None
        return of_step(
            Rule.LEG,
            self.job,
            self.journey,
            leg=None if leg is None else leg.name or leg.kind.value,
            number=number + 1,
            start=None if planned is None else iso(seconds(planned.start)),
            end=None if planned is None else iso(seconds(planned.end)),
            expected=iso(expected),
        )

    def leg(self, number: int) -> Iterator[Breach]:
        """Give what is wrong with one leg before the way home."""
        leg = self.journey.legs[number]
        if leg.kind in AT_SEA:
            yield from self._sailed(number, leg)
        elif leg.kind is LegKind.DRIVE:
            yield from self._driven(number, leg)
        else:
            yield from self._worked(number, leg)
        yield from self._cured(number, leg)

    def _driven(self, number: int, leg: Leg) -> Iterator[Breach]:
        wanted = legs.shares(leg, legs.wheel(self.world, leg))
        done = [0] * len(wanted)
        road = 0
        for each in self._active(number):
            if each.doing is not Doing.DRIVE or not road <= each.share < len(wanted):
                yield self._length(number, 0, sum(share.quarters for share in wanted))
                return
            road = each.share
            done[road] += quarters_of(each)
        for quarters, share in zip(done, wanted, strict=True):
            if quarters != share.quarters:
                yield self._length(number, quarters, share.quarters)

    def _length(self, number: int, done: int, needed: int) -> Breach:
        facts = {"done_minutes": done * _MINUTES, "needed_minutes": needed * _MINUTES}
        return self._told(number, Rule.LEG_LENGTH, **facts)

    def _worked(self, number: int, leg: Leg) -> Iterator[Breach]:
        active = self._active(number)
        worked = [pair_of(each) for each in active if each.doing is Doing.WORK]
        needed = max(1, legs.needed(self.world, self.job, self.journey, leg))
        done = sum(end - start for start, end in worked)
        if done != needed or len(worked) != len(active):
            yield self._length(number, done, needed)
        if worked:
            yield from self._shut(number, leg, tuple(worked))

    def _shut(self, number: int, leg: Leg, worked: Pairs) -> Iterator[Breach]:
        """Give the work outside the hours of a leg, its slots, or while others have the site."""
        first, last = worked[0][0], worked[-1][1]
        begin, over = first * QUARTER - DAY, last * QUARTER + DAY
        found: list[Breach] = []
        for rule, opens in (
            (Rule.OPENING, legs.own_hours(self.job, leg, begin, over)),
            (Rule.OPENING, legs.access(self.job, leg, begin, over)),
            (Rule.SLOT, legs.slots(leg)),
        ):
            found += [self._told(number, rule, **_facts(span)) for span in _outside(worked, opens)]
        found += [
            self._told(number, Rule.BLOCKED, other=name or None, **_facts(span))
            for start, end, name in legs.blocked(self.job, leg)
            for span in worked
            if max(start, span[0]) < min(end, span[1])
        ]
        yield from found
        opens = legs.openings(self.world, self.job, leg, begin, over)
        whole = opens is None or any(start <= first and last <= end for start, end in opens)
        if legs.is_in_one(leg) and not whole and not found:
            yield self._told(number, Rule.WHOLE, **_facts((first, last)))

    def _cured(self, number: int, leg: Leg) -> Iterator[Breach]:
        """Give the leg that goes on before the one before it has cured."""
        after = [each for each in self.trip.stretches if each.leg > number]
        after = [each for each in after if each.doing not in IDLE]
        active = self._active(number)
        wait = legs.cure(leg)
        if wait and after and active:
            ready = seconds(active[-1].end) + wait * QUARTER
            start = seconds(after[0].start)
            if start < ready:
                yield self._told(number, Rule.SITE_CURE, start=iso(start), ready=iso(ready))

    def _sailed(self, number: int, leg: Leg) -> Iterator[Breach]:
        """Give a sailing that nothing of the leg's timetable is."""
        mine = self.by_leg[number]
        while mine and mine[0].doing in IDLE:
            mine = mine[1:]
        arrived = self._arrived(number)
        ahead = legs.usual_check_in(self.world, self.job, self.journey, number, self.means)
        start = arrived - DAY
        over = seconds(self.trip.end) + 2 * DAY
        found = legs.ships(leg, ahead, start, over)
        if not any(is_on(ship, mine, arrived, bunk=bool(leg.bunk)) for ship in found):
            last = seconds(mine[-1].end) if mine else arrived
            yield self._told(number, Rule.SAILING, start=iso(arrived), end=iso(last))

    def _arrived(self, number: int) -> int:
        """Return when a leg is reached: the one before is over and cured."""
        before = [self.journey.legs[number - 1]] if number else []
        ends = [each.end for n in range(number) for each in self._active(n)]
        at = seconds(max(ends, default=self.trip.start))
        return at + sum(legs.cure(leg) for leg in before) * QUARTER

    def longest(self) -> Iterator[Breach]:
        """Give a journey that takes too long to the site."""
        days = self.journey.longest_days
        most = _USUAL_DAYS * DAY if days is None else hours(days * 24)
        start, gate = seconds(self.trip.start), seconds(gate_of(self.journey, self.trip))
        if gate - start > most:
            facts: dict[str, Fact] = {"start": iso(start), "gate": iso(gate)}
            yield of_step(Rule.LONGEST, self.job, self.journey, most_minutes=most // 60, **facts)


def _facts(span: tuple[int, int]) -> dict[str, Fact]:
    return {"start": iso(span[0] * QUARTER), "end": iso(span[1] * QUARTER)}


def _outside(worked: Pairs, opens: Pairs | None) -> Iterator[tuple[int, int]]:
    if opens is None:
        return
    hours_open = Openings(opens)
    yield from (span for span in worked if hours_open.between(*span) < span[1] - span[0])

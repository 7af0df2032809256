"""One driver or two: what each may still do, and the rests that they take together.

Regulation (EC) 561/2006 Arts 4 to 9, Directive 2002/15/EC Art. 5, in quarters of an hour.
"""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from enum import Enum
from functools import cache
from typing import NamedTuple

from shared.road.driver import Driver
from shared.road.rules import NEVER, HoursRules

_MONDAY = 3 * 96
"""Quarters from a Monday to the Thursday on which 1970 began."""


class Kind(Enum):
    """What a rest was begun for."""

    BREAK = "break"
    FULL = "full"
    SHORT = "short"


class Hand(NamedTuple):
    """One driver: what is left until a break, and what the day and the weeks have seen.

    wheel, toil: driving and work left until a break. half: the first part of one is had. day:
    driving left in the duty before it is a long one. worked, paused: in the duty. beside: the run
    in the other seat. longs, week: long duties and driving of this fixed week, before: driving of
    the one before.
    """

    wheel: int
    toil: int
    half: bool
    day: int
    worked: int
    paused: int
    beside: int
    longs: int
    week: int
    before: int


class Crew(NamedTuple):
    """All drivers of a lorry, and the rest that they are in.

    left: until the daily rest has to be over, None for who is rested. kind, taken, cuts: of the
    running rest, without what cut it. run: rest on end. part: three hours are had. shorts: short
    rests since the weekly one. weekly: left until the next of those has to begin,
    NEVER where that is too far.
    """

    hands: tuple[Hand, ...]
    left: int | None
    kind: Kind | None
    taken: int
    cuts: int
    run: int
    part: bool
    shorts: int
    weekly: int


def quarter_of(instant: datetime) -> int:
    """The quarter that an instant lies in, counted from 1970."""
    return int((instant - datetime(1970, 1, 1, tzinfo=UTC)).total_seconds() // 900)


class Hours:
    """The steps that the hours allow: what one more quarter makes of a crew, each by its number."""

    def __init__(self, rules: HoursRules, horizon: int) -> None:
        self.rules = rules
        # A weekly rest that is longer than all there is can't be had, one due after it isn't due.
        self._weekly_rest = rules.weekly_rest if rules.weekly_rest <= horizon else 0
        self._horizon = horizon
        self._crews: list[Crew] = []
        self._numbers: dict[Crew, int] = {}
        # No step asks what time it is, so what is once found holds on every journey.
        self.rest = self._kept(self._rest)
        self.drive = self._kept(self._drive)
        self.work = self._kept(self._work)
        self.sea = self._kept(self._sea)
        self.cut = self._kept(self._cut)
        self.turned = self._kept(self._turned)

    def number(self, crew: Crew) -> int:
        """The number of a crew; equal ones have the same."""
        if crew not in self._numbers:
            self._numbers[crew] = len(self._crews)
            self._crews.append(crew)
        return self._numbers[crew]

    def _kept(self, step: Callable[[Crew], tuple[Crew, ...]]) -> Callable[[int], tuple[int, ...]]:
        @cache
        def found(number: int) -> tuple[int, ...]:
            return tuple(self.number(each) for each in step(self._crews[number]))

        return found

    def leaves(self, drivers: tuple[Driver, ...], quarter: int) -> int:
        """A crew whose duty begins at a quarter."""
        since = max(quarter - _weekly_rest_ended(each, quarter) for each in drivers)
        hands = []
        for each in drivers:
            hand = self._fresh(each.extensions, each.week, each.week_before)
            for _ in range(week_of(quarter_of(each.as_of)), week_of(quarter)):
                hand = _new_week(hand)
            hands.append(hand)
        # Some way into a duty already, or rested until the first work of the journey.
        clock = drivers[0].clock
        crew = Crew(
            hands=tuple(hands),
            left=self.rules.rest_within - clock if clock >= 0 else None,
            kind=None,
            taken=0,
            cuts=0,
            run=0,
            part=False,
            shorts=max(each.reductions for each in drivers),
            weekly=self._due(max(0, self.rules.weekly_rest_after - since)),
        )
        return self.number(crew)

    def may_end(self, number: int) -> bool:
        """Whether the journey may be over: breaks had, and no cut rest open."""
        crew = self._crews[number]
        over = crew.left is None
        return over or (not crew.cuts and crew.kind is not Kind.BREAK and self._paused(crew))

    def _due(self, weekly: int) -> int:
        return weekly if weekly < self._horizon else NEVER

    def _turned(self, crew: Crew) -> tuple[Crew, ...]:
        """The crew in a new fixed week."""
        return (crew._replace(hands=tuple(_new_week(each) for each in crew.hands)),)

    def _rest(self, crew: Crew) -> tuple[Crew, ...]:
        """A quarter of rest: begun as each kind of rest there is, or gone on with."""
        crew = _later(crew._replace(run=min(self._weekly_rest, crew.run + 1)))
        if crew.left is None:
            return (crew,)
        if crew.kind is not None:
            return tuple(self._rested(crew._replace(taken=crew.taken + 1)))
        sat = crew._replace(hands=tuple(self._sat(each) for each in crew.hands), taken=1)
        kinds = [kind for kind in Kind if kind is not Kind.SHORT or self._may_shorten(sat)]
        return tuple(each for kind in kinds for each in self._rested(sat._replace(kind=kind)))

    def _drive(self, crew: Crew) -> tuple[Crew, ...]:
        """A quarter at the wheel, by each of the drivers who may; the others sit beside."""
        up = self._up(crew)
        found: list[Crew] = []
        for number, hand in enumerate(up.hands if up else ()):
            driven = self._driven(self._sat(hand))
            if up is not None and driven is not None:
                sit = [each._replace(beside=each.beside + 1) for each in up.hands]
                sit[number] = driven
                found += self._fitting(up._replace(hands=tuple(sit)))
        return tuple(found)

    def _work(self, crew: Crew) -> tuple[Crew, ...]:
        """A quarter of other work, done by all."""
        up = self._up(crew)
        hands = [self._worked(self._sat(each)) for each in up.hands] if up else []
        worked = tuple(each for each in hands if each is not None)
        return self._fitting(up._replace(hands=worked)) if up and len(worked) == len(hands) else ()

    def _sea(self, crew: Crew) -> tuple[Crew, ...]:
        """A quarter at sea without a bunk: no rest and no work."""
        up = self._up(crew)
        hands = (self._sat(each) for each in up.hands) if up else ()
        return self._fitting(up._replace(hands=tuple(hands))) if up else ()

    def _cut(self, crew: Crew) -> tuple[Crew, ...]:
        """A quarter of boarding or landing that cuts a daily rest."""
        most = min(self.rules.interruptions, self.rules.interrupted)
        if crew.kind is not Kind.FULL or crew.cuts >= most or crew.weekly == 0:
            return ()
        if any(each.worked >= self.rules.work_daily for each in crew.hands):
            return ()
        hands = tuple(each._replace(worked=each.worked + 1) for each in crew.hands)
        return self._fitting(_later(crew)._replace(hands=hands, cuts=crew.cuts + 1, run=0))

    def _fitting(self, crew: Crew) -> tuple[Crew, ...]:
        """The crew, if a daily rest can still be over in time."""
        return (crew,) if crew.left is None or self._still(crew) <= crew.left else ()

    def _still(self, crew: Crew) -> int:
        """The least rest still to come until a daily one is over."""
        if crew.kind is Kind.FULL:
            least = self.rules.broken_rest if crew.cuts else self.rules.rest
            return max(0, least - crew.taken)
        short = crew.kind is Kind.SHORT or self._may_shorten(crew)
        least = self.rules.reduced_rest if short else self.rules.rest
        return least - crew.taken if crew.kind is Kind.SHORT else least

    def _rested(self, crew: Crew) -> Iterator[Crew]:
        """What a rest has come to: over, and going on where that can lead anywhere."""
        rules = self.rules
        if crew.kind is Kind.BREAK:
            most = max(rules.break_length, rules.break_counts, rules.long_break)
            if rules.rest_part < NEVER:
                most = max(most, rules.rest_part)
            # A longer break is no better a break; whether a rest still fits is seen after it.
            yield crew._replace(taken=min(most, crew.taken), run=0)
            return
        short = crew.kind is Kind.SHORT
        least = rules.broken_rest if crew.cuts else rules.reduced_rest if short else rules.rest
        over = crew.taken >= least
        in_time = crew.left is not None and crew.left >= 0
        if over and in_time and self._paused(crew):
            used = 1 if short and not crew.part else 0
            yield crew._replace(
                hands=tuple(self._fresh(h.longs, h.week, h.before) for h in crew.hands),
                left=None,
                kind=None,
                taken=0,
                cuts=0,
                part=False,
                shorts=crew.shorts + used,
            )
        if not (over and short):
            yield from self._fitting(crew)

    def _fresh(self, longs: int, week: int, before: int) -> Hand:
        rules = self.rules
        left = (rules.drive_unbroken, rules.work_unbroken)
        return Hand(*left, False, rules.drive_daily, 0, 0, 0, longs, week, before)

    def _up(self, crew: Crew) -> Crew | None:
        """The crew a quarter later with its rest behind it; None if that rest is to go on."""
        rules = self.rules
        if crew.left is None:
            if self._weekly_rest and crew.run >= self._weekly_rest:
                crew = crew._replace(shorts=0, weekly=self._due(rules.weekly_rest_after))
            crew = crew._replace(left=rules.rest_within)
        if crew.weekly == 0 or crew.kind in {Kind.FULL, Kind.SHORT}:
            return None
        crew = _later(crew._replace(run=0))
        if crew.kind is None:
            return crew
        return crew._replace(
            hands=tuple(self._broken(each, crew.taken) for each in crew.hands),
            kind=None,
            taken=0,
            part=crew.part or crew.taken >= rules.rest_part,
        )

    def _broken(self, hand: Hand, length: int) -> Hand:
        """A driver after a stop of that length."""
        rules = self.rules
        if length >= rules.break_length or (hand.half and length >= rules.break_second):
            hand = hand._replace(wheel=rules.drive_unbroken, half=False)
        elif rules.break_part and length >= rules.break_part:
            hand = hand._replace(half=True)
        return self._pause(hand, length) if length >= rules.break_counts else hand

    def _sat(self, hand: Hand) -> Hand:
        """A driver who sits beside no longer; long enough there was a break."""
        if hand.beside >= self.rules.passenger_break:
            hand = self._pause(
                hand._replace(wheel=self.rules.drive_unbroken, half=False), hand.beside
            )
        return hand._replace(beside=0)

    def _pause(self, hand: Hand, length: int) -> Hand:
        paused = min(self.rules.long_break, hand.paused + length)
        return hand._replace(toil=self.rules.work_unbroken, paused=paused)

    def _driven(self, hand: Hand) -> Hand | None:
        rules = self.rules
        most = min(rules.drive_week, rules.drive_fortnight - hand.before)
        if not hand.wheel or hand.week >= most:
            return None
        if rules.drive_daily - hand.day >= rules.drive_extended:
            return None
        if hand.day == 0:
            if hand.longs >= rules.extensions:
                return None
            hand = hand._replace(longs=hand.longs + 1)
        return self._worked(
            hand._replace(wheel=hand.wheel - 1, day=hand.day - 1, week=hand.week + 1)
        )

    def _worked(self, hand: Hand) -> Hand | None:
        if not hand.toil or hand.worked >= self.rules.work_daily:
            return None
        return hand._replace(toil=hand.toil - 1, worked=hand.worked + 1)

    def _paused(self, crew: Crew) -> bool:
        rules = self.rules
        for hand in map(self._sat, crew.hands):
            least = 0
            if hand.worked > rules.medium_work:
                least = rules.medium_break
            if hand.worked > rules.long_work:
                least = rules.long_break
            if hand.paused < least:
                return False
        return True

    def _may_shorten(self, crew: Crew) -> bool:
        return crew.part or crew.shorts < self.rules.reductions


def week_of(quarter: int) -> int:
    """The number of the fixed week, from Monday 00:00 UTC, that a quarter lies in."""
    return (quarter + _MONDAY) // (7 * 96)


def _weekly_rest_ended(driver: Driver, leaves: int) -> int:
    """When the last weekly rest was over; not told is when the duty began."""
    if driver.weekly_rest_ended is None:
        return leaves - max(0, driver.clock)
    return quarter_of(driver.weekly_rest_ended)


def _new_week(hand: Hand) -> Hand:
    return hand._replace(week=0, before=hand.week, longs=0)


def _later(crew: Crew) -> Crew:
    """The crew a quarter later."""
    return crew._replace(
        left=None if crew.left is None else crew.left - 1,
        weekly=crew.weekly if crew.weekly == NEVER else max(0, crew.weekly - 1),
    )

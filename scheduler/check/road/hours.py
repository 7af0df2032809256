"""Whether the quarters of one driver keep the hours that a set of rules gives them.

Quarters become blocks of rest and of everything else. Which long rests were daily rests, and of
which kind, nobody wrote down: every reading is tried, and one that keeps all rules is enough. Of
readings that all break something, the one that holds the longest is told.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from itertools import dropwhile

from scheduler.check.road.acts import QUARTER, Act, Acts, Block, blocks_of
from scheduler.rules import Limit
from shared.road.driver import Driver
from shared.road.rules import HoursRules

_WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Passed:
    """A limit, and the instant from which on it is passed."""

    limit: Limit
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """What one reading has found so far.

    reductions: reduced rests since the last weekly rest, which ended at `rested`. long_weeks: the
    fixed week of each long duty.
    """

    reductions: int
    long_weeks: tuple[date, ...]
    rested: datetime


def passed(driver: Driver, rules: HoursRules, acts: Acts) -> Passed | None:
    """Give the limit that a driver passes in these quarters, if any."""
    acts = _of_the_duty(driver, acts)
    if not acts:
        return None
    first = min(_monday(driver.as_of), _monday(acts[0][0]))
    told = _Told(
        reductions=driver.reductions,
        long_weeks=(first,) * driver.extensions,
        rested=driver.weekly_rest_ended or acts[0][0],
    )
    found = [
        _in_weeks(driver, rules, acts, first),
        _in_duties(rules, tuple(blocks_of(acts)), told),
    ]
    return min((each for each in found if each is not None), key=lambda one: one.at, default=None)


def _of_the_duty(driver: Driver, acts: Acts) -> Acts:
    """Give the quarters from the beginning of the duty: what was before, or without the first rest.

    What was done before is no work and no rest.
    """
    if driver.clock < 0:
        return tuple(dropwhile(lambda one: one[1] is Act.REST, acts))
    start = acts[0][0] if acts else driver.as_of
    before = range(driver.clock, 0, -1)
    return (*((start - count * QUARTER, Act.SEA) for count in before), *acts)


def _monday(instant: datetime) -> date:
    day = instant.astimezone(UTC).date()
    return day - timedelta(days=day.weekday())


def _in_weeks(driver: Driver, rules: HoursRules, acts: Acts, first: date) -> Passed | None:
    """Give what is driven too long in a fixed week, or in two that follow each other."""
    driven = Counter({first: driver.week, first - _WEEK: driver.week_before})
    for at, act in acts:
        if act is Act.DRIVE:
            week = _monday(at)
            driven[week] += 1
            if driven[week] > rules.drive_week:
                return Passed(limit=Limit.WEEKLY_DRIVING, at=at)
            if driven[week] + driven[week - _WEEK] > rules.drive_fortnight:
                return Passed(limit=Limit.FORTNIGHTLY_DRIVING, at=at)
    return None


def _in_duties(rules: HoursRules, blocks: Sequence[Block], told: _Told) -> Passed | None:
    """Try each daily rest that can end the first duty of the blocks, then the rest of them."""
    if not blocks:
        return None
    found: list[Passed] = []
    for number, block in enumerate(blocks):
        if block.sort is not Act.REST:
            continue
        for reading in _readings(rules, blocks[:number], block, told):
            wrong = _in_duty(rules, blocks[:number], block, told, reading)
            wrong = wrong or _in_duties(rules, blocks[number + 1 :], reading.told)
            if wrong is None:
                return None
            found.append(wrong)
        if block.broken:
            found.append(Passed(limit=Limit.FERRY_REST, at=block.start))
            break
    else:
        last = _in_last(rules, blocks, told)
        if last is None:
            return None
        found.append(last)
    return max(found, key=lambda one: one.at)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reading:
    """What a rest is taken for: complete after so many quarters, and what is told then."""

    told: _Told
    until: int


def _readings(
    rules: HoursRules, duty: Sequence[Block], block: Block, told: _Told
) -> Iterator[_Reading]:
    """Give what a rest may be taken for as a daily rest, or as a weekly one."""
    told = replace(told, long_weeks=_long_weeks(rules, duty, told))
    if block.broken:
        if _is_whole(rules, block) and block.net >= rules.broken_rest:
            yield _Reading(told=told, until=_complete_after(rules, block))
        return
    if block.net >= rules.rest:
        if block.net >= rules.weekly_rest:
            told = replace(told, reductions=0, rested=block.end)
        yield _Reading(told=told, until=rules.rest)
    if block.net < rules.reduced_rest:
        return
    if _is_parted(rules, duty):
        yield _Reading(told=told, until=rules.reduced_rest)
    if told.reductions < rules.reductions:
        less = replace(told, reductions=told.reductions + 1)
        yield _Reading(told=less, until=rules.reduced_rest)


def _is_whole(rules: HoursRules, block: Block) -> bool:
    """Say whether a rest was broken by a ferry no oftener and no longer than it may."""
    return block.broken <= min(rules.interruptions, rules.interrupted)


def _complete_after(rules: HoursRules, block: Block) -> int:
    """Give the quarters until a broken rest is long enough, and was resumed after the last break.

    A regular one still, so long as without what broke it.
    """
    last = max(n for n, (_, act) in enumerate(block.acts) if act is Act.BROKEN)
    net = 0
    for number, (_, act) in enumerate(block.acts):
        net += act is Act.REST
        if net >= rules.broken_rest and number > last:
            return number + 1
    return rules.rest_within + 1


def _is_parted(rules: HoursRules, duty: Sequence[Block]) -> bool:
    """Say whether the first part of a split daily rest lies in a duty."""
    return any(each.sort is Act.REST and each.net >= rules.rest_part for each in duty)


def _length(duty: Sequence[Block]) -> int:
    return sum(len(each.acts) for each in duty)


def _in_duty(
    rules: HoursRules, duty: Sequence[Block], rest: Block, told: _Told, reading: _Reading
) -> Passed | None:
    """Give what a duty that a rest ends passes first."""
    lost = [at for at, act in rest.acts if act is Act.BROKEN]
    found = list(_faults(rules, duty, lost, told))
    if _length(duty) + reading.until > rules.rest_within:
        found.append(_rest_late(rules, duty, rest, reading.until))
    return min(found, key=lambda one: one.at, default=None)


def _rest_late(rules: HoursRules, duty: Sequence[Block], rest: Block, due: int) -> Passed:
    """Give when the rest that ends a duty should have begun at the latest."""
    begun = duty[0].start if duty else rest.start
    return Passed(limit=Limit.DAILY_REST, at=begun + (rules.rest_within - due) * QUARTER)


def _in_last(rules: HoursRules, duty: Sequence[Block], told: _Told) -> Passed | None:
    """Give what a duty that is not over at the end passes first: a rest must still fit."""
    short = told.reductions < rules.reductions or _is_parted(rules, duty)
    due = rules.reduced_rest if short else rules.rest
    if duty[-1].sort is Act.REST:
        due = max(0, due - duty[-1].net)
    found = list(_faults(rules, duty, [], told))
    if _length(duty) + due > rules.rest_within:
        found.append(_rest_late(rules, duty, duty[-1], due))
    return min(found, key=lambda one: one.at, default=None)


def _faults(
    rules: HoursRules, duty: Sequence[Block], lost: list[datetime], told: _Told
) -> Iterator[Passed]:
    """Give what is passed inside a duty; `lost`: quarters of work that broke its rest."""
    quarters = [each for block in duty for each in block.acts]
    driving = [at for at, act in quarters if act is Act.DRIVE]
    working = [at for at, act in quarters if act in {Act.DRIVE, Act.WORK}]
    if len(driving) > rules.drive_extended:
        yield Passed(limit=Limit.DAILY_DRIVING, at=driving[rules.drive_extended])
    weeks = _long_weeks(rules, duty, told)
    if weeks != told.long_weeks and weeks.count(weeks[-1]) > rules.extensions:
        yield Passed(limit=Limit.LONG_DAYS, at=driving[rules.drive_daily])
    if len(working) + len(lost) > rules.work_daily:
        yield Passed(limit=Limit.DAILY_WORK, at=[*working, *lost][rules.work_daily])
    yield from _unbroken(rules, duty)
    yield from _too_few_breaks(rules, duty, [*working, *lost])
    due = rules.weekly_rest_after * QUARTER
    if working and [*working, *lost][-1] - told.rested >= due:
        yield Passed(limit=Limit.WEEKLY_REST, at=told.rested + due)


def _long_weeks(rules: HoursRules, duty: Sequence[Block], told: _Told) -> tuple[date, ...]:
    driving = [at for block in duty for at, act in block.acts if act is Act.DRIVE]
    if len(driving) <= rules.drive_daily or rules.drive_extended <= rules.drive_daily:
        return told.long_weeks
    return (*told.long_weeks, _monday(driving[rules.drive_daily]))


def _pause(rules: HoursRules, block: Block) -> int:
    """Give how long a block counts as a break from all work: rest, or a long run of riding."""
    if block.sort is Act.REST:
        return block.net if block.net >= rules.break_counts else 0
    rides = len(block.acts) if block.sort is Act.RIDE else 0
    return rides if rides >= rules.passenger_break else 0


def _too_few_breaks(
    rules: HoursRules, duty: Sequence[Block], working: list[datetime]
) -> Iterator[Passed]:
    pauses = sum(_pause(rules, block) for block in duty)
    for work, due in (
        (rules.medium_work, rules.medium_break),
        (rules.long_work, rules.long_break),
    ):
        if len(working) > work and pauses < due:
            yield Passed(limit=Limit.BREAKS, at=working[work])


def _unbroken(rules: HoursRules, duty: Sequence[Block]) -> Iterator[Passed]:
    """Give where driving, or all work, goes on for too long without a break."""
    driven, worked, half = 0, 0, False
    for block in duty:
        length = len(block.acts)
        if block.sort is Act.DRIVE:
            driven += length
            if driven > rules.drive_unbroken:
                at = block.acts[rules.drive_unbroken - driven][0]
                yield Passed(limit=Limit.UNBROKEN_DRIVING, at=at)
        if block.sort in {Act.DRIVE, Act.WORK}:
            worked += length
            if worked > rules.work_unbroken:
                at = block.acts[max(-length, rules.work_unbroken - worked)][0]
                yield Passed(limit=Limit.UNBROKEN_WORK, at=at)
        if _pause(rules, block):
            worked = 0
        if _frees_the_wheel(rules, block, half=half):
            driven, half = 0, False
        elif block.sort is Act.REST and 0 < rules.break_part <= block.net:
            half = True


def _frees_the_wheel(rules: HoursRules, block: Block, *, half: bool) -> bool:
    """Say whether a block is a break from driving: whole, the second part, or as a passenger."""
    if block.sort is Act.RIDE:
        return len(block.acts) >= rules.passenger_break
    least = rules.break_second if half else rules.break_length
    return block.sort is Act.REST and block.net >= least

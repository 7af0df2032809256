"""Whether the stretches of an itinerary keep the hours of one driver, as the rules define them.

Stretches become blocks of rest and of everything else. Which long rests were daily rests, and of
which kind, nobody wrote down: every reading is tried, and one that keeps all rules is enough.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta

from shared.road.itinerary import Doing, Itinerary
from shared.road.rules import HoursRules
from shared.road.state import Driver

_QUARTER = timedelta(minutes=15)
_RESTS = {Doing.REST, Doing.SEA_REST}
_BREAKS_REST = {Doing.BOARD_IN_REST, Doing.LAND_IN_REST}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """Quarters of one sort on end: rest (with what broke it), driving, work, or availability."""

    sort: Doing
    quarters: tuple[tuple[datetime, Doing], ...]

    @property
    def net(self) -> int:
        return sum(doing in _RESTS for _, doing in self.quarters)

    @property
    def broken(self) -> int:
        """Count the quarters that broke the rest; no boarding or landing takes more than one."""
        return len(self.quarters) - self.net if self.sort is Doing.REST else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """What one reading has found so far."""

    reductions: int
    extensions: tuple[date, ...]


def keeps_hours(driver: Driver, rules: HoursRules, itinerary: Itinerary) -> bool:
    """Say whether the driver, rested at the departure, may do all this and arrive so."""
    ended = driver.weekly_rest_ended
    if ended is not None and itinerary.arrival > ended + rules.weekly_rest_after * _QUARTER:
        return False
    first = min(_monday(driver.as_of), _monday(itinerary.departure))
    if not _weeks_kept(driver, rules, itinerary, first):
        return False
    blocks = tuple(_blocks(itinerary))
    told = _Told(reductions=driver.reductions, extensions=(first,) * driver.extensions)
    return _duties_kept(rules, blocks, told)


def _monday(instant: datetime) -> date:
    day = instant.astimezone(UTC).date()
    return day - timedelta(days=day.weekday())


def _quarters(itinerary: Itinerary) -> Iterator[tuple[datetime, Doing]]:
    for each in itinerary.stretches:
        now = each.start
        while now < each.end:
            yield now, each.doing
            now += _QUARTER


def _weeks_kept(driver: Driver, rules: HoursRules, itinerary: Itinerary, first: date) -> bool:
    driven = Counter({first: driver.week, first - timedelta(days=7): driver.week_before})
    driven.update(_monday(at) for at, doing in _quarters(itinerary) if doing is Doing.DRIVE)
    return all(
        driven[week] <= rules.drive_week
        and driven[week] + driven[week - timedelta(days=7)] <= rules.drive_fortnight
        for week in list(driven)
        if week >= first and week >= _monday(itinerary.departure)
    )


def _blocks(itinerary: Itinerary) -> Iterator[_Block]:
    running: list[tuple[datetime, Doing]] = []
    sort = Doing.WORK
    for at, doing in _quarters(itinerary):
        this = _sort_of(doing)
        if running and this is not sort:
            yield _Block(sort=sort, quarters=tuple(running))
            running = []
        sort = this
        running.append((at, doing))
    yield _Block(sort=sort, quarters=tuple(running))


def _sort_of(doing: Doing) -> Doing:
    if doing in _RESTS or doing in _BREAKS_REST:
        return Doing.REST
    if doing in {Doing.DRIVE, Doing.SEA}:
        return doing
    return Doing.WORK


def _duties_kept(rules: HoursRules, blocks: tuple[_Block, ...], told: _Told) -> bool:
    """Try each daily rest that can end the first duty of the blocks, then the rest of them."""
    if not blocks:
        return True
    for number, block in enumerate(blocks):
        if block.sort is not Doing.REST:
            continue
        duty = blocks[:number]
        for new, until in _daily_rests(rules, duty, block, told):
            lost = tuple(each for each in block.quarters if each[1] in _BREAKS_REST)
            counted = _duty_kept(rules, duty, len(lost), new)
            spread = sum(len(each.quarters) for each in duty) + until
            if counted is None or spread > rules.rest_within:
                continue
            if _duties_kept(rules, blocks[number + 1 :], counted):
                return True
        if block.broken:
            return False
    return _last_kept(rules, blocks, told)


def _last_kept(rules: HoursRules, duty: tuple[_Block, ...], told: _Told) -> bool:
    """Say whether a duty that is not over at the arrival is kept, and a rest still fits."""
    short = told.reductions < rules.reductions or _parted(rules, duty)
    due = rules.reduced_rest if short else rules.rest
    if duty[-1].sort is Doing.REST:
        due = max(0, due - duty[-1].net)
    spread = sum(len(each.quarters) for each in duty) + due
    return spread <= rules.rest_within and _duty_kept(rules, duty, 0, told) is not None


def _daily_rests(
    rules: HoursRules, duty: tuple[_Block, ...], block: _Block, told: _Told
) -> Iterator[tuple[_Told, int]]:
    """Give the readings of a rest as a daily one, with the quarters until it is complete."""
    if block.net >= rules.rest:
        if not block.broken:
            yield told, rules.rest
        elif block.broken <= rules.interruptions and block.broken <= rules.interrupted:
            yield told, _complete_after(rules, block)
    if block.broken or block.net < rules.reduced_rest:
        return
    if _parted(rules, duty):
        yield told, rules.reduced_rest
    if told.reductions < rules.reductions:
        yield replace(told, reductions=told.reductions + 1), rules.reduced_rest


def _complete_after(rules: HoursRules, block: _Block) -> int:
    """Give the quarters until a broken rest is whole: long enough, and resumed after the last."""
    net = 0
    last = max(n for n, (_, doing) in enumerate(block.quarters) if doing in _BREAKS_REST)
    for number, (_, doing) in enumerate(block.quarters):
        net += doing in _RESTS
        if net >= rules.rest and number > last:
            return number + 1
    return rules.rest_within + 1


def _parted(rules: HoursRules, duty: tuple[_Block, ...]) -> bool:
    return any(each.sort is Doing.REST and each.net >= rules.rest_part for each in duty)


def _duty_kept(rules: HoursRules, duty: tuple[_Block, ...], lost: int, told: _Told) -> _Told | None:
    """Give what is told after a duty, None if it breaks a rule; `lost` is work that broke rest."""
    driving = [at for each in duty for at, doing in each.quarters if doing is Doing.DRIVE]
    working = sum(len(each.quarters) for each in duty if each.sort is Doing.WORK) + lost
    pauses = sum(
        each.net for each in duty if each.sort is Doing.REST and each.net >= rules.break_counts
    )
    working += len(driving)
    if len(driving) > rules.drive_extended or working > rules.work_daily:
        return None
    if working > rules.medium_work and pauses < rules.medium_break:
        return None
    if working > rules.long_work and pauses < rules.long_break:
        return None
    if not (_wheel_kept(rules, duty) and _labour_kept(rules, duty)):
        return None
    if len(driving) > rules.drive_daily:
        week = _monday(driving[rules.drive_daily])
        told = replace(told, extensions=(*told.extensions, week))
        if told.extensions.count(week) > rules.extensions:
            return None
    return told


def _wheel_kept(rules: HoursRules, duty: tuple[_Block, ...]) -> bool:
    """Say whether no driving runs on for too long without a break, in one or in two parts."""
    driven, first_part = 0, False
    for each in duty:
        if each.sort is Doing.DRIVE:
            driven += len(each.quarters)
            if driven > rules.drive_unbroken:
                return False
        elif each.sort is Doing.REST:
            whole = each.net >= rules.break_length
            if whole or (first_part and each.net >= rules.break_second):
                driven, first_part = 0, False
            elif 0 < rules.break_part <= each.net:
                first_part = True
    return True


def _labour_kept(rules: HoursRules, duty: tuple[_Block, ...]) -> bool:
    """Say whether no work, driving included, runs on for too long without a pause."""
    unbroken = 0
    for each in duty:
        if each.sort is Doing.REST and each.net >= rules.break_counts:
            unbroken = 0
        elif each.sort in {Doing.DRIVE, Doing.WORK}:
            unbroken += len(each.quarters)
            if unbroken > rules.work_unbroken:
                return False
    return True

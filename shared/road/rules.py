"""Rule sets of a driver's or installer's hours, as numbers on the grid with their sources.

`data/rules.json` has of each set where it stands, when it was read, since when and in which
countries it holds, and the figure behind each number. Open the current text before a live job.
"""

from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR
from functools import cache
from pathlib import Path
from typing import Any

from shared.trade import figure
from shared.trade.own import Lookup

NEVER = 10**9
"""A limit that is never reached."""

_FILE = Path(__file__).with_name("data") / "rules.json"


class UnknownRules(LookupError):  # noqa: N818 - it says what is wrong
    """No rule set has this id."""

    def __init__(self, rules_id: str) -> None:
        """Keep what was asked for."""
        super().__init__(f"unknown rule set: {rules_id}")
        self.rules_id = rules_id


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursRules:
    """What people at the wheel or on site may do; lengths in quarters of an hour.

    A limit that a set does not know is NEVER, a break or allowance it does not know 0.

    Attributes
    ----------
    id, source, read_on: its name, where it stands, and the day its figures were noted.
    drivers: how many are at the wheel in turn, each held against all that follows.
    drive_unbroken, break_length, break_part: driving before a break, the break, and the first
        part of a split one (`break_second` the second; 0 where none may be split).
    passenger_break: so long in one beside the other driver, with nothing to do, is a break as well.
    drive_daily, drive_extended, extensions: driving in a duty, and in how many duties of a
        fixed week how much longer.
    drive_week, drive_fortnight: driving in a fixed week, and in two that follow each other.
    work_unbroken, break_counts: work before a break, and the shortest that breaks it.
    work_daily: all work in a duty.
    medium_work, medium_break, long_work, long_break: breaks due in a duty of more work.
    rest, reduced_rest, reductions: daily rest, and how often how much shorter between weekly
        rests. rest_part: the first part of a split one, after which `reduced_rest` is regular.
        Of two drivers: the rest of both at once, the same in both fields.
    rest_within: a daily rest is complete so long after the end of the last.
    interruptions, interrupted, broken_rest: how often, and how long in all, a regular rest with a
        bunk on a ferry may be broken, and how much it is without that; 0 where none may be.
    weekly_rest_after: a weekly rest begins so long after the end of the last.
    weekly_rest, reduced_weekly_rest: how long it is, and the shorter one that may not follow
        another shorter one.
    reserve: what was taken off the limits already, see `with_reserve`; 0 is the law itself.
    break_rule, rest_rule, weekly_rule: the figures that an itinerary names behind a break, a daily
        rest and a weekly one.
    """

    id: str
    source: str
    read_on: date
    drive_unbroken: int
    break_length: int
    break_part: int
    break_second: int
    drive_daily: int
    drive_extended: int
    extensions: int
    drive_week: int
    drive_fortnight: int
    work_unbroken: int
    break_counts: int
    work_daily: int
    medium_work: int
    medium_break: int
    long_work: int
    long_break: int
    rest: int
    reduced_rest: int
    reductions: int
    rest_part: int
    rest_within: int
    interruptions: int
    interrupted: int
    broken_rest: int
    weekly_rest_after: int
    weekly_rest: int
    reduced_weekly_rest: int
    drivers: int
    passenger_break: int
    break_rule: str
    rest_rule: str
    weekly_rule: str = ""
    reserve: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Validity:
    """Where and when a rule set holds: countries, and days, both included; None is no end."""

    countries: frozenset[str]
    first: date | None
    last: date | None

    def includes(self, day: date) -> bool:
        """Say whether it holds on a day."""
        return (self.first or day) <= day <= (self.last or day)


# A greatest length is rounded down to the grid, a least one up; each with what it is where a set
# has no figure for it.
_MOST = {
    "drive_unbroken": NEVER,
    "drive_daily": NEVER,
    "drive_extended": NEVER,
    "drive_week": NEVER,
    "drive_fortnight": NEVER,
    "work_unbroken": NEVER,
    "work_daily": NEVER,
    "medium_work": NEVER,
    "long_work": NEVER,
    "rest_within": NEVER,
    "interrupted": 0,
    "weekly_rest_after": NEVER,
}
_LEAST = {
    "break_length": 0,
    "break_part": 0,
    "break_second": 0,
    "break_counts": 0,
    "medium_break": 0,
    "long_break": 0,
    "rest": 0,
    "reduced_rest": 0,
    "rest_part": NEVER,
    "broken_rest": 0,
    "weekly_rest": 0,
    "reduced_weekly_rest": 0,
    "passenger_break": NEVER,
}
_COUNTS = ("extensions", "reductions", "interruptions")
RULE_SETS: tuple[str, ...] = (
    "eu_one_driver",
    "eu_two_drivers",
    "gb_domestic",
    "gb_domestic_light",
    "workers_uk",
    "workers_eu",
    "stricter",
    "stricter_gb",
)
"""The ids of all rule sets.

eu_one_driver, eu_two_drivers: Regulation (EC) 561/2006, breaks from all work by Directive
2002/15/EC. gb_domestic: GB domestic hours of a van whose driver works on site as well, with the
daily rest and the break of workers; a half hour after four and a half hours at the wheel is house
practice. gb_domestic_light: the same in a week in which nobody drives longer than four hours on
any day. workers_uk, workers_eu: people on site and on their way to it. stricter, stricter_gb: where
it is not known which apply: the stricter of each limit of a driver in scope and of a worker, in
Great Britain of domestic hours as well.
"""


def one_driver() -> HoursRules:
    """Give the rules for one driver of a goods vehicle in scope of Regulation (EC) 561/2006."""
    return rule_set("eu_one_driver")


def gb_domestic() -> HoursRules:
    """Give the rules for a van under GB domestic hours whose driver also works on site."""
    return rule_set("gb_domestic")


def rule_set(rules_id: str, look: Lookup = figure) -> HoursRules:
    """Give a rule set by its id; `look` gives the figures, those of a workshop where it has any.

    Raises
    ------
    UnknownRules
        If no set has this id.
    """
    return _shipped(rules_id) if look is figure else _read(rules_id, look)


def validity_of(rules_id: str) -> Validity:
    """Give where and when a rule set holds.

    Raises
    ------
    UnknownRules
        If no set has this id.
    """
    told = _told(rules_id)
    return Validity(
        countries=frozenset(told["countries"]),
        first=_day(told["valid_from"]),
        last=_day(told["valid_until"]),
    )


def with_reserve(rules: HoursRules, quarters: int) -> HoursRules:
    """Give the rules with so many quarters kept of every limit of a duty and of weeks at the wheel.

    Limits that are never reached stay so; none becomes less than nothing.
    """
    if not quarters:
        return rules
    return replace(
        rules,
        drive_daily=_less(rules.drive_daily, quarters),
        drive_extended=_less(rules.drive_extended, quarters),
        drive_week=_less(rules.drive_week, quarters),
        drive_fortnight=_less(rules.drive_fortnight, quarters),
        work_daily=_less(rules.work_daily, quarters),
        rest_within=_less(rules.rest_within, quarters),
        reserve=rules.reserve + quarters,
    )


def _less(limit: int, quarters: int) -> int:
    return limit if limit >= NEVER else max(0, limit - quarters)


@cache
def _shipped(rules_id: str) -> HoursRules:
    return _read(rules_id, figure)


def _read(rules_id: str, look: Lookup) -> HoursRules:
    told = _told(rules_id)
    ids: dict[str, str] = told["figures"]
    numbers = {
        **{name: _quarters(look, ids.get(name), ROUND_FLOOR, no) for name, no in _MOST.items()},
        **{name: _quarters(look, ids.get(name), ROUND_CEILING, no) for name, no in _LEAST.items()},
        **{name: int(look(ids[name]).amount) if name in ids else 0 for name in _COUNTS},
    }
    return HoursRules(
        id=rules_id,
        source="; ".join(figure(each).source for each in told["source"]),
        read_on=date.fromisoformat(told["read_on"]),
        drivers=told["drivers"],
        break_rule=told["break_rule"],
        rest_rule=told["rest_rule"],
        weekly_rule=ids.get("weekly_rest", ""),
        **numbers,
    )


def _quarters(look: Lookup, figure_id: str | None, rounding: str, without: int) -> int:
    if figure_id is None:
        return without
    row = look(figure_id)
    minutes = row.amount * 60 if row.unit == "h" else row.amount
    return int((minutes / 15).to_integral_value(rounding=rounding))


def _told(rules_id: str) -> dict[str, Any]:
    found = _file().get(rules_id)
    if found is None:
        raise UnknownRules(rules_id)
    return found


@cache
def _file() -> dict[str, dict[str, Any]]:
    # Only who asks for a rule set pays for the reader.
    import json

    found: dict[str, dict[str, Any]] = json.loads(_FILE.read_text(encoding="utf-8"))
    return found


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)

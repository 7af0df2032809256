"""Rule sets of a driver's or installer's hours, as numbers on the grid with their sources."""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR
from functools import cache

from shared.trade import figure

NEVER = 10**9
"""A limit that is never reached."""

_READ = date(2026, 11, 25)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursRules:
    """What one person at the wheel may do; lengths in quarters of an hour.

    Attributes
    ----------
    id, source, read_on: its name, where it stands, and the day its figures were noted. Open the
        current text before a live job.
    drive_unbroken, break_length, break_part: driving before a break, the break, and the first
        part of a split one (`break_second` the second; 0 where none may be split).
    drive_daily, drive_extended, extensions: driving in a duty, and in how many duties of a
        fixed week how much longer.
    drive_week, drive_fortnight: driving in a fixed week, and in two that follow each other.
    work_unbroken, break_counts: work before a break, and the shortest that breaks it.
    work_daily: all work in a duty.
    medium_work, medium_break, long_work, long_break: breaks due in a duty of more work.
    rest, reduced_rest, reductions: daily rest, and how often how much shorter between weekly
        rests. rest_part: the first part of a split one, after which `reduced_rest` is regular.
    rest_within: a daily rest is complete so long after the end of the last.
    interruptions, interrupted: how often, and how long in all, a regular rest with a bunk on a
        ferry may be broken.
    weekly_rest_after: a weekly rest begins so long after the end of the last.
    break_rule, rest_rule: the figures that an itinerary names behind a break and a daily rest.
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
    weekly_rest_after: int
    break_rule: str
    rest_rule: str


@cache
def one_driver() -> HoursRules:
    """Give the rules for one driver of a goods vehicle in scope of Regulation (EC) 561/2006.

    The breaks from all work are those of Directive 2002/15/EC for mobile workers.
    """
    return HoursRules(
        id="eu_one_driver",
        source=f"{figure('DR02a').source}; {figure('DR14a').source}",
        read_on=_READ,
        drive_unbroken=_most("DR01a"),
        break_length=_least("DR01b"),
        break_part=_least("DR01c"),
        break_second=_least("DR01d"),
        drive_daily=_most("DR02a"),
        drive_extended=_most("DR02b"),
        extensions=_count("DR02c"),
        drive_week=_most("DR03a"),
        drive_fortnight=_most("DR03b"),
        work_unbroken=_most("DR14a"),
        break_counts=_least("DR14e"),
        work_daily=NEVER,
        medium_work=_most("DR14a"),
        medium_break=_least("DR14b"),
        long_work=9 * 4,
        long_break=_least("DR14c"),
        rest=_least("DR04a"),
        reduced_rest=_least("DR04b"),
        reductions=_count("DR04c"),
        rest_part=_least("DR04d"),
        rest_within=_most("DR05a"),
        interruptions=_count("DR08a"),
        interrupted=_most("DR08b"),
        weekly_rest_after=_most("DR07c"),
        break_rule="DR01b",
        rest_rule="DR04a",
    )


@cache
def gb_domestic() -> HoursRules:
    """Give the rules for a van under GB domestic hours whose driver also works on site.

    The daily rest and the break after six hours are those of workers. The half hour after four
    and a half hours of driving is the stricter rule of the regulation, kept as house practice.
    """
    return HoursRules(
        id="gb_domestic",
        source=f"{figure('DR13a').source}; {figure('DR16a').source}",
        read_on=_READ,
        drive_unbroken=_most("DR01a"),
        break_length=_least("DR01d"),
        break_part=0,
        break_second=0,
        drive_daily=_most("DR13a"),
        drive_extended=_most("DR13a"),
        extensions=0,
        drive_week=NEVER,
        drive_fortnight=NEVER,
        work_unbroken=_most("DR16c"),
        break_counts=_least("DR16a"),
        work_daily=_most("DR13b"),
        medium_work=NEVER,
        medium_break=0,
        long_work=NEVER,
        long_break=0,
        rest=_least("DR15a"),
        reduced_rest=_least("DR15a"),
        reductions=0,
        rest_part=NEVER,
        rest_within=24 * 4,
        interruptions=0,
        interrupted=0,
        weekly_rest_after=6 * 24 * 4,
        break_rule="DR16a",
        rest_rule="DR15a",
    )


def _most(figure_id: str) -> int:
    return _quarters(figure_id, ROUND_FLOOR)


def _least(figure_id: str) -> int:
    return _quarters(figure_id, ROUND_CEILING)


def _quarters(figure_id: str, rounding: str) -> int:
    row = figure(figure_id)
    minutes = row.amount * 60 if row.unit == "h" else row.amount
    return int((minutes / 15).to_integral_value(rounding=rounding))


def _count(figure_id: str) -> int:
    return int(figure(figure_id).amount)

"""What a year comes to, in figures."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from statistics import median

from shared.worktime import working_days_between
from tests.bench.year.clock import day_of
from tests.bench.year.commissions import WORKDAYS
from tests.bench.year.season import Season

MONTHS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """A year of one planner. warnings_days: of windows missed that were warned of, how early.

    A warning is the last unbroken row of mornings up to the window on which a job was said to be
    in danger; its days are working days from the first of them to the end of the window. A false
    alarm is a row of mornings that ended with the danger over, or with a window that was kept.
    """

    name: str
    windows: int
    missed: int
    overtime_hours: float
    changes: int
    person_weeks: float
    warning_days: tuple[int, ...]
    unwarned: int
    false_alarms: int
    accepted: int
    declined: int


def score_of(season: Season) -> Score:
    """Count a year that is over."""
    missed = [each.job for each in season.ended if not each.kept]
    ends = {each.job: day_of(each.window_end - 1) for each in season.ended}
    rows = {job: _rows(season, days) for job, days in season.warnings.items()}
    early = [_early(rows.get(job, []), ends[job]) for job in missed]
    alarms = sum(len(found) for found in rows.values())
    right = sum(days is not None for days in early)
    rushes = {each.job.id for each in season.world.commissions if each.is_rush}
    return Score(
        name=season.planner.name,
        windows=len(season.ended),
        missed=len(missed),
        overtime_hours=(season.saturday_quarters + season.floor.overtime) / 4,
        changes=season.changes,
        person_weeks=season.person_days / 5,
        warning_days=tuple(days for days in early if days is not None),
        unwarned=sum(days is None for days in early),
        false_alarms=alarms - right,
        accepted=len(rushes.intersection(season.accepted)),
        declined=len(season.declined),
    )


def _rows(season: Season, days: Iterable[date]) -> list[tuple[date, date]]:
    """Return rows of mornings that follow each other, as first and last."""
    order = {day: number for number, day in enumerate(season.mornings)}
    rows: list[tuple[date, date]] = []
    for day in days:
        if rows and order[day] == order[rows[-1][1]] + 1:
            rows[-1] = (rows[-1][0], day)
        else:
            rows.append((day, day))
    return rows


def _early(rows: list[tuple[date, date]], end: date) -> int | None:
    """Return how many working days before the end of a window it was warned of to the end."""
    before = [row for row in rows if row[0] <= end <= row[1] or (row[1] <= end)]
    if not before:
        return None
    first, last = before[-1]
    if last < end and working_days_between(WORKDAYS, last, end) > 3:
        return None
    return working_days_between(WORKDAYS, first, end)


def median_days(scores: Iterable[Score]) -> float | None:
    """Return how early missed windows were warned of, in the middle; None where none was missed."""
    days = [each for score in scores for each in (*score.warning_days, *([0] * score.unwarned))]
    return median(days) if days else None

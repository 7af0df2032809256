"""The values that say when work is done: breaks, shifts, closures, calendars."""

from dataclasses import dataclass
from datetime import date, time

from shared.holidaydates import HolidayRule
from shared.value import Value
from shared.worktime.spans import Spans, union

_WEEKDAYS = range(7)


def check_weekdays(name: str, days: tuple[int, ...]) -> None:
    """Raise ValueError unless every day is 0 (Monday) to 6 (Sunday)."""
    if any(day not in _WEEKDAYS for day in days):
        raise ValueError(f"{name} must be 0 (Monday) to 6 (Sunday): {days}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Break(Value):
    """A rest inside a shift, in wall-clock time; `end` before `start` is on the next day."""

    start: time
    end: time

    def __post_init__(self) -> None:
        """Refuse a break of no length."""
        if self.start == self.end:
            raise ValueError(f"break must not start when it ends: {self.start}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift(Value):
    """Hours that are worked on some days of the week, in wall-clock time.

    `days` counts from 0 = Monday and names the days on which the shift opens. An `end` at or
    before `start` is on the next day; all of such a shift belongs to the day it opens.
    """

    days: tuple[int, ...]
    start: time
    end: time
    breaks: tuple[Break, ...] = ()

    def __post_init__(self) -> None:
        """Refuse days that no week has."""
        check_weekdays("days", self.days)

    @property
    def is_over_midnight(self) -> bool:
        """Say whether the shift ends on the day after it opened."""
        return self.end <= self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class DateSpan:
    """Whole calendar days, `first` and `last` both inclusive."""

    first: date
    last: date

    def __post_init__(self) -> None:
        """Refuse days in backward order."""
        if self.first > self.last:
            raise ValueError(f"first day must not be after last: {self.first} to {self.last}")

    def __contains__(self, day: date) -> bool:
        """Say whether the day is one of them."""
        return self.first <= day <= self.last


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkCalendar:
    """When a person, a place or a site works.

    Open are the shifts of days that are neither holiday nor closed, without their breaks and,
    where `available` is given, only inside it; then `extra` is added (overtime, also on a
    holiday); then `away` is taken off (leave, sickness).
    """

    zone: str
    shifts: tuple[Shift, ...]
    holidays: HolidayRule | None = None
    closed: tuple[DateSpan, ...] = ()
    away: Spans = ()
    extra: Spans = ()
    available: Spans | None = None

    def __post_init__(self) -> None:
        """Sort and join the spans."""
        object.__setattr__(self, "away", union(self.away))
        object.__setattr__(self, "extra", union(self.extra))
        if self.available is not None:
            object.__setattr__(self, "available", union(self.available))

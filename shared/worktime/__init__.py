"""Working time: shifts, breaks, closures, holidays and clock changes, exact to the second."""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shared.holidaydates import HolidayRule, UnknownCalendar
    from shared.worktime.calendars import Break, DateSpan, Shift, WorkCalendar
    from shared.worktime.days import (
        DayCalendar,
        clear_working_days_before,
        is_working_day,
        next_working_day,
        nth_working_day_after,
        previous_working_day,
        working_days_between,
        working_days_from,
    )
    from shared.worktime.errors import NoWorkingTime, UnknownZone
    from shared.worktime.hours import (
        access_spans,
        add_working,
        open_spans,
        shift_spans,
        subtract_working,
        working_seconds,
    )
    from shared.worktime.offices import (
        Office,
        answered_by,
        closing_of,
        is_in_time,
        notice_before,
        received_on,
        working_days_before,
    )
    from shared.worktime.spans import (
        Span,
        Spans,
        clip,
        intersect,
        subtract,
        total_seconds,
        union,
    )
    from shared.worktime.zones import is_known_zone, local_instant

_NAMES = {
    "shared.holidaydates": (
        "HolidayRule",
        "UnknownCalendar",
    ),
    "shared.worktime.calendars": (
        "Break",
        "DateSpan",
        "Shift",
        "WorkCalendar",
    ),
    "shared.worktime.days": (
        "DayCalendar",
        "clear_working_days_before",
        "is_working_day",
        "next_working_day",
        "nth_working_day_after",
        "previous_working_day",
        "working_days_between",
        "working_days_from",
    ),
    "shared.worktime.errors": (
        "NoWorkingTime",
        "UnknownZone",
    ),
    "shared.worktime.hours": (
        "access_spans",
        "add_working",
        "open_spans",
        "shift_spans",
        "subtract_working",
        "working_seconds",
    ),
    "shared.worktime.offices": (
        "Office",
        "answered_by",
        "closing_of",
        "is_in_time",
        "notice_before",
        "received_on",
        "working_days_before",
    ),
    "shared.worktime.spans": (
        "Span",
        "Spans",
        "clip",
        "intersect",
        "subtract",
        "total_seconds",
        "union",
    ),
    "shared.worktime.zones": (
        "is_known_zone",
        "local_instant",
    ),
}
_HOMES = {name: module for module, names in _NAMES.items() for name in names}

__all__ = [
    "Break",
    "DateSpan",
    "DayCalendar",
    "HolidayRule",
    "NoWorkingTime",
    "Office",
    "Shift",
    "Span",
    "Spans",
    "UnknownCalendar",
    "UnknownZone",
    "WorkCalendar",
    "access_spans",
    "add_working",
    "answered_by",
    "clear_working_days_before",
    "clip",
    "closing_of",
    "intersect",
    "is_in_time",
    "is_known_zone",
    "is_working_day",
    "local_instant",
    "next_working_day",
    "notice_before",
    "nth_working_day_after",
    "open_spans",
    "previous_working_day",
    "received_on",
    "shift_spans",
    "subtract",
    "subtract_working",
    "total_seconds",
    "union",
    "working_days_before",
    "working_days_between",
    "working_days_from",
    "working_seconds",
]


def __getattr__(name: str) -> object:
    """Give a name from the module that has it; who only reads a book pays for no hours."""
    if name not in _HOMES:
        raise AttributeError(name)
    return getattr(import_module(_HOMES[name]), name)

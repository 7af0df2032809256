"""How far before a departure loading has to begin."""

from datetime import datetime
from decimal import Decimal

from shared.book import Workshop
from shared.worktime import DateSpan, HolidayRule, WorkCalendar, subtract_working


def latest_loading_start(workshop: Workshop, departure: datetime, hours: Decimal) -> datetime:
    """Return when loading of so many hours begins at the latest, in UTC, to end by a departure.

    Counted back in the workshop's shifts, holidays and closures taken out.

    Raises
    ------
    NoWorkingTime
        If five years hold less.
    """
    calendar = WorkCalendar(
        zone=workshop.zone,
        shifts=workshop.shifts,
        holidays=HolidayRule(
            country=workshop.country,
            subdivision=workshop.subdivision,
            categories=workshop.holiday_categories,
        ),
        closed=tuple(DateSpan(first=each.first, last=each.last) for each in workshop.closures),
    )
    return subtract_working(calendar, departure, int(hours * 3600))

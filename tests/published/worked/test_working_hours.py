"""Work that pauses outside working hours, against printed finishes."""

from datetime import datetime, time, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from shared.worktime.calendars import Break, Shift, WorkCalendar
from shared.worktime.hours import add_working
from tests.published.worked.examples import Row, rows

UTC = ZoneInfo("UTC")
# The second case names only days of the week; any week without a holiday will do.
FRIDAY = datetime(2025, 1, 10, tzinfo=UTC)


@pytest.mark.parametrize("row", rows("calendar01_working_time.cases"), ids=lambda row: row["case"])
def test_the_printed_finish(row: Row) -> None:
    assert row["working_days"] == "Mon-Fri"
    noon = Break(
        start=time.fromisoformat(row["break_start"]), end=time.fromisoformat(row["break_end"])
    )
    shift = Shift(
        days=(0, 1, 2, 3, 4),
        start=time.fromisoformat(row["shift_start"]),
        end=time.fromisoformat(row["shift_end"]),
        breaks=(noon,),
    )
    calendar = WorkCalendar(zone="UTC", shifts=(shift,))
    seconds = Fraction(row["work_hours"]) * 3600

    assert seconds.denominator == 1
    assert add_working(calendar, _moment(row["start"]), int(seconds)) == _moment(
        row["expected_finish"]
    )


def _moment(text: str) -> datetime:
    day, _, clock = text.partition(" ")
    if not clock:
        return datetime.fromisoformat(text).replace(tzinfo=UTC)
    at = time.fromisoformat(clock)
    days = {"Friday": 0, "Monday": 3}[day]
    return FRIDAY + timedelta(days=days, hours=at.hour, minutes=at.minute)

"""Working minutes between two moments in the workshop's normal working time."""

from datetime import datetime

from scheduler.normalise.people import workshop_calendar
from shared.book import Workshop
from shared.worktime import working_seconds


def working_minutes(workshop: Workshop, start: datetime, end: datetime) -> int:
    """Return the workshop's whole minutes of work in [start, end), 0 if that is empty."""
    return working_seconds(workshop_calendar(workshop), start, end) // 60


def slack_minutes(workshop: Workshop, loading_end: datetime, latest: datetime) -> int | None:
    """Return the working minutes by which loading may still slip, None where it is missed."""
    return None if loading_end > latest else working_minutes(workshop, loading_end, latest)

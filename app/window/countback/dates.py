"""Another window for a job, as it is typed. No Qt."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from app.tried import TriedWindow
from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.words import Words
from app.words.moments import clock
from shared.book import Job
from shared.worktime import local_instant

USUAL = timedelta(days=1)
"""So long a window is tried for a job that holds none."""


def start_typed(text: str, job: Job, now: datetime, words: Words) -> TriedWindow:
    """Read when a window starts; it lasts by the site's clock as long as the one that is held.

    A date without a time is at the time of the window that is held. Raises NotTaken.
    """
    zone = job.site.zone
    held = job.held_window
    start = _moment(text, held.start if held else now, zone, now, words)
    if held is None:
        end = _later(start, start + USUAL, start, zone)
        return TriedWindow(job=job, start=start, end=end)
    return TriedWindow(job=job, start=start, end=_later(held.start, held.end, start, zone))


def end_typed(text: str, tried: TriedWindow, now: datetime, words: Words) -> TriedWindow:
    """Read when it ends. Raises NotTaken."""
    end = _moment(text, tried.end, tried.job.site.zone, now, words)
    if end <= tried.start:
        raise NotTaken("ends_before_start")
    return TriedWindow(job=tried.job, start=tried.start, end=end)


def written(when: datetime, job: Job, words: Words) -> str:
    """Write a moment as it can be typed back."""
    return typed.written_moment(words, when, job.site.zone)


def _moment(text: str, like: datetime, zone: str, now: datetime, words: Words) -> datetime:
    months = typed.months_of(words)
    try:
        found = typed.moment(text, zone, now, months)
    except NotTaken as no:
        at = clock(words, like.astimezone(ZoneInfo(zone)))
        try:
            found = typed.moment(f"{text.strip()} {at}", zone, now, months)
        except NotTaken:
            raise no from None
    return typed.utc(found)


def _later(start: datetime, end: datetime, moved: datetime, zone: str) -> datetime:
    """Return the end of a window that starts at another moment, by the site's clock."""
    place = ZoneInfo(zone)
    first, last, there = (each.astimezone(place) for each in (start, end, moved))
    length = last.replace(tzinfo=None) - first.replace(tzinfo=None)
    wanted = there.replace(tzinfo=None) + length
    return typed.utc(local_instant(wanted.date(), wanted.time(), zone, opening=False))

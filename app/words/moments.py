"""Dates and times as people write them: "Tue 2 Feb", 24 hours, the year when it changes."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from app.words.template import within
from app.words.voice import Voice

WEEKDAYS = (
    within("weekday", "Mon"),
    within("weekday", "Tue"),
    within("weekday", "Wed"),
    within("weekday", "Thu"),
    within("weekday", "Fri"),
    within("weekday", "Sat"),
    within("weekday", "Sun"),
)
_MONTHS = (
    within("month", "Jan"),
    within("month", "Feb"),
    within("month", "Mar"),
    within("month", "Apr"),
    within("month", "May"),
    within("month", "Jun"),
    within("month", "Jul"),
    within("month", "Aug"),
    within("month", "Sep"),
    within("month", "Oct"),
    within("month", "Nov"),
    within("month", "Dec"),
)
_DAY = "{weekday} {day} {month}"
_DAY_AND_YEAR = "{weekday} {day} {month} {year}"
_CLOCK = "{hour:02}:{minute:02}"
_MOMENT = "{day} {clock}"
_ELSEWHERE = "{moment} {place} time"
_FROM_TO = "{first} to {last}"


def day(voice: Voice, when: date, *, after: date | None) -> str:
    """Give a date, its year only if it differs from that of the date spoken of before."""
    template = _DAY if after is not None and after.year == when.year else _DAY_AND_YEAR
    return voice.say(
        template,
        weekday=voice.say(WEEKDAYS[when.weekday()]),
        day=when.day,
        month=voice.say(_MONTHS[when.month - 1]),
        year=str(when.year),
    )


def clock(voice: Voice, when: datetime) -> str:
    """Give the time of day as it stands."""
    return voice.say(_CLOCK, hour=when.hour, minute=when.minute)


def moment(
    voice: Voice, when: datetime, zone: str, *, after: date | None, home: str | None = None
) -> str:
    """Give an instant in a zone, which is named if it is not the one at home."""
    local = when.astimezone(ZoneInfo(zone))
    text = voice.say(_MOMENT, day=day(voice, local.date(), after=after), clock=clock(voice, local))
    if home is None or _same_clock(when, zone, home):
        return text
    place = zone.rpartition("/")[2].replace("_", " ")
    return voice.say(_ELSEWHERE, moment=text, place=place)


def _same_clock(when: datetime, zone: str, home: str) -> bool:
    return (
        when.astimezone(ZoneInfo(zone)).utcoffset() == when.astimezone(ZoneInfo(home)).utcoffset()
    )


def local_day(voice: Voice, when: datetime, zone: str, *, after: datetime) -> str:
    """Give the date on which an instant falls in a zone, seen from another instant there."""
    there = ZoneInfo(zone)
    return day(voice, when.astimezone(there).date(), after=after.astimezone(there).date())


def span(
    voice: Voice,
    start: datetime,
    end: datetime,
    zone: str,
    *,
    after: date | None,
    home: str | None = None,
) -> str:
    """Give a stretch from one instant to another."""
    first = start.astimezone(ZoneInfo(zone)).date()
    return voice.say(
        _FROM_TO,
        first=moment(voice, start, zone, after=after),
        last=moment(voice, end, zone, after=first, home=home),
    )

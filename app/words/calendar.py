"""Months and days as they stand over the wall."""

from datetime import date

from app.words.moments import WEEKDAYS
from app.words.template import Template, within
from app.words.voice import Voice

_MONTHS = (
    within("whole month", "January"),
    within("whole month", "February"),
    within("whole month", "March"),
    within("whole month", "April"),
    within("whole month", "May"),
    within("whole month", "June"),
    within("whole month", "July"),
    within("whole month", "August"),
    within("whole month", "September"),
    within("whole month", "October"),
    within("whole month", "November"),
    within("whole month", "December"),
)
_MONTH_AND_YEAR: Template = "{month} {year}"
_WEEKDAY_AND_DAY: Template = "{weekday} {day}"


def month(voice: Voice, when: date, *, with_year: bool) -> str:
    """Give a month's name, with its year where it begins or stands first."""
    name = voice.say(_MONTHS[when.month - 1])
    if not with_year:
        return name
    return voice.say(_MONTH_AND_YEAR, month=name, year=str(when.year))


def weekday_and_day(voice: Voice, when: date) -> str:
    """Give a day as "Tue 2"."""
    return voice.say(_WEEKDAY_AND_DAY, weekday=voice.say(WEEKDAYS[when.weekday()]), day=when.day)

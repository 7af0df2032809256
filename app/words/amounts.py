"""Amounts as people say them: of time in quarter days, hours, whole days from ten on, and of money.

What is to spare rounds down, what is late rounds up.
"""

from decimal import ROUND_CEILING, Decimal
from enum import StrEnum

from app.words.template import Template, counted, within
from app.words.voice import Voice

QUARTERS = ("", "¼", "½", "¾")
_HOUR_MINUTES = 60
_DAY_MINUTES = 24 * 60
_WHOLE_DAYS_FROM = 10


class Role(StrEnum):
    """What an amount stands for; a language may say each in its own way."""

    SPARE = "to spare"
    LATE = "late"
    WISH = "wished"
    SPAN = "long"


_NOTHING = within("amount", "nothing")
_PARTS_OF_A_DAY: dict[Role, tuple[Template, ...]] = {
    Role.SPARE: (
        within("to spare", "¼ of a day"),
        within("to spare", "½ a day"),
        within("to spare", "¾ of a day"),
    ),
    Role.LATE: (
        within("late", "¼ of a day"),
        within("late", "½ a day"),
        within("late", "¾ of a day"),
    ),
    Role.WISH: (
        within("wished", "¼ of a day"),
        within("wished", "½ a day"),
        within("wished", "¾ of a day"),
    ),
    Role.SPAN: (
        within("long", "¼ of a day"),
        within("long", "½ a day"),
        within("long", "¾ of a day"),
    ),
}
_DAYS: dict[Role, Template] = {
    Role.SPARE: counted("count", "{days} day", "{days} days", "to spare"),
    Role.LATE: counted("count", "{days} day", "{days} days", "late"),
    Role.WISH: counted("count", "{days} day", "{days} days", "wished"),
    Role.SPAN: counted("count", "{days} day", "{days} days", "long"),
}
_DAYS_AND_A_PART: dict[Role, Template] = {
    Role.SPARE: counted("count", "{days} days", "{days} days", "to spare, with a fraction"),
    Role.LATE: counted("count", "{days} days", "{days} days", "late, with a fraction"),
    Role.WISH: counted("count", "{days} days", "{days} days", "wished, with a fraction"),
    Role.SPAN: counted("count", "{days} days", "{days} days", "long, with a fraction"),
}
_HOURS = "{hours} h"
_MINUTES = "{minutes} min"


def days(voice: Voice, minutes: int, day_minutes: int, role: Role) -> str:
    """Give an amount in days of that many minutes; under a quarter of one in hours."""
    if 4 * minutes < day_minutes:
        return hours(voice, minutes, role)
    if minutes >= _WHOLE_DAYS_FROM * day_minutes:
        return _day_count(voice, _rounded(minutes, day_minutes, role) * 4, role)
    return _day_count(voice, _rounded(4 * minutes, day_minutes, role), role)


def _day_count(voice: Voice, quarters: int, role: Role) -> str:
    whole, part = divmod(quarters, 4)
    if not whole and part:
        return voice.say(_PARTS_OF_A_DAY[role][part - 1])
    template = (_DAYS_AND_A_PART if part else _DAYS)[role]
    text = voice.number(whole) + QUARTERS[part]
    return voice.say(template, count=whole, days=text)


def bare_days(voice: Voice, minutes: int, day_minutes: int) -> str:
    """Give an amount as a number alone where it is a day or more."""
    if minutes < day_minutes:
        return days(voice, minutes, day_minutes, Role.WISH)
    whole, part = divmod(_rounded(4 * minutes, day_minutes, Role.WISH), 4)
    return voice.number(whole) + QUARTERS[part]


def hours(voice: Voice, minutes: int, role: Role) -> str:
    """Give an amount in hours to the quarter, under one in minutes."""
    quarters = _rounded(minutes, _HOUR_MINUTES // 4, role)
    if not quarters:
        return voice.say(_NOTHING)
    if quarters < 4:
        return voice.say(_MINUTES, minutes=quarters * 15)
    whole, part = divmod(quarters, 4)
    return voice.say(_HOURS, hours=voice.number(whole) + QUARTERS[part])


def elapsed(voice: Voice, minutes: int, role: Role = Role.SPAN) -> str:
    """Give a stretch of elapsed time: hours to two days, from there days of 24 hours."""
    if minutes < 2 * _DAY_MINUTES:
        return hours(voice, minutes, role)
    return days(voice, minutes, _DAY_MINUTES, role)


def _rounded(amount: int, unit: int, role: Role) -> int:
    return -(-amount // unit) if role in {Role.LATE, Role.SPAN} else amount // unit


def money(voice: Voice, amount: Decimal) -> str:
    """Give an amount of money; whole where it is whole, else to the hundredth, rounded up."""
    hundredths = int((amount * 100).to_integral_value(ROUND_CEILING))
    whole, part = divmod(hundredths, 100)
    return f"{voice.number(whole)}.{part:02}" if part else voice.number(whole)

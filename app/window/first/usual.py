"""What is assumed of a workshop until somebody says otherwise: blanks whose defaults stand."""

import re
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from decimal import Decimal
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.words import Words
from app.words import first as say
from shared.book import Book, Closure, Route
from shared.worktime import Break, Shift

if TYPE_CHECKING:
    from shared.asking import Assumed, Country

NAMES = (
    *("hours", "people", "booths", "floor", "day", "night", "money"),
    *("christmas", "august", "answer", "buffer"),
)
MOST = {"people": 60, "booths": 9, "floor": 100_000, "answer": 250, "buffer": 250}
_FROM_NONE = frozenset({"answer", "buffer"})
_BREAK_HOURS, _LEAST_DAY_MINUTES = Decimal("0.5"), 120
_COLDEST, _WARMEST = -20, 45
_YEARS = (0, 1, 2)
_CHRISTMAS = ((24, 12), (1, 1))
_MONEY = {"GB": "GBP", "US": "USD", "CH": "CHF", "NO": "NOK", "SE": "SEK", "DK": "DKK"}
"""Codes of ISO 4217 by those of ISO 3166; where nothing stands here, it is the euro."""
_is_hours = re.compile(r"(\d\d?)[:.](\d\d)\s*\D+?\s*(\d\d?)[:.](\d\d)").fullmatch
_is_money = re.compile(r"[A-Z]{3}").fullmatch

Span = tuple[tuple[int, int], tuple[int, int]]
"""First and last day of a year, each as (day, month)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """The answers. money: a code of ISO 4217, "" for that of the country."""

    start: time
    end: time
    people: int
    booths: int
    floor: Decimal
    day: Decimal
    night: Decimal
    money: str
    christmas: Span | None
    august: Span | None
    answer: int
    buffer: Decimal


def usual() -> Usual:
    """Return what stands where nobody says otherwise."""
    from shared.asking.assumed import assumed_book, usual_assumed
    from shared.asking.countries import countries
    from shared.routes import known_routes

    assumed = usual_assumed()
    now = datetime(2000, 1, 1, tzinfo=ZoneInfo("UTC"))
    shop = assumed_book(assumed, countries()[0], known_routes(None)[0], now, "").workshop
    shift, warm = shop.shifts[0], shop.temperatures[0]
    return Usual(
        start=shift.start,
        end=shift.end,
        people=assumed.people,
        booths=assumed.booths,
        floor=assumed.floor_m2,
        day=warm.day_celsius,
        night=warm.night_celsius,
        money="",
        christmas=_CHRISTMAS,
        august=None,
        answer=assumed.answer_days,
        buffer=assumed.buffer_days,
    )


def assumed_of(answers: Usual) -> "Assumed":
    """Return the answers as a first answer takes them."""
    from shared.asking import usual_assumed

    base = usual_assumed()
    length = Decimal(_minutes(answers.end) - _minutes(answers.start)) / 60
    shift = length - _BREAK_HOURS
    return replace(
        base,
        people=answers.people,
        booths=answers.booths,
        floor_m2=answers.floor,
        shift_hours=shift,
        useful_hours=min(shift, base.useful_hours * shift / base.shift_hours),
        answer_days=answers.answer,
        buffer_days=answers.buffer,
    )


def _minutes(when: time) -> int:
    return when.hour * 60 + when.minute


def book_of(
    book: Book, answers: Usual, country: "Country", route: Route, now: datetime, words: Words
) -> Book:
    """Return a bare book with the workshop of the answers, planned by the clock from now on."""
    from shared.asking.assumed import assumed_book

    assumed = assumed_of(answers)
    made = assumed_book(assumed, country, route, now, book.workshop.name or book.name)
    shop = made.workshop
    today = now.astimezone(ZoneInfo(country.zone)).date()
    shift = _shift_of(shop.shifts[0], answers)
    warm = replace(shop.temperatures[0], day_celsius=answers.day, night_celsius=answers.night)
    shop = replace(
        shop,
        shifts=(shift,),
        temperatures=(warm,),
        currency=answers.money or _MONEY.get(country.code, shop.currency),
        closures=closures(answers.christmas, today, words.say(say.SHUT_NAME)),
    )
    shut = closures(answers.august, today, words.say(say.AUGUST_NAME))
    suppliers = tuple(replace(each, closures=shut) for each in made.suppliers)
    return replace(
        made,
        name=book.name,
        workshop=shop,
        suppliers=suppliers,
        as_of=book.as_of,
        routes=book.routes,
        revision=book.revision,
    )


def _shift_of(old: Shift, answers: Usual) -> Shift:
    """Return a shift that begins and ends as answered, its break as long after it begins."""
    later = _minutes(answers.start) - _minutes(old.start)
    breaks = tuple(
        Break(start=_clock(_minutes(each.start) + later), end=_clock(_minutes(each.end) + later))
        for each in old.breaks
    )
    return replace(old, start=answers.start, end=answers.end, breaks=breaks)


def _clock(minutes: int) -> time:
    return time(minutes // 60, minutes % 60)


def closures(span: Span | None, today: date, name: str) -> tuple[Closure, ...]:
    """Return the days of a span in this year and the next two, those that are over left out."""
    if span is None:
        return ()
    (day, month), (last_day, last_month) = span
    over = (last_month, last_day) < (month, day)
    found = []
    for year in (today.year - 1, *(today.year + more for more in _YEARS)):
        first, last = date(year, month, day), date(year + over, last_month, last_day)
        if last >= today:
            found.append(Closure(first=first, last=last, name=name))
    return tuple(found)


# As texts.


def text_of(answers: Usual, name: str, words: Words) -> str:
    """Return an answer as it stands in its blank."""
    value = getattr(answers, name) if name != "hours" else None
    if name == "hours":
        first, last = (f"{at.hour:02}:{at.minute:02}" for at in (answers.start, answers.end))
        return words.say(say.HOURS_SPAN, first=first, last=last)
    if name in {"christmas", "august"}:
        return _span_text(value, words)
    return value if isinstance(value, str) else typed.figure(value)


def _span_text(span: Span | None, words: Words) -> str:
    if span is None:
        return words.say(say.NOT_AT_ALL)
    first, last = (_day_text(each, words) for each in span)
    return words.say(say.DAYS_SPAN, first=first, last=last)


def _day_text(each: tuple[int, int], words: Words) -> str:
    day, month = each
    near = date(2000, month, day)
    name = words.day(near, after=near).split()[-1]
    return words.say(say.DAY_OF_YEAR, day=day, month=name)


def with_text(answers: Usual, name: str, text: str, words: Words) -> Usual:
    """Return the answers with what was typed for one of them.

    Raises
    ------
    NotTaken
        When it can't be meant.
    """
    if name == "hours":
        start, end = _hours_of(text)
        return replace(answers, start=start, end=end)
    if name == "christmas":
        return replace(answers, christmas=span_of(text, words))
    if name == "august":
        return replace(answers, august=span_of(text, words))
    if name == "money":
        return replace(answers, money=_money_of(text))
    if name in {"day", "night"}:
        warm = _celsius_of(text)
        return replace(answers, day=warm) if name == "day" else replace(answers, night=warm)
    return _counted(answers, name, text)


def _counted(answers: Usual, name: str, text: str) -> Usual:
    least, most = (0 if name in _FROM_NONE else 1), MOST[name]
    found = typed.number(text)
    is_whole = name in {"people", "booths", "answer"}
    if not least <= found <= most or (is_whole and found != int(found)):
        raise NotTaken("not_between", value=text, least=least, most=most)
    match name:
        case "people":
            return replace(answers, people=int(found))
        case "booths":
            return replace(answers, booths=int(found))
        case "answer":
            return replace(answers, answer=int(found))
        case "floor":
            return replace(answers, floor=found)
        case _:
            return replace(answers, buffer=found)


def _hours_of(text: str) -> tuple[time, time]:
    found = _is_hours(text.strip())
    if not found:
        raise NotTaken("not_hours", value=text)
    first, past, last, over = (int(part) for part in found.groups())
    try:
        start, end = time(first, past), time(last, over)
    except ValueError:
        raise NotTaken("not_hours", value=text) from None
    if _minutes(end) - _minutes(start) < _LEAST_DAY_MINUTES:
        raise NotTaken("not_hours", value=text)
    return start, end


def _money_of(text: str) -> str:
    plain = text.strip().upper()
    if not plain:
        return ""
    if not _is_money(plain):
        raise NotTaken("not_money", value=text)
    return plain


def _celsius_of(text: str) -> Decimal:
    sign = -1 if text.strip()[:1] in {"-", "−"} else 1
    found = sign * typed.number(text.strip().lstrip("-−"))
    if not _COLDEST <= found <= _WARMEST:
        raise NotTaken("not_between", value=text, least=_COLDEST, most=_WARMEST)
    return found


def span_of(text: str, words: Words) -> Span | None:
    """Read "24 Dec to 1 Jan", or None for nothing and "not at all"."""
    plain = " ".join(text.split())
    nothing = {"", "-", "–", words.say(say.NOT_AT_ALL).casefold()}
    if plain.casefold() in nothing:
        return None
    between = re.escape(words.say(say.BETWEEN))
    ends = re.split(rf"\s+{between}\s+|\s*[–-]\s*", plain)
    if len(ends) != 2:
        raise NotTaken("not_a_span", value=text)
    months = typed.months_of(words)
    leap = date(2000, 1, 1)
    try:
        first, last = (typed.day(each, leap, months) for each in ends)
    except NotTaken:
        raise NotTaken("not_a_span", value=text) from None
    days = ((first.day, first.month), (last.day, last.month))
    if (29, 2) in days:
        raise NotTaken("not_a_span", value=text)
    return days

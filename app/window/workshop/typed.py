"""Hours, days and rooms as people type them on the workshop's page. No Qt."""

import re
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from itertools import pairwise
from zoneinfo import ZoneInfo

from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.words import Words
from app.words import workshop_view as say
from app.words.moments import WEEKDAYS
from shared.book import Place
from shared.worktime import Break, Shift, local_instant

_times = re.compile(r"(\d\d?)[:.](\d\d)").finditer
_SPLIT = re.compile(r"\s+(?:to|bis|until)\s+|\s*[–—]\s*|\s+-\s+")
_AND = re.compile(r",|\band\b|\bund\b|&")
_DASH = re.compile(r"\s+(?:to|bis)\s+|\s*[–—-]\s*")
_ROOM = re.compile(r"(\d+(?:[.,]\d+)?)\s*(.*)")
_WEEK = (0, 1, 2, 3, 4)
_YEARS = (1950, 2150)


# Hours.


def hours(text: str, words: Words) -> tuple[Shift, ...]:
    """Read "Mon to Fri 07:30 to 16:00, break 12:00 to 12:30"; several with ";" between."""
    return tuple(_shift(part, words) for part in text.split(";") if part.strip())


def _shift(text: str, words: Words) -> Shift:
    found = [(match.start(), _clock(match, text)) for match in _times(text)]
    if len(found) < 2 or len(found) % 2:
        raise NotTaken("not_hours", value=text)
    clocks = [at for _, at in found]
    pairs = list(zip(clocks[::2], clocks[1::2], strict=True))
    if any(first == last for first, last in pairs):
        raise NotTaken("not_hours", value=text)
    days = _weekdays(text[: found[0][0]], words)
    breaks = tuple(Break(start=first, end=last) for first, last in pairs[1:])
    return Shift(days=days, start=pairs[0][0], end=pairs[0][1], breaks=breaks)


def _clock(match: "re.Match[str]", text: str) -> time:
    try:
        return time(int(match[1]) % 24, int(match[2]))
    except ValueError:
        raise NotTaken("not_hours", value=text) from None


def _weekdays(text: str, words: Words) -> tuple[int, ...]:
    """Read "Mon to Fri", "Mon, Wed and Sat"; nothing means Monday to Friday."""
    plain = text.strip(" ,:")
    if not plain:
        return _WEEK
    found: list[int] = []
    for part in _AND.split(plain):
        ends = [_weekday(end, words, text) for end in _DASH.split(part.strip()) if end.strip()]
        if len(ends) == 2:
            found += [day % 7 for day in range(ends[0], ends[0] + (ends[1] - ends[0]) % 7 + 1)]
        else:
            found += ends
    return tuple(sorted(set(found)))


def _weekday(text: str, words: Words, whole: str) -> int:
    wanted = text.strip(" .").casefold()
    for number, template in enumerate(WEEKDAYS):
        known = words.say(template).casefold().rstrip(".")
        if wanted and (wanted.startswith(known) or known.startswith(wanted)):
            return number
    raise NotTaken("not_hours", value=whole)


def hours_text(shifts: tuple[Shift, ...], words: Words) -> str:
    """Write hours as they can be read back."""
    return "; ".join(_shift_text(shift, words) for shift in shifts)


def _shift_text(shift: Shift, words: Words) -> str:
    days = _days_text(shift.days, words)
    first, last = f"{shift.start:%H:%M}", f"{shift.end:%H:%M}"
    text = words.say(say.HOURS, days=days, first=first, last=last)
    for each in shift.breaks:
        pause = {"first": f"{each.start:%H:%M}", "last": f"{each.end:%H:%M}"}
        text = words.say(say.HOURS_BREAK, hours=text, **pause)
    return text


def _days_text(days: tuple[int, ...], words: Words) -> str:
    names = [words.say(WEEKDAYS[day]) for day in days]
    if len(days) > 2 and all(b - a == 1 for a, b in pairwise(days)):
        return words.say(say.DAYS_SPAN, first=names[0], last=names[-1])
    return words.series(names)


def parts_of(text: str) -> tuple[str, ...]:
    """Read a list with commas, "and" or lines between."""
    parts = (part.strip() for line in re.split(r"[\n\r;]+", text) for part in _AND.split(line))
    return tuple(part for part in parts if part)


def line(text: str) -> str:
    """Read a line that may be empty."""
    return " ".join(text.split())


def first_of(text: str) -> tuple[str, str]:
    """Read "Bay 1, Mon 3 May to Fri 7 May": what stands before the first comma, and the rest."""
    first, _, rest = text.partition(",")
    return line(first), rest.strip()


def moment(text: str, words: Words, now: datetime) -> datetime:
    """Read a moment by the workshop's clock, near to now where it names no year."""
    when = typed.moment(text.strip(" ,"), words.zone, now, typed.months_of(words))
    if not _YEARS[0] <= when.year <= _YEARS[1]:
        raise NotTaken("not_a_moment", value=text)
    return typed.utc(when)


# Days.


def day_text(day: date | None, words: Words, today: date) -> str:
    """Write a day as it can be read back: its year where it isn't the next of that name."""
    if day is None:
        return ""
    is_next = today <= day < today + timedelta(days=300)
    return words.day(day, after=day if is_next else None)


def day_or_none(text: str, words: Words, today: date) -> date | None:
    """Read a day, or nothing."""
    if not text.strip(" –-"):
        return None
    return _near(typed.day(text, today, typed.months_of(words)), text)


def _near(day: date, text: str) -> date:
    """Return a day that lies within a lifetime of work; others are slips of the hand."""
    if not _YEARS[0] <= day.year <= _YEARS[1]:
        raise NotTaken("not_a_day", value=text)
    return day


def days(text: str, words: Words, today: date) -> tuple[date, date]:
    """Read "Mon 3 May to Fri 7 May", or one day."""
    parts = [part for part in _SPLIT.split(text.strip()) if part.strip()]
    if len(parts) not in (1, 2):
        raise NotTaken("not_days", value=text)
    months = typed.months_of(words)
    try:
        first = _near(typed.day(parts[0], today, months), text)
        last = _near(typed.day(parts[-1], first if len(parts) > 1 else today, months), text)
    except NotTaken:
        raise NotTaken("not_days", value=text) from None
    if last < first:
        raise NotTaken("not_days", value=text)
    return first, last


def days_text(first: date, last: date, words: Words, today: date) -> str:
    """Write a span of days as it can be read back."""
    if first == last:
        return day_text(first, words, today)
    return words.say(
        say.DAYS_SPAN,
        first=day_text(first, words, today),
        last=day_text(last, words, first),
    )


def stretch(text: str, words: Words, today: date) -> tuple[datetime, datetime]:
    """Read whole days, or two moments: "Thu 4 Feb 07:30 to Thu 4 Feb 12:00"."""
    if not list(_times(text)):
        first, last = days(text, words, today)
        start = local_instant(first, time(0), words.zone, opening=True)
        end = local_instant(last + timedelta(days=1), time(0), words.zone, opening=True)
        return typed.utc(start), typed.utc(end)
    parts = [part for part in _SPLIT.split(text.strip()) if part.strip()]
    if len(parts) != 2:
        raise NotTaken("not_days", value=text)
    months, zone = typed.months_of(words), words.zone
    near = local_instant(today, time(12), zone, opening=True)
    start = typed.moment(parts[0], zone, near, months)
    end = typed.moment(parts[1], zone, start, months)
    if end <= start or not _YEARS[0] <= start.year <= end.year <= _YEARS[1]:
        raise NotTaken("not_days", value=text)
    return typed.utc(start), typed.utc(end)


def stretch_text(start: datetime, end: datetime, words: Words, today: date) -> str:
    """Write a stretch as it can be read back: in whole days where it is so."""
    first, last = start.astimezone(_zone(words)), end.astimezone(_zone(words))
    if first.time() == last.time() == time(0):
        return days_text(first.date(), last.date() - timedelta(days=1), words, today)
    after = {"after": first.date()} if abs((first.date() - today).days) < 150 else {"after": None}
    return words.say(
        say.DAYS_SPAN,
        first=words.moment(start, **after),
        last=words.moment(end, **after),
    )


def _zone(words: Words) -> ZoneInfo:
    return ZoneInfo(words.zone)


# Rooms and lists.


def room(text: str) -> tuple[Decimal | None, int | None]:
    """Read "120 m²" or "3 slots", or a bare number of slots; nothing means one slot."""
    plain = text.strip()
    if not plain:
        return None, None
    found = _ROOM.fullmatch(plain)
    if not found:
        raise NotTaken("not_a_room", value=text)
    figure = typed.number(found[1])
    if found[2].strip().casefold().startswith("m"):
        return figure, None
    if figure != int(figure) or not figure:
        raise NotTaken("not_a_room", value=text)
    return None, int(figure)


def room_text(place: Place, words: Words) -> str:
    """Write a place's room as it can be read back."""
    if place.area_m2 is not None:
        return words.say(say.ROOM_AREA, area=typed.figure(place.area_m2))
    if place.slots is not None:
        return words.say(say.ROOM_SLOTS, count=place.slots)
    return ""


def months(text: str, words: Words) -> tuple[int, ...]:
    """Read "Nov to Mar", "Jul, Aug", "all year"."""
    known = typed.months_of(words)
    if text.strip().casefold() == words.say(say.ALL_YEAR).casefold():
        return tuple(range(1, 13))
    found: list[int] = []
    for part in _AND.split(text):
        ends = [known.get(end.strip()[:3].casefold(), 0) for end in _DASH.split(part.strip())]
        if not all(ends) or len(ends) > 2:
            raise NotTaken("not_months", value=text)
        count = (ends[-1] - ends[0]) % 12 + 1
        found += [(ends[0] - 1 + step) % 12 + 1 for step in range(count)]
    return tuple(dict.fromkeys(found))


def months_text(which: tuple[int, ...], words: Words) -> str:
    """Write months as they can be read back."""
    if sorted(which) == list(range(1, 13)):
        return words.say(say.ALL_YEAR)
    names = [words.day(date(2001, m, 15), after=date(2001, 1, 1)).split()[-1] for m in which]
    is_run = all((b - a) % 12 == 1 for a, b in pairwise(which))
    if len(which) > 2 and is_run:
        return words.say(say.DAYS_SPAN, first=names[0], last=names[-1])
    return words.series(names)


def names(text: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Read a pasted list of people: a name to a line (or commas between), skills behind it.

    "Edda: carve, laminate", or in the columns of a sheet, each in a column of its own.
    """
    lines = [line for line in re.split(r"[\n\r;\u2028\u2029]+", text) if line.strip()]
    if len(lines) == 1 and ":" not in lines[0] and "\t" not in lines[0]:
        lines = [part for part in _AND.split(lines[0]) if part.strip()]
    return tuple(_named(line) for line in lines)


def _named(line: str) -> tuple[str, tuple[str, ...]]:
    first, *others = re.split(r"[\t:]", line)
    skills = [" ".join(skill.split()) for part in others for skill in part.split(",")]
    return typed.name(first), tuple(skill for skill in skills if skill)

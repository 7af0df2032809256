"""What people type into blanks: read leniently, refused by a code, written back plainly. No Qt."""

import re
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, time
from decimal import Decimal, InvalidOperation

from app.words import Words
from app.words import window as say
from app.words.voice import written
from shared.worktime import local_instant

_PARTS = {"¼": Decimal("0.25"), "½": Decimal("0.5"), "¾": Decimal("0.75")}
_is_iso = re.compile(r"(\d{4})-(\d\d?)-(\d\d?)[ T]+(\d\d?)[:.](\d\d)").fullmatch
_is_written = re.compile(
    r"(?:[^\W\d]+\.?,?\s+)?(\d\d?)\.?\s+([^\W\d]+)\.?(?:\s+(\d{4}))?,?\s+(\d\d?)[:.](\d\d)"
).fullmatch
_is_iso_day = re.compile(r"(\d{4})-(\d\d?)-(\d\d?)").fullmatch
_is_written_day = re.compile(
    r"(?:[^\W\d]+\.?,?\s+)?(\d\d?)\.?\s+([^\W\d]+)\.?(?:,?\s+(\d{4}))?"
).fullmatch
_is_dotted_day = re.compile(r"(\d\d?)\.(\d\d?)\.(\d{4})?").fullmatch
_MOST = Decimal(100_000)


class NotTaken(Exception):  # noqa: N818 - it says what happened
    """What was typed can't be meant: a code and facts for the sentence."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code)
        self.code, self.facts = code, facts


def number(text: str) -> Decimal:
    """Read a number that is not below nothing: "12", "12.5", "12,5", "12½"."""
    plain = text.strip().replace(",", ".")
    part = _PARTS.get(plain[-1:], Decimal(0))
    whole = plain[:-1].strip() if part else plain
    try:
        found = (Decimal(whole) if whole or not part else Decimal(0)) + part
    except InvalidOperation:
        raise NotTaken("not_a_number", value=text) from None
    if not found.is_finite() or abs(found) > _MOST:
        raise NotTaken("not_a_number", value=text)
    if found < 0:
        raise NotTaken("not_positive", value=text)
    return found


def number_or_none(text: str) -> Decimal | None:
    """Read a number, or nothing."""
    return number(text) if text.strip(" –-") else None


def size_or_none(text: str) -> Decimal | None:
    """Read a size in metres, or nothing."""
    try:
        found = number_or_none(text)
    except NotTaken:
        raise NotTaken("not_a_size", value=text) from None
    if found is not None and not found:
        raise NotTaken("not_a_size", value=text)
    return found


def whole(text: str) -> int:
    """Read a whole number."""
    found = number(text)
    if found != int(found):
        raise NotTaken("not_a_number", value=text)
    return int(found)


def whole_or_none(text: str) -> int | None:
    """Read a whole number, or nothing."""
    return whole(text) if text.strip(" –-") else None


def name(text: str) -> str:
    """Read a name, which is never empty."""
    found = " ".join(text.split())
    if not found:
        raise NotTaken("no_name")
    return found


def figure(value: Decimal | int | None) -> str:
    """Write a number plainly, with the decimal mark of the language; nothing for None."""
    return "" if value is None else written(f"{Decimal(value).normalize():f}")


def moment(text: str, zone: str, near: datetime, months: Mapping[str, int]) -> datetime:
    """Read "Tue 13 Apr 06:00" or "2027-04-13 06:00" by a zone's clock.

    near: decides the year where none is typed. months: by the first letters of their names.
    """
    plain = text.strip()
    if found := _is_iso(plain):
        year, month, day, hour, minute = (int(part) for part in found.groups())
        return _instant(text, (year, month, day, hour, minute), zone)
    found = _is_written(plain)
    month = months.get(found[2][:3].casefold(), 0) if found else 0
    if not found or not month:
        raise NotTaken("not_a_moment", value=text)
    day, hour, minute = int(found[1]), int(found[4]), int(found[5])
    years = (int(found[3]),) if found[3] else (near.year - 1, near.year, near.year + 1)
    made = [_maybe((year, month, day, hour, minute), zone) for year in years]
    fitting = [instant for instant in made if instant is not None]
    if not fitting:
        raise NotTaken("not_a_moment", value=text)
    return min(fitting, key=lambda instant: abs(instant - near))


def day(text: str, today: date, months: Mapping[str, int]) -> date:
    """Read "Tue 13 Apr", "13 April 2027", "13.4.2027" or "2027-04-13"; of no year the next one."""
    plain = text.strip()
    year: str | int | None
    if found := _is_iso_day(plain):
        year, month, number = found[1], int(found[2]), int(found[3])
    elif found := _is_dotted_day(plain):
        year, month, number = found[3], int(found[2]), int(found[1])
    elif found := _is_written_day(plain):
        year, month, number = found[3], months.get(found[2][:3].casefold(), 0), int(found[1])
    else:
        raise NotTaken("not_a_day", value=text)
    years = (int(year),) if year else (today.year, today.year + 1)
    days = [made for each in years if (made := _day_or_none(each, month, number)) is not None]
    fitting = [made for made in days if year or made >= today]
    if not fitting:
        raise NotTaken("not_a_day", value=text)
    return fitting[0]


def _day_or_none(year: int, month: int, number: int) -> date | None:
    try:
        return date(year, month, number)
    except ValueError:
        return None


_Parts = tuple[int, int, int, int, int]


def _instant(text: str, parts: _Parts, zone: str) -> datetime:
    made = _maybe(parts, zone)
    if made is None:
        raise NotTaken("not_a_moment", value=text)
    return made


def _maybe(parts: _Parts, zone: str) -> datetime | None:
    year, month, day, hour, minute = parts
    try:
        return local_instant(date(year, month, day), time(hour, minute), zone, opening=True)
    except ValueError:
        return None


def months_of(words: Words) -> dict[str, int]:
    """Return the months by the first three letters of their names in words' language."""
    found = {}
    for month in range(1, 13):
        written = words.day(date(2001, month, 15), after=date(2001, 1, 1)).split()[-1]
        found[written[:3].casefold()] = month
    return found


def written_moment(words: Words, when: datetime, zone: str) -> str:
    """Write an instant as it can be read back: with its year only if it isn't near."""
    return say.short_moment_bare(words, when, zone)


def people(text: str, known: Mapping[str, str]) -> tuple[str, ...]:
    """Read names of people with commas or "and" between; known: ids by name."""
    by_name = {known_name.casefold(): identity for known_name, identity in known.items()}
    found = []
    for part in re.split(r",|\band\b|\bund\b|&", text):
        wanted = " ".join(part.split())
        if not wanted:
            continue
        if wanted.casefold() not in by_name:
            raise NotTaken("not_a_person", value=wanted)
        found.append(by_name[wanted.casefold()])
    return tuple(dict.fromkeys(found))


def one_of(text: str, known: Mapping[str, str], code: str) -> str:
    """Read one of several words, or the beginning of just one; known: values by word."""
    wanted = " ".join(text.split()).casefold()
    exact = [value for word, value in known.items() if word.casefold() == wanted]
    begun = [value for word, value in known.items() if word.casefold().startswith(wanted)]
    if exact or (wanted and len(begun) == 1):
        return (exact or begun)[0]
    raise NotTaken(code, value=text, known=_listed(known))


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)


def utc(when: datetime) -> datetime:
    """Return an instant in UTC, as books write it."""
    return when.astimezone(UTC)

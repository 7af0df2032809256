"""Codecs of single values: texts, numbers, words, dates, times and instants.

Each reads a plain value of JSON, writes its JSON text and knows its JSON Schema.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from decimal import Decimal
from enum import StrEnum
from typing import Any, Protocol, TypeVar

from shared.files.json_text import Literal, Odd, has_lone_surrogate, kind_of, quoted, shown
from shared.files.notes import Notes
from shared.files.trouble import Json, Wrong

Schema = dict[str, Any]
T = TypeVar("T")
D = TypeVar("D", bound=date)

LARGEST_NUMBER = 10**12
MOST_DECIMALS = 60
FIRST_YEAR = 1900
LAST_YEAR = 2199
_MOST_WORDS_SHOWN = 20
_PLAIN_LENGTH = 12
"""Digits of so many, with or without a point, are a number that every book can hold."""

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")

_DAY = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_CLOCK = r"[0-9]{2}:[0-9]{2}(:[0-9]{2})?"
_ZONED = (
    rf"{_DAY}T[0-9]{{2}}:[0-9]{{2}}(:[0-9]{{2}}(\.[0-9]{{1,6}})?)?(Z|[+-][0-9]{{2}}:[0-9]{{2}})"
)
_is_day = re.compile(_DAY).fullmatch
_is_clock = re.compile(_CLOCK).fullmatch
_is_zoned = re.compile(_ZONED).fullmatch
_is_unzoned = re.compile(rf"{_DAY}[T ][0-9]{{2}}:[0-9]{{2}}(:[0-9]{{2}}(\.[0-9]+)?)?").fullmatch


class Codec(Protocol):
    """Reads, writes and describes one sort of value."""

    def read(self, value: Json, notes: Notes) -> Json:
        """Make the value, or raise Wrong or Broken."""

    def write(self, value: Json, pad: str) -> str:
        """Give its JSON text, standing behind so much space."""

    def schema(self, parts: Schema) -> Schema:
        """Give its JSON Schema; named parts are put into `parts`."""


def wrong_type(wanted: str, value: object) -> Wrong:
    """Make the trouble of a value of another sort than the one wanted."""
    if isinstance(value, Odd):
        return Wrong("not_a_number", value=str(value))
    return Wrong("wrong_type", wanted=wanted, found=kind_of(value), value=shown(value))


class Text:
    """A text."""

    def read(self, value: Json, notes: object) -> str:
        """Take a text that UTF-8 can hold."""
        if type(value) is not str:
            raise wrong_type("text", value)
        if has_lone_surrogate(value):
            raise Wrong("broken_text", value=shown(value))
        return value

    def write(self, value: str, pad: str) -> str:
        """Put it in quotes."""
        return quoted(value)

    def schema(self, parts: Schema) -> Schema:
        """Describe any text."""
        return {"type": "string"}


class Truth:
    """True or false."""

    def read(self, value: Json, notes: object) -> bool:
        """Take true or false and nothing like them."""
        if type(value) is not bool:
            raise wrong_type("truth", value)
        return value

    def write(self, value: bool, pad: str) -> str:  # noqa: FBT001
        """Write the word."""
        return "true" if value else "false"

    def schema(self, parts: Schema) -> Schema:
        """Describe a truth."""
        return {"type": "boolean"}


class Whole:
    """A whole number between -10^12 and 10^12, neither included."""

    def read(self, value: Json, notes: object) -> int:
        """Take a whole number written without a point."""
        if type(value) is int:
            if -LARGEST_NUMBER < value < LARGEST_NUMBER:
                return value
            raise Wrong("number_too_large", value=shown(value), limit=LARGEST_NUMBER)
        if isinstance(value, Literal):
            raise Wrong("number_too_large", value=shown(value), limit=LARGEST_NUMBER)
        if isinstance(value, Decimal):
            raise Wrong("not_whole", value=shown(value))
        raise wrong_type("whole_number", value)

    def write(self, value: int, pad: str) -> str:
        """Write its digits.

        Raises
        ------
        ValueError
            If it lies outside the limits.
        """
        if not -LARGEST_NUMBER < value < LARGEST_NUMBER:
            raise ValueError(f"number that no book can hold: {value}")
        return str(int(value))

    def schema(self, parts: Schema) -> Schema:
        """Describe a whole number inside the limits."""
        limits = {"exclusiveMinimum": -LARGEST_NUMBER, "exclusiveMaximum": LARGEST_NUMBER}
        return {"type": "integer", **limits}


class Exact:
    """A number with or without decimals, held exactly; below 10^12, at most 60 decimals."""

    def read(self, value: Json, notes: object) -> Decimal:
        """Take a number."""
        if type(value) is int:
            value = Decimal(value)
        if not isinstance(value, Decimal):
            if isinstance(value, Literal):
                raise Wrong("number_too_large", value=shown(value), limit=LARGEST_NUMBER)
            raise wrong_type("number", value)
        if not -LARGEST_NUMBER < value < LARGEST_NUMBER:
            raise Wrong("number_too_large", value=shown(value), limit=LARGEST_NUMBER)
        if _is_too_fine(value):
            raise Wrong("number_too_fine", value=shown(value), limit=MOST_DECIMALS)
        return value

    def write(self, value: Decimal, pad: str) -> str:
        """Write it plainly: no exponent, no zeros at the end.

        Raises
        ------
        ValueError
            If it lies outside the limits.
        """
        text = str(value)
        if len(text) <= _PLAIN_LENGTH and text.replace(".", "", 1).isdigit():
            return text.rstrip("0").rstrip(".") if "." in text else text
        if not (value.is_finite() and abs(value) < LARGEST_NUMBER) or _is_too_fine(value):
            raise ValueError(f"number that no book can hold: {value}")
        if not value:
            return "0"
        text = format(value, "f")
        return text.rstrip("0").rstrip(".") if "." in text else text

    def schema(self, parts: Schema) -> Schema:
        """Describe a number inside the limits."""
        limits = {"exclusiveMinimum": -LARGEST_NUMBER, "exclusiveMaximum": LARGEST_NUMBER}
        return {"type": "number", **limits}


def _is_too_fine(value: Decimal) -> bool:
    exponent = value.as_tuple().exponent
    return not isinstance(exponent, int) or exponent < -MOST_DECIMALS


@dataclass(frozen=True, slots=True)
class Words:
    """One word of a list."""

    kind: type[StrEnum]
    by_word: dict[str, StrEnum]
    texts: dict[StrEnum, str]

    @classmethod
    def of(cls, kind: type[StrEnum]) -> "Words":
        """Make the codec of an enumeration."""
        texts = {member: quoted(member.value) for member in kind}
        return cls(kind, {member.value: member for member in kind}, texts)

    def read(self, value: Json, notes: object) -> StrEnum:
        """Take one of the words."""
        if type(value) is not str:
            raise wrong_type("word", value)
        found = self.by_word.get(value)
        if found is None:
            raise unknown_word(value, tuple(self.by_word))
        return found

    def write(self, value: StrEnum, pad: str) -> str:
        """Put the word in quotes."""
        return self.texts.get(value) or quoted(self.kind(value).value)

    def schema(self, parts: Schema) -> Schema:
        """List the words."""
        return {"enum": list(self.by_word)}


def unknown_word(word: str, known: tuple[str, ...]) -> Wrong:
    """Make the trouble of a word that isn't in the list."""
    listed = ", ".join(known[:_MOST_WORDS_SHOWN])
    return Wrong("unknown_word", near=(word, known), word=shown(word), known=listed)


class Weekday:
    """A day of the week: "mon" to "sun" in the file, 0 to 6 in the book."""

    def read(self, value: Json, notes: object) -> int:
        """Take one of the seven words."""
        if type(value) is not str:
            raise wrong_type("word", value)
        if value not in WEEKDAYS:
            raise unknown_word(value, WEEKDAYS)
        return WEEKDAYS.index(value)

    def write(self, value: int, pad: str) -> str:
        """Write the word of the day."""
        return quoted(WEEKDAYS[value])

    def schema(self, parts: Schema) -> Schema:
        """List the seven words."""
        return {"enum": list(WEEKDAYS)}


class Day:
    """A date, YYYY-MM-DD."""

    def read(self, value: Json, notes: object) -> date:
        """Take a date of the calendar, 1900 to 2199."""
        if type(value) is not str:
            raise wrong_type("date", value)
        return _in_range(_parsed(value, _is_day, date.fromisoformat, "bad_date"), value)

    def write(self, value: date, pad: str) -> str:
        """Write it as YYYY-MM-DD.

        Raises
        ------
        ValueError
            If it lies outside the years that can be read.
        """
        _check_year(value)
        return f'"{value.isoformat()}"'

    def schema(self, parts: Schema) -> Schema:
        """Describe a text like a date."""
        return {"type": "string", "format": "date", "pattern": f"^{_DAY}$"}


class Clock:
    """A time of the wall clock, HH:MM or HH:MM:SS."""

    def read(self, value: Json, notes: object) -> time:
        """Take a time from 00:00 to 23:59:59."""
        if type(value) is not str:
            raise wrong_type("time", value)
        return _parsed(value, _is_clock, time.fromisoformat, "bad_time")

    def write(self, value: time, pad: str) -> str:
        """Write it, its seconds only where it has some.

        Raises
        ------
        ValueError
            If it has a zone or parts of a second.
        """
        if value.tzinfo is not None or value.microsecond:
            raise ValueError(f"time that no book can hold: {value!r}")
        return f'"{value.isoformat("seconds" if value.second else "minutes")}"'

    def schema(self, parts: Schema) -> Schema:
        """Describe a text like a time."""
        return {"type": "string", "pattern": f"^{_CLOCK}$"}


class Instant:
    """An instant, ISO 8601; with any offset in the file, always UTC in the book."""

    def read(self, value: Json, notes: object) -> datetime:
        """Take an instant with its offset."""
        if type(value) is not str:
            raise wrong_type("instant", value)
        if _is_unzoned(value):
            raise Wrong("instant_without_offset", value=shown(value))
        found = _parsed(value, _is_zoned, datetime.fromisoformat, "bad_instant")
        _in_range(found, value)
        return found if found.tzinfo is UTC else _in_range(found.astimezone(UTC), value)

    def write(self, value: datetime, pad: str) -> str:
        """Write it in UTC with a Z.

        Raises
        ------
        ValueError
            If it has no zone or lies outside the years that can be read.
        """
        if value.utcoffset() is None:
            raise ValueError(f"instant without a zone: {value!r}")
        whole = value.astimezone(UTC).replace(tzinfo=None)
        _check_year(whole)
        return f'"{whole.isoformat()}Z"'

    def schema(self, parts: Schema) -> Schema:
        """Describe a text like an instant."""
        return {"type": "string", "format": "date-time", "pattern": f"^{_ZONED}$"}


def _parsed(value: str, fits: Callable[[str], object], parse: Callable[[str], T], code: str) -> T:
    if not fits(value):
        raise Wrong(code, value=shown(value))
    try:
        return parse(value)
    except ValueError:
        raise Wrong(code, value=shown(value)) from None


def _in_range(found: D, value: str) -> D:
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise Wrong("year_out_of_range", value=shown(value), first=FIRST_YEAR, last=LAST_YEAR)
    return found


def _check_year(value: date) -> None:
    if not FIRST_YEAR <= value.year <= LAST_YEAR:
        raise ValueError(f"year that no book can hold: {value}")


BY_TYPE: dict[type, Codec] = {
    str: Text(),
    bool: Truth(),
    int: Whole(),
    Decimal: Exact(),
    date: Day(),
    time: Clock(),
    datetime: Instant(),
}
"""The codec of each plain type."""

"""Sizes as people type them: metres, centimetres, millimetres, feet and inches.

`2.4`, `2400mm`, `7ft 10in`, `7'10"`, `10 1/2in`; three of them with x between: `2.4x2.1x2.6`.
A number alone is metres; in a size it is of the unit of the last number, where no other has
another unit. All of it is exact: the international inch is 25.4 mm (agreement of 1959), a foot is
twelve of them.
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

_PRIME = "\u2032"
_INCH_M = Decimal("0.0254")
_UNITS: dict[str, Decimal] = {
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Decimal(1)),
    "cm": Decimal("0.01"),
    "mm": Decimal("0.001"),
    **dict.fromkeys(("ft", "foot", "feet", "'", "’", _PRIME), 12 * _INCH_M),
    **dict.fromkeys(("in", "inch", "inches", '"', "”", "″", "''"), _INCH_M),
}
_FOOT_M, _INCHES_IN_A_FOOT = 12 * _INCH_M, 12
_LONGEST_M = 100
_SIDES = 3
_FINENESS = (2, 4, 8, 16, 32, 64)
_TIMES = "xX×*"


class BadSize(ValueError):  # noqa: N818 - it says what it is
    """A size that is not understood: a code, what was typed, and at which character it is.

    code: "empty_size", "not_a_size", "unknown_unit", "unit_missing", "inches_over", "no_size",
    "too_long" or "wrong_count". at: counted from 1.
    """

    def __init__(self, code: str, word: str, at: int) -> None:
        """Keep what is wrong and where."""
        super().__init__(code, word, at)
        self.code, self.word, self.at = code, word, at


@dataclass(frozen=True, slots=True)
class _Part:
    """A number with what stands behind it: metres in one unit, and the unit, "" for none."""

    number: Decimal
    unit: str
    at: int
    text: str


def length_of(text: str) -> Decimal:
    """Give a length in metres.

    Raises
    ------
    BadSize
        If it is none, is not more than 0, or is more than 100 m.
    """
    return _metres(_parts(text, 0), "m", text, 0)


def size_of(text: str) -> tuple[Decimal, Decimal, Decimal]:
    """Give length, width and height in metres.

    Raises
    ------
    BadSize
        If there are not three lengths with x between.
    """
    pieces = _pieces(text)
    if len(pieces) != _SIDES:
        raise BadSize("wrong_count", text.strip(), 1) if text.strip() else _nothing(0)
    sides = [_parts(piece, at) for piece, at in pieces]
    usual = _usual_unit(sides)
    length, width, height = (
        _metres(side, usual, piece, at) for side, (piece, at) in zip(sides, pieces, strict=True)
    )
    return length, width, height


def _pieces(text: str) -> list[tuple[str, int]]:
    """Give what stands between the signs for times, each with where it begins."""
    found, begins = [], 0
    for at, letter in enumerate(text):
        if letter in _TIMES:
            found.append((text[begins:at], begins))
            begins = at + 1
    return [*found, (text[begins:], begins)]


def _usual_unit(sides: list[list[_Part]]) -> str | None:
    """Give the unit of numbers that have none: that of the last, metres where nobody has one.

    None where it would be a guess: the last has none, is in feet and inches both, or another
    is in another unit.
    """
    units = {_UNITS[part.unit] for side in sides for part in side if part.unit}
    if not units:
        return "m"
    last = sides[-1]
    return last[0].unit or None if len(last) == len(units) == 1 else None


def _metres(parts: list[_Part], usual: str | None, text: str, at: int) -> Decimal:
    if len(parts) == 1:
        (part,) = parts
        unit = part.unit or usual
        if unit is None:
            raise BadSize("unit_missing", part.text, part.at + 1)
        found = part.number * _UNITS[unit]
    else:
        found = _feet_and_inches(parts)
    if found <= 0:
        raise BadSize("no_size", text.strip(), at + 1)
    if found > _LONGEST_M:
        raise BadSize("too_long", text.strip(), at + 1)
    return found


def _feet_and_inches(parts: list[_Part]) -> Decimal:
    feet, inches, *more = parts
    if more or _UNITS.get(feet.unit) != _FOOT_M or _UNITS.get(inches.unit, _INCH_M) != _INCH_M:
        wrong = more[0] if more else inches
        raise BadSize("not_a_size", wrong.text, wrong.at + 1)
    if inches.number >= _INCHES_IN_A_FOOT:
        raise BadSize("inches_over", inches.text, inches.at + 1)
    return feet.number * _FOOT_M + inches.number * _INCH_M


def _nothing(at: int) -> BadSize:
    return BadSize("empty_size", "", at + 1)


def _parts(text: str, begins: int) -> list[_Part]:
    """Read numbers with their units; begins: where the text stands in what was typed."""
    found: list[_Part] = []
    at = 0
    while at < len(text.rstrip()):
        match = _pattern().match(text, at)
        if match is None:
            lost = len(text) - len(text[at:].lstrip())
            raise BadSize("not_a_size", text[lost:].strip(), begins + lost + 1)
        found.append(_part(match, begins))
        at = match.end()
    if not found:
        raise _nothing(begins)
    return found


def _part(match: re.Match[str], begins: int) -> _Part:
    at, text = begins + match.start(1), match[0].strip()
    unit = (match["unit"] or "").lower()
    if unit and unit not in _UNITS:
        raise BadSize("unknown_unit", match["unit"], begins + match.start("unit") + 1)
    number = Decimal(match["whole"] or 0)
    if match["below"]:
        if int(match["below"]) not in _FINENESS:
            raise BadSize("not_a_size", text, at + 1)
        number += Decimal(match["above"]) / Decimal(match["below"])
    return _Part(number, unit, at, text)


@cache
def _pattern() -> re.Pattern[str]:
    """Give the pattern of a number, a fraction or both, and the word or sign behind it."""
    whole = r"(?:(?P<whole>[0-9]{1,9}(?:\.[0-9]{1,9})?)(?![0-9./]))?"
    fraction = r"(?:[\s-]*(?P<above>[0-9]{1,2})/(?P<below>[0-9]{1,2})(?![0-9/]))?"
    unit = rf"(?P<unit>[A-Za-z]+|''|['\"’”{_PRIME}″])?"
    return re.compile(rf"\s*((?=[0-9]){whole}{fraction})(?<=[0-9])\s*{unit}")

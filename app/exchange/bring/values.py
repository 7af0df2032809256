"""What a cell means: days, times, numbers and words, as people in several countries write them."""

import re
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from app.exchange.bring.cells import Cell

_DAYS = (
    (re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})"), (1, 2, 3)),
    (re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})"), (3, 2, 1)),
)
_SLASHED = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4})")
_TIME = re.compile(r"(\d{1,2})[:.h](\d{2})(?::00)?(?:\s?Uhr)?")
_MOMENT = re.compile(r"(.+?)(?:,\s*|\s+|T)(\d{1,2}[:.h]\d{2}(?::00)?(?:\s?Uhr)?)")
_GROUPED = re.compile(r"[+-]?\d{1,3}([.,' \u00a0\u202f])\d{3}(?:\1\d{3})*")
_PLAIN = re.compile(r"[+-]?\d+(?:\.\d+)?", re.ASCII)
_YES = frozenset({"yes", "y", "true", "x", "1", "ja", "j", "wahr"})
_NO = frozenset({"", "no", "n", "false", "0", "nein", "falsch"})
_WEEKDAYS = {
    name: at + 1
    for at, names in enumerate(
        (
            ("mon", "monday", "mo", "montag"),
            ("tue", "tuesday", "di", "dienstag"),
            ("wed", "wednesday", "mi", "mittwoch"),
            ("thu", "thursday", "do", "donnerstag"),
            ("fri", "friday", "fr", "freitag"),
            ("sat", "saturday", "sa", "samstag", "sonnabend"),
            ("sun", "sunday", "so", "sonntag"),
        )
    )
    for name in names
}
_EVERY = frozenset({"daily", "every day", "täglich"})
_ERRORS = re.compile(r"#(?:REF!|N/A|NAME\?|VALUE!|DIV/0!|NULL!|NUM!)")
LONGEST = 400
FIRST_YEAR, LAST_YEAR = 1950, 2199


class Bad(Exception):  # noqa: N818 - it says what is wrong with a cell
    """A cell can't be taken: a code and facts for the sentence and its cure."""

    def __init__(self, code: str, **facts: str | int) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts = facts


Reader = Callable[[Cell], object]


def shown(cell: Cell) -> str:
    """Return a cell as it is told in a sentence, cut where it is long."""
    text = str(cell)
    return text if len(text) <= 40 else f"{text[:39]}…"


def text(cell: Cell) -> str:
    """Read a text; a number stands as it is written."""
    if isinstance(cell, float) and cell.is_integer():
        cell = int(cell)
    found = str(cell).strip()
    if _ERRORS.fullmatch(found):
        raise Bad("error_cell", value=found)
    if len(found) > LONGEST:
        raise Bad("too_long", value=shown(found), most=LONGEST)
    if any(ord(letter) < 0x20 and letter not in "\t\n\r" for letter in found):
        raise Bad("not_text", value=shown(found.encode("unicode_escape").decode()))
    return " ".join(found.split())


def _word(cell: str) -> str:
    """Return what may be a number, a day or a time; none of them is written at such length."""
    if len(cell) > LONGEST:
        raise Bad("too_long", value=shown(cell), most=LONGEST)
    return cell.strip()


def number(cell: Cell) -> Decimal:
    """Read a number; of one that may be thousands or decimals nothing is guessed."""
    if isinstance(cell, bool | date | time | timedelta):
        raise Bad("not_a_number", value=shown(cell))
    if isinstance(cell, int | float):
        found = Decimal(repr(cell))
        if not found.is_finite():
            raise Bad("not_a_number", value=shown(cell))
        return found
    word = _without_groups(_word(cell).replace("\u2212", "-"), cell)
    if not _PLAIN.fullmatch(word):
        raise Bad("not_a_number", value=shown(cell))
    return Decimal(word)


def _without_groups(word: str, cell: Cell) -> str:
    """Return a number with a point before its decimals and nothing between thousands."""
    if "." in word and "," in word:
        last = max(word.rfind("."), word.rfind(","))
        return re.sub(r"[.,]", "", word[:last]) + "." + word[last + 1 :]
    found = _GROUPED.fullmatch(word)
    if found is None:
        return word.replace(",", ".")
    mark = found[1]
    if mark not in ".," or word.count(mark) > 1:
        return word.replace(mark, "")
    if word.lstrip("+-").startswith("0"):
        return word.replace(",", ".")
    raise Bad("two_ways", value=shown(cell))


def between(least: Decimal | int, most: Decimal | int, *, whole: bool = False) -> Reader:
    """Return the reader of a number within bounds, both included."""

    def read(cell: Cell) -> object:
        found = number(cell)
        if not least <= found <= most:
            raise Bad("out_of_bounds", value=shown(cell), least=str(least), most=str(most))
        if not whole:
            return found
        if found != int(found):
            raise Bad("not_whole", value=shown(cell))
        return int(found)

    return read


def day(cell: Cell) -> date:
    """Read a date: 2027-04-03, 3.4.2027, or 13/4/2027 where only one reading is a day."""
    if isinstance(cell, datetime):
        if cell.time() != time(0):
            raise Bad("not_a_day", value=shown(cell))
        cell = cell.date()
    if isinstance(cell, date):
        return _in_years(cell, cell)
    word = _word(cell) if isinstance(cell, str) else ""
    for pattern, (year, month, at) in _DAYS:
        found = pattern.fullmatch(word)
        if found:
            return _a_day(int(found[year]), int(found[month]), int(found[at]), cell)
    slashed = _SLASHED.fullmatch(word)
    if slashed is None:
        raise Bad("not_a_day", value=shown(cell))
    one, two, year_ = (int(each) for each in slashed.groups())
    if one <= 12 and two <= 12 and one != two:
        raise Bad("two_days", value=shown(cell))
    month, at = (two, one) if two <= 12 else (one, two)
    return _a_day(year_, month, at, cell)


def _a_day(year: int, month: int, at: int, cell: Cell) -> date:
    try:
        found = date(year, month, at)
    except ValueError:
        raise Bad("not_a_day", value=shown(cell)) from None
    return _in_years(found, cell)


def _in_years(found: date, cell: Cell) -> date:
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise Bad("not_a_day", value=shown(cell))
    return found


def clock(cell: Cell) -> time:
    """Read a time of day: 07:30, 7.30, 7h30, or a cell that is one."""
    if isinstance(cell, time):
        return cell.replace(second=0, microsecond=0)
    if isinstance(cell, timedelta) and timedelta(0) <= cell < timedelta(days=1):
        return (datetime(2000, 1, 1) + cell).time().replace(second=0, microsecond=0)
    found = _TIME.fullmatch(_word(cell)) if isinstance(cell, str) else None
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise Bad("not_a_time", value=shown(cell))
    return time(int(found[1]), int(found[2]))


def moment(cell: Cell) -> datetime:
    """Read a day with its time, by whose clock is said elsewhere: without a zone."""
    if isinstance(cell, datetime):
        _in_years(cell, cell)
        return cell.replace(second=0, microsecond=0)
    found = _MOMENT.fullmatch(_word(cell)) if isinstance(cell, str) else None
    if found is None:
        raise Bad("not_a_moment", value=shown(cell))
    return datetime.combine(day(found[1]), clock(found[2]))


def yes(cell: Cell) -> bool:
    """Read yes or no; nothing is no."""
    if isinstance(cell, bool):
        return cell
    word = text(cell).casefold()
    if word in _YES or word in _NO:
        return word in _YES
    raise Bad("not_yes_or_no", value=shown(cell))


def several(cell: Cell) -> tuple[str, ...]:
    """Read words with commas, semicolons or plus signs between them."""
    parts = (part.strip() for part in re.split(r"[,;+\n]", text(cell)))
    return tuple(part for part in parts if part)


def weekdays(cell: Cell) -> tuple[int, ...]:
    """Read days of the week, 1 for Monday: names or the first letters, or "daily"."""
    if text(cell).casefold() in _EVERY:
        return tuple(range(1, 8))
    found = set()
    for word in several(cell):
        known = _WEEKDAYS.get(word.rstrip(".").casefold())
        if known is None:
            raise Bad("not_a_weekday", value=shown(word))
        found.add(known)
    return tuple(sorted(found))


def one_of(words: dict[str, object]) -> Reader:
    """Return the reader of a word that is one of some, in either language."""

    def read(cell: Cell) -> object:
        word = text(cell).casefold()
        if word not in words:
            raise Bad("not_one_of", value=shown(cell), known=", ".join(words))
        return words[word]

    return read

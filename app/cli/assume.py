"""What is assumed for a first answer, as one line that can be edited and typed again."""

from dataclasses import dataclass, fields, replace
from decimal import Decimal, InvalidOperation
from functools import partial
from typing import Any

from app.cli.arguments import Usage
from app.cli.blanks import Blanks
from app.words import ask as say
from app.words.voice import Voice
from shared.asking import Assumed, Country, country_named, nearest_country

HOME = "home"
OF_THE_CLIENT = ("answer_days", "changes")
"""What is assumed even where there is a book."""

_OPTION = "--assume"
_MOST: dict[str, int] = {
    "people": 60,
    "useful_hours": 24,
    "shift_hours": 16,
    "booths": 9,
    "floor_m2": 100_000,
    "vans": 20,
    "answer_days": 250,
    "changes": 1,
    "buffer_days": 250,
}
_FROM_NONE = frozenset({"vans", "answer_days", "changes", "buffer_days"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """What is assumed, and in which country the workshop is; None where nobody said."""

    assumed: Assumed
    home: Country | None = None


def country_typed(text: str) -> Country:
    """Give a country by its name or code; raises Usage."""
    found = country_named(text)
    if found is not None:
        return found
    near = nearest_country(text)
    if near is None:
        raise Usage("unknown_country_named", word=text)
    nearest = f"{Voice().brought(near.name)} ({near.code})"
    raise Usage("unknown_country_like", word=text, nearest=nearest)


def assume_typed(usual: Assumed, typed: str | None, blanks: Blanks, *, has_book: bool) -> Line:
    """Read what is to be assumed instead of the usual, noting all that can't be taken."""
    line = Line(assumed=usual)
    for pair in (typed or "").split(",") if typed is not None else ():
        name, _, value = (part.strip() for part in pair.partition("="))
        known = OF_THE_CLIENT if has_book else (*names(), HOME)
        if name not in known:
            blanks.refuse(_OPTION, pair, "unknown_assumption", word=pair, known=", ".join(known))
        elif name == HOME:
            home = blanks.read(_OPTION, value, country_typed)
            line = line if home is None else replace(line, home=home)
        else:
            found = blanks.read(_OPTION, value, partial(_value, name))
            if found is not None:
                changed: dict[str, Any] = {name: found}
                line = replace(line, assumed=replace(line.assumed, **changed))
    _hold_hours(line.assumed, typed, blanks)
    return line


def names() -> tuple[str, ...]:
    """Give the names of what is assumed."""
    return tuple(field.name for field in fields(Assumed))


def values_text(assumed: Assumed, home: Country | None, *, has_book: bool) -> str:
    """Give the line as it is typed."""
    wanted = OF_THE_CLIENT if has_book else names()
    pairs = [f"{name}={_text(getattr(assumed, name))}" for name in wanted]
    return ",".join([*pairs, *([f"{HOME}={home.code}"] if home is not None else [])])


def _text(value: int | Decimal) -> str:
    return str(value) if isinstance(value, int) else f"{value:f}"


def _value(name: str, text: str) -> int | Decimal:
    least, most = (0 if name in _FROM_NONE else 1), _MOST[name]
    is_whole = isinstance(getattr(_SAMPLE, name), int)
    voice = Voice()
    wanted = voice.say(say.FROM_TO, least=least, most=most)
    try:
        found = Decimal(text) if text.isascii() and len(text) < 10 else None
    except InvalidOperation:
        found = None
    if found is None or not found.is_finite() or not least <= found <= most:
        raise Usage("bad_assumption", word=text, name=name, wanted=wanted)
    if not is_whole:
        return found
    if found != int(found):
        whole = voice.say(say.FROM_TO_WHOLE, least=least, most=most)
        raise Usage("bad_assumption", word=text, name=name, wanted=whole)
    return int(found)


def _hold_hours(assumed: Assumed, typed: str | None, blanks: Blanks) -> None:
    if typed is not None and assumed.useful_hours > assumed.shift_hours:
        wanted = Voice().say(say.WITHIN_SHIFT, hours=f"{assumed.shift_hours:f}")
        facts = {"word": f"{assumed.useful_hours:f}", "name": "useful_hours", "wanted": wanted}
        blanks.refuse(_OPTION, typed, "bad_assumption", **facts)


_SAMPLE = Assumed(
    people=1,
    useful_hours=Decimal(1),
    shift_hours=Decimal(1),
    booths=1,
    floor_m2=Decimal(1),
    vans=1,
    answer_days=1,
    changes=1,
    buffer_days=Decimal(1),
)
"""Which of the values are whole numbers."""

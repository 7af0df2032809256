"""Blanks filled in on the command line: all that is wrong is told at once, with its cure."""

from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from typing import TypeVar

from app.cli.arguments import Usage
from app.cli.books import Json
from app.cli.console import Console
from app.words import Words, shell

_INDENT = "    "
_BETWEEN = "; "
_MOST_TIMES = 20
_MOST_DIGITS = 12

Read = TypeVar("Read")
Word = TypeVar("Word", bound=StrEnum)


class Blanks:
    """What was typed into the blanks of one command, and what of it can't be taken."""

    def __init__(self) -> None:
        """Start with nothing wrong."""
        self.wrong: list[tuple[str, str, Usage]] = []

    def read(self, option: str, typed: str | None, reader: Callable[[str], Read]) -> Read | None:
        """Give what a blank means, None where it is empty or can't be taken."""
        if typed is None:
            return None
        try:
            return reader(typed)
        except Usage as usage:
            self.wrong.append((option, typed, usage))
            return None

    def refuse(self, place: str, typed: str, code: str, /, **facts: object) -> None:
        """Note that a blank can't be taken."""
        self.wrong.append((place, typed, Usage(code, **facts)))

    def say(self, console: Console, words: Words) -> None:
        """Write all that is wrong, each with its place and cure."""
        for option, _, usage in self.wrong:
            console.say(f"{console.alarm(words.say(shell.STOPS))}  {option}")
            console.wrapped(words.trouble(usage.code, **usage.facts), indent=_INDENT)
        stops = words.say(shell.STOPPING, count=len(self.wrong))
        console.say(words.say(shell.FINDINGS, count=len(self.wrong), stops=stops))

    def objects(self, words: Words) -> list[Json]:
        """Give all that is wrong for programs, as findings."""
        return [_object(words, *each) for each in self.wrong]


def _object(words: Words, option: str, typed: str, usage: Usage) -> Json:
    text = words.trouble(usage.code, **usage.facts)
    what, is_two, cure = text.rpartition(_BETWEEN)
    return {
        "code": usage.code,
        "path": option,
        "name": typed,
        "text": f"{what}." if is_two else text,
        "cure": f"{cure[:1].upper()}{cure[1:]}" if is_two else "",
        "stops": True,
    }


def times_typed(text: str) -> Decimal:
    """Give how many times as large; raises Usage."""
    found = _number(text)
    if found is None or not 0 < found <= _MOST_TIMES:
        raise Usage("bad_times", word=text, most=_MOST_TIMES)
    return found


def area_typed(text: str) -> Decimal:
    """Give an area in square metres; raises Usage."""
    found = _number(text)
    if found is None or found <= 0:
        raise Usage("bad_area", word=text)
    return found


def count_typed(text: str, most: int) -> int:
    """Give a number of pieces; raises Usage."""
    if not (text.isascii() and text.isdigit() and len(text) < _MOST_DIGITS):
        raise Usage("bad_count", word=text, most=most)
    if not 1 <= int(text) <= most:
        raise Usage("bad_count", word=text, most=most)
    return int(text)


def word_typed(text: str, words: type[Word], code: str) -> Word:
    """Give a word out of a few; raises Usage with the code where it is none."""
    wanted = text.strip().casefold().replace(" ", "_").replace("-", "_")
    found = next((each for each in words if each.value == wanted), None)
    if found is None:
        raise Usage(code, word=text, known=", ".join(each.value for each in words))
    return found


def _number(text: str) -> Decimal | None:
    if not text.isascii() or len(text) > _MOST_DIGITS:
        return None
    try:
        found = Decimal(text.strip())
    except InvalidOperation:
        return None
    return found if found.is_finite() else None

"""One language: templates turned into sentences by it."""

import gettext
import re
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from string import Formatter

from app.words.language import WRITTEN_IN, spoken
from app.words.template import Phrase, Template, within

DOMAIN = "countback"
LOCALE_FOLDER = Path(__file__).resolve().parent.parent / "resources" / "locale"

_AND = "{first} and {last}"
_COMMA = "{first}, {last}"
_NUMBERS = (
    within("number", "no"),
    within("number", "one"),
    within("number", "two"),
    within("number", "three"),
    within("number", "four"),
    within("number", "five"),
    within("number", "six"),
    within("number", "seven"),
    within("number", "eight"),
    within("number", "nine"),
    within("number", "ten"),
    within("number", "eleven"),
    within("number", "twelve"),
)
_THOUSANDS = within("between thousands", ",")
_DECIMAL = within("before decimals", ".")
_MISSING = "…"
_AS_TYPED = {"value", "word", "typed", "example", "usage", "path", "id"}
_OF_THE_PROGRAM = {
    *("source", "material", "skill", "skills", "can", "helps"),
    *("certificate", "unit", "country", "home", "way"),
}
_is_figure = re.compile(r"[-−+]?\d+(?:\.\d+)?(?: [×x] \d+(?:\.\d+)?)*").fullmatch


class Voice:
    """Says templates in one language; without one, in that of the person's environment."""

    def __init__(self, language: str | None = None, *, folder: Path | None = None) -> None:
        where = folder or LOCALE_FOLDER
        self.language = language or spoken(where, DOMAIN)
        self._messages = gettext.translation(
            DOMAIN, where, languages=[self.language], fallback=True
        )
        self._mark = self._messages.pgettext(_DECIMAL.context, _DECIMAL.text)
        self._formatter = _Forgiving(self._mark, self.brought)

    def say(self, template: Template, /, **facts: object) -> str:
        """Give the sentence; a count that a template goes by must be a whole number."""
        return self._formatter.vformat(self._translated(template, facts), (), facts)

    def _translated(self, template: Template, facts: dict[str, object]) -> str:
        if isinstance(template, str):
            return self._messages.gettext(template) if template else ""
        if template.by:
            return self._counted(template, _whole(facts.get(template.by)))
        return self._messages.pgettext(template.context, template.text)

    def _counted(self, phrase: Phrase, count: int) -> str:
        if phrase.context:
            return self._messages.npgettext(phrase.context, phrase.text, phrase.many, count)
        return self._messages.ngettext(phrase.text, phrase.many, count)

    def decimal(self, figure: str) -> str:
        """Give a number that is written with a point as the language writes it."""
        return figure.replace(".", self._mark)

    def brought(self, name: str) -> str:
        """Give a name that the program itself brings: of a stage, a figure, a country."""
        return self._messages.pgettext("brought", name) if name else ""

    def inside(self, name: str) -> str:
        """Give a name as it stands inside a sentence, where nouns have no capitals of their own."""
        is_word = self.language == WRITTEN_IN and name[1:2].islower()
        return name[:1].lower() + name[1:] if is_word else name

    def number(self, count: int) -> str:
        """Give a whole number in figures, its thousands apart."""
        return (
            f"{count:,}".replace(",", self.say(_THOUSANDS)) if abs(count) >= 10_000 else str(count)
        )

    def number_word(self, count: int) -> str:
        """Give a small number as a word, others in figures."""
        return self.say(_NUMBERS[count]) if 0 <= count < len(_NUMBERS) else self.number(count)

    def both(self, parts: Iterable[str]) -> str:
        """Join parts into one list with an `and` before the last."""
        all_parts = list(parts)
        if len(all_parts) < 2:
            return "".join(all_parts)
        return self.say(_AND, first=self.series(all_parts[:-1]), last=all_parts[-1])

    def series(self, parts: Iterable[str]) -> str:
        """Join parts with commas."""
        joined = ""
        for part in parts:
            joined = self.say(_COMMA, first=joined, last=part) if joined else part
        return joined


class _Forgiving(Formatter):
    """Fills a template; a fact that never came leaves a mark instead of a crash.

    Figures with decimals get the language's own mark, except where it is what somebody typed.
    What a book knows by a word of the program (a skill, a country) is said in the language.
    """

    def __init__(self, mark: str, brought: Callable[[str], str]) -> None:
        self._mark, self._brought = mark, brought

    def get_value(self, key: int | str, args: object, kwargs: object) -> object:
        found = kwargs.get(key) if isinstance(kwargs, dict) else None
        if found is None:
            return _MISSING
        if key in _AS_TYPED or self._mark == ".":
            return found
        if key in _OF_THE_PROGRAM and isinstance(found, str):
            return self._in_words(found)
        return self._written(found)

    def format_field(self, value: object, format_spec: str) -> str:
        return str(value) if value == _MISSING else format(value, format_spec)

    def _in_words(self, listed: str) -> str:
        whole = self._brought(listed)
        if whole != listed:
            return whole
        return ", ".join(self._brought(each) for each in listed.split(", "))

    def _written(self, found: object) -> object:
        text = found if isinstance(found, str) else str(found)
        is_decimal = "." in text and _is_figure(text)
        return text.replace(".", self._mark) if is_decimal else found


def _whole(count: object) -> int:
    if isinstance(count, int):
        return count
    digits = "".join(c for c in str(count) if c.isdigit())
    return int(digits) if digits else 0


@cache
def _mark_of(language: str) -> str:
    return Voice(language).decimal(".")


def written(figure: str) -> str:
    """Return a number that is written with a point as the language that is spoken has it."""
    return figure.replace(".", _mark_of(spoken(LOCALE_FOLDER, DOMAIN)))


def capital(sentence: str) -> str:
    """Give the sentence with a capital at its beginning."""
    return sentence[:1].upper() + sentence[1:]

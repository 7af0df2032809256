"""One language: templates turned into sentences by it."""

import gettext
from collections.abc import Iterable
from pathlib import Path
from string import Formatter

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
_MISSING = "…"


class Voice:
    """Says templates in one language; without one, in that of the person's environment."""

    def __init__(self, language: str | None = None, *, folder: Path | None = None) -> None:
        languages = [language] if language else None
        self._messages = gettext.translation(
            DOMAIN, folder or LOCALE_FOLDER, languages=languages, fallback=True
        )
        self._formatter = _Forgiving()

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
    """Fills a template; a fact that never came leaves a mark instead of a crash."""

    def get_value(self, key: int | str, args: object, kwargs: object) -> object:
        found = kwargs.get(key) if isinstance(kwargs, dict) else None
        return _MISSING if found is None else found

    def format_field(self, value: object, format_spec: str) -> str:
        return str(value) if value == _MISSING else format(value, format_spec)


def _whole(count: object) -> int:
    if isinstance(count, int):
        return count
    digits = "".join(c for c in str(count) if c.isdigit())
    return int(digits) if digits else 0


def capital(sentence: str) -> str:
    """Give the sentence with a capital at its beginning."""
    return sentence[:1].upper() + sentence[1:]

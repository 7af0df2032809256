"""Facts that come with codes, made fit to stand in a sentence by what they are called.

A fact called `minutes`, or ending in it, is elapsed time; a text that is an instant or a date
is written as one; a fact called after a sort of thing (step, person, place ...) is an id and
gets its name; everything else stands as it is.
"""

import re
from collections.abc import Iterable
from datetime import date, datetime

from app.words import amounts, moments
from app.words.names import Names
from app.words.voice import Voice
from shared.findings import Fact

_is_date = re.compile(r"\d{4}-\d\d-\d\d").fullmatch
_is_instant = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)").fullmatch
_AS_WRITTEN = {"value", "word", "field"}


def facts_in_words(
    voice: Voice,
    facts: Iterable[tuple[str, Fact]],
    zone: str | None,
    names: Names | None = None,
) -> dict[str, object]:
    """Give each fact as it stands in a sentence; counts stay numbers."""
    known = names or Names(voice)
    return {key: _in_words(voice, key, fact, zone, known) for key, fact in facts}


def _in_words(voice: Voice, key: str, fact: Fact, zone: str | None, names: Names) -> object:
    if isinstance(fact, int) and (key == "minutes" or key.endswith("_minutes")):
        return amounts.elapsed(voice, fact)
    if not isinstance(fact, str) or key in _AS_WRITTEN:
        return fact
    if _is_date(fact):
        return _date(voice, fact)
    if zone and _is_instant(fact):
        return _moment(voice, fact, zone)
    return names.of(key, fact)


def _moment(voice: Voice, fact: str, zone: str) -> str:
    try:
        return moments.moment(voice, datetime.fromisoformat(fact), zone, after=None)
    except (ValueError, OverflowError):
        return fact


def _date(voice: Voice, fact: str) -> str:
    try:
        return moments.day(voice, date.fromisoformat(fact), after=None)
    except ValueError:
        return fact

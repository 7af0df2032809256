"""Every finding there is: its code, whether it stops, and the facts that come with it.

App's catalogue has a sentence and a cure for each; a test holds the two against each other.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from shared.findings import Fact, Finding


@dataclass(frozen=True, slots=True)
class Entry:
    """What is fixed about a code: the names of its facts, in order, and whether it stops."""

    facts: tuple[str, ...] = ()
    stops: bool = True


def _stops(*facts: str) -> Entry:
    return Entry(facts)


def _tells(*facts: str) -> Entry:
    return Entry(facts, stops=False)


_FILE = {
    # The file as a whole.
    "too_big": _stops("limit_megabytes"),
    "not_utf8": _stops("byte"),
    "not_json": _stops("line", "column"),
    "too_deep": _stops("limit"),
    "not_countback": _stops("wanted"),
    "wrong_kind": _stops("kind", "wanted"),
    "bad_format": _stops("value"),
    "newer_format": _stops("format", "known"),
    "more_findings": _stops("count"),
    # Any part of it.
    "doubled_field": _stops("field"),
    "missing_field": _stops("field"),
    "unknown_field": _tells("field", "nearest"),
    "wrong_type": _stops("wanted", "found", "value"),
    "broken_text": _stops("value"),
    "unknown_word": _stops("word", "nearest", "known"),
    # Numbers and dates.
    "not_a_number": _stops("value"),
    "not_whole": _stops("value"),
    "number_too_large": _stops("value", "limit"),
    "number_too_fine": _stops("value", "limit"),
    "bad_date": _stops("value"),
    "bad_time": _stops("value"),
    "bad_instant": _stops("value"),
    "instant_without_offset": _stops("value"),
    "year_out_of_range": _stops("value", "first", "last"),
    "break_without_length": _stops(),
    "not_allowed": _stops(),
}

CODES: Mapping[str, Entry] = MappingProxyType({**_FILE})
"""Each code with its entry."""


def finding(code: str, path: tuple[str | int, ...], name: str, **facts: Fact) -> Finding:
    """Make a finding of a known code, its facts in their order.

    Raises
    ------
    KeyError
        If the code is not known or one of its facts is missing.
    ValueError
        If there are facts that the code doesn't have.
    """
    entry = CODES[code]
    if facts.keys() - set(entry.facts):
        raise ValueError(f"facts that {code} doesn't have: {sorted(facts)}")
    told = tuple((key, facts[key]) for key in entry.facts)
    return Finding(code=code, path=path, name=name, facts=told, stops=entry.stops)

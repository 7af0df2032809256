"""Countries, subdivisions and categories whose holidays are known, without loading a calendar.

The list beside the file format holds the two-letter codes of ISO 3166 only. What it doesn't
hold may be known by another name; then the calendars themselves are asked, which takes longer.
"""

import json
from functools import cache, lru_cache
from pathlib import Path

from shared import files
from shared.holidaydates import HolidayRule, is_known

LIST = Path(files.__file__).parent / "calendars.json"


@lru_cache(maxsize=1024)
def has_holidays(country: str, subdivision: str | None, categories: tuple[str, ...]) -> bool:
    """Say whether holidays are known for a country, a subdivision of it and some categories."""
    if country in _listed():
        subdivisions, known = _listed()[country]
        is_listed = subdivision is None or subdivision in subdivisions
        if is_listed and known.issuperset(categories):
            return True
    return is_known(HolidayRule(country=country, subdivision=subdivision, categories=categories))


@cache
def _listed() -> dict[str, tuple[frozenset[str], frozenset[str]]]:
    found = json.loads(LIST.read_text(encoding="utf-8"))
    return {
        country: (frozenset(subdivisions.split()), frozenset(categories.split()))
        for country, (subdivisions, categories) in found.items()
    }

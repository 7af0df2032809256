"""Countries by their code of ISO 3166 or by name, each with the zone of most of its people.

Zones are those of the time zone database (IANA, public domain). Where a country has several, the
one is taken in which its largest city lies.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from shared.files.nearest import nearest

_TABLE = Path(__file__).with_name("countries.csv")


@dataclass(frozen=True, slots=True, kw_only=True)
class Country:
    """A country: its code, name and zone, and the part of it whose holidays are meant by it."""

    code: str
    name: str
    zone: str
    subdivision: str | None = None
    also: tuple[str, ...] = ()


@cache
def countries() -> tuple[Country, ...]:
    """Give every country, by its code."""
    # Only who asks for a country pays for the reader of tables.
    import csv

    with _TABLE.open(encoding="utf-8", newline="") as lines:
        return tuple(
            Country(
                code=row["code"],
                name=row["name"],
                zone=row["zone"],
                subdivision=row["subdivision"] or None,
                also=tuple(row["also"].split("|")) if row["also"] else (),
            )
            for row in csv.DictReader(lines)
        )


def country_named(word: str) -> Country | None:
    """Give the country of a code or a name, None where there is none."""
    return _by_word().get(word.strip().casefold())


def nearest_country(word: str) -> Country | None:
    """Give the country whose name is most like a word, None where none is."""
    names = {name: country for country in countries() for name in (country.name, *country.also)}
    found = nearest(word.strip(), tuple(names))
    return None if found is None else names[found]


@cache
def _by_word() -> dict[str, Country]:
    found: dict[str, Country] = {}
    for country in countries():
        for word in (country.code, country.name, *country.also):
            found[word.casefold()] = country
    return found

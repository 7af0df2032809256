"""The figures of the trade, read from one table for each subject when the first is asked for.

A table is `data/SUBJECT.csv` with the columns id, name, value, low, high, unit, source and
confidence; an empty number is not known. Ids beginning with CP are our own.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

_FOLDER = Path(__file__).with_name("data")


class Confidence(StrEnum):
    """How far a figure is to be trusted.

    OFFICIAL: the official or primary text was read. SECONDARY: a source that quotes or applies
    one was read (trade guide, published datasheet, abstract). COMPUTED: from other figures.
    MEMORY: the document is named but was not read again. PRACTICE: common practice without a
    source; an editable default, never a rule. OWN: the workshop's own figure; no table has it.
    """

    OFFICIAL = "R1"
    SECONDARY = "R2"
    COMPUTED = "X"
    MEMORY = "M"
    PRACTICE = "P"
    OWN = "own"


class UnknownFigure(LookupError):  # noqa: N818 - it says what is wrong
    """No figure has this id, no table this subject, or the figure lacks the number asked for."""

    def __init__(self, name: str) -> None:
        """Keep what was asked for."""
        super().__init__(f"unknown figure: {name}")
        self.name = name


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure of the trade: its value, its range, or both, in `unit`; exactly as published.

    Of a few the range is a band of something else than the value; then the unit says so.
    """

    id: str
    name: str
    value: Decimal | None
    low: Decimal | None
    high: Decimal | None
    unit: str
    source: str
    confidence: Confidence

    @property
    def amount(self) -> Decimal:
        """Return the value; UnknownFigure if it has only a range."""
        return self._known("value", self.value)

    @property
    def least(self) -> Decimal:
        """Return the low end of its range; UnknownFigure if it has none."""
        return self._known("low", self.low)

    @property
    def most(self) -> Decimal:
        """Return the high end of its range; UnknownFigure if it has none."""
        return self._known("high", self.high)

    def _known(self, name: str, number: Decimal | None) -> Decimal:
        if number is None:
            raise UnknownFigure(f"{self.id} {name}")
        return number


def figure(figure_id: str) -> Figure:
    """Give the figure of an id.

    Raises
    ------
    UnknownFigure
        If there is none.
    """
    found = _by_id().get(figure_id)
    if found is None:
        raise UnknownFigure(figure_id)
    return found


def figures(subject: str) -> tuple[Figure, ...]:
    """Give all figures of a subject, in the order of its table.

    Raises
    ------
    UnknownFigure
        If there is no such subject.
    """
    found = _by_subject().get(subject)
    if found is None:
        raise UnknownFigure(subject)
    return found


def subjects() -> tuple[str, ...]:
    """Give the names of all subjects, sorted."""
    return tuple(_by_subject())


@cache
def _by_subject() -> "Mapping[str, tuple[Figure, ...]]":
    return MappingProxyType({path.stem: _read(path) for path in sorted(_FOLDER.glob("*.csv"))})


@cache
def _by_id() -> "Mapping[str, Figure]":
    return MappingProxyType({row.id: row for rows in _by_subject().values() for row in rows})


def _read(path: Path) -> tuple[Figure, ...]:
    # Only who asks for a figure pays for the reader of tables.
    import csv

    with path.open(encoding="utf-8", newline="") as lines:
        return tuple(_figure(row) for row in csv.DictReader(lines))


def _figure(row: dict[str, str]) -> Figure:
    return Figure(
        id=row["id"],
        name=row["name"],
        value=_number(row["value"]),
        low=_number(row["low"]),
        high=_number(row["high"]),
        unit=row["unit"],
        source=row["source"],
        confidence=Confidence(row["confidence"]),
    )


def _number(text: str) -> Decimal | None:
    return Decimal(text) if text else None

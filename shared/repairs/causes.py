"""The table of repairs, read when the first is asked for.

`causes.csv` has the columns cause, part, kind, figure, name and does. `again`: stages of the kind
are done again with so many per cent of their hours. `first`: what is done before anything else,
like a stage of the kind, with so many per cent of the hours of that kind; `does` are its acts. The
figures are in the tables of the trade.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache
from pathlib import Path

from shared.book import Act, Kind

_TABLE = Path(__file__).with_name("causes.csv")


class Cause(StrEnum):
    """Why something must be done again."""

    DROPPED = "dropped"
    SOFT = "soft"
    RUN = "run"
    SANDED_THROUGH = "sanded_through"
    BROKEN = "broken"
    CHANGE = "change"


@dataclass(frozen=True, slots=True, kw_only=True)
class First:
    """What is done before anything is done again: like a stage of a kind."""

    kind: Kind
    percent: Decimal
    name: str
    does: tuple[Act, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """Stages of a kind are done again with so many per cent of their hours."""

    kind: Kind
    percent: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """What one cause calls for; a change names no kinds: all that was done is done again."""

    cause: Cause
    first: First
    again: tuple[Again, ...] = ()


def repair_of(cause: Cause) -> Repair:
    """Give what a cause calls for."""
    rows = _rows(cause)
    (first,) = (row for row in rows if row["part"] == "first")
    return Repair(
        cause=cause,
        first=First(
            kind=Kind(first["kind"]),
            percent=_percent(first),
            name=first["name"],
            does=tuple(Act(act) for act in first["does"].split()),
        ),
        again=tuple(
            Again(kind=Kind(row["kind"]), percent=_percent(row))
            for row in rows
            if row["part"] == "again"
        ),
    )


def _percent(row: dict[str, str]) -> Decimal:
    from shared.trade import figure

    return figure(row["figure"]).amount


@cache
def _rows(cause: Cause) -> tuple[dict[str, str], ...]:
    import csv

    with _TABLE.open(encoding="utf-8", newline="") as lines:
        return tuple(row for row in csv.DictReader(lines) if row["cause"] == cause)

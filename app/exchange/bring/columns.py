"""Which column of a table holds what: as somebody says, else as its name lets guess. No Qt."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from typing import Any

from app.exchange.bring.cells import letter
from app.exchange.bring.grid import Grid, Line
from app.exchange.bring.values import Bad, Reader

_LIKE = 0.84
_BRACKETS = re.compile(r"[(\[].*?[)\]]")
_BETWEEN = re.compile(r"[\W_]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """What a row may say. headers: names of its column in English and German, the usual first.

    example: what stands in a template.
    """

    id: str
    headers: tuple[str, ...]
    read: Reader
    must: bool = False
    example: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """One thing in a table that can't be taken.

    row: its number in the file; 1 for the names. of: the id of its field, "" for none.
    """

    row: int
    column: str
    of: str
    code: str
    facts: Mapping[str, str | int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a row says, by the ids of fields; what is left empty is not in it."""

    row: int
    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Positions of columns by the ids of fields. unused: names of columns that hold none."""

    at: Mapping[str, int]
    unused: tuple[str, ...] = ()

    def letter(self, name: str) -> str:
        """Return what the column of a field is called, "" where it has none."""
        return letter(self.at[name]) if name in self.at else ""


def guessed(
    grid: Grid, fields: Sequence[Field], said: Mapping[str, str]
) -> tuple[Columns, tuple[Trouble, ...]]:
    """Return which column holds what, and what is wrong with that.

    said: columns by the ids of fields, each by its name or its letter, "" for none.
    """
    at: dict[str, int] = {}
    troubles = []
    names = [_plain(each) for each in grid.columns]
    letters = [letter(each) for each in range(len(grid.columns))]
    for name, column in said.items():
        if not column:
            continue
        wanted = _plain(column)
        known = names.index(wanted) if wanted in names else None
        if known is None and column.upper() in letters:
            known = letters.index(column.upper())
        if known is None:
            facts = {"column": column, "known": ", ".join(grid.columns)}
            troubles.append(Trouble(row=1, column="", of=name, code="no_column", facts=facts))
        else:
            at[name] = known
    for field_, column_ in _likely(names, [each for each in fields if each.id not in said], at):
        at[field_] = column_
    for each in fields:
        if each.must and each.id not in at and not said.get(each.id):
            known_ = ", ".join(grid.columns)
            facts = {"wanted": each.headers[0], "known": known_}
            troubles.append(
                Trouble(row=1, column="", of=each.id, code="column_missing", facts=facts)
            )
    unused = tuple(name for i, name in enumerate(grid.columns) if name and i not in at.values())
    ordered = {each.id: at[each.id] for each in fields if each.id in at}
    return Columns(at=ordered, unused=unused), tuple(troubles)


def _likely(
    names: Sequence[str], fields: Sequence[Field], taken: Mapping[str, int]
) -> list[tuple[str, int]]:
    """Return the pairs of field and column that are most alike, each used once."""
    scored = [
        (_alike(name, each), -order, -at)
        for order, each in enumerate(fields)
        for at, name in enumerate(names)
        if name and at not in taken.values()
    ]
    found: dict[str, int] = {}
    for score, order, at in sorted(scored, reverse=True):
        name = fields[-order].id
        if score >= _LIKE and name not in found and -at not in found.values():
            found[name] = -at
    return list(found.items())


def _alike(name: str, field_: Field) -> float:
    known = [_plain(each) for each in (*field_.headers, field_.id)]
    if name in known:
        return 1 - known.index(name) / 1000
    matchers = (SequenceMatcher(None, name, each) for each in known if _is_near(name, each))
    return max((0.98 * each.ratio() for each in matchers), default=0)


def _is_near(name: str, known: str) -> bool:
    """Return whether two words are of so like a length that they can be alike."""
    return 2 * min(len(name), len(known)) >= _LIKE * (len(name) + len(known))


def _plain(name: str) -> str:
    return _BETWEEN.sub(" ", _BRACKETS.sub("", name).casefold()).strip()


def read_rows(
    grid: Grid, fields: Sequence[Field], columns: Columns
) -> tuple[tuple[Found, ...], tuple[Trouble, ...]]:
    """Return what every row says, and every cell that can't be taken."""
    rows, troubles = [], []
    wanted = [(each, columns.at[each.id]) for each in fields if each.id in columns.at]
    width = len(grid.columns)
    for line in grid.lines:
        values, bad = _row(line, wanted)
        if any(cell != "" for cell in line.cells[width:]):
            at = next(i for i, cell in enumerate(line.cells) if i >= width and cell != "")
            bad.append(Trouble(row=line.number, column=letter(at), of="", code="no_name"))
        troubles += bad
        if not bad:
            rows.append(Found(row=line.number, values=values))
    return tuple(rows), tuple(troubles)


def _row(
    line: Line, wanted: Sequence[tuple[Field, int]]
) -> tuple[dict[str, object], list[Trouble]]:
    values: dict[str, object] = {}
    bad = []
    for each, at in wanted:
        cell = line.cells[at] if at < len(line.cells) else ""
        if cell == "":
            if each.must:
                bad.append(_trouble(line, at, each, Bad("cell_missing")))
            continue
        try:
            values[each.id] = each.read(cell)
        except Bad as trouble:
            bad.append(_trouble(line, at, each, trouble))
    return values, bad


def _trouble(line: Line, at: int, field_: Field, bad: Bad) -> Trouble:
    return Trouble(row=line.number, column=letter(at), of=field_.id, code=bad.code, facts=bad.facts)

"""The tables of FORMAT.md, made from the classes and the codes: `python -m shared.files.describe`.

It writes what stands between the two marks in FORMAT.md; a test holds the one to the other.
"""

import inspect
import sys
from collections.abc import Iterator

from shared.book import Book
from shared.files.codec import TAG, Field, Listed, OneOf, Record, record_of
from shared.files.scalars import (
    Clock,
    Codec,
    Day,
    Exact,
    Instant,
    Text,
    Truth,
    Weekday,
    Whole,
    Words,
)
from shared.findings_codes import CODES
from shared.plan import Plan
from shared.value import Value

FIRST_MARK = "<!-- made by python -m shared.files.describe: from here -->"
LAST_MARK = "<!-- to here -->"

_PLAIN: dict[type[object], str] = {
    Text: "text",
    Truth: "true or false",
    Whole: "whole number",
    Exact: "number",
    Day: "date",
    Clock: "time",
    Instant: "instant",
    Weekday: "`mon` to `sun`",
}


def tables() -> str:
    """Give every part of a file with its fields, then every finding with its facts."""
    records = {record.cls: record for record in every_record(record_of(Book))}
    records |= {record.cls: record for record in every_record(record_of(Plan))}
    parts = [_part(record) for record in records.values()]
    return "\n".join(["## Parts and their fields", "", *parts, _findings()])


def every_record(codec: Codec, seen: frozenset[type[Value]] = frozenset()) -> Iterator[Record]:
    """Give the codec of every class that can stand inside, itself first; some more than once."""
    if isinstance(codec, Listed):
        yield from every_record(codec.item, seen)
    elif isinstance(codec, OneOf):
        for record in codec.by_tag.values():
            yield from every_record(record, seen)
    elif isinstance(codec, Record) and codec.cls not in seen:
        yield codec
        for field in codec.fields:
            yield from every_record(field.codec, seen | {codec.cls})


def _part(record: Record) -> str:
    rows = ["| field | holds | left out |", "|---|---|---|"]
    if record.tag:
        rows.append(f"| `{TAG}` | `{record.tag}` | never |")
    rows += [_row(record, field) for field in record.fields]
    meaning = inspect.cleandoc(record.cls.__doc__ or "")
    return "\n".join([f"### {record.cls.__name__}", "", meaning, "", *rows, ""])


def _row(record: Record, field: Field) -> str:
    return f"| `{field.name}` | {_holds(field.codec)} | {_left_out(record, field)} |"


def _left_out(record: Record, field: Field) -> str:
    if field.is_required:
        return "never"
    if field.may_be_none:
        return "where nothing is said"
    if field.is_left_out_empty:
        return "where empty"
    default = field.codec.write(record.cls.__dataclass_fields__[field.name].default, "")
    return f"means `{default}`; always written"


def _holds(codec: Codec) -> str:
    if isinstance(codec, Listed):
        return f"list of {_holds(codec.item)}"
    if isinstance(codec, OneOf):
        return ", ".join(_link(record) for record in codec.by_tag.values())
    if isinstance(codec, Record):
        return _link(codec)
    if isinstance(codec, Words):
        return ", ".join(f"`{word}`" for word in codec.by_word)
    return _PLAIN[type(codec)]


def _link(record: Record) -> str:
    name = record.cls.__name__
    return f"[{name}](#{name.lower()})"


def _findings() -> str:
    rows = ["## Findings", "", "| code | stops | facts |", "|---|---|---|"]
    for code, entry in CODES.items():
        facts = ", ".join(f"`{fact}`" for fact in entry.facts)
        rows.append(f"| `{code}` | {'stops' if entry.stops else 'tells'} | {facts} |")
    return "\n".join([*rows, ""])


if __name__ == "__main__":
    sys.stdout.write(tables())

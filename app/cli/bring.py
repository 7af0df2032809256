"""`countback bring`: tables and calendars of other programs, looked at, then taken whole."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.books import finding_objects, load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_findings, say_refused
from app.cli.keeping import Keeping, locked_if, who_is_here
from app.cli.meant import person_meant
from app.cli.moments import now_of
from app.cli.run import MET, REFUSED
from app.words import Words
from app.words import bring as say
from shared.book import Book
from shared.errors import DiskError
from shared.files.disk import load, save_over

if TYPE_CHECKING:
    from app.exchange.bring.bringing import Judged

_INDENT = "    "
_GAP = "  "
Json = dict[str, object]


def run(asked: Asked, console: Console) -> int:
    from app.exchange.bring.bringing import CALENDARS, TABLES

    path, kind, file = Path(asked.words[0]), asked.words[1], Path(asked.words[2])
    if kind not in (*TABLES, *CALENDARS):
        raise Usage("unknown_table", word=kind, known=", ".join((*TABLES, *CALENDARS)))
    if asked.template:
        return _template(console, kind, file)
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked_if(path, asked, asked.is_taken) as kept:
        return _brought(asked, console, path, kind, load(file), kept)


def _template(console: Console, kind: str, file: Path) -> int:
    from app.exchange.bring.bringing import TABLES
    from app.exchange.bring.templates import template_csv, template_workbook

    words = words_for(None)
    if kind not in TABLES:
        raise Usage("no_template", word=kind, known=", ".join(TABLES))
    makes = {".csv": template_csv, ".xlsx": template_workbook}
    suffix = file.suffix.casefold()
    if suffix not in makes:
        raise Usage("other_suffix", path=str(file), suffix=", ".join(makes))
    if file.exists():
        raise Usage("exists", path=str(file))
    save_over(file, makes[suffix](kind, german=words.language == "de"))
    console.wrapped(words.say(say.TEMPLATE, path=str(file)))
    return MET


def _brought(
    asked: Asked, console: Console, path: Path, kind: str, data: bytes, kept: Keeping | None
) -> int:
    from app.exchange.bring.cells import NoTable

    read = load_book(path)
    words = words_for(read.book or read.whole)
    if read.book is None:
        nothing: Json = {"taken": False}
        return say_refused(asked, console, words, read.findings, say.NOT_BROUGHT, nothing)
    try:
        found = _judged(asked, read.book, kind, data)
    except NoTable as trouble:
        text = words.say(say.NO_TABLE[trouble.code], path=asked.words[2], **trouble.facts)
        console.wrapped(text)
        if asked.json:
            console.say(json.dumps({"taken": False, "text": text}, ensure_ascii=False))
        return REFUSED
    is_taken = kept is not None and found.edited is not None
    if kept is not None and found.edited is not None:
        kept.keep(found.edited.book)
    _say(asked, console, words, found)
    if asked.json:
        told = _object(asked, words, found, is_taken=is_taken)
        console.say(json.dumps(told, ensure_ascii=False))
    return REFUSED if found.troubles or found.findings else MET


def _judged(asked: Asked, book: Book, kind: str, data: bytes) -> "Judged":
    from app.exchange.bring.bringing import TABLES, bring_calendar, bring_table

    now, _ = now_of(asked, book)
    if kind in TABLES:
        return bring_table(book, kind, data, _said(asked, kind), now, who_is_here())
    if asked.mapped:
        raise Usage("map_of_a_table", word=kind)
    if kind == "leave" and asked.of is None:
        raise Usage("leave_of_whom")
    person = person_meant(book, asked.of) if asked.of is not None else None
    return bring_calendar(book, kind, data, person)


def _said(asked: Asked, kind: str) -> dict[str, str]:
    """Return the columns that were said, by the ids of fields."""
    from app.exchange.bring.fields import FIELDS

    known = [each.id for each in FIELDS[kind]]
    said: dict[str, str] = {}
    for word in asked.mapped:
        name, mark, column = word.partition("=")
        if not mark or name not in known or not column.strip():
            raise Usage("bad_map", word=word, known=", ".join(known))
        said[name] = column.strip()
    return said


def _is_table(asked: Asked) -> bool:
    from app.exchange.bring.bringing import TABLES

    return asked.words[1] in TABLES


def _say(asked: Asked, console: Console, words: Words, found: "Judged") -> None:
    holds = say.HOLDS if _is_table(asked) else say.HOLDS_ENTRIES
    console.wrapped(say.number_line(words, holds, found.count, path=asked.words[2]))
    if found.columns:
        pairs = words.series(
            words.say(say.COLUMN, field=name, column=column)
            for name, column in found.columns.items()
        )
        console.wrapped(words.say(say.COLUMNS, columns=pairs))
    if found.unused:
        console.wrapped(words.say(say.UNUSED, columns=words.series(found.unused)))
    for row in found.preview:
        cells = (words.say(say.CELL, field=k, value=_shown(v)) for k, v in row.values.items())
        line = words.say(say.ROW, row=row.row, cells=words.series(cells))
        console.wrapped(line, indent=_INDENT, first=_GAP)
    if found.left_count:
        console.wrapped(say.number_line(words, say.LEFT, found.left_count))
    if found.troubles:
        console.wrapped(console.alarm(say.number_line(words, say.BAD, len(found.troubles))))
        for line in _lines(asked, words, found):
            console.wrapped(line, indent=_INDENT, first=_GAP)
        return
    if found.findings:
        console.wrapped(console.alarm(words.say(say.STOPS)))
        say_findings(console, words, found.findings)
        return
    _say_end(asked, console, words, found)


def _say_end(asked: Asked, console: Console, words: Words, found: "Judged") -> None:
    if found.edited is None:
        console.wrapped(words.say(say.NOTHING_NEW))
    elif asked.is_taken:
        revision = found.edited.book.revision
        console.wrapped(words.say(say.TAKEN, path=asked.words[0], revision=revision))
    else:
        console.wrapped(words.say(say.COULD))


def _shown(value: object) -> str:
    if isinstance(value, tuple):
        return " + ".join(map(str, value))
    return str(value)


def _lines(asked: Asked, words: Words, found: "Judged") -> list[str]:
    if not _is_table(asked):
        return [say.entry_line(words, t.row, t.code, t.facts) for t in found.troubles]
    return [
        say.trouble_line(words, (t.row, t.column, found.columns.get(t.of, t.of)), t.code, t.facts)
        for t in found.troubles
    ]


def _object(asked: Asked, words: Words, found: "Judged", *, is_taken: bool) -> Json:
    lines = _lines(asked, words, found)
    return {
        "taken": is_taken,
        "count": found.count,
        "left": found.left_count,
        "columns": dict(found.columns),
        "unused": list(found.unused),
        "troubles": [
            {"row": t.row, "column": t.column, "field": t.of, "code": t.code, "text": line}
            for t, line in zip(found.troubles, lines, strict=True)
        ],
        "findings": finding_objects(words, found.findings),
    }

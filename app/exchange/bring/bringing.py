"""A file judged against a book: what it would bring, and everything in it that can't be taken.

Nothing is taken in part: one bad row, and the book stays as it is. No Qt.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from app.exchange.bring.cells import NoTable
from app.exchange.bring.columns import Columns, Found, Trouble, guessed, read_rows
from app.exchange.bring.days import take_closures, take_leave
from app.exchange.bring.fields import FIELDS
from app.exchange.bring.grid import Grid, read_grid
from app.exchange.bring.names import Known, Taken
from app.exchange.bring.taking import TAKES, Context
from shared.book import Book, Person
from shared.edits.edited import Changed, Edited, label
from shared.examine import examine
from shared.findings import Finding
from shared.ids import JobId

TABLES = tuple(FIELDS)
CALENDARS = ("leave", "closures")
PREVIEWED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What a file would bring.

    count: rows, or entries of a calendar. left_count: of these, such as are in the book already.
    columns: by the ids of fields, the names of their columns. unused: names of columns that hold
    nothing of the kind. findings: what would stop the book that comes of it. edited: the book with
    all of it, None where anything can't be taken or nothing is new. preview: the first rows that
    can be read.
    """

    count: int
    left_count: int = 0
    columns: Mapping[str, str] = field(default_factory=dict)
    unused: tuple[str, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    findings: tuple[Finding, ...] = ()
    edited: Edited | None = None
    preview: tuple[Found, ...] = ()


def bring_table(
    book: Book, kind: str, data: bytes, said: Mapping[str, str], now: datetime, by: str
) -> Judged:
    """Judge a table. kind: of `TABLES`. said: columns by the ids of fields. by: who brings it.

    Raises
    ------
    NoTable
        If the file holds none.
    """
    return bring_grid(book, kind, read_grid(data), said, now, by)


def bring_grid(
    book: Book, kind: str, grid: Grid, said: Mapping[str, str], now: datetime, by: str
) -> Judged:
    """Judge a table that is read already, as `bring_table` does.

    Raises
    ------
    NoTable
        If it has no rows.
    """
    fields = FIELDS[kind]
    columns, troubles = guessed(grid, fields, said)
    named = {name: grid.columns[at] for name, at in columns.at.items()}
    told = Judged(count=len(grid.lines), columns=named, unused=columns.unused, troubles=troubles)
    if troubles:
        return told
    if not grid.lines:
        raise NoTable("no_rows")
    rows, troubles = read_rows(grid, fields, columns)
    taken = Taken(columns)
    context = Context(book=book, known=Known(book), now=now, by=by)
    made = TAKES[kind](context, rows, taken)
    every = sorted((*troubles, *taken.troubles), key=lambda each: (each.row, each.column))
    told = replace(
        told, troubles=tuple(every), left_count=context.left_count, preview=rows[:PREVIEWED]
    )
    return told if every else _examined(book, made, told)


def bring_calendar(book: Book, kind: str, data: bytes, person: Person | None) -> Judged:
    """Judge a calendar. kind: of `CALENDARS`. person: whose leave it is.

    Raises
    ------
    NoTable
        If the file is no calendar.
    """
    taken = Taken(Columns(at={}))
    if person is not None and kind == "leave":
        made, count, left_count = take_leave(book, data, person, taken)
    else:
        made, count, left_count = take_closures(book, data, taken)
    told = Judged(count=count, left_count=left_count, troubles=tuple(taken.troubles))
    return told if told.troubles else _examined(book, made, told)


def _examined(book: Book, made: Book, told: Judged) -> Judged:
    new_count = told.count - told.left_count
    if made == book or not new_count:
        return told
    before = {(each.code, each.name) for each in examine(book) if each.stops}
    found = tuple(
        each for each in examine(made) if each.stops and (each.code, each.name) not in before
    )
    if found:
        return replace(told, findings=found)
    changed = Changed(
        jobs=frozenset(_touched(book, made)),
        workshop=made.workshop != book.workshop,
        people=made.people != book.people,
    )
    edited = Edited(
        book=replace(made, revision=book.revision + 1),
        changed=changed,
        label=label("bring_in", count=new_count),
    )
    return replace(told, edited=edited)


def _touched(book: Book, made: Book) -> Iterator[JobId]:
    """Give the jobs that are new, changed, or of whose steps something more is known."""
    before = {id(job) for job in book.jobs}
    told = {fact.step for fact in made.facts[len(book.facts) :]}
    for job in made.jobs:
        if id(job) not in before or any(step.id in told for step in job.steps):
            yield job.id

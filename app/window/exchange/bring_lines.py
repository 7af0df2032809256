"""What the page says of a file that is looked at: columns, first rows, what can't be taken."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from functools import partial

from app.exchange.bring.asked import A_PAGE, Brought
from app.exchange.bring.bringing import CALENDARS, TABLES, Judged
from app.exchange.bring.cells import letter
from app.exchange.bring.columns import Field, Trouble
from app.exchange.bring.fields import FIELDS
from app.window.exchange.lines import Line
from app.words import Words
from app.words import bring as told
from app.words import exchange_view as say
from app.words.editor import STANDINGS
from app.words.moments import WEEKDAYS
from app.words.template import Template
from app.words.window import KINDS
from shared.book import Book, Kind, Standing
from shared.ids import PersonId

_MONEY = frozenset({"price", "rate"})
_HIDDEN = "…"


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """What the page's lines do.

    kind, whose: take another one. column: takes a column for a field, "" for none. go: lists what
    can't be taken from a number on. take, leave: of the file.
    """

    kind: Callable[[str], object]
    whose: Callable[[PersonId], object]
    column: Callable[[str, str], object]
    go: Callable[[int], object]
    take: Callable[[], object]
    leave: Callable[[], object]
    has_money: bool = True


def lines_of(
    words: Words, book: Book, found: Brought, said: Mapping[str, str], doing: Doing, start: int = 0
) -> list[Line]:
    """Return all lines.

    said: columns by the ids of fields, as they were chosen. start: the number, from 0, of the
    first trouble that is listed.
    """
    lines = list(_what(words, book, found, doing))
    judged = found.judged
    if judged is None:
        return [*lines, _leave(words, doing)]
    if found.columns:
        lines += _columns(words, found, said, doing)
    if judged.unused:
        left = told.UNUSED
        lines.append(Line(text=words.say(left, columns=words.series(judged.unused))))
    if judged.left_count:
        lines.append(Line(text=told.number_line(words, told.LEFT, judged.left_count)))
    lines += _troubles(words, found, judged, doing, start)
    for finding in judged.findings:
        lines.append(Line(text=" ".join(words.finding(finding)), is_alarm=True))
    if found.can_be_taken:
        lines.append(Line(id="take", key="Enter", text=words.say(say.DO_TAKE), do=doing.take))
    return [*lines, _leave(words, doing)]


def _leave(words: Words, doing: Doing) -> Line:
    return Line(id="leave", key="Esc", text=words.say(say.DO_LEAVE), do=doing.leave)


def _what(words: Words, book: Book, found: Brought, doing: Doing) -> Iterable[Line]:
    """Give what the file is taken for, and whose leave it is."""
    kinds = TABLES if found.kind in TABLES else CALENDARS
    if not book.people:
        kinds = tuple(each for each in kinds if each != "leave")
    said = [words.say(say.KINDS[each]) for each in kinds]
    yield turning(words, "kind", words.say(say.WHAT), (kinds, said), found.kind, doing.kind)
    if found.person is not None:
        people = [each.id for each in book.people]
        names = [each.name for each in book.people]
        label = words.say(say.WHOSE)
        yield turning(words, "whose", label, (people, names), found.person, doing.whose)


def turning(
    words: Words,
    identity: str,
    text: str,
    known: tuple[Sequence[str], Sequence[str]],
    now: str,
    choose: Callable[..., object],
    cells: tuple[str, ...] = (),
) -> Line:
    """Return a line on which one of some is chosen. known: what is chosen, and its words."""
    values, said = known
    at = values.index(now)

    def turn(by: int) -> None:
        choose(values[(at + by) % len(values)])

    spoken = words.say(say.CHOSEN_OF, field=text, value=said[at])
    return Line(id=identity, text=text, value=said[at], cells=cells, turn=turn, said=spoken)


def _columns(
    words: Words, found: Brought, chosen: Mapping[str, str], doing: Doing
) -> Iterable[Line]:
    """Give each field with its column and with what the first rows say in it."""
    judged = found.judged
    assert judged is not None
    yield Line(text=words.say(say.TURN_TOLD))
    heads = tuple(words.say(say.ROW_HEAD, row=row.row) for row in judged.preview)
    field_head, column_head = words.say(say.FIELD_HEAD), words.say(say.COLUMN_HEAD)
    yield Line(text=field_head, value=column_head, cells=heads, is_head=True)
    values = ["", *(_said_as(found.columns, at) for at in range(len(found.columns)))]
    said = [words.say(say.NO_COLUMN)]
    for at, name in enumerate(found.columns):
        said.append(words.say(say.COLUMN_OF, letter=letter(at), column=name))
    for field in FIELDS[found.kind]:
        column = judged.columns.get(field.id)
        guess = "" if column is None else values[found.columns.index(column) + 1]
        now = chosen.get(field.id, guess)
        cells = tuple(_cell(words, field.id, row.values, doing) for row in judged.preview)
        choose = partial(doing.column, field.id)
        text = field_name(words, field)
        if field.must:
            text = words.say(say.NEEDED, field=text)
        line = turning(words, f"field {field.id}", text, (values, said), now, choose, cells)
        yield line


def _said_as(columns: Sequence[str], at: int) -> str:
    """Return by which word a column is meant: its letter, or its name if that is one's letter."""
    found = letter(at)
    return columns[at] if found.casefold() in {each.casefold() for each in columns} else found


def field_name(words: Words, field: Field) -> str:
    """Return what a field is usually called in the language that is spoken."""
    is_german = words.language == "de" and len(field.headers) > 1
    return field.headers[1 if is_german else 0]


def _cell(words: Words, field: str, values: Mapping[str, object], doing: Doing) -> str:
    if field not in values:
        return ""
    return (
        _shown(words, field, values[field]) if doing.has_money or field not in _MONEY else _HIDDEN
    )


def _shown(words: Words, field: str, value: object) -> str:
    """Return a value as it would be taken."""
    if isinstance(value, bool):
        return words.say(say.YES if value else say.NO)
    if isinstance(value, Kind):
        return words.say(KINDS[value])
    if isinstance(value, Standing):
        return words.say(STANDINGS[value])
    if isinstance(value, datetime):
        return f"{value:%Y-%m-%d %H:%M}"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, tuple):
        parts = value
        if field == "weekdays":
            parts = tuple(words.say(WEEKDAYS[each - 1]) for each in value)
        return ", ".join(map(str, parts))
    is_figure = isinstance(value, Decimal | int)
    return words.say(say.FIGURE, figure=str(value)) if is_figure else str(value)


def _troubles(
    words: Words, found: Brought, judged: Judged, doing: Doing, start: int
) -> Iterable[Line]:
    """Give what can't be taken, a page of it, each with its row, its column and its cure."""
    count = found.trouble_count
    if not count:
        return
    yield Line(text=words.say(say.TROUBLE_LIST), is_title=True)
    shown = found.troubles(start // A_PAGE)
    if count > A_PAGE:
        facts = {"first": words.number(start + 1), "last": words.number(start + len(shown))}
        yield Line(text=words.say(say.FROM_TO, count=words.number(count), **facts))
    for number, trouble in enumerate(shown):
        text = trouble_text(words, found, judged, trouble)
        yield Line(id=f"trouble {start + number}", text=text, said=text)
    if start + A_PAGE < count:
        on = partial(doing.go, start + A_PAGE)
        yield Line(id="more", key="+", text=words.say(say.MORE), do=on)
    if start:
        back = partial(doing.go, max(0, start - A_PAGE))
        yield Line(id="before", key="−", text=words.say(say.BEFORE), do=back)


def trouble_text(words: Words, found: Brought, judged: Judged, trouble: Trouble) -> str:
    """Return the sentence of one thing that can't be taken."""
    if found.kind in CALENDARS:
        return told.entry_line(words, trouble.row, trouble.code, trouble.facts)
    called = {each.id: field_name(words, each) for each in FIELDS[found.kind]}
    if trouble.code == "column_missing":
        return words.say(say.MISSING, wanted=called[trouble.of])
    if not trouble.column and trouble.of:
        text = words.say(told.TROUBLES[trouble.code], **trouble.facts)
        return words.say(say.AT_FIELD, row=trouble.row, field=called[trouble.of], text=text)
    where = (trouble.row, trouble.column, judged.columns.get(trouble.of, trouble.of))
    return told.trouble_line(words, where, trouble.code, trouble.facts)


def first_bad(words: Words, found: Brought) -> str:
    """Return the sentence of the first thing that can't be taken, "" for none."""
    if found.judged is None or not found.trouble_count:
        return ""
    return trouble_text(words, found, found.judged, found.troubles(0)[0])


def head(words: Words, found: Brought, path: str) -> tuple[str, Template, bool]:
    """Return the sentence over the page, what stands under it, and whether it is an alarm."""
    judged = found.judged
    if judged is None:
        text = words.say(told.NO_TABLE[found.trouble], path=path, **found.facts)
        return text, say.BRING_NEXT, True
    if found.trouble_count:
        return told.number_line(words, say.BAD_HEAD, found.trouble_count), say.BAD_NEXT, True
    if judged.findings:
        return words.say(say.STOPS_HEAD), say.BAD_NEXT, True
    if not found.can_be_taken:
        return words.say(told.NOTHING_NEW), say.BRING_NEXT, False
    ready = say.READY if found.columns else say.READY_ENTRIES
    count = judged.count - judged.left_count
    return told.number_line(words, ready, count), say.READY_NEXT, False

"""What a part of the page is made of: titles, sentences with fields, small grids. No Qt."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any, Generic, TypeVar

from app.words.template import Template
from shared.book import Book
from shared.edits import Edited
from shared.edits.workshop import Listed
from shared.findings import Finding
from shared.value import Value

Path = tuple[str | int, ...]
Changed = TypeVar("Changed", bound=Value)
Writing = Callable[[Book, str], Edited]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A blank.

    name: its own on the page, as tests and the keyboard know it. label: as it is read out. text:
    what stands in it. write: the edit that a text makes; raises NotTaken. path: where in the book
    it stands, so that findings find it. keep: takes what is typed in the place of write, where it
    is nothing of the book. is_tick: it is ticked or not, and a text is "yes" or "". is_list: a
    pasted list of several lines is taken whole. is_figure: it stands at the right.
    """

    name: str
    label: str
    text: str
    write: Writing
    path: Path = ()
    hint: str = ""
    suggestions: tuple[str, ...] = ()
    keep: Callable[[str], object] | None = None
    is_tick: bool = False
    is_list: bool = False
    is_figure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing(Generic[Listed]):
    """A list of the book: where it stands, and the edit that puts one of it in its place."""

    among: Callable[[Book], tuple[Listed, ...]]
    put: Callable[[Book, Listed], Edited]


def field_of(
    each: Listed,
    name: str,
    text: str,
    write: Callable[[Listed, str], Listed],
    path: Path,
    listing: Listing[Listed],
    *,
    called: str = "",
    is_figure: bool = False,
) -> Field:
    """Return a blank of one of the book's lists.

    write: gives it anew from a text; it is found anew by its id in the book as it then is. called:
    in the label, if not by its name.
    """

    def edit(book: Book, typed_text: str) -> Edited:
        now = next(one for one in listing.among(book) if one.id == each.id)
        return listing.put(book, write(now, typed_text))

    return Field(
        name=f"{each.id} {name}",
        label=f"{each.name}, {called or name}",
        text=text,
        write=edit,
        path=path,
        is_figure=is_figure,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """A word that does something: it makes an edit, or shows something else of the page."""

    text: str
    edit: Callable[[Book], Edited] | None = None
    show: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """The heading of some of a part, with a few words beside it."""

    text: str
    aside: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """A sentence whose facts are fields or words, with words that do something behind it."""

    template: Template
    fields: tuple[tuple[str, Field | str], ...] = ()
    acts: tuple[Act, ...] = ()
    path: Path = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of a grid. label: what it is about, before its fields; "" where a field says so."""

    fields: tuple[Field, ...]
    label: str = ""
    acts: tuple[Act, ...] = ()
    path: Path = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A small grid: column heads, and rows of fields."""

    heads: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Words that are only read."""

    text: str
    is_bold: bool = False
    acts: tuple[Act, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticks:
    """The ticked grid of people and skills stands here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The strips of where each segment stands."""


Item = Title | Sentence | Grid | Text | Ticks | Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the page; scopes: paths whose findings are its."""

    name: str
    title: str
    items: tuple[Item, ...] = ()
    scopes: tuple[Path, ...] = field(default=())

    @property
    def fields(self) -> tuple[Field, ...]:
        """Return all its fields, in the order of reading."""
        found: list[Field] = []
        for item in self.items:
            if isinstance(item, Sentence):
                found += [each for _, each in item.fields if isinstance(each, Field)]
            elif isinstance(item, Grid):
                found += [each for row in item.rows for each in row.fields]
        return tuple(found)

    def owns(self, finding: Finding) -> bool:
        """Return whether a finding is about something of this part."""
        return any(finding.path[: len(scope)] == scope for scope in self.scopes)


def line_paths(part: Part) -> tuple[tuple[str, Path], ...]:
    """Return the lines that a finding may stand under, each with the path it is about."""
    found: list[tuple[str, Path]] = []
    for number, item in enumerate(part.items):
        if isinstance(item, Sentence):
            paths = [each.path for _, each in item.fields if isinstance(each, Field)]
            found += [(f"{number}", path) for path in (item.path, *paths) if path]
        elif isinstance(item, Grid):
            for at, row in enumerate(item.rows):
                paths = [each.path for each in row.fields]
                found += [(f"{number} {at}", path) for path in (row.path, *paths) if path]
    return tuple(found)


def line_for(part: Part, finding: Finding) -> str:
    """Return the line that a finding belongs under: the nearest to its place; "" for none."""
    best, depth = "", 0
    for line, path in line_paths(part):
        shared = _shared(path, finding.path)
        is_near = shared == len(path) or shared == len(finding.path)
        if is_near and shared > depth:
            best, depth = line, shared
    return best


def _shared(one: Path, other: Path) -> int:
    count = 0
    for a, b in zip(one, other, strict=False):
        if a != b:
            break
        count += 1
    return count


def with_field(value: Changed, name: str, new: object) -> Changed:
    """Return a value of a book with another text, number or list in one of its fields."""
    fields: dict[str, Any] = {name: new}
    return replace(value, **fields)

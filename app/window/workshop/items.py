"""What a part of the page is made of: titles, sentences with fields, small grids. No Qt."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any, Generic, TypeVar

from app.window.sheet import typed as plain
from app.words.template import Template
from shared.book import Book, Equipment, Material, Offer, Person, Place, Supplier, Workshop
from shared.edits import Edited, change_workshop
from shared.edits.workshop import change_besides
from shared.findings import Finding
from shared.value import Value

Path = tuple[str | int, ...]
Changed = TypeVar("Changed", bound=Value)
Owned = TypeVar("Owned", bound=Value)
Listed = TypeVar("Listed", Person, Place, Equipment, Material, Supplier, Offer)
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
class Owner(Generic[Owned]):
    """Something of the book that has blanks and lists of its own.

    name, label: what stands before those of its blanks. path: where it stands. now: finds it in
    the book as it then is. put: the edit that puts its new self in its place.
    """

    now: Callable[[Book], Owned]
    put: Callable[[Book, Owned], Edited]
    path: Path
    name: str = ""
    label: str = ""

    def field(
        self,
        name: str,
        text: str,
        write: Callable[[Owned, str], Owned],
        *path: str | int,
        hint: str = "",
        suggestions: tuple[str, ...] = (),
    ) -> Field:
        """Return a blank; write: gives the owner anew from a text. path: within the owner."""

        def edit(book: Book, typed_text: str) -> Edited:
            return self.put(book, write(self.now(book), typed_text))

        called = name.replace("_", " ")
        return Field(
            name=f"{self.name} {name}" if self.name else name,
            label=f"{self.label}, {called}" if self.label else called,
            text=text,
            write=edit,
            path=(*self.path, *path),
            hint=hint,
            suggestions=suggestions,
        )

    def figure(
        self, which: str, value: Decimal | int | None, read: Callable[[str], object], hint: str = ""
    ) -> Field:
        """Return the blank of a number in one of its fields; read: gives it from a text."""

        def write(old: Owned, text: str) -> Owned:
            return with_field(old, which, read(text))

        made = self.field(which, plain.figure(value), write, which, hint=hint)
        return replace(made, is_figure=True)

    def entry(
        self,
        name: str,
        text: str,
        here: tuple[str, int, str],
        read: Callable[[str], object],
        *,
        hint: str = "",
        suggestions: tuple[str, ...] = (),
    ) -> Field:
        """Return the blank of a field of one in a list of it; read: gives it from a text.

        here: the list, which of it, and the field.
        """
        which, index, field = here

        def write(old: Owned, typed_text: str) -> Owned:
            kept = getattr(old, which)
            made = with_field(kept[index], field, read(typed_text))
            return with_field(old, which, (*kept[:index], made, *kept[index + 1 :]))

        return self.field(name, text, write, *here, hint=hint, suggestions=suggestions)

    def tick(self, which: str, *, is_ticked: bool) -> Field:
        """Return a box for one of its fields."""

        def write(old: Owned, text: str) -> Owned:
            return old if bool(text) == is_ticked else with_field(old, which, bool(text))

        return replace(self.field(which, "yes" if is_ticked else "", write, which), is_tick=True)

    def without(self, which: str, index: int, text: str) -> "Act":
        """Return the word that takes one out of a list of it."""

        def edit(book: Book) -> Edited:
            old = self.now(book)
            kept = getattr(old, which)
            return self.put(book, with_field(old, which, (*kept[:index], *kept[index + 1 :])))

        return Act(text=text, edit=edit)


def owned(
    each: Listed,
    path: Path,
    among: Callable[[Book], tuple[Listed, ...]],
    put: Callable[[Book, Listed], Edited],
) -> Owner[Listed]:
    """Return one of a list of the book as what has blanks: found by its id, whatever moved."""
    return Owner(
        now=lambda book: next(one for one in among(book) if one.id == each.id),
        put=put,
        path=path,
        name=str(each.id),
        label=each.name,
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Records:
    """The picture of what records say of estimates."""


Item = Title | Sentence | Grid | Text | Ticks | Standing | Records


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


SHOP = Owner(now=lambda book: book.workshop, put=change_workshop, path=("workshop",))
"""The workshop itself as what has blanks."""
BOOK: Owner[Book] = Owner(now=lambda book: book, put=lambda _, made: change_besides(made), path=())
"""The book itself, for its lists that nothing else has: offers, and work of no job."""


def shop_figure(which: str, shop: Workshop, *, whole: bool = False, hint: str = "") -> Field:
    """Return the blank of a figure that plans go by; one with a hint may be left out."""
    read: Callable[[str], object] = plain.whole if whole else plain.number
    if hint:
        read = plain.whole_or_none if whole else plain.number_or_none
    return replace(SHOP.figure(which, getattr(shop, which), read, hint), is_figure=False)


def put_in(
    owner: Changed, which: str, index: int, make: Callable[..., object], **fields: object
) -> Changed:
    """Return something of a book with fields of one of a list written, or one more."""
    old = getattr(owner, which)
    made = replace(old[index], **fields) if index < len(old) else make(**fields)
    return with_field(owner, which, (*old[:index], made, *old[index + 1 :]))

"""Tools and vehicles as a small grid, and the edits they make. No Qt."""

from dataclasses import replace

from app.window.sheet import typed as plain
from app.window.workshop.items import (
    Act,
    Field,
    Grid,
    Item,
    Row,
    Sentence,
    Title,
)
from app.window.workshop.people import At, day_field
from app.window.workshop.taken import thing_owner
from app.words import Words
from app.words import workshop_view as say
from shared.book import Book, Equipment, EquipmentKind
from shared.edits import Edited, fresh_id
from shared.edits.workshop import put_equipment, remove_equipment
from shared.ids import EquipmentId

_SIZES = ("inside_length_m", "inside_width_m", "inside_height_m")


def things(book: Book, at: At) -> list[Item]:
    """Return the grid of tools and vehicles, and the sentence that adds one."""
    words = at.words
    title = Title(text=words.say(say.THINGS), aside=words.say(say.THINGS_ASIDE))
    heads = tuple(words.say(head) for head in say.THING_HEADS)
    rows = tuple(_row(each, at, index) for index, each in enumerate(book.equipment))
    grid: list[Item] = [Grid(heads=heads, rows=rows)] if rows else []
    return [title, *grid, _add(words)]


def _row(each: Equipment, at: At, index: int) -> Row:
    words, its = at.words, thing_owner(each, index)
    kinds = {words.say(word): kind for kind, word in say.THING_KINDS.items()}
    kind = words.say(say.THING_KINDS[each.kind])
    fields = (
        its.field("name", each.name, lambda e, t: replace(e, name=plain.name(t)), "name"),
        its.field("kind", kind, _Kinds(kinds), "kind", suggestions=tuple(kinds)),
        replace(its.field("count", str(each.count), _with_count, "count"), is_figure=True),
        *(its.figure(which, getattr(each, which), plain.size_or_none) for which in _SIZES),
        day_field(its, each, "test_due", at, say.HINT_UNKNOWN),
    )
    remove = Act(text=words.say(say.DO_REMOVE), edit=lambda book: remove_equipment(book, each.id))
    return Row(fields=fields, acts=(remove,), path=its.path)


class _Kinds:
    """Writes a sort of equipment by its word."""

    def __init__(self, kinds: dict[str, str]) -> None:
        self._kinds = kinds

    def __call__(self, each: Equipment, text: str) -> Equipment:
        kind = EquipmentKind(plain.one_of(text, self._kinds, "not_a_thing_kind"))
        return replace(each, kind=kind)


def _with_count(each: Equipment, text: str) -> Equipment:
    return replace(each, count=plain.whole(text))


def _add(words: Words) -> Sentence:
    def write(book: Book, text: str) -> Edited:
        name = plain.name(text)
        wanted = "-".join(name.casefold().split())
        identity = EquipmentId(fresh_id(wanted, (each.id for each in book.equipment)))
        kind = next((k for k in EquipmentKind if _speaks_of(k, name, words)), EquipmentKind.TOOL)
        return put_equipment(book, Equipment(id=identity, name=name, kind=kind))

    hint = words.say(say.NEW_NAME_HINT)
    label = words.say(say.ADD_THING, name="")
    name = Field(name="add thing", label=label, text="", write=write, hint=hint)
    return Sentence(template=say.ADD_THING, fields=(("name", name),))


def _speaks_of(kind: EquipmentKind, name: str, words: Words) -> bool:
    known = [words.say(say.THING_KINDS[kind])]
    if kind is EquipmentKind.VEHICLE:
        known += [words.say(each) for each in say.VEHICLE_WORDS]
    return any(each.casefold() in name.casefold() for each in known)

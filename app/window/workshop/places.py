"""Places as a small grid, with openings and warmth below; and the edits they make. No Qt."""

from dataclasses import replace
from functools import partial

from app.window.sheet import typed as plain
from app.window.workshop import air, shop, typed
from app.window.workshop.items import (
    Act,
    Field,
    Grid,
    Item,
    Part,
    Row,
    Sentence,
    Title,
)
from app.window.workshop.people import At
from app.window.workshop.taken import place_owner, taken, vehicles
from app.window.workshop.things import things
from app.words import Words
from app.words import workshop_view as say
from shared.book import Book, Place, PlaceKind
from shared.edits import Edited, fresh_id
from shared.edits.workshop import add_place, remove_place
from shared.ids import PlaceId


def places_part(book: Book, at: At) -> Part:
    """Return the part about places."""
    words = at.words
    heads = tuple(words.say(head) for head in say.PLACE_HEADS)
    rows = tuple(_row(place, at, index) for index, place in enumerate(book.places))
    title = words.say(say.PARTS["places"])
    items: list[Item] = [
        Title(text=title, aside=words.say(say.PLACES_ASIDE)),
        Grid(heads=heads, rows=rows),
        _add(words),
    ]
    items += things(book, at)
    items += vehicles(book, at)
    items += taken(book, at)
    items += shop.openings(book.workshop, words)
    items += air.apart(book, words)
    items += air.warmth(book, words)
    items += air.readings(book, at)
    own = ("openings", "temperatures", "readings", "apart")
    scopes = (("places",), ("equipment",), *(("workshop", name) for name in own))
    return Part(name="places", title=title, items=tuple(items), scopes=scopes)


def _row(place: Place, at: At, index: int) -> Row:
    words, its = at.words, place_owner(place, index)
    kinds = {words.say(word): kind for kind, word in say.PLACE_KINDS.items()}
    kind = words.say(say.PLACE_KINDS[place.kind])
    clear_out = plain.figure(place.clear_out_minutes)
    fields = (
        its.field("name", place.name, _with_name, "name"),
        its.field(
            "kind", kind, partial(_with_kind, kinds=kinds), "kind", suggestions=tuple(kinds)
        ),
        its.field(
            "room", typed.room_text(place, words), _with_room, "slots",
            hint=words.say(say.ROOM_HINT),
        ),
        its.tick("whole", is_ticked=place.whole),
        its.field("air", place.air or "", _with_air, "air"),
        its.tick("standing", is_ticked=place.standing),
        its.tick("enclosed", is_ticked=place.is_enclosed),
        replace(
            its.field("clear_out_minutes", clear_out, _with_clear_out, "clear_out_minutes"),
            is_figure=True,
        ),
    )  # fmt: skip
    remove = Act(text=words.say(say.DO_REMOVE), edit=lambda book: remove_place(book, place.id))
    return Row(fields=fields, acts=(remove,), path=its.path)


def _with_name(place: Place, text: str) -> Place:
    return replace(place, name=plain.name(text))


def _with_kind(place: Place, text: str, *, kinds: dict[str, str]) -> Place:
    return replace(place, kind=PlaceKind(plain.one_of(text, kinds, "not_a_place_kind")))


def _with_room(place: Place, text: str) -> Place:
    area, slots = typed.room(text)
    return replace(place, area_m2=area, slots=slots)


def _with_air(place: Place, text: str) -> Place:
    return replace(place, air=typed.line(text) or None)


def _with_clear_out(place: Place, text: str) -> Place:
    return replace(place, clear_out_minutes=plain.whole(text))


def _add(words: Words) -> Sentence:
    def write(book: Book, text: str) -> Edited:
        name = plain.name(text)
        wanted = "-".join(name.casefold().split())
        identity = PlaceId(fresh_id(wanted, (place.id for place in book.places)))
        kind = _kind_in(name, words)
        return add_place(book, Place(id=identity, name=name, kind=kind))

    hint = words.say(say.NEW_NAME_HINT)
    label = words.say(say.ADD_PLACE, name="")
    name = Field(name="add place", label=label, text="", write=write, hint=hint)
    return Sentence(template=say.ADD_PLACE, fields=(("name", name),))


def _kind_in(name: str, words: Words) -> PlaceKind:
    """Return the sort of place that a name speaks of, else a bay."""
    for kind, word in say.PLACE_KINDS.items():
        if words.say(word).casefold() in name.casefold():
            return PlaceKind(kind)
    return PlaceKind.BAY

"""Places as a small grid, with openings and warmth below; and the edits they make. No Qt."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from app.window.sheet import typed as plain
from app.window.workshop import shop, typed
from app.window.workshop.items import (
    Act,
    Field,
    Grid,
    Item,
    Listing,
    Part,
    Path,
    Row,
    Sentence,
    Title,
    field_of,
    with_field,
)
from app.window.workshop.people import At
from app.window.workshop.things import things
from app.words import Words
from app.words import workshop_view as say
from shared.book import Book, Place, PlaceKind
from shared.edits import Edited, fresh_id
from shared.edits.workshop import add_place, change_place, remove_place
from shared.ids import PlaceId

Writes = Callable[[Place, str], Place]
_PLACES = Listing(among=lambda book: book.places, put=change_place)


def places_part(book: Book, at: At) -> Part:
    """Return the part about places."""
    words = at.words
    heads = tuple(words.say(head) for head in say.PLACE_HEADS)
    rows = tuple(_row(place, at, ("places", i)) for i, place in enumerate(book.places))
    title = words.say(say.PARTS["places"])
    items: list[Item] = [
        Title(text=title, aside=words.say(say.PLACES_ASIDE)),
        Grid(heads=heads, rows=rows),
        _add(words),
    ]
    for index, place in enumerate(book.places):
        items += _shut(place, at, ("places", index))
    items += things(book, at)
    items += shop.openings(book.workshop, words)
    items += shop.warmth(book, words)
    own = ("openings", "temperatures", "readings", "apart")
    scopes = (("places",), ("equipment",), *(("workshop", name) for name in own))
    return Part(name="places", title=title, items=tuple(items), scopes=scopes)


def _field(place: Place, name: str, text: str, write: Writes, path: Path) -> Field:
    return field_of(place, name, text, write, path, _PLACES)


def _row(place: Place, at: At, path: Path) -> Row:
    words = at.words
    kinds = {words.say(word): kind for kind, word in say.PLACE_KINDS.items()}
    kind = words.say(say.PLACE_KINDS[place.kind])
    fields = (
        _field(place, "name", place.name, _with_name, (*path, "name")),
        replace(
            _field(place, "kind", kind, partial(_with_kind, kinds=kinds), (*path, "kind")),
            suggestions=tuple(kinds),
        ),
        replace(
            _field(place, "room", typed.room_text(place, words), _with_room, (*path, "slots")),
            hint=words.say(say.ROOM_HINT),
        ),
        _tick(place, "whole", path, is_ticked=place.whole),
        _field(place, "air", place.air or "", _with_air, (*path, "air")),
        _tick(place, "standing", path, is_ticked=place.standing),
        _tick(place, "enclosed", path, is_ticked=place.is_enclosed),
        replace(
            _field(
                place,
                "clear_out_minutes",
                plain.figure(place.clear_out_minutes),
                _with_clear_out,
                (*path, "clear_out_minutes"),
            ),
            is_figure=True,
        ),
    )
    remove = Act(text=words.say(say.DO_REMOVE), edit=lambda book: remove_place(book, place.id))
    return Row(fields=fields, acts=(remove,), path=path)


def _tick(place: Place, which: str, path: Path, *, is_ticked: bool) -> Field:
    def write(old: Place, text: str) -> Place:
        return old if bool(text) == is_ticked else with_field(old, which, bool(text))

    made = _field(place, which, "yes" if is_ticked else "", write, (*path, which))
    return replace(made, is_tick=True)


def _with_name(place: Place, text: str) -> Place:
    return replace(place, name=plain.name(text))


def _with_kind(place: Place, text: str, *, kinds: dict[str, str]) -> Place:
    return replace(place, kind=PlaceKind(plain.one_of(text, kinds, "not_a_place_kind")))


def _with_room(place: Place, text: str) -> Place:
    area, slots = typed.room(text)
    return replace(place, area_m2=area, slots=slots)


def _with_air(place: Place, text: str) -> Place:
    return replace(place, air=" ".join(text.split()) or None)


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


def _shut(place: Place, at: At, path: Path) -> list[Item]:
    found: list[Item] = []
    for index, each in enumerate(place.closures):
        text = typed.days_text(each.first, each.last, at.words, at.today)
        write = partial(_with_closure, index=index, at=at)
        days = _field(place, f"shut {index + 1}", text, write, (*path, "closures", index))
        act = Act(
            text=at.words.say(say.DO_REMOVE),
            edit=partial(_without_closure, place.id, index),
        )
        fields = (("place", place.name), ("days", days))
        found.append(Sentence(template=say.PLACE_SHUT, fields=fields, acts=(act,)))
    return found


def _with_closure(place: Place, text: str, *, index: int, at: At) -> Place:
    first, last = typed.days(text, at.words, at.today)
    made = replace(place.closures[index], first=first, last=last)
    return replace(place, closures=(*place.closures[:index], made, *place.closures[index + 1 :]))


def _without_closure(place: PlaceId, index: int, book: Book) -> Edited:
    now = next(each for each in book.places if each.id == place)
    kept = (*now.closures[:index], *now.closures[index + 1 :])
    return change_place(book, replace(now, closures=kept))

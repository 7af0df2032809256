"""When places and things can't be had, vehicles in full, and work of no job. No Qt."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import TypeVar

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import typed
from app.window.workshop.items import (
    BOOK,
    Field,
    Grid,
    Item,
    Owner,
    Row,
    Sentence,
    Title,
    owned,
    put_in,
)
from app.window.workshop.people import At, day_field
from app.words import workshop_view as say
from shared.book import (
    Body,
    Book,
    Booking,
    Closure,
    Equipment,
    EquipmentKind,
    OtherWork,
    Place,
)
from shared.edits import Edited, fresh_id
from shared.edits.workshop import change_place, put_equipment

_Had = TypeVar("_Had", Place, Equipment)


def place_owner(place: Place, index: int) -> Owner[Place]:
    """Return a place as what has blanks."""
    return owned(place, ("places", index), lambda book: book.places, change_place)


def thing_owner(each: Equipment, index: int) -> Owner[Equipment]:
    """Return a tool, vehicle or crane as what has blanks."""
    return owned(each, ("equipment", index), lambda book: book.equipment, put_equipment)


# What is taken, shut or only here for a time.


def taken(book: Book, at: At) -> list[Item]:
    """Return when places and things are taken by something else, shut, or not there."""
    words, found = at.words, list[Item]()
    found.append(Title(text=words.say(say.TAKEN), aside=words.say(say.TAKEN_ASIDE)))
    for index, place in enumerate(book.places):
        its = place_owner(place, index)
        found += _bookings(place, its, at)
        found += _shut(place, its, at)
        found += _for_a_time(place, its, at)
    for index, each in enumerate(book.equipment):
        of = thing_owner(each, index)
        found += _bookings(each, of, at)
        found += _for_a_time(each, of, at)
    hint = words.say(say.HINT_WHAT_DAYS)
    for name, template, write in (
        ("add taken", say.ADD_TAKEN, _book_it),
        ("add closed", say.ADD_CLOSED, _shut_it),
        ("add here", say.ADD_HERE, _limit_it),
    ):
        label = words.say(template, what="")
        field = Field(name=name, label=label, text="", write=partial(write, at=at), hint=hint)
        found.append(Sentence(template=template, fields=(("what", field),)))
    return found


def _bookings(each: _Had, its: Owner[_Had], at: At) -> list[Sentence]:
    words, found = at.words, []
    for index, booking in enumerate(each.bookings):
        text = typed.stretch_text(booking.start, booking.end, words, at.today)
        write = partial(_with_booking, index=index, at=at)
        days = its.field(f"taken {index + 1}", text, write, "bookings", index)
        why = its.entry(
            f"taken {index + 1} name", booking.name, ("bookings", index, "name"), typed.line,
            hint=words.say(say.CLOSURE_HINT),
        )  # fmt: skip
        fields: list[tuple[str, Field | str]] = [("what", each.name), ("days", days), ("name", why)]
        template = say.TAKEN_LINE
        if isinstance(each, Place) and each.area_m2 is not None:
            template = say.TAKEN_AREA
            area = its.entry(
                f"taken {index + 1} area", plain.figure(booking.area_m2),
                ("bookings", index, "area_m2"), plain.number_or_none,
                hint=words.say(say.HINT_ALL),
            )  # fmt: skip
            fields.append(("area", area))
        gone = its.without("bookings", index, words.say(say.DO_REMOVE))
        found.append(Sentence(template=template, fields=tuple(fields), acts=(gone,)))
    return found


def _with_booking(each: _Had, text: str, *, index: int, at: At) -> _Had:
    start, end = typed.stretch(text, at.words, at.today)
    return put_in(each, "bookings", index, Booking, start=start, end=end)


def _shut(place: Place, its: Owner[Place], at: At) -> list[Sentence]:
    found = []
    for index, each in enumerate(place.closures):
        text = typed.days_text(each.first, each.last, at.words, at.today)
        write = partial(_with_closure, index=index, at=at)
        days = its.field(f"shut {index + 1}", text, write, "closures", index)
        gone = its.without("closures", index, at.words.say(say.DO_REMOVE))
        fields = (("place", place.name), ("days", days))
        found.append(Sentence(template=say.PLACE_SHUT, fields=fields, acts=(gone,)))
    return found


def _with_closure(place: Place, text: str, *, index: int, at: At) -> Place:
    first, last = typed.days(text, at.words, at.today)
    return put_in(place, "closures", index, Closure, first=first, last=last)


def _for_a_time(each: _Had, its: Owner[_Had], at: At) -> list[Sentence]:
    if each.usable_from is None and each.usable_until is None:
        return []
    first, last = (day_field(its, each, which, at) for which in ("usable_from", "usable_until"))
    fields = (("what", each.name), ("first", first), ("last", last))
    return [Sentence(template=say.HERE_LINE, fields=fields)]


def _named(book: Book, text: str, *, only_places: bool = False) -> tuple[Place | Equipment, str]:
    """Read the name of a place or thing before the first comma, and give what stands behind."""
    name, rest = typed.first_of(text)
    there: tuple[Place | Equipment, ...] = (*book.places, *(() if only_places else book.equipment))
    known = {each.name: f"{at}" for at, each in reversed(list(enumerate(there)))}
    return there[int(plain.one_of(name, known, "not_there"))], rest


def _put(book: Book, each: Place | Equipment) -> Edited:
    return change_place(book, each) if isinstance(each, Place) else put_equipment(book, each)


def _book_it(book: Book, text: str, *, at: At) -> Edited:
    each, rest = _named(book, text)
    start, end = typed.stretch(rest, at.words, at.today)
    made = put_in(each, "bookings", len(each.bookings), Booking, start=start, end=end)
    return _put(book, made)


def _shut_it(book: Book, text: str, *, at: At) -> Edited:
    each, rest = _named(book, text, only_places=True)
    assert isinstance(each, Place)
    return _put(book, _with_closure(each, rest, index=len(each.closures), at=at))


def _limit_it(book: Book, text: str, *, at: At) -> Edited:
    each, rest = _named(book, text)
    first, last = typed.days(rest, at.words, at.today)
    return _put(book, replace(each, usable_from=first, usable_until=last))


# Vehicles in full.


def vehicles(book: Book, at: At) -> list[Item]:
    """Return what each vehicle carries, beside its room inside."""
    words, rows = at.words, []
    bodies = {words.say(word): body for body, word in say.BODIES.items()}
    for index, each in enumerate(book.equipment):
        if each.kind is not EquipmentKind.VEHICLE:
            continue
        its = thing_owner(each, index)
        body = "" if each.body is None else words.say(say.BODIES[each.body])
        fields = (
            its.field(
                "body", body, partial(_with_body, bodies=bodies), "body",
                hint=words.say(say.HINT_UNKNOWN), suggestions=tuple(bodies),
            ),
            its.figure("payload_kg", each.payload_kg, plain.number_or_none),
            its.figure("door_width_m", each.door_width_m, plain.size_or_none),
            its.figure("door_height_m", each.door_height_m, plain.size_or_none),
            its.figure("gross_t", each.gross_t, plain.number_or_none),
            its.figure("trailer_t", each.trailer_t, plain.number_or_none),
        )  # fmt: skip
        rows.append(Row(fields=fields, label=each.name, path=its.path))
    if not rows:
        return []
    heads = tuple(words.say(head) for head in say.VEHICLE_HEADS)
    aside = words.say(say.VEHICLES_ASIDE)
    return [Title(text=words.say(say.VEHICLES), aside=aside), Grid(heads=heads, rows=tuple(rows))]


def _with_body(each: Equipment, text: str, *, bodies: dict[str, str]) -> Equipment:
    if not text.strip():
        return replace(each, body=None)
    return replace(each, body=Body(plain.one_of(text, bodies, "not_a_body")))


# Work of no job.


def other_work(book: Book, at: At) -> list[Item]:
    """Return the work that belongs to no job and yet holds people, places and things."""
    words = at.words
    found: list[Item] = [Title(text=words.say(say.OTHER), aside=words.say(say.OTHER_ASIDE))]
    who = (
        ("people", {each.name: each.id for each in book.people}),
        ("places", {each.name: each.id for each in book.places}),
        ("equipment", {each.name: each.id for each in book.equipment}),
    )
    for index, each in enumerate(book.other_work):
        here = ("other_work", index)
        name = _other(index, "name", each.name, lambda text: {"name": plain.name(text)})
        text = typed.stretch_text(each.start, each.end, words, at.today)
        days = _other(index, "days", text, partial(_stretch, at=at))
        held = tuple(
            (which, _held(index, which, getattr(each, which), known, words.say(say.NOBODY_HELD)))
            for which, known in who
        )
        gone = BOOK.without("other_work", index, words.say(say.DO_REMOVE))
        fields = (("name", name), ("days", days), *held)
        found.append(Sentence(template=say.OTHER_LINE, fields=fields, acts=(gone,), path=here))
    hint = words.say(say.OTHER_HINT)
    add = BOOK.field("add other", "", partial(_with_work, at=at), "other_work", hint=hint)
    return [*found, Sentence(template=say.ADD_OTHER, fields=(("what", add),))]


def _other(
    index: int, which: str, text: str, read: Callable[[str], dict[str, object]], hint: str = ""
) -> Field:
    def write(book: Book, typed_text: str) -> Book:
        return put_in(book, "other_work", index, OtherWork, **read(typed_text))

    return BOOK.field(
        f"other {index + 1} {which}", text, write, "other_work", index, which, hint=hint
    )


def _stretch(text: str, *, at: At) -> dict[str, object]:
    start, end = typed.stretch(text, at.words, at.today)
    return {"start": start, "end": end}


def _held(
    index: int, which: str, ids: tuple[str, ...], known: Mapping[str, str], hint: str
) -> Field:
    def read(text: str) -> dict[str, object]:
        parts = typed.parts_of(text)
        found = dict.fromkeys(plain.one_of(part, known, "not_there") for part in parts)
        return {which: tuple(found)}

    text = ", ".join(name for each in ids for name, identity in known.items() if identity == each)
    return _other(index, which, text, read, hint)


def _with_work(book: Book, text: str, *, at: At) -> Book:
    name, rest = typed.first_of(text)
    if not rest:
        raise NotTaken("not_other_work", value=text)
    start, end = typed.stretch(rest, at.words, at.today)
    identity = fresh_id(
        "-".join(plain.name(name).casefold().split()), (w.id for w in book.other_work)
    )
    made = OtherWork(id=identity, name=plain.name(name), start=start, end=end)
    return replace(book, other_work=(*book.other_work, made))

"""Hours, closures, rates and figures of the workshop, and its ways of making. No Qt."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import typed
from app.window.workshop.items import (
    Act,
    Field,
    Grid,
    Item,
    Part,
    Path,
    Row,
    Sentence,
    Text,
    Title,
    with_field,
)
from app.window.workshop.people import At, rate_field
from app.words import Words
from app.words import workshop_view as say
from app.words.brought import routes_in_words
from shared.book import Book, Closure, Opening, Route, Temperature, Workshop
from shared.edits import Edited, change_workshop, copy_route
from shared.edits.workshop import change_people
from shared.examine.known_calendars import has_holidays
from shared.ids import PlaceId
from shared.routes import unknown_words
from shared.worktime import is_known_zone

if TYPE_CHECKING:
    from app.words.template import Template

Writes = Callable[[Workshop, str], Workshop]


def shop_field(
    name: str,
    text: str,
    write: Writes,
    path: Path,
    *,
    hint: str = "",
    suggestions: tuple[str, ...] = (),
    is_figure: bool = False,
) -> Field:
    """Return a field of the workshop's own; write gives the workshop anew from a text."""

    def edit(book: Book, typed_text: str) -> Edited:
        return change_workshop(book, write(book.workshop, typed_text))

    return Field(
        name=name,
        label=name.replace("_", " "),
        text=text,
        write=edit,
        path=("workshop", *path),
        hint=hint,
        suggestions=suggestions,
        is_figure=is_figure,
    )


def _number(name: str, shop: Workshop, *, whole: bool = False) -> Field:
    def write(old: Workshop, text: str) -> Workshop:
        figure = plain.whole(text) if whole else plain.number(text)
        return with_field(old, name, figure)

    label = name.replace("_", " ")
    return shop_field(label, plain.figure(getattr(shop, name)), write, (name,))


def _letters(name: str, shop: Workshop, hint: str = "") -> Field:
    def write(old: Workshop, text: str) -> Workshop:
        value = text.strip() if name == "zone" else text.strip().upper()
        if not value and name != "subdivision":
            raise NotTaken("no_name")
        made = with_field(old, name, value or None)
        return with_field(made, "subdivision", _part_of(made)) if name == "country" else made

    def checked(old: Workshop, text: str) -> Workshop:
        made = write(old, text)
        if not is_known_zone(made.zone):
            raise NotTaken("not_a_zone", value=text)
        if not has_holidays(made.country, made.subdivision, ()):
            raise NotTaken(f"not_a_{name}", value=text, country=made.country)
        return made

    return shop_field(name, getattr(shop, name) or "", checked, (name,), hint=hint)


def _part_of(shop: Workshop) -> str | None:
    """Return the part of the country, if the country has one of that name."""
    known = has_holidays(shop.country, shop.subdivision, ())
    return shop.subdivision if known else None


# Hours and closures.


def hours_part(book: Book, at: At) -> Part:
    """Return the part about hours, holidays and closures."""
    shop, words = book.workshop, at.words
    shifts = shop_field(
        "hours",
        typed.hours_text(shop.shifts, words),
        lambda old, text: replace(old, shifts=typed.hours(text, words)),
        ("shifts",),
    )
    hint = words.say(say.SUBDIVISION_HINT)
    items: list[Item] = [
        Sentence(template=say.WE_WORK, fields=(("hours", shifts),)),
        Sentence(
            template=say.USEFUL,
            fields=(
                ("shift", _number("shift_hours", shop)),
                ("useful", _number("useful_hours", shop)),
            ),
        ),
        Sentence(
            template=say.HOLIDAYS,
            fields=(
                ("country", _letters("country", shop)),
                ("subdivision", _letters("subdivision", shop, hint)),
            ),
        ),
        Sentence(template=say.CLOCK, fields=(("zone", _letters("zone", shop)),)),
        Title(text=words.say(say.CLOSURES)),
        *(_closure(index, each, at) for index, each in enumerate(shop.closures)),
        _add_closure(len(shop.closures), at),
    ]
    fields = ("shifts", "country", "subdivision", "zone", "closures", "holiday_categories")
    scopes = tuple(("workshop", name) for name in (*fields, "shift_hours", "useful_hours"))
    title = words.say(say.PARTS["hours"])
    return Part(name="hours", title=title, items=tuple(items), scopes=scopes)


def _closure(index: int, closure: Closure, at: At) -> Sentence:
    here: Path = ("closures", index)
    days = shop_field(
        f"shut {index + 1}",
        typed.days_text(closure.first, closure.last, at.words, at.today),
        partial(_with_closure, index=index, at=at),
        here,
    )
    name = shop_field(
        f"shut {index + 1} name",
        closure.name,
        partial(_with_closure_name, index=index),
        (*here, "name"),
        hint=at.words.say(say.CLOSURE_HINT),
    )
    act = Act(text=at.words.say(say.DO_REMOVE), edit=partial(_without, "closures", index))
    return Sentence(template=say.CLOSURE_LINE, fields=(("days", days), ("name", name)), acts=(act,))


def _add_closure(count: int, at: At) -> Sentence:
    write = partial(_with_closure, index=count, at=at)
    hint = at.words.say(say.HINT_DAYS)
    days = shop_field("add shut", "", write, ("closures", count), hint=hint)
    return Sentence(template=say.ADD_CLOSURE, fields=(("days", days),))


def _with_closure(shop: Workshop, text: str, *, index: int, at: At) -> Workshop:
    first, last = typed.days(text, at.words, at.today)
    old = shop.closures[index : index + 1]
    made = replace(old[0], first=first, last=last) if old else Closure(first=first, last=last)
    closures = (*shop.closures[:index], made, *shop.closures[index + 1 :])
    return replace(shop, closures=tuple(sorted(closures, key=lambda c: c.first)))


def _with_closure_name(shop: Workshop, text: str, *, index: int) -> Workshop:
    made = replace(shop.closures[index], name=" ".join(text.split()))
    return replace(shop, closures=(*shop.closures[:index], made, *shop.closures[index + 1 :]))


def _without(which: str, index: int, book: Book) -> Edited:
    old = getattr(book.workshop, which)
    made = with_field(book.workshop, which, (*old[:index], *old[index + 1 :]))
    return change_workshop(book, made)


# Rates and figures.


def rates_part(book: Book, at: At) -> Part:
    """Return the part about money and about the figures that plans go by."""
    shop, words = book.workshop, at.words
    items: list[Item] = [Title(text=words.say(say.RATES))]
    if at.is_money_hidden:
        items.append(Text(text=words.say(say.MONEY_HIDDEN)))
    else:
        currency = _letters("currency", shop)
        items.append(Sentence(template=say.MONEY_IN, fields=(("currency", currency),)))
        if book.people:
            items += [_rate_of_all(words), _rates(book, words)]
    items += [Title(text=words.say(say.FIGURES)), *_figures(shop)]
    names = (
        *("currency", "pair_loss_percent", "longest_pause_days", "bridged_break_minutes"),
        *("watch_minutes", "wished_buffer_days", "rest_hours", "working_room_m"),
        *("standing_room_m", "figures", "name", "never_alone", "pieces_per_half_day"),
        *("sanding_hours_per_day", "wrap_m", "skates_m", "spare_m"),
    )
    scopes = tuple(("workshop", name) for name in names)
    title = words.say(say.PARTS["rates"])
    return Part(name="rates", title=title, items=tuple(items), scopes=scopes)


def _rate_of_all(words: Words) -> Sentence:
    def write(book: Book, text: str) -> Edited:
        rate = plain.number(text)
        people = tuple(replace(each, rate_per_hour=rate) for each in book.people)
        return change_people(book, people, text)

    hint, label = words.say(say.RATE_OF_ALL_HINT), words.say(say.RATE_OF_ALL, rate="")
    rate = Field(name="add rate of all", label=label, text="", write=write, hint=hint)
    return Sentence(template=say.RATE_OF_ALL, fields=(("rate", rate),))


def _rates(book: Book, words: Words) -> Grid:
    rows = []
    for index, person in enumerate(book.people):
        path: Path = ("people", index)
        hour = rate_field(person, "rate_per_hour", path)
        fields = (hour, rate_field(person, "day_rate", path))
        rows.append(Row(fields=fields, label=person.name, path=path))
    return Grid(heads=tuple(words.say(head) for head in say.RATE_HEADS), rows=tuple(rows))


def _figures(shop: Workshop) -> list[Sentence]:
    lines: list[tuple[Template, tuple[tuple[str, Field], ...]]] = [
        (say.PAIR_LOSS, (("percent", _number("pair_loss_percent", shop)),)),
        (say.PAUSE, (("days", _number("longest_pause_days", shop, whole=True)),)),
        (say.BRIDGED, (("minutes", _number("bridged_break_minutes", shop, whole=True)),)),
        (say.WATCH, (("minutes", _number("watch_minutes", shop, whole=True)),)),
        (say.BUFFER, (("days", _number("wished_buffer_days", shop)),)),
        (say.REST, (("hours", _number("rest_hours", shop)),)),
        (
            say.WORKING_ROOM,
            (
                ("working", _number("working_room_m", shop)),
                ("standing", _number("standing_room_m", shop)),
            ),
        ),
    ]
    return [Sentence(template=template, fields=fields) for template, fields in lines]


# Openings and warmth: what places have besides.


def openings(shop: Workshop, words: Words) -> list[Item]:
    """Return the grid of openings and the sentence that adds one."""
    rows = []
    for index, each in enumerate(shop.openings):
        path: Path = ("openings", index)
        name = _opening(index, "name", each.name, path)
        sizes = [
            _opening(index, which, plain.figure(getattr(each, which)), path)
            for which in ("width_m", "height_m", "length_m")
        ]
        measured = _opening(index, "measured", "yes" if each.measured else "", path)
        act = Act(text=words.say(say.DO_REMOVE), edit=partial(_without, "openings", index))
        rows.append(
            Row(
                fields=(name, *sizes, replace(measured, is_tick=True)),
                acts=(act,),
                path=("workshop", *path),
            )
        )
    heads = tuple(words.say(head) for head in say.OPENING_HEADS)
    add = shop_field("add opening", "", _with_opening, ("openings",), hint=_hint(words))
    title = Title(text=words.say(say.OPENINGS), aside=words.say(say.OPENINGS_ASIDE))
    grid: list[Item] = [Grid(heads=heads, rows=tuple(rows))] if rows else []
    return [title, *grid, Sentence(template=say.ADD_OPENING, fields=(("name", add),))]


def _hint(words: Words) -> str:
    return words.say(say.NEW_NAME_HINT)


def _opening(index: int, which: str, text: str, path: Path) -> Field:
    def write(shop: Workshop, typed_text: str) -> Workshop:
        value: object = plain.name(typed_text) if which == "name" else None
        if which == "measured":
            value = bool(typed_text)
        elif which != "name":
            value = plain.size_or_none(typed_text)
            if value is None and which != "length_m":
                raise NotTaken("not_a_size", value=typed_text)
        made = with_field(shop.openings[index], which, value)
        kept = (*shop.openings[:index], made, *shop.openings[index + 1 :])
        return replace(shop, openings=kept)

    is_figure = which not in ("name", "measured")
    return shop_field(
        f"opening {index + 1} {which}", text, write, (*path, which), is_figure=is_figure
    )


def _with_opening(shop: Workshop, text: str) -> Workshop:
    made = Opening(
        name=plain.name(text), width_m=Decimal("2.4"), height_m=Decimal("2.4"), measured=False
    )
    return replace(shop, openings=(*shop.openings, made))


def warmth(book: Book, words: Words) -> list[Item]:
    """Return how warm it is, month by month, in sentences."""
    shop = book.workshop
    found: list[Item] = [Title(text=words.say(say.WARMTH))]
    for index, each in enumerate(shop.temperatures):
        path: Path = ("temperatures", index)
        months = shop_field(
            f"warmth {index + 1} months",
            typed.months_text(each.months, words),
            partial(_with_months, index=index, words=words),
            (*path, "months"),
        )
        place = next((p.name for p in book.places if p.id == each.place), "")
        known = {p.name: p.id for p in book.places}
        where = shop_field(
            f"warmth {index + 1} place",
            place,
            partial(_with_where, index=index, known=known),
            (*path, "place"),
            hint=words.say(say.WARMTH_PLACE_HINT),
            suggestions=tuple(known),
        )
        act = Act(text=words.say(say.DO_REMOVE), edit=partial(_without, "temperatures", index))
        fields = (
            ("months", months),
            ("day", _celsius(index, "day_celsius", each, path)),
            ("night", _celsius(index, "night_celsius", each, path)),
            ("place", where),
        )
        found.append(Sentence(template=say.WARMTH_LINE, fields=fields, acts=(act,)))
    write = partial(_with_months, index=len(shop.temperatures), words=words)
    hint = words.say(say.ALL_YEAR)
    add = shop_field("add warmth", "", write, ("temperatures",), hint=hint)
    return [*found, Sentence(template=say.ADD_WARMTH, fields=(("months", add),))]


def _celsius(index: int, which: str, each: Temperature, path: Path) -> Field:
    def write(shop: Workshop, text: str) -> Workshop:
        minus = text.strip()[:1] in ("-", "−", "–")
        try:
            value = plain.number(text.strip(" -−–"))
        except NotTaken:
            raise NotTaken("not_a_temperature", value=text) from None
        return _with_warmth(shop, index, which, -value if minus else value)

    text = plain.figure(getattr(each, which))
    return shop_field(f"warmth {index + 1} {which}", text, write, (*path, which))


def _with_warmth(shop: Workshop, index: int, which: str, value: object) -> Workshop:
    made = with_field(shop.temperatures[index], which, value)
    kept = (*shop.temperatures[:index], made, *shop.temperatures[index + 1 :])
    return replace(shop, temperatures=kept)


def _with_months(shop: Workshop, text: str, *, index: int, words: Words) -> Workshop:
    months = typed.months(text, words)
    if index < len(shop.temperatures):
        return _with_warmth(shop, index, "months", months)
    like = shop.temperatures[-1] if shop.temperatures else None
    day = like.day_celsius if like else Decimal(18)
    night = like.night_celsius if like else Decimal(16)
    made = Temperature(months=months, day_celsius=day, night_celsius=night)
    return replace(shop, temperatures=(*shop.temperatures, made))


def _with_where(shop: Workshop, text: str, *, index: int, known: dict[str, PlaceId]) -> Workshop:
    if not text.strip():
        return _with_warmth(shop, index, "place", None)
    place = plain.one_of(text, {name: str(each) for name, each in known.items()}, "not_a_place")
    return _with_warmth(shop, index, "place", PlaceId(place))


# Ways of making.


def ways_part(book: Book, at: At) -> Part:
    """Return the part about ways of making: the book's own, and those the program brings."""
    items: list[Item] = []
    for route in routes_in_words(at.words, book):
        items += _way(book, route, at.words)
    title = at.words.say(say.PARTS["ways"])
    return Part(name="ways", title=title, items=tuple(items), scopes=(("routes",),))


def _way(book: Book, route: Route, words: Words) -> list[Item]:
    is_own = route in book.routes
    name = words.say(say.WAYS_OWN if is_own else say.WAYS_BROUGHT, name=route.name)
    copy = Act(text=words.say(say.DO_COPY_WAY), edit=lambda book: copy_route(book, route))
    steps = words.series(dict.fromkeys(step.name for step in route.steps if step.name))
    lines: list[Item] = [
        Text(text=name, is_bold=True, acts=() if is_own else (copy,)),
        Text(text=words.say(say.WAYS_STEPS, steps=steps)),
    ]
    missing = unknown_words(book, route)
    if missing:
        lines.append(
            Text(text=words.say(say.WAYS_MISSING, words=words.both(map(words.brought, missing))))
        )
    return lines

"""Hours, closures, rates and figures of the workshop, and its ways of making. No Qt."""

from dataclasses import replace
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import limits, typed
from app.window.workshop.items import (
    SHOP,
    Act,
    Field,
    Grid,
    Item,
    Part,
    Row,
    Sentence,
    Text,
    Title,
    put_in,
    shop_figure,
    with_field,
)
from app.window.workshop.people import At, rate_field
from app.window.workshop.taken import other_work
from app.words import Words
from app.words import workshop_view as say
from app.words.brought import routes_in_words
from shared.book import Book, Closure, Opening, Route, Workshop
from shared.edits import Edited, copy_route
from shared.edits.workshop import change_people
from shared.examine.known_calendars import has_holidays
from shared.routes import unknown_words
from shared.worktime import is_known_zone

if TYPE_CHECKING:
    from app.words.template import Template


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

    return SHOP.field(name, getattr(shop, name) or "", checked, name, hint=hint)


def _part_of(shop: Workshop) -> str | None:
    """Return the part of the country, if the country has one of that name."""
    known = has_holidays(shop.country, shop.subdivision, ())
    return shop.subdivision if known else None


def _categories(shop: Workshop, words: Words) -> Field:
    """Return the blank of further kinds of holidays, as the library of holidays calls them."""

    def write(old: Workshop, text: str) -> Workshop:
        kinds = tuple(
            dict.fromkeys(part.strip().lower() for part in text.split(",") if part.strip())
        )
        if not has_holidays(old.country, old.subdivision, kinds):
            raise NotTaken("not_holidays", value=text, country=old.country)
        return replace(old, holiday_categories=kinds)

    text, hint = ", ".join(shop.holiday_categories), words.say(say.NO_OTHERS)
    return SHOP.field("holidays", text, write, "holiday_categories", hint=hint)


# Hours and closures.


def hours_part(book: Book, at: At) -> Part:
    """Return the part about hours, holidays and closures."""
    shop, words = book.workshop, at.words
    shifts = SHOP.field(
        "hours",
        typed.hours_text(shop.shifts, words),
        lambda old, text: replace(old, shifts=typed.hours(text, words)),
        "shifts",
    )
    hint = words.say(say.SUBDIVISION_HINT)
    name = SHOP.field(
        "name", shop.name, lambda old, text: replace(old, name=plain.name(text)), "name"
    )
    items: list[Item] = [
        Sentence(template=say.CALLED, fields=(("name", name),)),
        Sentence(template=say.WE_WORK, fields=(("hours", shifts),)),
        Sentence(
            template=say.USEFUL,
            fields=(
                ("shift", shop_figure("shift_hours", shop)),
                ("useful", shop_figure("useful_hours", shop)),
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
        Sentence(template=say.HOLIDAYS_BESIDES, fields=(("kinds", _categories(shop, words)),)),
        Title(text=words.say(say.CLOSURES)),
        *(_closure(index, each, at) for index, each in enumerate(shop.closures)),
        _add_closure(len(shop.closures), at),
        *other_work(book, at),
    ]
    fields = ("name", "shifts", "country", "subdivision", "zone", "closures", "holiday_categories")
    names = (*fields, "shift_hours", "useful_hours")
    scopes = (("other_work",), *(("workshop", name) for name in names))
    title = words.say(say.PARTS["hours"])
    return Part(name="hours", title=title, items=tuple(items), scopes=scopes)


def _closure(index: int, closure: Closure, at: At) -> Sentence:
    days = SHOP.field(
        f"shut {index + 1}",
        typed.days_text(closure.first, closure.last, at.words, at.today),
        partial(_with_closure, index=index, at=at),
        *("closures", index),
    )
    name = SHOP.entry(
        f"shut {index + 1} name",
        closure.name,
        ("closures", index, "name"),
        typed.line,
        hint=at.words.say(say.CLOSURE_HINT),
    )
    act = SHOP.without("closures", index, at.words.say(say.DO_REMOVE))
    return Sentence(template=say.CLOSURE_LINE, fields=(("days", days), ("name", name)), acts=(act,))


def _add_closure(count: int, at: At) -> Sentence:
    write = partial(_with_closure, index=count, at=at)
    hint = at.words.say(say.HINT_DAYS)
    days = SHOP.field("add shut", "", write, "closures", count, hint=hint)
    return Sentence(template=say.ADD_CLOSURE, fields=(("days", days),))


def _with_closure(shop: Workshop, text: str, *, index: int, at: At) -> Workshop:
    first, last = typed.days(text, at.words, at.today)
    made = put_in(shop, "closures", index, Closure, first=first, last=last)
    return replace(made, closures=tuple(sorted(made.closures, key=lambda c: c.first)))


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
    items += [Title(text=words.say(say.FIGURES)), *_figures(shop), *limits.limits(shop, words)]
    items += limits.own_figures(shop, words)
    names = (
        *("currency", "pair_loss_percent", "longest_pause_days", "bridged_break_minutes"),
        *("watch_minutes", "wished_buffer_days", "rest_hours", "working_room_m"),
        *("standing_room_m", "figures", "never_alone", "pieces_per_half_day"),
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
        fields = tuple(rate_field(person, which, index) for which in ("rate_per_hour", "day_rate"))
        rows.append(Row(fields=fields, label=person.name, path=("people", index)))
    return Grid(heads=tuple(words.say(head) for head in say.RATE_HEADS), rows=tuple(rows))


def _figures(shop: Workshop) -> list[Sentence]:
    lines: list[tuple[Template, tuple[tuple[str, Field], ...]]] = [
        (say.PAIR_LOSS, (("percent", shop_figure("pair_loss_percent", shop)),)),
        (say.PAUSE, (("days", shop_figure("longest_pause_days", shop, whole=True)),)),
        (say.BRIDGED, (("minutes", shop_figure("bridged_break_minutes", shop, whole=True)),)),
        (say.WATCH, (("minutes", shop_figure("watch_minutes", shop, whole=True)),)),
        (say.BUFFER, (("days", shop_figure("wished_buffer_days", shop)),)),
        (say.REST, (("hours", shop_figure("rest_hours", shop)),)),
        (
            say.WORKING_ROOM,
            (
                ("working", shop_figure("working_room_m", shop)),
                ("standing", shop_figure("standing_room_m", shop)),
            ),
        ),
    ]
    return [Sentence(template=template, fields=fields) for template, fields in lines]


# Openings and warmth: what places have besides.


def openings(shop: Workshop, words: Words) -> list[Item]:
    """Return the grid of openings and the sentence that adds one."""
    rows = []
    for index, each in enumerate(shop.openings):
        name = _opening(index, "name", each.name)
        sizes = [
            _opening(index, which, plain.figure(getattr(each, which)))
            for which in ("width_m", "height_m", "length_m")
        ]
        measured = _opening(index, "measured", "yes" if each.measured else "")
        act = SHOP.without("openings", index, words.say(say.DO_REMOVE))
        fields = (name, *sizes, replace(measured, is_tick=True))
        rows.append(Row(fields=fields, acts=(act,), path=("workshop", "openings", index)))
    heads = tuple(words.say(head) for head in say.OPENING_HEADS)
    hint = words.say(say.NEW_NAME_HINT)
    add = SHOP.field("add opening", "", _with_opening, "openings", hint=hint)
    title = Title(text=words.say(say.OPENINGS), aside=words.say(say.OPENINGS_ASIDE))
    grid: list[Item] = [Grid(heads=heads, rows=tuple(rows))] if rows else []
    return [title, *grid, Sentence(template=say.ADD_OPENING, fields=(("name", add),))]


def _opening(index: int, which: str, text: str) -> Field:
    def read(typed_text: str) -> object:
        if which == "name":
            return plain.name(typed_text)
        if which == "measured":
            return bool(typed_text)
        size = plain.size_or_none(typed_text)
        if size is None and which != "length_m":
            raise NotTaken("not_a_size", value=typed_text)
        return size

    made = SHOP.entry(f"opening {index + 1} {which}", text, ("openings", index, which), read)
    return replace(made, is_figure=which not in ("name", "measured"))


def _with_opening(shop: Workshop, text: str) -> Workshop:
    made = Opening(
        name=plain.name(text), width_m=Decimal("2.4"), height_m=Decimal("2.4"), measured=False
    )
    return replace(shop, openings=(*shop.openings, made))


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

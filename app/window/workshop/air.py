"""The air of places: what is kept apart in it, how warm it is, and what was measured. No Qt."""

import re
from dataclasses import replace
from datetime import time
from decimal import Decimal
from functools import partial

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import typed
from app.window.workshop.items import SHOP, Act, Field, Grid, Item, Row, Sentence, Title, put_in
from app.window.workshop.people import At
from app.words import Words
from app.words import workshop_view as say
from app.words.acts import ACTS
from shared.book import Act as Doing
from shared.book import Apart, Book, Reading, Temperature, Workshop
from shared.edits import Edited, change_workshop
from shared.ids import PlaceId
from shared.trade import defaults

_measured = re.compile(r"(.*\d[:.]\d\d)[\s,;]+([-−–]?\s*\d+(?:[.,]\d+)?)\s*(?:°\s*C)?").fullmatch
_NOON = time(12)


def celsius(text: str) -> Decimal:
    """Read a temperature, below nothing too."""
    minus = text.strip()[:1] in ("-", "−", "–")
    try:
        value = plain.number(text.strip(" -−–"))
    except NotTaken:
        raise NotTaken("not_a_temperature", value=text) from None
    return -value if minus else value


def _celsius_or_none(text: str) -> Decimal | None:
    return celsius(text) if text.strip() else None


# What is kept apart.


def acts_by_word(words: Words) -> dict[str, str]:
    """Return what may be done in a stage by its word."""
    return {words.say(word): act for act, word in ACTS.items()}


def apart(book: Book, words: Words) -> list[Item]:
    """Return which acts never meet in one air, the usual ones where the book names none."""
    shop, found = book.workshop, list[Item]()
    known = acts_by_word(words)
    is_usual = shop.apart is None
    aside = words.say(say.APART_USUAL if is_usual else say.APART_OWN)
    found.append(Title(text=words.say(say.APART), aside=aside))
    if not is_usual:
        back = Act(text=words.say(say.DO_AS_USUAL), edit=_as_usual)
        found.append(Sentence(template=say.APART_WHY, acts=(back,)))
    for index, each in enumerate(apart_of(shop)):
        fields = (
            *((which, _act(index, which, each, words, known)) for which in ("first", "second")),
            ("minutes", _minutes(index, each)),
        )
        gone = Act(text=words.say(say.DO_REMOVE), edit=partial(_without, index))
        found.append(Sentence(template=say.APART_LINE, fields=fields, acts=(gone,)))
    write = partial(_with_pair, known=known)
    hint = words.say(say.APART_HINT)
    add = SHOP.field("add apart", "", write, "apart", hint=hint)
    return [*found, Sentence(template=say.ADD_APART, fields=(("pair", add),))]


def apart_of(shop: Workshop) -> tuple[Apart, ...]:
    """Return the acts that a workshop keeps apart."""
    return defaults.APART if shop.apart is None else shop.apart


def _act(index: int, which: str, each: Apart, words: Words, known: dict[str, str]) -> Field:
    def write(shop: Workshop, text: str) -> Workshop:
        act = Doing(plain.one_of(text, known, "not_an_act"))
        return _with_apart(shop, index, **{which: act})

    text = words.say(ACTS[getattr(each, which)])
    name, here = f"apart {index + 1} {which}", ("apart", index, which)
    return SHOP.field(name, text, write, *here, suggestions=tuple(known))


def _minutes(index: int, each: Apart) -> Field:
    def write(shop: Workshop, text: str) -> Workshop:
        return _with_apart(shop, index, minutes=plain.whole(text))

    name = f"apart {index + 1} minutes"
    return SHOP.field(name, plain.figure(each.minutes), write, "apart", index, "minutes")


def _with_apart(shop: Workshop, index: int, **fields: object) -> Workshop:
    made = put_in(replace(shop, apart=apart_of(shop)), "apart", index, Apart, **fields)
    return replace(made, apart=None) if made.apart == defaults.APART else made


def _with_pair(shop: Workshop, text: str, *, known: dict[str, str]) -> Workshop:
    parts = typed.parts_of(text)
    if len(parts) != 2:
        raise NotTaken("not_a_pair", value=text)
    first, second = (Doing(plain.one_of(part, known, "not_an_act")) for part in parts)
    return _with_apart(shop, len(apart_of(shop)), first=first, second=second)


def _without(index: int, book: Book) -> Edited:
    kept = apart_of(book.workshop)
    made = replace(book.workshop, apart=(*kept[:index], *kept[index + 1 :]))
    return change_workshop(book, made)


def _as_usual(book: Book) -> Edited:
    return change_workshop(book, replace(book.workshop, apart=None))


# How warm it is.


def warmth(book: Book, words: Words) -> list[Item]:
    """Return how warm and damp it is, month by month, in sentences."""
    shop = book.workshop
    found: list[Item] = [Title(text=words.say(say.WARMTH))]
    for index, each in enumerate(shop.temperatures):
        fields = (
            ("months", _months(index, each, words)),
            ("day", _figure(index, "day_celsius", each)),
            ("night", _figure(index, "night_celsius", each)),
            ("place", _where(index, each.place, book, words, "temperatures")),
        )
        gone = SHOP.without("temperatures", index, words.say(say.DO_REMOVE))
        found.append(Sentence(template=say.WARMTH_LINE, fields=fields, acts=(gone,)))
        found.append(_besides(index, each, words))
    write = partial(_with_months, index=len(shop.temperatures), words=words)
    add = SHOP.field("add warmth", "", write, "temperatures", hint=words.say(say.ALL_YEAR))
    return [*found, Sentence(template=say.ADD_WARMTH, fields=(("months", add),))]


def _besides(index: int, each: Temperature, words: Words) -> Sentence:
    heated = SHOP.entry(
        f"warmth {index + 1} heated", typed.hours_text(each.heated, words),
        ("temperatures", index, "heated"), partial(typed.hours, words=words),
        hint=words.say(say.HINT_NEVER),
    )  # fmt: skip
    fields = (
        ("heated", heated),
        ("celsius", _figure(index, "heated_celsius", each, words.say(say.HINT_AS_BY_DAY))),
        ("spread", _figure(index, "spread_celsius", each, words.say(say.HINT_NOT_AT_ALL))),
        ("humidity", _figure(index, "humidity_percent", each, words.say(say.HINT_UNKNOWN))),
    )
    return Sentence(template=say.WARMTH_BESIDES, fields=fields)


def _months(index: int, each: Temperature, words: Words) -> Field:
    write = partial(_with_months, index=index, words=words)
    text, here = typed.months_text(each.months, words), ("temperatures", index, "months")
    return SHOP.field(f"warmth {index + 1} months", text, write, *here)


def _figure(index: int, which: str, each: Temperature, hint: str = "") -> Field:
    """Return the blank of a temperature or of the damp; with a hint it may be left out."""
    read = _celsius_or_none if hint else celsius
    if which in ("spread_celsius", "humidity_percent"):
        read = plain.number_or_none
    text, here = plain.figure(getattr(each, which)), ("temperatures", index, which)
    return SHOP.entry(f"warmth {index + 1} {which}", text, here, read, hint=hint)


def _with_months(shop: Workshop, text: str, *, index: int, words: Words) -> Workshop:
    months = typed.months(text, words)
    like = shop.temperatures[-1] if shop.temperatures else None
    day = like.day_celsius if like else Decimal(18)
    night = like.night_celsius if like else Decimal(16)
    make = partial(Temperature, day_celsius=day, night_celsius=night)
    return put_in(shop, "temperatures", index, make, months=months)


def _where(index: int, place: PlaceId | None, book: Book, words: Words, which: str) -> Field:
    """Return the blank of the place that a temperature or a measurement is of."""
    known = {each.name: str(each.id) for each in book.places}

    def read(text: str) -> PlaceId | None:
        return PlaceId(plain.one_of(text, known, "not_a_place")) if text.strip() else None

    name = f"{_CALLED[which]} {index + 1} place"
    text = next((each.name for each in book.places if each.id == place), "")
    hint = words.say(say.WARMTH_PLACE_HINT)
    here = (which, index, "place")
    return SHOP.entry(name, text, here, read, hint=hint, suggestions=tuple(known))


_CALLED = {"temperatures": "warmth", "readings": "measured"}


# What was measured.


def readings(book: Book, at: At) -> list[Item]:
    """Return what was measured, which goes before what was expected."""
    words, rows = at.words, []
    for index, each in enumerate(book.workshop.readings):
        figures = tuple(
            replace(_reading(index, which, getattr(each, which), words), is_figure=True)
            for which in ("celsius", "humidity_percent")
        )
        fields = (
            _moment(index, each, at),
            *figures,
            _where(index, each.place, book, words, "readings"),
        )
        gone = SHOP.without("readings", index, words.say(say.DO_REMOVE))
        rows.append(Row(fields=fields, acts=(gone,), path=("workshop", "readings", index)))
    heads = tuple(words.say(head) for head in say.MEASURED_HEADS)
    title = Title(text=words.say(say.MEASURED), aside=words.say(say.MEASURED_ASIDE))
    grid: list[Item] = [Grid(heads=heads, rows=tuple(rows))] if rows else []
    write = partial(_with_reading, at=at)
    add = SHOP.field("add measured", "", write, "readings", hint=words.say(say.MEASURED_HINT))
    return [title, *grid, Sentence(template=say.ADD_MEASURED, fields=(("what", add),))]


def _moment(index: int, each: Reading, at: At) -> Field:
    read = partial(typed.moment, words=at.words, now=at.now)
    text, here = at.words.moment(each.at, after=None), ("readings", index, "at")
    return SHOP.entry(f"measured {index + 1} when", text, here, read)


def _reading(index: int, which: str, value: Decimal | None, words: Words) -> Field:
    read = celsius if which == "celsius" else plain.number_or_none
    hint = "" if which == "celsius" else words.say(say.HINT_UNKNOWN)
    name, here = f"measured {index + 1} {which}", ("readings", index, which)
    return SHOP.entry(name, plain.figure(value), here, read, hint=hint)


def _with_reading(shop: Workshop, text: str, *, at: At) -> Workshop:
    found = _measured(text.strip())
    if found is None:
        raise NotTaken("not_measured", value=text)
    made = Reading(at=typed.moment(found[1], at.words, at.now), celsius=celsius(found[2]))
    return replace(shop, readings=(*shop.readings, made))

"""What nobody does alone, a person's day, and the workshop's own figures of the trade. No Qt."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from functools import partial

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import typed
from app.window.workshop.air import acts_by_word
from app.window.workshop.items import (
    SHOP,
    Field,
    Grid,
    Item,
    Row,
    Sentence,
    Text,
    Title,
    put_in,
    shop_figure,
)
from app.words import Words
from app.words import workshop_view as say
from app.words.acts import ACTS
from shared.book import Act, OwnFigure, Workshop
from shared.trade import UnknownFigure, defaults, figure


def limits(shop: Workshop, words: Words) -> list[Item]:
    """Return what bounds a person's day, and what is left around a piece that is moved."""
    usual = {
        "pieces": f"{defaults.PIECES_PER_HALF_DAY}",
        "hours": plain.figure(defaults.SANDING_HOURS),
        "wrap": _metres("CP400"),
        "skates": _metres("CP401"),
        "spare": _metres("CP402"),
    }
    pieces = shop_figure("pieces_per_half_day", shop, whole=True, hint=usual["pieces"])
    hours = shop_figure("sanding_hours_per_day", shop, hint=usual["hours"])
    moved = tuple(
        (which, shop_figure(f"{which}_m", shop, hint=usual[which]))
        for which in ("wrap", "skates", "spare")
    )
    return [
        Sentence(template=say.PIECES, fields=(("pieces", pieces),)),
        Sentence(template=say.SANDING, fields=(("hours", hours),)),
        Sentence(template=say.NEVER_ALONE, fields=(("acts", _alone(shop, words)),)),
        Text(text=words.say(say.NEVER_USUALLY, acts=_in_words(defaults.NEVER_ALONE, words))),
        Sentence(template=say.MOVED, fields=moved),
    ]


def _metres(identity: str) -> str:
    """Write a figure that the tables have in millimetres."""
    return plain.figure(figure(identity).amount / 1000)


def _alone(shop: Workshop, words: Words) -> Field:
    """Return the blank of what nobody does alone in the building."""
    known, nothing = acts_by_word(words), words.say(say.NOTHING)

    def write(old: Workshop, text: str) -> Workshop:
        if text.strip().casefold() == nothing.casefold():
            return replace(old, never_alone=())
        parts = typed.parts_of(text)
        acts = dict.fromkeys(Act(plain.one_of(part, known, "not_an_act")) for part in parts)
        return replace(old, never_alone=tuple(acts) or None)

    never = shop.never_alone
    text = nothing if never == () else _in_words(never or (), words)
    return SHOP.field("never_alone", text, write, "never_alone", hint=words.say(say.HINT_USUAL))


def _in_words(acts: Iterable[Act], words: Words) -> str:
    return words.series(words.say(ACTS[each]) for each in acts)


# What the workshop knows better.


def own_figures(shop: Workshop, words: Words) -> list[Item]:
    """Return the figures of the trade that the workshop has its own of."""
    rows = []
    for index, each in enumerate(shop.figures):
        fields = (
            *(_figure(index, which, each, words) for which in ("value", "low", "high")),
            _note(index, each),
        )
        gone = SHOP.without("figures", index, words.say(say.DO_REMOVE))
        path = ("workshop", "figures", index)
        rows.append(Row(fields=fields, label=_called(each.figure, words), acts=(gone,), path=path))
    heads = tuple(words.say(head) for head in say.OWN_HEADS)
    title = Title(text=words.say(say.OWN_FIGURES), aside=words.say(say.OWN_ASIDE))
    grid: list[Item] = [Grid(heads=heads, rows=tuple(rows))] if rows else []
    add = SHOP.field("add figure", "", _with_figure, "figures", hint=words.say(say.OWN_HINT))
    return [title, *grid, Sentence(template=say.ADD_OWN, fields=(("figure", add),))]


def _called(identity: str, words: Words) -> str:
    """Return what a figure is, or its id where no table has it."""
    try:
        return words.brought(figure(identity).name)
    except UnknownFigure:
        return identity


def _figure(index: int, which: str, each: OwnFigure, words: Words) -> Field:
    read = plain.number if which == "value" else plain.number_or_none
    hint = "" if which == "value" else words.say(say.HINT_AS_OURS)
    text, here = plain.figure(getattr(each, which)), ("figures", index, which)
    made = SHOP.entry(f"figure {index + 1} {which}", text, here, read, hint=hint)
    return replace(made, is_figure=True)


def _note(index: int, each: OwnFigure) -> Field:
    return SHOP.entry(f"figure {index + 1} note", each.note, ("figures", index, "note"), typed.line)


def _with_figure(shop: Workshop, text: str) -> Workshop:
    """Return a workshop with its own of a figure, which begins as the table has it."""
    identity = text.strip()
    try:
        found = figure(identity)
    except UnknownFigure:
        raise NotTaken("not_a_figure", value=text) from None
    if any(each.figure == identity for each in shop.figures):
        raise NotTaken("figure_there", value=identity)
    value = next(
        each for each in (found.value, found.low, found.high, Decimal(0)) if each is not None
    )
    make = partial(OwnFigure, figure=identity, low=found.low, high=found.high)
    return put_in(shop, "figures", len(shop.figures), make, value=value)

"""Ways out in words: each lever a sentence, what a set costs, and what it comes to."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role, money
from app.words.template import Template, counted, within
from app.words.voice import capital
from shared.levers import Lever, LeverKind
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.levers.values import WayOut

LEVERS: Mapping[LeverKind, Template] = MappingProxyType(
    {
        LeverKind.OVERTIME: "{person} works {hours}, {length}",
        LeverKind.FREELANCER: "{person} comes from {first} to {last}, {days}",
        LeverKind.HIRED_HAND: "{offer} comes from {first} to {last}, {days}",
        LeverKind.TRAINING: "{offer} for {things}, to be had from {first} on",
        LeverKind.HEATING: "{offer}",
        LeverKind.FAST_CURE: "{offer} for {things}",
        LeverKind.SUBCONTRACT: "{offer}: {things}",
        LeverKind.STORE: "{offer} for {things}",
        LeverKind.SCREEN: "{offer}, so that {things} has air of its own",
        LeverKind.ROOM: "{offer}, for more room in {things}",
        LeverKind.EQUIPMENT: "{offer}",
        LeverKind.COURIER: "{offer} for {things}",
        LeverKind.PUT_OFF: "{offer} is put off to {moment}",
        LeverKind.FREE_PLACE: "{things} is cleared; “{offer}” has it from {moment} on",
        LeverKind.ANSWER_SOONER: "{who} agrees in writing to answer within {days} ({things})",
        LeverKind.ONE_ROUND: "{who} agrees in writing to one round only ({things})",
        LeverKind.OTHER_WINDOW: "{job} goes into the window {window}",
        LeverKind.RE_PROMISE: "{job} is promised anew, into the window {window}",
        LeverKind.START_AT_ONCE: "{things} need not wait for the day that is written down",
        LeverKind.LIFT_PIN: "The pin on {things} is lifted",
        LeverKind.LIFT_NAMES: "{things} may be done by anybody who can",
        LeverKind.LIFT_SAME: "{things} may be done by another team",
        LeverKind.CREW: "{goes} goes along in the place of {stays} ({step})",
        LeverKind.SAILING: "{offer} ({things})",
        LeverKind.MEANS: "{offer} ({things})",
        LeverKind.NO_RESERVE: "No reserve of drivers’ hours is kept ({things})",
    }
)
"""What each lever is, without its price."""

LINE: Template = "{what}: {price}."
LINE_AGREED: Template = "{what}: {price}. {who} must agree."
_ONCE: Template = "{amount} {currency} and {once} {currency} once"
_AMOUNT: Template = "{amount} {currency}"
_NOTHING: Template = within("price of a way out", "costs nothing")
_UNKNOWN: Template = "{amount} {currency} and the pay, of which no rate is written"
_HOURS: Template = "on {day} from {start} to {end}"
_HOURS_OVER: Template = "from {start} to {end}"
_DAYS = counted("count", "{number} working day", "{number} working days")
_NAMELESS: Template = within("what holds a place", "what is there")

LOOKING: Template = "Looking for ways out."
FIRST: Template = "Looking on. The first way out that was found: {price}."
KEPT: Template = "{job} keeps its window as the book stands; nothing has to be changed."
NO_LEVERS: Template = "Nothing is offered in the book, and nothing could be lifted or asked."
NONE_FOUND = counted(
    "count",
    "The one thing that could be changed is not enough, as far as was found.",
    "No set of the {number} things that could be changed is enough, as far as was found.",
)
STUCK = counted(
    "count",
    "Cannot, whatever we do of the list: the one thing on it is not enough.",
    "Cannot, whatever we do of the list: all {number} things on it together are not enough.",
)
WAY_PROVED: Template = "{number}. For {price}; nothing on the list is cheaper."
WAY_CHEAPEST: Template = (
    "{number}. For {price}; the cheapest that was found, and none is below {least} {currency}."
)
WAY_FOUND: Template = "{number}. For {price}; the cheapest that was found."
WAY_OTHER: Template = "{number}. For {price}."
WAY_FREE: Template = "{number}. Costs nothing."
FREE: Template = "What costs nothing brings it nearer, and is not enough:"
THEN: Template = "Then: {verdict}"
BESIDES: Template = "Besides: {verdict}"
LISTED = counted(
    "count",
    "One thing could be changed; {trials} were tried.",
    "{number} things could be changed; {trials} were tried.",
)
_TRIALS = counted("count", "{number} set", "{number} sets")
TRIED: Template = "Each was planned and checked; nothing is written. With --apply N the N-th is."
TAKEN: Template = (
    "The {number} way out is taken: {path} is saved as revision {revision}; countback undo takes "
    "that back."
)
_ORDINALS: tuple[Template, ...] = (
    within("ordinal", "first"),
    within("ordinal", "second"),
    within("ordinal", "third"),
)
NOT_WRITTEN: Template = "Nothing is written before that is mended."


FACTS = frozenset(
    {
        *("person", "things", "job", "step", "stays", "goes", "offer", "who", "hours", "length"),
        *("days", "first", "last", "moment", "window"),
    }
)
"""What the sentence of a lever may ask for."""


def lever_text(words: "Words", lever: Lever, today: date) -> str:
    """Give what a lever is, in words."""
    about = lever.about
    first = about[0] if about else ""
    facts: dict[str, object] = {
        "person": words.names.of("person", first),
        "things": words.both(words.names.any(each) for each in about),
        "job": words.names.of("job", first),
        "step": words.names.any(first),
        "stays": words.names.of("person", about[1]) if len(about) > 1 else "",
        "goes": words.names.of("person", about[-1]) if about else "",
        "offer": lever.fact("name") or words.say(_NAMELESS),
        "who": lever.agrees,
        "days": _days(words, lever),
        "first": words.day(lever.first, after=today) if lever.first else "",
        "last": words.day(lever.last, after=today) if lever.last else "",
        "moment": words.moment(lever.start, after=today) if lever.start else "",
        **_hours(words, lever, today),
    }
    return capital(words.say(LEVERS[lever.kind], **facts))


def lever_line(words: "Words", lever: Lever, today: date) -> str:
    """Give a lever with its price and who must agree."""
    what = lever_text(words, lever, today)
    is_said = lever.kind in _SAY_WHO
    template = LINE_AGREED if lever.agrees and not is_said else LINE
    price = _price(words, lever)
    return words.say(template, what=what, price=price, who=capital(lever.agrees))


def _hours(words: "Words", lever: Lever, today: date) -> dict[str, object]:
    if lever.start is None or lever.end is None:
        return {"hours": "", "length": "", "window": ""}
    start, end = lever.start, lever.end
    days = [local_date(each, words.zone) for each in (start, end)]
    if days[0] == days[1]:
        day = words.day(days[0], after=today)
        hours = words.say(_HOURS, day=day, start=words.clock(start), end=words.clock(end))
    else:
        said = [words.moment(each, after=today) for each in (start, end)]
        hours = words.say(_HOURS_OVER, start=said[0], end=said[1])
    minutes = round((end - start).total_seconds()) // 60
    return {
        "hours": hours,
        "length": amounts.hours(words, minutes, Role.SPAN),
        "window": words.span(start, end, after=today),
    }


def _days(words: "Words", lever: Lever) -> str:
    count = lever.days if lever.days is not None else lever.fact("days")
    if not isinstance(count, int):
        return ""
    return words.say(_DAYS, count=count, number=words.number(count))


def _price(words: "Words", lever: Lever) -> str:
    amount = money(words, lever.price)
    if not lever.is_priced:
        return words.say(_UNKNOWN, amount=amount, currency=words.currency)
    if lever.once:
        once = money(words, lever.once)
        return words.say(_ONCE, amount=amount, once=once, currency=words.currency)
    return price_text(words, lever.price)


def price_text(words: "Words", price: Decimal) -> str:
    """Give a price, or that it costs nothing."""
    if not price:
        return words.say(_NOTHING)
    return words.say(_AMOUNT, amount=money(words, price), currency=words.currency)


def way_line(words: "Words", way: "WayOut", number: int, least: Decimal) -> str:
    """Give the head of a way out. number: from 1. least: that no way costs less than."""
    price = price_text(words, way.price)
    facts = {"number": number, "price": price, "currency": words.currency}
    if not way.price:
        return words.say(WAY_FREE, **facts)
    if number > 1:
        return words.say(WAY_OTHER, **facts)
    if way.proved_cheapest:
        return words.say(WAY_PROVED, **facts)
    if least:
        return words.say(WAY_CHEAPEST, least=money(words, least), **facts)
    return words.say(WAY_FOUND, **facts)


def listed_line(words: "Words", levers: int, trials: int) -> str:
    """Give how many levers there are and how many sets of them were tried."""
    tried = words.say(_TRIALS, count=trials, number=words.number(trials))
    return words.say(LISTED, count=levers, number=words.number(levers), trials=tried)


def ordinal(words: "Words", number: int) -> str:
    """Give the number of a way out as a word."""
    return words.say(_ORDINALS[number - 1])


_SAY_WHO = frozenset(
    {
        *(LeverKind.OVERTIME, LeverKind.FREELANCER, LeverKind.CREW),
        *(LeverKind.ANSWER_SOONER, LeverKind.ONE_ROUND, LeverKind.FREE_PLACE),
    }
)
"""Levers whose sentence says already who must agree; hours are only offered, never ordered."""

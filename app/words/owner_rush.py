"""What an enquiry costs and the least price, for the owner's eyes only.

None of this is ever part of a text for a client, of a headline or of an export.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from app.words.amounts import money
from app.words.template import Template

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.price import Pricing

Json = dict[str, object]

TITLE: Template = "For the owner’s eyes:"
COSTS: Template = (
    "Taking it costs {total} {currency}: material {materials}, freight and what else the plan pays "
    "for {besides}, ways out {levers}, later jobs of others {lateness}."
)
NOTHING: Template = "Taking it costs nothing that is known."
OWN_LATENESS: Template = "Its own lateness is expected to cost {missed} {currency}."
LEAST: Template = (
    "The least price that leaves you no worse off is {least} {currency}; a margin comes on top. "
    "Hours that are paid anyway count as nothing."
)
LEAST_IF_ON_TIME: Template = "Paid only if it is on time: {least} {currency}."
OF_WINDOW: Template = "{line} Least price {least} {currency}."


def pricing_lines(words: "Words", found: "Pricing") -> Iterator[str]:
    """Give what it costs and the least price."""
    costs, currency = found.costs, words.currency
    if costs.total:
        yield words.say(
            COSTS,
            total=money(words, costs.total),
            materials=money(words, costs.materials),
            besides=money(words, costs.besides),
            levers=money(words, costs.levers),
            lateness=money(words, costs.lateness),
            currency=currency,
        )
    else:
        yield words.say(NOTHING)
    if found.missed:
        yield words.say(OWN_LATENESS, missed=money(words, found.missed), currency=currency)
    yield words.say(LEAST, least=money(words, found.least), currency=currency)
    if found.least_if_on_time is not None and found.missed:
        least = money(words, found.least_if_on_time)
        yield words.say(LEAST_IF_ON_TIME, least=least, currency=currency)


def with_least(words: "Words", line: str, found: "Pricing") -> str:
    """Give a line about a window with its least price behind it."""
    least = money(words, found.least)
    return words.say(OF_WINDOW, line=line, least=least, currency=words.currency)


def least_object(found: "Pricing | None") -> Json:
    """Give the least price, as the one field of the answer that holds it."""
    return {"least_price": None if found is None else float(found.least)}


def costs_object(found: "Pricing") -> Json:
    """Give what it costs, for programs."""
    costs, on_time = found.costs, found.least_if_on_time
    return {
        "materials": float(costs.materials),
        "besides": float(costs.besides),
        "levers": float(costs.levers),
        "lateness": float(costs.lateness),
        "own_lateness": float(found.missed),
        **least_object(found),
        "least_price_if_on_time": None if on_time is None else float(on_time),
    }

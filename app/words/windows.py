"""Windows on offer beside the one that is held: when, for how much, and whether they could be kept.

On offer is not promised: each sentence says what is known of it and nothing more.
"""

from collections.abc import Callable, Sequence
from decimal import ROUND_UP, Decimal

from app.words.template import Template, within
from app.words.voice import Voice
from scheduler.outcome import InReach, JobOutcome, OtherWindow, Verdict

_NEXT: dict[InReach, Template] = {
    InReach.AS_PLANNED: "The next window on offer is {window}, {price}; as planned it is loaded in "
    "time for that.",
    InReach.ALONE: "The next window on offer is {window}, {price}; whether the other jobs leave "
    "room for that is not tried.",
}
_LISTED: dict[InReach, Template] = {
    InReach.AS_PLANNED: "On offer besides: {window}, {price}; as planned it is loaded in time for "
    "that.",
    InReach.ALONE: "On offer besides: {window}, {price}; alone in the workshop it could be loaded "
    "in time for that.",
    InReach.NEVER: "On offer besides: {window}, {price}; it can’t be loaded in time for that.",
}
_NONE: Template = "No other window is on offer."
_FREE: Template = within("price of a window", "at no extra cost")
_MORE: Template = within("price of a window", "for {amount} {currency} more")
_LESS: Template = within("price of a window", "for {amount} {currency} less")

When = Callable[[OtherWindow], str]
"""Gives a window as it is written."""


def price(voice: Voice, amount: Decimal, currency: str) -> str:
    """Give what a window costs more than others, in whole units, rounded up."""
    whole = int(abs(amount).to_integral_value(ROUND_UP))
    if not whole:
        return voice.say(_FREE)
    template = _MORE if amount > 0 else _LESS
    return voice.say(template, amount=voice.number(whole), currency=currency)


def next_line(voice: Voice, outcome: JobOutcome, currency: str, when: When) -> str:
    """Give the next window on offer of a job that does not keep its own, or nothing."""
    found = next((each for each in outcome.windows if each.id == outcome.next_window), None)
    if found is None or found.in_reach not in _NEXT:
        return ""
    return _line(voice, _NEXT[found.in_reach], found, currency, when)


def lines(voice: Voice, outcome: JobOutcome, currency: str, when: When) -> Sequence[str]:
    """Give every other window on offer of a job that does not keep its own, or that none is."""
    if outcome.verdict in (Verdict.FITS, Verdict.TIGHT):
        return ()
    if not outcome.windows:
        return (voice.say(_NONE),)
    return tuple(
        _line(voice, _LISTED[each.in_reach], each, currency, when) for each in outcome.windows
    )


def _line(voice: Voice, template: Template, told: OtherWindow, currency: str, when: When) -> str:
    return voice.say(template, window=when(told), price=price(voice, told.price, currency))

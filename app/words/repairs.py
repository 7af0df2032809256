"""Repairs, changes after the yes, and answers in words: what comes in and what it comes to."""

from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role
from app.words.template import Template, within

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime
    from decimal import Decimal

    from app.words import Words
    from shared.book import Fact, Gate
    from shared.edits import Label
    from shared.plan import Placement

# What was asked.
AGAIN: dict[str, Template] = {
    "dropped": "{segment} was dropped: again from {name} on.",
    "soft": "The resin on {segment} stayed soft: again from {name} on.",
    "run": "The lacquer on {segment} has run: again from {name} on.",
    "sanded_through": "{segment} was sanded through: again from {name} on.",
    "broken": "{segment} was broken: again from {name} on.",
}
CHANGE: Template = "{name} changes after the yes, {percent} % of it: {what}."

# What comes in.
STAGE: Template = "{step}: {hours}, {span}."
STAGE_LEFT_OUT: Template = "{step}: {hours}, and it finds no place."
ANSWER: Template = "{step}: pictures out and the answer, {span}."
ANSWER_LEFT_OUT: Template = "{step}: an answer that finds no place."
TOTAL: Template = "In all {hours} of work, over by {moment}."
TOTAL_LEFT_OUT: Template = "In all {hours} of work, and not all of it finds a place."
COSTS: Template = "It costs {amount} {currency}."
COSTS_BESIDES: Template = (
    "It costs {amount} {currency} without the hours of {people}: no rate is written for them."
)
NO_RATES: Template = "What it costs is not known: no rate is written for {people}."
NO_COST: Template = "It costs nothing that is known."

# What it comes to.
BEFORE: Template = "Before: {verdict}"
AFTER: Template = "After: {verdict}"
NOW: Template = "Now: {verdict}"
OTHER: Template = "Besides: {verdict}"
NOT_PLANNED_HERE: Template = "{job} is not planned."
TRIED: Template = "This was tried; nothing is written. With --take it is."
TAKEN: Template = "{path} is saved as revision {revision}; countback undo takes that back."
NOT_WRITTEN: Template = "Nothing is written before that is mended."

# Answers.
YES: Template = "{who} told on {moment}: yes to {gate}. What waits for it may go on."
CHANGES: Template = (
    "{who} told on {moment}: yes to {gate}, with changes. "
    "They are {hours} of work, {span}, before anything behind it."
)
CHANGES_LEFT_OUT: Template = (
    "{who} told on {moment}: yes to {gate}, with changes. They find no place."
)
CHANGES_OVER: Template = (
    "{who} told on {moment}: yes to {gate}, with changes. "
    "Something behind it has begun, so that they count as done."
)
CHANGES_UNWRITTEN: Template = (
    "{who} told on {moment}: yes to {gate}, with changes. No work is written for them: "
    "countback change brings in what they need."
)
NO: Template = "{who} told on {moment}: no to {gate}. Round {round} comes after {hours} of rework."
NO_UNWRITTEN: Template = (
    "{who} told on {moment}: no to {gate}. Round {round} comes; no rework is written."
)
SHOWN: Template = "It was about {pictures}."
PICTURE: Template = within("picture", "“{name}”")


def head_line(words: "Words", label: "Label") -> str:
    """Give what was asked, by the label of the edit."""
    facts = dict(label.facts)
    return words.say(AGAIN.get(str(facts.get("cause")), CHANGE), **facts)


def stage_line(words: "Words", name: str, minutes: int, placed: "Placement | None") -> str:
    """Give a stage that comes in: its person-hours, and when it is planned."""
    hours = amounts.hours(words, minutes, Role.SPAN)
    if placed is None:
        return words.say(STAGE_LEFT_OUT, step=name, hours=hours)
    span = words.span(placed.start, placed.end, after=placed.start.date())
    return words.say(STAGE, step=name, hours=hours, span=span)


def answer_line(words: "Words", name: str, placed: "Placement | None") -> str:
    """Give an answer that comes in."""
    if placed is None:
        return words.say(ANSWER_LEFT_OUT, step=name)
    span = words.span(placed.start, placed.end, after=placed.start.date())
    return words.say(ANSWER, step=name, span=span)


def total_line(words: "Words", minutes: int, over: "datetime | None") -> str:
    """Give the person-hours of all that comes in and when it is over, if all is placed."""
    hours = amounts.hours(words, minutes, Role.SPAN)
    if over is None:
        return words.say(TOTAL_LEFT_OUT, hours=hours)
    return words.say(TOTAL, hours=hours, moment=words.moment(over, after=over.date()))


def cost_line(words: "Words", cost: "Decimal", without: "Iterable[str]") -> str:
    """Give what it costs; without: the people of whom no rate is known."""
    names = words.both(without)
    amount = words.number(-(-int(cost * 100) // 100))
    templates = (COSTS_BESIDES, NO_RATES) if names else (COSTS, NO_COST)
    template = templates[0] if cost else templates[1]
    return words.say(template, amount=amount, currency=words.currency, people=names)


def meaning(
    words: "Words",
    gate: "Gate",
    told: "Fact",
    number: int,
    placed: "Placement | None",
    *,
    is_over: bool,
) -> str:
    """Give what an answer means.

    number: its round. placed: the changes in the plan. is_over: they count as done.
    """
    facts = {
        "who": told.told_by,
        "moment": words.moment(told.at, after=None),
        "gate": words.names.of("step", gate.id),
        "round": number + 1,
        "hours": "",
        "span": "",
    }
    template = _template(gate, told, placed, is_over=is_over)
    work = gate.changes if told.answer == "changes" else gate.rework
    if work is not None and work.ways:
        used = next((way for way in work.ways if placed and way.id == placed.way), work.ways[0])
        minutes = int(used.hours.likely * 60)
        facts["hours"] = amounts.hours(words, minutes, Role.SPAN)
    if placed is not None:
        facts["span"] = words.span(placed.start, placed.end, after=placed.start.date())
    said = words.say(template, **facts)
    if not told.shown:
        return said
    pictures = words.both(words.say(PICTURE, name=name) for name in told.shown)
    return f"{said} {words.say(SHOWN, pictures=pictures)}"


def _template(gate: "Gate", told: "Fact", placed: "Placement | None", *, is_over: bool) -> Template:
    if told.answer == "yes":
        return YES
    if told.answer == "no":
        return NO if gate.rework is not None and gate.rework.ways else NO_UNWRITTEN
    if gate.changes is None or not gate.changes.ways:
        return CHANGES_UNWRITTEN
    if placed is not None:
        return CHANGES
    return CHANGES_OVER if is_over else CHANGES_LEFT_OUT

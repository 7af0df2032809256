"""What was told of the floor, said back: done, so much left, held up, material came."""

from typing import TYPE_CHECKING

from app.words.changes import work_of
from app.words.template import Template, counted
from app.words.voice import capital
from shared.book import Held

if TYPE_CHECKING:
    from datetime import datetime
    from decimal import Decimal

    from app.words.words import Words
    from shared.ids import JobId, StepId

DONE: Template = "{work} is done: {moment}, {who} says."
LEFT: Template = counted(
    "count",
    "{work}: {number} person-hour is still to do from {moment} on, {who} says.",
    "{work}: {number} person-hours are still to do from {moment} on, {who} says.",
)
HELD_UP: Template = "It was held up: {why}."
HELD: Template = (
    "{work} had not begun {moment}, {who} says: {why}. What the sheet has for it before is void."
)
CAME: Template = "All that {work} takes was there {moment}, {who} says."
DELIVERED: Template = "{material} has come: {moment}, {who} says."
TICKED: Template = counted(
    "count",
    "One piece of work of {day} is done as told, {who} says.",
    "{number} pieces of work of {day} are done as told, {who} says.",
)
NOTHING_TICKED: Template = (
    "Nothing of {day} is to be ticked: what the sheet has is marked already, or can't be taken for "
    "done."
)
NOT_TICKED: Template = (
    "{work} is not ticked: what it comes after is not over, somebody was away, or it was held up. "
    "Say how it is with countback done, late or held."
)
NEVER: Template = "Answers, cures, loadings and journeys are never ticked."
NOT_TOLD: Template = "Nothing is written down before that is mended."

WHY: dict[Held, Template] = {
    Held.MATERIAL: "the material was not there",
    Held.TOOL: "a tool or a machine was missing",
    Held.PLACE: "there was no room for it",
    Held.WEATHER: "it was too cold, too warm or too damp",
    Held.DRAWING: "a drawing or a figure was missing",
    Held.CLIENT: "the client had to say something first",
    Held.WORK_BEFORE: "the work before it was not fit to go on from",
    Held.PERSON: "somebody was not there",
}


def done_line(words: "Words", job: "JobId", step: "StepId", at: "datetime", who: str) -> str:
    """Give that a step is done, when, and who says so."""
    return _line(words, DONE, job, step, at, who)


def left_lines(
    words: "Words",
    job: "JobId",
    step: "StepId",
    hours: "Decimal",
    now: "datetime",
    who: str,
    held_by: Held | None = None,
) -> list[str]:
    """Give how much is left of a step, and by what it was held up."""
    count = 1 if hours == 1 else 2
    lines = [_line(words, LEFT, job, step, now, who, number=plain(hours), count=count)]
    if held_by is not None:
        lines.append(words.say(HELD_UP, why=words.say(WHY[held_by])))
    return lines


def held_line(
    words: "Words", job: "JobId", step: "StepId", at: "datetime", who: str, why: Held
) -> str:
    """Give that a step had not begun, and why."""
    return _line(words, HELD, job, step, at, who, why=words.say(WHY[why]))


def came_line(words: "Words", job: "JobId", step: "StepId", at: "datetime", who: str) -> str:
    """Give that all that a step takes was there."""
    return _line(words, CAME, job, step, at, who)


def plain(hours: "Decimal") -> str:
    """Give hours without noughts at their end."""
    text = f"{hours:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _line(
    words: "Words",
    template: Template,
    job: "JobId",
    step: "StepId",
    at: "datetime",
    who: str,
    **facts: object,
) -> str:
    told = {
        "work": work_of(words, job, step),
        "moment": words.moment(at, after=None),
        "who": who,
        **facts,
    }
    return capital(words.say(template, **told))

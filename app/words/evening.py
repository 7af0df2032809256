"""What is said where the floor is recorded in the window: what is asked, and what was ticked."""

from typing import TYPE_CHECKING

from app.words import floor
from app.words.changes import work_of
from app.words.template import Template, counted, within
from app.words.voice import capital

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from app.words.words import Words
    from shared.ids import JobId, StepId

TITLE: Template = "What went otherwise?"
CHOOSE: Template = (
    "Choose a piece of work and say how it went. T ticks all that is over and not marked, as told."
)
HOW: Template = "How it went: {how}"
HOW_LABEL: Template = "how it went"
HOW_HINT: Template = "14:30, or 6 h, or 6 h tool"
HOW_MEANS: Template = (
    "A time: it was over then. Hours: so many person-hours are left, and why. A reason alone: it "
    "has not begun."
)
SAYS: Template = "{who} says so."
SAYS_LABEL: Template = "who says so"
DO_OTHERWISE: Template = "it went otherwise"
DO_AS_TOLD: Template = "the day went as told"
DO_REST_AS_TOLD: Template = "all the rest went as told"
DO_CAME: Template = "all that it takes has come"
DO_SHEET: Template = "the sheet of the morning"
IS_DONE: Template = "It is done as the sheet has it"
HELD_BY: Template = "It has not begun: {why}"
ANSWERS: dict[str, Template] = {
    "yes": "{gate}, {job}: the answer is yes",
    "changes": "{gate}, {job}: yes, with changes",
    "no": "{gate}, {job}: the answer is no",
}
ANSWERED: Template = "{who} puts down: {answer}."
NOT_NOW: dict[str, Template] = {
    "nothing_told": "Nobody has been told a plan yet: S shows the sheet, Y tells it.",
    "done_already": "{step} is marked done {moment}, as {who} told. Ctrl Z takes back what was "
    "told last.",
    "done_by_nobody": "{step} is marked done {moment}. Ctrl Z takes back what was told last.",
    "done_before_begun": "{step} was told as begun {moment}, so it was not over before.",
    "begun_already": "{step} was told as begun {moment}. Say how many hours are left, and why: "
    "6 h tool.",
    "not_yet": "{moment} is yet to come: it is {now}.",
}
TICKED_BUT: Template = counted(
    "count",
    "One piece of work of {day} is done as told, {who} says; not ticked: {left}.",
    "{number} pieces of work of {day} are done as told, {who} says; not ticked: {left}.",
)
NOTHING_BUT: Template = "Nothing of {day} is ticked: {left}."
NOT_TICKED: Template = within("work that is not ticked", "{work} ({why})")
WHY_NOT: dict[str, Template] = {
    "held": within("why it is not ticked", "it was held up"),
    "hours": within("why it is not ticked", "hours of it are left"),
    "away": within("why it is not ticked", "somebody was away"),
    "before": within("why it is not ticked", "what it comes after is not over"),
}
NEXT_ASK: Template = "Ask {people}: is {work} done, {moment}, as told?"


def ticked_line(
    words: "Words",
    day: "date",
    count: int,
    left: "Iterable[tuple[JobId, StepId, str]]",
    who: str,
) -> str:
    """Give what of a day was ticked, and what was not and why, in one sentence.

    left: job, step and one of WHY_NOT.
    """
    facts = {"day": words.day(day, after=None), "number": words.number(count), "who": who}
    items = [
        words.say(NOT_TICKED, work=work_of(words, job, step), why=words.say(WHY_NOT[why]))
        for job, step, why in left
    ]
    if not items:
        return capital(
            words.say(floor.TICKED if count else floor.NOTHING_TICKED, count=count, **facts)
        )
    template = TICKED_BUT if count else NOTHING_BUT
    return capital(words.say(template, count=count, left=words.series(items), **facts))

"""What a plan has otherwise than people were told, person by person; and what is to be said."""

from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from scheduler.asks import Ask
from scheduler.told_changes import Line, Otherwise

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import date, datetime

    from app.words import Words
    from scheduler.asks import Asked
    from scheduler.told_changes import Change, Changes, PersonLine, Stint
    from shared.book import Told

AHEAD_DAYS = 14
ASKS_MAX = 12

TITLE: Template = "Changed since the sheet of {moment}, number {number}"
NOTHING: Template = "Nothing has changed since the sheet of {moment}, number {number}."
OFF: Template = "{person} no longer does {work}, {span}; {others} will."
OFF_FEWER: Template = "{person} no longer does {work}, {span}."
OFF_SHEET: Template = "{person}: {work}, {span}, is off the sheet."
ON: Template = "{person} does {work}, {span}, instead of {others}."
ON_MORE: Template = "{person} does {work}, {span}, as well."
MOVED: Template = "{person}: {work} moves from {was} to {now}."
PLACE: Template = "{person}: {work}, {span}, is now done in {place}."
LENGTH: Template = "{person}: {work} now takes until {now}, not until {was}."
MORE: Template = counted(
    "count",
    "One more change lies further ahead than two weeks.",
    "{number} more changes lie further ahead than two weeks.",
)
SPAN: Template = within("stretch of time", "{start} to {end}")
SOMEBODY: Template = within("who tells it", "somebody")
OF_JOB: Template = "{step} for {job}"
OF_PART: dict[str, Template] = {
    "abrade": "the abrading before {step} for {job}",
    "rework": "the rework after {step} for {job}",
    "changes": "the changes after {step} for {job}",
}
_NOWHERE: Template = within("place", "no place of its own")

TOLD: Template = "From {moment} on this is what people are told: sheet number {number}."
TOLD_BY: Template = "From {moment} on this is what people are told by {who}: sheet number {number}."
FIRST_SHEET: Template = "It is the first sheet, so nothing was told before that changes."
KEPT: Template = "{path} is saved as revision {revision}; countback undo takes that back."
NOT_TOLD: Template = "Nothing is told before that is mended."
BROKEN: Template = counted(
    "count",
    "Nobody is told this plan: it breaks {count} rule.",
    "Nobody is told this plan: it breaks rules {count} times.",
)

ASKS_TITLE: Template = "Still to be said"
ASKS: dict[Ask, Template] = {
    Ask.DONE: "{work}: done {moment}, as told? Nobody has said so; its hours count as done.",
    Ask.UNDER_WAY: "{work}: begun {moment}, as told? Nobody has said so; it counts as under way.",
    Ask.ANSWER: "{work}: the answer is overdue. It is assumed for {moment}; silence is no yes.",
    Ask.INTERRUPTED: "{work} is done in one go and was interrupted; it began {moment}. Does it go "
    "on, is it done again, or is it done?",
}
CURES: Template = (
    "{work}: done {moment}, as told? Nobody has said so; its hours count as done, but it cures "
    "from now on only."
)
ASKS_BY_NAME: Template = counted(
    "count",
    "Ask {people}: is {work} done, {moment}, as told? Nobody has said so for two working days; "
    "its hours count as done.",
    "Ask {people}: is {work} done, {moment}, as told? None of them has said so for two working "
    "days; its hours count as done.",
)
CURES_BY_NAME: Template = counted(
    "count",
    "Ask {people}: is {work} done, {moment}, as told? Nobody has said so for two working days; "
    "its hours count as done, but it cures from now on only.",
    "Ask {people}: is {work} done, {moment}, as told? None of them has said so for two working "
    "days; its hours count as done, but it cures from now on only.",
)
ASKS_MORE: Template = counted(
    "count", "One more thing is to be said.", "{number} more things are to be said."
)


def title(words: "Words", told: "Told", changes: "Changes") -> str:
    """Give the title over the changes, or that there are none."""
    template = TITLE if changes.each else NOTHING
    moment = words.moment(told.at, after=None)
    return words.say(template, moment=moment, number=told.sheet_number)


def told_line(words: "Words", told: "Told") -> str:
    """Give from when on a sheet is what people are told."""
    facts = {"moment": words.moment(told.at, after=None), "number": told.sheet_number}
    if told.told_by:
        return words.say(TOLD_BY, who=told.told_by, **facts)
    return words.say(TOLD, **facts)


def change_lines(words: "Words", changes: "Changes", today: "date") -> list[str]:
    """Give a line for each person of each change of the next two weeks, person by person."""
    lines = changes.lines()
    near = [line for line in lines if _days_ahead(words, line.change, today) <= AHEAD_DAYS]
    found = [person_line(words, line, today) for line in near]
    far = len({id(line.change) for line in lines} - {id(line.change) for line in near})
    if far:
        found.append(words.say(MORE, count=far, number=words.number(far)))
    return found


def _days_ahead(words: "Words", change: "Change", today: "date") -> int:
    from shared.worktime.zones import local_date

    starts = [change.told.start] + ([change.now.start] if change.now else [])
    return min((local_date(start, words.zone) - today).days for start in starts)


def person_line(words: "Words", line: "PersonLine", today: "date") -> str:
    """Give one change as one person hears it."""
    change = line.change
    facts = {
        "person": words.names.of("person", line.person),
        "work": work_of(words, change.job, change.step, change.part),
        "others": words.both(words.names.of("person", one) for one in line.others),
        "span": _span(words, change.told if line.line is Line.OFF else _made(change), today),
        "was": words.moment(change.told.start, after=today),
        "now": words.moment(_made(change).start, after=today),
    }
    if line.line is Line.ON:
        return words.say(ON if line.others else ON_MORE, **facts)
    if change.now is None:
        return words.say(OFF_SHEET, **facts)
    if line.line is Line.OFF:
        return words.say(OFF if line.others else OFF_FEWER, **facts)
    return _moved(words, change, facts, today)


def _moved(words: "Words", change: "Change", facts: dict[str, str], today: "date") -> str:
    made = _made(change)
    if change.kinds == (Otherwise.LENGTH,):
        facts["was"] = words.moment(change.told.end, after=today)
        facts["now"] = words.moment(made.end, after=today)
        return words.say(LENGTH, **facts)
    if Otherwise.DAY in change.kinds or Otherwise.TIME in change.kinds:
        return words.say(MOVED, **facts)
    place = words.say(_NOWHERE) if made.place is None else words.names.of("place", made.place)
    return words.say(PLACE, place=place, **facts)


def _made(change: "Change") -> "Stint":
    return change.now or change.told


def _span(words: "Words", stint: "Stint", today: "date") -> str:
    return span_of(words, stint.start, stint.end, today)


def span_of(words: "Words", start: "datetime", end: "datetime", today: "date") -> str:
    """Give a stretch of time, the day once where it is one."""
    from shared.worktime.zones import local_date

    if local_date(start, words.zone) != local_date(end, words.zone):
        return words.span(start, end, after=today)
    return words.say(SPAN, start=words.moment(start, after=today), end=words.clock(end))


def work_of(words: "Words", job: str, step: str, part: str = "") -> str:
    """Give a piece of work by its step and its job."""
    names = {"step": words.names.of("step", step), "job": words.names.of("job", job)}
    return words.say(OF_PART.get(part, OF_JOB), **names)


def ask_lines(words: "Words", found: "Iterable[Asked]", today: "date") -> list[str]:
    """Give what is to be said, a dozen of it at most."""
    every: Sequence[Asked] = tuple(found)
    lines = [ask_line(words, each, today) for each in every[:ASKS_MAX]]
    if len(every) > ASKS_MAX:
        more = len(every) - ASKS_MAX
        lines.append(words.say(ASKS_MORE, count=more, number=words.number(more)))
    return lines


def ask_line(words: "Words", found: "Asked", today: "date") -> str:
    """Give one question."""
    from app.words.voice import capital

    template = CURES if found.cures else ASKS[found.ask]
    if found.by_name and found.people:
        template = CURES_BY_NAME if found.cures else ASKS_BY_NAME
    facts = {
        "work": work_of(words, found.job, found.step),
        "moment": words.moment(found.at, after=today),
        "people": words.both(words.names.of("person", one) for one in found.people),
    }
    return capital(words.say(template, count=len(found.people), **facts))

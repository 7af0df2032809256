"""The plan of a morning in words: who does what today, what is in danger, who might come in."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import TYPE_CHECKING

from app.words.changes import span_of, work_of
from app.words.floor import plain
from app.words.template import Template, counted
from app.words.voice import capital
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from app.words.words import Words
    from scheduler.morning import Coming, Extra, Morning
    from shared.plan import Placement

NOT_PLANNED: Template = "Nothing is planned before that is mended."
NO_WORK: Template = "Nothing is to be done: there is no job with work left."
ALL_SURE: Template = "Every window is more likely kept than lost."
DANGER = counted(
    "count",
    "One window is more likely lost than kept: {jobs}.",
    "{number} windows are more likely lost than kept: {jobs}.",
)
IN_TIME = counted("chance", "{job}: in time once in 100.", "{job}: in time {chance} times in 100.")
KEPT_AS_TOLD: Template = "Today and tomorrow stay as told, as far as they can."
TOLD_ANEW: Template = (
    "Today or tomorrow is not all as told: with that, windows would be less sure. What is told "
    "otherwise stands below; countback tell makes it the sheet."
)
SHEETS: Template = "Who does what, {first} and the next day of work"
LINE: Template = "{work}, {span}"
LINE_IN: Template = "{work}, {span}, in {place}"
WORTH: Template = (
    "It is worth asking {people} to come on {day}: on the average that saves {gain} in 100 of a "
    "buffer, all jobs together. Nobody has been asked, and nothing is planned with it."
)
WORTH_IN_ORDER: Template = (
    "It is worth asking {people}, who has fewest extra hours first, to come on {day}: on the "
    "average that saves {gain} in 100 of a buffer, all jobs together. Nobody has been asked, and "
    "nothing is planned with it."
)
EXTRA_TITLE: Template = "Extra hours of the last eight weeks, fewest first"
EXTRA: Template = "{person}: {hours} h."
EXTRA_AHEAD: Template = "{person}: {hours} h, and {ahead} h are agreed from now on."
EXTRA_DAYS: Template = counted(
    "count",
    "{person}: {hours} h, one free day given up.",
    "{person}: {hours} h, {count} free days given up.",
)
EXTRA_DAYS_AHEAD: Template = counted(
    "count",
    "{person}: {hours} h, one free day given up, and {ahead} h are agreed from now on.",
    "{person}: {hours} h, {count} free days given up, and {ahead} h are agreed from now on.",
)
EXTRA_NOTE: Template = "Extra hours are offered by people and never ordered."
KEPT: Template = "The plan is kept in {path}."


def head_lines(words: "Words", morning: "Morning") -> list[str]:
    """Give how sure today's plan is, and whether what was told stays."""
    if not morning.normal.jobs:
        return [words.say(NO_WORK)]
    low = [name.job for name in morning.normal.jobs if name.job.id in morning.in_danger]
    lines = [words.say(ALL_SURE)]
    if low:
        jobs = words.both(words.names.of("job", job.id) for job in low)
        lines = [words.say(DANGER, count=len(low), number=words.number(len(low)), jobs=jobs)]
        lines = [capital(lines[0])]
    if morning.is_told_anew:
        lines.append(words.say(TOLD_ANEW))
    elif morning.normal.held:
        lines.append(words.say(KEPT_AS_TOLD))
    return lines


def chance_lines(words: "Words", morning: "Morning") -> list[str]:
    """Give how often each job is in time, the least sure first."""
    ranked = sorted(morning.chances.items(), key=lambda each: (each[1], each[0]))
    return [
        words.say(IN_TIME, chance=chance, job=words.names.of("job", job)) for job, chance in ranked
    ]


def sheets_title(words: "Words", today: date) -> str:
    """Give the title over who does what."""
    return words.say(SHEETS, first=words.day(today, after=None))


def person_lines(
    words: "Words", placements: Iterable["Placement"], today: date
) -> list[tuple[str, list[str]]]:
    """Give what is on each person's sheet, by name; each line is one piece of work."""
    by_person: dict[str, list[Placement]] = {}
    for placed in placements:
        for person in placed.people:
            by_person.setdefault(words.names.of("person", person), []).append(placed)
    return [
        (name, [_line(words, placed, today) for placed in sorted(own, key=_by_start)])
        for name, own in sorted(by_person.items())
    ]


def _by_start(placed: "Placement") -> tuple[datetime, str]:
    return placed.start, placed.step


def _line(words: "Words", placed: "Placement", today: date) -> str:
    facts = {
        "work": capital(work_of(words, placed.job, placed.step, placed.part)),
        "span": span_of(words, placed.start, placed.end, today),
    }
    if placed.place is None:
        return words.say(LINE, **facts)
    return words.say(LINE_IN, place=words.names.of("place", placed.place), **facts)


def worth_line(words: "Words", coming: "Coming") -> str:
    """Give whom to ask to come when, and what that is worth."""
    people = words.both(words.names.of("person", person) for person in coming.people)
    day = words.day(local_date(coming.start, words.zone), after=None)
    template = WORTH_IN_ORDER if len(coming.people) > 1 else WORTH
    return words.say(template, people=people, day=day, gain=coming.gain)


def extra_lines(words: "Words", found: "Iterable[Extra]") -> list[str]:
    """Give what extra hours each has worked, in the order in which they come."""
    return [_extra_line(words, each) for each in found]


def _extra_line(words: "Words", found: "Extra") -> str:
    facts = {
        "person": words.names.of("person", found.person),
        "hours": plain(found.hours),
        "ahead": plain(found.ahead),
    }
    if not found.free_days:
        return words.say(EXTRA_AHEAD if found.ahead else EXTRA, **facts)
    template = EXTRA_DAYS_AHEAD if found.ahead else EXTRA_DAYS
    return words.say(template, count=found.free_days, **facts)

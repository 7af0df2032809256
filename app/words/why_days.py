"""What the days of a job are spent on, and what is to spare in them, in words."""

from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role
from app.words.template import Template, counted, within
from app.words.voice import capital
from scheduler.why.day_classes import Class

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.why.stage_slack import StageSlack
    from scheduler.why.values import Why
    from scheduler.why.worth import Worth

SHARES: Template = "Its days, {total} from now:"
CLASSES: dict[Class, Template] = {
    Class.WORK: within("days", "work"),
    Class.CURE: within("days", "curing"),
    Class.CLIENT: within("days", "waiting for an answer"),
    Class.PEOPLE: within("days", "waiting for people"),
    Class.PLACE: within("days", "waiting for a place"),
    Class.NIGHTS: within("days", "nights, weekends and breaks"),
    Class.SHIFT_END: within("days", "ends of shifts too short for work in one go"),
    Class.RECOAT: within("days", "put off so that the next coat can follow in time"),
    Class.WEATHER: within("days", "too cold, too warm or too damp"),
    Class.OUTSIDE: within("days", "waiting for a day that is written"),
    Class.JOURNEY: within("days", "journey and site"),
    Class.SLACK: within("days", "to spare"),
}
WAITING_TO_LEAVE: Template = within("days", "loaded and waiting to leave")
SHARE: Template = "{amount}  {what}"
SHARE_WORTH: Template = "{amount}  {what}; without it {sooner} sooner"
SHARE_NO_WORTH: Template = "{amount}  {what}; without it no sooner"

SPARE: Template = (
    "Its work has {spare} to spare along everyone's order; the buffer before the latest end of "
    "loading is {buffer}."
)
SPARE_NOTHING: Template = (
    "Its work has nothing to spare along everyone's order; the buffer before the latest end of "
    "loading is {buffer}."
)
PROPOSED: Template = (
    "By the ranges of its hours the buffer proposed is {proposed}; the one wished for is {wished}."
)
NONE_TO_SPARE = counted(
    "count",
    "{step} can't slip at all; what holds it is {holder}, which can't be later.",
    "{step} and {number} more steps can't slip at all; what holds {step} is {holder}, which can't "
    "be later.",
)
NONE_TO_SPARE_ALONE: Template = "{step} can't slip at all."
SPARE_MISSED: Template = "Its work has {spare} to spare along everyone's order."
SHARED = counted(
    "count",
    "{step} has {spare}, and shares it with one more step: {others}.",
    "{step} has {spare}, and shares it with {number} more steps: {others}.",
)
OWN: Template = "{step} has {spare} of its own."
AND_MORE = counted("count", "one more", "{number} more", "steps")
OF_JOB: Template = within("step", "{step} for {job}")
_DAY_MINUTES = 24 * 60
_NAMED = 3
_TOLD = 4


def day_lines(words: "Words", why: "Why") -> list[str]:
    """Give what the days are spent on, the most first, and what leaving it out is worth."""
    days = why.anatomy
    if not days.parts:
        return []
    worths = dict(why.worths)
    spent = [(what, minutes) for what, minutes in days.minutes.items() if minutes]
    spent.sort(key=lambda each: -each[1])
    told = [_long(words, minutes) for _, minutes in spent]
    width = max(map(len, told))
    lines = [words.say(SHARES, total=_long(words, days.elapsed_minutes))]
    for (what, _), amount in zip(spent, told, strict=True):
        is_late = what is Class.SLACK and why.told.slack_minutes is None
        name = words.say(WAITING_TO_LEAVE if is_late else CLASSES[what])
        lines.append(_share(words, name, amount.rjust(width), worths.get(what)))
    return lines


def _long(words: "Words", minutes: int) -> str:
    """Give elapsed minutes in days of 24 hours from one day on, else in hours."""
    if minutes < _DAY_MINUTES:
        return amounts.hours(words, minutes, Role.SPAN)
    return amounts.days(words, minutes, _DAY_MINUTES, Role.SPAN)


def _share(words: "Words", name: str, amount: str, worth: "Worth | None") -> str:
    if worth is None:
        return words.say(SHARE, amount=amount, what=name)
    if not worth.elapsed_minutes:
        return words.say(SHARE_NO_WORTH, amount=amount, what=name)
    sooner = _long(words, worth.elapsed_minutes)
    return words.say(SHARE_WORTH, amount=amount, what=name, sooner=sooner)


def slack_lines(words: "Words", why: "Why") -> list[str]:
    """Give what the job has to spare, and its tightest steps with those that share it."""
    slack, told = why.slack, why.told
    if slack is None or not slack.stages:
        return []
    spare = words.spare(slack.minutes)
    if told.slack_minutes is None:
        lines = [words.say(SPARE_MISSED, spare=spare)]
    else:
        template = SPARE if slack.minutes else SPARE_NOTHING
        lines = [words.say(template, spare=spare, buffer=words.spare(told.slack_minutes))]
    if why.buffer_minutes and told.slack_minutes is not None:
        proposed = amounts.days(words, why.buffer_minutes, words.day_minutes, Role.LATE)
        wished = amounts.days(words, told.wished_buffer_minutes, words.day_minutes, Role.WISH)
        lines.append(words.say(PROPOSED, proposed=proposed, wished=wished))
    tightest = _apart(slack.stages)
    lines += _nothing_lines(words, why)
    return [*lines, *(_stage_line(words, why, each) for each in tightest[:_TOLD])]


def _nothing_lines(words: "Words", why: "Why") -> list[str]:
    """Give the first step that can't slip, how many others can't, and what holds it."""
    slack = why.slack
    none = [each for each in slack.stages if not each.minutes] if slack else []
    if slack is None or not none:
        return []
    first = min(none, key=lambda each: (each.start, each.stage))
    names = _names(words, why)
    holder = None if first.held_by is None else names.get(first.held_by)
    step = words.names.of("step", first.step)
    if holder is None or holder == step:
        return [capital(words.say(NONE_TO_SPARE_ALONE, step=step))]
    more = len({each.step for each in none} - {first.step})
    facts = {"step": step, "number": words.number_word(more), "count": max(1, more + 1)}
    told = words.say(NONE_TO_SPARE, holder=holder, **facts)
    return [capital(told)]


def _apart(stages: "tuple[StageSlack, ...]") -> "list[StageSlack]":
    """Return the tightest stages with anything to spare, one of each that share it."""
    told: list[StageSlack] = []
    covered: set[int] = set()
    for each in sorted(stages, key=lambda one: (one.minutes, one.start, one.stage)):
        if each.minutes and each.stage not in covered:
            told.append(each)
            covered.update(each.shared_with)
            covered.add(each.stage)
    return told


def _names(words: "Words", why: "Why") -> dict[int, str]:
    """Return what is spoken of by stage, with its job where that is another."""
    found: dict[int, str] = {}
    for stage, step, job in why.slack.names if why.slack else ():
        name = words.names.of("step", step)
        if job != why.told.id:
            name = words.say(OF_JOB, step=name, job=words.names.of("job", job))
        found[stage] = name
    return found


def _stage_line(words: "Words", why: "Why", found: "StageSlack") -> str:
    names = _names(words, why)
    step, spare = words.names.of("step", found.step), words.spare(found.minutes)
    others = [names[stage] for stage in found.shared_with if stage in names]
    others = list(dict.fromkeys(each for each in others if each != step))
    if not others:
        return capital(words.say(OWN, step=step, spare=spare))
    told = others[:_NAMED]
    more = len(others) - _NAMED
    if more > 0:
        told.append(words.say(AND_MORE, count=more, number=words.number_word(more)))
    count = len(others)
    text = words.say(
        SHARED,
        step=step,
        spare=spare,
        count=count,
        number=words.number_word(count),
        others=words.both(told),
    )
    return capital(text)

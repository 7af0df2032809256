"""Somebody or something that is away, in words: what it touches, and the answers to it."""

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.words.amounts import money
from app.words.changes import person_line, span_of, work_of
from app.words.levers import lever_line
from app.words.template import Template, counted, within
from app.words.voice import capital
from scheduler.away.values import MoveKind
from shared.absence import Absence, AwayKind
from shared.ids import StepId

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.words import Words
    from scheduler.away.values import Answer, Answers, Hit
    from scheduler.outcome import JobOutcome

SAID_MAX = 8

ON_A_DAY: Template = "{who} is away on {first}."
DAYS: Template = "{who} is away from {first} to {last}."
HOURS: Template = "{who} is away from {start} to {end}."
NOT_ON_A_DAY: Template = "{who} is not to be had on {first}."
NOT_DAYS: Template = "{who} is not to be had from {first} to {last}."
NOT_HOURS: Template = "{who} is not to be had from {start} to {end}."
LATE: Template = "{who} comes on {end} only."
HITS: Template = counted(
    "count", "One piece of work is touched:", "{number} pieces of work are touched:"
)
NO_HITS: Template = "Nothing that is planned then needs {who}."
HIT: Template = "{work}, {span}"
HITS_MORE: Template = counted("count", "and one more", "and {number} more")
NO_SHEET: Template = (
    "Nobody was told a plan yet: what changes is counted against the plan as it is without this."
)
STUCK: Template = "No plan was found that has a place for everything then."

NOBODY: Template = (
    "{number}  Nobody else hears anything new for today or tomorrow; it costs {price}."
)
SOME: Template = counted(
    "count",
    "{number}  One other person hears something new for today or tomorrow; it costs {price}.",
    "{number}  {people} other people hear something new for today or tomorrow; it costs {price}.",
)
WAITS: Template = "{work} waits for {who}, until {moment}."
FORWARD: Template = "{who} does {work} sooner, {moment}."
OFF: Template = "Nothing is planned for {work} any more."
LINES_MORE: Template = counted(
    "count", "One more change, see --json.", "{number} more changes, see --json."
)
SLACK: Template = "{job} then has {now} to spare, and had {was}."
STANDS: Template = "Every job stands as it did."
THEN: Template = "Then: {verdict}"
TRIED: Template = "Each was planned and checked; nothing is written. With --apply N the N-th is."
TAKEN: Template = (
    "Answer {number} is taken: {path} is saved as revision {revision}; countback undo takes that "
    "back."
)
TOLD_NOW: Template = "From now on it is what people are told: sheet number {sheet}."
NOT_WRITTEN: Template = "Nothing is written before that is mended."
_NOTHING: Template = within("price", "nothing")
_AMOUNT: Template = within("price", "{amount} {currency}")
_THE_DELIVERY: Template = within("away", "The delivery of {name}")


def who_line(words: "Words", absence: Absence, today: date) -> str:
    """Give who or what is away and when; whole days as days. Why is never said."""
    who, is_person = who_of(words, absence), absence.kind is AwayKind.PERSON
    start, end = (_local(words, each) for each in (absence.start, absence.end))
    if absence.kind is AwayKind.DELIVERY:
        return words.say(LATE, who=who, end=words.moment(absence.end, after=today))
    if start.time() != end.time() or start.hour or start.minute:
        moments = {
            "start": words.moment(absence.start, after=today),
            "end": words.moment(absence.end, after=today),
        }
        return words.say(HOURS if is_person else NOT_HOURS, who=who, **moments)
    last = (end - timedelta(days=1)).date()
    facts = {"first": words.day(start.date(), after=today), "last": words.day(last, after=today)}
    if last == start.date():
        return words.say(ON_A_DAY if is_person else NOT_ON_A_DAY, who=who, **facts)
    return words.say(DAYS if is_person else NOT_DAYS, who=who, **facts)


def who_of(words: "Words", absence: Absence) -> str:
    """Give the name of who or what is away."""
    if absence.kind is AwayKind.DELIVERY:
        return words.say(_THE_DELIVERY, name=words.names.of("material", absence.id))
    return words.names.of(absence.kind.value, absence.id)


def _local(words: "Words", when: datetime) -> datetime:
    return when.astimezone(ZoneInfo(words.zone))


def hit_lines(words: "Words", hits: "tuple[Hit, ...]", today: date) -> list[str]:
    """Give the work that is touched, the first of it."""
    found = [_hit(words, hit, today) for hit in hits[:SAID_MAX]]
    more = len(hits) - SAID_MAX
    if more > 0:
        found.append(words.say(HITS_MORE, count=more, number=words.number(more)))
    return found


def _hit(words: "Words", hit: "Hit", today: date) -> str:
    work = work_of(words, hit.job, hit.step)
    line = words.say(HIT, work=work, span=span_of(words, hit.start, hit.end, today))
    return capital(line)


def hits_title(words: "Words", found: "Answers") -> str:
    """Give how much work is touched."""
    count = len(found.hits)
    if not count:
        return words.say(NO_HITS, who=who_of(words, found.absence))
    return words.say(HITS, count=count, number=words.number(count))


def answer_line(words: "Words", answer: "Answer", number: int) -> str:
    """Give the head of an answer: how many others hear something new, and what it costs."""
    count = len(answer.changes.people)
    price = words.say(_NOTHING)
    if answer.price:
        price = words.say(_AMOUNT, amount=money(words, answer.price), currency=words.currency)
    facts = {"number": number, "price": price}
    if not count:
        return words.say(NOBODY, **facts)
    return words.say(SOME, count=count, people=words.number_word(count).capitalize(), **facts)


def answer_lines(words: "Words", found: "Answers", answer: "Answer", today: date) -> list[str]:
    """Give what an answer takes, what waits or falls out, and what each person hears."""
    lines = [lever_line(words, lever, today) for lever in answer.levers]
    is_person = found.absence.kind is AwayKind.PERSON
    missing = found.absence.id if is_person else None
    kinds = (MoveKind.WAITS, MoveKind.BROUGHT_FORWARD)
    waits = {move.step for move in answer.moves if move.kind in kinds}
    told = list(_of_their_work(words, found, answer, waits, today)) if is_person else []
    told += [
        capital(person_line(words, line, today))
        for line in answer.changes.lines()
        if line.person != missing
    ]
    more = len(told) - SAID_MAX
    lines += told[:SAID_MAX]
    if more > 0:
        lines.append(words.say(LINES_MORE, count=more, number=words.number(more)))
    return lines


def _of_their_work(
    words: "Words", found: "Answers", answer: "Answer", waits: set[StepId], today: date
) -> "Iterable[str]":
    who = who_of(words, found.absence)
    for change in answer.changes.each:
        if change.step in waits and change.now is not None and _is_of(found, change.told.people):
            work = work_of(words, change.job, change.step, change.part)
            moment = words.moment(change.now.start, after=today)
            template = WAITS if change.now.start > change.told.start else FORWARD
            yield capital(words.say(template, work=work, who=who, moment=moment))
        elif change.now is None and _is_of(found, change.told.people):
            work = work_of(words, change.job, change.step, change.part)
            yield words.say(OFF, work=work)


def _is_of(found: "Answers", people: "Iterable[str]") -> bool:
    return found.absence.id in people


def verdict_lines(words: "Words", found: "Answers", answer: "Answer") -> list[str]:
    """Give how jobs stand that stand otherwise, and whose slack is another."""
    before = {each.id: each for each in found.before}
    lines = []
    for each in answer.jobs:
        was = before.get(each.id)
        if was is None or was.verdict is not each.verdict:
            lines.append(words.say(THEN, verdict=words.verdict_line(each)))
        elif _has_other_slack(words, was, each):
            assert was.slack_minutes is not None
            assert each.slack_minutes is not None
            facts = {"was": words.spare(was.slack_minutes), "now": words.spare(each.slack_minutes)}
            lines.append(words.say(SLACK, job=words.names.of("job", each.id), **facts))
    return lines or [words.say(STANDS)]


def _has_other_slack(words: "Words", was: "JobOutcome", now: "JobOutcome") -> bool:
    """Return whether what is to spare reads otherwise."""
    if was.slack_minutes is None or now.slack_minutes is None:
        return False
    return words.spare(was.slack_minutes) != words.spare(now.slack_minutes)

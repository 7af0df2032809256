"""What is said of a book that was changed on the disk while it is open, and of who has it."""

from typing import TYPE_CHECKING

from app.words import floor
from app.words.changes import SOMEBODY, work_of
from app.words.keys import key_text
from app.words.template import Template, counted
from app.words.voice import capital
from shared.book import FactKind
from shared.comparing import How, Sort
from shared.ids import JobId

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.words import Words
    from shared.book import Book, Fact
    from shared.comparing import Difference
    from shared.files.lock import Held

KEY = "F5"
"""Compares what somebody else wrote, or says who has the book."""

TITLE: Template = "“{book}” was changed on the disk by somebody else."
NOTHING_LOST: Template = "Nothing is written over before you choose."
BOTH: Template = "You and they have both changed {things}."
SAME: Template = "What it says is the same as when you opened it."
UNREADABLE: Template = "What lies there now can’t be taken as a book."
THEIRS: Template = "They have changed:"
MINE: Template = "You have changed, and it is not saved:"
MORE: Template = counted("count", "and one thing more", "and {number} things more")
TAKE: Template = "take theirs; undo goes back to yours"
TAKE_CLEAN: Template = "take it"
KEEP: Template = "keep yours and save it; theirs is put beside it first"
LOOK: Template = "look at theirs on the wall"
LATER: Template = "later; nothing is saved till then"
LOOKED_AT: Template = "what somebody else saved"
KEPT_BESIDE: Template = "Saved. What they had written lies beside it: {path}"
TAKEN: Template = "What they saved is on the wall. Undo goes back to yours."
CHANGED: Template = "Changed on the disk by somebody else: {key} compares"

LEFT_LOCK: Template = "{who} on {host} took this book {since}, and that program is gone."
FAR_LOCK: Template = (
    "{who} on {host} has had this book since {since}. Whether that program still runs can’t be "
    "known from here."
)
BROKEN_LOCK: Template = "A file beside this book says that somebody has it, and can’t be read."
ONE_AT_A_TIME: Template = "Who has a book writes it, one at a time; you can look and try."
TAKE_LOCK: Template = "nobody works on it: take it over"
ONLY_LOOK: Template = "only look at it"
LOCK_TAKEN: Template = "The book is yours to write."
HAS_IT: Template = "{who} has had this book open since {since}. You can look and try, not save."
HAS_IT_KEY: Template = "{who} took this book {since}. You can look and try, not save; {key}: more"
SOMEBODY_HAS_IT_KEY: Template = (
    "Somebody has this book. You can look and try, not save; {key}: more"
)

SAID: dict[tuple[Sort, How], Template] = {
    (Sort.JOB, How.NEW): "The job {name} is new.",
    (Sort.JOB, How.GONE): "The job {name} is gone.",
    (Sort.JOB, How.OTHER): "The job {name} is changed.",
    (Sort.WINDOW, How.OTHER): "{name} has another window.",
    (Sort.SEGMENT, How.NEW): "{job} has a new segment: {name}.",
    (Sort.SEGMENT, How.GONE): "{job} has a segment less: {name}.",
    (Sort.SEGMENT, How.OTHER): "The segment {name} of {job} is changed.",
    (Sort.STEP, How.NEW): "{job} has a new step: {name}.",
    (Sort.STEP, How.GONE): "{job} has a step less: {name}.",
    (Sort.STEP, How.OTHER): "{name} for {job} is changed.",
    (Sort.FACT, How.GONE): "What was told of {work} is taken back: {moment}, by {who}.",
    (Sort.FACT, How.OTHER): "What was told of {work} is changed: {moment}, by {who}.",
    (Sort.PERSON, How.NEW): "{name} is new among the people.",
    (Sort.PERSON, How.GONE): "{name} is no longer among the people.",
    (Sort.PERSON, How.OTHER): "What stands of {name} is changed.",
    (Sort.LEAVE, How.OTHER): "{name} is away at other times.",
    (Sort.PLACE, How.NEW): "The place {name} is new.",
    (Sort.PLACE, How.GONE): "The place {name} is gone.",
    (Sort.PLACE, How.OTHER): "The place {name} is changed.",
    (Sort.BOUGHT, How.OTHER): "What is bought, in store or on its way is changed.",
    (Sort.WORKSHOP, How.OTHER): "What stands of the workshop itself is changed.",
    (Sort.TOLD, How.NEW): "People are told sheet number {name}.",
    (Sort.TOLD, How.GONE): "No sheet counts as told any more.",
    (Sort.PLAN, How.OTHER): "The plan in the book is another one.",
    (Sort.REST, How.OTHER): "Vehicles, hired work or ways of making are changed.",
}
HOURS_MORE: Template = counted(
    "count",
    "{name} for {job} takes {number} person-hour more.",
    "{name} for {job} takes {number} person-hours more.",
)
HOURS_LESS: Template = counted(
    "count",
    "{name} for {job} takes {number} person-hour less.",
    "{name} for {job} takes {number} person-hours less.",
)
NOTED: dict[FactKind, Template] = {
    FactKind.RUNNING: "{work} is under way since {moment}, {who} says.",
    FactKind.ANSWER: "{work}: the answer is written down, {moment}, by {who}.",
    FactKind.PICTURES: "{work}: the pictures are out since {moment}, {who} says.",
    FactKind.GONE: "{work}: the lorry left {moment}, {who} says.",
}


def lines(found: "Iterable[Difference]", before: "Book", after: "Book", most: int) -> list[str]:
    """Give a line for each difference of two states of a book, so many at most."""
    from app.words import Words

    words, former = Words(book=after), Words(book=before)
    every = [
        line(each, former, before) if each.how is How.GONE else line(each, words, after)
        for each in found
    ]
    if len(every) > most:
        more = len(every) - most + 1
        every[most - 1 :] = [words.say(MORE, count=more, number=words.number(more))]
    return every


def line(found: "Difference", words: "Words", book: "Book") -> str:
    """Give one difference. book: that has what it is about, with its words."""
    if found.fact is not None:
        return _fact(found.fact, found.how, words, book)
    is_step = found.sort in {Sort.STEP, Sort.HOURS}
    name = words.names.of("step", found.id) if is_step else found.name
    facts = {"name": name, "job": found.job}
    if found.sort is Sort.HOURS:
        hours = abs(found.more)
        template = HOURS_MORE if found.more > 0 else HOURS_LESS
        count = 1 if hours == 1 else 2
        return capital(words.say(template, count=count, number=floor.plain(hours), **facts))
    return words.say(SAID[found.sort, found.how], **facts)


def _fact(fact: "Fact", how: How, words: "Words", book: "Book") -> str:
    who = fact.told_by or words.say(SOMEBODY)
    job = next((j.id for j in book.jobs if any(s.id == fact.step for s in j.steps)), JobId(""))
    if how is How.NEW:
        if fact.kind is FactKind.DONE:
            return floor.done_line(words, job, fact.step, fact.at, who)
        if fact.kind is FactKind.MATERIAL:
            return floor.came_line(words, job, fact.step, fact.at, who)
        if fact.kind is FactKind.HELD and fact.held_by is not None:
            return floor.held_line(words, job, fact.step, fact.at, who, fact.held_by)
        if fact.remaining_hours is not None:
            at, hours = fact.told_at or fact.at, fact.remaining_hours
            return floor.left_lines(words, job, fact.step, hours, at, who)[0]
    template = SAID.get((Sort.FACT, how)) or NOTED.get(fact.kind, SAID[Sort.FACT, How.OTHER])
    facts = {"work": work_of(words, job, fact.step), "moment": words.moment(fact.at, after=None)}
    return capital(words.say(template, who=who, **facts))


def lock_sentence(words: "Words", held: "Held") -> str:
    """Give who has a book whose program is gone, or can't be known to run."""
    if held.since is None or not held.host:
        return words.say(BROKEN_LOCK)
    template = FAR_LOCK if held.elsewhere else LEFT_LOCK
    since = words.moment(held.since, after=None)
    return words.say(template, who=held.who or held.pid, host=held.host, since=since)


def why_looking(words: "Words", held: "Held") -> str:
    """Give why a book that somebody has can only be looked at."""
    key = key_text(KEY)
    since = "" if held.since is None else words.moment(held.since, after=None)
    if not since or not (held.who or held.host):
        return words.say(SOMEBODY_HAS_IT_KEY, key=key)
    template = HAS_IT_KEY if held.may_be_gone else HAS_IT
    return words.say(template, who=held.who or held.host, since=since, key=key)

"""What has changed in a book since the plan on show, and where that is on the wall. No Qt."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from app.window.wall.items import Item, Role, minute_of
from app.words import Words
from app.words import on_wall as say
from shared.book import Book, Leave, Person
from shared.comparing import more_hours
from shared.ids import JobId, StepId


@dataclass(frozen=True, slots=True, kw_only=True)
class Since:
    """One change: of a step, of somebody's time away, or of a job's window; else None.

    more: person-hours that a stage takes more than before.
    """

    step: StepId | None = None
    job: JobId | None = None
    person: Person | None = None
    leave: tuple[Leave, ...] = ()
    more: Decimal = Decimal(0)


def changes_since(before: Book, book: Book) -> tuple[Since, ...]:
    """Return what of a book is not as it was: away, windows, steps; whatever else is not told."""
    return (*_people(before, book), *_jobs(before, book))


def _people(before: Book, book: Book) -> Iterator[Since]:
    known = {person.id: person for person in before.people}
    for person in book.people:
        was = known.get(person.id)
        leave = tuple(each for each in person.leave if was is None or each not in was.leave)
        if leave:
            yield Since(person=person, leave=leave)


def _jobs(before: Book, book: Book) -> Iterator[Since]:
    windows = {job.id: job.held_window for job in before.jobs}
    steps = {step.id: step for job in before.jobs for step in job.steps}
    noted = {(fact.step, fact.kind) for fact in before.facts}
    told = {fact.step for fact in book.facts if (fact.step, fact.kind) not in noted}
    for job in book.jobs:
        if windows.get(job.id, job.held_window) != job.held_window:
            yield Since(job=job.id)
        for step in job.steps:
            was = steps.get(step.id, step)
            if was != step or step.id in told:
                yield Since(step=step.id, more=more_hours(was, step))


def marked(
    found: tuple[Since, ...], items: tuple[Item, ...], words: Words
) -> tuple[tuple[str, str], ...]:
    """Return the ids of items that a change is about, each with what to write over it."""
    marks: dict[str, str] = {}
    for each in found:
        text = _text(each, words)
        for item in items:
            if _is_about(each, item):
                marks.setdefault(item.id, text)
    return tuple(marks.items())


def told(found: tuple[Since, ...], words: Words) -> tuple[str, ...]:
    """Return each change in a few words."""
    return tuple(dict.fromkeys(_told(each, words) for each in found))


def _told(each: Since, words: Words) -> str:
    if each.person is not None:
        return words.say(say.SINCE_AWAY, who=each.person.name)
    if each.job is not None:
        return words.say(say.SINCE_WINDOW, job=words.names.of("job", each.job))
    step = words.names.of("step", each.step or "")
    if not each.more:
        return words.say(say.SINCE_STEP, step=step)
    template = say.SINCE_STEP_MORE if each.more > 0 else say.SINCE_STEP_LESS
    return words.say(template, step=step, hours=f"{abs(each.more).normalize():f}")


def _is_about(each: Since, item: Item) -> bool:
    if each.person is not None:
        return (
            item.role is Role.BLOCK
            and each.person.id in item.people
            and any(
                minute_of(leave.start) < item.end and item.start < minute_of(leave.end)
                for leave in each.leave
            )
        )
    if each.job is not None:
        return item.role is Role.WINDOW and item.job == each.job
    return item.step == each.step and item.role in {
        Role.BLOCK,
        Role.ANSWER,
        Role.TRIAL_FIT,
        Role.LOADING,
    }


def _text(each: Since, words: Words) -> str:
    if each.person is not None:
        return words.say(say.SINCE_AWAY, who=each.person.name)
    if each.more:
        template = say.SINCE_MORE if each.more > 0 else say.SINCE_LESS
        return words.say(template, hours=f"{abs(each.more).normalize():f}")
    return words.say(say.SINCE_CHANGED)

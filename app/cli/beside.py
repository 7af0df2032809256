"""What stands beside a plan: rivals, orders and dates to come, and the cautions of its steps."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from app.cli.cautions import cautions_object, step_cautions
from app.cli.console import Console
from app.cli.orders import orders_object
from app.notices_json import due_objects, job_dues
from app.outcome_json import instant_text
from app.told_json import ask_object, changes_object
from app.words import Words
from app.words import changes as change_words
from app.words import dates as date_words
from app.words import orders as order_words
from app.words.rivals import rivals_line
from scheduler.asks import Asked, asks
from scheduler.outcome import JobOutcome, Outcome
from scheduler.rivals import Rivals, rivals
from scheduler.told_changes import Changes, told_changes
from shared.book import Book, Job
from shared.cautions import cautions_of
from shared.dates import JobDate, job_dates
from shared.ids import JobId
from shared.orders import Buying, buying
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from shared.notices import Due

_GAP = "  "
_INDENT = "    "
Json = dict[str, object]

NOTHING: Json = {
    "cautions": {},
    "buying": None,
    "dates": [],
    "rivals": [],
    "changes": None,
    "asks": [],
}
"""What stands for programs beside a plan that there is not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What stands beside a plan of a book, as of its now. notices: of the jobs that have some."""

    book: Book
    today: date
    buying: Buying
    spare_minutes: Mapping[JobId, int | None]
    rivals: tuple[Rivals, ...] = ()
    dates: tuple[JobDate, ...] = ()
    notices: "Mapping[JobId, tuple[Due, ...]]" = field(default_factory=dict)
    changes: Changes = field(default_factory=Changes)
    asks: tuple[Asked, ...] = ()


def beside(book: Book, outcome: Outcome, asked: tuple[JobId, ...] = ()) -> Beside:
    """Work out what stands beside a plan."""
    return Beside(
        book=book,
        today=local_date(outcome.now, book.workshop.zone),
        rivals=rivals(book, outcome, asked),
        buying=buying(book, outcome.plan, outcome.now),
        spare_minutes={job.id: job.slack_minutes for job in outcome.jobs},
        dates=job_dates(book, outcome.plan, outcome.now),
        notices=job_dues(book, outcome.plan.trips, outcome.now),
        changes=told_changes(book, outcome.plan, outcome.now),
        asks=asks(book, outcome.plan, outcome.now, outcome.check),
    )


def say_beside(console: Console, words: Words, found: Beside) -> None:
    """Write it, each part under its title; nothing where there is nothing."""
    for each in found.rivals:
        console.say()
        console.wrapped(rivals_line(words, each))
    _say_told(console, words, found)
    materials = {material.id: material for material in found.book.materials}
    orders = order_words.soon_lines(
        words, found.buying, materials, found.today, found.spare_minutes
    )
    _say(console, words.say(order_words.TITLE), orders)
    dates = date_words.date_lines(words, found.dates, found.today)
    _say(console, words.say(date_words.TITLE), dates)
    if found.notices:
        from app.words import notices as notice_words

        every = (due for dues in found.notices.values() for due in dues)
        lines = notice_words.soon_lines(words, every, found.today)
        _say(console, words.say(notice_words.TITLE), lines)


def _say_told(console: Console, words: Words, found: Beside) -> None:
    """Say what is to be told anew, and what is to be said first."""
    told = found.book.told
    lines = change_words.ask_lines(words, found.asks, found.today)
    _say(console, words.say(change_words.ASKS_TITLE), lines)
    if told is None:
        return
    title = change_words.title(words, told, found.changes)
    if found.changes.each:
        _say(console, title, change_words.change_lines(words, found.changes, found.today))
    else:
        console.say()
        console.wrapped(title)


def _say(console: Console, title: str, lines: Sequence[str]) -> None:
    if not lines:
        return
    console.say()
    console.say(title)
    for line in lines:
        console.wrapped(line, indent=_INDENT, first=_GAP)


def with_beside(told: Json, words: Words, outcome: Outcome, found: Beside) -> Json:
    """Give the answer for programs with what stands beside it; `told` has its jobs in order."""
    jobs = {job.id: job for job in found.book.jobs}
    planned = [jobs[job.id] for job in outcome.jobs if job.id in jobs]
    every = [(job, step) for job in planned for step in job.steps]
    listed = told["jobs"]
    assert isinstance(listed, list)
    made = [
        {
            **each,
            "steps": _steps(found.book, jobs, job),
            "dues": due_objects(found.notices.get(job.id, ())),
        }
        for each, job in zip(listed, outcome.jobs, strict=True)
    ]
    return {
        **told,
        "jobs": made,
        "cautions": cautions_object(words, found.book, every)["cautions"],
        "buying": orders_object(found.book, found.buying),
        "dates": [_date_object(each) for each in found.dates],
        "rivals": [{"job": each.job, "other": each.other} for each in found.rivals],
        "changes": changes_object(found.book, found.changes),
        "asks": [ask_object(each) for each in found.asks],
    }


def _steps(book: Book, jobs: Mapping[JobId, Job], told: JobOutcome) -> list[Json]:
    """Give the steps of a job with their latest times and the ids of their cautions."""
    job = jobs.get(told.id)
    if job is None:
        return []
    times = {each.step: each for each in told.steps}
    found: list[Json] = []
    for step in job.steps:
        latest = times.get(step.id)
        found.append(
            {
                "step": step.id,
                "latest_start": instant_text(latest.latest_start) if latest else None,
                "latest_end": instant_text(latest.latest_end) if latest else None,
                "cautions": step_cautions(cautions_of(book, job, step)),
            }
        )
    return found


def _date_object(found: JobDate) -> Json:
    return {
        "job": found.job,
        "kind": found.kind.value,
        "day": found.day.isoformat(),
        "is_over": found.is_over,
    }

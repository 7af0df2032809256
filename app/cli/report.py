"""A planned book as people read it, and as programs do."""

from collections.abc import Sequence
from datetime import date, datetime
from zoneinfo import ZoneInfo

from app.cli.beside import Beside, say_beside
from app.cli.console import Console
from app.outcome_json import instant_text, window_object
from app.words import Words, shell
from app.words import dues as due_words
from app.words.verdicts import is_met
from scheduler.dues import Due, coming
from scheduler.outcome import JobOutcome, Outcome
from shared.book import Book, Gate, GateKind, Job
from shared.worktime.zones import local_date

_NAME_WIDTH = 24
_VERDICT_WIDTH = 19
_MARGIN_WIDTH = 20
_GAP = "  "
_INDENT = "    "


def say_plan(
    console: Console,
    words: Words,
    book: Book,
    outcome: Outcome,
    seconds: float,
    *,
    is_own: bool,
    dues: Sequence[Due] = (),
    beside: Beside | None = None,
) -> None:
    """Write the book's sentence, a table of jobs with their reasons, and what it comes to."""
    console.wrapped(
        console.strong(words.book_line(outcome.jobs, seconds=round(seconds), now=outcome.now))
    )
    moment = words.moment(outcome.now, after=None)
    console.say(words.say(shell.AS_OF_BOOK if is_own else shell.AS_OF, moment=moment))
    if outcome.jobs:
        console.say()
        _say_jobs(console, words, book, outcome)
    _say_dues(console, words, coming(dues, local_date(outcome.now, words.zone)), outcome.now)
    if beside is not None:
        say_beside(console, words, beside)
    console.say()
    console.wrapped(words.check_line(outcome.check))
    console.wrapped(" ".join(words.level_lines(outcome)))
    took = f"{seconds:.1f}"
    console.say(words.say(shell.PLANNED, seconds=took, revision=outcome.revision))


def _say_dues(console: Console, words: Words, found: Sequence[Due], now: datetime) -> None:
    """Write which coats must be followed soon, and for which the plan abrades."""
    if not found:
        return
    console.say()
    console.say(words.say(due_words.TITLE))
    for line in due_words.due_lines(words, found, now):
        console.wrapped(line, indent=_INDENT, first=_GAP)


def _say_jobs(console: Console, words: Words, book: Book, outcome: Outcome) -> None:
    jobs = {job.id: job for job in book.jobs}
    heads = (shell.JOB, shell.VERDICT, shell.TO_SPARE, shell.WINDOW)
    below = (shell.LATEST_START, shell.LATEST_ANSWER, shell.START_LOADING_BY)
    console.say(_row(*(words.say(head) for head in heads)))
    console.say(_row("", *(words.say(head) for head in below)))
    for told in outcome.jobs:
        _say_job(console, words, told, jobs.get(told.id), outcome.now)


def _say_job(
    console: Console, words: Words, told: JobOutcome, job: Job | None, now: datetime
) -> None:
    today = now.astimezone(ZoneInfo(words.zone)).date()
    mark = words.verdict_mark(told.verdict)
    row = _row(told.name, mark, words.verdict_margin(told), _window(words, job, today))
    console.say(row if is_met(told) else row.replace(mark, console.alarm(mark), 1))
    dates = (
        _when(words, told.latest_start, today),
        _when(words, told.latest_answer, today),
        _loading(words, told, job, today),
    )
    if any(dates):
        console.say(_row("", *dates))
    if told.latest_answer and told.answered_by:
        console.wrapped(words.say(shell.ANSWERED_BY, who=told.answered_by), indent=_INDENT)
    for clash in told.reasons:
        console.wrapped(words.clash(clash), indent=_INDENT)
    for line in words.window_lines(told, now=now):
        console.wrapped(line, indent=_INDENT)


def _row(name: str, second: str, third: str, last: str = "") -> str:
    cells = (
        _cut(name, _NAME_WIDTH),
        second.ljust(_VERDICT_WIDTH),
        third.ljust(_MARGIN_WIDTH),
        last,
    )
    return _GAP.join(cells).rstrip()


def _cut(text: str, width: int) -> str:
    return (text if len(text) <= width else text[: width - 1] + "…").ljust(width)


def _window(words: Words, job: Job | None, today: date) -> str:
    held = job.held_window if job else None
    if job is None or held is None:
        return ""
    return words.span(held.start, held.end, after=today, zone=job.site.zone)


def _when(words: Words, when: datetime | None, today: date) -> str:
    return words.moment(when, after=today) if when else ""


def _loading(words: Words, told: JobOutcome, job: Job | None, today: date) -> str:
    end = told.latest_loading
    if end is None:
        return ""
    start = _start_of_loading(told, job)
    if start is None or start >= end:
        return words.say(shell.LOADED_BY_ALONE, end=words.moment(end, after=today))
    return words.say(
        shell.LOADED_BY,
        start=words.moment(start, after=today),
        end=_clock_or_moment(words, start, end),
    )


def _clock_or_moment(words: Words, start: datetime, end: datetime) -> str:
    first, last = (when.astimezone(ZoneInfo(words.zone)).date() for when in (start, end))
    return words.clock(end) if first == last else words.moment(end, after=first)


def _start_of_loading(told: JobOutcome, job: Job | None) -> datetime | None:
    """Give the latest start of the loading that ends last."""
    if job is None:
        return None
    loadings = {
        step.id for step in job.steps if isinstance(step, Gate) and step.gate is GateKind.LOADING
    }
    starts = [times.latest_start for times in told.steps if times.step in loadings]
    return max((start for start in starts if start is not None), default=None)


def plan_object(
    words: Words,
    outcome: Outcome | None,
    seconds: float | None,
    dues: Sequence[Due] = (),
) -> dict[str, object]:
    """Give the answer as one object for programs; without an outcome all of it is null."""
    if outcome is None:
        fields = ("as_of", "revision", "checked", "verdict", "seconds", "levels", "bounds")
        return {**dict.fromkeys(fields), "jobs": [], "dues": []}
    return {
        "as_of": instant_text(outcome.now),
        "revision": outcome.revision,
        "checked": outcome.check.sound,
        "verdict": outcome.verdict.value if outcome.jobs else None,
        "seconds": None if seconds is None else round(seconds, 3),
        "levels": list(outcome.levels),
        "bounds": list(outcome.bounds),
        "jobs": [_job_object(words, job) for job in outcome.jobs],
        "dues": [_due_object(due) for due in dues],
    }


def _due_object(due: Due) -> dict[str, object]:
    """Give a due line; abrade_minutes are person-minutes."""
    hours = due.abrade_hours
    return {
        "job": due.job,
        "coat": due.coat,
        "next": due.next,
        "ended": instant_text(due.ended),
        "ready": instant_text(due.ready),
        "runs_out": instant_text(due.runs_out),
        "day": due.day.isoformat(),
        "last_day": due.last_day.isoformat(),
        "is_over": due.is_over,
        "ran_out": due.ran_out,
        "can_abrade": due.can_abrade,
        "starts": instant_text(due.starts),
        "abrade_starts": instant_text(due.abrade_starts),
        "abrade_minutes": None if hours is None else int(hours * 60),
    }


def _job_object(words: Words, job: JobOutcome) -> dict[str, object]:
    return {
        "id": job.id,
        "name": job.name,
        "verdict": job.verdict.value,
        "missed_by_minutes": job.missed_by_minutes,
        "missed_by_working_minutes": job.missed_by_working_minutes,
        "bound_minutes": job.bound_minutes,
        "slack_minutes": job.slack_minutes,
        "latest_start": instant_text(job.latest_start),
        "latest_answer": instant_text(job.latest_answer),
        "answered_by": job.answered_by,
        "latest_loading": instant_text(job.latest_loading),
        "chance": job.chance,
        "reason": words.reason(job) or None,
        "windows": [window_object(window) for window in job.windows],
        "next_window": job.next_window,
    }

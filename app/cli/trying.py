"""An edit that is tried before it is taken: what comes in, and the verdict before and after."""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from app import clock
from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.keeping import locked_if
from app.cli.moments import now_of
from app.cli.plan import USUAL_SECONDS, USUAL_WORKERS, solved
from app.cli.report import plan_object
from app.cli.run import MET, MISSED
from app.outcome_json import instant_text
from app.solved import Solved
from app.words import Words
from app.words import repairs as say
from app.words.template import Template
from app.words.verdicts import is_met
from scheduler.outcome import Verdict
from scheduler.request import SolveRequest
from shared.book import Book, Gate, Journey, Standing, Step, Way
from shared.edits import Edited, NotNow
from shared.errors import DiskError
from shared.examine import examine
from shared.findings import Finding
from shared.ids import JobId, StepId
from shared.plan import Placement

_INDENT = "    "
_LONGER = 3
Json = dict[str, object]


def solved_book(
    asked: Asked, console: Console, book: Book, now: datetime, job: JobId, *, longer: int = 1
) -> Solved:
    """Plan a book, the job that is spoken of among the rest even if it is an enquiry.

    longer: so many times as long as was asked for.
    """
    enquiries = (each.id for each in book.jobs if each.standing is Standing.ENQUIRY)
    request = SolveRequest(
        book=book,
        now=now,
        asked=tuple(each for each in enquiries if each == job),
        seconds=asked.number("seconds", USUAL_SECONDS) * longer,
        workers=asked.number("workers", USUAL_WORKERS),
    )
    started = clock.ticks()
    outcome = solved(request, words_for(book), console, is_quiet=asked.quiet)
    return Solved(outcome=outcome, seconds=clock.ticks() - started)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """An edit of a book and the plans without and with it."""

    edited: Edited
    job: JobId
    new: tuple[Step, ...]
    before: Solved
    after: Solved


def run_trial(asked: Asked, console: Console, edit: Callable[[Book], Edited]) -> int:
    """Try an edit, take it if that was asked for, and say what it comes to.

    Raises
    ------
    DiskError, Usage
        If the book is not to be had, or gives no occasion for the edit.
    """
    path = Path(asked.words[0])
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked_if(path, asked, asked.is_taken) as kept:
        read = load_book(path)
        if read.book is None:
            return refused(asked, console, words_for(read.whole), read.findings)
        edited = _edited(edit, read.book)
        stopping = tuple(each for each in examine(edited.book) if each.stops)
        if stopping:
            return refused(asked, console, words_for(edited.book), stopping)
        trial = _trial(asked, console, read.book, edited)
        if kept is not None:
            kept.keep(edited.book)
    return _said(asked, console, path, trial)


def _edited(edit: Callable[[Book], Edited], book: Book) -> Edited:
    try:
        return edit(book)
    except NotNow as trouble:
        raise Usage(trouble.code, **trouble.facts) from None


def refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    """Say the findings that stand against it."""
    nothing = plan_object(words, None, None)
    told: Json = {"taken": False, "before": nothing, "after": nothing}
    return say_refused(asked, console, words, found, say.NOT_WRITTEN, told)


def _trial(asked: Asked, console: Console, book: Book, edited: Edited) -> Trial:
    old = {step.id for each in book.jobs for step in each.steps}
    (job,) = edited.changed.jobs
    owner = next(each for each in edited.book.jobs if each.id == job)
    now, _ = now_of(asked, book)
    before = solved_book(asked, console, book, now, job)
    after = solved_book(asked, console, edited.book, now, job)
    if _room(after, job) > _room(before, job):
        # More work leaves no more room: what was found without it can be bettered.
        again = solved_book(asked, console, book, now, job, longer=_LONGER)
        before = max(before, again, key=lambda each: _room(each, job))
    return Trial(
        edited=edited,
        job=job,
        new=tuple(step for step in owner.steps if step.id not in old),
        before=before,
        after=after,
    )


def _room(made: Solved, job: JobId) -> int:
    """Return the minutes that a job has to spare; below 0 by how many it is late."""
    told = made.job(job)
    if told is None:
        return 0
    return -told.missed_by_minutes if told.slack_minutes is None else told.slack_minutes


def _said(asked: Asked, console: Console, path: Path, trial: Trial) -> int:
    book, after = trial.edited.book, trial.after
    words = words_for(book)
    coming = coming_in(book, trial.new, after)
    console.wrapped(console.strong(say.head_line(words, trial.edited.label)))
    for step in trial.new:
        console.wrapped(_step_line(words, step, coming), indent=_INDENT)
    people = (words.names.of("person", person) for person in coming.without_rate)
    total = say.total_line(words, coming.minutes, coming.over)
    console.wrapped(f"{total} {say.cost_line(words, coming.cost, people)}")
    console.say()
    say_verdict(console, words, trial.before, trial.job, say.BEFORE)
    say_verdict(console, words, after, trial.job, say.AFTER)
    _say_others(console, words, trial)
    console.wrapped(words.check_line(after.outcome.check))
    facts = {"path": path, "revision": book.revision}
    console.wrapped(words.say(say.TAKEN if asked.is_taken else say.TRIED, **facts))
    if asked.json:
        told = _object(words, trial, coming, is_taken=asked.is_taken)
        console.say(json.dumps(told, ensure_ascii=False))
    return exit_code(after)


def exit_code(made: Solved) -> int:
    """Return the exit code of a planned book."""
    return MET if all(is_met(job) for job in made.outcome.jobs) else MISSED


def say_verdict(
    console: Console, words: Words, made: Solved, job: JobId, template: Template
) -> None:
    """Say how a job stands in a plan, and why, where it does not keep its window."""
    told = made.job(job)
    if told is None:
        name = words.names.of("job", job)
        console.wrapped(words.say(template, verdict=words.say(say.NOT_PLANNED_HERE, job=name)))
        return
    line = words.verdict_line(told, seconds=round(made.seconds))
    console.wrapped(words.say(template, verdict=line))
    reasons = told.reasons[1:] if told.verdict is Verdict.CANNOT else told.reasons
    for clash in reasons:
        console.wrapped(words.clash(clash), indent=_INDENT)


def _say_others(console: Console, words: Words, trial: Trial) -> None:
    """Say how other jobs stand that stood otherwise before."""
    for told in trial.after.outcome.jobs:
        before = trial.before.job(told.id)
        if told.id != trial.job and (before is None or before.verdict is not told.verdict):
            say_verdict(console, words, trial.after, told.id, say.OTHER)


@dataclass(frozen=True, slots=True, kw_only=True)
class ComingIn:
    """What comes in: person-minutes, what they cost, whose rates are not known, when it is over.

    minutes_of: by stage. over: None where something of it finds no place.
    """

    minutes_of: dict[StepId, int]
    placed: dict[StepId, Placement]
    cost: Decimal
    without_rate: tuple[str, ...]
    over: datetime | None

    @property
    def minutes(self) -> int:
        """Return the person-minutes of all of it."""
        return sum(self.minutes_of.values())


def coming_in(book: Book, new: Sequence[Step], made: Solved) -> ComingIn:
    """Return what steps come to in a plan: hours x rates where these are known, and ways' costs."""
    placed = {step.id: found for step in new if (found := made.placement(step.id)) is not None}
    rates = {person.id: person.rate_per_hour for person in book.people}
    minutes: dict[StepId, int] = {}
    cost, without = Decimal(0), dict[str, None]()
    for step in new:
        way = _way_of(step, placed.get(step.id))
        if way is None:
            continue
        minutes[step.id] = -(-int(way.hours.likely * 3600) // 60)
        people = placed[step.id].people if step.id in placed else ()
        cost += way.cost
        for person in people:
            rate = rates.get(person)
            cost += (rate or Decimal(0)) * way.hours.likely / len(people)
            if rate is None:
                without[person] = None
    ends = [each.end for each in placed.values()]
    return ComingIn(
        minutes_of=minutes,
        placed=placed,
        cost=cost,
        without_rate=tuple(without),
        over=max(ends) if len(placed) == len(new) else None,
    )


def _way_of(step: Step, placed: Placement | None) -> Way | None:
    if isinstance(step, Journey) or not step.ways:
        return None
    return next((way for way in step.ways if placed and way.id == placed.way), step.ways[0])


def _step_line(words: Words, step: Step, coming: ComingIn) -> str:
    name, placed = words.names.of("step", step.id), coming.placed.get(step.id)
    if isinstance(step, Gate) and not step.ways:
        return say.answer_line(words, name, placed)
    return say.stage_line(words, name, coming.minutes_of.get(step.id, 0), placed)


def _object(words: Words, trial: Trial, coming: ComingIn, *, is_taken: bool) -> Json:
    before, after = trial.before, trial.after
    return {
        "taken": is_taken,
        "revision": trial.edited.book.revision if is_taken else None,
        "stages": [_stage_object(step, coming) for step in trial.new],
        "person_minutes": coming.minutes,
        "cost": float(coming.cost),
        "without_rate": list(coming.without_rate),
        "over": instant_text(coming.over),
        "before": plan_object(words, before.outcome, before.seconds),
        "after": plan_object(words, after.outcome, after.seconds),
    }


def _stage_object(step: Step, coming: ComingIn) -> Json:
    placed = coming.placed.get(step.id)
    return {
        "id": step.id,
        "name": step.name,
        "person_minutes": coming.minutes_of.get(step.id, 0),
        "start": instant_text(placed.start) if placed else None,
        "end": instant_text(placed.end) if placed else None,
    }


def percent_typed(asked: Asked, option: str) -> Decimal | None:
    """Give a share in whole per cent from 1 to 100 that was typed, None where none was.

    Raises
    ------
    Usage
        If it is none.
    """
    text: str | None = getattr(asked, option)
    if text is None:
        return None
    number = asked.number(option, 100)
    if number > 100:
        raise Usage("bad_share", word=text, option=f"--{option}")
    return Decimal(number)


def typed(asked: Asked, option: str, what: str) -> str:
    """Give what was typed for an option that a verb can't do without; raises Usage."""
    text: str | None = getattr(asked, option)
    if text is None or not text.strip():
        from app.cli.arguments import VERBS

        usage = VERBS[asked.verb].usage(asked.verb)
        raise Usage("missing", what=f"--{option} {what}", usage=f"{usage} --{option} {what}")
    return text.strip()

"""Day one, where does it stand: the steps of each segment, and the facts of what is behind. No Qt.

All before what a segment has reached counts as done; what is done together counts for all who
share it, and so does what lies before that.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from app.words import Words
from app.words import window as usual
from app.words import workshop_view as say
from shared.book import (
    Answer,
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Journey,
    Kind,
    Stage,
    Standing,
    Step,
)
from shared.edits import Edited
from shared.edits.workshop import tell_where
from shared.ids import FactId, JobId, SegmentId, StepId
from shared.order import afters_of, touched
from shared.worktime.zones import local_date

_OVER = (FactKind.DONE, FactKind.GONE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One step of a segment's strip. state: "over", "here" or "ahead"."""

    step: StepId
    label: str
    kind: Kind | None
    gate: GateKind | None
    state: str
    is_shared: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A segment with its steps, in order."""

    segment: SegmentId
    name: str
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """A job that is to be made, with its segments."""

    job: JobId
    name: str
    window: str
    strips: tuple[Strip, ...]


def running(book: Book) -> tuple[Job, ...]:
    """Return the jobs that may have begun: all but enquiries."""
    return tuple(job for job in book.jobs if job.standing is not Standing.ENQUIRY)


def derive(book: Book, words: Words) -> tuple[Running, ...]:
    """Return what is shown: each running job, its segments and their steps."""
    over = _over(book)
    return tuple(_of_job(job, over, words) for job in running(book))


def _over(book: Book) -> frozenset[StepId]:
    """Return the steps that are behind: done, gone, or answered with a yes."""
    return frozenset(
        fact.step
        for fact in book.facts
        if fact.kind in _OVER or (fact.kind is FactKind.ANSWER and fact.answer is not Answer.NO)
    )


def _of_job(job: Job, over: frozenset[StepId], words: Words) -> Running:
    held = job.held_window
    window = ""
    if held is not None:
        day = local_date(held.start, job.site.zone)
        window = words.say(say.JOB_WINDOW, day=usual.short_day(words, day))
    strips = tuple(_strip(job, segment.id, segment.name, over, words) for segment in job.segments)
    return Running(job=job.id, name=job.name, window=window, strips=strips)


def _strip(job: Job, segment: SegmentId, name: str, over: frozenset[StepId], words: Words) -> Strip:
    steps = [step for step in job.steps if segment in touched(job, step)]
    ahead = next((i for i, step in enumerate(steps) if step.id not in over), len(steps))
    stops = tuple(
        _stop(job, step, _state(i, ahead, is_over=step.id in over), words)
        for i, step in enumerate(steps)
    )
    return Strip(segment=segment, name=name, stops=stops)


def _state(index: int, ahead: int, *, is_over: bool) -> str:
    return "here" if index == ahead else "over" if is_over else "ahead"


def _stop(job: Job, step: Step, state: str, words: Words) -> Stop:
    return Stop(
        step=step.id,
        label=step.name or words.say(say.JOURNEY),
        kind=step.kind if isinstance(step, Stage) else None,
        gate=step.gate if isinstance(step, Gate) else None,
        state=state,
        is_shared=len(touched(job, step)) > 1,
    )


def reach(book: Book, step: StepId, at: datetime, words: Words, segment: str) -> Edited:
    """Return the edit that says that a step is reached and not yet done.

    All that it follows is done at an instant, unless the book knows when; it and all that
    follows it are not. What is told already and stays true keeps its facts.
    """
    job = next(job for job in book.jobs if any(each.id == step for each in job.steps))
    before = _before(job, step)
    over = _over(book)
    by_id = {each.id: each for each in job.steps}
    new = [
        _fact(by_id[each], at, words)
        for each in sorted(before, key=_place(job))
        if each not in over
    ]
    after = _after(job, step)
    begun = {f.step for f in book.facts if f.kind is FactKind.RUNNING and f.step in before}
    name = by_id[step].name or words.say(say.JOURNEY)
    return tell_where(book, tuple(new), after | (begun - over), segment, name)


def _place(job: Job) -> Callable[[StepId], int]:
    order = {step.id: number for number, step in enumerate(job.steps)}
    return lambda step: order[step]


def _before(job: Job, step: StepId) -> set[StepId]:
    """Return all that a step follows, near and far."""
    afters = afters_of(job)
    known = {each.id for each in job.steps}
    found: set[StepId] = set()
    open_ones = [step]
    while open_ones:
        for after in afters[open_ones.pop()]:
            if after.step in known and after.step not in found:
                found.add(after.step)
                open_ones.append(after.step)
    return found


def _after(job: Job, step: StepId) -> set[StepId]:
    """Return a step and all that follows it."""
    afters = afters_of(job)
    found = {step}
    is_growing = True
    while is_growing:
        more = {
            each.id
            for each in job.steps
            if each.id not in found and any(after.step in found for after in afters[each.id])
        }
        found |= more
        is_growing = bool(more)
    return found


def _fact(step: Step, at: datetime, words: Words) -> Fact:
    is_answer = isinstance(step, Gate) and step.gate is GateKind.ANSWER
    kind = FactKind.ANSWER if is_answer else FactKind.DONE
    if isinstance(step, Journey):
        kind = FactKind.GONE
    return Fact(
        id=FactId(f"{step.id}.{kind.value}"),
        kind=kind,
        step=step.id,
        at=at,
        told_by=words.say(say.TOLD_BY),
        told_at=at,
        answer=Answer.YES if is_answer else None,
    )

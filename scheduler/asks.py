"""What a plan takes for granted until somebody says how it is."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from scheduler.outcome import CheckResult
from scheduler.rules import Rule
from shared.as_told import as_told
from shared.book import Answer, Book, FactKind, Gate, GateKind, Job, Journey, Stage
from shared.ids import JobId, PersonId, StepId
from shared.plan import Plan
from shared.worktime.zones import local_date

PATIENCE_DAYS = 2
"""So many working days after its end on the sheet whoever was told work is asked by name."""


class Ask(StrEnum):
    """What is asked: is it done as told; is there an answer; what becomes of what broke off."""

    DONE = "done"
    UNDER_WAY = "under_way"
    ANSWER = "answer"
    INTERRUPTED = "interrupted"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question about a step. at: told end or start; of an answer, when it is assumed.

    cures: it cures, which nobody counts as long as nobody has said that it is done.
    people: who was told it. by_name: nobody has said anything for so long that they are asked.
    """

    ask: Ask
    job: JobId
    step: StepId
    at: datetime
    cures: bool = False
    people: tuple[PersonId, ...] = ()
    by_name: bool = False


def asks(book: Book, plan: Plan, now: datetime, check: CheckResult) -> tuple[Asked, ...]:
    """Return what is to be said of a planned book, by kind, then in the order of time."""
    planned = [job for job in book.jobs if job.id in plan.jobs]
    found = [
        *_unconfirmed(book, planned, now),
        *_overdue(book, planned, plan, now),
        *_interrupted(book, planned, check),
    ]
    return tuple(sorted(found, key=lambda one: (tuple(Ask).index(one.ask), one.at, one.step)))


def _unconfirmed(book: Book, jobs: list[Job], now: datetime) -> Iterator[Asked]:
    owner = {step.id: job.id for job in jobs for step in job.steps}
    from scheduler.levers.attendance import days_of
    from shared.worktime import nth_working_day_after

    zone, days = book.workshop.zone, days_of(book)
    today = local_date(now, zone)
    steps = [step for job in jobs for step in job.steps if not isinstance(step, Journey)]
    cures = {step.id for step in steps if step.cure_hours}
    facts = as_told(book, now)
    done = {fact.step for fact in facts if fact.kind is FactKind.DONE}
    for fact in facts:
        if fact.step not in owner:
            continue
        if fact.kind is FactKind.DONE:
            yield Asked(
                ask=Ask.DONE,
                job=owner[fact.step],
                step=fact.step,
                at=fact.at,
                cures=fact.step in cures,
                people=fact.people,
                by_name=nth_working_day_after(days, local_date(fact.at, zone), PATIENCE_DAYS)
                < today,
            )
        elif fact.step not in done:
            yield Asked(ask=Ask.UNDER_WAY, job=owner[fact.step], step=fact.step, at=fact.at)


def _overdue(book: Book, jobs: list[Job], plan: Plan, now: datetime) -> Iterator[Asked]:
    """Give answers that were due before now: pictures are out, and the answer never came."""
    from scheduler.normalise.answers import answerer, due_at

    ends = {(each.step, each.round): each.end for each in plan.placements if not each.part}
    for job in jobs:
        for gate in job.steps:
            if not isinstance(gate, Gate) or gate.gate is not GateKind.ANSWER:
                continue
            told = sorted(
                (fact for fact in book.facts if fact.step == gate.id), key=lambda one: one.at
            )
            answers = [fact for fact in told if fact.answer is not None]
            shown = [fact for fact in told if fact.kind is FactKind.PICTURES]
            is_over = any(fact.kind is FactKind.DONE for fact in told)
            if is_over or any(fact.answer is not Answer.NO for fact in answers):
                continue
            awaited = shown[len(answers) : len(answers) + 1]
            end = ends.get((gate.id, len(answers) + 1))
            if awaited and end and due_at(answerer(job, gate), gate, awaited[0].at) < now:
                yield Asked(ask=Ask.ANSWER, job=job.id, step=gate.id, at=end)


def _interrupted(book: Book, jobs: list[Job], check: CheckResult) -> Iterator[Asked]:
    """Give work in one go that is under way, where the check says that some was interrupted."""
    if Rule.INTERRUPTED.value not in check.not_judged:
        return
    over = {fact.step for fact in book.facts if fact.kind is FactKind.DONE}
    running = {fact.step: fact for fact in book.facts if fact.kind is FactKind.RUNNING}
    for job in jobs:
        for step in job.steps:
            is_work = isinstance(step, Stage) or not isinstance(step, Journey)
            if is_work and step.id in running and step.id not in over and _one_go(step):
                at = running[step.id].at
                yield Asked(ask=Ask.INTERRUPTED, job=job.id, step=step.id, at=at)


def _one_go(step: object) -> bool:
    return bool(getattr(step, "in_one_go", False))

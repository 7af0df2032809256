"""Steps that are over, as a plan shows them: where they were told to have been."""

from collections.abc import Iterator

from scheduler.normalise import Normal
from scheduler.normalise.facts import NOTHING, Told, told_facts
from scheduler.normalise.order import journeys_of
from scheduler.reasons import Reason
from shared.book import Gate, GateKind, Job, Journey, Stage
from shared.plan import Placement, Unplaced


def told_steps(normal: Normal) -> tuple[list[Placement], list[Unplaced]]:
    """Return the placements of what is over, and what was never told of jobs that have left."""
    facts = told_facts(normal.book)
    gone = {one.job.id for one in normal.gone}
    left_out = {one.step for one in normal.unplaced}
    placements: list[Placement] = []
    unplaced: list[Unplaced] = []
    for job in normal.book.jobs:
        if job.id not in normal.planned:
            continue
        for step in job.steps:
            told = facts.get(step.id, NOTHING)
            if isinstance(step, Journey):
                continue
            if job.id in gone and told.finished is None:
                unplaced.append(Unplaced(job=job.id, step=step.id, code=Reason.GONE.value))
            elif step.id not in left_out:
                placements += _over(job, step, told)
        unplaced += _unknown_journeys(normal, job)
    return placements, unplaced


def _unknown_journeys(normal: Normal, job: Job) -> Iterator[Unplaced]:
    """Give the journeys that have left for a window that the book no longer has."""
    known = {trip.step for gone in normal.gone for trip in gone.trips}
    if any(gone.job.id == job.id for gone in normal.gone):
        for journey in journeys_of(job):
            if journey.id not in known:
                yield Unplaced(job=job.id, step=journey.id, code=Reason.NO_WINDOW.value)


def _over(job: Job, step: Stage | Gate, told: Told) -> Iterator[Placement]:
    """Give the placements of a step that is over, or of the rounds of an answer that are."""
    if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
        yield from _rounds(job, step, told)
    elif told.done is not None:
        yield Placement(
            job=job.id,
            step=step.id,
            start=told.began or told.done.at,
            end=told.done.at,
            way=told.way,
            people=told.people,
            place=told.place,
        )


def _rounds(job: Job, gate: Gate, told: Told) -> Iterator[Placement]:
    for number, fact in enumerate(told.answered, 1):
        shown = told.pictures[number - 1].at if number <= len(told.pictures) else fact.at
        start = min(shown, fact.at)
        yield Placement(job=job.id, step=gate.id, start=start, end=fact.at, round=number)
    if told.done is None or told.yes is not None:
        return
    at = told.done.at
    for number in range(len(told.answered) + 1, max(1 + gate.allow_no, len(told.answered) + 1) + 1):
        yield Placement(job=job.id, step=gate.id, start=at, end=at, round=number)

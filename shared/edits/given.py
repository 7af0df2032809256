"""Work given to people by name: one stage, or all that is left to do on a segment."""

from collections.abc import Collection, Iterable
from dataclasses import replace

from shared.book import Book, FactKind, Job, Person, Pin, SkillLevel, Stage, Way
from shared.edits.edited import Edited, found, label, of_job
from shared.edits.lookup import job_of_segment, job_of_step, person_of, segment_of
from shared.ids import PersonId, SegmentId, StepId

_BEGUN = frozenset({FactKind.DONE, FactKind.RUNNING, FactKind.GONE})


def give_stage(book: Book, step_id: StepId, people: Iterable[PersonId]) -> Edited:
    """Pin a stage to people instead of those it was pinned to or asked for; its times stay.

    Raises
    ------
    NoSuchThing
        If the book has no such stage or person.
    """
    job = job_of_step(book, step_id)
    stage = found(_stages(job), lambda each: each.id == step_id, step_id)
    names = tuple(person_of(book, person).name for person in people)
    made = _given(stage, tuple(people))
    what = label("give_stage", name=stage.name, people=", ".join(names))
    return of_job(book, _with(job, {made.id: made}), what)


def give_segment(book: Book, segment_id: SegmentId, people: Iterable[PersonId]) -> Edited:
    """Pin all stages left on a segment to those of some people who can do them.

    Stages that are done, run, or take in other segments too stay as they are, and so do those
    that none of the people can do.

    Raises
    ------
    NoSuchThing
        If the book has no such segment or person.
    """
    job, segment = job_of_segment(book, segment_id), segment_of(book, segment_id)
    hands = tuple(person_of(book, person) for person in people)
    made = {
        stage.id: _given(stage, seats)
        for stage in left_on(book, segment_id)
        if (seats := seated(stage, hands))
    }
    what = label("give_segment", name=segment.name, people=", ".join(p.name for p in hands))
    return of_job(book, _with(job, made), what)


def left_on(book: Book, segment_id: SegmentId) -> tuple[Stage, ...]:
    """Return the stages on a segment alone that have not begun, in the order of making."""
    begun = {fact.step for fact in book.facts if fact.kind in _BEGUN}
    job = job_of_segment(book, segment_id)
    alone = len(job.segments) == 1
    return tuple(
        stage
        for stage in _stages(job)
        if stage.id not in begun
        and (stage.segments == (segment_id,) or (alone and not stage.segments))
    )


def seated(stage: Stage, people: Collection[Person]) -> tuple[PersonId, ...]:
    """Return those of some people who find work in one way of a stage, the way with most of them.

    Who leads or can do a skill is seated first where that is asked for, then where help is enough;
    who helps, only there. Nobody is seated twice.
    """
    ways = [_seated(way, people) for way in stage.ways]
    return max(ways, key=len, default=())


def _seated(way: Way, people: Collection[Person]) -> tuple[PersonId, ...]:
    taken: list[PersonId] = []
    for need in way.needs:
        able = [p for p in people if p.id not in taken and _level(p, need.skill) is not None]
        can = [p.id for p in able if _level(p, need.skill) is not SkillLevel.HELPS]
        first = can[: need.can]
        rest = [p.id for p in able if p.id not in first]
        taken += [*first, *rest[: need.helps]]
    return tuple(p.id for p in people if p.id in taken)


def _level(person: Person, skill: str) -> SkillLevel | None:
    return next((each.level for each in person.skills if each.skill == skill), None)


def _given(stage: Stage, people: tuple[PersonId, ...]) -> Stage:
    pin = replace(stage.pin or Pin(), people=people)
    asked = tuple(person for person in stage.people if person in people)
    return replace(stage, pin=pin, people=asked)


def _stages(job: Job) -> tuple[Stage, ...]:
    return tuple(step for step in job.steps if isinstance(step, Stage))


def _with(job: Job, made: dict[StepId, Stage]) -> Job:
    return replace(job, steps=tuple(made.get(step.id, step) for step in job.steps))

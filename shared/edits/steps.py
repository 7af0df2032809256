"""Edits of steps: add, remove, reorder, copy, change, pin."""

from collections.abc import Set as AbstractSet
from dataclasses import replace

from shared.book import After, Book, Gate, Job, Journey, Pin, Stage, Step
from shared.edits.edited import Edited, fresh_id, inserted, job_of, label, moved, of_job
from shared.edits.lookup import job_of_step, person_of, step_ids, step_of
from shared.ids import JobId, PersonId, StepId


def add_step(book: Book, job_id: JobId, step: Step, at: int | None = None) -> Edited:
    """Add a step to a job, at a position in its list or at the end."""
    job = job_of(book, job_id)
    made = replace(job, steps=inserted(job.steps, step, at))
    return of_job(book, made, label("add_step", name=step.name))


def change_step(book: Book, step: Step) -> Edited:
    """Put a step's new self in the place of its old one, found by its id."""
    job = job_of_step(book, step.id)
    made = _own_hours(step_of(book, step.id), step)
    return of_job(book, _with(job, made), label("change_step", name=step.name))


def _own_hours(old: Step, new: Step) -> Step:
    """Give the new step; hours that somebody wrote are no longer what was learned from records."""
    if not (isinstance(old, Stage) and isinstance(new, Stage)):
        return new
    same = [way.hours for way in old.ways] == [way.hours for way in new.ways]
    is_learned = old.learned_factor is not None and new.learned_factor == old.learned_factor
    return replace(new, learned_factor=None) if is_learned and not same else new


def move_step(book: Book, step_id: StepId, to: int) -> Edited:
    """Put a step at another position in its job's list."""
    job, step = job_of_step(book, step_id), step_of(book, step_id)
    made = replace(job, steps=moved(job.steps, step, to))
    return of_job(book, made, label("move_step", name=step.name))


def remove_step(book: Book, step_id: StepId) -> Edited:
    """Remove a step; what followed it by name follows what it followed."""
    job, step = job_of_step(book, step_id), step_of(book, step_id)
    what = label("remove_step", name=step.name)
    book, made = without_steps(book, job, {step_id})
    return of_job(book, made, what)


def copy_step(book: Book, step_id: StepId) -> Edited:
    """Add a copy of a step right behind it, with an id of its own and without its pin."""
    job, step = job_of_step(book, step_id), step_of(book, step_id)
    made = replace(step, id=StepId(fresh_id(step.id, step_ids(book))))
    if not isinstance(made, Journey):
        made = replace(made, pin=None)
    steps = inserted(job.steps, made, job.steps.index(step) + 1)
    what = label("copy_step", name=step.name)
    return of_job(book, replace(job, steps=steps), what)


def pin_step(book: Book, step_id: StepId, pin: Pin | None) -> Edited:
    """Pin a stage or gate to a time, a day or people; None lifts its pin.

    Raises TypeError for a journey, which has no pin.
    """
    job, step = job_of_step(book, step_id), _pinnable(step_of(book, step_id))
    code = "unpin" if pin is None else "pin"
    made = _with(job, replace(step, pin=pin))
    return of_job(book, made, label(code, name=step.name))


def pin_person(book: Book, step_id: StepId, person_id: PersonId) -> Edited:
    """Pin one more person to a stage or gate; the rest of its pin stays."""
    job, step = job_of_step(book, step_id), _pinnable(step_of(book, step_id))
    person = person_of(book, person_id)
    old = step.pin or Pin()
    people = tuple(p for p in old.people if p != person_id)
    made = replace(step, pin=replace(old, people=(*people, person_id)))
    what = label("pin_person", name=step.name, person=person.name)
    return of_job(book, _with(job, made), what)


def unpin_person(book: Book, step_id: StepId, person_id: PersonId) -> Edited:
    """Take one person out of a pin; a pin that says nothing any more is lifted."""
    job, step = job_of_step(book, step_id), _pinnable(step_of(book, step_id))
    person = person_of(book, person_id)
    old = step.pin or Pin()
    left = replace(old, people=tuple(p for p in old.people if p != person_id))
    made = replace(step, pin=None if left == Pin() else left)
    what = label("unpin_person", name=step.name, person=person.name)
    return of_job(book, _with(job, made), what)


def _pinnable(step: Step) -> Stage | Gate:
    if isinstance(step, Journey):
        raise TypeError(step.id)
    return step


def _with(job: Job, step: Step) -> Job:
    return replace(job, steps=tuple(step if old.id == step.id else old for old in job.steps))


def without_steps(book: Book, job: Job, gone: AbstractSet[StepId]) -> tuple[Book, Job]:
    """Give book and job without some steps, without facts about them and names of them."""
    inherited = {step.id: step.after for step in job.steps if step.id in gone}
    steps = (step for step in job.steps if step.id not in gone)
    made = replace(job, steps=tuple(_relinked(step, inherited) for step in steps))
    facts = tuple(fact for fact in book.facts if fact.step not in gone)
    return replace(book, facts=facts), made


def _relinked(step: Step, inherited: dict[StepId, tuple[After, ...] | None]) -> Step:
    """Give a step that follows, instead of removed steps, what those followed by name."""
    if step.after is None or not any(a.step in inherited for a in step.after):
        return step
    after: list[After] = []
    for link in step.after:
        more = _followed(link, inherited)
        after += [a for a in more if a.step not in {b.step for b in after}]
    return replace(step, after=tuple(after) or None)


def _followed(link: After, inherited: dict[StepId, tuple[After, ...] | None]) -> tuple[After, ...]:
    if link.step not in inherited:
        return (link,)
    return tuple(deeper for a in inherited[link.step] or () for deeper in _followed(a, inherited))

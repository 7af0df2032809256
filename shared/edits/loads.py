"""The edit that makes stages of several pieces one load."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from shared.book import After, Book, Job, Stage, Step
from shared.edits.edited import Edited, label, of_jobs
from shared.edits.lookup import job_of_step
from shared.ids import JobId, SegmentId, StepId
from shared.loads import NoLoad, joined
from shared.order import afters_of, in_order

_Afters = Mapping[StepId, tuple[After, ...]]


def take_load(book: Book, step_ids: Sequence[StepId]) -> Edited:
    """Put one stage on all their segments in the place of several stages of one job.

    It comes after all that they came after; all that came after one of them comes after it.
    The list is put in an order that says so, and where no order can, the steps name what they
    come after. Raises NoSuchThing when no job has the first of them.

    Raises
    ------
    NoLoad
        If they can't be one: of other jobs, no stages, not alike, one after the other, pinned,
        or with facts told of them.
    """
    if not step_ids:
        raise NoLoad("load_of_one")
    job = job_of_step(book, step_ids[0])
    members = _members(book, job, step_ids)
    load = joined(members)
    gone = {member.id: load.id for member in members}
    made = _relinked(job, load, gone)
    jobs = tuple(made if each.id == job.id else _renamed(each, gone) for each in book.jobs)
    touched = _changed(book.jobs, jobs)
    what = label("take_load", name=load.name, count=len(load.segments))
    return of_jobs(book, jobs, touched, what)


def take_loads(book: Book, loads: Sequence[Sequence[StepId]]) -> Edited:
    """Take several loads of one job, coat by coat, in one edit.

    Raises
    ------
    NoLoad
        If one of them can't be taken, or none is named.
    """
    if not loads:
        raise NoLoad("load_of_one")
    made, touched, pieces = book, set[JobId](), 0
    for steps in loads:
        one = take_load(made, steps)
        made, touched = one.book, touched | one.changed.jobs
        pieces = max(pieces, len({*_segments(made, steps)}))
    name = job_of_step(book, loads[0][0]).name
    what = label("take_loads", name=name, count=pieces)
    return of_jobs(book, made.jobs, touched, what)


def _segments(book: Book, steps: Sequence[StepId]) -> Iterable[SegmentId]:
    return (
        segment
        for job in book.jobs
        for step in job.steps
        if step.id in steps
        for segment in step.segments
    )


def _changed(before: Iterable[Job], after: Iterable[Job]) -> list[JobId]:
    return [new.id for old, new in zip(before, after, strict=True) if old != new]


def _members(book: Book, job: Job, step_ids: Sequence[StepId]) -> list[Stage]:
    """Return the stages in the order of the job's list."""
    wanted = set(step_ids)
    found = [step for step in job.steps if step.id in wanted]
    if len(found) < len(wanted):
        raise NoLoad("load_other_jobs", step=step_ids[0])
    for fact in book.facts:
        if fact.step in wanted:
            raise NoLoad("load_begun", step=fact.step)
    stages = [step for step in found if isinstance(step, Stage)]
    if len(stages) < len(found):
        raise NoLoad("load_no_stage", step=next(s.id for s in found if s not in stages))
    return stages


def _relinked(job: Job, load: Stage, gone: Mapping[StepId, StepId]) -> Job:
    """Return the job with the load in the place of the first of its stages."""
    wanted = _wanted(job, load, gone)
    named = _named(job, gone)
    steps = [
        load if step.id == load.id else _same_people(step, gone)
        for step in job.steps
        if step.id == load.id or step.id not in gone
    ]
    try:
        ordered = in_order(replace(job, steps=tuple(steps)), wanted)
    except ValueError:
        raise NoLoad("load_in_a_ring", step=load.id) from None
    bare = tuple(
        replace(step, after=wanted[step.id] if step.id in named else None) for step in ordered
    )
    told = afters_of(replace(job, steps=bare))
    return replace(job, steps=tuple(_told(step, told, wanted) for step in bare))


def _wanted(
    job: Job, load: Stage, gone: Mapping[StepId, StepId]
) -> dict[StepId, tuple[After, ...]]:
    """Return what each step comes after once the load is there."""
    before = afters_of(job)
    found: dict[StepId, tuple[After, ...]] = {}
    for step in job.steps:
        own = gone.get(step.id, step.id)
        links = tuple(
            replace(after, step=gone.get(after.step, after.step)) for after in before[step.id]
        )
        if own == load.id and any(after.step == load.id for after in links):
            raise NoLoad("load_in_a_ring", step=load.id)
        found[own] = _merged((*found.get(own, ()), *links))
    return found


def _merged(links: Iterable[After]) -> tuple[After, ...]:
    """Return links with those of one step in one: the longest least wait, the shortest greatest."""
    found: dict[tuple[StepId, bool], After] = {}
    for link in links:
        key = (link.step, link.from_start)
        other = found.get(key)
        if other is not None:
            mosts = [each.most_hours for each in (link, other) if each.most_hours is not None]
            least = max(link.least_hours, other.least_hours)
            link = replace(link, least_hours=least, most_hours=min(mosts, default=None))
        found[key] = link
    return tuple(found.values())


def _named(job: Job, gone: Mapping[StepId, StepId]) -> set[StepId]:
    """Return the steps that name what they come after; the load, if one of its stages does."""
    return {gone.get(step.id, step.id) for step in job.steps if step.after is not None}


def _told(step: Step, told: _Afters, wanted: _Afters) -> Step:
    """Return a step that names what it comes after if the list would say something else."""
    by_list = {after.step for after in told[step.id]}
    if step.after is not None or by_list == {after.step for after in wanted[step.id]}:
        return step
    return replace(step, after=wanted[step.id])


def _same_people(step: Step, gone: Mapping[StepId, StepId]) -> Step:
    if not isinstance(step, Stage) or step.same_people_as is None:
        return step
    same = gone.get(step.same_people_as, step.same_people_as)
    return step if same == step.same_people_as else replace(step, same_people_as=same)


def _renamed(job: Job, gone: Mapping[StepId, StepId]) -> Job:
    """Return another job whose steps come after the load where they came after its stages."""
    steps = tuple(_after_load(step, gone) for step in job.steps)
    return (
        job
        if all(new is old for new, old in zip(steps, job.steps, strict=True))
        else (replace(job, steps=steps))
    )


def _after_load(step: Step, gone: Mapping[StepId, StepId]) -> Step:
    if step.after is None or not any(after.step in gone for after in step.after):
        return step
    links = (replace(after, step=gone.get(after.step, after.step)) for after in step.after)
    return replace(step, after=_merged(links))

"""Edits with ways of making: write one into a job for some segments, copy one into the book."""

from collections.abc import Collection
from dataclasses import replace

from shared.book import After, Book, Gate, GateKind, Job, Journey, Route, Segment, Step
from shared.edits.edited import Changed, Edited, found, fresh_id, job_of, label, of_job
from shared.edits.lookup import step_ids
from shared.ids import JobId, RouteId, SegmentId, StepId
from shared.order import afters_of
from shared.routes import USUAL_NAMES, Names, bound, copied_steps
from shared.routes.learned import with_learned
from shared.routes.own import with_own_figures
from shared.trade.own import looked_up


def take_route(
    book: Book,
    job_id: JobId,
    segment_ids: Collection[SegmentId],
    route: Route,
    *,
    options: Collection[str] = (),
    names: Names = USUAL_NAMES,
) -> Edited:
    """Write a way of making into a job for some of its segments.

    Hours grow with the segments' sizes and go by their classes, by the workshop's own figures and
    by what it has taken from its records; steps get ids of their own, and none of them waits for
    other segments. Where the job has a loading or a journey already, the segments go with it; else
    a loading and journey of all its segments is of the whole job.
    """
    job = job_of(book, job_id)
    chosen = tuple(_segment(job, wanted) for wanted in dict.fromkeys(segment_ids))
    taken = step_ids(book)

    def named(step: str, segment: Segment | None) -> StepId:
        owner = job.id if segment is None else segment.id
        fresh = StepId(fresh_id(f"{owner}.{step}", taken))
        taken.add(fresh)
        return fresh

    shop = book.workshop
    own = bound(book, with_learned(with_own_figures(route, shop), shop), names)
    steps = copied_steps(own, chosen, options, named, looked_up(book.workshop)).steps
    made = _with_steps(job, chosen, steps)
    over = {segment.id for segment in chosen}
    segments = tuple(replace(s, route=route.id) if s.id in over else s for s in made.segments)
    what = label("take_route", name=job.name, route=route.name)
    return of_job(book, replace(made, segments=segments), what)


def copy_route(book: Book, route: Route, names: Names = USUAL_NAMES) -> Edited:
    """Copy a way of making into the book, where the workshop can change it.

    One of the program's keeps its id, and from then on the book's is the one that is meant.
    """
    new_id = RouteId(fresh_id(route.id, (each.id for each in book.routes)))
    own = replace(bound(book, with_own_figures(route, book.workshop), names), id=new_id)
    made = replace(book, routes=(*book.routes, own), revision=book.revision + 1)
    what = label("copy_route", name=route.name)
    return Edited(book=made, changed=Changed(workshop=True), label=what)


def _segment(job: Job, wanted: SegmentId) -> Segment:
    return found(job.segments, lambda each: each.id == wanted, wanted)


def _with_steps(job: Job, chosen: tuple[Segment, ...], steps: tuple[Step, ...]) -> Job:
    """Give the job with new steps before its loading; its loading and journey serve them too."""
    loading = next((step for step in job.steps if _is_loading(step)), None)
    journey = next((step for step in job.steps if isinstance(step, Journey)), None)
    if {segment.id for segment in chosen} == {segment.id for segment in job.segments}:
        steps = tuple(replace(s, segments=()) if _leaves(s) else s for s in steps)
    loadings = tuple(step for step in steps if _is_loading(step)) if loading else ()
    journeys = () if journey else tuple(step for step in steps if isinstance(step, Journey))
    new = tuple(s for s in steps if s not in loadings and not isinstance(s, Journey))
    at = next((i for i, s in enumerate(job.steps) if s in (loading, journey)), len(job.steps))
    tail = tuple(
        _joining(job, step, chosen, new, loadings) if step in (loading, journey) else step
        for step in job.steps[at:]
    )
    return replace(job, steps=(*job.steps[:at], *new, *tail, *journeys))


def _joining(
    job: Job,
    step: Step,
    chosen: tuple[Segment, ...],
    new: tuple[Step, ...],
    loadings: tuple[Step, ...],
) -> Step:
    """Give a loading or journey of the job that takes more segments along."""
    over = step.segments
    if over:
        over = tuple(dict.fromkeys((*over, *(segment.id for segment in chosen))))
    made = replace(step, segments=over)
    if not _is_loading(step):
        return made
    return replace(made, after=_waits(job, step, chosen, new, loadings))


def _waits(
    job: Job,
    step: Step,
    chosen: tuple[Segment, ...],
    new: tuple[Step, ...],
    loadings: tuple[Step, ...],
) -> tuple[After, ...] | None:
    """Give what the job's loading waits for now: as before, and for the new steps."""
    waits = tuple(wait for loading in loadings for wait in loading.after or ())
    if step.after is None and not waits:
        return None
    lasts = dict.fromkeys(_last(new, segment.id) for segment in chosen)
    waits += tuple(After(step=last) for last in lasts if last is not None)
    before = afters_of(job)[step.id]
    kept = {wait.step: wait for wait in reversed((*before, *waits))}
    return tuple(reversed(kept.values()))


def _last(steps: tuple[Step, ...], segment: SegmentId) -> StepId | None:
    return next((step.id for step in reversed(steps) if segment in step.segments), None)


def _leaves(step: Step) -> bool:
    return _is_loading(step) or isinstance(step, Journey)


def _is_loading(step: Step) -> bool:
    return isinstance(step, Gate) and step.gate is GateKind.LOADING

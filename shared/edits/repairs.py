"""Again from here: the repairs that a mishap calls for, from a stage of a segment on."""

from decimal import Decimal
from fractions import Fraction

from shared.book import Book, Job, Stage
from shared.edits.edited import Edited, found, label, of_job
from shared.edits.lookup import job_of_step, segment_of
from shared.edits.redo import NotNow, Past, Shares, begun_stages, brought_in, past_of, redone
from shared.ids import SegmentId, StepId
from shared.order import afters_of, in_order, touched
from shared.repairs import Cause, Repair, repair_of


def again_from(
    book: Book,
    step_id: StepId,
    cause: Cause,
    *,
    segment: SegmentId | None = None,
    percent: Decimal | None = None,
) -> Edited:
    """Bring in repairs of a segment from a stage on: what was done since then is done again.

    Which kinds of stages, and with what share of their hours, the table of the cause says;
    percent takes the place of its shares. segment: needed where the stage works on several.

    Raises
    ------
    NoSuchThing
        When no job has the stage.
    NotNow
        "no_stage", "on_which_segment", "not_on_segment", "not_begun", "loaded_already", or
        "nothing_again" where the cause touches nothing that was done.
    """
    job = job_of_step(book, step_id)
    stage = found(job.steps, lambda step: step.id == step_id, step_id)
    if not isinstance(stage, Stage):
        raise NotNow("no_stage", step=stage.name)
    piece = _piece(job, stage, segment)
    past = past_of(book, job, piece)
    if stage.id not in past.begun:
        raise NotNow("not_begun", step=stage.name)
    repair = repair_of(cause)
    again = _shares(job, stage, past, repair, percent)
    if not again:
        raise NotNow("nothing_again", step=stage.name, cause=cause.value)
    made = brought_in(job, piece, past, redone(book, job, piece, past, again, repair.first))
    facts = {"segment": segment_of(book, piece).name, "cause": cause.value}
    return of_job(book, made, label("again", name=stage.name, **facts))


def _piece(job: Job, stage: Stage, wanted: SegmentId | None) -> SegmentId:
    pieces = touched(job, stage)
    if wanted is not None:
        if wanted not in pieces:
            piece = next((each.name for each in job.segments if each.id == wanted), wanted)
            raise NotNow("not_on_segment", step=stage.name, segment=piece)
        return wanted
    if len(pieces) > 1:
        names = (piece.name for piece in job.segments if piece.id in pieces)
        raise NotNow("on_which_segment", step=stage.name, segments=", ".join(names))
    return next(iter(pieces))


def _shares(job: Job, stage: Stage, past: Past, repair: Repair, percent: Decimal | None) -> Shares:
    """Return the stages from one on that have begun and are of a kind to be done again."""
    by_kind = {again.kind: again.percent for again in repair.again}
    if percent is not None:
        by_kind = dict.fromkeys(by_kind, percent)
    afters = afters_of(job)
    reached = {stage.id}
    for step in in_order(job, afters):
        if any(after.step in reached for after in afters[step.id]):
            reached.add(step.id)
    return [
        (each, Fraction(by_kind[each.kind]) / 100)
        for each in begun_stages(job, past)
        if each.id in reached and each.kind in by_kind
    ]

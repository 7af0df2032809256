"""After the yes: what changes on a segment, and the work that this brings in."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from shared.book import Book, Gate, GateKind, Job, Kind, Stage, Step
from shared.edits.edited import Edited, fresh_id, label, of_job
from shared.edits.lookup import job_of_segment, segment_of, step_ids
from shared.edits.redo import AGAIN, NotNow, Past, Redone, begun_stages, brought_in, past_of, redone
from shared.ids import SegmentId, StepId
from shared.order import touched
from shared.repairs import Cause, repair_of

SAID = "{name}: {what}"
"""What a step is called that says what changes."""


def change_after_yes(
    book: Book, segment_id: SegmentId, what: str, percent: Decimal, *, answer: bool = False
) -> Edited:
    """Mark that a share of a segment changes after the yes: what was done to it is done again.

    Its skin comes off first where it is laminated. Each stage that has begun comes in once more
    with that share of its hours; with `answer`, a new answer behind the carving.

    Raises
    ------
    NoSuchThing
        When no job has the segment.
    NotNow
        "no_yes_yet", "nothing_begun" or "loaded_already".
    """
    job, segment = job_of_segment(book, segment_id), segment_of(book, segment_id)
    past = past_of(book, job, segment_id)
    gate = _answered(job, segment_id, past)
    stages = begun_stages(job, past)
    if not stages:
        raise NotNow("nothing_begun", segment=segment.name)
    stages.sort(key=lambda stage: stage.kind is not Kind.FOAM)
    again = [(stage, Fraction(percent) / 100) for stage in stages]
    made = redone(book, job, segment_id, past, again, repair_of(Cause.CHANGE).first)
    made = _saying(made, what)
    if answer:
        made = made.with_gate(_answer_again(book, made, gate, segment_id))
    told = label("change_after_yes", name=segment.name, what=what, percent=f"{percent:f}")
    return of_job(book, brought_in(job, segment_id, past, made), told)


def _answered(job: Job, segment: SegmentId, past: Past) -> Gate | None:
    """Return the last answer over a segment that was a yes, None where nobody is asked at all."""
    gates = [step for step in job.steps if _is_answer(step) and segment in touched(job, step)]
    found = [gate for gate in gates if isinstance(gate, Gate) and gate.id in past.begun]
    if gates and not found:
        raise NotNow("no_yes_yet", step=gates[0].name)
    return found[-1] if found else None


def _is_answer(step: Step) -> bool:
    return isinstance(step, Gate) and step.gate is GateKind.ANSWER


def _saying(made: Redone, what: str) -> Redone:
    """Return the steps, the first of foam (else the first of all) saying what changes."""
    foam = [s.id for s in made.steps if isinstance(s, Stage) and s.kind is Kind.FOAM]
    tells = foam[0] if foam else made.steps[0].id
    steps = (
        replace(step, name=SAID.format(name=step.name, what=what)) if step.id == tells else step
        for step in made.steps
    )
    return replace(made, steps=tuple(steps))


def _answer_again(book: Book, made: Redone, gate: Gate | None, segment: SegmentId) -> Gate:
    """Return an answer over one segment, like the one that was a yes."""
    taken = step_ids(book) | {step.id for step in made.steps}
    like = gate or Gate(id=StepId(f"{segment}.answer"), name="answer", gate=GateKind.ANSWER)
    return replace(
        like,
        id=StepId(fresh_id(f"{like.id}-again" if gate else like.id, taken)),
        name=AGAIN.format(name=like.name) if gate else like.name,
        segments=(segment,),
        not_before=None,
        pin=None,
        after=None,
    )

"""A yes with changes that is planned for: what it asks for stands behind the answer."""

from dataclasses import replace

from shared.book import Act, After, Gate, GateKind, Job, Kind, Stage, Step
from shared.edits.edited import fresh_id
from shared.ids import StepId


def with_changes(job: Job) -> Job:
    """Return a job in which each answer with changes is followed by the work that they ask for.

    The answer is still one yes; what comes after it waits for the changes instead.
    """
    taken = {step.id for step in job.steps}
    made: list[Step] = []
    behind: dict[StepId, StepId] = {}
    for step in job.steps:
        made.append(_waiting(step, behind))
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER and step.changes is not None:
            changes = _changes(step, taken)
            behind[step.id] = changes.id
            made.append(changes)
    return replace(job, steps=tuple(made))


def _changes(gate: Gate, taken: set[StepId]) -> Stage:
    assert gate.changes is not None
    name = StepId(fresh_id(f"{gate.id}.changes", taken))
    taken.add(name)
    return Stage(
        id=name,
        name=f"changes ({gate.name})",
        kind=Kind.FOAM,
        segments=gate.segments,
        ways=gate.changes.ways,
        after=(After(step=gate.id),),
        does=(Act.DUST,),
    )


def _waiting(step: Step, behind: dict[StepId, StepId]) -> Step:
    """Return a step that waits for changes where it waited for their answer."""
    if step.after is None:
        return step
    after = tuple(replace(each, step=behind.get(each.step, each.step)) for each in step.after)
    return replace(step, after=after)

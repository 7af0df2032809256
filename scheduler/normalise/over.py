"""Steps that are over: when they began and ended, and from when on they have cured."""

from collections.abc import Iterable

from scheduler.normalise.frame import Frame
from scheduler.normalise.limits import Over, Reached
from shared import book
from shared.as_told import AsTold
from shared.book import Fact, Gate, Job, Journey
from shared.ids import StepId


def over_elsewhere(frame: Frame, planned: Iterable[Job]) -> dict[StepId, Reached]:
    """Return the steps of jobs that are not planned which are done."""
    names = {job.id for job in planned}
    steps = [step for job in frame.book.jobs if job.id not in names for step in job.steps]
    return {
        step.id: over_of(frame, step, done)
        for step in steps
        if not isinstance(step, Journey) and (done := frame.told(step.id).done) is not None
    }


def over_of(frame: Frame, step: book.Stage | Gate, done: Fact) -> Over:
    """Return a step that is done; its cure counts from now where only the sheet says so."""
    told = frame.told(step.id)
    start = done.at if told.running is None else min(told.running.at, done.at)
    cures_from = done.at
    if isinstance(done, AsTold):
        frame.reads.now = True
        cures_from = max(done.at, frame.now)
    ready = frame.climates.cured(step, told.place, cures_from)
    return Over(start=start, end=done.at, ready=ready, place=told.place)

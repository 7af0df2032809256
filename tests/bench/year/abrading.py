"""A recoat time that has run out: abrading before the next coat becomes a step of its job."""

from dataclasses import replace

from shared.book import Job, Kind, Stage, Step
from shared.ids import StepId
from tests.bench.year.commissions import abraded_way
from tests.bench.year.floor import Floor
from tests.bench.year.tasks import tasks_of


def abrade_before(floor: Floor, coat: StepId) -> None:
    """Put the abrading before a coat, on the floor and in its job."""
    job = floor.jobs[floor.tasks[coat].job]
    step = next(each for each in job.steps if each.id == coat)
    assert isinstance(step, Stage)
    made = Stage(
        id=StepId(f"{coat}.abrade"),
        name="abrade",
        kind=Kind.FILL,
        segments=step.segments,
        ways=(abraded_way(),),
        takes_off=True,
    )
    put(floor, with_step(job, made, before=coat))


def with_step(job: Job, step: Step, *, before: StepId) -> Job:
    """Return a job with one step more, right before another."""
    at = next(position for position, each in enumerate(job.steps) if each.id == before)
    return replace(job, steps=(*job.steps[:at], step, *job.steps[at:]))


def put(floor: Floor, job: Job) -> None:
    """Put a job as it is now onto the floor."""
    floor.add(job, tasks_of(job))


def run_out(floor: Floor) -> list[StepId]:
    """Return the coats whose recoat time has run out and that nobody has begun with."""
    return [
        task.id
        for task in floor.open_tasks()
        if floor.ready(task) is not None and floor.recoat_by(task) < floor.now
    ]

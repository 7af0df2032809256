"""Every step of every planned job stands in the plan once, and nothing else does.

A step is placed, or stands as unplaced with the code of a reason. An answer is placed round by
round, with the rework between two rounds where the book has some, and behind a yes with changes
with these, where the book has some and they are still to be done; an abrade stage may be placed
before a coat that the book lets be abraded.
"""

from collections import Counter
from collections.abc import Iterator

from scheduler.check.tell import breach, of_step
from scheduler.check.world import Slot, World, is_answer
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Gate, Job, Journey, Step
from shared.plan import Placement


def shape(world: World) -> Iterator[Breach]:
    """Give what is missing, doubled, or not of this book."""
    yield from _unknown_jobs(world)
    wanted = [(job, step, *_wanted(world, job, step)) for job in world.jobs for step in job.steps]
    known = {slot for _, _, must, may in wanted for slot in (*must, *may)}
    yield from _strangers(world, known)
    yield from _unknown_things(world)
    counts = _counts(world)
    for job, step, must, may in wanted:
        yield from _step(job, step, must, may, counts)


def _counts(world: World) -> Counter[Slot]:
    plan = world.plan
    return Counter(
        [
            *((each.step, each.round, each.part) for each in plan.placements),
            *((each.step, 0, "trip") for each in plan.trips),
            *((each.step, 0, "unplaced") for each in plan.unplaced),
        ]
    )


def _step(
    job: Job, step: Step, must: list[Slot], may: list[Slot], counts: Counter[Slot]
) -> Iterator[Breach]:
    unplaced = counts[step.id, 0, "unplaced"]
    for _, number, part in must:
        count = counts[step.id, number, part] + unplaced
        told = "" if part == "trip" else part
        if count == 0:
            yield of_step(Rule.MISSING_STEP, job, step, part=told, round=number)
        elif count > 1:
            yield of_step(Rule.TWICE, job, step, part=told, round=number, count=count)
    for _, number, part in may:
        count = counts[step.id, number, part]
        if count > 1:
            yield of_step(Rule.TWICE, job, step, part=part, round=number, count=count)


def _wanted(world: World, job: Job, step: Step) -> tuple[list[Slot], list[Slot]]:
    """Return what must and what may be placed of a step."""
    if isinstance(step, Journey):
        return [(step.id, 0, "trip")], []
    if not (isinstance(step, Gate) and is_answer(step)):
        may_abrade = bool(world.abrade_ways(job, step))
        return [(step.id, 0, "")], [(step.id, 0, "abrade")] if may_abrade else []
    count = rounds_count(world, step)
    must: list[Slot] = [(step.id, number, "") for number in range(1, count + 1)]
    may: list[Slot] = []
    if step.changes is not None and step.changes.ways and world.facts.asked_changes(step.id):
        (may if world.is_changed(step) else must).append((step.id, count, "changes"))
    if step.rework is None or not step.rework.ways:
        return must, may
    between: list[Slot] = [(step.id, number, "rework") for number in range(1, count)]
    past = [slot for slot in between if slot[1] < world.facts.rounds_begun(step.id)]
    return must + [slot for slot in between if slot not in past], may + past


def rounds_count(world: World, gate: Gate) -> int:
    """Return how many rounds of an answer a plan holds: those planned, or as they came."""
    answered = len(world.facts.answers(gate.id))
    if world.facts.said_yes(gate.id):
        return answered
    return max(1 + gate.allow_no, answered + 1)


def _strangers(world: World, known: set[Slot]) -> Iterator[Breach]:
    """Give placements of what isn't to be placed."""
    owner = {step_id: job.id for step_id, (job, _) in world.steps.items()}
    for placed in world.plan.placements:
        slot = (placed.step, placed.round, placed.part)
        if slot not in known or owner[placed.step] != placed.job:
            yield breach(Rule.UNKNOWN_STEP, placed.step, **_slot(world, placed))
    for trip in world.plan.trips:
        if (trip.step, 0, "trip") not in known or owner[trip.step] != trip.job:
            yield breach(Rule.UNKNOWN_STEP, trip.step, **_names(world, trip.step))
    for unplaced in world.plan.unplaced:
        if owner.get(unplaced.step) != unplaced.job:
            yield breach(Rule.UNKNOWN_STEP, unplaced.step, **_names(world, unplaced.step))
        if not unplaced.code:
            yield breach(Rule.NO_REASON, unplaced.step, **_names(world, unplaced.step))


def _slot(world: World, placed: Placement) -> dict[str, str | int]:
    return {**_names(world, placed.step), "part": placed.part, "round": placed.round}


def _names(world: World, step_id: str) -> dict[str, str]:
    found = ((job, step) for job in world.book.jobs for step in job.steps if step.id == step_id)
    job, step = next(found, (None, None))
    return (
        {"step": step_id}
        if job is None or step is None
        else {
            "job": job.name,
            "step": step.name,
        }
    )


def _unknown_jobs(world: World) -> Iterator[Breach]:
    for job, count in Counter(world.plan.jobs).items():
        if job not in world.all_jobs:
            yield breach(Rule.UNKNOWN_THING, job, kind="job", id=job)
        elif count > 1:
            yield breach(Rule.TWICE, job, job=world.all_jobs[job].name, count=count)


def _unknown_things(world: World) -> Iterator[Breach]:
    for placed in world.plan.placements:
        things = [
            *(("person", person) for person in placed.people if person not in world.people),
            *(("equipment", thing) for thing in placed.equipment if thing not in world.equipment),
        ]
        if placed.place is not None and placed.place not in world.places:
            things.append(("place", placed.place))
        for kind, name in things:
            facts = _slot(world, placed)
            yield breach(Rule.UNKNOWN_THING, placed.step, kind=kind, id=name, **facts)

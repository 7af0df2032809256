"""What was told keeps its time and, while it runs, its people.

A done step ends when it was told to have ended; a running one began when it was told to have
begun; pictures, answers and a lorry that has gone likewise. An instant off the grid may stand
as it was told or at a quarter beside it.
"""

from collections.abc import Iterator

from scheduler.check.clock import QUARTER, down, iso, seconds, up
from scheduler.check.tell import names_of, of_step, of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Fact, FactKind


def told(world: World) -> Iterator[Breach]:
    """Give what stands otherwise than it was told."""
    for task in world.tasks.values():
        if task.placement.part:
            continue
        done = world.facts.done(task.step.id)
        if not task.work:
            yield from _answer(world, task)
        elif done is not None:
            yield from _kept(task, task.end, done)
        elif task.running is not None:
            yield from _kept(task, task.start, task.running)
            yield from _people(world, task, task.running)
    yield from _trips(world)


def _kept(task: Task, planned: int, fact: Fact) -> Iterator[Breach]:
    if not _is_as_told(planned, fact):
        yield of_task(Rule.FACT_TIME, task, **_facts(planned, fact))


def _is_as_told(planned: int, fact: Fact) -> bool:
    at = seconds(fact.at)
    return down(at) * QUARTER <= planned <= up(at) * QUARTER


def _facts(planned: int, fact: Fact) -> dict[str, str]:
    return {"fact": fact.kind.value, "planned": iso(planned), "told": iso(seconds(fact.at))}


def _people(world: World, task: Task, fact: Fact) -> Iterator[Breach]:
    if fact.people and set(fact.people) != set(task.placement.people):
        names = {person.id: person.name for person in world.book.people}
        yield of_task(
            Rule.FACT_PEOPLE,
            task,
            people=names_of(task.placement.people, names),
            told=names_of(fact.people, names),
        )


def _answer(world: World, task: Task) -> Iterator[Breach]:
    index = task.placement.round - 1
    pictures = world.facts.in_order(task.step.id, FactKind.PICTURES)
    answers = world.facts.answers(task.step.id)
    if 0 <= index < len(pictures):
        yield from _kept(task, task.start, pictures[index])
    if 0 <= index < len(answers):
        yield from _kept(task, task.end, answers[index])


def _trips(world: World) -> Iterator[Breach]:
    for step_id, (job, journey, trip) in world.trips.items():
        gone, done = world.facts.last(step_id, FactKind.GONE), world.facts.done(step_id)
        for planned, fact in ((trip.start, gone), (trip.end, done)):
            if fact is not None and not _is_as_told(seconds(planned), fact):
                yield of_step(Rule.FACT_TIME, job, journey, **_facts(seconds(planned), fact))

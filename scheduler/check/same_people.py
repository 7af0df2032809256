"""A stage that wants the same people as another is done by just those people.

Of what is done or under way counts who was named for it; where nobody was, or both have begun,
there is nothing to keep.
"""

from collections.abc import Iterator

from scheduler.check.tell import names_of, of_task
from scheduler.check.work_needed import needed_quarters
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import FactKind, Stage
from shared.ids import PersonId, StepId

_Team = frozenset[PersonId]


def same_people(world: World) -> Iterator[Breach]:
    """Give stages that are done by other people than those of their pair."""
    names = {person.id: person.name for person in world.book.people}
    for (step, _, part), task in world.tasks.items():
        if part or not isinstance(task.step, Stage) or task.step.same_people_as is None:
            continue
        other = world.any_step(task.step.same_people_as)
        if not isinstance(other, Stage) or other.id == step or _has_begun(world, step, other.id):
            continue
        mine, others = _people(world, step), _people(world, other.id)
        if mine is not None and others is not None and mine != others:
            yield of_task(
                Rule.SAME_PEOPLE,
                task,
                people=names_of(sorted(mine), names),
                other=other.name,
                told=names_of(sorted(others), names),
            )


def _has_begun(world: World, *steps: StepId) -> bool:
    """Return whether all of some steps are done or under way."""
    return all(world.facts.done(step) or world.facts.running(step) for step in steps)


def _people(world: World, step: StepId) -> _Team | None:
    """Return who did or does a step, None where nobody knows or nobody has to."""
    if _has_begun(world, step):
        facts = (world.facts.last(step, kind) for kind in (FactKind.DONE, FactKind.RUNNING))
        told = next((fact.people for fact in facts if fact is not None and fact.people), ())
        return frozenset(told) if told and world.people.keys() >= set(told) else None
    task = world.tasks.get((step, 0, ""))
    if task is None or not world.people.keys() >= set(task.placement.people):
        return None
    return frozenset(task.placement.people) if needed_quarters(world, task) else None

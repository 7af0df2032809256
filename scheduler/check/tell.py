"""Breaches: a rule's code with the names and numbers its sentence needs."""

from collections.abc import Iterable

from scheduler.check.world import Task
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Job, Step
from shared.ids import PersonId

Fact = str | int | None


def breach(rule: Rule, where: str, **facts: Fact) -> Breach:
    """Return a breach that is about no single step."""
    common: dict[str, Fact] = {"job": None, "step": None, "part": "", "round": 0}
    return Breach(rule=rule.value, where=where, facts=tuple((common | facts).items()))


def of_step(rule: Rule, job: Job, step: Step, **facts: Fact) -> Breach:
    """Return a breach of a step."""
    return breach(rule, step.id, job=job.name, step=step.name, **facts)


def of_task(rule: Rule, task: Task, **facts: Fact) -> Breach:
    """Return a breach of something that is placed."""
    placed = task.placement
    return of_step(rule, task.job, task.step, part=placed.part, round=placed.round, **facts)


def listed(names: Iterable[str]) -> str:
    """Return names as one text."""
    return ", ".join(names)


def names_of(people: Iterable[PersonId], names: dict[PersonId, str]) -> str:
    """Return people's names as one text, the id of somebody unknown."""
    return listed(names.get(person, person) for person in people)

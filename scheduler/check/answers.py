"""An answer: due when the book says, round after round, with the rework between.

Pictures go out at the start of a round. The answer is due at the gate's hour on the n-th of the
working days after that day of whoever answers (the client, unless the gate names somebody), both
read in their zone, and never before the pictures. One that is overdue is awaited for the end of
their next working day.
"""

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from scheduler.check.clock import QUARTER, day_of, iso, seconds, up
from scheduler.check.hours import closed_days
from scheduler.check.tell import of_task
from scheduler.check.world import Task, World, is_answer
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Client, FactKind, Gate, Job
from shared.worktime import (
    DayCalendar,
    HolidayRule,
    local_instant,
    next_working_day,
    nth_working_day_after,
)


def answers(world: World) -> Iterator[Breach]:
    """Give answers expected at another time than they are due, and rounds out of order."""
    for job, step in world.steps.values():
        if isinstance(step, Gate) and is_answer(step):
            rounds = _rounds(world, step)
            for task in rounds:
                yield from _due(world, job, step, task)
            yield from _in_turn(world, step, rounds)
            yield from _changed(world, step, rounds)


def _rounds(world: World, gate: Gate) -> list[Task]:
    return sorted(world.tasks_at(gate.id, ""), key=lambda task: task.placement.round)


def _due(world: World, job: Job, gate: Gate, task: Task) -> Iterator[Breach]:
    if task.done or task.placement.round <= len(world.facts.answers(gate.id)):
        return
    asked = gate.answered_by or job.client
    due = due_at(asked, gate, task.start)
    shown = len(world.facts.in_order(gate.id, FactKind.PICTURES))
    if task.placement.round <= shown and due < world.now:
        today = day_of(world.now, asked.zone)
        due = _at_hour(asked, gate, next_working_day(_days(asked), today))
    if task.end != up(due) * QUARTER:
        yield of_task(Rule.ANSWER, task, end=iso(task.end), due=iso(due))


def due_at(client: Client, gate: Gate, pictures: int) -> int:
    """Return when the answer to pictures is due."""
    count = client.answer_days if gate.answer_days is None else gate.answer_days
    day = nth_working_day_after(_days(client), day_of(pictures, client.zone), count)
    return max(pictures, _at_hour(client, gate, day))


def _days(client: Client) -> DayCalendar:
    return DayCalendar(
        holidays=HolidayRule(
            country=client.country,
            subdivision=client.subdivision,
            categories=client.holiday_categories,
        ),
        closed=closed_days(client.closures),
    )


def _at_hour(client: Client, gate: Gate, day: date) -> int:
    return seconds(local_instant(day, gate.answer_by, client.zone, opening=False))


def _in_turn(world: World, gate: Gate, rounds: list[Task]) -> Iterator[Breach]:
    begun = world.facts.rounds_begun(gate.id)
    for earlier, later in pairwise(rounds):
        rework = world.tasks.get((gate.id, earlier.placement.round, "rework"))
        ready = earlier.end
        if rework is not None and not rework.done:
            yield from _not_before(rework, earlier.end)
            ready = max(ready, rework.end)
        if later.placement.round > begun:
            yield from _not_before(later, ready)


def _changed(world: World, gate: Gate, rounds: list[Task]) -> Iterator[Breach]:
    """Give changes that begin before the yes that asked for them."""
    changes = world.changes_of(gate.id)
    if changes is not None and not changes.done and rounds:
        yield from _not_before(changes, rounds[-1].end)


def _not_before(task: Task, ready: int) -> Iterator[Breach]:
    if task.start < ready:
        yield of_task(Rule.ROUND, task, start=iso(task.start), ready=iso(ready))

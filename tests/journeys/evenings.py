"""An evening for tests: a day on which many pieces of work end by the sheet."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, time

from shared.as_told import as_told
from shared.book import Answer, Book, Fact, FactKind, Gate, GateKind, Journey
from shared.edits import tell_plan
from shared.ids import FactId, StepId
from shared.order import afters_of
from shared.plan import Placement, Plan

MANY = 15
EVENING = time(17, 5, tzinfo=UTC)


def in_the_evening(book: Book, plan: Plan) -> Book:
    """The book with a plan told, on the evening of the first day on which many pieces of it end.

    All that the plan has before that day happened so, and was told.
    """
    ends = Counter(p.end.date() for p in plan.placements if p.people and not p.part)
    day = min(day for day, count in ends.items() if count >= MANY)
    facts = happened(book, plan, day)
    told = tell_plan(book, plan, min(p.start for p in plan.placements), "Edda").book
    return replace(told, facts=facts, as_of=datetime.combine(day, EVENING))


def happened(book: Book, plan: Plan, day: date) -> tuple[Fact, ...]:
    """What a plan has before a day, as facts that were told."""
    steps = {step.id: step for job in book.jobs for step in job.steps}
    facts = []
    for placed in plan.placements:
        step = steps[placed.step]
        if placed.end.date() >= day or placed.part or isinstance(step, Journey):
            continue
        is_answer = isinstance(step, Gate) and step.gate is GateKind.ANSWER
        facts.append(_fact(placed, is_answer=is_answer))
    return tuple(facts)


def _fact(placed: Placement, *, is_answer: bool) -> Fact:
    kind = FactKind.ANSWER if is_answer else FactKind.DONE
    return Fact(
        id=FactId(f"{placed.step} {kind.value}"),
        kind=kind,
        step=placed.step,
        at=placed.end,
        told_by="Edda",
        told_at=placed.end,
        answer=Answer.YES if is_answer else None,
    )


def over_as_told(book: Book) -> list[Fact]:
    """What is over by the sheet alone, as of the moment that the book names, the last first."""
    assert book.as_of is not None
    over = [each for each in as_told(book, book.as_of) if each.kind is FactKind.DONE]
    return sorted(over, key=lambda each: (each.at, each.step), reverse=True)


def three(book: Book) -> tuple[StepId, StepId, StepId]:
    """The two of other people that were over last, and the first that more of the day comes after.

    The third began on that day, and is neither of them nor what they come after.
    """
    assert book.as_of is not None
    over = over_as_told(book)
    begun = {f.step: f.at for f in as_told(book, book.as_of) if f.kind is FactKind.RUNNING}
    afters = {
        step: {after.step for after in each}
        for job in book.jobs
        for step, each in afters_of(job).items()
    }
    one = over[0]
    other = next(fact for fact in over if not set(fact.people) & set(one.people))
    steps = {fact.step for fact in over}
    third = next(
        fact.step
        for fact in reversed(over)
        if begun[fact.step].date() == book.as_of.date()
        and any(fact.step in afters[each] for each in steps - {one.step, other.step})
        and not any(fact.step in afters[each.step] for each in (one, other))
    )
    return one.step, other.step, third

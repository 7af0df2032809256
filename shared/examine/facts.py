"""What has happened: whether it can have happened to such a step."""

from collections.abc import Callable
from datetime import date

from shared.book import Answer, Book, Fact, FactKind, Gate, GateKind, Journey, Person, Stage, Step
from shared.examine.look import Look, Path
from shared.examine.steps import is_of_kind
from shared.ids import StepId


def _is_work(step: Step) -> bool:
    return isinstance(step, Stage) or (isinstance(step, Gate) and bool(step.ways))


def _is_answer(step: Step) -> bool:
    return is_of_kind(step, GateKind.ANSWER)


def _leaves(step: Step) -> bool:
    return isinstance(step, Journey) or is_of_kind(step, GateKind.LOADING)


_FITS: dict[FactKind, Callable[[Step], bool]] = {
    FactKind.DONE: lambda step: not _is_answer(step),
    FactKind.RUNNING: _is_work,
    FactKind.ANSWER: _is_answer,
    FactKind.PICTURES: _is_answer,
    FactKind.MATERIAL: _is_work,
    FactKind.GONE: _leaves,
    FactKind.HELD: _is_work,
}


def check_fact(fact: Fact, path: Path, look: Look) -> None:
    """Hold that a fact fits its step, says what it must and lies behind us."""
    step = look.steps.get(fact.step)
    if step is not None:
        _check_fits(fact, step, path, look)
    if fact.kind is FactKind.ANSWER and fact.answer is None:
        look.add("answer_missing", (*path, "answer"))
    if fact.answer is Answer.CHANGES and isinstance(step, Gate) and step.changes is None:
        look.add("changes_missing", (*path, "answer"), step=step.name or step.id)
    if fact.kind is FactKind.RUNNING and fact.remaining_hours is None:
        look.add("remaining_missing", (*path, "remaining_hours"))
    if fact.kind is FactKind.HELD and fact.held_by is None:
        look.add("held_missing", (*path, "held_by"))
    if look.as_of is not None and fact.at > look.as_of:
        look.add("fact_after_now", (*path, "at"), at=fact.at, as_of=look.as_of)


def _check_fits(fact: Fact, step: Step, path: Path, look: Look) -> None:
    if not _FITS[fact.kind](step) and not _ends_changes(fact, look):
        told = {"kind": fact.kind.value, "step": step.name or step.id}
        look.add("fact_fits_not", (*path, "kind"), **told)
    ways = [] if isinstance(step, Journey) else [way.id for way in step.ways]
    if fact.way and fact.way not in ways:
        near = look.nearest(fact.way, ways)
        look.add("unknown_id", (*path, "way"), sort="way", id=fact.way, nearest=near)


def _ends_changes(fact: Fact, look: Look) -> bool:
    """Say whether a fact tells that the changes are done which an answer asked for."""
    return fact.kind is FactKind.DONE and any(
        told.step == fact.step and told.answer is Answer.CHANGES for told in look.book.facts
    )


def check_facts(book: Book, path: Path, look: Look) -> None:
    """Hold that what can happen once is told once."""
    seen: set[tuple[FactKind, str]] = set()
    for index, fact in enumerate(book.facts):
        once = fact.kind in (FactKind.DONE, FactKind.GONE)
        if once and (fact.kind, fact.step) in seen:
            where = (*path, "facts", index)
            look.add("fact_doubled", where, kind=fact.kind.value, step=fact.step)
        seen.add((fact.kind, fact.step))
    for index, fact in _under_way(book).values():
        _check_certified(fact, (*path, "facts", index, "people"), look)


def _under_way(book: Book) -> dict[StepId, tuple[int, Fact]]:
    """Return by step who was last told to be at it, and where that stands; of what is not done."""
    done = {fact.step for fact in book.facts if fact.kind is FactKind.DONE}
    return {
        fact.step: (index, fact)
        for index, fact in enumerate(book.facts)
        if fact.kind is FactKind.RUNNING and fact.step not in done
    }


def _check_certified(fact: Fact, path: Path, look: Look) -> None:
    """Hold that whoever is at work holds what the work asks for; the plan takes it as told."""
    step = look.steps.get(fact.step)
    wanted = step.certificates if isinstance(step, Stage) else ()
    for person in look.book.people if wanted else ():
        if person.id in fact.people:
            for certificate in wanted:
                if not _holds(person, certificate, fact.at.date()):
                    told = {"person": person.name, "certificate": certificate}
                    look.add("uncertified_at_work", path, **told)


def _holds(person: Person, certificate: str, day: date) -> bool:
    return any(
        each.certificate == certificate and (each.expires is None or day <= each.expires)
        for each in person.certificates
    )

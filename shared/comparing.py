"""What of a book is otherwise than in another state of it, thing by thing."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import Protocol, TypeVar

from shared.book import Book, Fact, Job, Person, Stage, Step


class Sort(StrEnum):
    """What is otherwise. REST: whatever has no word of its own."""

    JOB = "job"
    WINDOW = "window"
    SEGMENT = "segment"
    STEP = "step"
    HOURS = "hours"
    FACT = "fact"
    PERSON = "person"
    LEAVE = "leave"
    PLACE = "place"
    BOUGHT = "bought"
    WORKSHOP = "workshop"
    TOLD = "told"
    PLAN = "plan"
    REST = "rest"


class How(StrEnum):
    """How it is otherwise: there now, there no more, changed."""

    NEW = "new"
    GONE = "gone"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One thing that is otherwise.

    id, name: of the thing, name as it is called now, or was where it is gone. job: the name of its
    job. more: person-hours that a stage takes more than before. fact: what was told or taken back.
    """

    sort: Sort
    how: How
    id: str = ""
    name: str = ""
    job: str = ""
    more: Decimal = Decimal(0)
    fact: Fact | None = None

    @property
    def thing(self) -> tuple[str, str]:
        """Return what tells whether two differences are about the same thing."""
        if self.fact is not None:
            return ("step", self.fact.step)
        of = {Sort.HOURS: "step", Sort.WINDOW: "job", Sort.LEAVE: "person"}
        return (of.get(self.sort, self.sort.value), self.id)


class _Named(Protocol):
    @property
    def id(self) -> str: ...

    @property
    def name(self) -> str: ...


_Thing = TypeVar("_Thing", bound=_Named)
_Other = Callable[[_Thing, _Thing], Iterable[Difference]]


def differences(before: Book, after: Book) -> tuple[Difference, ...]:
    """Give all that differs but the revision, jobs first, in the order of the later book."""
    found = [
        *_things(Sort.JOB, before.jobs, after.jobs, other=_job),
        *_facts(before, after),
        *_things(Sort.PERSON, before.people, after.people, other=_person),
        *_things(Sort.PLACE, before.places, after.places),
    ]
    bought = (before.suppliers, before.materials, before.deliveries)
    if bought != (after.suppliers, after.materials, after.deliveries):
        found.append(Difference(sort=Sort.BOUGHT, how=How.OTHER))
    if (before.name, before.workshop) != (after.name, after.workshop):
        found.append(Difference(sort=Sort.WORKSHOP, how=How.OTHER, name=after.workshop.name))
    if before.told != after.told:
        number = "" if after.told is None else str(after.told.sheet_number)
        how = How.GONE if after.told is None else How.NEW
        found.append(Difference(sort=Sort.TOLD, how=how, name=number))
    if before.plan != after.plan:
        found.append(Difference(sort=Sort.PLAN, how=How.OTHER))
    if _rest(before) != _rest(after):
        found.append(Difference(sort=Sort.REST, how=How.OTHER))
    return tuple(found)


def _rest(book: Book) -> tuple[object, ...]:
    """Return all that is not compared by itself."""
    return (book.as_of, book.equipment, book.offers, book.other_work, book.routes, book.kept)


def _things(
    sort: Sort,
    before: Iterable[_Thing],
    after: Iterable[_Thing],
    job: str = "",
    other: _Other[_Thing] | None = None,
) -> Iterator[Difference]:
    """Give what is new, changed and gone; other: the parts of what is changed."""
    was = {each.id: each for each in before}
    now = {each.id: each for each in after}
    for each in now.values():
        former = was.get(each.id)
        said = Difference(sort=sort, how=How.OTHER, id=each.id, name=each.name, job=job)
        if former is None:
            yield replace(said, how=How.NEW)
        elif former != each:
            yield from (other(former, each) if other else (said,))
    for each in was.values():
        if each.id not in now:
            yield Difference(sort=sort, how=How.GONE, id=each.id, name=each.name, job=job)


def _job(was: Job, job: Job) -> Iterator[Difference]:
    said = Difference(sort=Sort.JOB, how=How.OTHER, id=job.id, name=job.name)
    if was.held_window != job.held_window:
        yield replace(said, sort=Sort.WINDOW)
    yield from _things(Sort.SEGMENT, was.segments, job.segments, job.name)
    yield from _things(Sort.STEP, was.steps, job.steps, job.name, lambda a, b: _step(a, b, job))
    rest = replace(
        was, window=job.window, windows=job.windows, segments=job.segments, steps=job.steps
    )
    if rest != job or (was.windows != job.windows and was.held_window == job.held_window):
        yield said


def _step(was: Step, step: Step, job: Job) -> Iterator[Difference]:
    said = Difference(sort=Sort.STEP, how=How.OTHER, id=step.id, name=step.name, job=job.name)
    more = more_hours(was, step)
    yield replace(said, sort=Sort.HOURS, more=more) if more else said


def more_hours(was: Step, step: Step) -> Decimal:
    """Return the person-hours that a stage takes more than it did, 0 of what is none."""
    if not isinstance(was, Stage) or not isinstance(step, Stage) or not (was.ways and step.ways):
        return Decimal(0)
    return step.ways[0].hours.likely - was.ways[0].hours.likely


def _person(was: Person, person: Person) -> Iterator[Difference]:
    said = Difference(sort=Sort.PERSON, how=How.OTHER, id=person.id, name=person.name)
    if was.leave != person.leave:
        yield replace(said, sort=Sort.LEAVE)
    if replace(was, leave=person.leave) != person:
        yield said


def _facts(before: Book, after: Book) -> Iterator[Difference]:
    was = {fact.id: fact for fact in before.facts}
    now = {fact.id: fact for fact in after.facts}
    for fact in after.facts:
        if was.get(fact.id) != fact:
            how = How.OTHER if fact.id in was else How.NEW
            yield Difference(sort=Sort.FACT, how=how, id=fact.id, fact=fact)
    for fact in before.facts:
        if fact.id not in now:
            yield Difference(sort=Sort.FACT, how=How.GONE, id=fact.id, fact=fact)

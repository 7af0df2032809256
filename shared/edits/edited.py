"""What an edit gives back: the new book, what changed in it, and what undo is called."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TypeVar

from shared.book import Book, Job
from shared.findings import Fact
from shared.ids import JobId

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What an edit did, as a code and facts; app's catalogue has the words for undo."""

    code: str
    facts: tuple[tuple[str, Fact], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """Which parts of a book an edit touched, so that only what shows them is made anew."""

    jobs: frozenset[JobId] = frozenset()
    workshop: bool = False
    people: bool = False
    plan: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Edited:
    """A book after an edit; its revision is one more than before."""

    book: Book
    changed: Changed
    label: Label


class NoSuchThing(LookupError):  # noqa: N818 - it says what is wrong
    """An edit names something that the book doesn't have: a bug of the caller."""


def label(code: str, **facts: Fact) -> Label:
    """Make a label of a code and facts."""
    return Label(code=code, facts=tuple(facts.items()))


def of_job(book: Book, job: Job, what: Label) -> Edited:
    """Give the book with one job replaced by its new self."""
    jobs = tuple(job if old.id == job.id else old for old in book.jobs)
    return of_jobs(book, jobs, {job.id}, what)


def of_jobs(book: Book, jobs: tuple[Job, ...], touched: Iterable[JobId], what: Label) -> Edited:
    """Give the book with other jobs."""
    new = replace(book, jobs=jobs, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(jobs=frozenset(touched)), label=what)


def job_of(book: Book, job_id: JobId) -> Job:
    """Give the job of that id.

    Raises NoSuchThing when there is none.
    """
    return found(book.jobs, lambda job: job.id == job_id, job_id)


def found(items: Iterable[Item], wanted: Callable[[Item], bool], name: object) -> Item:
    """Give the first item that is wanted.

    Raises NoSuchThing, naming it, when there is none.
    """
    for item in items:
        if wanted(item):
            return item
    raise NoSuchThing(name)


def moved(items: tuple[Item, ...], item: Item, to: int) -> tuple[Item, ...]:
    """Give the items with one of them at another position (clamped to the ends)."""
    rest = [other for other in items if other is not item]
    rest.insert(max(0, min(to, len(rest))), item)
    return tuple(rest)


def inserted(items: tuple[Item, ...], item: Item, at: int | None) -> tuple[Item, ...]:
    """Give the items with one more, at a position or (None) at the end."""
    place = len(items) if at is None else max(0, min(at, len(items)))
    return (*items[:place], item, *items[place:])


def fresh_id(wanted: str, taken: Iterable[str]) -> str:
    """Give an id that nothing has yet: the wanted one, or it with the next free number."""
    used = set(taken)
    if wanted not in used:
        return wanted
    number = 2
    while f"{wanted}-{number}" in used:
        number += 1
    return f"{wanted}-{number}"

"""Ids: none empty, none given twice."""

from collections.abc import Iterable, Sequence
from typing import Protocol

from shared.book import Book, Gate, Stage, Step
from shared.examine.look import LISTS, PARTS, Look, Path


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_Placed = tuple[Path, str]


def check_ids(look: Look) -> None:
    """Hold that every thing has an id and no two of a sort have the same.

    Windows are told apart within their job, steps of a route within it, ways within their step.
    """
    book = look.book
    for sort, field in LISTS.items():
        _check(sort, _placed(getattr(book, field), (field,)), look)
    for sort in ("segment", "step"):
        _check(sort, _in_jobs(book, PARTS[sort]), look)
    for index, route in enumerate(book.routes):
        _check("step", _placed(route.steps, ("routes", index, "steps")), look)
        _check_ways(route.steps, ("routes", index, "steps"), look)
    for index, job in enumerate(book.jobs):
        _check("window", _placed(job.windows, ("jobs", index, "windows")), look)
        _check_ways(job.steps, ("jobs", index, "steps"), look)


def _in_jobs(book: Book, field: str) -> list[_Placed]:
    return [
        placed
        for index, job in enumerate(book.jobs)
        for placed in _placed(getattr(job, field), ("jobs", index, field))
    ]


def _placed(things: Sequence[_Named], path: Path) -> list[_Placed]:
    return [((*path, index, "id"), thing.id) for index, thing in enumerate(things)]


def _check_ways(steps: Sequence[Step], path: Path, look: Look) -> None:
    for index, step in enumerate(steps):
        if isinstance(step, Stage | Gate) and step.ways:
            _check("way", _placed(step.ways, (*path, index, "ways")), look)


def _check(sort: str, placed: Iterable[_Placed], look: Look) -> None:
    seen: set[str] = set()
    for path, each in placed:
        if not each.strip():
            look.add("id_empty", path, sort=sort)
        elif each in seen:
            look.add("id_doubled", path, sort=sort, id=each)
        seen.add(each)

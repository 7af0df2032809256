"""Things of a book by what tables call them, and rows that are taken one after the other. No Qt."""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, TypeVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from app.exchange.bring.columns import Columns, Found, Trouble
from app.exchange.bring.values import Bad, shown
from shared.book import Book, Gate, Job, Journey, Stage
from shared.ids import PersonId, PlaceId

_Thing = TypeVar("_Thing")
_BETWEEN = re.compile(r"[\W_]+")


class Misnamed(Bad):
    """A name that nothing has, or more than one thing, by the field that it is of."""

    def __init__(self, field: str, code: str, **facts: str | int) -> None:
        super().__init__(code, **facts)
        self.field = field


def slug(name: str) -> str:
    """Return a name as an id is written: small letters and figures with dashes between."""
    return _BETWEEN.sub("-", name.casefold()).strip("-") or "x"


class Known:
    """A book's things by name or id, without regard to capitals, and ids that are still free."""

    def __init__(self, book: Book) -> None:
        self._jobs = _by_name((job.id, job.name, job) for job in book.jobs)
        self._people = _by_name((one.id, one.name, one.id) for one in book.people)
        self._places = _by_name((one.id, one.name, one.id) for one in book.places)
        self._skills = {
            *(skill.skill for person in book.people for skill in person.skills),
            *(need.skill for job in book.jobs for need in _needs(job)),
        }
        self._stages: dict[str, dict[str, list[tuple[Stage, tuple[str, ...]]]]] = {}
        self._ids: dict[str, set[str]] = {
            "job": {job.id for job in book.jobs},
            "step": {step.id for job in book.jobs for step in job.steps},
            "segment": {segment.id for job in book.jobs for segment in job.segments},
            "person": {person.id for person in book.people},
            "fact": {fact.id for fact in book.facts},
        }
        self._next: dict[tuple[str, str], int] = defaultdict(lambda: 2)

    def jobs(self, name: str) -> list[Job]:
        """Return the jobs of a name or id."""
        return self._jobs.get(name.casefold(), [])

    def job(self, name: str) -> Job:
        """Return the one job of a name or id; raises Misnamed."""
        return _only("job", self._jobs, name)

    def has_person(self, name: str) -> bool:
        """Return whether somebody is called so."""
        return name.casefold() in self._people

    def person(self, name: str) -> PersonId:
        """Return the one person of a name or id; raises Misnamed."""
        return _only("people", self._people, name)

    def place(self, name: str) -> PlaceId:
        """Return the one place of a name or id; raises Misnamed."""
        return _only("places", self._places, name)

    def skill(self, name: str) -> None:
        """Raise Misnamed where nobody and nothing in the book knows a skill."""
        if name not in self._skills:
            known = ", ".join(sorted(self._skills))
            raise Misnamed("skill", "unknown_name", value=name, known=shown(known))

    def zone(self, field: str, name: str) -> None:
        """Raise Misnamed where there is no such time zone."""
        try:
            ZoneInfo(name)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            raise Misnamed(field, "unknown_zone", value=name) from None

    def stage(self, values: Mapping[str, Any]) -> Stage:
        """Return the one stage that a row means by job, segment and name or id; raises Misnamed."""
        job = self.job(values["job"])
        if job.id not in self._stages:
            self._stages[job.id] = _stages(job)
        found = self._stages[job.id].get(values["stage"].casefold(), [])
        wanted = values.get("segment")
        if wanted is not None:
            found = [each for each in found if wanted.casefold() in each[1]]
        if len(found) != 1:
            code = "unknown_stage" if not found else "several_stages"
            raise Misnamed("stage", code, value=values["stage"], job=job.name)
        return found[0][0]

    def fresh(self, sort: str, wanted: str) -> str:
        """Return an id of a sort that nothing has yet, and keep it."""
        used, made = self._ids[sort], wanted
        while made in used:
            number = self._next[sort, wanted]
            self._next[sort, wanted] = number + 1
            made = f"{wanted}-{number}"
        used.add(made)
        return made


def _needs(job: Job) -> Iterator[Any]:
    for step in job.steps:
        if isinstance(step, Stage | Gate):
            for way in step.ways:
                yield from way.needs


def _stages(job: Job) -> dict[str, list[tuple[Stage, tuple[str, ...]]]]:
    names = {each.id: each.name for each in job.segments}
    found: dict[str, list[tuple[Stage, tuple[str, ...]]]] = defaultdict(list)
    for step in job.steps:
        if isinstance(step, Journey | Gate):
            continue
        of = tuple(
            word.casefold() for each in step.segments for word in (each, names.get(each, each))
        )
        for word in {step.id.casefold(), step.name.casefold()}:
            found[word].append((step, of))
    return found


def _by_name(things: Iterator[tuple[str, str, _Thing]]) -> dict[str, list[_Thing]]:
    found: dict[str, list[_Thing]] = defaultdict(list)
    for identity, name, thing in things:
        for word in {identity.casefold(), name.casefold()}:
            found[word].append(thing)
    return dict(found)


def _only(field: str, known: Mapping[str, Sequence[_Thing]], name: str) -> _Thing:
    found = known.get(name.casefold(), ())
    if len(found) != 1:
        code = "unknown_name" if not found else "several_named"
        raise Misnamed(field, code, value=name, known=shown(", ".join(known)))
    return found[0]


class Taken:
    """Rows as they are taken, with every trouble by row and column."""

    def __init__(self, columns: Columns) -> None:
        self._columns = columns
        self._seen: dict[tuple[str, str], int] = {}
        self._row = 0
        self.troubles: list[Trouble] = []

    @contextmanager
    def row(self, found: Found) -> Iterator[None]:
        """Take one row; what can't be taken in it becomes a trouble."""
        self._row = found.row
        try:
            yield
        except Bad as bad:
            field = getattr(bad, "field", "")
            self.troubles.append(
                Trouble(
                    row=found.row,
                    column=self._columns.letter(field),
                    of=field,
                    code=bad.code,
                    facts=bad.facts,
                )
            )

    def once(self, field: str, name: str) -> None:
        """Raise Misnamed where a row before has the same."""
        before = self._seen.setdefault((field, name.casefold()), self._row)
        if before != self._row:
            raise Misnamed(field, "twice", value=shown(name), row=before)

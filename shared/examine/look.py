"""Where the examination stands: the book, the ids that are known, and what was found."""

from collections import Counter
from collections.abc import Iterable
from datetime import date, datetime
from functools import cached_property

from shared.book import Book, Job, Route, Step
from shared.files.json_text import shown
from shared.files.nearest import nearest
from shared.findings import Fact, Finding
from shared.findings_codes import finding

Path = tuple[str | int, ...]

LISTS = {
    "place": "places",
    "equipment": "equipment",
    "person": "people",
    "offer": "offers",
    "other_work": "other_work",
    "route": "routes",
    "job": "jobs",
    "fact": "facts",
    "supplier": "suppliers",
    "material": "materials",
}
"""The sorts of things that have ids, and the list of the book in which they stand."""

PARTS = {"segment": "segments", "step": "steps", "window": "windows"}
"""The same for the parts of a job."""


MOST_GUESSES = 100
"""For so many unknown ids the nearest known one is looked for: it takes its time."""


class Look:
    """One examination of one book."""

    def __init__(self, book: Book) -> None:
        """Start with nothing found."""
        self.book = book
        self.found: list[Finding] = []
        self._guesses_left = MOST_GUESSES

    def add(self, code: str, path: Path, **facts: object) -> None:
        """Note a finding; dates, numbers and words of facts become text."""
        told = {key: _fact(value) for key, value in facts.items()}
        self.found.append(finding(code, path, name_in(self.book, path), **told))

    @cached_property
    def owners(self) -> dict[str, dict[str, Job | None]]:
        """Give for each sort the known ids, each with the job that it belongs to."""
        owners: dict[str, dict[str, Job | None]] = {
            sort: {each.id: None for each in getattr(self.book, field)}
            for sort, field in LISTS.items()
        }
        for sort, field in PARTS.items():
            owners[sort] = {each.id: job for job in self.book.jobs for each in getattr(job, field)}
        return owners

    @cached_property
    def skills(self) -> dict[str, Counter[str]]:
        """Give for each skill how many there are of each level."""
        skills: dict[str, Counter[str]] = {}
        for person in self.book.people:
            for skill, level in {each.skill: each.level for each in person.skills}.items():
                skills.setdefault(skill, Counter())[level.value] += 1
        return skills

    @cached_property
    def steps(self) -> dict[str, Step]:
        """Give every step of a job by its id."""
        return {step.id: step for job in self.book.jobs for step in job.steps}

    @cached_property
    def as_of(self) -> datetime | None:
        """Give the moment the book speaks of."""
        return self.book.as_of

    @cached_property
    def today(self) -> date | None:
        """Give the workshop's day at that moment; the UTC day where its zone isn't known."""
        return None if self.as_of is None else self.local_day(self.as_of)

    def local_day(self, instant: datetime) -> date:
        """Give the workshop's day of an instant; the UTC day where its zone isn't known."""
        from shared.worktime import is_known_zone
        from shared.worktime.zones import local_date

        zone = self.book.workshop.zone
        return local_date(instant, zone if is_known_zone(zone) else "UTC")

    def home(self, path: Path) -> Job | Route | None:
        """Give the job or route in which a path lies."""
        if len(path) < 2 or not isinstance(path[1], int):
            return None
        if path[0] == "jobs":
            return self.book.jobs[path[1]]
        return self.book.routes[path[1]] if path[0] == "routes" else None

    def refer(self, sort: str, wanted: str, path: Path) -> None:
        """Note it if no such thing is known, or if it is part of another job."""
        home = self.home(path)
        if sort in PARTS and home is not None:
            if wanted not in self._parts_of(home, sort):
                self._refer_elsewhere(sort, wanted, path, self._parts_of(home, sort))
        elif wanted not in self.owners[sort]:
            self._unknown(sort, wanted, path, self.owners[sort])

    def _parts_of(self, home: Job | Route, sort: str) -> set[str]:
        return {each.id for each in getattr(home, PARTS[sort], ())}

    def _refer_elsewhere(self, sort: str, wanted: str, path: Path, known: Iterable[str]) -> None:
        other = self.owners[sort].get(wanted)
        if other is None:
            self._unknown(sort, wanted, path, known)
        else:
            self.add("id_of_other_job", path, sort=sort, id=wanted, job=other.name)

    def _unknown(self, sort: str, wanted: str, path: Path, known: Iterable[str]) -> None:
        self.add("unknown_id", path, sort=sort, id=wanted, nearest=self.nearest(wanted, known))

    def nearest(self, wanted: str, known: Iterable[str]) -> str | None:
        """Give the known id most like another; None once a hundred were looked for."""
        self._guesses_left -= 1
        return nearest(wanted, tuple(known)) if self._guesses_left >= 0 else None


def name_in(book: Book, path: Path) -> str:
    """Give the name of the nearest named thing on the way to a place in a book."""
    name = book.name
    here: object = book
    for step in path:
        here = _inside(here, step)
        given = getattr(here, "name", None)
        if isinstance(given, str) and given:
            name = given
    return shown(name)


def _inside(here: object, step: str | int) -> object:
    if isinstance(step, str):
        return getattr(here, step, None)
    return here[step] if isinstance(here, tuple) and step < len(here) else None


def _fact(value: object) -> Fact:
    if value is None or type(value) is int:
        return value
    if isinstance(value, date):
        return value.isoformat().replace("+00:00", "Z")
    return shown(value if isinstance(value, str) else format(value, "f"))

"""What of a wall was made before: jobs of which all is as it was are not made again. No Qt."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

from app.window.wall.hours import Hours
from app.window.wall.items import Band, Item, Row
from app.words import Words
from shared.book import Book
from shared.ids import JobId

if TYPE_CHECKING:
    from app.window.wall.describe import Teller
    from scheduler.cured import Cures

Facts = tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """One job on the wall: its band, its rows and all its items in their order."""

    band: Band
    rows: tuple[Row, ...]
    items: tuple[Item, ...]


@dataclass(slots=True)
class Memory:
    """The jobs of the last wall, each beside all that it was made from."""

    jobs: dict[JobId, tuple[Facts, Made]] = field(default_factory=dict)
    cures: "Cures | None" = None
    hours: Hours | None = None
    teller: "Teller | None" = None
    """Of the wall that was made last, to the end."""

    def hours_of(self, book: Book, first: datetime, last: datetime) -> Hours:
        """Return the working hours of a book's people between two instants, kept while alike."""
        if self.hours is None or not self.hours.serves(book, first, last):
            self.hours = Hours(book, first, last)
        return self.hours

    def of(self, job: JobId, made_from: Facts) -> Made | None:
        """Return a job as it was made, if it would be made from the same now."""
        kept = self.jobs.get(job)
        return kept[1] if kept is not None and kept[0] == made_from else None

    def keep(self, job: JobId, made_from: Facts, made: Made) -> None:
        """Keep a job as it was made."""
        self.jobs[job] = made_from, made

    def made(self, book: Book, teller: "Teller") -> None:
        """Take a wall as made to the end; jobs that are gone go: each holds on to a whole book."""
        self.teller = teller
        self.jobs = {job.id: self.jobs[job.id] for job in book.jobs}


def common(book: Book, words: Words, now: datetime) -> Facts:
    """Return what every job of a wall is told with: hours, names, the sheet, the moment."""
    names = tuple((job.id, job.name) for job in book.jobs)
    people = tuple((person.id, person.name) for person in book.people)
    told = book.told.at if book.told else None
    return book.workshop, book.places, names, people, told, now, words.language, words.zone

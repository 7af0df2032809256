"""What every part of normalising reads: the book with its people and rooms on the grid."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from scheduler.grid import Grid, joined
from scheduler.normalise.climate import Climates
from scheduler.normalise.facts import NOTHING, Told, told_facts
from scheduler.normalise.held_air import HeldAir
from scheduler.normalise.laws import Laws
from scheduler.normalise.mates import Mates
from scheduler.normalise.people import (
    Calendars,
    Certificates,
    Skills,
    shut_days,
    worker_of,
    workshop_calendar,
)
from scheduler.normalise.presence import Presence
from scheduler.normalise.rooms import Rooms
from scheduler.problem import Need, Span
from shared import book
from shared.book import Book
from shared.ids import StepId


class Frame:
    """The book on the grid; skills and certificates get their positions as they are met.

    held: by worker, when stages that are under way keep them.
    """

    def __init__(self, book: Book, now: datetime, grid: Grid) -> None:
        """Put people and rooms on the grid."""
        self.book, self.now, self.grid = book, now, grid
        self.skills, self.certificates = Skills(), Certificates()
        self.calendars = Calendars(grid, book.workshop.bridged_break_minutes)
        self.workshop_calendar = self.calendars.position(workshop_calendar(book.workshop))
        self.shut = shut_days(book.workshop, grid)
        self.workers = [
            worker_of(book, person, grid, self.calendars, self.skills, self.certificates)
            for person in book.people
        ]
        self.worker_positions = {person.id: at for at, person in enumerate(book.people)}
        self.engaged = [at for at in range(len(self.workers)) if self._is_ever_there(at)]
        self.held: list[list[Span]] = [[] for _ in book.people]
        self.rooms = Rooms(book, grid)
        self.air = HeldAir(book)
        self.laws = Laws(book, grid)
        self.climates = Climates(book, grid)
        self.presence = Presence(self.workers, self.calendars.made, grid.horizon)
        self._told = told_facts(book)
        self.mates = Mates(book, self._told)

    def keep_away(self, worker: int, until: datetime) -> None:
        """Let a worker be out of the building from now on by something that is a fact."""
        span = self.grid.outer(self.grid.origin, until)
        if span is None:
            return
        kept = self.workers[worker]
        self.workers[worker] = replace(
            kept, busy=joined((*kept.busy, span)), away=joined((*kept.away, span))
        )

    def told(self, step: StepId) -> Told:
        """Return what has happened to a step."""
        return self._told.get(step, NOTHING)

    def _is_ever_there(self, at: int) -> bool:
        calendar = self.workers[at].calendar
        return calendar is None or bool(self.calendars.made[calendar].open)

    def holds(self, at: int, certificates: Iterable[str]) -> bool:
        """Return whether a worker still holds all of some certificates."""
        held = {position for position, _ in self.workers[at].certificates}
        return held.issuperset(self.certificates.position(each) for each in certificates)

    def able_count(self, among: Sequence[int], need: book.Need) -> int:
        """Return how many of some workers can do the skill of a need."""
        skill = self.skills.position(need.skill)
        return sum(skill in self.workers[at].can for at in among)

    def fits(self, at: int, needs: Iterable[Need]) -> bool:
        """Return whether a worker can take some place of a team."""
        worker = self.workers[at]
        return any(
            (need.can and need.skill in worker.can) or (need.helps and need.skill in worker.helps)
            for need in needs
        )

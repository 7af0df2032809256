"""What every part of normalising reads: the book with its people and rooms on the grid."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from scheduler.grid import Grid, joined
from scheduler.normalise.facts import NOTHING, Told, crews_gone, told_facts
from scheduler.normalise.held_air import HeldAir
from scheduler.normalise.laid import Laid
from scheduler.normalise.laws import Laws
from scheduler.normalise.mates import Mates
from scheduler.normalise.order import JobOrder
from scheduler.normalise.people import Certificates, Skills, worker_of, workshop_calendar
from scheduler.normalise.presence import Presence
from scheduler.normalise.reads import Reads
from scheduler.normalise.rooms import Rooms
from scheduler.problem import Need, Span
from shared import book
from shared.book import Book, Job
from shared.ids import JobId, PersonId, StepId


class Frame:
    """The book on the grid; skills and certificates get their positions as they are met.

    held: by worker, when stages that are under way keep them. made_up: whom ways need and what is
    asked of them, where a team was found to be possible. crews_gone: by journey, the step at which
    its crew was told to go by itself, if that was before now. reads: what is looked at besides the
    job that is being made.
    """

    def __init__(self, book: Book, now: datetime, grid: Grid, laid: Laid) -> None:
        """Put people and rooms on the grid. laid: what was laid out on the same grid before."""
        self.book, self.now, self.grid = book, now, grid
        self.skills, self.certificates = Skills(), Certificates()
        self.calendars = laid.calendars(book.workshop.bridged_break_minutes)
        self.workshop_calendar = self.calendars.position(workshop_calendar(book.workshop))
        self.shut = laid.shut(book.workshop)
        self.workers = [
            worker_of(book, person, grid, self.calendars, self.skills, self.certificates)
            for person in book.people
        ]
        self.worker_positions = {person.id: at for at, person in enumerate(book.people)}
        self.engaged = [at for at in range(len(self.workers)) if self._is_ever_there(at)]
        self.held: list[list[Span]] = [[] for _ in book.people]
        self.held_log: list[tuple[int, Span]] = []
        self.made_up: set[object] = set()
        self.rooms = Rooms(book, grid)
        self.air = HeldAir(book)
        self.laws = Laws(book, grid, laid.between)
        self.climates = laid.climates(book)
        self.dues = laid.dues
        self.presence = Presence(self.workers, self.calendars.made, grid.horizon)
        self._told = told_facts(book)
        self.crews_gone = crews_gone(book, grid)
        self._orders: dict[JobId, JobOrder] = laid.orders
        self.mates = Mates(book, self._told)
        self.reads = Reads()

    def order_of(self, job: Job) -> JobOrder:
        """Return what follows what in a job."""
        known = self._orders.get(job.id)
        if known is None or known.job is not job:
            known = self._orders[job.id] = JobOrder(job)
        return known

    def hold(self, worker: int, span: Span) -> None:
        """Let a stage that is under way keep a worker."""
        self.held_log.append((worker, span))
        self.held[worker].append(span)

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

    def positions_of(self, people: Iterable[PersonId]) -> tuple[int, ...]:
        """Return where people stand among the workers, in order; without whom the book lacks."""
        known = self.worker_positions
        return tuple(sorted({known[person] for person in people if person in known}))

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

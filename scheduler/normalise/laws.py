"""Company and the limits of a day: what the steps of a book ask for."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import time, timedelta
from itertools import pairwise

from scheduler.grid import Grid
from scheduler.normalise.order import JobOrder
from scheduler.problem import Problem, Spans, Stage, Way
from shared import book
from shared.book import Act, Book, Person, Step
from shared.trade import defaults
from shared.units import hours_down
from shared.worktime import local_instant
from shared.worktime.zones import local_date

_A_DAY = timedelta(days=1)


class Laws:
    """What the steps of a book ask of people beyond being free.

    Pieces get their positions as they are met.
    """

    def __init__(self, book: Book, grid: Grid, known: dict[tuple[time, ...], Spans]) -> None:
        """Take what the workshop says of it. known: stretches between times of the clock."""
        never, most = book.workshop.never_alone, book.workshop.pieces_per_half_day
        self._grid, self._known = grid, known
        self._never_alone = frozenset(defaults.NEVER_ALONE if never is None else never)
        self._pieces_max = defaults.PIECES_PER_HALF_DAY if most is None else most
        self.sanding = tuple(_sanding_max(book, person) for person in book.people)
        self._pieces: dict[tuple[str, frozenset[str]], int] = {}
        self.pieces_before = 0

    @property
    def pieces_count(self) -> int:
        """Return how many pieces were met."""
        return self.pieces_before + len(self._pieces)

    def skip_pieces(self, count: int) -> None:
        """Let so many pieces be met, those of a job that is made already."""
        self.pieces_before += count

    def bind(self, order: JobOrder, step: Step, part: str, stage: Stage) -> Stage:
        """Return a stage with what its step, or the part of one, asks for."""
        company, piece, sands = self.asked(order, step, part, stage.ways, under_way=stage.under_way)
        if (stage.company, stage.piece, stage.sands) == (company, piece, sands):
            return stage
        return replace(stage, company=company, piece=piece, sands=sands)

    def asked(
        self,
        order: JobOrder,
        step: Step,
        part: str,
        ways: Iterable[Way],
        *,
        under_way: bool = False,
    ) -> tuple[bool, int | None, bool]:
        """Return the company, piece and sanding of a stage that is done in some ways.

        A team that is on it by a fact stays on it, whatever is asked.
        """
        if not any(way.needs and way.work for way in ways):
            return False, None, False
        acts = order.acts(step, part)
        company = not under_way and not acts.isdisjoint(self._never_alone)
        return company, self._piece(order, step), Act.POWER_SAND in acts

    def _piece(self, order: JobOrder, step: Step) -> int | None:
        if not self._pieces_max or not isinstance(step, book.Stage):
            return None
        key = (order.job.id, order.touched[step.id])
        return self._pieces.setdefault(key, self.pieces_count)

    def complete(self, problem: Problem) -> Problem:
        """Return a problem with the days and figures of the limits that its stages ask for."""
        if any(stage.sands for stage in problem.stages):
            workers = zip(problem.workers, self.sanding, strict=True)
            problem = replace(
                problem,
                days=self.days(),
                workers=tuple(replace(worker, sanding_max=most) for worker, most in workers),
            )
        if self._pieces_max and any(stage.piece is not None for stage in problem.stages):
            half_days = self._between(time(0), time(12))
            problem = replace(problem, half_days=half_days, pieces_max=self._pieces_max)
        return problem

    def days(self) -> Spans:
        """Return the local days, as steps."""
        return self._between(time(0))

    def _between(self, *times: time) -> Spans:
        """Return the stretches between these times of the clock, day after day."""
        if times not in self._known:
            self._known[times] = self._cut(times)
        return self._known[times]

    def _cut(self, times: tuple[time, ...]) -> Spans:
        grid = self._grid
        first = local_date(grid.origin, grid.zone)
        count = (local_date(grid.end, grid.zone) - first).days + 2
        instants = (
            local_instant(first + after * _A_DAY, at, grid.zone, opening=True)
            for after in range(count)
            for at in times
        )
        cuts = sorted({max(0, min(grid.up(each), grid.horizon)) for each in instants})
        return tuple(pairwise(cuts))


def _sanding_max(book: Book, person: Person) -> int:
    """Return the steps that a person may sand with power tools in a day."""
    hours = person.sanding_hours_per_day
    if hours is None:
        hours = book.workshop.sanding_hours_per_day
    return hours_down(defaults.SANDING_HOURS if hours is None else hours)

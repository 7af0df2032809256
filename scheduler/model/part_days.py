"""Limits of a day in a part: what those that stay do in a day counts as given."""

from collections import defaultdict
from collections.abc import Iterator

from scheduler.calendar import Index
from scheduler.daily import Day, Days
from scheduler.excerpt import Excerpt
from scheduler.model.rules.daily import Broken
from scheduler.problem import Schedule


class GivenDays:
    """What the stages of a whole schedule do in each day, for the parts of it."""

    def __init__(self, index: Index, schedule: Schedule) -> None:
        problem = index.problem
        self._index = index
        self._schedule = schedule
        self._half_days, self._days = Days(problem.half_days), Days(problem.days)
        self._pieces_max = problem.pieces_max
        self._sanding_max = [worker.sanding_max for worker in problem.workers]
        self._limits_any = self._pieces_max is not None or any(
            most is not None for most in self._sanding_max
        )
        self._at: list[list[int]] = []

    def broken(self, part: Excerpt, found: Schedule) -> Broken:
        """Return where a schedule of a part breaks limits of a day."""
        if not self._limits_any:
            return Broken()
        pieces: dict[Day, set[int]] = defaultdict(set)
        sanding: dict[Day, int] = defaultdict(int)
        for at in part.free:
            if found.ways[at] >= 0:
                for day, piece in self._pieces(part.index, found, at):
                    pieces[day].add(piece)
                for day, steps in self._sanding(part.index, found, at):
                    sanding[day] += steps
        free = {part.stages[at] for at in part.free}
        return Broken(
            half_days=self._too_many(pieces, free), days=self._too_long(sanding, part, free)
        )

    def _too_many(self, pieces: dict[Day, set[int]], free: set[int]) -> dict[Day, frozenset[int]]:
        most = self._pieces_max
        broken: dict[Day, frozenset[int]] = {}
        for day, new in pieces.items() if most is not None else ():
            given = frozenset(
                piece
                for stage in self._by(day[0])
                if stage not in free
                for each, piece in self._pieces(self._index, self._schedule, stage, day[1])
                if each == day
            )
            if len(new | given) > (most or 0) and not new <= given:
                broken[day] = given
        return broken

    def _too_long(self, sanding: dict[Day, int], part: Excerpt, free: set[int]) -> dict[Day, int]:
        """Return the days with too much, and how much of it the model does not know of."""
        known = {
            number for number in part.stages if not self._index.problem.stages[number].under_way
        }
        broken: dict[Day, int] = {}
        for day, steps in sanding.items():
            most = self._sanding_max[day[0]]
            if most is None:
                continue
            given = {
                stage: done
                for stage in self._by(day[0])
                if stage not in free
                for each, done in self._sanding(self._index, self._schedule, stage, day[1])
                if each == day
            }
            if steps + sum(given.values()) > most:
                broken[day] = sum(done for stage, done in given.items() if stage not in known)
        return broken

    def _by(self, worker: int) -> list[int]:
        """Return the stages of a worker."""
        if not self._at:
            self._at = [[] for _ in self._sanding_max]
            for stage, team in enumerate(self._schedule.teams):
                for each in team:
                    self._at[each].append(stage)
        return self._at[worker]

    def _pieces(
        self, index: Index, schedule: Schedule, stage: int, only: int | None = None
    ) -> Iterator[tuple[Day, int]]:
        piece = index.problem.stages[stage].piece
        if piece is not None and self._pieces_max is not None:
            for day, _ in self._worked(index, schedule, stage, self._half_days, only):
                yield day, piece

    def _sanding(
        self, index: Index, schedule: Schedule, stage: int, only: int | None = None
    ) -> Iterator[tuple[Day, int]]:
        if index.problem.stages[stage].sands:
            yield from self._worked(index, schedule, stage, self._days, only)

    def _worked(
        self, index: Index, schedule: Schedule, stage: int, days: Days, only: int | None
    ) -> Iterator[tuple[Day, int]]:
        """Give by worker and day how many steps a stage is worked on. only: in this day."""
        span = schedule.starts[stage], schedule.ends[stage]
        team = schedule.teams[stage]
        met = days.met(span) if team and span[0] < span[1] else range(0)
        if only is not None:
            met = range(only, only + 1) if only in met else range(0)
        for day in met:
            hours = index.hours_at(team, schedule.ways[stage], stage)
            steps = days.worked(hours, day, span)
            for worker in team if steps else ():
                yield (worker, day), steps

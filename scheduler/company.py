"""Company: when somebody else is in the building while one works alone."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from scheduler.hours import Hours
from scheduler.problem import Problem, Spans
from scheduler.spans import less, merged

if TYPE_CHECKING:
    from scheduler.calendar import Index

_FEW = 8
Away = tuple[int, int, int]
"""A worker, and from when to when they are out of the building."""


class Company:
    """Who is on shift, journeys apart; made once for each index."""

    def __init__(self, index: "Index") -> None:
        problem = index.problem
        self._workers = problem.workers
        self._always = ((0, problem.horizon),)
        self._own = [
            self._always if worker.calendar is None else index.hours((worker.calendar,)).open
            for worker in problem.workers
        ]
        self.on_shift = _on_shift(problem, self._always)
        self._marks = [index.company_mark(worker) for worker in range(len(self._own))]
        self._kept = index.kept_company()
        self._hours: dict[int, Hours | None] = {}

    def hours(self, worker: int) -> Hours | None:
        """Return when a worker has company, None where they have it in all their hours."""
        if worker not in self._hours:
            mark = self._marks[worker]
            if mark not in self._kept:
                self._kept[mark] = self._make_hours(worker)
            self._hours[worker] = self._kept[mark]
        return self._hours[worker]

    def _make_hours(self, worker: int) -> Hours | None:
        own, others = self._own[worker], self._shifts_of_others(worker)
        if not alone(own, others):
            return None
        return Hours(merged(span for shifts in others for span in shifts), self._always)

    def _shifts_of_others(self, worker: int) -> list[Spans]:
        """Return the different shifts of others, first of those with the same calendar."""
        calendars = [one.calendar for one in self._workers]
        others = {at: self.on_shift[other] for other, at in enumerate(calendars) if other != worker}
        mine = others.pop(calendars[worker], None)
        return [*others.values()] if mine is None else [mine, *others.values()]


def alone(own: Spans, others: Iterable[Spans]) -> Spans:
    """Return the stretches of some hours in which none of the others is on shift."""
    lonely = own
    for shifts in others:
        if not lonely:
            break
        if _FEW * len(lonely) < len(shifts):
            shifts = tuple(dict.fromkeys(span for one in lonely for span in between(shifts, *one)))
        lonely = less(lonely, shifts)
    return lonely


def _on_shift(problem: Problem, always: Spans) -> list[Spans]:
    return [
        always if worker.calendar is None else problem.calendars[worker.calendar].shifts
        for worker in problem.workers
    ]


class Absences:
    """Who is out of the building in one pass, and whom that leaves alone at work."""

    def __init__(self, company: Company, problem: Problem) -> None:
        self._on_shift = company.on_shift
        self._away: list[Away] = [
            (worker, start, end)
            for worker, one in enumerate(problem.workers)
            for start, end in one.away
        ]
        self._alone: dict[int, tuple[int, Hours, int, int]] = {}

    def book(self, stage: int, worker: int, hours: Hours, span: tuple[int, int]) -> None:
        """Note that a worker does a stage that wants company, and the hours of the work."""
        self._alone[stage] = (worker, hours, *span)

    def forget(self, stage: int) -> None:
        """Forget a stage."""
        self._alone.pop(stage, None)

    def leave(self, absences: Iterable[Away]) -> None:
        """Let some be away."""
        self._away += absences

    def come_back(self, absences: Iterable[Away]) -> None:
        """Take back that some are away."""
        for each in absences:
            self._away.remove(each)

    def leaves_alone(self, absences: Sequence[Away]) -> bool:
        """Return whether a stage would be left without company if some were away."""
        met = [
            stage
            for stage in self._alone.values()
            if any(stage[2] < end and stage[3] > start for _, start, end in absences)
        ]
        if not met:
            return False
        self.leave(absences)
        found = any(self.alone_until(*one) >= 0 for one in met)
        self.come_back(absences)
        return found

    def alone_until(self, worker: int, hours: Hours, start: int, end: int) -> int:
        """Return the end of the last hours in [start, end) in which all others are away, or -1."""
        met = merged(
            (a, b) for other, a, b in self._away if other != worker and a < end and b > start
        )
        latest = -1
        for away_from, away_until in met:
            lonely = self._lonely(worker, hours, max(start, away_from), away_until)
            latest = max([latest, *(until for since, until in lonely if since < end)])
        return latest

    def _lonely(self, worker: int, hours: Hours, start: int, end: int) -> Spans:
        lonely = hours.inside(start, end)
        for other, shifts in enumerate(self._on_shift):
            if not lonely:
                break
            if other != worker:
                there = between(shifts, start, end)
                away = merged((a, b) for one, a, b in self._away if one == other)
                lonely = less(lonely, less(there, away))
        return lonely


def between(spans: Spans, start: int, end: int) -> Spans:
    """Return the spans that meet [start, end), whole."""
    first = bisect_left(spans, start, key=lambda span: span[1])
    last = bisect_left(spans, end, key=lambda span: span[0])
    return spans[first:last]

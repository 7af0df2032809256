"""The limits of a day: how many pieces somebody works on in half a day, how long they sand."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from scheduler.hours import Hours
from scheduler.problem import Spans, Stage
from scheduler.sorted_ints import bisect_left, bisect_right
from scheduler.teams import Team
from scheduler.terms import FOREVER

if TYPE_CHECKING:
    from scheduler.calendar import Index

Day = tuple[int, int]
"""A worker, and the position of a day or half day."""
_NEVER: Final = FOREVER + 1


class Days:
    """Sorted days or half days."""

    def __init__(self, spans: Spans) -> None:
        self.spans = spans
        self._starts = [start for start, _ in spans]
        self._ends = [end for _, end in spans]

    def met(self, span: tuple[int, int]) -> range:
        """Return the positions of those that meet a span."""
        return range(bisect_right(self._ends, span[0]), bisect_left(self._starts, span[1]))

    def worked(self, hours: Hours, at: int, span: tuple[int, int]) -> int:
        """Return how many steps of one are worked in a span."""
        start, end = self.spans[at]
        return hours.worked_in(max(start, span[0]), min(end, span[1]))


class ShortDays:
    """Where long work can be shared out so that no day has too much; made once for each index."""

    def __init__(self, index: "Index") -> None:
        self.days = Days(index.problem.days)
        self._most_from: dict[tuple[int, int], tuple[Hours, list[int]]] = {}

    def from_day(self, hours: Hours, most: int, work: int, day: int) -> int:
        """Return the soonest start, in a day or after, of so much work with no day too long.

        As far as hours and days go; FOREVER + 1 where there is none. The work is more than a
        day may have.
        """
        reached = self._reached(hours, most)
        while day < len(reached) and reached[day] < work:
            day += 1
        if day == len(reached):
            return _NEVER
        start, end = self.days.spans[day]
        rank = hours.rank(end)
        return hours.step_at(max(rank - most, hours.rank(start))) if most else end

    def _reached(self, hours: Hours, most: int) -> list[int]:
        """Return, by day, the most work begun in it or later that keeps every day short enough.

        Begun in it: as much as may be that day, the whole of each day after, as long as that is
        no more than may be, and as much as may be on the last.
        """
        key = (id(hours), most)
        if key not in self._most_from:
            self._most_from[key] = (hours, self._make(hours, most))
        return self._most_from[key][1]

    def _make(self, hours: Hours, most: int) -> list[int]:
        ranks = [(hours.rank(start), hours.rank(end)) for start, end in self.days.spans]
        reached = [0] * len(ranks)
        after = 0
        for day in range(len(ranks) - 1, -1, -1):
            whole = ranks[day][1] - ranks[day][0]
            reached[day] = min(whole, most) + after if whole else 0
            if whole > most:
                after = most
            elif whole:
                after += whole
        return reached


class Daily:
    """What each worker does in each day of a pass.

    Where a stage would break a limit it is told a later start; with any before that the limit
    stays broken.
    """

    def __init__(self, index: "Index", stages: Sequence[Stage] | None = None) -> None:
        """Start with nothing done; stages: others than those of the problem."""
        problem = index.problem
        self._stages = problem.stages if stages is None else stages
        self._pieces_max = problem.pieces_max
        self._sanding_max = [worker.sanding_max for worker in problem.workers]
        self._short_days = index.once(ShortDays)
        self._days = self._short_days.days
        self._half_days = Days(problem.half_days)
        self._pieces: dict[Day, dict[int, int]] = {}
        self._sanding: dict[Day, int] = {}

    def later(self, stage: int, team: Team, hours: Hours, span: tuple[int, int]) -> int:
        """Return a later start if a limit would be broken, past FOREVER if none is, else -1."""
        asked = self._stages[stage]
        if asked.under_way:
            return -1
        latest = -1
        if asked.piece is not None and self._pieces_max is not None:
            latest = self._fewer_pieces(asked.piece, self._pieces_max, team, hours, span)
        if asked.sands:
            for worker in team:
                most = self._sanding_max[worker]
                if most is not None:
                    latest = max(latest, self._less_sanding(worker, most, hours, span))
        return latest

    def _fewer_pieces(
        self, piece: int, most: int, team: Team, hours: Hours, span: tuple[int, int]
    ) -> int:
        latest = -1
        for half_day in self._half_days.met(span):
            for worker in team:
                pieces = self._pieces.get((worker, half_day), ())
                if len(pieces) >= most and piece not in pieces:
                    if self._half_days.worked(hours, half_day, span):
                        latest = self._half_days.spans[half_day][1]
                    break
        return latest

    def _less_sanding(self, worker: int, most: int, hours: Hours, span: tuple[int, int]) -> int:
        latest = broken = -1
        for day in self._days.met(span):
            left = most - self._sanding.get((worker, day), 0)
            if self._days.worked(hours, day, span) > max(0, left):
                broken = day
                _, end = self._days.spans[day]
                latest = hours.step_at(hours.rank(end) - left) if left > 0 else end
        work = hours.worked_in(*span) if broken >= 0 else 0
        if work <= most:
            return latest
        return max(latest, self._short_days.from_day(hours, most, work, broken))

    def book(self, stage: int, team: Team, hours: Hours, span: tuple[int, int]) -> None:
        """Note what a team does in a stage."""
        self._add(stage, team, hours, span, 1)

    def take_back(self, stage: int, team: Team, hours: Hours, span: tuple[int, int]) -> None:
        """Take back what was noted of a stage."""
        self._add(stage, team, hours, span, -1)

    def _add(self, stage: int, team: Team, hours: Hours, span: tuple[int, int], sign: int) -> None:
        asked = self._stages[stage]
        if asked.piece is not None and self._pieces_max is not None:
            for half_day in self._half_days.met(span):
                if self._half_days.worked(hours, half_day, span):
                    for worker in team:
                        self._count(asked.piece, (worker, half_day), sign)
        for day in self._days.met(span) if asked.sands else ():
            steps = sign * self._days.worked(hours, day, span)
            for worker in team:
                self._sanding[worker, day] = self._sanding.get((worker, day), 0) + steps

    def _count(self, piece: int, day: Day, sign: int) -> None:
        pieces = self._pieces.setdefault(day, {})
        pieces[piece] = pieces.get(piece, 0) + sign
        if not pieces[piece]:
            del pieces[piece]

"""Whether a schedule is sound that differs from a sound one in some stages: the replay, in short.

Only what the change can have broken is looked at: the stages that moved, what is tied to them,
and whom and what they take. Their own rules are the replay's; what is taken is counted moment by
moment. Tests hold it against the whole replay.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple

from scheduler.calendar import Index
from scheduler.daily import Days
from scheduler.model.departures import let_leave
from scheduler.problem import Going, Schedule, Span, Spans, Stage
from scheduler.replay import edge_breaches, stage_breaches, stock_breaches
from scheduler.replay_loads import trip_breaches
from scheduler.replay_people import is_left_alone, pair_breaches
from scheduler.spans import merged, overlap
from scheduler.spots import journeys
from scheduler.taken import Share, Taken, shares_of
from scheduler.ties import Ties

GIVEN, JOURNEY = -2, -1


class Piece(NamedTuple):
    """Units of a room taken over [start, end). owner: a stage, JOURNEY, or GIVEN."""

    start: int
    end: int
    units: int
    owner: int = GIVEN
    is_new: bool = False

    def meets(self, share: Share) -> bool:
        """Return whether something is taken of it while a stage has its share."""
        return (
            self.units > 0
            and max(self.start, share.start) < min(self.end, share.end)
            and share.start < share.end
        )


def is_sound(index: Index, before: Taken, after: Schedule) -> bool:
    """Return whether a schedule keeps every rule of the problem. before: of a sound one."""
    return _Judge(index, before, after).is_sound()


class _Judge:
    def __init__(self, index: Index, before: Taken, after: Schedule) -> None:
        self._index, self._problem = index, index.problem
        self._ties = index.once(Ties)
        self._before, self._after = before, after
        old = before.schedule
        by_stage = zip(
            zip(old.starts, old.ends, old.ways, old.teams, strict=True),
            zip(after.starts, after.ends, after.ways, after.teams, strict=True),
            strict=True,
        )
        self._moved = [stage for stage, (was, is_) in enumerate(by_stage) if was != is_]
        trips = zip(old.trips, after.trips, strict=True)
        self._left = [job for job, (was, is_) in enumerate(trips) if was != is_]
        self._moved_set = set(self._moved)
        self._new = {stage: shares_of(index, after, stage) for stage in self._moved}

    def is_sound(self) -> bool:
        return (
            self._keeps_own_rules()
            and self._keeps_edges()
            and not any(pair_breaches(self._problem, self._after))
            and not any(stock_breaches(self._problem, self._after))
            and self._keeps_people()
            and self._keeps_rooms()
            and self._keeps_days()
            and self._keeps_company()
            and self._leaves()
        )

    def _keeps_own_rules(self) -> bool:
        for stage in self._moved:
            if self._after.ways[stage] == -1:
                if not self._problem.stages[stage].optional:
                    return False
            elif any(stage_breaches(self._problem, self._after, stage)):
                return False
        return True

    def _keeps_edges(self) -> bool:
        ties, ways = self._ties, self._after.ways
        numbers = {
            number for stage in self._moved for number in (*ties.edges[stage], *ties.lifting[stage])
        }
        return not any(
            any(edge_breaches(self._problem, self._after, number))
            for number in numbers
            if ways[self._problem.edges[number].before] >= 0
            and ways[self._problem.edges[number].after] >= 0
        )

    def _keeps_people(self) -> bool:
        after = self._after
        workers = {worker for stage in self._moved for worker in after.teams[stage]}
        workers |= {worker for going in self._new_goings() for worker, _, _ in going.absences}
        spans: dict[int, list[Span]] = {worker: [] for worker in workers}
        rests: dict[int, list[Span]] = {worker: [] for worker in workers}
        for stage, team in enumerate(after.teams):
            for worker in team:
                if worker in spans:
                    spans[worker].append((after.starts[stage], after.ends[stage]))
        for _, going in journeys(self._problem, after):
            for worker, start, end in going.away:
                if worker in spans:
                    spans[worker].append((start, end))
            for worker, start, end in going.rests:
                if worker in spans:
                    rests[worker].append((start, end))
        return all(self._is_one(worker, spans[worker], rests[worker]) for worker in sorted(workers))

    def _is_one(self, worker: int, spans: list[Span], rests: list[Span]) -> bool:
        """Return whether a worker does one thing at a time, and rests without any."""
        busy = merged(self._problem.workers[worker].busy)
        taken = sorted((start, end) for start, end in (*spans, *busy) if start < end)
        return all(one[1] <= other[0] for one, other in pairwise(taken)) and not any(
            max(start, since) < min(end, until) for since, until in rests for start, end in taken
        )

    def _new_goings(self) -> list[Going]:
        return [going for job, going in journeys(self._problem, self._after) if job in self._left]

    def _keeps_rooms(self) -> bool:
        rooms = {share.room for shares in self._new.values() for share in shares}
        rooms |= {room for share in self._new_shares() for room in share.against}
        rooms |= {
            self._problem.holds[number].room
            for stage in self._moved
            for number in self._ties.holds[stage]
        }
        rooms |= {room for going in self._new_goings() for room, _, _, _ in going.takes}
        pieces: dict[int, list[Piece]] = {
            room: [Piece(*booked) for booked in self._problem.rooms[room].busy] for room in rooms
        }
        for piece, room in self._pieces():
            if room in pieces:
                pieces[room].append(piece)
        return all(
            _fits(taken, self._problem.rooms[room].capacity) for room, taken in pieces.items()
        ) and self._keeps_apart(pieces)

    def _pieces(self) -> Iterator[tuple[Piece, int]]:
        """Give what stages, stands and journeys take, and of which room."""
        after, moved, left = self._after, self._moved_set, set(self._left)
        for stage, old in enumerate(self._before.shares):
            for share in self._new.get(stage, old):
                piece = Piece(share.start, share.end, share.units, stage, is_new=stage in moved)
                yield piece, share.room
        for hold in self._problem.holds:
            first = 0 if hold.first is None else after.starts[hold.first]
            last = after.ends[hold.last]
            if first >= 0 and last >= 0:
                is_new = not moved.isdisjoint((hold.first, hold.last))
                yield Piece(first, last, hold.units, hold.last, is_new=is_new), hold.room
        for job, going in journeys(self._problem, after):
            for room, start, end, units in going.takes:
                yield Piece(start, end, units, JOURNEY, is_new=job in left), room

    def _new_shares(self) -> Iterator[Share]:
        for shares in self._new.values():
            yield from shares

    def _keeps_apart(self, pieces: Mapping[int, list[Piece]]) -> bool:
        """Return whether nothing meets what it must not share the air with."""
        for stage, old in enumerate(self._before.shares):
            is_new = stage in self._new
            for mine in self._new.get(stage, old):
                for room in mine.against:
                    # What has not moved met nothing that has not.
                    if any(
                        (is_new or piece.is_new) and piece.owner != stage and piece.meets(mine)
                        for piece in pieces.get(room, ())
                    ):
                        return False
        return True

    def _keeps_days(self) -> bool:
        problem = self._problem
        if problem.pieces_max is not None:
            pieces = self._by_day(Days(problem.half_days), _piece_of)
            for stages in pieces.values():
                found = {problem.stages[stage].piece for stage in stages}
                given = {
                    problem.stages[stage].piece
                    for stage in stages
                    if problem.stages[stage].under_way
                }
                if len(found) > problem.pieces_max and found != given:
                    return False
        for (worker, _), steps in self._by_day(Days(problem.days), _sands).items():
            most = problem.workers[worker].sanding_max
            is_long = most is not None and sum(steps.values()) > most
            if is_long and not all(problem.stages[stage].under_way for stage in steps):
                return False
        return True

    def _by_day(
        self, days: Days, counts: Callable[[Stage], bool]
    ) -> dict[tuple[int, int], dict[int, int]]:
        """Return by worker and day that a moved stage is worked in: the steps of each stage."""
        asked, moved = self._problem.stages, self._moved_set
        wanted = {
            day
            for stage in self._moved
            if counts(asked[stage])
            for day, _ in self._worked(stage, days)
        }
        workers = {worker for worker, _ in wanted}
        found: dict[tuple[int, int], dict[int, int]] = {day: {} for day in wanted}
        for stage, team in enumerate(self._after.teams):
            if counts(asked[stage]) and (stage in moved or not workers.isdisjoint(team)):
                for day, steps in self._worked(stage, days):
                    if day in found:
                        found[day][stage] = steps
        return found

    def _worked(self, stage: int, days: Days) -> Iterator[tuple[tuple[int, int], int]]:
        after, team = self._after, self._after.teams[stage]
        span = after.starts[stage], after.ends[stage]
        if not team or after.ways[stage] < 0 or span[0] == span[1]:
            return
        hours = self._index.hours_at(team, after.ways[stage], stage)
        for day in days.met(span):
            steps = days.worked(hours, day, span)
            for worker in team if steps else ():
                yield (worker, day), steps

    def _keeps_company(self) -> bool:
        """Return whether nobody who moved is left alone, nor anybody by a journey that did."""
        away = self._away()
        fresh = merged((a, b) for going in self._new_goings() for _, a, b in going.absences)
        for stage, asked in enumerate(self._problem.stages):
            start, end = self._after.starts[stage], self._after.ends[stage]
            if not asked.company or len(self._after.teams[stage]) != 1:
                continue
            is_asked = stage in self._moved_set or overlap(fresh, start, end)
            if (
                is_asked
                and overlap(away, start, end)
                and is_left_alone(self._problem, self._after, stage)
            ):
                return False
        return True

    def _away(self) -> Spans:
        """Return when anybody is out of the building."""
        own = [span for worker in self._problem.workers for span in worker.away]
        gone = (
            (start, end)
            for _, going in journeys(self._problem, self._after)
            for _, start, end in going.absences
        )
        return merged((*own, *gone))

    def _leaves(self) -> bool:
        """Return whether all leave who can, neither too soon nor too late."""
        if any(trip_breaches(self._problem, self._after, may_stay=True)):
            return False
        return let_leave(self._index, self._after).trips == self._after.trips


def _piece_of(stage: Stage) -> bool:
    return stage.piece is not None


def _sands(stage: Stage) -> bool:
    return stage.sands


def _fits(taken: Iterable[Piece], capacity: int) -> bool:
    """Return whether there is never too much, except of what could not be otherwise."""
    change: dict[int, list[int]] = defaultdict(lambda: [0, 0, 0])
    for piece in taken:
        if piece.start < piece.end:
            own = int(piece.owner != GIVEN)
            begun, over = change[piece.start], change[piece.end]
            begun[0], begun[1], begun[2] = begun[0] + piece.units, begun[1] + own, 1
            over[0], over[1] = over[0] - piece.units, over[1] - own
    units = own = 0
    for t in sorted(change):
        more, of_own, begins = change[t]
        units, own = units + more, own + of_own
        if begins and own and units > capacity:
            return False
    return True

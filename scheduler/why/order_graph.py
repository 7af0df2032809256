"""The order of a schedule: everybody's work and every room's use one after another, as planned.

Ways, teams, departures and who follows whom stay; within that every stage may slide. What it may
then do is a set of limits that all rise with what they hang on, so there is one soonest and one
latest schedule that keeps the order, and every stage of each is as soon or as late as it can be.
Limits of a day (pieces, sanding), and company while others are on the road, are left aside.

Who follows whom in a room is told by its units: a stage takes those that came free first.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from scheduler.calendar import Index, next_allowed
from scheduler.lags import Fixed
from scheduler.net import Nets
from scheduler.problem import Going, Schedule
from scheduler.spans import merged
from scheduler.spots import journeys
from scheduler.teams import until
from scheduler.terms import FOREVER
from scheduler.why.order_rooms import room_arcs
from scheduler.why.order_values import Arc, Bar, Left, Spots

__all__ = ["Arc", "Bar", "Left", "OrderGraph", "Sliding"]

_NO_WAIT = Fixed(steps=0)
_NO_JOB = -1
Engaged = tuple[int, int, int, int]
"""From when to when, which worker, and the job whose journey it is, -1 for none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sliding:
    """Where each stage is when all have slid one way: by stage, -1 where it is not placed."""

    starts: tuple[int, ...]
    ends: tuple[int, ...]


class OrderGraph:
    """A schedule in its order, asked for its soonest and its latest form.

    ins, outs: by stage, the arcs to it and from it; bars: what of rooms it may not cross. What
    people do that never moves (bookings, journeys) is passed over where it is in the way.
    """

    def __init__(
        self,
        index: Index,
        schedule: Schedule,
        *,
        left: Left | None = None,
        goings: Mapping[int, Going] | None = None,
    ) -> None:
        """Read the order.

        left: what counts no more. goings: by job, who leaves how (None: as planned).
        """
        self.index, self.schedule = index, schedule
        self.left = Left() if left is None else left
        self.goings = dict(journeys(index.problem, schedule)) if goings is None else dict(goings)
        self.placed = [stage for stage, way in enumerate(schedule.ways) if way >= 0]
        self.placed.sort(key=lambda one: (schedule.starts[one], schedule.ends[one], one))
        count = len(schedule.ways)
        self.ins: list[list[Arc]] = [[] for _ in range(count)]
        self.outs: list[list[Arc]] = [[] for _ in range(count)]
        self.bars: list[list[Bar]] = [[] for _ in range(count)]
        self._fixed: dict[int, list[Engaged]] = {}
        for one in (*self._waits(), *self._people(), *room_arcs(self._spots())):
            self._add(one)
        for bar in self._loads():
            self.bars[bar.stage].append(bar)

    def _spots(self) -> Spots:
        return Spots(
            index=self.index,
            schedule=self.schedule,
            placed=tuple(self.placed),
            goings=self.goings,
            left=self.left,
        )

    def _add(self, one: Arc | Bar) -> None:
        if isinstance(one, Bar):
            self.bars[one.stage].append(one)
        else:
            self.ins[one.after].append(one)
            self.outs[one.before].append(one)

    def _waits(self) -> Iterator[Arc]:
        """Give what follows what by the book."""
        asked = self.index.problem.stages
        inserted = frozenset(stage for stage in self.placed if asked[stage].optional)
        net = self.index.once(Nets).net(inserted)
        for stage in self.placed:
            for link in net.ins[stage]:
                is_eased = link.before in self.left.cures and link.lag is not None
                yield Arc(
                    kind="wait",
                    before=link.before,
                    after=stage,
                    from_end=link.from_end,
                    to_end=link.to_end,
                    lag=_NO_WAIT if is_eased else link.lag,
                    most=link.most,
                )

    # People

    def _people(self) -> Iterator[Arc]:
        schedule = self.schedule
        by_worker: dict[int, list[int]] = {}
        for stage in self.placed:
            if schedule.ends[stage] > schedule.starts[stage] and stage not in self.left.people:
                for worker in schedule.teams[stage]:
                    by_worker.setdefault(worker, []).append(stage)
        for worker, stages in sorted(by_worker.items()):
            for before, after in pairwise(stages):
                yield Arc(kind="person", before=before, after=after, lag=_NO_WAIT, worker=worker)
            if worker not in self.left.workers:
                self._fixed[worker] = sorted(self._engaged(worker))

    def _engaged(self, worker: int) -> Iterator[Engaged]:
        """Give what a worker does that is no stage: from, to, the worker, whose journey it is."""
        for start, end in merged(self.index.problem.workers[worker].busy):
            yield start, end, worker, _NO_JOB
        for job, going in sorted(self.goings.items()):
            for one, start, end in going.absences:
                if one == worker and end > start:
                    yield start, end, worker, job

    def in_the_way(self, stage: int, start: int, end: int) -> list[Engaged]:
        """Return what somebody of the team does between that is no stage and never moves."""
        planned, found = self.schedule, list[Engaged]()
        if end <= start:
            return found
        for worker in planned.teams[stage]:
            for engaged in self._fixed.get(worker, ()):
                if engaged[0] >= end:
                    break
                is_told = engaged[0] < planned.ends[stage] and engaged[1] > planned.starts[stage]
                if engaged[1] > start and not is_told:
                    found.append(engaged)
        return found

    # Journeys

    def _loads(self) -> Iterator[Bar]:
        """Give no sooner than when a lorry that may not stand has to be loaded."""
        for job, going in sorted(self.goings.items()):
            aim = self.index.problem.jobs[job]
            if aim.trip is not None and aim.trip.stands_most is not None and len(aim.loads) == 1:
                low = going.leaves - aim.trip.stands_most
                yield Bar(kind="trip", stage=aim.loads[0], low_end=low, job=job)

    # Sliding

    def earliest(self) -> Sliding:
        """Return every stage as soon as the order lets it be; never after where it is planned."""
        return _Soon(self).run()

    def latest(self, limits: Mapping[int, int]) -> Sliding:
        """Return every stage as late as the order lets it be. limits: by stage, its latest end."""
        return _Late(self, limits).run()

    def pushed(self, stage: int, start: int) -> dict[int, int]:
        """Return the stages that must begin later once one begins at `start`, and when."""
        return _Pushed(self).run(stage, start)

    def is_fixed(self, stage: int) -> bool:
        """Return whether a stage stays where it is: under way, pinned."""
        return self.index.problem.stages[stage].fixed_start is not None

    def soonest(
        self, stage: int, low_start: int, low_end: int = 0, *, engaged: bool = True
    ) -> tuple[int, int] | None:
        """Return start and end at the soonest with the planned way and team.

        engaged: not while one of them does something that never moves.
        """
        found = self._soonest(stage, low_start, low_end)
        while found is not None and engaged:
            others = self.in_the_way(stage, *found)
            if not others:
                break
            found = self._soonest(stage, max(each[1] for each in others), low_end)
        return found

    def _soonest(self, stage: int, low_start: int, low_end: int) -> tuple[int, int] | None:
        index, team, way = self.index, self.schedule.teams[stage], self.schedule.ways[stage]
        found = index.span(team, way, stage, max(0, low_start))
        ends = index.problem.stages[stage].ends
        while found is not None:
            wanted: int | None = max(found[1], low_end)
            if ends is not None and wanted is not None:
                wanted = next_allowed(ends, wanted)
            if wanted is None or wanted == found[1]:
                return None if wanted is None else found
            found = index.ending_at(team, way, stage, wanted)
        return None

    def latest_span(self, stage: int, high_start: int, high_end: int) -> tuple[int, int] | None:
        """Return start and end at the latest with the planned way and team."""
        found = self._latest(stage, high_start, high_end)
        while found is not None:
            others = self.in_the_way(stage, *found)
            if not others:
                break
            found = self._latest(stage, high_start, min(each[0] for each in others))
        return found

    def _latest(self, stage: int, high_start: int, high_end: int) -> tuple[int, int] | None:
        index, team, way = self.index, self.schedule.teams[stage], self.schedule.ways[stage]
        work, high = index.steps(team, way, stage), min(high_end, index.problem.horizon)
        if not work:
            return index.span_back(team, way, stage, min(high, high_start))
        found = index.span_back(team, way, stage, high)
        if found is not None and found[0] > high_start:
            found = index.runs(team, way, stage).fit_start(high_start, work)
            found = None if found is None else index.span_back(team, way, stage, found[1])
        return found

    def certified_until(self, stage: int) -> int:
        """Return by when the planned team must have ended, for their certificates."""
        way = self.schedule.ways[stage]
        call = self.index.call(stage, way)
        if not call.certificates:
            return FOREVER
        last = until(self.index.problem.workers, call, self.schedule.teams[stage])
        return FOREVER if last is None else last


class _Soon:
    """Pushing stages later, from nothing, until nothing pushes any more."""

    def __init__(self, graph: OrderGraph) -> None:
        self._graph = graph
        count = len(graph.schedule.ways)
        self.starts, self.ends = [-1] * count, [-1] * count

    def run(self) -> Sliding:
        graph = self._graph
        waiting = _Waiting(graph.placed)
        while (stage := waiting.pop()) is not None:
            if not self._moved(stage):
                continue
            waiting.add(arc.after for arc in graph.outs[stage])
            waiting.add(arc.before for arc in graph.ins[stage] if arc.most is not None)
        return Sliding(starts=tuple(self.starts), ends=tuple(self.ends))

    def _moved(self, stage: int) -> bool:
        graph, planned = self._graph, self._graph.schedule
        if graph.is_fixed(stage):
            found: tuple[int, int] | None = (planned.starts[stage], planned.ends[stage])
        else:
            found = graph.soonest(stage, *self.lows(stage))
        if found is None or (found[0] >= planned.starts[stage] and found[1] >= planned.ends[stage]):
            found = planned.starts[stage], planned.ends[stage]
        if found == (self.starts[stage], self.ends[stage]):
            return False
        self.starts[stage], self.ends[stage] = found
        return True

    def lows(self, stage: int) -> tuple[int, int]:
        graph = self._graph
        bounds = graph.index.terms.bounds[stage]
        low_start, low_end = bounds.earliest_start, bounds.earliest_end
        for bar in graph.bars[stage]:
            low_start, low_end = max(low_start, bar.low), max(low_end, bar.low_end)
        for arc in graph.ins[stage]:
            ready = self.ready(arc)
            if arc.to_end:
                low_end = max(low_end, ready)
            else:
                low_start = max(low_start, ready)
        for arc in graph.outs[stage]:
            asked = self.pulled(arc)
            if arc.from_end:
                low_end = max(low_end, asked)
            else:
                low_start = max(low_start, asked)
        return low_start, low_end

    def ready(self, arc: Arc) -> int:
        """Return from when on an arc lets its second stage be, 0 while the first is unknown."""
        came = self.ends[arc.before] if arc.from_end else self.starts[arc.before]
        if arc.lag is None or came < 0:
            return 0
        found = arc.lag.of(came)
        return FOREVER if found is None else found

    def pulled(self, arc: Arc) -> int:
        """Return from when on a greatest wait lets its first stage be."""
        comes = self.ends[arc.after] if arc.to_end else self.starts[arc.after]
        if arc.most is None or comes < 0:
            return 0
        found = arc.most.inverse(comes)
        return 0 if found is None else found


class _Pushed:
    """Pushing from the plan on: one stage comes later, and whatever that pushes."""

    def __init__(self, graph: OrderGraph) -> None:
        self._graph = graph
        self._at: dict[int, tuple[int, int]] = {}

    def run(self, stage: int, start: int) -> dict[int, int]:
        graph = self._graph
        waiting = _Waiting(())
        self._push(waiting, stage, graph.soonest(stage, start))
        while (one := waiting.pop()) is not None:
            if not graph.is_fixed(one):
                self._push(waiting, one, graph.soonest(one, *self._lows(one)))
        return {one: at[0] for one, at in self._at.items()}

    def _push(self, waiting: "_Waiting", stage: int, found: tuple[int, int] | None) -> None:
        if found is None or found[0] <= self._now(stage)[0]:
            return
        self._at[stage] = found
        waiting.add(arc.after for arc in self._graph.outs[stage])
        waiting.add(arc.before for arc in self._graph.ins[stage] if arc.most is not None)

    def _now(self, stage: int) -> tuple[int, int]:
        planned = self._graph.schedule
        return self._at.get(stage, (planned.starts[stage], planned.ends[stage]))

    def _lows(self, stage: int) -> tuple[int, int]:
        low_start, low_end = self._now(stage)
        for arc in self._graph.ins[stage]:
            start, end = self._now(arc.before)
            ready = None if arc.lag is None else arc.lag.of(end if arc.from_end else start)
            if arc.to_end:
                low_end = max(low_end, ready or 0)
            else:
                low_start = max(low_start, ready or 0)
        for arc in self._graph.outs[stage]:
            start, end = self._now(arc.after)
            asked = None if arc.most is None else arc.most.inverse(end if arc.to_end else start)
            if arc.from_end:
                low_end = max(low_end, asked or 0)
            else:
                low_start = max(low_start, asked or 0)
        return low_start, low_end


class _Late:
    """Pushing stages sooner, from as late as their own limits allow, until nothing pushes."""

    def __init__(self, graph: OrderGraph, limits: Mapping[int, int]) -> None:
        self._graph, self._limits = graph, limits
        count = len(graph.schedule.ways)
        self.starts, self.ends = [FOREVER] * count, [FOREVER] * count

    def run(self) -> Sliding:
        graph = self._graph
        waiting = _Waiting(reversed(graph.placed))
        while (stage := waiting.pop()) is not None:
            if not self._moved(stage):
                continue
            waiting.add(arc.before for arc in graph.ins[stage])
            waiting.add(arc.after for arc in graph.outs[stage] if arc.most is not None)
        count = range(len(self.starts))
        placed = set(graph.placed)
        return Sliding(
            starts=tuple(self.starts[each] if each in placed else -1 for each in count),
            ends=tuple(self.ends[each] if each in placed else -1 for each in count),
        )

    def _moved(self, stage: int) -> bool:
        graph, planned = self._graph, self._graph.schedule
        found: tuple[int, int] | None = None
        if not graph.is_fixed(stage):
            found = graph.latest_span(stage, *self._highs(stage))
        if found is None or found[0] <= planned.starts[stage]:
            found = planned.starts[stage], planned.ends[stage]
        if found == (self.starts[stage], self.ends[stage]):
            return False
        self.starts[stage], self.ends[stage] = found
        return True

    def _highs(self, stage: int) -> tuple[int, int]:
        graph = self._graph
        bounds = graph.index.terms.bounds[stage]
        high_start = bounds.latest_start
        high_end = min(bounds.latest_end, graph.certified_until(stage))
        high_end = min(high_end, self._limits.get(stage, FOREVER))
        for bar in graph.bars[stage]:
            high_end = min(high_end, bar.high)
        for arc in graph.outs[stage]:
            latest = self._by(arc)
            if arc.from_end:
                high_end = min(high_end, latest)
            else:
                high_start = min(high_start, latest)
        for arc in graph.ins[stage]:
            latest = self._within(arc)
            if arc.to_end:
                high_end = min(high_end, latest)
            else:
                high_start = min(high_start, latest)
        return high_start, high_end

    def _by(self, arc: Arc) -> int:
        """Return by when an arc wants its first stage."""
        comes = self.ends[arc.after] if arc.to_end else self.starts[arc.after]
        if arc.lag is None or comes >= FOREVER:
            return FOREVER
        found = arc.lag.inverse(comes)
        return -1 if found is None else found

    def _within(self, arc: Arc) -> int:
        """Return by when a greatest wait wants its second stage."""
        came = self.ends[arc.before] if arc.from_end else self.starts[arc.before]
        if arc.most is None or came >= FOREVER:
            return FOREVER
        found = arc.most.of(came)
        return FOREVER if found is None else found


class _Waiting:
    """Stages to look at, each once at a time, first come first served."""

    def __init__(self, stages: Iterable[int]) -> None:
        self._line = dict.fromkeys(stages)

    def pop(self) -> int | None:
        for stage in self._line:
            del self._line[stage]
            return stage
        return None

    def add(self, stages: Iterable[int]) -> None:
        self._line.update(dict.fromkeys(stages))

"""The chain that decides when a job is loaded: from its end back, why each step is no sooner.

All is as soon as the plan's people let it be first, so that laziness hides no cause. Of
several causes that hold with equality the first of this order counts: what is fixed from outside,
what comes before, people, places, air, and a coat that has to follow. Hours off, a shift that is
too short and leave are told beside the cause behind which they come.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.normalise import Normal
from scheduler.place import place
from scheduler.problem import Schedule
from scheduler.slack import working_minutes
from scheduler.verdicts import stand_of
from scheduler.why.chain_ends import clash_links, end_links
from scheduler.why.chain_links import Facts, Link, LinkKind, Then
from scheduler.why.chain_reasons import Cause, Reasons
from scheduler.why.order_graph import Engaged, OrderGraph, Sliding
from scheduler.why.order_values import Arc, Bar, Left
from shared.ids import JobId
from shared.units import instant_of

__all__ = ["Deciding", "Link", "LinkKind", "Then", "deciding_chain"]

BRANCHES_MAX = 6
_NEVER = -1
_HOUR_MINUTES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Push:
    """One thing that lets a stage start no sooner: the rank of its sort, from when on it does.

    by: the arc or the bar; None: the stage's own. pulled: a greatest wait asks for it.
    """

    rank: int
    moment: int
    is_of_end: bool = False
    by: Arc | Bar | None = None
    pulled: bool = False

    @property
    def other(self) -> int:
        """Return the stage on the other side, -1 where there is none."""
        if not isinstance(self.by, Arc):
            return _NEVER
        return self.by.after if self.pulled else self.by.before


_RANKS = {"trip": 0, "wait": 1, "person": 2, "room": 3, "air": 4}
_PULLED = 5
_PASSING = (LinkKind.PERSON, LinkKind.CLIMATE)
"""Kinds of what lies between a cause and the start, told behind it."""


def deciding_chain(
    normal: Normal, schedule: Schedule, job: JobId, index: Index | None = None
) -> tuple[Link, ...]:
    """Return what decides when a job is loaded, from the first cause on to the window.

    Of a job that something written keeps from every window: that alone. Without steps to come:
    what loading has to be over for.
    """
    return deciding_of(normal, schedule, job, index).chain(job)


def deciding_of(
    normal: Normal, schedule: Schedule, job: JobId, index: Index | None = None
) -> "Deciding":
    """Return the order in which a job's causes show best: with no gap left that something fits.

    A plan is pulled together from behind, so that things come after each other that need not. All
    is placed once more in the order of its starts, by the same people; that counts where the job
    is loaded no later for it.
    """
    found = Deciding(normal, schedule, index)
    position = found.position(job)
    closer = None if position is None else closed_up(found.index, schedule)
    if position is None or closer is None:
        return found
    other = Deciding(normal, closer, found.index)
    is_kept = stand_of(normal, position, closer).kept or not (
        stand_of(normal, position, schedule).kept
    )
    return other if is_kept and other.loaded(position) <= found.loaded(position) else found


def closed_up(index: Index, schedule: Schedule) -> Schedule | None:
    """Return a schedule placed anew in the order of its starts, None where that does not go."""
    placed = [stage for stage, way in enumerate(schedule.ways) if way >= 0]
    placed.sort(key=lambda stage: (schedule.starts[stage], schedule.ends[stage], stage))
    asked = index.problem.stages
    found = place(
        index,
        placed,
        teams={stage: (schedule.ways[stage], schedule.teams[stage]) for stage in placed},
        inserted=frozenset(stage for stage in placed if asked[stage].optional),
    )
    return None if isinstance(found, Unfit) else found


class Deciding:
    """One schedule at its soonest, asked for the chains of its jobs."""

    def __init__(
        self,
        normal: Normal,
        schedule: Schedule,
        index: Index | None = None,
        *,
        left: Left | None = None,
    ) -> None:
        """Let everything slide to its soonest. left: what does not count."""
        self.normal = normal
        self.index = Index(normal.problem) if index is None else index
        self.graph = OrderGraph(self.index, schedule, left=left)
        self.soon: Sliding = self.graph.earliest()
        self._reasons = Reasons(normal, self.graph, self.soon)

    def position(self, job: JobId) -> int | None:
        """Return the position of a job in the problem, None where it is none of it."""
        jobs = self.normal.jobs
        return next((at for at, name in enumerate(jobs) if name.job.id == job), None)

    def last(self, position: int) -> int | None:
        """Return the stage whose end is the end of loading."""
        lasts = [
            stage
            for stage in self.normal.problem.jobs[position].lasts
            if self.graph.schedule.ways[stage] >= 0
        ]
        return max(lasts, key=lambda stage: (self.soon.ends[stage], -stage), default=None)

    def loaded(self, position: int) -> int:
        """Return when loading of a job ends at the soonest, 0 where nothing of it is to come."""
        last = self.last(position)
        return 0 if last is None else self.soon.ends[last]

    def chain(self, job: JobId) -> tuple[Link, ...]:
        """Return the chain of a job, the first cause first."""
        clashes = clash_links(self.normal, job)
        position = self.position(job)
        if clashes or position is None:
            return clashes
        last = self.last(position)
        ends = tuple(end_links(self.normal, self.graph.schedule, position))
        if last is None:
            return ends
        seen: set[int] = set()
        branches: list[int] = []
        found = list(self._walk(last, seen, branches))
        sides: list[Link] = []
        for branch in branches[:BRANCHES_MAX]:
            side = [*self._walk(branch, seen, [], inside=job)]
            sides += (replace(link, side=True) for link in reversed(side))
        return (*reversed(found), *ends, *sides)

    def _walk(
        self, stage: int, seen: set[int], branches: list[int], *, inside: JobId | None = None
    ) -> Iterator[Link]:
        """Give the links from a stage back, the last first.

        branches: others of the same job that are as late. inside: no further than this job.
        """
        at: int | None = stage
        while at is not None and at not in seen:
            if inside is not None and self.normal.stages[at].job != inside:
                return
            seen.add(at)
            push = self.push(at, seen)
            yield from self._links(at, push)
            mine = self.normal.stages[at].job == self.normal.stages[stage].job
            if push is not None and push.rank == _RANKS["wait"] and mine:
                branches += self._branches(at, push)
            at = None if push is None or push.other < 0 else push.other

    def _branches(self, stage: int, push: Push) -> list[int]:
        """Return what else a stage comes after that is over within a shift of what decides it."""
        return [
            each.other
            for each in self._orders(stage)
            if each.rank == push.rank
            and each.other not in (push.other, _NEVER)
            and each.moment <= push.moment
            and self.normal.stages[each.other].job == self.normal.stages[stage].job
            and self._is_near(stage, each.moment)
        ]

    def _links(self, stage: int, push: Push | None) -> Iterator[Link]:
        """Give what is told of one stage, the last first: what lay behind its cause, then that."""
        if push is None:
            return
        cause = self._cause(stage, push)
        if cause is None:
            return
        then = self._reasons.then(stage, push.moment)
        besides = list(self._reasons.besides(stage, push.moment, then))
        for beside in reversed(besides):
            yield self._link(stage, push, beside, Then.NOTHING)
        is_passed = any(kind in _PASSING for kind, _, _ in besides)
        yield self._link(stage, push, cause, Then.BESIDE if is_passed else then)
        for other in self._nearly(stage, push) if push.rank else ():
            near = self._cause(stage, other)
            if near is not None:
                yield self._link(stage, other, near, Then.NOTHING)

    def _cause(self, stage: int, push: Push) -> Cause | None:
        return self._reasons.cause(stage, push.by, push.moment, pulled=push.pulled)

    def _link(self, stage: int, push: Push, cause: Cause, then: Then) -> Link:
        kind, identity, facts = cause
        return Link(
            kind=kind,
            id=identity,
            step=self.normal.stages[stage].step,
            ready=push.moment,
            start=self.soon.starts[stage],
            end=self.soon.ends[stage],
            stage=stage,
            before=push.other,
            then=then,
            facts=self._with_times(stage, push, facts),
        )

    def _nearly(self, stage: int, push: Push) -> list[Push]:
        """Return what let a stage be hardly sooner than its cause did: by a shift at most.

        Of people, rooms and air the last each, if it was not over anyhow when all that comes before
        was ready.
        """
        pushes = self.pushes(stage)
        waits = {each.other: each.moment for each in pushes if each.rank == _RANKS["wait"]}
        ready = max(waits.values(), default=0)
        found: dict[int, Push] = {}
        for each in sorted(pushes, key=lambda one: one.moment):
            is_held = _RANKS["person"] <= each.rank < _PULLED and each.moment > ready
            is_new = each.rank != push.rank and each.other not in waits
            if is_held and is_new and self._is_near(stage, each.moment):
                found[each.rank] = each
        return list(found.values())

    def _is_near(self, stage: int, moment: int) -> bool:
        workshop, origin = self.normal.book.workshop, self.normal.origin
        first, last = (instant_of(origin, step) for step in (moment, self.soon.starts[stage]))
        return working_minutes(workshop, first, last) <= workshop.shift_hours * _HOUR_MINUTES

    def _with_times(self, stage: int, push: Push, facts: Facts) -> Facts:
        at = self._reasons.instant
        return (
            ("step", self.normal.stages[stage].step),
            ("job", self.normal.stages[stage].job),
            ("part", self.normal.stages[stage].part),
            ("ready", at(push.moment)),
            ("start", at(self.soon.starts[stage])),
            ("end", at(self.soon.ends[stage])),
            *facts,
        )

    def push(self, stage: int, seen: set[int]) -> Push | None:
        """Return what lets a stage be no sooner than it is; seen: not one of these again."""
        start = self.soon.starts[stage]
        pushes = [each for each in self.pushes(stage) if each.other not in seen]
        binding = [each for each in pushes if self._reached(stage, each) >= start]
        if not binding:
            # A circle of waits: then the last to be ready of what comes before.
            binding = [each for each in pushes if each.rank == _RANKS["wait"]]
        return min(binding, key=_by_rank, default=None)

    def _reached(self, stage: int, push: Push) -> int:
        low = (0, push.moment) if push.is_of_end else (push.moment, 0)
        found = self.graph.soonest(stage, *low, engaged=False)
        return self.soon.starts[stage] if found is None else found[0]

    def _engaged(self, stage: int, pushes: list[Push]) -> Iterator[Push]:
        """Give what people do that never moves and ends last before a stage, if it was in the way.

        pushes: all else that lets the stage be no sooner.
        """
        low_start = max((each.moment for each in pushes if not each.is_of_end), default=0)
        low_end = max((each.moment for each in pushes if each.is_of_end), default=0)
        found = self.graph.soonest(stage, low_start, low_end, engaged=False)
        last: Engaged | None = None
        while found is not None and found[0] < self.soon.starts[stage]:
            others = self.graph.in_the_way(stage, *found)
            if not others:
                break
            last = max(others, key=lambda each: each[1])
            found = self.graph.soonest(stage, last[1], low_end, engaged=False)
        if last is not None:
            job = None if last[3] < 0 else last[3]
            bar = Bar(kind="person", stage=stage, low=last[1], worker=last[2], job=job)
            yield Push(rank=_RANKS["person"], moment=last[1], by=bar)

    def pushes(self, stage: int) -> list[Push]:
        """Return all that lets a stage be no sooner, whether it is what decides or not."""
        found = list(self._orders(stage))
        return [*found, *self._engaged(stage, found)]

    def _orders(self, stage: int) -> Iterator[Push]:
        bounds, graph = self.index.terms.bounds[stage], self.graph
        release = self.soon.starts[stage] if graph.is_fixed(stage) else bounds.earliest_start
        yield Push(rank=0, moment=release)
        for bar in graph.bars[stage]:
            if bar.low:
                yield Push(rank=_RANKS[bar.kind], moment=bar.low, by=bar)
            if bar.low_end:
                yield Push(rank=_RANKS[bar.kind], moment=bar.low_end, is_of_end=True, by=bar)
        for arc in graph.ins[stage]:
            came = self.soon.ends[arc.before] if arc.from_end else self.soon.starts[arc.before]
            ready = None if arc.lag is None else arc.lag.of(came)
            if ready is not None:
                yield Push(rank=_RANKS[arc.kind], moment=ready, is_of_end=arc.to_end, by=arc)
        for arc in graph.outs[stage]:
            comes = self.soon.ends[arc.after] if arc.to_end else self.soon.starts[arc.after]
            asked = None if arc.most is None else arc.most.inverse(comes)
            if asked is not None:
                yield Push(rank=_PULLED, moment=asked, is_of_end=arc.from_end, by=arc, pulled=True)


def _by_rank(push: Push) -> tuple[int, int, int]:
    return push.rank, -push.moment, push.other

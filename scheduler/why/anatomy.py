"""What the days of a job are spent on: an exact partition of them along its own deciding steps.

From now to the end of the window (to the end of the journey where it is missed), back from loading:
each step as soon as the order of the plan lets it be, before it the wait for what came last. Every
quarter has one class, and they add up to all there are. What a class is worth is never its share:
ask `worth_of`, which lets all slide once more without it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from scheduler.calendar import last_allowed
from scheduler.verdicts import stand_of
from scheduler.why.day_classes import USUAL, Class
from scheduler.why.deciding import Deciding, Push
from scheduler.why.order_values import Arc
from shared.book import Gate, GateKind
from shared.ids import JobId
from shared.units import STEP_MINUTES, steps_down


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A stretch of one class, in steps; stage: for which step of the job, -1 for none."""

    what: Class
    start: int
    end: int
    stage: int = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Anatomy:
    """The days of a job. parts: from step 0 without a gap."""

    job: JobId
    parts: tuple[Part, ...]

    @property
    def minutes(self) -> dict[Class, int]:
        """Return the elapsed minutes of each class."""
        found: dict[Class, int] = dict.fromkeys(USUAL, 0)
        for part in self.parts:
            found[part.what] = found.get(part.what, 0) + (part.end - part.start) * STEP_MINUTES
        return found

    @property
    def elapsed_minutes(self) -> int:
        """Return all of it."""
        return self.parts[-1].end * STEP_MINUTES if self.parts else 0


def anatomy(deciding: Deciding, job: JobId) -> Anatomy:
    """Return the anatomy of a job's days; without parts where nothing of it is placed."""
    position = deciding.position(job)
    last = None if position is None else deciding.last(position)
    if position is None or last is None:
        return Anatomy(job=job, parts=())
    made = list(_Walk(deciding).parts(last))
    made += _behind(deciding, position, deciding.soon.ends[last])
    parts = tuple(_joined(made))
    ends = [part.end for part in parts]
    starts = [0, *ends[:-1]] if parts else []
    assert [part.start for part in parts] == starts, "the days of a job have a gap"
    return Anatomy(job=job, parts=parts)


def _behind(deciding: Deciding, position: int, loaded: int) -> Iterator[Part]:
    """Give what comes after loading: standing here, the journey, being there in time."""
    normal, schedule = deciding.normal, deciding.graph.schedule
    name = normal.jobs[position]
    at, option = loaded, schedule.trips[position]
    if option >= 0:
        rides = [ridden.ride for _, ridden in name.options[option].rides]
        leaves = min((ride.leaves for ride in rides), default=at)
        if leaves > at:
            yield Part(what=Class.SLACK, start=at, end=leaves)
        end = max((ride.end for ride in rides), default=leaves)
        if end > max(at, leaves):
            yield Part(what=Class.JOURNEY, start=max(at, leaves), end=end)
        at = max(at, leaves, end)
    held = name.job.held_window
    if held is not None and stand_of(normal, position, schedule).kept:
        end = steps_down(normal.origin, held.end)
        if end > at:
            yield Part(what=Class.SLACK, start=at, end=end)


def _joined(parts: list[Part]) -> Iterator[Part]:
    """Give the parts in time, those of one class and stage that touch as one."""
    kept: Part | None = None
    for part in sorted(
        (part for part in parts if part.end > part.start), key=lambda one: one.start
    ):
        if kept is None:
            kept = part
        elif (kept.what, kept.stage, kept.end) == (part.what, part.stage, part.start):
            kept = Part(what=kept.what, start=kept.start, end=part.end, stage=kept.stage)
        else:
            yield kept
            kept = part
    if kept is not None:
        yield kept


class _Walk:
    """Along the steps of the job alone, from loading back to now."""

    def __init__(self, deciding: Deciding) -> None:
        self._deciding = deciding
        self._normal = deciding.normal
        self._soon = deciding.soon

    def parts(self, stage: int) -> Iterator[Part]:
        at = self._soon.ends[stage]
        seen: set[int] = set()
        while True:
            seen.add(stage)
            start = min(at, self._soon.starts[stage])
            yield from self._worked(stage, start, at)
            before = self._last_before(stage, seen)
            own = max(0, min(self._own(stage), start))
            came = 0 if before is None else max(0, min(before.moment, start))
            yield from self._waited(stage, max(own, came), start)
            yield Part(what=self._own_class(stage), start=came, end=max(own, came), stage=stage)
            if before is None:
                return
            assert isinstance(before.by, Arc)
            stage = before.by.before
            at = min(self._soon.ends[stage], came)
            yield Part(what=self._wait_class(stage), start=at, end=came, stage=stage)

    def _last_before(self, stage: int, seen: set[int]) -> Push | None:
        """Return the wait of the job's own that is over last."""
        job = self._normal.stages[stage].job
        pushes = [
            push
            for push in self._deciding.pushes(stage)
            if isinstance(push.by, Arc)
            and push.by.kind == "wait"
            and not push.pulled
            and push.other not in seen
            and self._normal.stages[push.other].job == job
        ]
        return max(pushes, key=lambda push: (push.moment, -push.other), default=None)

    def _own(self, stage: int) -> int:
        """Return from when on a stage could be for all that is written of itself."""
        graph = self._deciding.graph
        if graph.is_fixed(stage):
            return self._soon.starts[stage]
        return self._deciding.index.terms.bounds[stage].earliest_start

    def _own_class(self, stage: int) -> Class:
        """Return what a stage waits for until what is written of itself lets it be."""
        name = self._normal.stages[stage]
        if name.due is not None:
            return Class.CLIENT
        return Class.OUTSIDE if name.begun is None else Class.WORK

    def _wait_class(self, stage: int) -> Class:
        name = self._normal.stages[stage]
        steps = (step for job in self._normal.book.jobs for step in job.steps)
        step = next(step for step in steps if step.id == name.step)
        is_answer = isinstance(step, Gate) and step.gate is GateKind.ANSWER and not name.part
        return Class.CLIENT if is_answer else Class.CURE

    def _worked(self, stage: int, start: int, end: int) -> Iterator[Part]:
        for open_from, open_until in self._open(stage, start, end):
            yield Part(what=Class.WORK, start=open_from, end=open_until, stage=stage)
        for shut_from, shut_until in _between(self._open(stage, start, end), start, end):
            yield Part(what=Class.NIGHTS, start=shut_from, end=shut_until, stage=stage)

    def _open(self, stage: int, start: int, end: int) -> list[tuple[int, int]]:
        """Return when the planned team works between two moments."""
        schedule = self._deciding.graph.schedule
        index, way, team = self._deciding.index, schedule.ways[stage], schedule.teams[stage]
        if end <= start:
            return []
        if not index.steps(team, way, stage):
            return [(start, end)]
        return list(index.hours_at(team, way, stage).inside(start, end))

    def _waited(self, stage: int, ready: int, start: int) -> Iterator[Part]:
        """Give what a stage that could have been waited for: quarter by quarter."""
        is_open = self._open(stage, ready, start)
        for shut_from, shut_until in _between(is_open, ready, start):
            yield Part(what=Class.NIGHTS, start=shut_from, end=shut_until, stage=stage)
        until = self._until_by_class(stage)
        for open_from, open_until in is_open:
            at = open_from
            for what in _HELD_BY:
                end = min(open_until, until[what])
                if end > at:
                    yield Part(what=what, start=at, end=end, stage=stage)
                    at = end
            yield Part(what=self._rest_class(stage, at), start=at, end=open_until, stage=stage)

    def _until_by_class(self, stage: int) -> Mapping[Class, int]:
        """Return until when people, places, the next coat and the lorry keep a stage waiting."""
        found = dict.fromkeys(_HELD_BY, 0)
        for push in self._deciding.pushes(stage):
            what = Class.RECOAT if push.pulled else _CLASS_OF_RANK.get(push.rank)
            if push.by is not None and push.by.kind == "trip":
                what = Class.SLACK
            if what is not None:
                found[what] = max(found[what], push.moment)
        return found

    def _rest_class(self, stage: int, at: int) -> Class:
        """Return what keeps a stage from an open step with everybody and all room there."""
        schedule = self._deciding.graph.schedule
        clear = self._deciding.index.problem.stages[stage].ways[schedule.ways[stage]].clear
        if clear is not None and last_allowed(clear, at) != at:
            return Class.WEATHER
        return Class.SHIFT_END


_HELD_BY = (Class.PEOPLE, Class.PLACE, Class.RECOAT, Class.SLACK)
"""What may keep a stage waiting while its people are there, in the order in which it counts."""
_CLASS_OF_RANK = {2: Class.PEOPLE, 3: Class.PLACE, 4: Class.PLACE}


def _between(spans: list[tuple[int, int]], start: int, end: int) -> Iterator[tuple[int, int]]:
    """Give what of [start, end) lies in none of some sorted spans."""
    at = start
    for a, b in spans:
        if a > at:
            yield at, a
        at = max(at, b)
    if end > at:
        yield at, end

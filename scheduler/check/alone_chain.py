"""Soonest and latest moments of every step of a job by itself, and its longest chain."""

from datetime import timedelta
from functools import cached_property

from scheduler.check.alone import Alone, Work
from scheduler.check.answers import due_at
from scheduler.check.clock import DAY, QUARTER, day_of, down, instant, midnight
from scheduler.check.openings import Pairs
from shared.book import Gate, GateKind, Journey, Step, Way
from shared.certificate import Soonest
from shared.ids import StepId

Moments = dict[StepId, tuple[int, int] | None]
_ANSWERED_WITHIN = 150


class Times:
    """When the steps of a job by itself can be at the soonest and at the latest."""

    def __init__(self, alone: Alone) -> None:
        """Take the job."""
        self._alone = alone
        self._from: dict[StepId, StepId | None] = {}

    @cached_property
    def soonest(self) -> Moments:
        """Return the least start and end of each step before the journeys; None for never."""
        found: Moments = {}
        for step in self._ordered():
            found[step.id] = self._soonest(step, found)
        return found

    def _ordered(self) -> list[Work]:
        """Return the steps before the journeys, each behind those it comes after."""
        alone = self._alone
        left = [
            step
            for step in alone.job.steps
            if not isinstance(step, Journey) and not alone.behind_journey(step)
        ]
        found: list[Work] = []
        named: set[StepId] = set()
        while left:
            ready = [
                step
                for step in left
                if all(
                    before in named or before not in {each.id for each in left}
                    for before, _, _ in alone.links(step)
                )
            ]
            if not ready:
                return found
            found += ready
            named.update(step.id for step in ready)
            left = [step for step in left if step.id not in named]
        return found

    def _soonest(self, step: Work, found: Moments) -> tuple[int, int] | None:
        ready, self._from[step.id] = self._alone.now, None
        for before, least, from_start in self._alone.links(step):
            if before not in found:
                continue
            came = found[before]
            if came is None:
                return None
            after = came[0] + least if from_start else self.after(before, came[1], least)
            if after > ready:
                ready, self._from[step.id] = after, before
        return self._alone.soonest(step, ready)

    def after(self, before: StepId, end: int, least: int) -> int:
        """Return from when on what follows by so many seconds may start."""
        return max(self._alone.ready_after(self._alone.steps[before], end), end + least)

    def longest(self) -> list[StepId]:
        """Return the chain that is over last, from its first step on; none that never ends."""
        times = {step: span for step, span in self.soonest.items() if span is not None}
        if not times or len(times) < len(self.soonest):
            return []
        at: StepId | None = max(times, key=lambda step: self.left_at(step, times[step][1]))
        found: list[StepId] = []
        while at is not None:
            found.append(at)
            at = self._from[at]
        found.reverse()
        return found

    def left_at(self, step: StepId, end: int) -> int:
        """Return the least moment at which the lorry is loaded, as far as one step says."""
        journeys = [each for each in self._alone.job.steps if isinstance(each, Journey)]
        befores = {before for each in journeys for before, _, _ in self._alone.links(each)}
        if step not in befores:
            return end
        return self._alone.ready_after(self._alone.steps[step], end)

    def latest(self, due: int) -> dict[StepId, int]:
        """Return by when each step must have ended if the job is loaded by `due`."""
        alone, ordered = self._alone, self._ordered()
        ends = {step.id: due - (self.left_at(step.id, due) - due) for step in ordered}
        for step in reversed(ordered):
            if alone.facts.done(step.id) is not None:
                continue
            starts = self._latest_start(step, ends[step.id])
            for before, least, from_start in alone.links(step):
                if before in ends and not from_start:
                    wait = max(least, self._cure(before))
                    ends[before] = min(ends[before], starts - wait)
        return ends

    def _cure(self, step: StepId) -> int:
        """Return the seconds that a step cures, none where that goes by the temperature."""
        one = self._alone.steps[step]
        if getattr(one, "cure_celsius", None) is not None:
            return 0
        return self._alone.ready_after(one, 0)

    def _latest_start(self, step: Work, end: int) -> int:
        """Return the latest start with which a step could end by then, whoever does it."""
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
            return self._shown_by(step, end)
        if self._alone.facts.running(step.id) is not None or not step.ways:
            return end
        return max(self._start_by_way(step, way, end) for way in step.ways)

    def _start_by_way(self, step: Work, way: Way, end: int) -> int:
        able = self._alone.able(step, way)
        needed = self._alone.quarters(step, way, able)
        if not needed:
            return end
        last = down(end)
        if not way.needs:
            return _back(self._alone.hours.team(()).pairs, last, needed) * QUARTER
        starts = sorted(
            (_back(self._alone.hours.team((each.id,)).pairs, last, needed) for each in able),
            reverse=True,
        )
        count = max(1, way.hands_count)
        return starts[count - 1] * QUARTER if len(starts) >= count else self._alone.now

    def _shown_by(self, gate: Gate, end: int) -> int:
        """Return the last moment at which pictures can go out for an answer by then."""
        asked = gate.answered_by or self._alone.job.client
        if self._alone.facts.said_yes(gate.id):
            return end
        day = day_of(end, asked.zone)
        for back in range(_ANSWERED_WITHIN):
            begins = midnight(day - timedelta(days=back), asked.zone)
            if due_at(asked, gate, begins) <= end:
                return min(end, begins + DAY + DAY // 8)
        return begins


def _back(pairs: Pairs, last: int, needed: int) -> int:
    """Return the latest start, in quarters, of so much work that ends by then."""
    left = needed
    for start, end in reversed(pairs):
        there = min(end, last) - start
        if there >= left:
            return min(end, last) - left
        left -= max(0, there)
    return pairs[0][0] if pairs else last


def soonest_of(alone: Alone, chain: list[StepId]) -> list[Soonest]:
    """Return a chain told step by step, each right after the one before it."""
    times = Times(alone)
    found: list[Soonest] = []
    before: tuple[StepId, int, int] | None = None
    for step in chain:
        span = follow(alone, times, step, before)
        if span is None:
            return []
        ready = times.left_at(step, span[1])
        ready = max(ready, alone.ready_after(alone.steps[step], span[1]))
        found.append(Soonest(step=step, end=instant(span[1]), ready=instant(ready)))
        before = (step, *span)
    return found


def follow(
    alone: Alone, times: Times, step: StepId, before: tuple[StepId, int, int] | None
) -> tuple[int, int] | None:
    """Return the least start and end of a step right after another; None if it is not after it.

    before: the other with its start and end, None for the first of a chain.
    """
    one: Step | None = alone.steps.get(step)
    if one is None or isinstance(one, Journey):
        return None
    if before is None:
        return alone.soonest(one, alone.now)
    links = [link for link in alone.links(one) if link[0] == before[0]]
    if not links:
        return None
    ready = max(
        before[1] + least if from_start else times.after(before[0], before[2], least)
        for _, least, from_start in links
    )
    return alone.soonest(one, ready)

"""Counting back, for people: by when each step must start and end, and an answer be there."""

from collections.abc import Iterable
from datetime import datetime

from scheduler.calendar import Index
from scheduler.countback import Times, latest
from scheduler.normalise import Normal
from scheduler.outcome import StepTimes
from shared.book import Gate, GateKind, Job, Step
from shared.ids import StepId
from shared.units import hours_up, instant_of


class Deadlines:
    """The latest moments of a normalised book, everybody else's work left aside."""

    def __init__(self, normal: Normal, index: Index) -> None:
        """Count back from every window once."""
        self._normal = normal
        self._times: Times = index.once(latest)
        self._stages = dict[StepId, list[int]]()
        for stage, name in enumerate(normal.stages):
            if name.is_told and name.part != "abrade":
                self._stages.setdefault(name.step, []).append(stage)
        self._behind: dict[int, list[int]] = {}
        for edge in normal.problem.edges:
            if not edge.from_start:
                self._behind.setdefault(edge.before, []).append(edge.after)

    def steps(self, job: Job) -> tuple[StepTimes, ...]:
        """Return the latest start and end of each step of a job that is still to come."""
        return tuple(
            StepTimes(
                step=step.id,
                latest_start=self._at(self._times.starts[self._stages[step.id][0]]),
                latest_end=self._end(step),
            )
            for step in job.steps
            if step.id in self._stages
        )

    def start(self, job: Job) -> datetime | None:
        """Return the latest start of the first step that is still to begin."""
        return self._soonest(
            self._times.starts[stage]
            for step in job.steps
            for stage in self._stages.get(step.id, ())
            if self._normal.stages[stage].begun is None
        )

    def answer(self, job: Job) -> datetime | None:
        """Return the latest yes of the last answer still to come."""
        last = self._last_answer(job)
        return None if last is None else self._end(last)

    def answered_by(self, job: Job) -> str | None:
        """Return who gives the last answer still to come, None where the job's client does."""
        last = self._last_answer(job)
        return None if last is None or last.answered_by is None else last.answered_by.name

    def _last_answer(self, job: Job) -> Gate | None:
        answers = [s for s in job.steps if isinstance(s, Gate) and self._is_awaited(s)]
        return answers[-1] if answers else None

    def _is_awaited(self, step: Step) -> bool:
        return _is_answer(step) and any(
            not self._normal.stages[stage].part for stage in self._stages.get(step.id, ())
        )

    def _end(self, step: Step) -> datetime | None:
        stage = self._stages[step.id][-1]
        if not (isinstance(step, Gate) and self._is_awaited(step)):
            return self._at(self._times.ends[stage])
        cure = hours_up(step.cure_hours)
        return self._soonest(
            start - cure
            for after in self._behind.get(stage, ())
            if (start := self._times.starts[after]) is not None
        )

    def _soonest(self, steps: Iterable[int | None]) -> datetime | None:
        return self._at(min((step for step in steps if step is not None), default=None))

    def _at(self, step: int | None) -> datetime | None:
        """Return the instant of a step; what is past already says nothing."""
        return None if step is None or step < 0 else instant_of(self._normal.origin, step)


def _is_answer(step: object) -> bool:
    return isinstance(step, Gate) and step.gate is GateKind.ANSWER

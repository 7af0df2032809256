"""What is drawn for one plan: by stage how much more or less work it is, answers, and weather."""

from dataclasses import dataclass

import numpy as np

from scheduler.chance.answers import Answers, answers_of
from scheduler.chance.arrays import Floats
from scheduler.chance.draws import Draws
from scheduler.chance.figures import Figures
from scheduler.chance.shapes import three_point
from scheduler.normalise import Normal, StageName
from shared.book import Gate, Hours, Journey, Kind, Stage, Step, Way
from shared.estimate.record import Record
from shared.ids import StepId


@dataclass(frozen=True, slots=True, kw_only=True)
class Luck:
    """factors: by stage, drawn over written work, 1.0 where nothing is drawn. answers: by gate.

    weather: how far cures take from the quickest to the slowest that the book expects, 0 to 1.
    """

    factors: tuple[Floats | float, ...]
    answers: dict[StepId, Answers]
    weather: Floats

    def part(self, which: slice) -> "Luck":
        """Return the luck of some of the draws."""
        factors = (each if isinstance(each, float) else each[which] for each in self.factors)
        return Luck(
            factors=tuple(factors),
            answers={step: each.part(which) for step, each in self.answers.items()},
            weather=self.weather[which],
        )


def luck_of(
    normal: Normal,
    draws: Draws,
    figures: Figures,
    upto: int,
    *,
    record: Record | None = None,
    times: Floats | float = 1.0,
) -> Luck:
    """Draw everything that is uncertain in a normalised book.

    record: the workshop's own, where it is used. times: by what all hours are longer than
    written, by draw or in all of them.
    upto: the last step of all tables.
    """
    steps = {step.id: step for job in normal.book.jobs for step in job.steps}
    makers = _Factors(draws, record, times)
    factors = tuple(
        makers.of(name, steps[name.step]) if name.is_told else 1.0 for name in normal.stages
    )
    return Luck(
        factors=factors,
        answers=answers_of(normal, draws, figures, upto),
        weather=draws.shares("weather"),
    )


@dataclass(frozen=True, slots=True)
class _Factors:
    draws: Draws
    record: Record | None
    times: Floats | float

    def of(self, name: StageName, step: Step) -> Floats | float:
        """Return the factor on a stage's work."""
        ways = _ways_of(name, step)
        if not ways or not any(way.hours.likely for way in ways):
            return 1.0
        kind = _kind_of(step)
        hours = ways[0].hours
        if self.record is not None:
            return self._by_record(name, kind, hours) / _learned(step)
        if hours.low == hours.high:
            return self.times
        return self.times * _by_range(self._normals(name, kind), hours)

    def _by_record(self, name: StageName, kind: Kind, hours: Hours) -> Floats | float:
        """Return it by the workshop's own record: of a kind with few stages with its own range."""
        assert self.record is not None
        known = self.record.of(kind)
        normals = self._normals(name, kind)
        if self.record.is_own_of(kind):
            found: Floats = known.factor * np.exp(known.of_one * normals)
            return found
        if hours.low == hours.high:
            return known.factor
        return known.factor * _by_range(normals, hours)

    def _normals(self, name: StageName, kind: Kind) -> Floats:
        return self.draws.of_stage(f"{name.step}/{name.part}/{name.round}", kind.value)


def _ways_of(name: StageName, step: Step) -> tuple[Way, ...]:
    """Return the ways of the book that a stage's work comes from."""
    if isinstance(step, Journey):
        return ()
    if not name.part:
        return () if isinstance(step, Gate) and name.round else step.ways
    beside = {
        "abrade": step.abrade if isinstance(step, Stage) else None,
        "rework": step.rework if isinstance(step, Gate) else None,
        "changes": step.changes if isinstance(step, Gate) else None,
    }.get(name.part)
    return beside.ways if beside is not None else step.ways if isinstance(step, Stage) else ()


def _learned(step: Step) -> float:
    """Return by what the hours of a step were multiplied already, from the record."""
    factor = step.learned_factor if isinstance(step, Stage) else None
    return 1.0 if factor is None else float(factor)


def _kind_of(step: Step) -> Kind:
    return step.kind if isinstance(step, Stage) else Kind.PACK


def _by_range(normals: Floats, hours: Hours) -> Floats:
    low, likely, high = (float(each) for each in (hours.low, hours.likely, hours.high))
    found: Floats = three_point(normals, low, likely, high) / likely
    return found

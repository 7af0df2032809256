"""What a workshop's finished stages say about its estimates: a factor and a spread by kind.

Normal-normal on the logarithm of actual over likely hours, in two levels: the workshop's own mean
is drawn towards the usual overrun of a workshop without a record, that of a kind towards the
workshop's. The record takes the place of the usual overrun by its weight and is never added to it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from math import exp, log, sqrt

from shared.book import Book, Kind, Stage, Way
from shared.estimate.recorded import ends_before_beginning, recorded_hours
from shared.ids import JobId, StepId

RECORD_LEAST = 5
"""From so many finished stages on the workshop's own record is used."""
SPREAD_OF_STAGES, SPREAD_OF_KINDS = 0.30, 0.20
"""Of logarithms: of single stages, and of kinds from each other (common practice, no source)."""
BELIEVED = log(3)
"""Hours further off than by this factor are taken for errors of booking, and told."""
_NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Posterior:
    """What a record says: mean and spread of a logarithm, and the spread of a single stage."""

    mean: float
    spread: float

    @property
    def factor(self) -> float:
        """Return the factor, half above and half below."""
        return exp(self.mean)

    @property
    def weight(self) -> float:
        """Return the share that the record has in the mean, from 0 to 1."""
        return 1 - self.spread**2 / SPREAD_OF_KINDS**2

    @property
    def of_one(self) -> float:
        """Return the spread of the logarithm of the next stage."""
        return sqrt(SPREAD_OF_STAGES**2 + self.spread**2)


def posterior(logs: Sequence[float], prior: float) -> Posterior:
    """Return what logarithms of actual over likely say, from a prior mean of theirs."""
    pull = SPREAD_OF_STAGES**2 / SPREAD_OF_KINDS**2
    count = len(logs)
    spread = 1 / sqrt(1 / SPREAD_OF_KINDS**2 + count / SPREAD_OF_STAGES**2)
    return Posterior(mean=(pull * prior + sum(logs)) / (pull + count), spread=spread)


class Odd(StrEnum):
    """Why a record can't be."""

    NO_HOURS = "no_hours"
    TOO_MANY = "too_many"
    TOO_FEW = "too_few"
    BACKWARDS = "backwards"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A record that can't be, an error of booking. hours: recorded; likely: estimated."""

    step: StepId
    kind: Kind
    why: Odd
    hours: Decimal
    likely: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """A workshop's record: logarithms of actual over likely by kind, and what was left out.

    Likely hours are those before any factor that was learned. usual: by what factor hours usually
    turn out longer, before there is a record. by_job: the same logarithms by job.
    """

    logs: Mapping[Kind, tuple[float, ...]]
    usual: float
    left_out: tuple[LeftOut, ...] = ()
    by_job: Mapping[Kind, tuple[tuple[float, ...], ...]] = field(default_factory=dict)

    @property
    def left_out_count(self) -> int:
        """Return how many records were left out."""
        return len(self.left_out)

    @property
    def count(self) -> int:
        """Return how many finished stages it holds."""
        return sum(map(len, self.logs.values()))

    @property
    def is_own(self) -> bool:
        """Return whether it is long enough to be used."""
        return self.count >= RECORD_LEAST

    @property
    def whole(self) -> Posterior:
        """Return what it says of the workshop as a whole."""
        logs = [each for kind in self.logs.values() for each in kind]
        return posterior(logs, log(self.usual))

    def of(self, kind: Kind) -> Posterior:
        """Return what it says of a kind."""
        return posterior(self.logs.get(kind, ()), self.whole.mean)

    def is_own_of(self, kind: Kind) -> bool:
        """Return whether a kind has a record of its own that is long enough for its spread."""
        return len(self.logs.get(kind, ())) >= RECORD_LEAST


def record_of(book: Book, usual: float) -> Record:
    """Return the record of a book: stages told as begun and done, by whom. usual: as of Record."""
    stages = {s.id: s for job in book.jobs for s in job.steps if isinstance(s, Stage)}
    ways = {fact.step: fact.way for fact in book.facts if fact.way}
    backwards = dict.fromkeys(ends_before_beginning(book), _NOTHING)
    recorded = {**recorded_hours(book), **backwards}
    owner = {step.id: job.id for job in book.jobs for step in job.steps}
    logs: dict[Kind, list[float]] = {}
    by_job: dict[Kind, dict[JobId, list[float]]] = {}
    left_out = []
    for step, hours in recorded.items():
        stage = stages[step]
        likely = _way_of(stage, ways.get(step, "")).hours.likely / (stage.learned_factor or 1)
        if likely <= 0:
            continue
        why = Odd.BACKWARDS if step in backwards else _odd(hours, likely)
        if why is None:
            ratio = log(hours / likely)
            logs.setdefault(stage.kind, []).append(ratio)
            by_job.setdefault(stage.kind, {}).setdefault(owner[step], []).append(ratio)
        else:
            found = LeftOut(step=step, kind=stage.kind, why=why, hours=hours, likely=likely)
            left_out.append(found)
    return Record(
        logs={kind: tuple(each) for kind, each in logs.items()},
        usual=usual,
        left_out=tuple(left_out),
        by_job={kind: tuple(map(tuple, jobs.values())) for kind, jobs in by_job.items()},
    )


def _odd(hours: Decimal, likely: Decimal) -> Odd | None:
    """Return why so many hours can't be, None where they can."""
    if hours <= 0:
        return Odd.NO_HOURS
    ratio = log(hours / likely)
    if abs(ratio) <= BELIEVED:
        return None
    return Odd.TOO_MANY if ratio > 0 else Odd.TOO_FEW


def _way_of(stage: Stage, name: str) -> Way:
    return next((way for way in stage.ways if way.id == name), stage.ways[0])

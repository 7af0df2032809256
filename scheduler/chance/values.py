"""What is said of how sure a plan is."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shared.ids import JobId, StepId


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk:
    """A step that carries the risk of a job.

    job: whose step it is; part: as of a placement. share_percent: of the draws in which it lies on
    the chain that decides the end of loading. pull_percent: how closely the end of loading follows
    how long it takes, as a correlation of ranks, 100 times.
    """

    job: JobId
    step: StepId
    part: str = ""
    share_percent: int
    pull_percent: int


@dataclass(frozen=True, slots=True, kw_only=True)
class JobChance:
    """How sure one job is.

    chance: of a hundred draws, in how many its window is kept, 1 to 99; None where nothing makes
    the window or the lorry has gone. at_usual_overrun: the same where everything takes longer as
    usual; None once the workshop's own record is used. threshold: what is asked for. ready_50,
    ready_80: when loading has ended in so many of a hundred draws, ready_wanted: in as many as
    are asked for; planned, latest: when it does as planned, and when it must. late_days: by which
    it ends after the latest, on the average of all draws, in hundredths of elapsed days, each begun
    day whole. strain: how much of its buffer is gone, on the average of all draws, 0 to 1; a
    twentieth more for each day late, ten days at most. risks: what carries the risk, most first.
    """

    id: JobId
    name: str
    chance: int | None
    at_usual_overrun: int | None
    threshold: int
    ready_50: datetime | None = None
    ready_80: datetime | None = None
    ready_wanted: datetime | None = None
    planned: datetime | None = None
    latest: datetime | None = None
    late_days: Decimal = Decimal(0)
    strain: float = 1.0
    risks: tuple[Risk, ...] = ()

    @property
    def is_short(self) -> bool:
        """Return whether it is less sure than asked for."""
        return self.chance is not None and self.chance < self.threshold

    @property
    def is_planned_in_time(self) -> bool:
        """Return whether loading ends in time as planned."""
        if self.planned is None:
            return self.latest is None
        return self.latest is not None and self.planned <= self.latest


@dataclass(frozen=True, slots=True, kw_only=True)
class Chances:
    """How sure the jobs of a plan are, in the order of the book.

    finished_count: finished stages with recorded hours. is_own_record: their record is in the
    figures. overrun_percent: what the hours as written were raised by for the second figure, or
    are on the whole by the own record. left_out_count: recorded hours too far off to be believed.
    """

    jobs: tuple[JobChance, ...]
    draws: int
    seed: int
    finished_count: int
    is_own_record: bool
    overrun_percent: int
    left_out_count: int = 0

    def of(self, job: JobId) -> JobChance | None:
        """Return what is said of a job."""
        return next((each for each in self.jobs if each.id == job), None)

"""What a morning comes to."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from scheduler.aims import Levels, levels
from scheduler.normalise import Normal
from scheduler.problem import Schedule
from shared.book import Book
from shared.ids import JobId, PersonId
from shared.plan import Plan

IN_DANGER = 50
"""Of a hundred: a job that is less sure is warned of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """Extra hours of a day that are offered and worth taking.

    start: when the first of these people begins. gain: by so many hundredths of a buffer less is
    gone, all jobs together.
    """

    people: tuple[PersonId, ...]
    start: datetime
    gain: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Morning:
    """A plan for the floor, checked.

    book: the one that was planned, without what was told where that is taken back. chances: by
    job, of how many of a hundred its window is kept; strains: by job, how near it comes, as of
    JobChance. missed: the jobs that miss in the plan.
    is_told_anew: not all of what was told for today and tomorrow stays, for windows would be less
    sure.
    """

    book: Book
    normal: Normal
    schedule: Schedule
    plan: Plan
    chances: Mapping[JobId, int]
    strains: Mapping[JobId, float]
    missed: frozenset[JobId]
    is_told_anew: bool = False

    @property
    def strain(self) -> float:
        """Return how many hundredths of a buffer are gone, all jobs together."""
        return 100 * sum(self.strains.values())

    @property
    def levels(self) -> Levels:
        """Return what the schedule reaches."""
        return levels(self.normal.problem, self.schedule)

    @property
    def in_danger(self) -> frozenset[JobId]:
        """Return the jobs to warn of."""
        return frozenset(job for job, chance in self.chances.items() if chance < IN_DANGER)

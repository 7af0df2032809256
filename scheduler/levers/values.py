"""Ways out as values: levers taken together, what they cost and what they do to every job."""

from dataclasses import dataclass
from decimal import Decimal

from scheduler.outcome import CheckResult, JobOutcome
from shared.book import Book
from shared.ids import JobId
from shared.levers import Lever
from shared.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """Levers that together let a job keep its window, planned and checked.

    book: with the levers pulled. jobs: how each job stands in its plan. proved_cheapest: no other
    levers of the list do it for less. keeps: the job keeps its window and no other that was kept
    is lost; a way that costs nothing may be told although it does not.
    """

    levers: tuple[Lever, ...]
    price: Decimal
    proved_cheapest: bool
    keeps: bool
    book: Book
    plan: Plan
    check: CheckResult
    jobs: tuple[JobOutcome, ...]

    @property
    def verdicts(self) -> dict[JobId, str]:
        """Return the verdict on each job of its plan."""
        return {job.id: job.verdict.value for job in self.jobs}

    @property
    def is_priced(self) -> bool:
        """Return whether nothing is missing in its price."""
        return all(lever.is_priced for lever in self.levers)

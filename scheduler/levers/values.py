"""Ways out as values: levers taken together, what they cost and what they do to every job."""

from dataclasses import dataclass
from decimal import Decimal

from scheduler.outcome import CheckResult, JobOutcome, Outcome, Verdict
from shared.book import Book
from shared.ids import JobId
from shared.levers import Lever
from shared.plan import Plan

_KEPT = (Verdict.FITS, Verdict.TIGHT)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class WaysOut:
    """What can be done for a job that misses.

    base: the plan without any lever. levers: all there are. ways: cheapest first, none where the
    window is kept anyway or nothing helps. free: where no way that costs nothing is enough, the
    best of those all the same. at_least: no way costs less. stuck: it is proved that all levers
    together are not enough. trials: how many books were tried. anyway: a plan that keeps the
    window without any lever, found only while levers were tried.
    """

    job: JobId
    base: Outcome
    levers: tuple[Lever, ...]
    ways: tuple[WayOut, ...] = ()
    free: WayOut | None = None
    at_least: Decimal = Decimal(0)
    stuck: bool = False
    trials: int = 0
    anyway: WayOut | None = None

    @property
    def told(self) -> JobOutcome:
        """Return how the job stands without levers."""
        return next(each for each in self.base.jobs if each.id == self.job)

    @property
    def is_kept(self) -> bool:
        """Return whether the window is kept without any lever."""
        return self.told.verdict in _KEPT or self.anyway is not None

"""What is answered about an enquiry."""

from dataclasses import dataclass
from datetime import date, datetime

from scheduler.chance import Chances
from scheduler.enquiring import Taking
from scheduler.levers.values import WaysOut
from scheduler.outcome import JobOutcome, Outcome, Verdict
from scheduler.price import Pricing
from shared.book import Job, Window
from shared.ids import JobId


@dataclass(frozen=True, slots=True, kw_only=True)
class Harm:
    """A job that an enquiry makes less sure than it may be.

    late_before, late_after: how often of a hundred it is late, None where that is not known.
    loses: it kept its window, and does not with the enquiry.
    """

    job: JobId
    name: str
    late_before: int | None
    late_after: int | None
    loses: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Late:
    """How often of a hundred another job is late that keeps its window without the enquiry.

    before: without it. level: it is harmed where it is late more often than that.
    """

    job: JobId
    name: str
    before: int
    late: int
    level: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """The book with or without the enquiry: its plan, and how sure that is."""

    outcome: Outcome
    chances: Chances

    def job(self, job: JobId) -> JobOutcome | None:
        """Return how a job stands."""
        return next((each for each in self.outcome.jobs if each.id == job), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise:
    """A window for the enquiry that was planned and checked.

    is_offered: it is on offer in the book; others are the wished one, some days later. not_before:
    nothing is begun for it before that day, so that it comes behind others (None: as soon as it
    can). is_honest: the job fits, as surely as asked for, and no other falls below what is asked
    for. lates: how sure others are, in the order of the plan. latest_answer: the latest that the
    last answer still to come may be given.
    """

    window: Window
    verdict: Verdict
    chance: int | None
    pricing: Pricing
    taking: Taking
    harms: tuple[Harm, ...]
    is_offered: bool
    not_before: date | None = None
    lates: tuple[Late, ...] = ()
    latest_answer: datetime | None = None

    @property
    def is_honest(self) -> bool:
        """Return whether it can be promised honestly."""
        return self.taking is Taking.TAKE


@dataclass(frozen=True, slots=True, kw_only=True)
class Rush:
    """The answer. job: the enquiry as it was asked.

    promises: windows that were tried, by their starts, the wished one among them. honest: the
    earliest of them that can be promised honestly, None where none was found; is_earliest: the
    windows right before it were tried as well and do not hold. ways: what brings it into the wished
    window, where it is not kept; way_pricings: by way, its pricing. told_anew: people whose sheet
    of today or tomorrow changes.
    """

    job: Job
    without: Side
    with_: Side
    wished: Promise
    promises: tuple[Promise, ...]
    honest: Promise | None
    is_earliest: bool
    ways: WaysOut | None = None
    way_pricings: tuple[Pricing, ...] = ()
    told_anew: int = 0

    @property
    def best_pricing(self) -> Pricing | None:
        """Return the pricing with the lowest floor of all ways to have it, None without one."""
        found = [*self.way_pricings]
        if self.wished.taking is not Taking.NOT:
            found.append(self.wished.pricing)
        if self.honest is not None:
            found.append(self.honest.pricing)
        return min(found, key=lambda each: each.least, default=None)

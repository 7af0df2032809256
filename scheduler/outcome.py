"""What the engine answers: a checked plan, a verdict for each job, and how they are known."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from shared.findings import Clash
from shared.ids import JobId, StepId, WindowId
from shared.plan import Plan

LEVEL_COUNT = 8


class Verdict(StrEnum):
    """The five verdicts, best to worst."""

    FITS = "fits"
    TIGHT = "tight"
    MISSES = "misses"
    NOT_FOUND = "not_found"
    CANNOT = "cannot"


class Rung(StrEnum):
    """What decided a verdict, the cheapest first, each with the freedom that it speaks of.

    legs: size, road, something written of the job: no legal way at all. chain: the longest path in
    an empty workshop. energy: work against the hours or the room there is, the job alone. alone:
    the solver on the job alone in an otherwise empty workshop. frozen: the others stay where they
    are. free: the others may move as long as they keep their windows. plan: a checked plan that
    keeps the window.
    """

    LEGS = "legs"
    CHAIN = "chain"
    ENERGY = "energy"
    ALONE = "alone"
    FROZEN = "frozen"
    FREE = "free"
    PLAN = "plan"


@dataclass(frozen=True, slots=True, kw_only=True)
class StepTimes:
    """A step counted back: its latest start and end that still keep the window."""

    step: StepId
    latest_start: datetime | None
    latest_end: datetime | None


class InReach(StrEnum):
    """Whether a window that is not held could be kept.

    AS_PLANNED: loading ends in time for it in this very plan. ALONE: counted back, the job could
    load in time for it in an otherwise empty workshop; nothing else is known. NEVER: not even so,
    or something about the job itself stands against every window.
    """

    AS_PLANNED = "as_planned"
    ALONE = "alone"
    NEVER = "never"


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherWindow:
    """A window on offer beside the one that is held; price: what it costs more than others."""

    id: WindowId
    start: datetime
    end: datetime
    price: Decimal
    in_reach: InReach


@dataclass(frozen=True, slots=True, kw_only=True)
class JobOutcome:
    """How one job stands.

    missed_by_minutes, bound_minutes: elapsed, by which loading ends after the latest loading
    at best found, and at least as proved. missed_by_working_minutes: the same in the
    workshop's working time. slack_minutes: working minutes from the planned end of loading to
    the latest, None when missed. latest_loading: the latest end of loading; latest_start: of
    the first step; latest_answer: of the last answer still to come, answered_by: who gives it
    where the job's client doesn't; order none is None.
    reasons: why, when it is missed or cannot be. windows: those on offer beside the one held, by
    their starts; next_window: of a job that does not keep its own, the first of them that it could
    keep, one kept as planned before others. On offer is not promised.
    """

    id: JobId
    name: str
    verdict: Verdict
    missed_by_minutes: int = 0
    missed_by_working_minutes: int = 0
    bound_minutes: int = 0
    slack_minutes: int | None = None
    wished_buffer_minutes: int = 0
    latest_start: datetime | None = None
    latest_answer: datetime | None = None
    answered_by: str | None = None
    latest_loading: datetime | None = None
    loading_end: datetime | None = None
    chance: int | None = None
    reasons: tuple[Clash, ...] = ()
    steps: tuple[StepTimes, ...] = ()
    windows: tuple[OtherWindow, ...] = ()
    next_window: WindowId | None = None
    rung: Rung | None = None
    beside: tuple[JobId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """One rule that a plan breaks: its code, the step or thing it is about, and facts."""

    rule: str
    where: str
    facts: tuple[tuple[str, str | int | None], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckResult:
    """What the second opinion says of a plan: sound only without breaches and all judged."""

    breaches: tuple[Breach, ...] = ()
    not_judged: tuple[str, ...] = ()

    @property
    def sound(self) -> bool:
        """Return whether nothing is broken and everything could be judged."""
        return not self.breaches and not self.not_judged


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """The answer to a SolveRequest.

    levels: eight whole numbers, level 1 first. proved_levels: so many leading levels are
    proved least. bounds: by level, what it comes to at least, whatever the plan and the other
    levels; never above `levels`. verdict: the worst job's. stopped: why it ended: "proved",
    "time", "effort", "nothing_left" or "cancelled".
    """

    revision: int
    now: datetime
    plan: Plan
    check: CheckResult
    verdict: Verdict
    levels: tuple[int, ...]
    proved_levels: int
    jobs: tuple[JobOutcome, ...]
    stopped: str
    bounds: tuple[int, ...] = (0,) * LEVEL_COUNT

    @property
    def gaps(self) -> tuple[int, ...]:
        """Return by level how far it is from its bound: nothing proves a better plan to be."""
        return tuple(level - bound for level, bound in zip(self.levels, self.bounds, strict=True))

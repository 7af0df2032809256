"""The answer to why a job stands as it does, as a value that needs no solver to be read."""

from dataclasses import dataclass

from scheduler.outcome import JobOutcome
from scheduler.why.anatomy import Anatomy
from scheduler.why.chain_links import Link
from scheduler.why.day_classes import Class
from scheduler.why.stage_slack import JobSlack
from scheduler.why.worth import Worth


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """Why a job stands as it does.

    chain: the first cause first; of a job that can't even alone, as it would be alone. worths: by
    class, by how much sooner it could be loaded without. needed_minutes, there_minutes: of the
    workshop's working time from now to the end of loading at its soonest in this order, and to the
    latest. buffer_minutes: working time proposed between loading and its latest end. even_at_best:
    a proof by counting holds even if all goes as quickly as written (None: not asked).
    goes_first: the chain is that of the job before all others, where it misses as well.
    """

    told: JobOutcome
    chain: tuple[Link, ...]
    anatomy: Anatomy
    worths: tuple[tuple[Class, Worth], ...] = ()
    slack: JobSlack | None = None
    needed_minutes: int | None = None
    there_minutes: int | None = None
    buffer_minutes: int = 0
    even_at_best: bool | None = None
    goes_first: bool = False

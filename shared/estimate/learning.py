"""What the records of a workshop offer to new estimates: by kind a factor, and how sure it is."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import exp, log, sqrt

from shared.book import Book, Kind, Workshop
from shared.estimate.record import (
    RECORD_LEAST,
    SPREAD_OF_KINDS,
    SPREAD_OF_STAGES,
    LeftOut,
    Record,
    record_of,
)
from shared.routes.learned import factor_taken
from shared.trade.own import looked_up
from shared.units import decimal_of

USUAL, ALIKE = "CP701", "CP702"
"""The figures that a workshop without a record goes by, and how alike stages of one kind are."""
BEYOND_CHANCE = 1.0
"""A factor is offered from so many spreads off on; nearer, chance alone often does it (common
practice, no source)."""
FEW_JOBS = 5
"""How far apart jobs lie is believed half once there are so many (common practice, no source)."""
_NINE_OF_TEN = 1.2815515655446004
_PLACES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What is known of one kind.

    factor: recorded over estimated hours, half above and half below, shrunk; eight times of ten it
    lies between low and high. spread: of the logarithm of the next stage. ratio: of the records
    alone, their geometric mean. ratios: of each record, recorded over estimated hours. weight: of
    the records in the factor, from 0 to 1. taken: the factor that estimates use now. is_offered:
    records are enough and say something else than 1.
    """

    kind: Kind
    count: int
    factor: Decimal
    low: Decimal
    high: Decimal
    spread: float
    ratio: float
    ratios: tuple[float, ...]
    weight: float
    taken: Decimal | None
    is_offered: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Learning:
    """What a book's records say: of the workshop as a whole, by kind, and what was left out.

    usual: the trade's figure. whole: the workshop's factor, drawn towards it, from count records.
    """

    usual: float
    whole: Decimal
    count: int
    kinds: tuple[Learned, ...]
    left_out: tuple[LeftOut, ...]

    def of(self, kind: Kind) -> Learned:
        """Return what is known of a kind; raises KeyError where nothing is on record."""
        return {each.kind: each for each in self.kinds}[kind]


def learning_of(book: Book) -> Learning:
    """Return what the records of a book say, by kind in the order of work.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of the workshop's zone or holidays.
    """
    usual = float(looked_up(book.workshop)(USUAL).amount)
    record = record_of(book, usual)
    return Learning(
        usual=usual,
        whole=_rounded(record.whole.factor),
        count=record.count,
        kinds=tuple(_learned(book, record, kind) for kind in Kind if record.logs.get(kind)),
        left_out=record.left_out,
    )


def _learned(book: Book, record: Record, kind: Kind) -> Learned:
    logs, found = record.logs[kind], record.of(kind)
    return Learned(
        kind=kind,
        count=len(logs),
        factor=_rounded(found.factor),
        low=_rounded(exp(found.mean - _NINE_OF_TEN * found.spread)),
        high=_rounded(exp(found.mean + _NINE_OF_TEN * found.spread)),
        spread=found.of_one,
        ratio=exp(sum(logs) / len(logs)),
        ratios=tuple(map(exp, logs)),
        weight=found.weight,
        taken=factor_taken(book.workshop, kind),
        is_offered=_is_offered(book.workshop, record, kind),
    )


def _is_offered(workshop: Workshop, record: Record, kind: Kind) -> bool:
    """Return whether there are enough records, which say another factor than estimates use."""
    if len(record.logs[kind]) < RECORD_LEAST:
        return False
    taken = factor_taken(workshop, kind)
    alike = float(looked_up(workshop)(ALIKE).amount)
    variance = _variance_of_mean(record.by_job[kind], alike)
    spread = 1 / sqrt(1 / SPREAD_OF_KINDS**2 + 1 / variance)
    now = 0.0 if taken is None else log(taken)
    return abs(record.of(kind).mean - now) > BEYOND_CHANCE * spread


def _variance_of_mean(jobs: Sequence[Sequence[float]], alike: float) -> float:
    """Return how far off the mean of logarithms may be, as a variance.

    Stages of one job may be alike, so that they tell less than as many of others. How much is seen
    from how far whole jobs lie apart, and as long as there are few of them taken as usual. alike:
    the usual share.
    """
    count, job_count = sum(map(len, jobs)), len(jobs)
    usual = SPREAD_OF_STAGES**2 * (alike / job_count + (1 - alike) / count)
    if job_count == 1:
        return usual
    mean = sum(map(sum, jobs)) / count
    apart = sum(sum(each - mean for each in job) ** 2 for job in jobs) / count**2
    seen = max(apart * job_count / (job_count - 1), SPREAD_OF_STAGES**2 / count)
    return (FEW_JOBS * usual + job_count * seen) / (FEW_JOBS + job_count)


def _rounded(number: float) -> Decimal:
    return decimal_of(Fraction(number), _PLACES)

"""What an enquiry does to the other jobs, and what it costs."""

from collections.abc import Iterator
from decimal import Decimal

from scheduler.chance import Chances, JobChance
from scheduler.enquiring import NOISE_POINTS, Taking
from scheduler.outcome import Outcome, Verdict
from scheduler.price import Costs, Pricing
from scheduler.rush.values import Harm, Late, Side
from shared.book import Book
from shared.ids import JobId
from shared.orders import buying

_MONEY_AT = 6
_KEPT = (Verdict.FITS, Verdict.TIGHT)


def harms(job: JobId, without: Side, with_: Side) -> tuple[Harm, ...]:
    """Return the other jobs that an enquiry makes less sure than they may be, worst first."""
    found = list(_harmed(job, without, with_))
    found.sort(key=lambda each: (not each.loses, -(each.late_after or 0), each.job))
    return tuple(found)


def _harmed(job: JobId, without: Side, with_: Side) -> Iterator[Harm]:
    for told in with_.outcome.jobs:
        before = without.job(told.id)
        if told.id == job or before is None:
            continue
        was, now = without.chances.of(told.id), with_.chances.of(told.id)
        loses = before.verdict in _KEPT and told.verdict not in _KEPT
        if loses or _falls(was, now):
            yield Harm(
                job=told.id,
                name=told.name,
                late_before=_late(was),
                late_after=_late(now),
                loses=loses,
            )


def _falls(was: JobChance | None, now: JobChance | None) -> bool:
    if was is None or now is None or was.chance is None or now.chance is None:
        return False
    if now.chance >= now.threshold:
        return False
    return was.chance >= was.threshold or was.chance - now.chance >= NOISE_POINTS


def lates(job: JobId, without: Side, with_: Side) -> tuple[Late, ...]:
    """Return how often jobs are late with an enquiry that keep their windows without it."""
    return tuple(_lates(job, without, with_))


def _lates(job: JobId, without: Side, with_: Side) -> Iterator[Late]:
    for told in with_.outcome.jobs:
        before = without.job(told.id)
        if told.id == job or before is None or before.verdict not in _KEPT:
            continue
        was, now = without.chances.of(told.id), with_.chances.of(told.id)
        if was is None or now is None or was.chance is None or now.chance is None:
            continue
        is_sure = was.chance >= now.threshold
        yield Late(
            job=told.id,
            name=told.name,
            before=100 - was.chance,
            late=100 - now.chance,
            level=100 - (now.threshold if is_sure else was.chance - NOISE_POINTS + 1),
        )


def _late(found: JobChance | None) -> int | None:
    return None if found is None or found.chance is None else 100 - found.chance


def taking(job: JobId, with_: Side, harmed: tuple[Harm, ...]) -> Taking:
    """Return whether an enquiry can be taken."""
    told = with_.job(job)
    if told is None or told.verdict not in _KEPT:
        return Taking.NOT
    if harmed:
        return Taking.AT_RISK
    found = with_.chances.of(job)
    is_sure = found is not None and found.chance is not None and not found.is_short
    return Taking.TAKE if told.verdict is Verdict.FITS and is_sure else Taking.JUST


def pricing(
    book: Book, job: JobId, without: Side, with_: Side, levers: Decimal = Decimal(0)
) -> Pricing:
    """Return what an enquiry costs in a plan, and what its own lateness is expected to cost.

    levers: price of ways out that the plan goes by, of which nothing is in the plan's money.
    """
    rates = {each.id: each.late_cost_per_day or Decimal(0) for each in book.jobs}
    lateness_before = _lateness(without.chances, rates, job)
    costs = Costs(
        materials=_bought(book, with_.outcome) - _bought(book, without.outcome),
        besides=_money(with_.outcome) - _money(without.outcome),
        levers=levers,
        # Others are not sooner for it: what looks like that is what two replays differ by anyway.
        lateness=max(Decimal(0), _lateness(with_.chances, rates, job) - lateness_before),
    )
    found = with_.chances.of(job)
    return Pricing(
        costs=costs,
        missed=Decimal(0) if found is None else found.late_days * rates.get(job, Decimal(0)),
        late_percent=_late(found),
    )


def _bought(book: Book, outcome: Outcome) -> Decimal:
    return buying(book, outcome.plan, outcome.now).cost


def _money(outcome: Outcome) -> Decimal:
    return Decimal(outcome.levels[_MONEY_AT]) / 100


def _lateness(chances: Chances, rates: dict[JobId, Decimal], apart: JobId) -> Decimal:
    jobs = (each for each in chances.jobs if each.id != apart)
    return sum((each.late_days * rates.get(each.id, Decimal(0)) for each in jobs), Decimal(0))

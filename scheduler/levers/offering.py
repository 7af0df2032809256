"""A set of levers as it is offered: bettered a little, unfolded, checked, with every verdict."""

from scheduler.check import check
from scheduler.faults import broken
from scheduler.levers.trying import Trials, Tried, position
from scheduler.levers.values import WayOut
from scheduler.model.run import Limits
from scheduler.proofs import Prover
from scheduler.unfold import to_plan
from scheduler.verdicts import job_outcomes
from shared.levers import price_of

BETTERED_PASSES = 8
PROOF_SECONDS = 2.0
"""So long is looked for a proof about a job that keeps its window by no means."""


def offered(trials: Trials, tried: Tried, *, proved: bool, passes: int = BETTERED_PASSES) -> WayOut:
    """Return a trial as a way out. passes: by so many it is bettered.

    Raises
    ------
    EngineFault
        If the check finds its plan broken.
    """
    if passes:
        tried = trials.bettered(tried, passes)
    assert tried.schedule is not None
    plan = to_plan(tried.normal, tried.schedule, seed=trials.request.seed)
    checked = check(tried.book, plan, trials.checks)
    if checked.breaches:
        raise broken(checked.breaches)
    prover = Prover(*tried.made.free)
    prover.by_chain(tried.freed)
    if not tried.keeps:
        _climb(trials, tried, prover)
    proofs = prover.proved(tried.freed)
    price = price_of(tried.levers)
    return WayOut(
        levers=tried.levers,
        price=price,
        proved_cheapest=tried.keeps and (proved or not price),
        keeps=tried.keeps,
        book=tried.book,
        plan=plan,
        check=checked,
        jobs=job_outcomes(*tried.made.free, tried.freed, proofs),
    )


def _climb(trials: Trials, tried: Tried, prover: Prover) -> None:
    """Look for a proof about the job, so that what is not enough is not called not found."""
    at = position(tried.normal, tried.job)
    if at is None or at not in prover.unproved(tried.freed):
        return
    limits = Limits(seconds=PROOF_SECONDS, workers=trials.request.workers)
    prover.alone(at, tried.freed, limits, trials.cancel)

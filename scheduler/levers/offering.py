"""A set of levers as it is offered: bettered a little, unfolded, checked, with every verdict."""

from scheduler.check import check
from scheduler.faults import broken
from scheduler.levers.trying import Trials, Tried
from scheduler.levers.values import WayOut
from scheduler.proofs import Prover
from scheduler.unfold import to_plan
from scheduler.verdicts import job_outcomes
from shared.levers import price_of

BETTERED_PASSES = 8


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
    prover = Prover(tried.normal, tried.index)
    prover.by_chain(tried.schedule)
    proofs = prover.proved(tried.schedule)
    price = price_of(tried.levers)
    return WayOut(
        levers=tried.levers,
        price=price,
        proved_cheapest=tried.keeps and (proved or not price),
        keeps=tried.keeps,
        book=tried.book,
        plan=plan,
        check=checked,
        jobs=job_outcomes(tried.normal, tried.index, tried.schedule, proofs),
    )

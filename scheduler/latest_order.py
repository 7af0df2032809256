"""By when the first order for a job must go out: counted back from its latest starts."""

from dataclasses import replace

from scheduler.outcome import JobOutcome, Outcome
from shared.book import Book
from shared.ids import JobId
from shared.orders import Order, buying
from shared.plan import Placement


def latest_orders(book: Book, outcome: Outcome, job: JobId) -> tuple[Order, ...]:
    """Return what to buy for a job if every step of it is as late as it may be, first orders first.

    Nothing that others need is bought together with it. Steps that are past are left aside.
    """
    told = next((each for each in outcome.jobs if each.id == job), None)
    if told is None or not book.materials:
        return ()
    placements = tuple(_latest(outcome.plan.placements, told))
    plan = replace(outcome.plan, jobs=(job,), placements=placements, trips=())
    return buying(book, plan, outcome.now).orders


def _latest(placements: tuple[Placement, ...], told: JobOutcome) -> list[Placement]:
    times = {each.step: each for each in told.steps}
    found = []
    for placed in placements:
        latest = times.get(placed.step)
        if placed.job != told.id or placed.part or latest is None:
            continue
        if latest.latest_start is not None and latest.latest_end is not None:
            end = max(latest.latest_start, latest.latest_end)
            found.append(replace(placed, start=latest.latest_start, end=end))
    return found

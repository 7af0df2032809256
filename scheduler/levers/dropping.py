"""Drop-dearest: levers left out in order of their price until none can go.

Halves at first, then what is left one by one, so that a long list costs a few trials for each
lever that is needed. Among what is found a factor on the prices, drawn anew in each round, makes
other sets come out.
"""

from collections.abc import Callable, Sequence
from random import Random

from scheduler.levers.trying import Tried
from scheduler.unfold import to_plan
from shared.edits.levers import hand_id
from shared.levers import Lever, LeverKind
from shared.plan import Placement
from shared.worktime.zones import local_date

Test = Callable[[Sequence[Lever]], Tried | None]
"""Tries some levers; None where there is no more time, or it is known that they don't do."""
FACTOR_LEAST, FACTOR_MOST, FACTOR_ONE = 40, 160, 100


def dearest_first(levers: Sequence[Lever], draw: Random | None) -> list[Lever]:
    """Return levers in the order in which they are to go. draw: of the factors; None: none."""

    def worth(lever: Lever) -> tuple[object, ...]:
        factor = FACTOR_ONE if draw is None else draw.randint(FACTOR_LEAST, FACTOR_MOST)
        price = lever.price + lever.once
        return -price * factor, -1 if lever.agrees else 0, lever.id

    keyed = [(worth(lever), lever) for lever in levers]
    return [lever for _, lever in sorted(keyed, key=lambda pair: pair[0])]


def dropped(
    enough: Tried, draw: Random | None, test: Test, held: frozenset[str] = frozenset()
) -> Tried:
    """Return a trial that is enough from which no lever can go, as far as the trials tell.

    held: ids of levers that go last.
    """
    best = _without_unused(enough, test)

    def going(*, priced: bool) -> list[Lever]:
        return [
            lever
            for lever in dearest_first(best.levers, draw)
            if lever.id not in held and bool(lever.price or lever.once) is priced
        ]

    best = _reduced(best, going(priced=True), test)
    best = _reduced(best, going(priced=False), test)
    return _one_by_one(best, draw, test, held)


def _reduced(best: Tried, going: Sequence[Lever], test: Test) -> Tried:
    """Let some levers go, all at once or, where that is too much, by halves."""
    gone = [lever for lever in going if lever in best.levers]
    if not gone:
        return best
    found = test([lever for lever in best.levers if lever not in gone])
    if found is not None and found.keeps:
        return found
    if len(gone) == 1:
        return best
    middle = len(gone) // 2
    best = _reduced(best, gone[:middle], test)
    return _reduced(best, gone[middle:], test)


def _one_by_one(best: Tried, draw: Random | None, test: Test, held: frozenset[str]) -> Tried:
    """Let levers go one by one until none can."""
    for lever in sorted(dearest_first(best.levers, draw), key=lambda each: each.id in held):
        found = test([each for each in best.levers if each is not lever])
        if found is not None and found.keeps:
            best = found
    return best


def _without_unused(enough: Tried, test: Test) -> Tried:
    """Let go what the plan does not use: hours nobody works in, hands that do nothing.

    At first what is not used for the job that is spoken of, then what is used for nothing.
    """
    assert enough.schedule is not None
    plan = to_plan(enough.normal, enough.schedule)
    zone = enough.book.workshop.zone
    for placements in (
        [placed for placed in plan.placements if placed.job == enough.job],
        plan.placements,
    ):
        used = [lever for lever in enough.levers if is_used(lever, placements, zone)]
        found = test(used) if len(used) < len(enough.levers) else None
        if found is not None and found.keeps:
            return found
    return enough


def is_used(lever: Lever, placements: Sequence[Placement], zone: str) -> bool:
    """Return whether placements may use a lever; only of people's hours and days is it known."""
    if lever.kind is LeverKind.OVERTIME:
        assert lever.start is not None
        assert lever.end is not None
        return any(
            lever.about[0] in placed.people
            and placed.start < lever.end
            and placed.end > lever.start
            for placed in placements
        )
    if lever.kind not in (LeverKind.FREELANCER, LeverKind.HIRED_HAND):
        return True
    assert lever.first is not None
    assert lever.last is not None
    who = lever.about[0] if lever.offer is None else hand_id(lever.offer)
    return any(
        who in placed.people
        and local_date(placed.start, zone) <= lever.last
        and local_date(placed.end, zone) >= lever.first
        for placed in placements
    )

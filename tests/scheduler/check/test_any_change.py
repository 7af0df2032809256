"""Any single change of a sound plan is named, or stands in a short list of those still right."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check import check
from shared.book import Book
from shared.plan import Placement, Plan
from tests.books.shapes import SHAPES
from tests.scheduler.check.chain import chain_book, chain_plan
from tests.scheduler.check.change import QUARTER
from tests.scheduler.check.changed import changed_book, changed_plan
from tests.scheduler.check.delivery import delivery_book, delivery_plan

STILL_RIGHT = {
    # The painter is awaited until Tuesday afternoon, so sanding may be over 15 minutes later.
    ("sand", 0, "", "later"),
    # Nothing follows packing, and its hours run on from Monday 11:00 to 11:15.
    ("pack", 0, "", "later"),
    # The trial fit takes no time, and loading begins at 13:00.
    ("fit", 0, "", "later"),
    # The skin waits for Tuesday morning; the changes may be over on Monday at 15:15.
    ("approve", 1, "changes", "later"),
}

SOUND = [
    pytest.param(chain_book, chain_plan, id="chain"),
    pytest.param(delivery_book, delivery_plan, id="delivery"),
    pytest.param(changed_book, changed_plan, id="changed"),
]


def _planted(seed: int) -> tuple[Book, Plan]:
    planted = SHAPES["planted-plan"](seed)
    assert planted.plan is not None
    return planted.book, planted.plan


def _with(plan: Plan, at: int, *instead: Placement) -> Plan:
    return replace(plan, placements=(*plan.placements[:at], *instead, *plan.placements[at + 1 :]))


def _shifted(each: Placement, by: timedelta) -> Placement:
    return replace(each, start=each.start + by, end=each.end + by)


def _changes(book: Book, plan: Plan) -> Iterator[tuple[tuple[str, int, str, str], Plan]]:
    """Give each change by name with the changed plan."""
    for at, each in enumerate(plan.placements):
        slot = (each.step, each.round, each.part)
        yield (*slot, "dropped"), _with(plan, at)
        yield (*slot, "doubled"), _with(plan, at, each, each)
        yield (*slot, "sooner"), _with(plan, at, _shifted(each, -QUARTER))
        yield (*slot, "later"), _with(plan, at, _shifted(each, QUARTER))
        yield (*slot, "longer"), _with(plan, at, replace(each, end=each.end + QUARTER))
        yield (*slot, "shorter"), _with(plan, at, replace(each, end=each.end - QUARTER))
        for person in each.people:
            for other in book.people:
                if other.id not in each.people:
                    team = tuple(other.id if one == person else one for one in each.people)
                    changed = replace(each, people=team)
                    yield (*slot, f"{other.id} for {person}"), _with(plan, at, changed)


@pytest.mark.parametrize(("book_of", "plan_of"), SOUND)
def test_the_plan_worked_out_by_hand_is_sound(
    book_of: Callable[[], Book], plan_of: Callable[[Book], Plan]
) -> None:
    book = book_of()

    result = check(book, plan_of(book))

    assert result.breaches == ()
    assert result.not_judged == ()
    assert result.sound


@pytest.mark.parametrize(("book_of", "plan_of"), SOUND)
def test_one_placement_changed_is_named_unless_it_is_still_right(
    book_of: Callable[[], Book], plan_of: Callable[[Book], Plan]
) -> None:
    book = book_of()
    plan = plan_of(book)
    changes = dict(_changes(book, plan))

    unnamed = {name for name, changed in changes.items() if check(book, changed).sound}

    assert len(changes) >= 6 * len(plan.placements)
    assert unnamed == STILL_RIGHT & changes.keys()


@pytest.mark.parametrize(("book_of", "plan_of"), SOUND)
def test_a_change_names_the_step_that_was_changed_or_one_beside_it(
    book_of: Callable[[], Book], plan_of: Callable[[Book], Plan]
) -> None:
    book = book_of()
    plan = plan_of(book)
    order: list[str] = [step.id for job in book.jobs for step in job.steps]

    for name, changed in _changes(book, plan):
        where = {breach.where for breach in check(book, changed).breaches}
        at = order.index(name[0])
        assert not where or where & set(order[max(0, at - 1) : at + 4]), name


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_planted_plan_is_sound_and_loses_that_with_any_placement_dropped(seed: int) -> None:
    book, plan = _planted(seed)

    assert check(book, plan).sound
    for at, each in enumerate(plan.placements[::7]):
        result = check(book, _with(plan, at * 7))
        assert ("missing_step", each.step) in {(one.rule, one.where) for one in result.breaches}


def test_a_planted_plan_with_a_stage_made_shorter_is_named() -> None:
    book, plan = _planted(1)

    for at, each in list(enumerate(plan.placements))[::5]:
        if each.people:
            shorter = _with(plan, at, replace(each, end=each.end - QUARTER))
            assert each.step in {one.where for one in check(book, shorter).breaches}

"""A check with a memory finds what a check without one finds, whatever it has seen before."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from random import Random

import pytest

from scheduler.check import CheckMemory, check
from scheduler.check.kept import Kept
from shared.book import Book
from shared.files.read import read_book
from shared.files.write import write_book
from shared.plan import Plan
from tests.books.ruled import ruled
from tests.books.shapes import planted_plan
from tests.scheduler.check.alterations import altered_book, altered_plan
from tests.scheduler.check.breaks import CHAIN, DELIVERY
from tests.scheduler.check.chain import chain_book, chain_plan
from tests.scheduler.check.change import Change
from tests.scheduler.check.changed import CHANGED, changed_book, changed_plan
from tests.scheduler.check.delivery import delivery_book, delivery_plan
from tests.scheduler.check.haul import haul_book, haul_plan
from tests.scheduler.check.haul_breaks import HAUL

BROKEN = [
    pytest.param(chain_book, chain_plan, CHAIN, id="chain"),
    pytest.param(delivery_book, delivery_plan, DELIVERY, id="delivery"),
    pytest.param(changed_book, changed_plan, CHANGED, id="changed"),
    pytest.param(haul_book, haul_plan, HAUL, id="haul"),
]


@pytest.mark.parametrize(("book_of", "plan_of", "rows"), BROKEN)
def test_what_is_broken_in_one_way_is_found_after_what_is_sound(
    book_of: Callable[[], Book],
    plan_of: Callable[[Book], Plan],
    rows: list[tuple[object, str, Change]],
) -> None:
    book = book_of()
    plan, memory = plan_of(book), CheckMemory()
    for rule, where, change in rows:
        assert check(book, plan, memory).sound
        broken = change(book, plan)

        found = check(*broken, memory)

        assert found == check(*broken), (rule, where)
        assert not found.sound or found.not_judged
    assert check(book, plan, memory).sound


def _drawn(seed: int) -> Iterator[tuple[Book, Plan]]:
    """Give books and plans, each a little other than the one before."""
    draw, planted = Random(seed), planted_plan(seed)
    assert planted.plan is not None
    book, plan = ruled(planted.book, draw), planted.plan
    for _ in range(8):
        yield book, plan
        yield book, altered_plan(book, plan, draw)
        book = altered_book(book, plan, draw)


@pytest.mark.parametrize("seed", range(1, 4))
def test_drawn_plans_and_edits_are_judged_as_without_a_memory(seed: int) -> None:
    memory, broken = CheckMemory(), 0
    for book, plan in _drawn(seed):
        found = check(book, plan, memory)

        assert found == check(book, plan)
        broken += len(found.breaches)
    assert broken > 50


def test_a_later_now_and_a_longer_plan_are_judged_as_without_a_memory() -> None:
    planted, memory = planted_plan(3), CheckMemory()
    plan = planted.plan
    assert plan is not None
    for days in (0, 10, 400, 3000, 0):
        later = [replace(each, start=each.start + _days(days)) for each in plan.placements]
        moved = [replace(each, end=each.end + _days(days)) for each in later]
        other = replace(plan, placements=tuple(moved), now=plan.now + _days(days // 2))
        assert check(planted.book, other, memory) == check(planted.book, other)


def test_a_book_read_anew_is_the_same_book() -> None:
    book = chain_book()
    plan, memory = chain_plan(book), CheckMemory()
    check(book, plan, memory)
    tables = [kept.items() for kept in memory.kept()]
    again = read_book(write_book(book)).book
    assert again is not None

    assert check(again, plan, memory).sound

    for before, kept in zip(tables, memory.kept(), strict=True):
        found = kept.items()
        assert found.keys() == before.keys()
        assert all(found[key] is made for key, made in before.items())


def test_what_no_check_asks_for_any_more_is_forgotten() -> None:
    book = chain_book()
    plan, memory = chain_plan(book), CheckMemory()
    check(book, plan, memory)
    first = _count(memory)
    other, draw = planted_plan(1), Random(1)
    for _ in range(20):
        assert other.plan is not None
        check(other.book, altered_plan(other.book, other.plan, draw), memory)

    check(book, plan, memory)
    check(book, plan, memory)

    assert _count(memory) == first


def _days(count: int) -> timedelta:
    return timedelta(days=count)


def _count(memory: CheckMemory) -> int:
    return sum(len(kept.items()) for kept in memory.kept())


class TestKept:
    def test_a_value_is_made_once_for_the_same(self) -> None:
        kept, made = Kept[str, list[int]](), [1]

        assert kept.of("a", (1, 2), lambda: made) is made
        assert kept.of("a", (1, 2), lambda: [2]) is made

    def test_a_value_is_made_anew_for_another(self) -> None:
        kept = Kept[str, int]()
        kept.of("a", 1, lambda: 1)

        assert kept.of("a", 2, lambda: 2) == 2
        assert kept.of("a", 1, lambda: 3) == 3

    def test_nothing_is_a_value_too(self) -> None:
        kept = Kept[str, int | None]()
        kept.of("a", 1, lambda: None)

        assert kept.of("a", 1, lambda: 1) is None

    def test_what_was_asked_for_in_the_last_check_is_kept(self) -> None:
        kept = Kept[str, int]()
        kept.of("a", 1, lambda: 1)
        kept.of("b", 1, lambda: 1)
        kept.turn()
        kept.of("a", 1, lambda: 2)
        kept.turn()

        assert kept.of("a", 1, lambda: 3) == 1
        assert kept.of("b", 1, lambda: 3) == 3

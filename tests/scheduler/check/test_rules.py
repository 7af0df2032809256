"""Every rule is broken by one change of a sound plan or of its book, and named for it."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from scheduler.check import check
from scheduler.check.clock import seconds
from scheduler.check.uses import Use, fullness, shut_days
from scheduler.rules import COMMON_FACTS, FACTS, Rule
from shared.book import Book, Certificate, Closure, Kind, Leave
from shared.ids import JobId
from shared.plan import Plan
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_place,
    a_plan,
    a_segment,
    a_shift,
    a_stage,
    a_way,
    a_workshop,
    an_after,
    at,
    on,
)
from tests.scheduler.check.breaks import CHAIN, DELIVERY, also_unplaced, fields, without, workshop
from tests.scheduler.check.chain import chain_book, chain_plan
from tests.scheduler.check.change import (
    QUARTER,
    Change,
    Pair,
    job_changed,
    moved,
    named,
    person_changed,
    place_changed,
    placed,
    retimed,
    step_changed,
)
from tests.scheduler.check.changed import CHANGED, changed_book, changed_plan
from tests.scheduler.check.delivery import delivery_book, delivery_plan
from tests.scheduler.check.haul_breaks import HAUL


@pytest.mark.parametrize(("rule", "where", "change"), CHAIN)
def test_a_change_of_the_chain_names_the_rule_it_breaks(
    rule: Rule, where: str, change: Change
) -> None:
    book = chain_book()

    changed = change(book, chain_plan(book))

    assert (rule.value, where) in named(*changed)


@pytest.mark.parametrize(("rule", "where", "change"), DELIVERY)
def test_a_change_of_the_delivery_names_the_rule_it_breaks(
    rule: Rule, where: str, change: Change
) -> None:
    book = delivery_book()

    changed = change(book, delivery_plan(book))

    assert (rule.value, where) in named(*changed)


@pytest.mark.parametrize(("rule", "where", "change"), CHANGED)
def test_a_change_of_the_plan_after_a_yes_with_changes_names_the_rule_it_breaks(
    rule: Rule, where: str, change: Change
) -> None:
    book = changed_book()

    changed = change(book, changed_plan(book))

    assert (rule.value, where) in named(*changed)


def test_every_rule_that_can_be_broken_is_broken_above() -> None:
    assert {rule for rule, _, _ in (*CHAIN, *DELIVERY, *CHANGED, *HAUL)} == set(FACTS)


def test_breaches_carry_the_facts_that_their_sentences_need() -> None:
    chain, delivery = chain_book(), delivery_book()
    pairs = [change(chain, chain_plan(chain)) for _, _, change in CHAIN]
    pairs += [change(delivery, delivery_plan(delivery)) for _, _, change in DELIVERY]
    found = [breach for pair in pairs for breach in check(*pair).breaches]

    assert len(found) >= len(pairs)
    for breach in found:
        names = [name for name, _ in breach.facts]
        assert sorted(names) == sorted((*COMMON_FACTS, *FACTS[Rule(breach.rule)])), breach
        if breach.where not in {"fox", "owl"}:
            assert dict(breach.facts)["step"]


@pytest.mark.parametrize(
    ("expires", "broken"), [(None, False), ("2027-03-09", False), ("2027-03-08", True)]
)
def test_a_certificate_is_valid_to_the_end_of_its_last_day(
    expires: str | None, broken: bool
) -> None:
    book = step_changed(chain_book(), "lacquer", certificates=("isocyanates",))
    held = Certificate(certificate="isocyanates", expires=None if expires is None else on(expires))
    book = person_changed(book, "pia", certificates=(held,))

    assert bool(named(book, chain_plan(book))) is broken


@pytest.mark.parametrize("year", [1900, 2199])
def test_what_lies_outside_its_days_of_use_is_shut_in_any_year_that_a_book_may_hold(
    year: int,
) -> None:
    first, last = date(year, 5, 4), date(year, 5, 8)
    before, after = shut_days("UTC", first, last)
    eve, morrow = at(f"{year}-05-03 20:00"), at(f"{year}-05-09 08:00")

    def held(start: datetime) -> Use:
        end = start + timedelta(hours=1)
        return Use(start=seconds(start), end=seconds(end), need=Fraction(1), by=None)

    assert (before.meets(held(eve)), after.meets(held(morrow))) == (True, True)
    assert not any(each.meets(held(at(f"{year}-05-06 08:00"))) for each in (before, after))


def test_neither_of_two_that_come_when_what_was_booked_begins_finds_room_beside_it() -> None:
    booked = Use(start=0, end=900, need=Fraction(1), by=None, given=True)
    short, long = (Use(start=0, end=end, need=Fraction(1), by=None) for end in (900, 1800))

    found = [use for use, _, _ in fullness([long, short, booked], Fraction(1))]

    assert found == [short, long]


def test_leave_in_the_middle_is_a_pause_and_makes_the_stage_longer() -> None:
    away = Leave(start=at("2027-03-08 10:00"), end=at("2027-03-08 12:00"))
    book = person_changed(chain_book(), "ivo", leave=(away,))
    plan = chain_plan(book)

    assert named(book, plan) == {("duration", "sand")}
    assert not named(book, retimed(plan, "sand", "2027-03-08 08:00", "2027-03-08 17:00"))


@pytest.mark.parametrize("watch", [60, 150])
def test_a_watch_runs_past_midnight_on_any_night_of_four_weeks(watch: int) -> None:
    """Laid up until 23:45 in the shift until two: an hour of watch fits, and two and a half not."""
    night = a_shift("18:00", "02:00", days=tuple(range(7)), breaks=())
    lay_up = a_stage("lay-up", Kind.LAMINATE, hours=4, in_one_go=True, watch_minutes=watch)
    job = a_job("fox", segments=(a_segment("fox-body"),), steps=(lay_up,))
    book = a_book(job, workshop=a_workshop(shifts=(night,)))
    plan = a_plan(
        book,
        placements=(placed("fox", "lay-up", "2026-01-05 19:45", "2026-01-05 23:45", "ana"),),
        trips=(),
    )

    found = [named(*_later(book, plan, timedelta(days=days))) for days in range(28)]

    assert found == [{("watch", "lay-up")} if watch > 135 else set()] * 28


def test_closures_do_not_count_as_a_pause() -> None:
    """Friday 17:00 to Monday 08:00 are 63 h; shut from Saturday to Sunday, 15 h are left."""
    book, _ = workshop(longest_pause_days=1)(chain_book(), chain_plan(chain_book()))
    weekend = Closure(first=on("2027-03-13"), last=on("2027-03-14"))
    closed, plan = workshop(closures=(weekend,))(book, chain_plan(book))

    assert named(book, chain_plan(book)) == {("pause", "pack")}
    assert not named(closed, plan)


def test_another_way_of_the_same_stage_is_judged_by_its_own_figures() -> None:
    ways = (a_way(hours=6, skill="fill", places=("bay",)), a_way("slow", 7, skill="fill"))
    book = step_changed(chain_book(), "sand", ways=ways)
    slow = moved(chain_plan(book), "sand", way="slow", place=None)

    assert named(book, slow) == {("duration", "sand")}
    assert not named(book, retimed(slow, "sand", "2027-03-08 08:00", "2027-03-08 16:00"))


def test_two_stages_side_by_side_need_two_slots() -> None:
    book = place_changed(delivery_book(), "bay", slots=1)
    book, plan = fields(other_work=())(book, delivery_plan(book))
    later = retimed(plan, "carve-base", "2027-03-01 08:00", "2027-03-01 15:00")

    assert not named(book, plan)
    assert ("place_full", "carve-base") in named(book, later)


def test_a_missed_window_is_no_breach() -> None:
    book = delivery_book()
    window = replace(book.jobs[0].windows[0], end=at("2027-03-17 12:00"))
    late = job_changed(book, "gull", windows=(window,))

    assert not named(late, delivery_plan(late))


def test_a_plan_is_judged_as_of_its_own_now_unless_another_is_given() -> None:
    book = chain_book()
    plan = chain_plan(book)

    assert not named(book, plan)
    assert named(book, plan, now=plan.now + QUARTER) >= {("before_now", "carve")}


def test_jobs_that_the_plan_does_not_name_are_left_alone() -> None:
    book = delivery_book()
    plan = delivery_plan(book)
    only = replace(plan, jobs=(JobId("gull"),), placements=plan.placements[:-1])

    assert check(book, only).sound


def test_an_unplaced_step_with_a_reason_is_no_breach() -> None:
    book = chain_book()
    plan = also_unplaced(without(chain_plan(book), "pack"), "pack", "nobody_can")

    assert check(book, plan).sound


def _later(book: Book, plan: Plan, shift: timedelta) -> Pair:
    """Move the plan and the other work of its book."""
    work = tuple(
        replace(each, start=each.start + shift, end=each.end + shift) for each in book.other_work
    )
    placements = tuple(
        replace(each, start=each.start + shift, end=each.end + shift) for each in plan.placements
    )
    return replace(book, other_work=work), replace(plan, placements=placements)


def test_shifts_follow_the_clock_of_their_zone() -> None:
    """British summer time began on 28 March 2027 (Summer Time Order 2002): 08:00 is 07:00 UTC."""
    book = chain_book()
    plan = chain_plan(book)

    assert not named(*_later(book, plan, timedelta(days=35, hours=-1)))
    assert ("duration", "carve") in named(*_later(book, plan, timedelta(days=35)))


@pytest.mark.parametrize(
    ("hours", "told"),
    # The barrier starts on 3 March at 8:00, the lay-up on 4 March at 13:00: 29 hours later.
    [("29", set()), ("29.25", {("cure", "lay-up")})],
)
def test_a_wait_from_the_start_of_another_is_no_matter_of_order(
    hours: str, told: set[tuple[str, str]]
) -> None:
    book = chain_book()
    after = (an_after("barrier", least_hours=Decimal(hours), from_start=True),)

    found = named(*(step_changed(book, "lay-up", after=after), chain_plan(book)))

    assert {each for each in found if each[1] == "lay-up" and each[0] in {"cure", "order"}} == told


def test_what_starts_before_the_other_that_it_goes_by_is_out_of_order() -> None:
    book = chain_book()
    after = (an_after("sand", from_start=True),)

    assert ("order", "lay-up") in named(step_changed(book, "lay-up", after=after), chain_plan(book))


_AT_ONCE = (("mark", 0), ("carve", 6), ("sand", 6))


def test_what_takes_no_time_takes_no_slot_and_hides_nobody_who_finds_none() -> None:
    steps = [a_stage(name, hours=hours, places=("bay",), after=()) for name, hours in _AT_ONCE]
    book = a_book(a_job("wren", steps=(*steps, a_gate())), places=(a_place("bay", slots=1),))
    ends = ("08:00", "14:30", "14:30")
    plan = a_plan(
        book,
        trips=(),
        placements=tuple(
            placed("wren", name, "2027-03-08 08:00", f"2027-03-08 {end}", who, place="bay")
            for (name, _), end, who in zip(_AT_ONCE, ends, ("ana", "ana", "ben"), strict=True)
        ),
    )

    full = [where for rule, where in sorted(named(book, plan)) if rule == "place_full"]
    assert len(full) == 1
    assert full[0] in {"carve", "sand"}

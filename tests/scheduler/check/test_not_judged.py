"""What the book says and no rule judges yet keeps a plan from being called sound."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from scheduler.check import check, made_from_matches
from scheduler.rules import NOT_JUDGED, Rule
from shared.book import After, Body, ExtraHours, Journey, Offer, Opening, Reading
from shared.ids import OfferId, StepId
from shared.plan import LetGo
from tests.builders import a_told, an_after, at
from tests.scheduler.check.chain import chain_book, chain_plan
from tests.scheduler.check.change import (
    Change,
    Pair,
    job_changed,
    person_changed,
    retimed,
    step_changed,
    thing_changed,
)
from tests.scheduler.check.delivery import delivery_book, delivery_plan

LATER = {Rule.ABRADE, Rule.TURNS, Rule.AFTER_JOURNEY}
"""Said by the engine of what it can't plan; the check has no question to ask about them."""


def _step(step: str, **changes: Any) -> Change:
    return lambda book, plan: (step_changed(book, step, **changes), plan)


def _workshop(**changes: Any) -> Change:
    return lambda book, plan: (
        replace(book, workshop=replace(book.workshop, **changes)),
        plan,
    )


def _offer(**changes: Any) -> Change:
    offer = replace(Offer(id=OfferId("saturday"), name="Saturday", kind="overtime"), **changes)
    return lambda book, plan: (replace(book, offers=(offer,)), plan)


def _told_otherwise(book: Any, plan: Any) -> Pair:
    told = retimed(plan, "carve", "2027-03-01 09:00", "2027-03-03 09:00")
    return replace(book, told=a_told(told)), plan


def _let_go_for_nothing(book: Any, plan: Any) -> Pair:
    (carve,) = (each for each in plan.placements if each.step == "carve")
    book, plan = _told_otherwise(book, plan)
    return book, replace(plan, let_go=(LetGo(job=carve.job, step=carve.step),))


def _told_the_same(book: Any, plan: Any) -> Pair:
    return replace(book, told=a_told(plan)), plan


def _door(measured: bool, **sizes: Any) -> Change:
    door = Opening(name="the door", width_m=Decimal(9), height_m=Decimal(9), measured=measured)

    def changed(book: Any, plan: Any) -> Pair:
        segments = tuple(replace(each, **sizes) for each in book.jobs[0].segments)
        book = job_changed(book, book.jobs[0].id, segments=segments)
        return _workshop(openings=(door,))(book, plan)

    return changed


def _hidden_step(book: Any, plan: Any) -> Pair:
    return step_changed(book, "pack", after=(an_after("lacquer"), an_after("elsewhere"))), plan


def _evening(until: str) -> Change:
    """Give overtime from seven on; the next day's work begins at eight."""
    extra = ExtraHours(start=at("2027-03-03 19:00"), end=at(f"2027-03-03 {until}"))
    return lambda book, plan: (person_changed(book, "ivo", overtime_taken=(extra,)), plan)


CHANGES: list[tuple[Rule, Change]] = [
    (Rule.OFFERS, _offer(taken=True)),
    (Rule.LET_GO, _let_go_for_nothing),
    (Rule.LATE_WORK, _evening("21:15")),
    (Rule.NO_SIZE, _door(measured=True, height_m=None)),
    (Rule.AFTER_OUTSIDE, _hidden_step),
]

PLAIN: list[Change] = [
    _step("pack", same_people_as=StepId("sand")),
    _offer(taken=False),
    _offer(taken=True, kind="heating"),
    _offer(taken=True, kind="fast cure"),
    _offer(taken=True, kind="Hired_hand"),
    _step("lacquer", coldest_celsius=Decimal(15), warmest_celsius=Decimal(25)),
    _workshop(readings=(Reading(at=at("2027-03-01 07:00"), celsius=Decimal(12)),)),
    _told_the_same,
    _door(measured=True),
    _door(measured=False, height_m=None),
    # Eleven hours of rest a day, or more (Directive 2003/88/EC, article 3).
    _evening("21:00"),
    _evening("20:00"),
]


@pytest.mark.parametrize(("rule", "change"), CHANGES)
def test_what_is_not_judged_is_said_and_the_plan_is_not_sound(rule: Rule, change: Change) -> None:
    book = chain_book()
    result = check(*change(book, chain_plan(book)))

    assert result.not_judged == (rule.value,)
    assert result.breaches == ()
    assert not result.sound


@pytest.mark.parametrize("change", PLAIN)
def test_what_bears_on_nothing_is_not_mentioned(change: Change) -> None:
    book = chain_book()

    assert check(*change(book, chain_plan(book))).sound


def test_a_leg_under_drivers_hours_is_not_judged() -> None:
    book = delivery_book()
    journeys = (step for step in book.jobs[0].steps if isinstance(step, Journey))
    first, *others = next(journeys).legs
    ruled = (replace(first, rules="561"), *others)
    book = step_changed(book, "delivery", legs=ruled)

    assert check(book, delivery_plan(book)).not_judged == ("drivers_hours",)


@pytest.mark.parametrize(
    ("step", "after"),
    [
        ("delivery", an_after("loading", most_hours=Decimal(1))),
        ("skin-head", an_after("approve", most_hours=Decimal(1))),
    ],
)
def test_a_greatest_wait_up_to_a_journey_or_from_an_answer_is_not_judged(
    step: str, after: After
) -> None:
    book = step_changed(delivery_book(), step, after=(after,))

    result = check(book, delivery_plan(book))

    assert result.not_judged == ("wait_for_journey",)
    assert result.breaches == ()


def test_a_piece_of_unknown_size_is_not_judged_where_floor_is_counted() -> None:
    book = delivery_book()
    segment = replace(book.jobs[1].segments[0], width_m=None)

    changed = job_changed(book, "wren", segments=(segment,))

    assert check(changed, delivery_plan(changed)).not_judged == ("no_size",)


@pytest.mark.parametrize(
    ("changes", "judged"),
    [
        ({"payload_kg": Decimal(60)}, True),
        ({"inside_length_m": Decimal(9)}, False),
        ({"door_width_m": Decimal(9)}, False),
        ({"body": Body.CONTAINER_40}, False),
        ({"body": Body.OPEN, "inside_length_m": Decimal(9)}, True),
        ({"body": Body.VAN}, True),
    ],
)
def test_a_piece_without_a_size_is_not_judged_where_a_vehicle_is_measured(
    changes: dict[str, Any], judged: bool
) -> None:
    book = thing_changed(delivery_book(), "lorry", **changes)
    segments = tuple(replace(each, height_m=None) for each in book.jobs[0].segments)
    book = job_changed(book, book.jobs[0].id, segments=segments)

    assert check(book, delivery_plan(book)).sound is judged


def test_every_code_is_asked_about() -> None:
    elsewhere = {
        Rule.CROWDED,
        Rule.DRIVERS_HOURS,
        Rule.HOME_HOURS,
        Rule.INTERRUPTED,
        Rule.REMAINING,
        Rule.WAIT_FOR_JOURNEY,
    }

    assert {rule for rule, _ in CHANGES} | elsewhere | LATER == NOT_JUDGED


def test_a_plan_belongs_to_the_state_of_the_book_it_was_made_from() -> None:
    book = chain_book()
    plan = chain_plan(book)
    renamed = replace(book, name="Another name")

    assert made_from_matches(book, plan)
    assert not made_from_matches(renamed, plan)
    assert not made_from_matches(replace(book, revision=2), plan)
    assert check(renamed, plan).sound

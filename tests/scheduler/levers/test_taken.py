"""What is taken costs money whatever the plan, and stands in level 7 of every plan."""

from dataclasses import replace
from decimal import Decimal

from scheduler.levers.taken import taken_cost
from shared.book import Engaged, EngagementState, ExtraHours, Offer
from shared.ids import OfferId
from tests.builders import a_book, a_person, at, on
from tests.scheduler.normals import solved

SATURDAY = ExtraHours(
    start=at("2026-01-10 08:00"), end=at("2026-01-10 13:30"), premium_per_hour=Decimal(9)
)
COST_LEVEL = 6


def test_overtime_is_hours_times_rate_and_premium() -> None:
    # 5.5 h x (27 + 9) = 198.
    ana = a_person(rate_per_hour=Decimal(27), overtime_taken=(SATURDAY,))
    offered = replace(ana, overtime_taken=(), overtime_offered=(SATURDAY,))

    assert taken_cost(a_book(people=(ana,))) == 198
    assert taken_cost(a_book(people=(offered,))) == 0


def test_engaged_days_are_working_days_and_no_fewer_than_are_paid() -> None:
    # Friday 9 to Tuesday 13 January are three working days; four are paid at least.
    days = Engaged(first=on("2026-01-09"), last=on("2026-01-13"), state=EngagementState.CONFIRMED)
    ben = a_person("ben", freelance=True, engaged=(days,), day_rate=Decimal(220))
    asked = replace(days, state=EngagementState.OFFERED)

    assert taken_cost(a_book(people=(ben,))) == 660
    assert taken_cost(a_book(people=(replace(ben, least_days=4),))) == 880
    assert taken_cost(a_book(people=(replace(ben, engaged=(asked,)),))) == 0


def test_an_offer_costs_its_price_once_it_is_taken() -> None:
    offer = Offer(id=OfferId("heater"), name="A heater", kind="heating", price=Decimal("312.5"))

    assert taken_cost(a_book(offers=(offer,))) == 0
    assert taken_cost(a_book(offers=(replace(offer, taken=True),))) == Decimal("312.5")


def test_level_seven_counts_what_is_taken() -> None:
    ana = a_person(rate_per_hour=Decimal(27))
    before = solved(a_book(people=(ana,)))
    after = solved(a_book(people=(replace(ana, overtime_taken=(SATURDAY,)),)))

    assert after.levels[COST_LEVEL] - before.levels[COST_LEVEL] == 198_00

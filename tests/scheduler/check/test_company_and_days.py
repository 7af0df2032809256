"""Company, pairs and limits of a day, judged on plans worked out by hand."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.check import check
from shared.book import Act, Book, Fact, FactKind, Leave, Person
from shared.ids import FactId, StepId
from shared.plan import Plan
from tests.builders import a_fact, a_person, a_shift, at
from tests.scheduler.check.chain import chain_book, chain_plan
from tests.scheduler.check.change import (
    moved,
    named,
    person_changed,
    place_changed,
    retimed,
    step_changed,
)
from tests.scheduler.check.delivery import delivery_book, delivery_plan


def ruled(book: Book, **changes: Any) -> Book:
    return replace(book, workshop=replace(book.workshop, **changes))


def carving_alone(**others: Any) -> Book:
    """The chain book in which nobody carves alone, and Pia, who only lacquers, is the other."""
    book = ruled(chain_book(), never_alone=(Act.HOT_WIRE,))
    return person_changed(book, "pia", **others) if others else book


def away(start: str, end: str) -> tuple[Leave, ...]:
    return (Leave(start=at(start), end=at(end)),)


class TestCompany:
    def test_somebody_on_shift_is_company_whatever_they_do(self) -> None:
        book = carving_alone()

        assert check(book, chain_plan(book)).sound

    @pytest.mark.parametrize(
        "gone",
        [
            {"leave": away("2027-03-01 09:00", "2027-03-01 10:00")},
            {"works_from": at("2027-03-02 00:00").date()},
            {"freelance": True},
            {"hours": (a_shift("08:00", "16:45", breaks=()),)},
        ],
        ids=["on leave", "not here yet", "never engaged", "gone home"],
    )
    def test_nobody_else_is_there(self, gone: dict[str, Any]) -> None:
        book = carving_alone(**gone)
        plan = chain_plan(book)

        assert ("company", "carve") in named(book, plan)

    def test_the_stretch_is_named(self) -> None:
        book = carving_alone(leave=away("2027-03-01 09:05", "2027-03-01 10:05"))

        (found,) = check(book, chain_plan(book)).breaches

        facts = dict(found.facts)
        assert (facts["start"], facts["end"]) == (
            "2027-03-01T09:00:00+00:00",
            "2027-03-01T10:15:00+00:00",
        )
        assert facts["person"] == "Ivo"

    def test_what_pauses_may_stand_still_for_want_of_company(self) -> None:
        book = carving_alone(leave=away("2027-03-01 09:00", "2027-03-01 10:00"))
        later = retimed(chain_plan(book), "carve", "2027-03-01 08:00", "2027-03-03 09:00")
        barrier = retimed(later, "barrier", "2027-03-03 13:00", "2027-03-03 17:00")
        plan = retimed(barrier, "lay-up", "2027-03-04 17:00", "2027-03-04 17:00")

        assert not {rule for rule, step in named(book, plan) if step == "carve"}

    def test_it_stands_still_no_longer_than_it_needs(self) -> None:
        book = carving_alone(leave=away("2027-03-01 09:00", "2027-03-01 10:00"))
        plan = retimed(chain_plan(book), "carve", "2027-03-01 08:00", "2027-03-03 10:00")

        assert ("duration", "carve") in named(book, plan)

    def test_what_is_in_one_go_does_not(self) -> None:
        book = ruled(chain_book(), never_alone=(Act.RESIN,))
        book = person_changed(book, "pia", leave=away("2027-03-03 09:00", "2027-03-03 10:00"))
        plan = chain_plan(book)
        longer = retimed(plan, "barrier", "2027-03-03 08:00", "2027-03-03 14:00")

        assert named(book, plan) == {("company", "barrier")}
        assert ("company", "barrier") in named(book, longer)

    def test_a_break_that_is_bridged_is_no_absence(self) -> None:
        lunch = a_shift("08:00", "17:00", breaks=())
        early = replace(lunch, breaks=(replace(a_shift().breaks[0]),))
        book = carving_alone(hours=(early,))

        assert named(book, chain_plan(book)) == set()
        assert named(ruled(book, bridged_break_minutes=15), chain_plan(book)) == set()

    def test_two_keep_each_other_company(self) -> None:
        book = ruled(delivery_book(), never_alone=(Act.HOT_WIRE,))
        book = step_changed(book, "carve-base", does=())
        book = step_changed(book, "carve-wren", does=())
        plan = delivery_plan(book)
        rework = ("company", "approve")

        assert named(book, plan) == set()
        alone = person_changed(book, "mia", leave=away("2027-03-08 00:00", "2027-03-08 23:00"))
        assert named(alone, plan) == {rework}

    def test_acts_that_may_be_done_alone_want_nobody(self) -> None:
        book = ruled(chain_book(), never_alone=(Act.WELD,))
        book = person_changed(book, "pia", freelance=True)

        assert not {rule for rule, _ in named(book, chain_plan(book))} & {"company"}

    def test_by_default_nobody_sprays_alone(self) -> None:
        """Common practice, no source."""
        book = ruled(chain_book(), never_alone=None)
        plan = chain_plan(book)
        gone = person_changed(book, "ivo", works_until=at("2027-03-08 00:00").date())

        assert check(book, plan).sound
        assert ("company", "lacquer") in named(gone, plan)

    def test_who_has_begun_alone_goes_on_alone(self) -> None:
        book = ruled(chain_book(), never_alone=(Act.HOT_WIRE,))
        book = replace(book, people=(book.people[0],), facts=(under_way("carve", "ivo"),))
        plan = retimed(chain_plan(book), "carve", "2027-03-01 07:00", "2027-03-02 17:00")

        assert not {step for rule, step in named(book, plan) if rule == "company"}


def under_way(step: str, *people: str, hours: int = 16) -> Fact:
    return a_fact(
        step=step,
        kind=FactKind.RUNNING,
        at=at("2027-03-01 07:00"),
        remaining_hours=Decimal(hours),
        people=people,
    )


class TestSamePeople:
    def test_the_same_two_are_the_same_in_any_order(self) -> None:
        book = step_changed(delivery_book(), "carve-head", same_people_as=StepId("carve-base"))

        assert named(book, delivery_plan(book)) == {("same_people", "carve-head")}

    def test_the_same_person_is_sound(self) -> None:
        book = step_changed(chain_book(), "sand", same_people_as=StepId("carve"))

        assert check(book, chain_plan(book)).sound

    def test_others_are_named(self) -> None:
        book = step_changed(chain_book(), "lacquer", same_people_as=StepId("sand"))

        (found,) = check(book, chain_plan(book)).breaches

        facts = dict(found.facts)
        assert (found.rule, facts["people"]) == ("same_people", "Pia")
        assert (facts["other"], facts["told"]) == ("Sand", "Ivo")

    def test_who_did_it_counts_once_it_is_done(self) -> None:
        book = step_changed(chain_book(), "sand", same_people_as=StepId("carve"))
        book = replace(book, people=(*book.people, a_person("ben", ("fill",))))
        done = a_fact(step="carve", at=at("2027-03-01 07:00"), people=("ivo",))
        began = retimed(chain_plan(book), "carve", "2027-03-01 07:00", "2027-03-01 07:00")
        by_ben = moved(began, "sand", people=("ben",))
        told = replace(book, facts=(done,))
        untold = replace(book, facts=(replace(done, people=()),))

        assert ("same_people", "sand") not in named(told, began)
        assert ("same_people", "sand") in named(told, by_ben)
        assert ("same_people", "sand") not in named(untold, by_ben)

    def test_where_both_have_begun_there_is_nothing_to_keep(self) -> None:
        book = step_changed(chain_book(), "sand", same_people_as=StepId("carve"))
        facts = (
            a_fact("one", "carve", at=at("2027-03-01 07:00"), people=("pia",)),
            a_fact("two", "sand", at=at("2027-03-01 07:30"), people=("ivo",)),
        )

        found = named(replace(book, facts=facts), chain_plan(book))

        assert ("same_people", "sand") not in found

    def test_a_pair_that_has_begun_says_nothing_of_the_next(self) -> None:
        """Carved by Pia and sanded by Ivo, which is past; packing is still for whoever lacquers."""
        book = step_changed(chain_book(), "sand", same_people_as=StepId("carve"))
        book = step_changed(book, "pack", same_people_as=StepId("lacquer"))
        facts = (
            a_fact("one", "carve", at=at("2027-03-01 07:00"), people=("pia",)),
            a_fact("two", "sand", at=at("2027-03-01 07:30"), people=("ivo",)),
        )

        found = named(replace(book, facts=facts), chain_plan(book))

        assert {each for each in found if each[0] == "same_people"} == {("same_people", "pack")}


class TestPieces:
    """On 2 March Ivo carves the base until 10 o'clock, and then the piece of the other job."""

    @staticmethod
    def crowded(most: int | None, wren: str = "2027-03-02 10:00") -> tuple[Book, Plan]:
        book = place_changed(delivery_book(), "hall", area_m2=Decimal(20))
        book = ruled(book, pieces_per_half_day=most)
        start = at(wren)
        end = start.replace(hour=start.hour + (5 if start.hour < 12 else 4))
        return book, retimed(
            delivery_plan(book), "carve-wren", f"{start:%Y-%m-%d %H:%M}", f"{end:%Y-%m-%d %H:%M}"
        )

    def test_too_many_in_half_a_day(self) -> None:
        assert named(*self.crowded(1)) == {("pieces", "carve-wren")}

    @pytest.mark.parametrize("most", [None, 0, 2])
    def test_two_unless_said_otherwise(self, most: int | None) -> None:
        """Common practice, no source."""
        assert named(*self.crowded(most)) == set()

    def test_the_afternoon_counts_anew(self) -> None:
        assert named(*self.crowded(1, "2027-03-02 13:00")) == set()

    def test_work_through_noon_is_work_of_both_halves(self) -> None:
        """Ivo carves the base until two, with no break, and then the piece of the other job."""
        book, plan = self.crowded(1, "2027-03-02 14:00")
        book = ruled(book, shifts=(a_shift("08:00", "18:00", breaks=()),))
        over_noon = retimed(plan, "carve-base", "2027-03-02 08:00", "2027-03-02 14:00")
        until_noon = retimed(plan, "carve-base", "2027-03-02 06:00", "2027-03-02 12:00")

        assert ("pieces", "carve-wren") in named(book, over_noon)
        assert ("pieces", "carve-wren") not in named(book, until_noon)

    def test_being_held_over_noon_is_no_work(self) -> None:
        book, plan = self.crowded(1, "2027-03-02 13:00")
        base = retimed(plan, "carve-base", "2027-03-01 13:00", "2027-03-02 12:00")

        assert ("pieces", "carve-wren") not in named(book, base)

    def test_what_is_under_way_is_not_held_to_it(self) -> None:
        book, plan = self.crowded(1, "2027-03-01 10:00")
        given = replace(book, facts=(under_way("carve-wren", "ivo", hours=4),))
        second = replace(under_way("carve-head", "ivo"), id=FactId("two"))
        both = named(replace(book, facts=(*given.facts, second)), plan)

        assert ("pieces", "carve-head") in named(given, plan)
        assert not both & {("pieces", "carve-head"), ("pieces", "carve-wren")}


class TestSanding:
    """Ivo sands for six hours on Monday 8 March."""

    @staticmethod
    def sanding(person: str | None = None, workshop: str | None = None) -> Book:
        book = step_changed(chain_book(), "sand", does=(Act.DUST, Act.POWER_SAND))
        if person is not None:
            book = person_changed(book, "ivo", sanding_hours_per_day=Decimal(person))
        everybody = None if workshop is None else Decimal(workshop)
        return ruled(book, sanding_hours_per_day=everybody)

    @pytest.mark.parametrize(
        ("person", "workshop", "broken"),
        [
            (None, None, True),
            (None, "6", False),
            (None, "5.99", True),
            ("6", "1", False),
            ("0", "8", True),
        ],
    )
    def test_the_person_s_limit_goes_before_the_workshop_s(
        self, person: str | None, workshop: str | None, broken: bool
    ) -> None:
        """Four hours where nothing is said: common practice, no source."""
        book = self.sanding(person, workshop)

        assert named(book, chain_plan(book)) == ({("sanding", "sand")} if broken else set())

    @pytest.mark.parametrize("start", ["08:15", "09:00", "09:45"])
    def test_it_is_counted_in_quarters_from_whenever_it_begins(self, start: str) -> None:
        """Six hours and the hour of the break: seven hours by the clock."""
        book, begins = self.sanding(workshop="5.75"), at(f"2027-03-08 {start}")
        plan = moved(chain_plan(book), "sand", start=begins, end=begins + timedelta(hours=7))

        (found,) = check(book, plan).breaches

        facts = dict(found.facts)
        assert (found.rule, facts["sanded_minutes"], facts["most_minutes"]) == ("sanding", 360, 345)

    def test_two_days_share_it(self) -> None:
        book = self.sanding()
        plan = retimed(chain_plan(book), "sand", "2027-03-08 13:00", "2027-03-09 10:00")

        assert not {step for rule, step in named(book, plan) if rule == "sanding"}

    def test_all_of_a_day_is_added_up(self) -> None:
        book = step_changed(self.sanding("9.75"), "pack", does=(Act.POWER_SAND,), after=())
        plan = retimed(chain_plan(book), "pack", "2027-03-08 15:00", "2027-03-09 10:00")
        less = self.sanding("7.75")
        less = step_changed(less, "pack", does=(Act.POWER_SAND,), after=())

        assert ("sanding", "pack") not in named(book, plan)
        assert ("sanding", "pack") in named(less, plan)

    def test_an_abrade_stage_is_sanding(self) -> None:
        book = ruled(delivery_book(), sanding_hours_per_day=Decimal("0.75"))

        assert named(book, delivery_plan(book)) == {("sanding", "coat-head")}


def test_nobody_unknown_brings_the_check_down() -> None:
    book = ruled(
        step_changed(chain_book(), "carve", same_people_as=StepId("sand")), never_alone=None
    )
    plan = moved(chain_plan(book), "carve", people=("nobody",))

    assert ("unknown_thing", "carve") in named(book, plan)


def test_the_other_of_a_pair_may_be_anything() -> None:
    people: tuple[Person, ...] = chain_book().people
    for other in ("pack", "elsewhere", "sand"):
        book = step_changed(chain_book(), "sand", same_people_as=StepId(other))
        assert check(replace(book, people=people), chain_plan(book)).sound

"""Certificates, tests and last days that run out; work of no job; people for a time."""

from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import pytest

from scheduler.calendar import Index
from scheduler.hopeless import hopeless
from scheduler.outcome import Outcome, Verdict
from scheduler.reasons import Reason
from shared.book import (
    Book,
    Certificate,
    Engaged,
    EngagementState,
    EquipmentKind,
    EquipmentNeed,
    Person,
    Stage,
)
from shared.ids import EquipmentId, PersonId, PlaceId
from shared.trade import figure
from tests.builders import (
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_stage,
    a_way,
    a_workshop,
    an_equipment,
    an_other_work,
    at,
    on,
)
from tests.scheduler.normals import job_of, normal_of, placed, position, solved

LAST = "2026-01-20"
DAY_AFTER = "2026-01-21"
LONG = a_stage("long", hours=120)
"""Takes Ana from Monday 5 January to Thursday the 22nd."""
SPRAY = a_stage("spray", hours=2, certificates=("isocyanates",))
CRANE = (EquipmentNeed(equipment=EquipmentId("crane")),)
LIFT = a_stage("lift", ways=(a_way(hours=2, equipment=CRANE),))


def book_of(*steps: Stage, people: tuple[Person, ...] = (a_person(),), **changes: Any) -> Book:
    usual = {"places": (a_place(slots=9), a_floor()), "people": people, **changes}
    workshop = a_workshop(useful_hours=Decimal(8))
    return a_book(a_job(steps=(*steps, a_gate())), workshop=workshop, **usual)


def holder(expires: date | None, person: str = "ana") -> Person:
    held = Certificate(certificate="isocyanates", expires=expires)
    return a_person(person, certificates=(held,))


def with_crane(*steps: Stage, **crane: Any) -> Book:
    return book_of(*steps, equipment=(an_equipment("crane", kind=EquipmentKind.CRANE, **crane),))


def why(outcome: Outcome) -> tuple[Verdict, list[tuple[str, dict[str, Any]]]]:
    """Give the verdict and the reasons, of certificates without the soonest end."""
    (job,) = outcome.jobs
    reasons = [(each.code, dict(each.facts)) for each in job.reasons]
    for code, facts in reasons:
        if code == Reason.CERTIFICATE_OVER:
            end = datetime.fromisoformat(str(facts.pop("end")))
            assert end > at(f"{DAY_AFTER} 00:00")
    return job.verdict, reasons


CERTIFICATE_OVER = (
    Verdict.CANNOT,
    [(Reason.CERTIFICATE_OVER, {"step": "spray", "certificate": "isocyanates"})],
)
CRANE_OVER = (Verdict.CANNOT, [(Reason.EQUIPMENT_OVER, {"step": "lift", "equipment": "crane"})])


class TestCertificates:
    def test_work_is_done_by_the_last_day(self) -> None:
        book = book_of(SPRAY, people=(holder(on(LAST)),))

        assert placed(solved(book), "spray").end <= at(f"{DAY_AFTER} 00:00")

    @pytest.mark.parametrize(
        "steps",
        [(replace(SPRAY, not_before=on(DAY_AFTER)),), (LONG, SPRAY)],
        ids=["not before", "behind long work"],
    )
    def test_from_the_day_after_it_is_a_fact_of_the_job(self, steps: tuple[Stage, ...]) -> None:
        outcome = solved(book_of(*steps, people=(holder(on(LAST)),)))

        assert why(outcome) == CERTIFICATE_OVER
        assert all(each.step != "spray" for each in outcome.plan.placements)

    def test_one_who_still_holds_it_does_it(self) -> None:
        people = (holder(on(LAST)), holder(None, "ben"))

        outcome = solved(book_of(replace(SPRAY, not_before=on(DAY_AFTER)), people=people))

        assert placed(outcome, "spray").people == ("ben",)

    def test_training_with_diisocyanates_is_renewed_after_five_years(self) -> None:
        """Regulation (EC) 1907/2006 (REACH), Annex XVII entry 74: at least every five years."""
        years = int(figure("HS06").amount)
        trained = on("2021-01-20")
        people = (holder(trained.replace(year=trained.year + years)),)

        assert why(solved(book_of(LONG, SPRAY, people=people))) == CERTIFICATE_OVER
        assert solved(book_of(SPRAY, people=people)).verdict is Verdict.FITS

    def test_the_other_jobs_are_planned(self) -> None:
        book = book_of(replace(SPRAY, not_before=on(DAY_AFTER)), people=(holder(on(LAST)),))
        wren = a_job("wren", steps=(a_stage("wren-carve"), a_gate("wren-load")))

        outcome = solved(replace(book, jobs=(*book.jobs, wren)))

        assert job_of(outcome, "wren").verdict is Verdict.FITS
        assert job_of(outcome, "heron").verdict is Verdict.CANNOT

    def test_what_only_the_others_keep_from_it_is_no_fact_of_the_job(self) -> None:
        """Ana is asked for elsewhere until the certificate has run out."""
        book = book_of(SPRAY, people=(holder(on("2026-01-05")),))
        busy = an_other_work(
            start=at("2026-01-05 08:00"), end=at("2026-01-06 12:00"), people=(PersonId("ana"),)
        )

        verdict, reasons = why(solved(replace(book, other_work=(busy,))))

        assert verdict is not Verdict.CANNOT
        assert [code for code, _ in reasons] == [Reason.NOT_PLACED]


class TestEquipment:
    def test_it_is_used_by_the_day_its_test_is_due(self) -> None:
        outcome = solved(with_crane(LIFT, test_due=on(LAST)))

        assert placed(outcome, "lift").end <= at(f"{DAY_AFTER} 00:00")

    @pytest.mark.parametrize("field", ["test_due", "usable_until"])
    @pytest.mark.parametrize(
        "steps",
        [(replace(LIFT, not_before=on(DAY_AFTER)),), (LONG, LIFT)],
        ids=["not before", "behind long work"],
    )
    def test_from_the_day_after_it_is_a_fact_of_the_job(
        self, steps: tuple[Stage, ...], field: str
    ) -> None:
        assert why(solved(with_crane(*steps, **{field: on(LAST)}))) == CRANE_OVER

    def test_a_test_that_is_overdue_is_a_fact_of_the_job(self) -> None:
        assert why(solved(with_crane(LIFT, test_due=on("2026-01-04")))) == CRANE_OVER

    def test_another_way_without_it_is_taken(self) -> None:
        ways = (*LIFT.ways, a_way("by hand", 6))
        lift = replace(LIFT, ways=ways, not_before=on(DAY_AFTER))

        outcome = solved(with_crane(lift, test_due=on(LAST)))

        assert placed(outcome, "lift").way == "by hand"

    @pytest.mark.parametrize(
        ("figure_id", "examined"), [("HS15a", "2025-07-20"), ("HS05a", "2025-10-20")]
    )
    def test_examinations_fall_due_by_the_month(self, figure_id: str, examined: str) -> None:
        """Lifting accessories: Lifting Operations and Lifting Equipment Regulations 1998, reg. 9.

        Breathing air: HSE, spray painting, COSHH essentials.
        """
        first = on(examined)
        months = first.year * 12 + first.month - 1 + int(figure(figure_id).amount)
        due = first.replace(year=months // 12, month=months % 12 + 1)

        assert why(solved(with_crane(LONG, LIFT, test_due=due))) == CRANE_OVER
        assert solved(with_crane(LIFT, test_due=due)).verdict is Verdict.FITS

    def test_a_place_that_is_given_up_is_a_fact_of_the_job(self) -> None:
        book = book_of(
            replace(LIFT, ways=(a_way(hours=2, places=("bay",)),), not_before=on(DAY_AFTER)),
            places=(a_place(usable_until=on(LAST)), a_floor()),
        )

        assert why(solved(book)) == (
            Verdict.CANNOT,
            [(Reason.PLACE_OVER, {"step": "lift", "place": "bay"})],
        )

    def test_a_booking_that_ends_is_waited_for(self) -> None:
        busy = an_other_work(
            start=at("2026-01-05 08:00"),
            end=at("2026-01-12 12:00"),
            equipment=(EquipmentId("crane"),),
        )

        outcome = solved(replace(with_crane(LIFT), other_work=(busy,)))

        assert placed(outcome, "lift").start >= at("2026-01-12 12:00")


class TestShopWork:
    """Cleaning, filters, tests, deliveries and training hold people, places and things."""

    START, END = at("2026-01-05 08:00"), at("2026-01-06 10:00")

    @pytest.mark.parametrize(
        "held",
        [
            {"people": (PersonId("ana"),)},
            {"places": (PlaceId("bay"),)},
            {"equipment": (EquipmentId("crane"),)},
        ],
        ids=["people", "places", "equipment"],
    )
    def test_it_is_a_load_like_any_other(self, held: dict[str, Any]) -> None:
        stage = a_stage(ways=(a_way(hours=2, places=("bay",), equipment=CRANE),))
        book = replace(with_crane(stage), places=(a_place(), a_floor()))
        work = an_other_work(start=self.START, end=self.END, **held)

        assert placed(solved(book), "carve").start < self.END
        assert placed(solved(replace(book, other_work=(work,))), "carve").start >= self.END

    def test_it_does_not_hold_who_is_not_named(self) -> None:
        work = an_other_work(start=self.START, end=self.END, people=(PersonId("ben"),))
        book = book_of(a_stage(hours=2), people=(a_person(), a_person("ben")))

        outcome = solved(replace(book, other_work=(work,)))

        assert placed(outcome, "carve").people == ("ana",)


class TestFreelancers:
    DAYS = Engaged(first=on("2026-01-13"), last=on("2026-01-13"))

    @pytest.mark.parametrize("state", EngagementState)
    def test_only_confirmed_days_are_a_load_that_can_be_planned(
        self, state: EngagementState
    ) -> None:
        cem = a_person("cem", freelance=True, engaged=(replace(self.DAYS, state=state),))
        book = book_of(a_stage(hours=4), people=(cem,))
        is_confirmed = state is EngagementState.CONFIRMED

        outcome = solved(book)

        assert (outcome.verdict is Verdict.FITS) is is_confirmed
        if is_confirmed:
            carve = placed(outcome, "carve")
            assert carve.start.date() == carve.end.date() == self.DAYS.first
        else:
            assert why(outcome)[1][0][0] == Reason.NOBODY_CAN

    def test_a_pencilled_freelancer_is_no_company(self) -> None:
        cem = a_person("cem", freelance=True, engaged=(self.DAYS,))
        book = book_of(a_stage(hours=2), people=(a_person(), cem))
        careful = replace(book, workshop=replace(book.workshop, never_alone=None))
        confirmed = replace(self.DAYS, state=EngagementState.CONFIRMED)
        there = (careful.people[0], replace(cem, engaged=(confirmed,)))

        assert why(solved(careful))[1][0][0] == Reason.NOBODY_ELSE
        carve = placed(solved(replace(careful, people=there)), "carve")
        assert carve.start.date() == self.DAYS.first


def test_what_is_not_over_is_not_said_to_be() -> None:
    normal = normal_of(with_crane(LIFT, test_due=on(LAST)))
    index = Index(normal.problem)

    assert hopeless(normal, index, position(normal, "lift")) is None

"""Company, pairs and limits of a day: small books in which each alone decides, or forbids."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.outcome import Outcome, Verdict
from scheduler.reasons import Reason
from shared.book import Abrade, Act, Book, FactKind, Job, Kind, Leave, Person, Pin, Stage
from shared.ids import PersonId, StepId
from tests.builders import (
    NOW,
    SKILLS,
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_segment,
    a_shift,
    a_stage,
    a_way,
    a_window,
    a_workshop,
    at,
    on,
)
from tests.scheduler.normals import codes, job_of, normal_of, placed, solved, stage_of, worker_of

ANA = a_person()
BEN = a_person("ben", ("polish",))
"""Ben is there; he can do nothing that is asked for."""


def ruled(*steps: Any, people: tuple[Person, ...] = (ANA, BEN), **rules: Any) -> Book:
    """A book of one job with these steps and some rules of the workshop."""
    return replace(
        a_book(a_job(steps=(*steps, a_gate())), places=(a_place(slots=9), a_floor())),
        workshop=a_workshop(useful_hours=Decimal(8), **rules),
        people=people,
    )


def reasons(outcome: Outcome) -> list[str]:
    return [each.code for job in outcome.jobs for each in job.reasons]


def is_ready(book: Book, by: str) -> bool:
    """Return whether a book's jobs are found to be loaded by an instant."""
    until = at(f"2026-01-0{by}")
    window = replace(a_window(), start=NOW, end=until)
    jobs = tuple(replace(job, windows=(window,)) for job in book.jobs)
    verdict = solved(replace(book, jobs=jobs)).verdict
    return verdict in (Verdict.FITS, Verdict.TIGHT)


def starts(outcome: Outcome, *steps: str) -> list[str]:
    return [f"{placed(outcome, step).start:%a %H:%M}" for step in steps]


def leave(start: str, end: str) -> tuple[Leave, ...]:
    return (Leave(start=at(start), end=at(end)),)


class TestCompany:
    ALONE = a_stage(hours=2)

    def test_one_alone_waits_until_somebody_is_there(self) -> None:
        late = replace(BEN, leave=leave("2026-01-05 00:00", "2026-01-05 14:00"))

        kept = solved(ruled(self.ALONE, people=(ANA, late), never_alone=None))
        free = solved(ruled(self.ALONE, people=(ANA, late), never_alone=()))

        assert (starts(kept, "carve"), starts(free, "carve")) == (["Mon 14:00"], ["Mon 08:00"])

    def test_alone_for_ever_is_a_fact_of_the_job(self) -> None:
        outcome = solved(ruled(self.ALONE, people=(ANA,), never_alone=None))

        assert (job_of(outcome, "heron").verdict, reasons(outcome)) == (
            Verdict.CANNOT,
            [Reason.NOBODY_ELSE],
        )
        assert solved(ruled(self.ALONE, people=(ANA,), never_alone=())).verdict is Verdict.FITS

    def test_two_on_different_shifts_are_never_company(self) -> None:
        late = replace(BEN, hours=(a_shift("16:00", "22:00", breaks=()),))

        outcome = solved(ruled(self.ALONE, people=(ANA, late), never_alone=None))

        assert reasons(outcome) == [Reason.NOBODY_ELSE]

    def test_a_pair_of_hands_is_company_for_each_other(self) -> None:
        both = a_stage(ways=(a_way(needs=(), hours=0), a_way("two", 2, hands=2)))
        pair = ruled(replace(both, ways=both.ways[1:]), people=(ANA, a_person("cem")))

        outcome = solved(replace(pair, workshop=a_workshop(never_alone=None)))

        assert outcome.verdict is Verdict.FITS

    def test_a_pin_outside_company_is_a_clash_and_never_lifted(self) -> None:
        late = replace(BEN, leave=leave("2026-01-05 00:00", "2026-01-05 14:00"))
        pinned = replace(self.ALONE, pin=Pin(start=at("2026-01-05 09:00")))

        outcome = solved(ruled(pinned, people=(ANA, late), never_alone=None))

        assert reasons(outcome) == [Reason.NOBODY_ELSE]
        assert not [each for each in outcome.plan.placements if each.step == "carve"]

    def test_who_is_asked_for_by_name_has_company_or_waits(self) -> None:
        night = replace(a_person("cem"), hours=(a_shift("18:00", "23:00", breaks=()),))
        asked = replace(self.ALONE, people=(PersonId("cem"),))

        outcome = solved(ruled(asked, people=(ANA, BEN, night), never_alone=None))

        assert reasons(outcome) == [Reason.NOBODY_ELSE]

    def test_acts_decide_what_is_done_alone(self) -> None:
        late = replace(BEN, leave=leave("2026-01-05 00:00", "2026-01-05 14:00"))
        brush = replace(self.ALONE, does=())

        outcome = solved(ruled(brush, people=(ANA, late), never_alone=None))

        assert starts(outcome, "carve") == ["Mon 08:00"]

    def test_a_journey_takes_company_away(self) -> None:
        """Ben drives the other job on Monday and is back on the bench on Tuesday."""
        other = a_job(
            "wren",
            steps=(a_gate("wren-load"), a_journey("wren-drive", crew=("ben",), back_minutes=120)),
            windows=(a_window("wren-w", "2026-01-05 08:00", "2026-01-05 13:00"),),
        )
        book = ruled(self.ALONE, never_alone=None)

        outcome = solved(replace(book, jobs=(*book.jobs, other)))

        (trip,) = outcome.plan.trips
        carve = placed(outcome, "carve")
        assert job_of(outcome, "wren").verdict is not Verdict.CANNOT
        assert carve.end <= trip.start or carve.start >= trip.free

    def test_who_is_on_the_road_already_is_no_company(self) -> None:
        other = a_job(
            "wren",
            steps=(a_gate("wren-load"), a_journey("wren-drive", crew=("ben",), back_minutes=120)),
            windows=(a_window("wren-w", "2026-01-05 08:00", "2026-01-06 18:00"),),
        )
        gone = a_fact(step="wren-drive", kind=FactKind.GONE, at=at("2026-01-05 07:00"))
        book = ruled(self.ALONE, never_alone=None)

        outcome = solved(replace(book, jobs=(*book.jobs, other), facts=(gone,)))

        (trip,) = outcome.plan.trips
        assert trip.start < NOW < trip.free
        assert placed(outcome, "carve").start >= trip.free

    def test_who_has_begun_alone_goes_on(self) -> None:
        running = a_fact(
            step="carve",
            kind=FactKind.RUNNING,
            people=("ana",),
            remaining_hours=Decimal(3),
        )
        book = replace(ruled(self.ALONE, people=(ANA,), never_alone=None), facts=(running,))

        assert f"{placed(solved(book), 'carve').end:%a %H:%M}" == "Mon 11:00"


class TestSamePeople:
    CEM = a_person("cem")
    FIRST = a_stage("first", hours=4, segments=("heron-torso",))
    SECOND = a_stage("second", hours=4, after=())

    def of_pair(self, **rules: Any) -> Book:
        second = replace(self.SECOND, **{"same_people_as": StepId("first"), **rules})
        return ruled(self.FIRST, second, people=(ANA, self.CEM))

    def test_the_second_waits_for_the_people_of_the_first(self) -> None:
        kept = solved(self.of_pair())

        assert placed(kept, "first").people == placed(kept, "second").people
        assert is_ready(self.of_pair(same_people_as=None), "5 12:00")
        assert not is_ready(self.of_pair(), "5 16:00")
        assert is_ready(self.of_pair(), "6 08:00")

    def test_a_pair_that_nobody_can_do_both_of_is_a_fact_of_the_job(self) -> None:
        second = replace(
            self.SECOND, same_people_as=StepId("first"), ways=(a_way(hours=1, skill="polish"),)
        )

        outcome = solved(ruled(self.FIRST, second))

        assert reasons(outcome) == [Reason.OTHER_PEOPLE]

    def test_what_one_cannot_sand_in_a_day_the_other_may_not_want_of_them(self) -> None:
        """Ana alone can polish, and sands for an hour a day at most."""
        sand = a_stage("first", Kind.FILL, hours=3, does=(Act.POWER_SAND,))
        tender = replace(a_person(skills=(*SKILLS, "polish")), sanding_hours_per_day=Decimal(1))
        polish = replace(
            self.SECOND, same_people_as=StepId("first"), ways=(a_way(hours=1, skill="polish"),)
        )

        outcome = solved(ruled(sand, polish, people=(tender, self.CEM)))

        assert reasons(outcome) == [Reason.OTHER_PEOPLE]
        assert job_of(outcome, "heron").verdict is Verdict.CANNOT

    def test_certificates_and_names_count(self) -> None:
        certified = self.of_pair(certificates=("lift",))
        named = self.of_pair(people=(PersonId("cem"),))
        first = replace(self.FIRST, people=(PersonId("ana"),))
        steps = (first, *named.jobs[0].steps[1:])

        assert Reason.OTHER_PEOPLE in codes(normal_of(certified))
        assert placed(solved(named), "first").people == ("cem",)
        both = replace(named, jobs=(replace(named.jobs[0], steps=steps),))
        assert reasons(solved(both)) == [Reason.OTHER_PEOPLE]

    def test_who_did_the_first_does_the_second(self) -> None:
        done = a_fact(step="first", people=("cem",))

        outcome = solved(replace(self.of_pair(), facts=(done,)))

        assert placed(outcome, "second").people == ("cem",)

    def test_who_did_the_second_does_the_first(self) -> None:
        done = a_fact(step="second", people=("cem",))

        outcome = solved(replace(self.of_pair(), facts=(done,)))

        assert placed(outcome, "first").people == ("cem",)

    def test_who_is_at_the_first_does_the_second(self) -> None:
        running = a_fact(
            step="first", kind=FactKind.RUNNING, people=("cem",), remaining_hours=Decimal(4)
        )

        outcome = solved(replace(self.of_pair(), facts=(running,)))

        assert placed(outcome, "second").people == ("cem",)
        assert starts(outcome, "second") == ["Mon 12:30"]

    def test_more_who_did_it_than_it_takes_hands_is_a_fact_of_the_job(self) -> None:
        done = a_fact(step="first", people=("ana", "cem"))

        outcome = solved(replace(self.of_pair(), facts=(done,)))

        assert reasons(outcome) == [Reason.OTHER_PEOPLE]

    def test_where_both_have_begun_nothing_is_asked(self) -> None:
        facts = (
            a_fact("one", "first", kind=FactKind.RUNNING, people=("ana",)),
            a_fact("two", "second", kind=FactKind.RUNNING, people=("cem",)),
        )

        outcome = solved(replace(self.of_pair(), facts=facts))

        assert outcome.verdict is Verdict.FITS

    def test_a_pair_in_two_jobs_has_one_team_too(self) -> None:
        book = self.of_pair(same_people_as=None)
        twin = replace(self.SECOND, id=StepId("twin"), same_people_as=StepId("first"))
        other = a_job("wren", steps=(twin, a_gate("wren-load")))

        outcome = solved(replace(book, jobs=(*book.jobs, other)))

        assert placed(outcome, "twin").people == placed(outcome, "first").people


def pieces_of(*names: str) -> Job:
    """A job of pieces that are each carved for an hour."""
    segments = tuple(a_segment(f"heron-{name}") for name in dict.fromkeys(names))
    stages = tuple(
        a_stage(f"{name}-{at}", hours=1, segments=(f"heron-{name}",), after=())
        for at, name in enumerate(names)
    )
    return a_job(segments=segments, steps=(*stages, a_gate()))


class TestPieces:
    @staticmethod
    def book(*names: str, most: int | None = None, **people: Any) -> Book:
        book = ruled(pieces_per_half_day=most, people=(replace(ANA, **people),))
        return replace(book, jobs=(pieces_of(*names),))

    def test_no_more_than_two_pieces_in_half_a_day(self) -> None:
        """Common practice, no source."""
        assert is_ready(self.book("a", "b", "c", most=0), "5 11:00")
        assert not is_ready(self.book("a", "b", "c"), "5 13:15")
        assert is_ready(self.book("a", "b", "c"), "5 13:30")

    def test_one_piece_in_half_a_day_takes_three_halves(self) -> None:
        assert not is_ready(self.book("a", "b", "c", most=1), "6 08:15")
        assert is_ready(self.book("a", "b", "c", most=1), "6 08:30")

    def test_two_stages_on_one_piece_are_one_piece(self) -> None:
        assert is_ready(self.book("a", "b", "a"), "5 11:00")

    def test_pinned_pieces_past_the_limit_are_not_forced(self) -> None:
        book = self.book("a", "b", most=1)
        pins = {"a-0": Pin(start=at("2026-01-05 08:00")), "b-1": Pin(start=at("2026-01-05 10:00"))}
        steps = tuple(
            replace(step, pin=pins.get(step.id)) if isinstance(step, Stage) else step
            for step in book.jobs[0].steps
        )

        outcome = solved(replace(book, jobs=(replace(book.jobs[0], steps=steps),)))

        assert Reason.NOT_PLACED in reasons(outcome)

    def test_a_load_is_one_piece_and_a_gate_none(self) -> None:
        load = a_stage("load", hours=1, segments=("heron-a", "heron-b"), after=())
        book = self.book("a", "b")
        job = book.jobs[0]
        steps = (load, *job.steps[:-1], a_gate(ways=(a_way(hours=1),)))

        normal = normal_of(replace(book, jobs=(replace(job, steps=steps),)))

        pieces = [stage_of(normal, step).piece for step in ("a-0", "b-1", "load", "loading")]
        assert len({pieces[0], pieces[1], pieces[2]}) == 3
        assert pieces[3] is None

    def test_half_days_follow_the_clock_of_the_workshop(self) -> None:
        """British summer time began on 29 March 2026 (Summer Time Order 2002)."""
        normal = normal_of(self.book("a"))
        halves = normal.problem.half_days
        spring = {normal.origin + timedelta(minutes=15 * a): b - a for a, b in halves}

        def length(day: str) -> int:
            return spring[at(day)]

        assert (length("2026-03-28 00:00"), length("2026-03-29 00:00")) == (48, 44)
        assert length("2026-03-29 11:00") == 48


class TestSanding:
    SAND = a_stage("sand", Kind.FILL, hours=3, does=(Act.DUST, Act.POWER_SAND), after=())

    def two(self, **rules: Any) -> Book:
        more = replace(self.SAND, id=StepId("more"))
        return ruled(self.SAND, more, people=(ANA,), **rules)

    def test_what_is_past_the_day_s_limit_waits_for_the_next(self) -> None:
        """Four hours by default: common practice, no source."""
        assert is_ready(self.two(sanding_hours_per_day=Decimal(8)), "5 14:30")
        assert not is_ready(self.two(), "6 09:15")
        assert is_ready(self.two(), "6 09:30")

    def test_it_is_shared_out(self) -> None:
        assert is_ready(replace(self.two(), people=(ANA, a_person("cem"))), "5 11:00")

    def test_a_person_s_own_limit_counts(self) -> None:
        tender = replace(ANA, sanding_hours_per_day=Decimal(1))
        outcome = solved(replace(self.two(), people=(tender, a_person("cem"))))

        assert [placed(outcome, step).people for step in ("sand", "more")] == [("cem",)] * 2

    @pytest.mark.parametrize("in_one_go", [True, False])
    def test_what_no_day_can_hold_is_a_fact_of_the_job(self, in_one_go: bool) -> None:
        long = a_stage(
            "sand", Kind.FILL, hours=6 if in_one_go else 16, in_one_go=in_one_go,
            does=(Act.POWER_SAND,),
        )  # fmt: skip

        outcome = solved(ruled(long))

        assert (outcome.verdict, reasons(outcome)) == (Verdict.CANNOT, [Reason.SANDING_TOO_LONG])
        assert solved(ruled(long, sanding_hours_per_day=Decimal(8))).verdict is Verdict.FITS

    def test_what_two_halves_of_days_hold_is_placed_so(self) -> None:
        long = ruled(replace(self.SAND, ways=(a_way(hours=8, skill="fill"),)))

        assert starts(solved(long), "sand")[0].endswith("11:30")
        assert not is_ready(long, "6 11:15")
        assert is_ready(long, "6 11:30")

    def test_who_takes_part_days_can_do_what_others_cannot(self) -> None:
        half = replace(ANA, hours=(a_shift("08:00", "11:00", breaks=()),))
        long = replace(self.SAND, ways=(a_way(hours=9, skill="fill"),))

        assert reasons(solved(ruled(long))) == [Reason.SANDING_TOO_LONG]
        assert solved(ruled(long, people=(half,))).verdict is Verdict.FITS

    def test_where_nobody_can_abrade_the_recoat_time_is_kept(self) -> None:
        """Forty hours of abrading are more than any days in a row may have."""
        ways = (a_way("abrade", 40, skill="fill"),)
        coat = a_stage(
            "coat", Kind.COAT, hours=2, recoat_hours=Decimal(30), abrade=Abrade(ways=ways)
        )

        normal = normal_of(ruled(coat, a_stage("paint", Kind.PAINT, hours=2)))

        assert all(name.part != "abrade" for name in normal.stages)
        (edge,) = [edge for edge in normal.problem.edges if edge.most is not None]
        assert (edge.most, edge.insert) == (120, None)

    def test_limits_round_down_to_the_quarter(self) -> None:
        limit = Decimal("3.1")
        normal = normal_of(ruled(self.SAND, sanding_hours_per_day=limit))

        assert worker_of(normal, "ana").sanding_max == 12


def test_a_book_that_asks_for_none_of_it_has_no_days() -> None:
    normal = normal_of(ruled(a_stage(hours=2)))

    assert normal.problem.days == normal.problem.half_days == ()
    assert normal.problem.pieces_max is None
    assert not any(stage.company or stage.sands for stage in normal.problem.stages)


def test_days_are_those_of_the_workshop() -> None:
    sand = a_stage("sand", Kind.FILL, does=(Act.POWER_SAND,))
    normal = normal_of(ruled(sand))

    def day_of(step: int) -> datetime:
        return normal.origin + timedelta(minutes=15 * step)

    first, second = normal.problem.days[:2]
    assert (day_of(first[0]), day_of(first[1])) == (NOW, at("2026-01-06 00:00"))
    assert second[1] - second[0] == 96
    assert on("2026-03-29") in {
        day_of(start).date() for start, end in normal.problem.days if end - start == 92
    }

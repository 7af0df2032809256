"""People as workers: when they are there, what they can, what they still hold."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from scheduler.reasons import Reason
from shared.book import (
    Certificate,
    Closure,
    Engaged,
    EngagementState,
    ExtraHours,
    Leave,
    Need,
    Person,
    SkillLevel,
)
from shared.ids import PersonId, SkillId
from tests.builders import (
    a_need,
    a_person,
    a_shift,
    a_skill,
    a_stage,
    a_way,
    a_workshop,
    an_other_work,
    at,
    on,
)
from tests.scheduler.normals import codes, normal_of, of_steps, opens, stage_of, worker_of

BOOK = of_steps(a_stage("carve"))


def first_opens(person: Person, count: int) -> list[str]:
    normal = normal_of(replace(BOOK, people=(person,)))
    return [f"{start:%a %d %H:%M}-{end:%H:%M}" for start, end in opens(normal, person.id)[:count]]


def test_a_person_keeps_the_workshops_shifts() -> None:
    assert first_opens(a_person(), 3) == [
        "Mon 05 08:00-12:00",
        "Mon 05 12:30-16:00",
        "Tue 06 07:30-12:00",
    ]


def test_own_hours_leave_and_overtime_count() -> None:
    person = a_person(
        hours=(a_shift("09:00", "13:00", breaks=()),),
        leave=(Leave(start=at("2026-01-06 00:00"), end=at("2026-01-07 10:07")),),
        overtime_taken=(ExtraHours(start=at("2026-01-10 08:00"), end=at("2026-01-10 10:00")),),
        overtime_offered=(ExtraHours(start=at("2026-01-11 08:00"), end=at("2026-01-11 10:00")),),
    )

    assert first_opens(person, 6) == [
        "Mon 05 09:00-13:00",
        "Wed 07 10:15-13:00",
        "Thu 08 09:00-13:00",
        "Fri 09 09:00-13:00",
        "Sat 10 08:00-10:00",
        "Mon 12 09:00-13:00",
    ]


def test_first_and_last_day_bound_a_person() -> None:
    person = a_person(works_from=on("2026-01-07"), works_until=on("2026-01-07"))

    assert first_opens(person, 9) == ["Wed 07 07:30-12:00", "Wed 07 12:30-16:00"]


def test_a_freelancer_works_on_confirmed_days_only() -> None:
    days = (
        Engaged(first=on("2026-01-06"), last=on("2026-01-06"), state=EngagementState.CONFIRMED),
        Engaged(first=on("2026-01-07"), last=on("2026-01-07"), state=EngagementState.PENCILLED),
        Engaged(first=on("2026-01-08"), last=on("2026-01-08")),
    )

    assert first_opens(a_person(freelance=True, engaged=days), 9) == [
        "Tue 06 07:30-12:00",
        "Tue 06 12:30-16:00",
    ]


def test_holidays_and_closures_shut_the_workshop_for_everybody() -> None:
    """Good Friday and Easter Monday 2026: Banking and Financial Dealings Act 1971 (GB, ENG)."""
    shut = Closure(first=on("2026-01-06"), last=on("2026-01-06"))
    book = replace(BOOK, workshop=a_workshop(closures=(shut,)))
    normal = normal_of(book)
    days = {start.date() for start, _ in opens(normal, "ana")}

    assert not days & {on("2026-01-06"), on("2026-04-03"), on("2026-04-06")}
    assert {on("2026-01-07"), on("2026-04-02"), on("2026-04-07")} <= days
    assert (64, 160) in normal.problem.shut


def test_short_breaks_are_bridged_and_long_ones_part_shifts() -> None:
    long_break = a_person("ben", hours=(a_shift("08:00", "12:00"), a_shift("14:00", "17:00")))
    normal = normal_of(replace(BOOK, people=(a_person(), long_break)))
    calendars = normal.problem.calendars
    ana, ben = (worker_of(normal, name).calendar for name in ("ana", "ben"))

    assert ana is not None
    assert ben is not None
    assert calendars[ana].shifts[0] == (0, 32)
    assert calendars[ben].shifts[:2] == ((0, 16), (24, 36))


def test_who_can_may_help_and_who_helps_can_not() -> None:
    person = a_person(
        skills=(),
        pace=Decimal("0.8"),
    )
    skills = (a_skill("carve", SkillLevel.LEADS), a_skill("paint", SkillLevel.HELPS))
    stages = (a_stage("carve"), a_stage("paint", ways=(a_way(skill="carve"),)))
    normal = normal_of(replace(of_steps(*stages), people=(replace(person, skills=skills),)))

    worker = worker_of(normal, "ana")
    assert worker.pace == Fraction(4, 5)
    assert len(worker.can) == 2  # carving, and what everybody can
    assert worker.can < worker.helps
    assert len(worker.helps) == 3


def test_other_work_holds_a_person_outwards_to_the_quarter() -> None:
    work = an_other_work(
        start=at("2026-01-05 09:05"), end=at("2026-01-05 10:05"), people=(PersonId("ana"),)
    )

    assert worker_of(normal_of(replace(BOOK, other_work=(work,))), "ana").busy == ((4, 9),)


def test_a_certificate_holds_to_the_end_of_its_last_day() -> None:
    held = (
        Certificate(certificate="spray", expires=on("2026-01-06")),
        Certificate(certificate="lift"),
        Certificate(certificate="old", expires=on("2026-01-04")),
    )
    stage = a_stage("carve", certificates=("spray", "lift"))
    normal = normal_of(replace(of_steps(stage), people=(a_person(certificates=held),)))

    worker = worker_of(normal, "ana")
    assert sorted(until for _, until in worker.certificates) == [160, normal.problem.horizon]
    assert len(stage_of(normal, "carve").certificates) == 2


@pytest.mark.parametrize(
    ("people", "needs", "code"),
    [
        ((a_person(skills=("paint",)),), (a_need("carve"),), Reason.NOBODY_CAN),
        ((a_person(),), (a_need("carve", can=2),), Reason.TOO_FEW_CAN),
        ((a_person(),), (a_need("carve", can=1, helps=1),), Reason.TOO_FEW_CAN),
        ((a_person(),), (a_need("carve"), a_need("paint")), Reason.TOO_FEW_CAN),
        (
            (a_person(freelance=True), a_person("ben", skills=("paint",))),
            (a_need("carve"),),
            Reason.NOBODY_CAN,
        ),
    ],
    ids=["nobody", "one of two", "no helper", "one person for two skills", "nobody engaged"],
)
def test_a_team_that_today_s_people_cannot_make_up_is_a_fact_of_the_job(
    people: tuple[Person, ...], needs: tuple[Need, ...], code: Reason
) -> None:
    stage = a_stage("carve", ways=(a_way(needs=needs),))

    assert codes(normal_of(replace(of_steps(stage), people=people))) == [code]


def test_one_who_helps_fills_the_helpers_place() -> None:
    helper = replace(a_person("ben"), skills=(a_skill("carve", SkillLevel.HELPS),))
    stage = a_stage("carve", ways=(a_way(needs=(a_need("carve", can=1, helps=1),)),))

    assert not codes(normal_of(replace(of_steps(stage), people=(a_person(), helper))))


def test_people_change_places_where_that_makes_up_the_team() -> None:
    stage = a_stage("carve", ways=(a_way(needs=(a_need("carve"), a_need("paint"))),))
    people = (a_person(skills=("carve", "paint")), a_person("ben", skills=("carve",)))

    assert not codes(normal_of(replace(of_steps(stage), people=people)))


def test_nobody_with_the_certificate_is_a_fact_of_the_job() -> None:
    stage = a_stage("carve", certificates=("spray",))
    expired = a_person(certificates=(Certificate(certificate="spray", expires=on("2026-01-04")),))

    assert codes(normal_of(replace(of_steps(stage), people=(expired,)))) == [Reason.NO_CERTIFICATE]


@pytest.mark.parametrize(
    "asked",
    [("ben",), ("cem",), ("ana", "dov")],
    ids=["cannot", "unknown", "more than hands"],
)
def test_somebody_asked_for_who_cannot_is_a_fact_of_the_job(asked: tuple[str, ...]) -> None:
    people = (a_person(), a_person("ben", skills=("paint",)), a_person("dov"))
    stage = a_stage("carve", people=tuple(PersonId(name) for name in asked))

    normal = normal_of(replace(of_steps(stage), people=people))

    assert codes(normal)[0] in (Reason.ASKED_CANNOT, Reason.TOO_FEW_CAN)


def test_a_way_that_nobody_can_falls_away_where_another_will_do() -> None:
    ways = (a_way("two", hands=2), a_way("one", skill="paint"))
    normal = normal_of(of_steps(a_stage("carve", ways=ways)))

    assert [name.way for name in normal.ways[0]] == ["one"]
    assert not codes(normal)


def test_skills_that_nobody_names_do_no_harm() -> None:
    stage = a_stage("carve", ways=(a_way(needs=(Need(skill=SkillId("sing"), can=0),)),))

    assert not codes(normal_of(of_steps(stage)))

"""The plan of a morning: checked, as told where that costs nothing, and who is worth asking in."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from scheduler.check import check, made_from_matches
from scheduler.morning import Morning, Mornings, handed_out, offered_by_day
from scheduler.request import SolveRequest
from shared.book import Book, ExtraHours, Leave, Told
from shared.plan import Plan
from tests.builders import NOW, a_book, a_person, a_place, at
from tests.scheduler.test_chance import a_tall_book
from tests.scheduler.test_why import a_carving, a_shop


def asked(book: Book) -> SolveRequest:
    return SolveRequest(book=book, now=NOW, workers=1, effort=4)


def morning_of(book: Book) -> Morning:
    return Mornings(draws=64).plan(asked(book))


def two_jobs() -> Book:
    """Two carvings of four hours by the only carver; one is due a week later."""
    jobs = (
        a_carving("heron", 4, "2026-01-16 16:00"),
        a_carving("otter", 4, "2026-01-09 16:00"),
    )
    return a_book(*jobs, workshop=a_shop(wished_buffer_days=Decimal(1)))


def start_of(plan: Plan, step: str) -> object:
    (placed,) = [each for each in plan.placements if each.step == step]
    return placed.start


def test_work_begins_as_soon_as_people_are_free_and_the_plan_is_checked() -> None:
    book = two_jobs()
    found = morning_of(book)
    starts = {start_of(found.plan, "heron-carve"), start_of(found.plan, "otter-carve")}
    assert min(starts) == NOW  # type: ignore[type-var]
    assert not check(book, found.plan).breaches
    assert not found.missed
    assert set(found.chances) == {"heron", "otter"}
    assert morning_of(book).plan == found.plan


def test_what_was_told_for_today_stays_where_windows_are_as_sure() -> None:
    book = two_jobs()
    plan = morning_of(book).plan
    later = tuple(
        replace(each, start=each.start + timedelta(hours=1), end=each.end + timedelta(hours=1))
        if each.step == "otter-carve"
        else each
        for each in plan.placements
    )
    told = replace(plan, placements=tuple(each for each in later if each.people))
    found = morning_of(replace(book, told=Told(plan=told, at=NOW)))
    assert not found.is_told_anew
    told_start = start_of(told, "otter-carve")
    assert start_of(found.plan, "otter-carve") == told_start


def test_what_was_told_is_told_anew_where_a_window_would_be_lost() -> None:
    book = a_book(
        a_carving("heron", 4, "2026-01-09 16:00"),
        a_carving("otter", 4, "2026-01-05 12:00"),
        workshop=a_shop(wished_buffer_days=Decimal(0)),
    )
    plan = morning_of(book).plan
    first = {"heron-carve": at("2026-01-05 08:00"), "otter-carve": at("2026-01-05 12:00")}
    told = replace(
        plan,
        placements=tuple(
            replace(each, start=first[each.step], end=first[each.step] + (each.end - each.start))
            for each in plan.placements
            if each.step in first
        ),
    )
    found = morning_of(replace(book, told=Told(plan=told, at=NOW)))
    assert found.is_told_anew
    assert not found.missed
    assert found.book.told is None


def test_what_was_told_for_yesterday_is_over_and_the_plan_belongs_to_the_book() -> None:
    book = two_jobs()
    plan = morning_of(book).plan
    told = replace(book, told=Told(plan=plan, at=NOW))
    tomorrow = replace(asked(told), now=NOW + timedelta(days=1))

    found = Mornings(draws=64).plan(tomorrow)

    assert not found.normal.held
    assert made_from_matches(told, found.plan)
    assert check(told, found.plan).breaches == ()
    for step in ("heron-carve", "otter-carve"):
        assert start_of(found.plan, step) == start_of(plan, step)


def test_a_job_is_taken_on_where_there_is_time_for_it_and_not_at_anothers_cost() -> None:
    book = two_jobs()
    easy = a_carving("snail", 4, "2026-02-13 16:00")
    hopeless = a_carving("moon", 40, "2026-01-07 16:00")
    mornings = Mornings(draws=64)
    assert mornings.takes_on(asked(book), easy)
    assert not mornings.takes_on(asked(book), hopeless)


def test_extra_hours_are_worth_it_only_where_a_window_is_unsure() -> None:
    book = a_tall_book(window_days=1)
    person = book.people[0]
    extra = ExtraHours(start=at("2026-01-10 08:00"), end=at("2026-01-10 16:00"))
    offering = replace(book, people=(replace(person, overtime_offered=(extra,)), *book.people[1:]))
    (day,) = offered_by_day(offering, NOW)
    assert day == {person.id: extra}
    mornings = Mornings(draws=64)
    sure = replace(mornings.plan(asked(offering)), strains={})
    assert mornings.coming(asked(offering), sure, day) is None
    assert mornings.coming(asked(offering), sure, {}) is None


def test_what_is_taken_or_lies_in_leave_is_not_offered() -> None:
    extra = ExtraHours(start=at("2026-01-10 08:00"), end=at("2026-01-10 12:00"))
    far = ExtraHours(start=at("2026-01-17 08:00"), end=at("2026-01-17 12:00"))
    away = Leave(start=at("2026-01-10 00:00"), end=at("2026-01-11 00:00"), reason="holiday")
    people = (
        replace(a_person("ana"), overtime_offered=(extra, far)),
        replace(a_person("ben"), overtime_offered=(extra,), overtime_taken=(extra,)),
        replace(a_person("cy"), overtime_offered=(extra,), leave=(away,)),
    )
    book = replace(a_book(), people=people, places=(a_place("bay"),))
    assert offered_by_day(book, NOW) == [{people[0].id: extra}]


def test_sheets_go_to_the_end_of_the_next_day_of_work() -> None:
    book = a_book(a_carving("heron", 30, "2026-01-30 16:00"), workshop=a_shop())
    plan = morning_of(book).plan
    sheets = handed_out(plan, book)
    assert {each.step for each in sheets.placements} == {"heron-carve"}
    assert len(sheets.placements) < len(plan.placements)


def test_an_evening_makes_a_window_surer_that_is_not_and_nothing_is_asked_for_one_that_is() -> None:
    evening = ExtraHours(start=at("2026-01-06 17:00"), end=at("2026-01-06 21:00"))
    mornings = Mornings(draws=64)
    unsure, sure = asked(a_tall_book(window_days=3)), asked(a_tall_book(window_days=12))
    person = unsure.book.people[0].id
    found = mornings.coming(unsure, mornings.plan(unsure), {person: evening})
    assert found is not None
    assert (found.people, found.start) == ((person,), evening.start)
    assert found.gain > 10
    assert mornings.coming(sure, mornings.plan(sure), {person: evening}) is None

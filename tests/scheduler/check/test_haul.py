"""Journeys held to drivers' hours: each change names the rule it breaks, and nothing else."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.check import check
from scheduler.rules import COMMON_FACTS, FACTS, Rule
from shared.book import Book, FactKind, Leave, LegKind
from shared.ids import PersonId
from shared.plan import Doing, LegTime, Plan, Stretch
from tests.builders import a_fact, a_leg, at
from tests.scheduler.check.change import (
    QUARTER,
    Change,
    Pair,
    moved,
    named,
    person_changed,
    step_changed,
    trip_changed,
)
from tests.scheduler.check.haul import PARTS, haul_book, haul_plan, laid
from tests.scheduler.check.haul_breaks import (
    HAUL,
    IN_LONDON,
    busy,
    driven_by_mia,
    journey,
    journey_of,
    leg,
    leg_time,
    lorry,
    riding_along,
    stretches,
    trip,
    two_at_the_wheel,
    window,
)


def test_the_haul_is_sound() -> None:
    book = haul_book()

    assert check(book, haul_plan(book)).sound


@pytest.mark.parametrize(("rule", "where", "change"), HAUL)
def test_a_change_of_the_haul_names_the_rule_it_breaks_alone(
    rule: Rule, where: str, change: Change
) -> None:
    book = haul_book()

    assert named(*change(book, haul_plan(book))) == {(rule.value, where)}


def test_breaches_of_the_haul_carry_the_facts_that_their_sentences_need() -> None:
    book = haul_book()
    for _, _, change in HAUL:
        for breach in check(*change(book, haul_plan(book))).breaches:
            names = [name for name, _ in breach.facts]
            assert sorted(names) == sorted((*COMMON_FACTS, *FACTS[Rule(breach.rule)])), breach


def shifted(*changes: Change) -> set[tuple[str, str]]:
    book = haul_book()
    pair = (book, haul_plan(book))
    for change in changes:
        pair = change(*pair)
    return named(*pair)


@pytest.mark.parametrize("change", [driven_by_mia, two_at_the_wheel])
def test_other_means_are_sound_as_well(change: Change) -> None:
    book = haul_book()

    assert check(*change(book, haul_plan(book))).breaches == ()


def test_nobody_at_the_wheel_of_two_is_found() -> None:
    without = stretches(lambda found: [replace(each, wheel=0) for each in found])

    assert shifted(two_at_the_wheel, without) == {("wheel", "haul")}


def test_whoever_drives_has_rested_right_before_leaving() -> None:
    """Others may come from the bench: mia may not load until 14:15 and leave at 14:30."""
    assert shifted(driven_by_mia, _loaded_by_mia) == {("one_day", "haul")}
    assert shifted(_loaded_by_mia) == set()


def _loaded_by_mia(book: Book, plan: Plan) -> Pair:
    return book, moved(plan, "loading", people=(PersonId("ivo"), PersonId("mia")))


def test_bench_and_site_of_who_rides_along_are_one_day() -> None:
    """He rests from 18:30 on; in the day before that eleven hours lie before 13:00, not 10:00."""
    assert shifted(riding_along) == set()
    assert shifted(riding_along, busy("2027-03-16 06:00", "2027-03-16 07:30")) == set()
    assert shifted(riding_along, busy("2027-03-16 05:15", "2027-03-16 07:30")) == {
        ("one_day", "haul")
    }


@pytest.mark.parametrize(("quarters", "passed"), [(14, set()), (15, {"daily_rest"})])
def test_a_duty_on_site_begins_with_the_landing_where_all_of_the_crossing_was_rest(
    quarters: int, passed: set[str]
) -> None:
    """On a site at the quay: thirteen hours from 6:15 on leave eleven of the day for the rest.

    Directive 2003/88/EC Art. 3. He rested in the lane and at sea for more than eleven hours.
    """
    site = ((16, Doing.WORK), (4, Doing.REST), (16, Doing.WORK), (2, Doing.REST))
    parts = [*PARTS[:5], *((doing, 2, count, 0) for count, doing in site)]
    parts.append((Doing.WORK, 2, quarters, 0))
    over = at("2027-03-17 06:15") + (38 + quarters) * QUARTER
    back, minutes = over + timedelta(hours=4), (32 + quarters) * 15

    def at_the_quay(book: Book, plan: Plan) -> Pair:
        quay, home = journey_of(book).legs[:2], journey_of(book).legs[-1]
        legs = (*quay, a_leg(LegKind.ASSEMBLE, minutes, inside=True), home)
        book = step_changed(book, "haul", legs=legs, stands_most_minutes=None)
        times = (
            *plan.trips[0].legs[:1],
            LegTime(start=at("2027-03-16 18:30"), end=at("2027-03-17 06:15")),
            LegTime(start=at("2027-03-17 06:15"), end=over),
            LegTime(start=over, end=back),
        )
        changes = {"end": over, "back": back, "free": back + timedelta(hours=11)}
        return book, trip_changed(
            plan, stretches=laid("2027-03-16 14:30", *parts), legs=times, **changes
        )

    pair = riding_along(*window(access=())(haul_book(), haul_plan(haul_book())))
    told = [dict(each.facts) for each in check(*at_the_quay(*pair)).breaches]

    assert {each["limit"] for each in told if each.get("rules") == "workers_eu"} == passed


def test_who_comes_the_evening_before_rests_between_their_coming_and_the_site() -> None:
    """There by 18:00; in the day before that they may work until 21:00, and begin at 08:00."""
    early = trip(
        crew_from=at("2027-03-16 16:00"), travel=laid("2027-03-16 16:00", (Doing.DRIVE, 0, 8, 0))
    )
    assert shifted(early) == set()
    assert shifted(early, busy("2027-03-15 20:00", "2027-03-15 21:00")) == set()
    assert shifted(early, busy("2027-03-15 20:00", "2027-03-15 21:15")) == {("one_day", "haul")}


def test_a_workshop_that_rests_longer_asks_more_of_its_drivers_only() -> None:
    def rested(book: Book, plan: Plan) -> Pair:
        workshop = replace(book.workshop, rest_hours=Decimal(12))
        return replace(book, workshop=workshop), trip_changed(plan, free=at("2027-03-18 09:00"))

    worked = busy("2027-03-16 02:00", "2027-03-16 03:00", "mia")

    assert shifted(rested) == set()
    assert shifted(driven_by_mia, worked) == set()
    assert shifted(driven_by_mia, worked, rested) == {("one_day", "haul")}


def test_people_on_site_have_hours_of_their_own() -> None:
    """Six hours of work without a break, the way there with it: workers' rules."""
    longer = leg(6, minutes=120, cure_hours=None)

    def no_lunch(book: Book, plan: Plan) -> Pair:
        parts = [part for part in PARTS if part[0] is not Doing.STAND]
        parts.remove((Doing.REST, 6, 4, 0))
        legs = (
            *plan.trips[0].legs[:6],
            LegTime(start=at("2027-03-17 11:45"), end=at("2027-03-17 13:45")),
            LegTime(start=at("2027-03-17 13:45"), end=at("2027-03-17 14:00")),
            LegTime(start=at("2027-03-17 14:00"), end=at("2027-03-17 18:00")),
        )
        plan = trip_changed(
            plan,
            stretches=laid("2027-03-16 14:30", *parts),
            legs=legs,
            end=at("2027-03-17 14:00"),
            back=at("2027-03-17 18:00"),
            free=at("2027-03-18 05:00"),
        )
        return book, plan

    assert shifted(window(access=()), longer, no_lunch) == set()
    early = trip(
        crew_from=at("2027-03-17 07:45"), travel=laid("2027-03-17 07:45", (Doing.DRIVE, 0, 8, 0))
    )
    further = journey(travel=(a_leg(driving_minutes=135, country="DE"),))
    longer_way = trip(
        crew_from=at("2027-03-17 07:45"), travel=laid("2027-03-17 07:45", (Doing.DRIVE, 0, 9, 0))
    )
    assert shifted(window(access=()), longer, no_lunch, early) == set(), "they wait at the site"
    assert shifted(window(access=()), longer, no_lunch, further, longer_way) == {
        ("driving", "haul")
    }


@pytest.mark.parametrize("minutes", [0, 600])
def test_the_law_is_asked_without_what_a_plan_keeps_in_reserve(minutes: int) -> None:
    assert shifted(journey(reserve_minutes=minutes)) == set()


def test_leave_before_and_after_a_journey_keeps_nobody_from_it() -> None:
    away = [
        Leave(start=at("2027-03-16 16:00"), end=at("2027-03-17 08:00")),
        Leave(start=at("2027-03-17 21:00"), end=at("2027-03-19 08:00")),
    ]

    def gone(book: Book, plan: Plan) -> Pair:
        return person_changed(book, "ivo", leave=tuple(away)), plan

    assert shifted(gone) == set()


@pytest.mark.parametrize("name", ["To the quay", ""])
def test_a_ban_names_its_leg_as_the_book_does(name: str) -> None:
    change = leg(0, shares=IN_LONDON, name=name)
    book, plan = lorry(abnormal=True)(*change(haul_book(), haul_plan(haul_book())))

    (ban,) = (dict(each.facts) for each in check(book, plan).breaches if each.rule == "ban")

    assert ban["leg"] == (name or "drive")


@pytest.mark.parametrize(("minutes", "needed"), [(0, 15), (10, 15), (16, 30)])
def test_a_short_way_by_its_minutes_is_a_quarter_at_the_wheel_at_least(
    minutes: int, needed: int
) -> None:
    change = leg(0, driving_minutes=None, minutes=minutes)
    book, plan = change(haul_book(), haul_plan(haul_book()))

    (told,) = (dict(each.facts) for each in check(book, plan).breaches)

    assert (told["done_minutes"], told["needed_minutes"]) == (240, needed)


def test_a_way_of_no_kilometres_is_a_quarter_at_the_wheel() -> None:
    change = leg(0, driving_minutes=None, distance_km=Decimal(0))

    (told,) = check(*change(haul_book(), haul_plan(haul_book()))).breaches

    assert dict(told.facts)["needed_minutes"] == 15


@pytest.mark.parametrize("share", [1, 2, -1])
def test_a_road_that_the_drive_does_not_have_is_held_to_the_bans_of_its_last(share: int) -> None:
    """All of the drive is in London, where abnormal loads keep out by day."""

    def astray(found: list[Stretch]) -> list[Stretch]:
        return [replace(found[0], share=share), *found[1:]]

    told = shifted(leg(0, shares=IN_LONDON), lorry(abnormal=True), stretches(astray))

    assert told == {("leg_length", "haul"), ("ban", "haul")}


def test_rules_that_nobody_knows_are_not_judged() -> None:
    book = haul_book()
    changed, plan = lorry(rules="my_own")(book, haul_plan(book))

    assert "drivers_hours" in check(changed, plan).not_judged


def test_a_way_home_at_the_wheel_is_said_not_to_be_judged() -> None:
    """240 minutes of driving take no break: the times are as before."""
    book = haul_book()
    changed, plan = leg(8, driving_minutes=240)(book, haul_plan(book))

    result = check(changed, plan)

    assert result.breaches == ()
    assert result.not_judged == ("home_hours",)


def test_a_way_home_that_nobody_could_judge_or_that_is_over_is_not_spoken_of() -> None:
    """Under rules that nobody knows its hours are no question, nor once all of them are back."""
    book, plan = leg(8, driving_minutes=240)(haul_book(), haul_plan(haul_book()))
    unknown, _ = lorry(rules="my_own")(book, plan)
    back = a_fact(step="haul", kind=FactKind.DONE, at=at("2027-03-17 21:00"))
    over = replace(book, facts=(back,))

    assert "home_hours" not in check(unknown, plan).not_judged
    assert "home_hours" not in check(over, plan, now=at("2027-03-17 21:30")).not_judged


def test_a_long_way_home_takes_the_least_breaks_and_rests() -> None:
    """10 h at the wheel: a break after 4:30, a rest after 9 h; 45 min and 11 h."""
    home = at("2027-03-17 17:00") + timedelta(hours=10 + 11, minutes=45)
    legs = leg_time(8, end=home)
    back = trip(back=home, free=home + timedelta(hours=11))
    book = haul_book()
    pair = (book, haul_plan(book))
    for change in (leg(8, driving_minutes=600), legs, back, riding_along):
        pair = change(*pair)

    assert check(*pair).breaches == ()


def test_what_has_left_by_a_way_that_nobody_worked_out_goes_by_its_minutes() -> None:
    book = haul_book()
    plan = trip_changed(haul_plan(book), stretches=(), travel=(), crew_from=None)
    gone = a_fact(step="haul", kind=FactKind.RUNNING, at=at("2027-03-16 14:30"))
    told = replace(book, facts=(gone,))

    result = check(told, plan, now=at("2027-03-16 15:00"))

    assert "drivers_hours" in result.not_judged
    assert {each.rule for each in result.breaches} & {"stretch", "driving"} == set()


@pytest.mark.parametrize(
    ("minutes", "home"),
    [
        (270, "2027-03-17 21:30"),
        # A break of 45 minutes once four and a half hours are over.
        (285, "2027-03-17 22:30"),
        (540, "2027-03-18 02:45"),
        # Past nine hours a night of eleven, and still the break of the day before it.
        (555, "2027-03-18 14:00"),
        (1080, "2027-03-18 23:30"),
    ],
)
def test_the_way_home_has_the_least_breaks_and_nights(minutes: int, home: str) -> None:
    """From 17:00 on, by one driver: Regulation (EC) 561/2006 Arts 6(1), 7, 8(2)."""
    book, plan = leg(8, driving_minutes=minutes)(haul_book(), haul_plan(haul_book()))

    told = [dict(each.facts) for each in check(book, plan).breaches if each.rule == "leg"]

    assert [facts["expected"] for facts in told] == [at(home).isoformat()]

"""When the steps of a job by itself can be, by hand.

Shifts from 7:30 to 16:00 with a break from 12:00 to 12:30. 8 h x 8 / 6.5 are 40 quarters: what
begins on Monday at 8:00, which is now, ends on Tuesday at 10:00.
"""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from scheduler.check.alone import Alone
from scheduler.check.alone_chain import Times, follow, soonest_of
from scheduler.check.clock import instant, seconds
from shared.book import After, Book, GateKind, Leave, Step
from shared.ids import StepId
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_person,
    a_stage,
    a_way,
    a_window,
    a_workshop,
    an_after,
    at,
)

FRIDAY_NOON = at("2026-01-09 12:00")


def a_carved(*steps: Step) -> Book:
    return a_book(a_job(steps=steps, windows=(a_window(start="2026-01-05 00:00"),)))


def times(*steps: Step) -> Times:
    book = a_carved(*steps)
    return Times(Alone(book, book.jobs[0], NOW))


def spans(found: Times) -> dict[str, tuple[datetime, datetime]]:
    return {
        step: (instant(span[0]), instant(span[1]))
        for step, span in found.soonest.items()
        if span is not None
    }


def after_start(step: str, hours: int) -> After:
    return After(step=StepId(step), least_hours=Decimal(hours), from_start=True)


def test_what_follows_the_start_of_another_waits_from_there() -> None:
    """Twenty hours after Monday 8:00 is Tuesday 4:00: work begins with the shift at 7:30."""
    carve = a_stage("carve", after=(after_start("block", 20),))
    found = spans(times(a_stage("block"), carve, a_gate()))

    assert found["block"] == (at("2026-01-05 08:00"), at("2026-01-06 10:00"))
    assert found["carve"] == (at("2026-01-06 04:00"), at("2026-01-07 09:30"))


def test_what_follows_the_end_of_another_waits_for_its_cure_or_the_link_if_that_is_longer() -> None:
    """Tuesday 10:00 and a cure of 24 h are Wednesday 10:00; a link of 30 h is 16:00."""
    block = a_stage("block", cure_hours=Decimal(24))
    plain = spans(times(block, a_stage("carve"), a_gate()))
    later = a_stage("carve", after=(an_after("block", least_hours=Decimal(30)),))

    assert plain["carve"][0] == at("2026-01-07 10:00")
    assert spans(times(block, later, a_gate()))["carve"][0] == at("2026-01-07 16:00")


def test_counted_back_each_step_ends_before_the_next_must_start() -> None:
    """Back from Friday 12:00, 40 quarters begin on Thursday at 10:00.

    The block's cure of 2 h ends it on Thursday at 8:00, and 20 h of a link on Wednesday at 14:00.
    """
    due = seconds(FRIDAY_NOON)
    block = a_stage("block", cure_hours=Decimal(2))
    linked = a_stage("carve", after=(an_after("block", least_hours=Decimal(20)),))

    cured = times(block, a_stage("carve"), a_gate()).latest(due)
    waited = times(block, linked, a_gate()).latest(due)

    assert instant(cured[StepId("carve")]) == FRIDAY_NOON
    assert instant(cured[StepId("block")]) == at("2026-01-08 08:00")
    assert instant(waited[StepId("block")]) == at("2026-01-07 14:00")


def test_counted_back_a_wait_from_the_start_of_another_does_not_end_that_sooner() -> None:
    carve = a_stage("carve", after=(after_start("block", 20),))
    gate = a_gate(after=(an_after("carve"),))

    found = times(a_stage("block"), carve, gate).latest(seconds(FRIDAY_NOON))

    assert instant(found[StepId("block")]) == FRIDAY_NOON


def test_the_longest_chain_goes_by_what_was_waited_for() -> None:
    side = a_stage("side", hours=1, after=())
    found = times(
        side, a_stage("block", after=()), a_stage("carve", after=(an_after("block"),)), a_gate()
    )

    assert found.longest()[:2] == ["block", "carve"]


def test_a_step_that_nobody_can_do_has_no_times_and_no_chain() -> None:
    found = times(a_stage("block", ways=(a_way(skill="unheard of"),)), a_stage("carve"), a_gate())

    assert found.soonest[StepId("block")] is None
    assert found.soonest[StepId("carve")] is None
    assert found.longest() == []


def test_a_chain_is_told_step_by_step_each_right_after_the_one_before_it() -> None:
    book = a_carved(a_stage("block", cure_hours=Decimal(24)), a_stage("carve"), a_gate())
    alone = Alone(book, book.jobs[0], NOW)

    told = soonest_of(alone, [StepId("block"), StepId("carve")])

    assert [(each.step, each.end, each.ready) for each in told] == [
        ("block", at("2026-01-06 10:00"), at("2026-01-07 10:00")),
        ("carve", at("2026-01-08 12:00"), at("2026-01-08 12:00")),
    ]
    start = (StepId("carve"), seconds(NOW), seconds(NOW))
    assert follow(alone, Times(alone), StepId("block"), start) is None


def test_loading_comes_after_every_step_on_its_pieces_whatever_it_names() -> None:
    steps = (a_stage("block", after=()), a_stage("side", after=()), a_gate(after=("block",)))
    book = a_carved(*steps)

    links = Alone(book, book.jobs[0], NOW).links(book.jobs[0].steps[-1])

    assert sorted(before for before, _, _ in links) == ["block", "side"]


def quarters(hours: str, *paces: str, hands: int = 1, in_one_go: bool = False) -> int:
    """Of work by the fastest of some people; pairs lose 5 %, of 8 hours 6.5 are useful."""
    stage = a_stage("carve", hours=Decimal(hours), hands=hands, in_one_go=in_one_go)
    people = tuple(a_person(f"p{number}", pace=Decimal(pace)) for number, pace in enumerate(paces))
    workshop = a_workshop(pair_loss_percent=Decimal(5), useful_hours=Decimal("6.5"))
    book = a_book(a_job(steps=(stage, a_gate())), people=people, workshop=workshop)
    alone = Alone(book, book.jobs[0], NOW)
    return alone.quarters(stage, stage.ways[0], alone.able(stage, stage.ways[0]))


def test_work_is_reckoned_by_the_fastest_who_may_do_it() -> None:
    """9 h by two at 1.25 and 1: 9 / 2 / 1.125 x 1.05 = 4.2 h; x 8 / 6.5 are 20.7 quarters."""
    assert quarters("9", "1", "0.75", "1.25", hands=2) == 21
    assert quarters("9", "1", "0.75", "1.25", hands=2, in_one_go=True) == 17
    assert quarters("6.5", "1") == 32


def test_a_quarter_that_is_begun_counts_whole() -> None:
    assert quarters("2", "1", in_one_go=True) == 8
    assert quarters("2.0001", "1", in_one_go=True) == 9


def test_a_step_without_ways_takes_no_time_and_begins_on_the_grid() -> None:
    book = a_carved(a_stage("block"), a_gate())
    alone = Alone(book, book.jobs[0], NOW)
    minute = seconds(at("2026-01-06 10:01"))

    found = alone.soonest(alone.steps[StepId("loading")], minute)  # type: ignore[arg-type]

    assert found == (seconds(at("2026-01-06 10:15")), seconds(at("2026-01-06 10:15")))


def test_two_together_start_when_the_second_of_them_must() -> None:
    """An hour by two until Tuesday 9:30; Ben is away from Monday 12:00 to Tuesday 9:00.

    Ana could begin at 8:30 on Tuesday, Ben must on Monday at 11:30: what comes before ends by then.
    """
    leave = (Leave(start=at("2026-01-05 12:00"), end=at("2026-01-06 09:00")),)
    stage = a_stage("carve", hours=2, hands=2, in_one_go=True)
    book = a_book(
        a_job(
            steps=(a_gate("trial", GateKind.TRIAL_FIT), stage, a_gate()),
            windows=(a_window(start="2026-01-05 00:00"),),
        ),
        people=(a_person("ana"), a_person("ben", leave=leave)),
        workshop=a_workshop(pair_loss_percent=Decimal(0)),
    )

    found = Times(Alone(book, book.jobs[0], NOW)).latest(seconds(at("2026-01-06 09:30")))

    assert instant(found[StepId("trial")]) == at("2026-01-05 11:30")


def test_alone_the_soonest_of_some_does_it_and_two_are_through_when_the_second_is() -> None:
    """Four quarters each; Ben is away until Tuesday at 9:00."""
    leave = (Leave(start=at("2026-01-01 00:00"), end=at("2026-01-06 09:00")),)

    def ends(hands: int) -> datetime:
        stage = a_stage("carve", hours=hands, hands=hands, in_one_go=True)
        book = a_book(
            a_job(steps=(stage, a_gate())),
            people=(a_person("ana"), a_person("ben", leave=leave)),
            workshop=a_workshop(pair_loss_percent=Decimal(0)),
        )
        return spans(Times(Alone(book, book.jobs[0], NOW)))["carve"][1]

    assert ends(1) == at("2026-01-05 09:00")
    assert ends(2) == at("2026-01-06 10:00")


def test_what_too_few_hours_are_left_for_starts_with_the_first_of_them() -> None:
    """Ana is back on Tuesday at 9:00; her 10 h until noon of that day would begin before."""
    leave = (Leave(start=at("2025-11-01 00:00"), end=at("2026-01-06 09:00")),)
    steps = (a_gate("trial", GateKind.TRIAL_FIT), a_stage("carve"), a_gate())
    book = replace(a_carved(*steps), people=(a_person("ana", leave=leave),))

    found = Times(Alone(book, book.jobs[0], NOW)).latest(seconds(at("2026-01-06 12:00")))

    assert instant(found[StepId("trial")]) == at("2026-01-06 09:00")


def test_what_nobody_is_needed_for_takes_the_hours_of_the_workshop() -> None:
    """Two hours of an oven until Tuesday 9:00: from 7:30 on, and the last half hour of Monday."""
    oven = a_stage("oven", ways=(a_way(hours=2, hands=0),), in_one_go=True)
    steps = (a_gate("trial", GateKind.TRIAL_FIT), oven, a_gate())

    found = times(*steps).latest(seconds(at("2026-01-06 09:00")))

    assert instant(found[StepId("trial")]) == at("2026-01-05 15:30")


def test_pictures_go_out_in_time_for_the_answer_that_what_follows_waits_for() -> None:
    """Three working days before Thursday 17:00: on Monday, whatever the hour by some clock."""
    answer = a_gate("approve", GateKind.ANSWER, answer_days=3)
    found = times(a_stage("block"), answer, a_gate()).latest(seconds(at("2026-01-15 17:00")))

    midnight = seconds(at("2026-01-13 00:00"))
    assert midnight <= found[StepId("block")] <= midnight + 3 * 3600


def test_an_answer_that_may_be_no_twice_takes_three_rounds() -> None:
    """Out on Monday at 8:00, a working day for each answer: Tuesday, Wednesday, Thursday 17:00."""
    answer = a_gate("approve", GateKind.ANSWER, after=(), answer_days=1, allow_no=2)

    found = spans(times(answer, a_stage("carve"), a_gate()))

    assert found["approve"] == (at("2026-01-05 08:00"), at("2026-01-08 17:00"))

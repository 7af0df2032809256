"""A yes with changes, answers by others than the client, and several gates of answers."""

from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from scheduler.outcome import Verdict
from scheduler.reasons import Reason
from shared.book import (
    Abrade,
    Answer,
    Book,
    Client,
    Closure,
    Fact,
    FactKind,
    GateKind,
    Kind,
    Step,
)
from shared.ids import FactId, PersonId
from shared.plan import Plan
from tests.builders import (
    NOW,
    a_client,
    a_fact,
    a_gate,
    a_segment,
    a_stage,
    a_way,
    a_window,
    at,
    on,
)
from tests.scheduler.check.change import moved, named, step_changed
from tests.scheduler.normals import codes, job_of, normal_of, of_steps, placed, position, solved

SIX_HOURS = Abrade(ways=(a_way(hours=6),))
LATE = (a_window(start="2026-06-01 08:00", end="2026-06-04 18:00"),)


def told(kind: FactKind, when: str, answer: Answer | None = None, step: str = "approve") -> Fact:
    return a_fact(f"{step}-{kind}", kind=kind, step=step, at=at(when), answer=answer)


CARVED = told(FactKind.DONE, "2025-12-12 10:00", step="carve")
SHOWN = told(FactKind.PICTURES, "2025-12-12 11:00")
CHANGES = told(FactKind.ANSWER, "2026-01-02 11:00", Answer.CHANGES)
YES = told(FactKind.ANSWER, "2026-01-02 11:00", Answer.YES)


def answered(*facts: Fact, changes: Abrade | None = SIX_HOURS, **job: object) -> Book:
    """Give a carved piece whose skin waits for an answer."""
    gate = a_gate("approve", GateKind.ANSWER, changes=changes)
    book = of_steps(
        a_stage("carve"),
        gate,
        a_stage("skin", Kind.LAMINATE),
        **{"windows": LATE, **job},
    )
    return replace(book, facts=(CARVED, *facts))


def parts(book: Book) -> list[tuple[int, str]]:
    """Give what is planned of the answer, by round and part."""
    names = normal_of(book).stages
    return [(name.round, name.part) for name in names if name.step == "approve"]


def test_changes_are_worked_after_the_yes_and_before_the_skin() -> None:
    outcome = solved(answered(SHOWN, CHANGES))

    changes = placed(outcome, "approve", 1, "changes")
    assert placed(outcome, "approve", 1).end == CHANGES.at
    assert NOW <= changes.start < changes.end <= placed(outcome, "skin").start
    assert changes.people == ("ana",)


def test_changes_are_not_planned_before_somebody_asks_for_them() -> None:
    for facts in ((), (SHOWN,), (SHOWN, YES)):
        assert (1, "changes") not in parts(answered(*facts))


def test_a_yes_with_changes_for_which_no_work_is_written_lets_work_go_on() -> None:
    assert parts(answered(SHOWN, CHANGES, changes=None)) == []


def test_changes_stand_in_the_round_whose_answer_asked_for_them() -> None:
    no = told(FactKind.ANSWER, "2025-12-19 11:00", Answer.NO)
    book = answered(SHOWN, replace(no, id=FactId("no")), CHANGES)

    assert parts(book) == [(2, "changes")]
    assert not solved(book).check.breaches


@pytest.mark.parametrize(
    "fact",
    [
        told(FactKind.DONE, "2026-01-02 15:00"),
        replace(
            told(FactKind.RUNNING, "2026-01-05 07:00", step="skin"),
            way="bench",
            people=(PersonId("ana"),),
            remaining_hours=a_way(hours=3).hours.likely,
        ),
        told(FactKind.DONE, "2026-01-05 07:00", step="loading"),
    ],
    ids=["told", "the skin has begun", "loaded"],
)
def test_changes_are_over_once_told_or_when_something_behind_has_begun(fact: Fact) -> None:
    book = answered(SHOWN, CHANGES, fact)

    assert parts(book) == []
    assert not solved(book).check.breaches


def test_changes_that_nobody_can_do_are_a_clash_and_nothing_goes_on() -> None:
    book = answered(SHOWN, CHANGES, changes=Abrade(ways=(a_way(skill="juggle"),)))

    assert codes(normal_of(book)) == [Reason.NOBODY_CAN]
    left = {str(each.step): each.code for each in solved(book).plan.unplaced}
    assert left == {
        "approve": "nobody_can",
        "skin": "follows_unplaced",
        "loading": "follows_unplaced",
        "journey": "follows_unplaced",
    }


def test_the_changes_alone_decide_whether_the_window_holds() -> None:
    """The lorry leaves by Wednesday 12:00: the skin is over on Tuesday, 16 h more are too much."""
    window = (a_window(start="2026-01-07 08:00", end="2026-01-07 14:00"),)
    sixteen = Abrade(ways=(a_way(hours=16),))

    plain = job_of(solved(answered(SHOWN, YES, changes=sixteen, windows=window)), "heron")
    changed = job_of(solved(answered(SHOWN, CHANGES, changes=sixteen, windows=window)), "heron")

    assert plain.verdict in (Verdict.FITS, Verdict.TIGHT)
    assert changed.verdict is Verdict.CANNOT
    assert changed.reasons
    assert changed.latest_answer is None


def test_nothing_planned_without_the_changes_is_sound() -> None:
    book = answered(SHOWN, CHANGES)
    plan: Plan = solved(answered(SHOWN, YES)).plan

    assert ("missing_step", "approve") in named(book, plan)


def test_the_skin_before_the_changes_are_done_is_named() -> None:
    book = answered(SHOWN, CHANGES)
    plan = solved(book).plan
    changes = placed(solved(book), "approve", 1, "changes")
    skin = moved(plan, "skin", start=changes.start, end=changes.end)

    assert ("before_changes", "skin") in named(book, skin)


def test_changes_wait_for_carving_that_is_still_to_do() -> None:
    book = replace(answered(SHOWN, CHANGES), facts=(SHOWN, CHANGES))
    outcome = solved(book)

    assert placed(outcome, "approve", 1, "changes").start >= placed(outcome, "carve").end
    early = moved(outcome.plan, "approve", 1, "changes", start=NOW)
    assert ("order", "approve") in named(book, early)


# Who answers.

ENGINEER = Client(
    name="The engineer",
    zone="Europe/Oslo",
    country="NO",
    closures=(Closure(first=on("2026-04-08"), last=on("2026-04-08")),),
    answer_days=2,
)


def inspected(*facts: Fact, by: Client | None = ENGINEER, **gate: Any) -> Book:
    book = of_steps(
        a_stage("carve"),
        a_gate("approve", GateKind.ANSWER, answered_by=by, **gate),
        a_stage("skin", Kind.LAMINATE),
        windows=LATE,
        client=a_client(answer_days=1),
    )
    return replace(book, facts=facts)


def test_whom_the_gate_names_answers_on_their_own_days() -> None:
    """Counted by hand from Wednesday 1 April 2026.

    Norway: lov 24 February 1995 nr. 12, section 2 (Maundy Thursday, Good Friday, Easter Monday);
    8 April is the engineer's own closure. So the two days are Tuesday 7 and Thursday 9 April, at
    17:00 in Oslo. England: Banking and Financial Dealings Act 1971, schedule 1 (Good Friday,
    Easter Monday): Thursday 2 April at 17:00 in London.
    """
    out = told(FactKind.PICTURES, "2026-04-01 10:00")
    now = at("2026-04-01 12:00")
    book = replace(inspected(out), as_of=now)
    by_client = replace(inspected(out, by=None), as_of=now)

    assert placed(solved(book, now), "approve", 1).end == at("2026-04-09 15:00")
    assert placed(solved(by_client, now), "approve", 1).end == at("2026-04-02 16:00")


def test_the_gates_own_days_go_before_those_of_whoever_answers() -> None:
    out = told(FactKind.PICTURES, "2026-01-05 07:00")

    assert placed(solved(inspected(out, answer_days=1)), "approve", 1).end == at("2026-01-06 16:00")


def test_an_overdue_answer_is_awaited_for_the_next_day_of_whoever_answers() -> None:
    out = told(FactKind.PICTURES, "2026-03-26 10:00")
    now = at("2026-04-02 12:00")

    # Thursday 2 April to Monday 6 are holidays in Norway.
    found = placed(solved(replace(inspected(out), as_of=now), now), "approve", 1)
    assert found.end == at("2026-04-07 15:00")


def test_an_answer_still_to_come_is_planned_by_whoever_answers() -> None:
    book = inspected()
    outcome = solved(book)

    due = placed(outcome, "approve", 1)
    assert due.end.astimezone(ZoneInfo("Europe/Oslo")).hour == 17
    assert job_of(outcome, "heron").answered_by == "The engineer"
    assert job_of(solved(inspected(by=None)), "heron").answered_by is None
    other = step_changed(book, "approve", answered_by=None)
    assert ("answer", "approve") in named(other, outcome.plan)


# Several gates of answers.


def four_gates() -> Book:
    """Give a job of two segments: concept, maquette, carving, and a colour board for the head."""
    head, base = ("heron-head",), ("heron-base",)
    gate = GateKind.ANSWER
    steps: tuple[Step, ...] = (
        a_gate("concept", gate, answer_days=1),
        a_stage("model", hours=4),
        a_gate("maquette", gate, answer_days=2, answered_by=ENGINEER),
        a_stage("carve-head", segments=head),
        a_stage("carve-base", segments=base),
        a_gate("carving", gate, answer_days=3),
        a_stage("skin-head", Kind.LAMINATE, segments=head),
        a_stage("skin-base", Kind.LAMINATE, segments=base),
        a_gate("colours", gate, segments=head, answer_days=5, after=("concept",)),
        a_stage("paint-head", Kind.PAINT, segments=head, after=("skin-head", "colours")),
        a_stage("paint-base", Kind.PAINT, segments=base, after=("skin-base",)),
    )
    return of_steps(
        *steps, segments=(a_segment("heron-head"), a_segment("heron-base")), windows=LATE
    )


def test_several_gates_each_hold_back_what_follows_them() -> None:
    book = four_gates()
    outcome = solved(book)

    assert outcome.check.sound
    for gate, behind in (
        ("concept", ("model",)),
        ("maquette", ("carve-head", "carve-base")),
        ("carving", ("skin-head", "skin-base")),
        ("colours", ("paint-head",)),
    ):
        answer = placed(outcome, gate, 1)
        assert answer.end > answer.start
        for step in behind:
            assert placed(outcome, step).start >= answer.end
    assert placed(outcome, "carving", 1).start >= max(
        placed(outcome, "carve-head").end, placed(outcome, "carve-base").end
    )


def test_a_gate_over_one_segment_does_not_hold_back_the_others() -> None:
    book = four_gates()
    normal = normal_of(book)
    edges = {(edge.before, edge.after) for edge in normal.problem.edges}

    def is_linked(before: str, after: str) -> bool:
        number = 1 if before == "colours" else 0
        return (position(normal, before, number), position(normal, after)) in edges

    assert is_linked("colours", "paint-head")
    assert not is_linked("colours", "paint-base")


@pytest.mark.parametrize("gate", ["concept", "maquette", "carving", "colours"])
def test_each_gate_takes_an_answer_of_its_own(gate: str) -> None:
    yes = told(FactKind.ANSWER, "2026-01-05 07:00", Answer.YES, step=gate)
    book = replace(four_gates(), facts=(yes,))
    outcome = solved(book)

    assert outcome.check.sound
    names = {name.step for name in normal_of(book).stages}
    assert {"concept", "maquette", "carving", "colours"} - names == {gate}


def test_two_gates_with_changes_each_bring_their_own() -> None:
    book = four_gates()
    for gate in ("maquette", "colours"):
        book = step_changed(book, gate, changes=SIX_HOURS)
    facts = tuple(
        told(FactKind.ANSWER, "2026-01-05 07:00", Answer.CHANGES, step=step)
        for step in ("maquette", "colours")
    )
    outcome = solved(replace(book, facts=facts))

    assert outcome.check.sound
    assert placed(outcome, "maquette", 1, "changes").end <= placed(outcome, "carve-head").start
    assert placed(outcome, "colours", 1, "changes").end <= placed(outcome, "paint-head").start

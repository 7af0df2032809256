"""A sound plan after a yes with changes, every instant worked out by hand, and how it is broken.

England, Monday to Friday 08:00 to 12:00 and 13:00 to 17:00 in British winter time (local time is
UTC). The carving was over on Monday 22 February 2027; the pictures went out at 10:00, the yes with
changes came on Friday 26. They are 6 h of carving on Monday 1 March; the skin, 4 h in one go, can
only begin on Tuesday.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from scheduler.rules import Rule
from shared.book import Abrade, Answer, Book, Fact, FactKind, GateKind, Kind
from shared.plan import Placement, Plan
from tests.builders import (
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_plan,
    a_segment,
    a_stage,
    a_way,
    a_window,
    at,
)
from tests.scheduler.check.chain import WORKSHOP
from tests.scheduler.check.change import Change, is_slot, placed, retimed

NOW = at("2027-03-01 08:00")


def told(step: str, kind: FactKind, when: str, answer: Answer | None = None) -> Fact:
    return a_fact(f"{step}-{kind}-{when}", step=step, kind=kind, at=at(when), answer=answer)


def changed_book() -> Book:
    job = a_job(
        "tern",
        segments=(a_segment("tern-body"),),
        steps=(
            a_stage("carve", hours=16, places=("bay",)),
            a_gate(
                "approve",
                GateKind.ANSWER,
                changes=Abrade(ways=(a_way(hours=6, places=("bay",)),)),
            ),
            a_stage("skin", Kind.LAMINATE, hours=4, places=("bay",), in_one_go=True),
        ),
        windows=(a_window("tern-window", "2027-03-20 00:00", "2027-03-27 00:00"),),
    )
    return a_book(
        job,
        workshop=WORKSHOP,
        as_of=NOW,
        places=(a_place(),),
        people=(a_person("ivo", ("carve", "laminate")),),
        facts=(
            told("carve", FactKind.DONE, "2027-02-22 09:00"),
            told("approve", FactKind.PICTURES, "2027-02-22 10:00"),
            told("approve", FactKind.ANSWER, "2027-02-26 15:00", Answer.CHANGES),
        ),
    )


def changed_placements() -> tuple[Placement, ...]:
    return (
        placed("tern", "carve", "2027-02-22 09:00", "2027-02-22 09:00", way=""),
        placed("tern", "approve", "2027-02-22 10:00", "2027-02-26 15:00", way="", round=1),
        placed(
            *("tern", "approve", "2027-03-01 08:00", "2027-03-01 15:00", "ivo"),
            place="bay",
            round=1,
            part="changes",
        ),
        placed("tern", "skin", "2027-03-02 08:00", "2027-03-02 12:00", "ivo", place="bay"),
    )


def changed_plan(book: Book) -> Plan:
    return a_plan(book, now=NOW, placements=changed_placements(), trips=())


def _plan(change: Callable[..., Plan], *where: Any) -> Change:
    return lambda book, plan: (book, change(plan, *where))


def _dropped(plan: Plan) -> Plan:
    kept = tuple(each for each in plan.placements if not is_slot(each, "approve", 1, "changes"))
    assert len(kept) == len(plan.placements) - 1
    return replace(plan, placements=kept)


def without_facts(book: Book, *kinds: FactKind) -> Book:
    return replace(book, facts=tuple(fact for fact in book.facts if fact.kind not in kinds))


def _times(*where: Any) -> Change:
    return _plan(retimed, *where)


CHANGED: list[tuple[Rule, str, Change]] = [
    (
        Rule.BEFORE_CHANGES,
        "skin",
        _times("skin", "2027-03-01 13:00", "2027-03-01 17:00"),
    ),
    (Rule.MISSING_STEP, "approve", _plan(_dropped)),
    (
        Rule.UNKNOWN_STEP,
        "approve",
        lambda book, plan: (without_facts(book, FactKind.ANSWER), plan),
    ),
    (
        Rule.DURATION,
        "approve",
        _times("approve", "2027-03-01 08:00", "2027-03-01 14:00", 1, "changes"),
    ),
    (
        Rule.ROUND,
        "approve",
        _times("approve", "2027-02-26 08:00", "2027-02-26 15:00", 1, "changes"),
    ),
]

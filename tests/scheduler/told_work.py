"""Three carvers and two pieces told for tomorrow: what is otherwise is counted by hand.

Ana was told to carve the first piece, Ben the second, Cid nothing; Ana is away.
"""

from dataclasses import replace

from shared.book import Book
from shared.ids import PersonId
from shared.plan import MadeFrom, Placement, Plan
from tests.builders import NOW, a_book, a_job, a_person, a_placement, a_stage, a_told

ANA, BEN, CID = PersonId("ana"), PersonId("ben"), PersonId("cid")


def first(*people: str, day: str = "06", start: str = "07:30") -> Placement:
    return a_placement("first", f"2026-01-{day} {start}", f"2026-01-{day} 14:30", "fox", people)


def second(*people: str, day: str = "06") -> Placement:
    return a_placement("second", f"2026-01-{day} 07:30", f"2026-01-{day} 14:30", "fox", people)


def plan_of(*placements: Placement) -> Plan:
    return Plan(
        made_from=MadeFrom(revision=1, digest="0" * 64),
        now=NOW,
        jobs=(a_job("fox").id,),
        placements=placements,
    )


def told_book() -> Book:
    job = a_job("fox", steps=(a_stage("first", after=()), a_stage("second", after=())))
    people = tuple(a_person(name) for name in ("ana", "ben", "cid"))
    told = a_told(plan_of(first("ana"), second("ben")), sheet_number=3)
    return replace(a_book(job), people=people, told=told)

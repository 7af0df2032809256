"""Telling people a plan: from then on it is the one that later plans are held against."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from shared.as_told import as_told
from shared.book import Book, Fact, FactKind, Told
from shared.edits.edited import Changed, Edited, fresh_id, label
from shared.ids import FactId
from shared.plan import Plan


def tell_plan(book: Book, plan: Plan, at: datetime, by: str = "") -> Edited:
    """Make a plan the told one, on a sheet with the next number. at: when people are told it.

    What only the last sheet says is under way, and the new one has no place for, is written down.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of the workshop's zone or holidays.
    """
    number = 1 if book.told is None else book.told.sheet_number + 1
    told = Told(plan=plan, at=at, told_by=by, sheet_number=number)
    facts = (*book.facts, *_under_way(book, plan))
    jobs = frozenset() if facts == book.facts else frozenset(plan.jobs)
    new = replace(book, told=told, facts=facts, revision=book.revision + 1)
    what = label("tell_plan", number=number)
    return Edited(book=new, changed=Changed(jobs=jobs, plan=True), label=what)


def _under_way(book: Book, plan: Plan) -> Iterator[Fact]:
    nowhere = {one.step for one in plan.unplaced}
    for each in as_told(book, plan.now) if nowhere else ():
        if each.step in nowhere and each.remaining_hours is not None:
            yield Fact(
                id=FactId(fresh_id(each.id, (fact.id for fact in book.facts))),
                kind=FactKind.RUNNING,
                step=each.step,
                at=each.at,
                told_by=each.told_by,
                people=each.people,
                place=each.place,
                way=each.way,
                remaining_hours=each.remaining_hours,
            )

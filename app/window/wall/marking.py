"""What somebody tells of the chosen stage: it is done, or so many person-hours are left. No Qt."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from shared.book import Book, Fact, FactKind
from shared.edits import Edited, tell_fact
from shared.edits.edited import label
from shared.edits.lookup import step_of
from shared.ids import FactId
from shared.plan import Placement


def mark_done(book: Book, placed: Placement, now: datetime, by: str) -> Edited:
    """Note that a placement is over: at its planned end, or now where that is yet to come."""
    at = min(placed.end, now)
    return _noted(book, _fact(placed, FactKind.DONE, at, now, by))


def mark_remaining(book: Book, placed: Placement, hours: Decimal, now: datetime, by: str) -> Edited:
    """Note that a placement is under way with so many person-hours left from now."""
    at = min(placed.start, now)
    fact = _fact(placed, FactKind.RUNNING, at, now, by)
    return _noted(book, replace(fact, remaining_hours=hours))


def _fact(placed: Placement, kind: FactKind, at: datetime, now: datetime, by: str) -> Fact:
    return Fact(
        id=FactId(f"{placed.step} {kind.value}"),
        kind=kind,
        step=placed.step,
        at=at,
        told_by=by,
        told_at=now,
        people=placed.people,
        place=placed.place,
        way=placed.way,
    )


def _noted(book: Book, fact: Fact) -> Edited:
    """Return the edit, named by what people call the step."""
    edited = tell_fact(book, fact)
    return replace(edited, label=label("add_fact", name=step_of(book, fact.step).name))

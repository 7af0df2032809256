"""Small edits of the foreman's: who does it instead, what is finished. No Qt."""

from dataclasses import replace
from datetime import datetime

from app.window.people.items import Bar
from shared.book import Book, Fact, FactKind
from shared.edits import Edited, tell_fact
from shared.edits.edited import label
from shared.edits.lookup import step_of
from shared.ids import FactId, PersonId
from shared.plan import Placement, Plan


def placed(plan: Plan, bar: Bar) -> Placement | None:
    """Return where a bar's work stands in a plan."""
    wanted = (bar.step, bar.round, bar.part)
    return next((p for p in plan.placements if (p.step, p.round, p.part) == wanted), None)


def instead(placement: Placement, line: str, to: PersonId) -> tuple[PersonId, ...]:
    """Return a team with somebody in the place of whoever's row it was in.

    From a place's row, or where nobody of the team is, the newcomer takes the first one's place.
    """
    team = placement.people
    leaves = line if line in team else (team[0] if team else "")
    if not team:
        return (to,)
    return tuple(dict.fromkeys(to if one == leaves else one for one in team))


def finished(placement: Placement, now: datetime) -> Fact:
    """Return the fact that work is done: when it was to end, or now if that is still to come."""
    return Fact(
        id=FactId(f"done-{placement.step}"),
        kind=FactKind.DONE,
        step=placement.step,
        at=min(now, placement.end),
        told_by="",
        told_at=now,
        people=placement.people,
        place=placement.place,
        way=placement.way,
    )


def finish(book: Book, fact: Fact) -> Edited:
    """Write down that work is done, called by its name where that can be taken back."""
    made = tell_fact(book, fact)
    return replace(made, label=label("add_fact", name=step_of(book, fact.step).name))

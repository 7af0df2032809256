"""Which placement a bar is of, and who does it instead of whom. No Qt."""

from dataclasses import replace

from app.window.people.items import Bar
from app.window.wall.items import minute_of
from shared.book import Book
from shared.edits import Edited, change_person
from shared.edits.lookup import person_of
from shared.ids import PersonId
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


def without_absence(book: Book, person_id: PersonId, bar: Bar) -> Edited:
    """Take the absence that a bar shows out of a person's."""
    person = person_of(book, person_id)
    kept = tuple(
        leave
        for leave in person.leave
        if (minute_of(leave.start), minute_of(leave.end)) != (bar.start, bar.end)
    )
    return change_person(book, replace(person, leave=kept))


def without_reasons(book: Book) -> Book:
    """Return a book in which nobody reads why somebody is away: for paper and files."""
    people = tuple(
        replace(each, leave=tuple(replace(leave, reason="") for leave in each.leave))
        for each in book.people
    )
    return replace(book, people=people)

"""What is tried on the wall before it is taken: a changed book with its plan. No Qt."""

from dataclasses import dataclass, replace
from datetime import datetime

from app.window.wall.derive import Shown
from scheduler.outcome import Outcome
from shared.book import Book, Job
from shared.edits import Changed, Edited, Label
from shared.files.known import NO_FILE
from shared.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A book that somebody looks at as if it were so.

    what: in words. label: what taking it is called where it can be undone. book: as it would be;
    plan, outcome: of that book. before: the book that plan is of, where it is of another. digest:
    of the file that holds it already.
    """

    what: str
    label: Label
    book: Book
    plan: Plan | None
    outcome: Outcome | None = None
    before: Book | None = None
    digest: str = NO_FILE

    def shown(self, now: datetime) -> Shown:
        """Return it for the wall."""
        return Shown(book=self.book, now=now, plan=self.plan, outcome=self.outcome)

    def edited(self, present: Book) -> Edited:
        """Return the edit that makes it so."""
        return whole_edit(present, self.book, self.label)


def whole_edit(present: Book, wanted: Book, label: Label) -> Edited:
    """Return the edit from one book to another that was made from it, whatever differs."""
    made = replace(wanted, revision=present.revision + 1)
    jobs = frozenset(job.id for job in (*_changed(present, made), *_changed(made, present)))
    return Edited(
        book=made,
        changed=Changed(jobs=jobs, workshop=True, people=True, plan=True),
        label=label,
    )


def _changed(one: Book, other: Book) -> list[Job]:
    known = {job.id: job for job in other.jobs}
    return [job for job in one.jobs if known.get(job.id) != job]

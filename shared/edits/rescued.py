"""A whole book in the place of another: rescued of the same book, or saved by somebody else."""

from dataclasses import replace

from shared.book import Book
from shared.edits.edited import Changed, Edited, label
from shared.edits.shared_parts import with_parts_of


def take_rescued(book: Book, rescued: Book) -> Edited:
    """Put what was rescued in the place of the book, as one edit."""
    return _whole(book, replace(rescued, revision=book.revision + 1), "take_rescued")


def take_others(book: Book, others: Book) -> Edited:
    """Put what somebody else saved in the place of the book, as one edit, above both revisions."""
    highest = max(book.revision, others.revision)
    return _whole(book, replace(others, revision=highest + 1), "take_others")


def _whole(book: Book, made: Book, code: str) -> Edited:
    touched = frozenset(job.id for each in (book, made) for job in each.jobs)
    return Edited(
        book=with_parts_of(book, made),
        changed=Changed(jobs=touched, workshop=True, people=True, plan=True),
        label=label(code, name=made.name),
    )

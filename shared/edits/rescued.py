"""A whole book in the place of another: what was rescued of the same book."""

from dataclasses import replace

from shared.book import Book
from shared.edits.edited import Changed, Edited, label


def take_rescued(book: Book, rescued: Book) -> Edited:
    """Put what was rescued in the place of the book, as one edit."""
    touched = frozenset(job.id for each in (book, rescued) for job in each.jobs)
    return Edited(
        book=replace(rescued, revision=book.revision + 1),
        changed=Changed(jobs=touched, workshop=True, people=True, plan=True),
        label=label("take_rescued", name=rescued.name),
    )

"""Books and plans to their canonical bytes: equal values have equal bytes."""

import hashlib

from shared.book import Book
from shared.files.codec import Texts, record_of
from shared.files.header import file_text
from shared.plan import Plan

NOT_IN_DIGEST = frozenset({"plan", "revision"})
"""Fields of a book that its digest doesn't look at."""

_ALL: frozenset[str] = frozenset()


def write_book(book: Book) -> bytes:
    """Give the canonical bytes of a book.

    Raises
    ------
    ValueError
        If it holds something that could not be read back, such as an instant without zone.
    """
    return file_text(record_of(Book), book, "book", _ALL).encode()


def write_plan(plan: Plan) -> bytes:
    """Give the canonical bytes of a plan; raises as `write_book` does."""
    return file_text(record_of(Plan), plan, "plan", _ALL).encode()


def digest(book: Book, texts: Texts | None = None) -> str:
    """Give the SHA-256 of the book's canonical bytes without `plan` and `revision`, in hex.

    So a plan that was made from a book still belongs to it once it is taken into it.
    texts: of parts that a former digest wrote.
    """
    text = file_text(record_of(Book), book, "book", NOT_IN_DIGEST, texts)
    return hashlib.sha256(text.encode()).hexdigest()

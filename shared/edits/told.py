"""Telling people a plan: from then on it is the one that later plans are held against."""

from dataclasses import replace
from datetime import datetime

from shared.book import Book, Told
from shared.edits.edited import Changed, Edited, label
from shared.plan import Plan


def tell_plan(book: Book, plan: Plan, at: datetime, by: str = "") -> Edited:
    """Make a plan the told one, on a sheet with the next number. at: when people are told it."""
    number = 1 if book.told is None else book.told.sheet_number + 1
    told = Told(plan=plan, at=at, told_by=by, sheet_number=number)
    new = replace(book, told=told, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(plan=True), label=label("tell_plan", number=number))

"""What was told and has changed, and what is to be said, for programs."""

from app.outcome_json import instant_text
from scheduler.asks import Asked
from scheduler.told_changes import Change, Changes, Stint
from shared.book import Book

Json = dict[str, object]


def changes_object(book: Book, found: Changes) -> Json | None:
    """Give the changes against the told plan, None where nobody was told any."""
    if book.told is None:
        return None
    return {
        "sheet_number": book.told.sheet_number,
        "told_at": instant_text(book.told.at),
        "people_today": list(found.people),
        "points": float(found.points),
        "each": [change_object(each) for each in found.each],
    }


def change_object(found: Change) -> Json:
    """Give one change."""
    return {
        "job": found.job,
        "step": found.step,
        "round": found.round,
        "part": found.part,
        "kinds": [kind.value for kind in found.kinds],
        "told": _stint(found.told),
        "now": None if found.now is None else _stint(found.now),
    }


def _stint(found: Stint) -> Json:
    return {
        "start": instant_text(found.start),
        "end": instant_text(found.end),
        "people": list(found.people),
        "place": found.place,
    }


def ask_object(found: Asked) -> Json:
    """Give one question."""
    return {
        "ask": found.ask.value,
        "job": found.job,
        "step": found.step,
        "at": instant_text(found.at),
    }

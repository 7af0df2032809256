"""What was told and has changed, and what is to be said, for programs."""

from app.outcome_json import instant_text
from scheduler.asks import Asked
from scheduler.away.values import Answer, Answers
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
        "people": list(found.people),
        "by_name": found.by_name,
    }


def answers_object(found: Answers, *, taken: int | None) -> Json:
    """Give what is away, what it touches and the answers. taken: by number, from 1."""
    answer = None if taken is None else found.answers[taken - 1]
    absence = found.absence
    return {
        "away": {
            "kind": absence.kind.value,
            "id": absence.id,
            "start": instant_text(absence.start),
            "end": instant_text(absence.end),
        },
        "touched": [
            {
                "job": hit.job,
                "step": hit.step,
                "start": instant_text(hit.start),
                "end": instant_text(hit.end),
            }
            for hit in found.hits
        ],
        "ways": [_answer_object(each) for each in found.answers],
        "taken": taken,
        "revision": None if answer is None else answer.book.revision,
    }


def _answer_object(answer: Answer) -> Json:
    moves = [{"kind": move.kind.value, "id": move.step} for move in answer.moves]
    levers = [{"kind": lever.kind.value, "id": lever.id} for lever in answer.levers]
    return {
        "changes": [*levers, *moves],
        "price": float(answer.price),
        "proved_cheapest": answer.proved_cheapest,
        "verdicts": dict(answer.verdicts),
        "people_today": list(answer.changes.people),
        "points": float(answer.changes.points),
        "missed": sorted(answer.missed),
        "lost": sorted(answer.lost),
        "checked": answer.check.sound,
        "each": [change_object(each) for each in answer.changes.each],
    }

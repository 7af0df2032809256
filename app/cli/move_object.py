"""A window that moves, as one object for programs."""

from datetime import datetime

from app.cli.report import plan_object
from app.cli.trying import Json
from app.moved import Moved, Redated, RedatedDue
from app.notices_json import by_text, due_object
from app.outcome_json import instant_text
from app.words import Words
from shared.book import Window
from shared.notices import Call
from shared.notices.calling import total_cost
from shared.notices.standing import Stands
from shared.shifting import Shifted


def move_object(words: Words, found: Moved, *, is_taken: bool) -> Json:
    """Give what a moved window comes to; instants in UTC, money in the book's currency."""
    before, after = found.before, found.after
    return {
        "taken": is_taken,
        "revision": found.edited.book.revision if is_taken else None,
        "job": found.new.id,
        "window": {"was": _window(found.was), "now": _window(found.now)},
        "shifted": [_shifted(each) for each in (*found.shifts.slots, *found.shifts.blocked)],
        "stands": [_stands(each) for each in found.stands],
        "undated": list(found.undated),
        "redated": [_redated(each) for each in found.redated],
        "dues": [_due(each) for each in found.dues],
        "calls": [_call(each) for each in found.calls],
        "cost": float(total_cost(found.calls)),
        "before": plan_object(words, before.outcome, before.seconds),
        "after": plan_object(words, after.outcome, after.seconds),
    }


def _window(window: Window) -> Json:
    return {
        "id": window.id,
        "start": instant_text(window.start),
        "end": instant_text(window.end),
    }


def _shifted(each: Shifted) -> Json:
    return {
        "journey": each.journey,
        "leg": each.leg,
        "name": each.old.name,
        "was": _span((each.old.start, each.old.end)),
        "now": _span((each.new.start, each.new.end)),
    }


def _stands(each: Stands) -> Json:
    return {
        "place": each.place,
        "start": instant_text(each.start),
        "end": instant_text(each.end),
        "segments": list(each.segments),
        "others": list(each.others),
    }


def _redated(each: Redated) -> Json:
    return {
        "what": each.what,
        "name": each.name,
        "was": instant_text(each.was),
        "now": instant_text(each.now),
    }


def _due(each: RedatedDue) -> Json:
    return {
        "was": None if each.was is None else by_text(each.was.by),
        "now": None if each.now is None else by_text(each.now.by),
        "due": due_object(each.due),
    }


def _call(each: Call) -> Json:
    return {
        "calling": each.calling.value,
        "what": each.what,
        "name": each.name,
        "whom": each.whom,
        "number": each.number,
        "reference": each.reference,
        "was": _span(each.was),
        "now": _span(each.now),
        "given": None if each.given is None else each.given.isoformat(),
        "free_until": instant_text(each.free_until),
        "cost": float(each.cost),
        "price": float(each.price),
    }


def _span(when: tuple[datetime | None, datetime | None]) -> Json:
    start, end = when
    return {"start": instant_text(start), "end": instant_text(end)}

"""Ways out as one object for programs."""

from datetime import date
from typing import TYPE_CHECKING

from app.cli.trying import Json
from app.outcome_json import instant_text
from app.words import Words
from app.words.levers import lever_text
from shared.levers import Lever

if TYPE_CHECKING:
    from scheduler.levers.values import WayOut, WaysOut


def levers_object(words: Words, found: "WaysOut", today: date, *, taken: int | None) -> Json:
    """Give the ways out for a job; money in the book's currency. taken: by number, from 1."""
    way = None if taken is None else found.ways[taken - 1]
    return {
        "job": found.job,
        "verdict": found.told.verdict.value,
        "kept": found.is_kept,
        "ways": [_way(words, each, today) for each in found.ways],
        "free": None if found.free is None else _way(words, found.free, today),
        "at_least": float(found.at_least),
        "stuck": found.stuck,
        "levers": [_lever(words, each, today) for each in found.levers],
        "trials": found.trials,
        "taken": taken,
        "revision": None if way is None else way.book.revision,
    }


def _way(words: Words, way: "WayOut", today: date) -> Json:
    return {
        "changes": [_lever(words, lever, today) for lever in way.levers],
        "price": float(way.price),
        "priced": way.is_priced,
        "proved_cheapest": way.proved_cheapest,
        "keeps": way.keeps,
        "verdicts": dict(way.verdicts),
        "checked": way.check.sound,
    }


def _lever(words: Words, lever: Lever, today: date) -> Json:
    return {
        "kind": lever.kind.value,
        "id": lever.id,
        "about": list(lever.about),
        "text": lever_text(words, lever, today),
        "price": float(lever.price + lever.once),
        "agrees": lever.agrees,
        "start": instant_text(lever.start),
        "end": instant_text(lever.end),
        "first": None if lever.first is None else lever.first.isoformat(),
        "last": None if lever.last is None else lever.last.isoformat(),
    }

"""Steps and segments that are named on the command line, by id or by name."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, TypeVar

from app.cli.arguments import Usage
from shared.absence import AwayKind
from shared.book import (
    Book,
    Equipment,
    Gate,
    GateKind,
    Job,
    Material,
    Person,
    Place,
    Segment,
    Stage,
    Step,
)

if TYPE_CHECKING:
    from app.exchange.calendar import Feed

_Thing = Person | Equipment | Place | Material
_Named = TypeVar("_Named", Gate, Job, Stage, Segment, Step, Material, Person, _Thing, "Feed")
_MOST_NAMED = 12


def job_meant(book: Book, word: str) -> Job:
    """Give the job that a word means, by id, name or unique beginning of a name; raises Usage."""
    found = _fitting(book.jobs, word)
    if not found:
        raise Usage("unknown_job", word=word, jobs=_ids(book.jobs))
    return _only(found, word)


def away_meant(book: Book, word: str) -> tuple[AwayKind, str]:
    """Give who or what a word means that can be away, of people, things, places and materials.

    Raises Usage.
    """
    sorts: tuple[tuple[AwayKind, Sequence[_Thing]], ...] = (
        (AwayKind.PERSON, book.people),
        (AwayKind.EQUIPMENT, book.equipment),
        (AwayKind.PLACE, book.places),
        (AwayKind.DELIVERY, book.materials),
    )
    kinds = {each.id: kind for kind, things in sorts for each in reversed(things)}
    every = [each for _, things in sorts for each in things]
    found = _fitting(every, word)
    if not found:
        raise Usage("unknown_away", word=word, known=_ids(every))
    only = _only(found, word)
    return kinds[only.id], str(only.id)


def person_meant(book: Book, word: str) -> Person:
    """Give the person that a word means; raises Usage."""
    found = _fitting(book.people, word)
    if not found:
        raise Usage("unknown_person", word=word, people=_ids(book.people))
    return _only(found, word)


def feed_meant(book: Book, word: str) -> "Feed":
    """Give the calendar of the person, place or job that a word means; raises Usage."""
    from app.exchange.calendar import feeds

    every = feeds(book)
    found = _fitting(every, word)
    if not found:
        raise Usage("unknown_feed", word=word, known=_ids(every))
    return _only(found, word)


def answer_meant(book: Book, word: str) -> Gate:
    """Give the gate of an answer that a word means; raises Usage."""
    steps = (step for job in book.jobs for step in job.steps)
    gates = [s for s in steps if isinstance(s, Gate) and s.gate is GateKind.ANSWER]
    found = _fitting(gates, word)
    if not found:
        raise Usage("unknown_answer", word=word, known=_ids(gates))
    return _only(found, word)


def stage_meant(book: Book, word: str) -> Stage:
    """Give the stage that a word means; raises Usage."""
    steps = (step for job in book.jobs for step in job.steps)
    stages = [step for step in steps if isinstance(step, Stage)]
    found = _fitting(stages, word)
    if not found:
        raise Usage("unknown_stage", word=word, known=_ids(stages))
    return _only(found, word)


def step_meant(book: Book, word: str) -> Step:
    """Give the one step that a word means; raises Usage."""
    return _only(steps_meant(book, word), word)


def material_meant(book: Book, word: str) -> Material | None:
    """Give the material that a word means, None where it means none or a step as well.

    Raises Usage.
    """
    found = _fitting(book.materials, word)
    steps = [step for job in book.jobs for step in job.steps]
    return None if not found or _fitting(steps, word) else _only(found, word)


def steps_meant(book: Book, word: str) -> list[Step]:
    """Give the steps that a word means, one of the id or all of a name; raises Usage."""
    steps: list[Step] = [step for job in book.jobs for step in job.steps]
    found = _fitting(steps, word)
    if not found:
        raise Usage("unknown_step", word=word, known=_ids(steps))
    return found


def segment_meant(book: Book, word: str) -> Segment:
    """Give the segment that a word means; raises Usage."""
    segments = [segment for job in book.jobs for segment in job.segments]
    found = _fitting(segments, word)
    if not found:
        raise Usage("unknown_piece", word=word, known=_ids(segments))
    return _only(found, word)


def _fitting(things: Sequence[_Named], word: str) -> list[_Named]:
    """Return what has this id; else this name; else a name that begins so."""
    start = word.casefold()
    tests = (
        [each for each in things if each.id == word],
        [each for each in things if each.name == word],
        [each for each in things if each.name.casefold().startswith(start)],
    )
    return next((found for found in tests if found), [])


def _only(found: Sequence[_Named], word: str) -> _Named:
    if len(found) > 1:
        raise Usage("several_meant", word=word, known=_ids(found))
    return found[0]


def _ids(things: "Iterable[Step | Segment | Job | _Thing | Feed]") -> str:
    ids = [str(each.id) for each in things]
    more = [] if len(ids) <= _MOST_NAMED else ["..."]
    return ", ".join([*ids[:_MOST_NAMED], *more])

"""What people call the things of a book that codes and facts know by their ids."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Protocol

from app.words.template import Template
from app.words.voice import Voice

if TYPE_CHECKING:
    from shared.book import Book, Job, Step

_STEP_ON: Template = "{step} on {segments}"


class _Named(Protocol):
    """Anything with an id and a name."""

    @property
    def id(self) -> str: ...

    @property
    def name(self) -> str: ...


class Names:
    """Names of one book's things by what they are; without a book every id is its own name."""

    def __init__(self, voice: Voice, book: "Book | None" = None) -> None:
        self._by_sort: dict[str, dict[str, str]] = {}
        self._bare: dict[str, str] = {}
        self._pieces: dict[str, str] = {}
        if book is not None:
            self._bare = {step.id: step.name for job in book.jobs for step in job.steps}
            self._pieces = _pieces(voice, book.jobs)
            self._by_sort = {
                "step": _steps(voice, book.jobs),
                "place": _plain(book.places),
                "equipment": _plain(book.equipment),
                "person": _plain(book.people),
                "job": _plain(book.jobs),
                "segment": _plain(segment for job in book.jobs for segment in job.segments),
                "material": _plain(book.materials),
                "supplier": _plain(book.suppliers),
            }

    def of(self, sort: str, identity: str) -> str:
        """Give the name of a thing of that sort, or the id itself."""
        return self._by_sort.get(sort, {}).get(identity) or identity

    def bare_step(self, identity: str) -> str:
        """Give the name of a step without its segments, or the id itself."""
        return self._bare.get(identity) or identity

    def pieces_of(self, identity: str) -> str:
        """Give the segments of a step, nothing where it is about all of its job."""
        return self._pieces.get(identity, "")

    def any(self, identity: str) -> str:
        """Give the name of a thing whose sort is not known."""
        found = (by_id[identity] for by_id in self._by_sort.values() if identity in by_id)
        return next(found, identity)

    def sorts(self) -> Mapping[str, Mapping[str, str]]:
        """Give all names, by sort and id."""
        return self._by_sort


def _plain(things: Iterable[_Named]) -> dict[str, str]:
    return {thing.id: thing.name for thing in things}


def _steps(voice: Voice, jobs: "Iterable[Job]") -> dict[str, str]:
    return {step.id: _step(voice, step, _plain(job.segments)) for job in jobs for step in job.steps}


def _pieces(voice: Voice, jobs: "Iterable[Job]") -> dict[str, str]:
    return {step.id: _on(voice, step, _plain(job.segments)) for job in jobs for step in job.steps}


def _step(voice: Voice, step: "Step", segments: dict[str, str]) -> str:
    on = _on(voice, step, segments)
    name = step.name or step.id
    return voice.say(_STEP_ON, step=name, segments=on) if on else name


def _on(voice: Voice, step: "Step", segments: dict[str, str]) -> str:
    on = [segments.get(segment, segment) for segment in step.segments]
    return "" if len(on) == len(segments) else voice.both(on)

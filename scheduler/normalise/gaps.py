"""What the book holds and this version does not keep, by the code of the rule."""

from collections.abc import Callable, Iterable, Iterator

from scheduler.rules import Rule
from shared.book import Book, Job, Journey
from shared.levers import is_written


def not_honoured(book: Book, jobs: Iterable[Job]) -> tuple[str, ...]:
    """Return the codes of the rules that the planned jobs ask for in vain."""
    planned = tuple(jobs)
    return tuple(rule.value for rule, asks in _ASKS if any(asks(book, planned)))


def _drivers_hours(_book: Book, jobs: tuple[Job, ...]) -> Iterator[bool]:
    """Tell of drivers' hours that the book names and nobody knows."""
    journeys = [step for job in jobs for step in job.steps if isinstance(step, Journey)]
    named = {leg.rules for journey in journeys for leg in (*journey.legs, *journey.travel)}
    named |= {means.rules for journey in journeys for means in journey.means}
    asked = named - {None}
    if asked:
        from shared.road.rules import RULE_SETS

        yield not asked <= set(RULE_SETS)


def _offers(book: Book, _jobs: tuple[Job, ...]) -> Iterator[bool]:
    yield from (offer.taken and not is_written(offer) for offer in book.offers)


def _turns(_book: Book, jobs: tuple[Job, ...]) -> Iterator[bool]:
    """Tell of pieces that may stand only otherwise than as they are made, which floor goes by."""
    yield from (
        bool(piece.turns) and "upright" not in piece.turns for job in jobs for piece in job.segments
    )


_ASKS: tuple[tuple[Rule, Callable[[Book, tuple[Job, ...]], Iterator[bool]]], ...] = (
    (Rule.DRIVERS_HOURS, _drivers_hours),
    (Rule.OFFERS, _offers),
    (Rule.TURNS, _turns),
)

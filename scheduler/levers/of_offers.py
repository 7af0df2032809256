"""Levers that somebody holds out: the offers of a book."""

from collections.abc import Callable, Iterator
from datetime import datetime

from scheduler.levers.of_people import hired_hands, ready_on
from shared.book import AT_SEA, Book, Gate, GateKind, Job, Journey, Offer, Stage, Step
from shared.edits.levers_away import is_made_faster
from shared.levers import Lever, LeverKind
from shared.worktime.zones import local_date


def of_offers(book: Book, now: datetime, until: datetime) -> Iterator[Lever]:
    """Yield what the offers of a book come to that are not taken, in their order."""
    today = local_date(now, book.workshop.zone)
    for offer in book.offers:
        kind = kind_of(offer)
        if offer.taken or kind is None or (offer.last is not None and offer.last < today):
            continue
        if kind is LeverKind.HIRED_HAND:
            yield from hired_hands(book, offer, now, until)
        else:
            about = tuple(_ABOUT[kind](book, offer))
            if about or kind is LeverKind.HEATING:
                yield _lever(book, offer, kind, now, about)


def kind_of(offer: Offer) -> LeverKind | None:
    """Return which lever an offer is, None for one that is not understood."""
    word = offer.kind.strip().lower().replace(" ", "_")
    if word == "answer":
        return LeverKind.ANSWER_SOONER
    return LeverKind(word) if word in _OFFERED else None


def _lever(
    book: Book, offer: Offer, kind: LeverKind, now: datetime, about: tuple[str, ...]
) -> Lever:
    return Lever(
        kind=kind,
        id=str(offer.id),
        about=about,
        offer=offer.id,
        price=offer.price,
        first=ready_on(book, offer, now) if offer.first is None else offer.first,
        last=offer.last,
        days=offer.answer_days,
        facts=(("name", offer.name),),
        agrees=offer.agrees,
        only_helps=kind not in _MAY_HARM,
    )


def _steps(book: Book, offer: Offer) -> Iterator[tuple[Job, Step]]:
    for job in book.jobs:
        for step in job.steps:
            if step.id in offer.about or job.id in offer.about:
                yield job, step


def _stages_away(book: Book, offer: Offer) -> Iterator[str]:
    if offer.away_days is not None:
        yield from (s.id for _, s in _steps(book, offer) if isinstance(s, Stage))


def _faster(book: Book, offer: Offer) -> Iterator[str]:
    for job, step in _steps(book, offer):
        if is_made_faster(job, step, offer):
            yield step.id


def _trained(_book: Book, offer: Offer) -> Iterator[str]:
    if offer.certificates:
        yield from offer.about


def _answered(book: Book, offer: Offer) -> Iterator[str]:
    if offer.answer_days is not None:
        for _, step in _steps(book, offer):
            if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
                yield step.id


def _waiting(book: Book, offer: Offer) -> Iterator[str]:
    for _, step in _steps(book, offer):
        if not isinstance(step, Journey) and step.not_before is not None:
            yield step.id


def _sailing(book: Book, offer: Offer) -> Iterator[str]:
    for _, step in _steps(book, offer):
        by_sea = isinstance(step, Journey) and any(leg.kind in AT_SEA for leg in step.legs)
        if by_sea and offer.departures:
            yield step.id


def _going(book: Book, offer: Offer) -> Iterator[str]:
    if offer.means:
        yield from (step.id for _, step in _steps(book, offer) if isinstance(step, Journey))


def _stored(book: Book, offer: Offer) -> Iterator[str]:
    for job in book.jobs:
        for segment in job.segments:
            is_meant = job.id in offer.about or segment.id in offer.about
            if is_meant and not segment.stored_elsewhere:
                yield segment.id


def _places(book: Book, offer: Offer) -> Iterator[str]:
    yield from (place.id for place in book.places if place.id in offer.about)


def _sharing(book: Book, offer: Offer) -> Iterator[str]:
    yield from (place.id for place in book.places if place.id in offer.about and place.air)


def _larger(book: Book, offer: Offer) -> Iterator[str]:
    for place in book.places:
        more = offer.slots if place.area_m2 is None else offer.area_m2
        if place.id in offer.about and more is not None:
            yield place.id


def _things(book: Book, offer: Offer) -> Iterator[str]:
    yield from (thing.id for thing in book.equipment if thing.id in offer.about)


_ABOUT: dict[LeverKind, Callable[[Book, Offer], Iterator[str]]] = {
    LeverKind.HEATING: _places,
    LeverKind.FAST_CURE: _faster,
    LeverKind.STORE: _stored,
    LeverKind.SCREEN: _sharing,
    LeverKind.ROOM: _larger,
    LeverKind.EQUIPMENT: _things,
    LeverKind.SUBCONTRACT: _stages_away,
    LeverKind.TRAINING: _trained,
    LeverKind.ANSWER_SOONER: _answered,
    LeverKind.COURIER: _waiting,
    LeverKind.SAILING: _sailing,
    LeverKind.MEANS: _going,
}
_OFFERED = frozenset(_ABOUT) | {LeverKind.HIRED_HAND}
_MAY_HARM = frozenset({LeverKind.HEATING, LeverKind.SUBCONTRACT})
"""Heating also shortens recoat times; what is done elsewhere may be away too long."""

"""Slots that hold less than what is to be done in them: why no departure may be in time."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from shared.book import Book, Booking, Job, Journey, Leg
from shared.delivery.lengths import minutes_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortSlot:
    """A slot, the legs that follow each other in it, and how many minutes they take."""

    start: datetime
    end: datetime
    name: str
    legs: tuple[Leg, ...]
    minutes: int

    @property
    def holds(self) -> int:
        """Return the minutes of the slot."""
        return int((self.end - self.start).total_seconds()) // 60


def short_slots(book: Book, job: Job, journey: Journey) -> tuple[ShortSlot, ...]:
    """Give the slots, the only ones of their legs, that hold less than these legs take."""
    pieces = max(1, len(journey.segments or job.segments))
    return tuple(each for each in _filled(book, journey, pieces) if each.minutes > each.holds)


def _filled(book: Book, journey: Journey, pieces: int) -> Iterator[ShortSlot]:
    for slots, group in groupby(journey.legs, key=lambda leg: leg.slots):
        legs = tuple(group)
        if len(slots) == 1:
            minutes = sum(minutes_of(leg, book.workshop, pieces) for leg in legs)
            yield _of(slots[0], legs, minutes)


def _of(slot: Booking, legs: tuple[Leg, ...], minutes: int) -> ShortSlot:
    return ShortSlot(start=slot.start, end=slot.end, name=slot.name, legs=legs, minutes=minutes)

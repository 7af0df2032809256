"""What keeps a job's segments from ever leaving or arriving: facts of the job, on day one.

Only what somebody measured, and containers by their standard, can do that.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from shared.book import Book, Job, Segment
from shared.ids import EquipmentId, SegmentId
from shared.passing.boxes import margins_of, piece_of
from shared.passing.judge import Answer, Judged, judge_way
from shared.passing.masses import Mass, mass_of, payload_passed
from shared.passing.passages import course_of, journey_of, vehicles_of


@dataclass(frozen=True, slots=True, kw_only=True)
class TooBig:
    """A segment, and the opening that it doesn't pass whichever way round it is turned."""

    segment: SegmentId
    judged: Judged


@dataclass(frozen=True, slots=True, kw_only=True)
class TooHeavy:
    """A segment that is more, bare and at the least, than its best vehicle carries."""

    segment: SegmentId
    vehicle: EquipmentId
    mass: Mass
    payload_kg: Decimal


def kept_back(book: Book, job: Job) -> Iterator[TooBig | TooHeavy]:
    """Give what keeps the segments of a job back, one reason for each at most."""
    margins = margins_of(book.workshop)
    for segment in job.segments:
        piece = piece_of(segment)
        if piece is not None:
            worst = judge_way(piece, course_of(book, job, segment), margins).deciding
            if worst is not None and worst.answer is Answer.TOO_BIG:
                yield TooBig(segment=segment.id, judged=worst)
                continue
        heavy = too_heavy(book, job, segment)
        if heavy is not None:
            yield heavy


def too_heavy(book: Book, job: Job, segment: Segment) -> TooHeavy | None:
    """Return why no vehicle of its journey carries a segment, None where one does."""
    journey = journey_of(job, segment)
    vehicles = () if journey is None else vehicles_of(book, journey)
    mass = mass_of(segment)
    most = payload_passed(mass, [vehicle.payload_kg for vehicle in vehicles])
    if mass is None or most is None:
        return None
    best = next(vehicle for vehicle in vehicles if vehicle.payload_kg == most)
    return TooHeavy(segment=segment.id, vehicle=best.id, mass=mass, payload_kg=most)

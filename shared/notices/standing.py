"""Where pieces stand between the day on which they were to leave and the day on which they do."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from shared.book import Book, Job, Journey, Place, Segment, Stage
from shared.ids import JobId, PlaceId, SegmentId
from shared.order import segments_of, touched
from shared.plan import Plan, Trip


@dataclass(frozen=True, slots=True, kw_only=True)
class Stands:
    """Pieces on a standing floor that would have left before.

    others: jobs of which something stands in the same place meanwhile.
    """

    place: PlaceId
    start: datetime
    end: datetime
    segments: tuple[SegmentId, ...]
    others: tuple[JobId, ...] = ()


def stands(book: Book, job: Job, before: tuple[Trip, ...], after: Plan) -> tuple[Stands, ...]:
    """Return where the pieces of a job stand longer, from when and until when.

    before: the trips as they were. A piece stands from when it was to leave, or from its last work
    if that is later, until it leaves; pieces stored elsewhere don't.
    """
    found: dict[tuple[PlaceId, datetime, datetime], list[SegmentId]] = {}
    for step in job.steps:
        was = next((trip for trip in before if trip.step == step.id), None)
        goes = next((trip for trip in after.trips if trip.step == step.id), None)
        if not isinstance(step, Journey) or was is None or goes is None:
            continue
        for segment in segments_of(job, step):
            place = standing_place(book, job, segment)
            start = max(was.start, _ready(job, segment, after, was.start))
            if place is not None and start < goes.start and not segment.stored_elsewhere:
                found.setdefault((place.id, start, goes.start), []).append(segment.id)
    return tuple(
        Stands(
            place=place,
            start=start,
            end=end,
            segments=tuple(segments),
            others=tuple(_others(book, job, place, start, end, after)),
        )
        for (place, start, end), segments in found.items()
    )


def standing_place(book: Book, job: Job, segment: Segment) -> Place | None:
    """Return where a finished segment stands; None where the workshop has no standing place."""
    moved = [
        step.moves_to
        for step in job.steps
        if isinstance(step, Stage) and step.moves_to and segment.id in touched(job, step)
    ]
    named = moved[-1] if moved else segment.stands
    places = [place for place in book.places if place.standing]
    if named is not None:
        return next((place for place in book.places if place.id == named), None)
    return places[0] if places else None


def _ready(job: Job, segment: Segment, plan: Plan, least: datetime) -> datetime:
    """Return when the last work on a segment is over."""
    works = {
        step.id
        for step in job.steps
        if isinstance(step, Stage) and segment.id in touched(job, step)
    }
    return max((each.end for each in plan.placements if each.step in works), default=least)


def _others(
    book: Book, job: Job, place: PlaceId, start: datetime, end: datetime, plan: Plan
) -> Iterator[JobId]:
    for other in book.jobs:
        if other.id != job.id and any(
            _stands_there(book, other, segment, place, plan, (start, end))
            for segment in other.segments
        ):
            yield other.id


def _stands_there(
    book: Book,
    job: Job,
    segment: Segment,
    place: PlaceId,
    plan: Plan,
    stretch: tuple[datetime, datetime],
) -> bool:
    there = standing_place(book, job, segment)
    if there is None or there.id != place or segment.stored_elsewhere:
        return False
    mine = {step.id for step in job.steps if segment.id in touched(job, step)}
    works = [each for each in plan.placements if each.step in mine]
    leaves = [trip.start for trip in plan.trips if trip.step in mine]
    if not works:
        return False
    until = max(leaves, default=max(each.end for each in works))
    return min(each.start for each in works) < stretch[1] and until > stretch[0]

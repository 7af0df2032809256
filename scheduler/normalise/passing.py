"""Segments that are too big or too heavy for their way out and in: facts of the job."""

from dataclasses import replace
from typing import TYPE_CHECKING

from scheduler.normalise.frame import Frame
from scheduler.normalise.order import journeys_of, loadings_of
from scheduler.normalise.ways import clash
from scheduler.reasons import Reason
from shared.book import Job, Journey, Means
from shared.findings import Clash
from shared.ids import SegmentId
from shared.passing.known import is_measured
from shared.units import whole_up

if TYPE_CHECKING:
    from collections.abc import Iterator

    from shared.passing.facts import TooBig, TooHeavy


def kept_segments(frame: Frame, job: Job) -> dict[SegmentId, Clash]:
    """Return the segments that can't leave or arrive; what is loaded has passed already."""
    if not is_measured(frame.book):
        return {}
    found = {each.segment: _clash(each) for each in _kept_whatever(frame, job)}
    for gate in loadings_of(job) if found else ():
        if frame.told(gate.id).done is not None:
            for segment in frame.order_of(job).touched[gate.id]:
                found.pop(segment, None)
    return found


def means_that_carry(frame: Frame, job: Job, journey: Journey) -> list[Means | None]:
    """Return the means of a journey that carry its pieces; None alone where it names none."""
    if not journey.means:
        return [None]
    if not is_measured(frame.book):
        return list(journey.means)
    return [means for means in journey.means if not _kept_by(frame, job, journey, means)]


def _kept_whatever(frame: Frame, job: Job) -> "Iterator[TooBig | TooHeavy]":
    """Give what keeps segments back whichever means they go by."""
    from shared.passing.facts import kept_back

    choosing = [journey for journey in journeys_of(job) if journey.means]
    theirs = {segment for journey in choosing for segment in _segments(job, journey)}
    for each in kept_back(frame.book, job):
        if each.segment not in theirs:
            yield each
    for journey in choosing:
        kept = [_kept_by(frame, job, journey, means) for means in journey.means]
        if all(kept):
            yield from kept[0]


def _kept_by(frame: Frame, job: Job, journey: Journey, means: Means) -> "list[TooBig | TooHeavy]":
    from shared.passing.facts import kept_back

    with_it = replace(journey, vehicles=means.vehicles)
    steps = tuple(with_it if step.id == journey.id else step for step in job.steps)
    mine = _segments(job, journey)
    found = kept_back(frame.book, replace(job, steps=steps))
    return [each for each in found if each.segment in mine]


def _segments(job: Job, journey: Journey) -> set[SegmentId]:
    from shared.passing.passages import journey_of

    found = {piece.id: journey_of(job, piece) for piece in job.segments}
    return {piece for piece, by in found.items() if by is not None and by.id == journey.id}


def _clash(kept: "TooBig | TooHeavy") -> Clash:
    from shared.passing.facts import TooHeavy

    if isinstance(kept, TooHeavy):
        return clash(
            Reason.TOO_HEAVY,
            segment=kept.segment,
            equipment=kept.vehicle,
            mass_kg=whole_up(kept.mass.bare),
            payload_kg=format(kept.payload_kg, "f"),
        )
    return clash(
        Reason.TOO_BIG,
        segment=kept.segment,
        opening=kept.judged.passage.name,
        over_mm=whole_up(-kept.judged.spare_mm),
        dimension=kept.judged.dimension.value,
    )

"""Segments that are too big or too heavy for their way out and in: facts of the job."""

from typing import TYPE_CHECKING

from scheduler.normalise.frame import Frame
from scheduler.normalise.order import loadings_of, touched
from scheduler.normalise.ways import clash
from scheduler.reasons import Reason
from shared.book import Job
from shared.findings import Clash
from shared.ids import SegmentId
from shared.passing.known import is_measured
from shared.units import whole_up

if TYPE_CHECKING:
    from shared.passing.facts import TooBig, TooHeavy


def kept_segments(frame: Frame, job: Job) -> dict[SegmentId, Clash]:
    """Return the segments that can't leave or arrive; what is loaded has passed already."""
    if not is_measured(frame.book):
        return {}
    from shared.passing.facts import kept_back

    found = {each.segment: _clash(each) for each in kept_back(frame.book, job)}
    for gate in loadings_of(job) if found else ():
        if frame.told(gate.id).done is not None:
            for segment in touched(job, gate):
                found.pop(segment, None)
    return found


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

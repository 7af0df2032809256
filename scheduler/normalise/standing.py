"""The floor on which segments wait, from the start of their first stage to the end of loading."""

from collections.abc import Mapping

from scheduler.normalise.frame import Frame
from scheduler.normalise.limits import Limits, Over, Placed, Reached
from scheduler.normalise.order import afters_of, followers, in_order, loadings_of, touched
from scheduler.normalise.rooms import place_capacity
from scheduler.normalise.steps import Steps
from scheduler.normalise.ways import clash
from scheduler.problem import Edge, Hold
from scheduler.reasons import Reason
from shared.book import After, Job, Segment, Stage, Step
from shared.findings import Clash, Fact
from shared.ids import SegmentId, StepId


def blocked_segments(frame: Frame, job: Job) -> dict[SegmentId, Clash]:
    """Return the segments that are larger than the floor on which they would stand."""
    found: dict[SegmentId, Clash] = {}
    for segment in job.segments:
        place = frame.rooms.standing_place(segment)
        if place is None:
            continue
        wanted = frame.rooms.units_waiting(frame.book.workshop, segment, place)
        have = place_capacity(place)
        if wanted > have:
            facts: dict[str, Fact] = {
                "segment": segment.id,
                "place": place.id,
                "wanted": wanted,
                "have": have,
            }
            found[segment.id] = clash(Reason.FLOOR_TOO_SMALL, **facts)
    return found


class Standings:
    """The holds of a problem as they are made, job by job."""

    def __init__(self, frame: Frame, steps: Steps) -> None:
        """Start with none."""
        self._frame, self._steps = frame, steps
        self.holds: list[Hold] = []

    def add(self, job: Job, reached: Mapping[StepId, Reached]) -> tuple[tuple[int, int], ...]:
        """Add the holds of a job; return the first and last stage of each of its segments."""
        afters = afters_of(job)
        order = in_order(job, afters)
        floor: list[tuple[int, int]] = []
        for segment in job.segments:
            mine = tuple(step for step in order if segment.id in touched(job, step))
            placed = {
                step.id: found for step in mine if isinstance(found := reached.get(step.id), Placed)
            }
            loading = _loading(job, segment)
            if not placed or isinstance(reached.get(loading), Over):
                continue
            last = placed.get(loading, tuple(placed.values())[-1]).last
            floor.append((next(iter(placed.values())).first, last))
            if any(isinstance(step, Stage) and self._has_begun(step, reached) for step in mine):
                self._hold(segment, None, last)
                continue
            works = [step.id for step in mine if isinstance(step, Stage) and step.id in placed]
            if works:
                firsts = [placed[step].first for step in (works[0], *_others(works, afters))]
                self._hold(segment, self._first_of(job, works[0], firsts), last)
        return tuple(floor)

    def _has_begun(self, step: Step, reached: Mapping[StepId, Reached]) -> bool:
        return isinstance(reached.get(step.id), Over) or self._frame.told(step.id).has_begun

    def _hold(self, segment: Segment, first: int | None, last: int) -> None:
        place = self._frame.rooms.standing_place(segment)
        if place is None:
            return
        units = self._frame.rooms.units_waiting(self._frame.book.workshop, segment, place)
        room = self._frame.rooms.of_place(place.id)
        self.holds.append(Hold(room=room, units=units, first=first, last=last))

    def _first_of(self, job: Job, step: StepId, firsts: list[int]) -> int:
        """Return the stage with which a segment begins to stand.

        Where several could be the first, a moment before all of them is a stage of its own.
        """
        if len(firsts) == 1:
            return firsts[0]
        owner = self._steps.stages[firsts[0]].job
        at = self._steps.add_moment(job, owner, step, "stands", Limits())
        self._steps.edges += [Edge(before=at, after=first) for first in firsts]
        return at


def _loading(job: Job, segment: Segment) -> StepId:
    found = [gate.id for gate in loadings_of(job) if segment.id in touched(job, gate)]
    return found[-1] if found else StepId("")


def _others(works: list[StepId], afters: Mapping[StepId, tuple[After, ...]]) -> list[StepId]:
    """Return the stages that don't come after the first of them, near or far."""
    behind = _all_behind(works[0], afters)
    return [step for step in works[1:] if step not in behind]


def _all_behind(first: StepId, afters: Mapping[StepId, tuple[After, ...]]) -> set[StepId]:
    by_before = followers(afters)
    found: set[StepId] = set()
    left = [first]
    while left:
        fresh = [step for step in by_before.get(left.pop(), ()) if step not in found]
        found.update(fresh)
        left += fresh
    return found

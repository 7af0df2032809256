"""The floor on which segments wait, from the start of their first stage to the end of loading.

A stage that moves a segment holds both floors: the old one to its end, the new one from its start.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from scheduler.normalise.frame import Frame
from scheduler.normalise.limits import Limits, Over, Placed, Reached
from scheduler.normalise.order import JobOrder, loadings_of
from scheduler.normalise.rooms import place_capacity
from scheduler.normalise.steps import Steps
from scheduler.normalise.ways import clash
from scheduler.problem import Edge, Hold
from scheduler.reasons import Reason
from shared.book import Gate, Job, Place, Segment, Stage, Step
from shared.findings import Clash, Fact
from shared.ids import SegmentId, StepId

Nexts = Mapping[int, Sequence[int]]
"""By stage, those that come right after it."""


def blocked_segments(frame: Frame, job: Job) -> dict[SegmentId, Clash]:
    """Return the segments that are larger than a floor on which they would stand."""
    found: dict[SegmentId, Clash] = {}
    for segment in job.segments:
        for place in _stands_yet(frame, job, segment):
            wanted = frame.rooms.units_waiting(frame.book.workshop, segment, place)
            have = place_capacity(place)
            if wanted > have:
                facts: dict[str, Fact] = {
                    "segment": segment.id,
                    "place": place.id,
                    "wanted": wanted,
                    "have": have,
                }
                found.setdefault(segment.id, clash(Reason.FLOOR_TOO_SMALL, **facts))
    return found


def _stands_yet(frame: Frame, job: Job, segment: Segment) -> Iterator[Place]:
    """Give where a segment stands now, or will first, and where it is still moved to."""
    mine = frame.order_of(job).by_segment[segment.id]
    here = standing_now(frame, segment, mine)
    if here is not None:
        yield here
    for step in mine:
        if isinstance(step, Stage) and frame.told(step.id).done is None:
            there = _moved_to(frame, step)
            if there is not None:
                yield there


def standing_now(frame: Frame, segment: Segment, mine: Sequence[Step]) -> Place | None:
    """Return where a segment stands after the moves that are done; None: on no floor here."""
    done = [
        (told.at, step)
        for step in mine
        if isinstance(step, Stage)
        and step.moves_to is not None
        and (told := frame.told(step.id).done) is not None
    ]
    if done:
        return _moved_to(frame, max(done, key=_when)[1])
    return frame.rooms.standing_place(segment)


def _when(move: tuple[datetime, Stage]) -> datetime:
    return move[0]


def _moved_to(frame: Frame, step: Stage) -> Place | None:
    return None if step.moves_to is None else frame.rooms.places.get(step.moves_to)


class Standings:
    """The holds of a problem as they are made, job by job."""

    def __init__(self, frame: Frame, steps: Steps) -> None:
        """Start with none."""
        self._frame, self._steps = frame, steps
        self.holds: list[Hold] = []

    def add(
        self, job: Job, reached: Mapping[StepId, Reached], first_edge: int
    ) -> tuple[tuple[int, int], ...]:
        """Add the holds of a job; return the first and last stage of each of its segments.

        first_edge: from where on the edges are those of the job.
        """
        order = self._frame.order_of(job)
        loadings = loadings_of(job)
        nexts = self._nexts(first_edge)
        floor: list[tuple[int, int]] = []
        for segment in job.segments:
            mine = tuple(step for step in order.steps if segment.id in order.touched[step.id])
            placed = {
                step.id: found for step in mine if isinstance(found := reached.get(step.id), Placed)
            }
            loading = _loading(order, loadings, segment)
            if not placed or isinstance(reached.get(loading), Over):
                continue
            last = placed.get(loading, tuple(placed.values())[-1]).last
            floor.append((next(iter(placed.values())).first, last))
            works = [step.id for step in mine if isinstance(step, Stage) and step.id in placed]
            first: int | None = None
            if not any(isinstance(step, Stage) and self._has_begun(step, reached) for step in mine):
                if not works:
                    continue
                firsts = _firsts([placed[step].first for step in works], nexts)
                first = self._first_of(job, works[0], firsts)
            self._stand(segment, mine, (placed, nexts), (first, last))
        return tuple(floor)

    def _has_begun(self, step: Step, reached: Mapping[StepId, Reached]) -> bool:
        return isinstance(reached.get(step.id), Over) or self._frame.told(step.id).has_begun

    def _stand(
        self,
        segment: Segment,
        mine: Sequence[Step],
        order: tuple[Mapping[StepId, Placed], Nexts],
        ends: tuple[int | None, int],
    ) -> None:
        """Hold the floors of a segment, one after the other.

        order: its steps that are placed, and what comes right after each stage.
        """
        (placed, nexts), (first, last) = order, ends
        here = standing_now(self._frame, segment, mine)
        before: Stage | None = None
        for move in self._moves(mine, placed):
            there = _moved_to(self._frame, move)
            if there is None or there == here:
                continue
            at = placed[move.id]
            if before is not None and at.first not in _all_behind(placed[before.id].last, nexts):
                self._steps.edges.append(Edge(before=placed[before.id].last, after=at.first))
            self._hold(segment, here, first, at.last)
            first = None if self._frame.told(move.id).running is not None else at.first
            here, before = there, move
        self._hold(segment, here, first, last)

    def _nexts(self, first_edge: int) -> Nexts:
        """Return what comes right after each stage: less than the book says once some are over.

        No stage of one job leads back to it through another.
        """
        found: dict[int, list[int]] = {}
        for edge in self._steps.edges[first_edge:]:
            found.setdefault(edge.before, []).append(edge.after)
        return found

    def _moves(self, mine: Sequence[Step], placed: Mapping[StepId, Placed]) -> list[Stage]:
        """Return the stages that are still to move a segment, what is under way first."""
        moves = [
            step
            for step in mine
            if isinstance(step, Stage) and step.moves_to is not None and step.id in placed
        ]
        return sorted(moves, key=lambda move: self._frame.told(move.id).running is None)

    def _hold(self, segment: Segment, place: Place | None, first: int | None, last: int) -> None:
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


def _loading(order: JobOrder, loadings: Sequence[Gate], segment: Segment) -> StepId:
    found = [gate.id for gate in loadings if segment.id in order.touched[gate.id]]
    return found[-1] if found else StepId("")


def _firsts(works: Sequence[int], nexts: Nexts) -> list[int]:
    """Return the first of some stages, and those that don't come after it, near or far."""
    behind = _all_behind(works[0], nexts)
    return [works[0], *(stage for stage in works[1:] if stage not in behind)]


def _all_behind(first: int, nexts: Nexts) -> set[int]:
    found: set[int] = set()
    left = [first]
    while left:
        fresh = [stage for stage in nexts.get(left.pop(), ()) if stage not in found]
        found.update(fresh)
        left += fresh
    return found

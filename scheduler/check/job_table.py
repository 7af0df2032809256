"""What a job says of its steps, read once: their segments, what they come after, what is done.

Nothing here knows a plan, a fact or another job.
"""

from dataclasses import dataclass

from scheduler.check.clock import hours, hours_down
from shared.book import Act, Job, Segment, Stage, Step
from shared.ids import SegmentId, StepId
from shared.trade import defaults


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A step comes after another: least and greatest seconds from its end or its start."""

    before: StepId
    least: int = 0
    most: int | None = None
    from_start: bool = False


class JobTable:
    """The steps of one job, each looked up once."""

    def __init__(self, job: Job) -> None:
        """Take the job as the book has it."""
        self._job = job
        self._at: dict[StepId, int] = {}
        for at, step in enumerate(job.steps):
            self._at.setdefault(step.id, at)
        self._segments: dict[StepId, tuple[Segment, ...]] = {}
        self._pieces: dict[StepId, frozenset[SegmentId]] = {}
        self._befores: dict[StepId, dict[StepId, Step]] = {}
        self._links: dict[StepId, tuple[Link, ...]] = {}
        self._acts: dict[tuple[StepId, str], frozenset[Act]] = {}
        self._wet: dict[tuple[StepId, str], int] = {}

    def segments(self, step: Step) -> tuple[Segment, ...]:
        """Return the segments of a step: those it names, else all of the job."""
        if step.id not in self._segments:
            self._segments[step.id] = self._segments_of(step)
        return self._segments[step.id]

    def pieces(self, step: Step) -> frozenset[SegmentId]:
        """Return the ids of the segments of a step."""
        if step.id not in self._pieces:
            self._pieces[step.id] = frozenset(each.id for each in self.segments(step))
        return self._pieces[step.id]

    def befores(self, step: Step) -> dict[StepId, Step]:
        """Return the steps right before a step in the job's list, segment by segment."""
        if step.id not in self._befores:
            self._befores[step.id] = self._befores_of(step)
        return self._befores[step.id]

    def links(self, step: Step) -> tuple[Link, ...]:
        """Return what a step comes after: as the book names it, else by the order of its list."""
        if step.id not in self._links:
            self._links[step.id] = self._links_of(step)
        return self._links[step.id]

    def earlier(self, step: Step) -> tuple[Step, ...]:
        """Return the steps that stand before a step in the job's list."""
        return self._job.steps[: self._at[step.id]]

    def acts(self, step: Step, part: str) -> frozenset[Act]:
        """Return what is done: as the stage says, else the usual; isocyanates are sprayed."""
        if (key := (step.id, part)) not in self._acts:
            self._acts[key] = self._acts_of(step, part)
        return self._acts[key]

    def wet_seconds(self, step: Step, part: str) -> int:
        """Return how long after its end dust spoils what is left wet."""
        if (key := (step.id, part)) not in self._wet:
            self._wet[key] = self._wet_of(step, part)
        return self._wet[key]

    def _segments_of(self, step: Step) -> tuple[Segment, ...]:
        named = set(step.segments)
        return tuple(piece for piece in self._job.segments if not named or piece.id in named)

    def _befores_of(self, step: Step) -> dict[StepId, Step]:
        found: dict[StepId, Step] = {}
        earlier = self.earlier(step)
        mine = self.pieces(step)
        if not mine:
            return {each.id: each for each in earlier[-1:]}
        for each in reversed(earlier):
            touched = mine & self.pieces(each)
            if touched:
                found[each.id] = each
                mine -= touched
            if not mine:
                break
        return found

    def _links_of(self, step: Step) -> tuple[Link, ...]:
        if step.after is None:
            return tuple(Link(before=before) for before in self.befores(step))
        return tuple(
            Link(
                before=after.step,
                least=hours(after.least_hours),
                most=None if after.most_hours is None else hours_down(after.most_hours),
                from_start=after.from_start,
            )
            for after in step.after
        )

    def _acts_of(self, step: Step, part: str) -> frozenset[Act]:
        if part == "abrade":
            return frozenset(defaults.ABRADING)
        found = {act for stage in self._stages(step, part) for act in defaults.acts_of(stage)}
        return frozenset(found | {Act.SPRAY} if Act.ISOCYANATE in found else found)

    def _wet_of(self, step: Step, part: str) -> int:
        wet = [each for each in self._stages(step, part) if Act.WET in defaults.acts_of(each)]
        told = (
            defaults.WET_HOURS[each.kind] if each.wet_hours is None else each.wet_hours
            for each in wet
        )
        return max(map(hours, told), default=0)

    def _stages(self, step: Step, part: str) -> list[Stage]:
        """Return the stages by which work goes: for what an answer calls for, those shown."""
        if part == "abrade":
            return []
        if not part:
            return [step] if isinstance(step, Stage) else []
        shown = {link.before for link in self.links(step)}
        return [each for each in self._job.steps if isinstance(each, Stage) and each.id in shown]

"""What one normalising leaves for the next, so that only what changed is made anew.

A job is taken over where nothing changed of all that its making looked at: the job itself, what is
told of its steps, the workshop with everything in it, and whatever of other jobs it asked for.
Only what the last normalising used is kept.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from typing import TYPE_CHECKING

from scheduler.grid import Grid
from scheduler.normalise.facts import NOTHING, Told
from scheduler.normalise.frame import Frame
from scheduler.normalise.holds import off_of
from scheduler.normalise.laid import Laid
from scheduler.normalise.limits import Reached
from scheduler.normalise.part import Part
from scheduler.normalise.planned import person_hours
from scheduler.normalise.reads import Reads
from scheduler.problem import Room, Span, Spans
from shared.book import Book, Job, Step
from shared.files.codec import Texts
from shared.findings import Clash
from shared.ids import JobId, StepId
from shared.passing.known import is_measured
from shared.plan import Placement

if TYPE_CHECKING:
    from scheduler.normalise.steps import Steps

_BESIDES = frozenset({"jobs", "facts", "told", "plan", "revision", "people", "as_of"})
"""Fields of a book that a job does not go by, or only by parts that are looked at one by one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """What all jobs go by. people: the hours of people are looked at apart from what they can."""

    grid: Grid
    workshop: tuple[object, ...]
    is_measured: bool
    crew: tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """What one job goes by, the world and what it was seen to look at besides.

    elsewhere: steps of other jobs that its steps come after, where each came to stand. mates:
    steps of other jobs that are done by the same people, who that is, and whether they have begun.
    crews: its journeys whose crew was told to go before now, and when.
    """

    job: Job
    told: tuple[tuple[StepId, Told], ...]
    placements: tuple[Placement, ...]
    left_out: tuple[tuple[StepId, Clash | None], ...]
    late: int | None
    elsewhere: tuple[tuple[StepId, Reached | None, Step | None], ...]
    mates: tuple[tuple[object, ...], ...]
    crews: tuple[tuple[StepId, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """What the making of a job may look at besides, as it was when it began."""

    now: datetime
    facts: tuple[object, ...]
    rooms: tuple[Room, ...]
    people: tuple[tuple[Spans, tuple[Span, ...]], ...]
    air: tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A job as it was made, and what it was made from. off: leave of those who were looked at."""

    part: Part
    inputs: Inputs
    state: State
    reads: Reads
    off: dict[int, list[Span]]


class Memory:
    """What one normalising leaves for the next: bounded by the size of the book."""

    def __init__(self) -> None:
        """Start with nothing."""
        self.texts = Texts()
        self._laid: Laid | None = None
        self._hours: dict[JobId, tuple[Job, Fraction]] = {}
        self._world: World | None = None
        self._people: tuple[object, ...] = ()
        self._kept: dict[JobId, Kept] = {}

    @property
    def size(self) -> int:
        """Return how many things are kept: jobs, texts, tables."""
        laid = 0 if self._laid is None else self._laid.size
        return len(self._kept) + len(self._hours) + self.texts.count + laid

    def laid(self, grid: Grid) -> Laid:
        """Return what was laid out on a grid."""
        if self._laid is None or self._laid.grid != grid:
            self._laid = Laid(grid)
        return self._laid

    def hours(self, jobs: Iterable[Job]) -> Fraction:
        """Return the person-hours of jobs."""
        known, self._hours = self._hours, {}
        for job in jobs:
            kept = known.get(job.id)
            same = kept is not None and kept[0] is job
            self._hours[job.id] = kept if kept is not None and same else (job, person_hours(job))
        return sum((hours for _, hours in self._hours.values()), Fraction(0))

    def known(self, frame: Frame, steps: "Steps") -> "Known":
        """Return the jobs that may be taken over, where the world is the same."""
        world = world_of(frame)
        kept = self._kept if world == self._world else {}
        return Known(frame, steps, kept, are_hours_alike=frame.book.people == self._people)

    def keep(self, frame: Frame, kept: dict[JobId, Kept]) -> None:
        """Keep the jobs that were made or taken over, and nothing older."""
        self._world, self._people, self._kept = world_of(frame), frame.book.people, kept
        self.laid(frame.grid).tidy({job.id for job in frame.book.jobs})


def world_of(frame: Frame) -> World:
    """Return what all jobs go by."""
    book = frame.book
    crew = zip(book.people, frame.workers, frame.laws.sanding, strict=True)
    return World(
        grid=frame.grid,
        workshop=tuple(getattr(book, name) for name in _WORKSHOP),
        is_measured=is_measured(book),
        crew=(
            tuple(frame.engaged),
            *(
                (person.id, one.can, one.helps, one.pace, one.certificates, sanding)
                for person, one, sanding in crew
            ),
        ),
    )


_WORKSHOP = tuple(name for name in Book.__dataclass_fields__ if name not in _BESIDES)


class Known:
    """Looks whether a job can be taken over as it was."""

    def __init__(
        self,
        frame: Frame,
        steps: "Steps",
        kept: dict[JobId, Kept],
        *,
        are_hours_alike: bool,
    ) -> None:
        """Take what is kept, and whether everybody works the hours they did."""
        self._frame, self._steps, self._kept = frame, steps, kept
        self._are_hours_alike = are_hours_alike
        self._placements = self._by_job()

    def _by_job(self) -> dict[JobId, list[Placement]]:
        found: dict[JobId, list[Placement]] = {}
        for (step, _, _), placement in self._steps.told_placements.items():
            owner = self._steps.owner(step)
            if owner is not None:
                found.setdefault(owner, []).append(placement)
        return found

    def inputs(self, job: Job, late: int | None) -> Inputs:
        """Return what a job goes by."""
        frame, left_out = self._frame, self._steps.left_out
        return Inputs(
            job=job,
            told=tuple(
                (step.id, frame.told(step.id))
                for step in (job.steps if frame.book.facts else ())
                if frame.told(step.id) is not NOTHING
            ),
            placements=tuple(self._placements.get(job.id, ())),
            left_out=tuple(
                (step.id, left_out[step.id])
                for step in (job.steps if left_out else ())
                if step.id in left_out
            ),
            late=late,
            elsewhere=tuple(self._elsewhere(job)),
            mates=tuple(self._mates(job)) if frame.mates.are_any else (),
            crews=tuple(
                (step.id, frame.crews_gone[step.id])
                for step in (job.steps if frame.crews_gone else ())
                if step.id in frame.crews_gone
            ),
        )

    def _elsewhere(self, job: Job) -> Iterator[tuple[StepId, Reached | None, Step | None]]:
        named = [after.step for step in job.steps for after in step.after or ()]
        own = {step.id for step in job.steps} if named else set()
        for step in dict.fromkeys(named):
            if step not in own:
                yield step, self._steps.reached.get(step), self._steps.by_id.get(step)

    def _mates(self, job: Job) -> Iterator[tuple[object, ...]]:
        mates = self._frame.mates
        for step in job.steps:
            for mate in mates.of(step.id):
                yield step.id, mate, mates.told_people(mate.id), mates.has_begun(mate.id)

    def state(self) -> State:
        """Return how things stand before a job is made."""
        frame = self._frame
        return State(
            now=frame.now,
            facts=frame.book.facts,
            rooms=tuple(frame.rooms.made),
            people=tuple(
                (worker.busy, tuple(held))
                for worker, held in zip(frame.workers, frame.held, strict=True)
            ),
            air=frame.air.held,
        )

    def find(self, inputs: Inputs, state: State) -> Kept | None:
        """Return a job as it was made before, None where something changed that it goes by."""
        kept = self._kept.get(inputs.job.id)
        if kept is None or kept.inputs != inputs:
            return None
        is_alike = (
            _is_alike(kept.reads, kept.state, state)
            and (self._are_hours_alike or self._works_as_before(kept))
            and self._meets_alike(kept.part)
        )
        return kept if is_alike else None

    def _meets_alike(self, part: Part) -> bool:
        """Return whether what a job asks for has the positions it had.

        Asked last: what is asked for here, the making of the job would ask for as well.
        """
        skills, certificates, deeds = self._frame.skills, self._frame.certificates, part.deeds
        return all(skills.position(skill) == at for skill, at in deeds.skills) and all(
            certificates.position(each) == at for each, at in deeds.certificates
        )

    def _works_as_before(self, kept: Kept) -> bool:
        """Return whether the hours of people that were looked at lead to the same."""
        frame, never, reads = self._frame, self._steps.never, kept.reads
        return (
            not reads.hours
            and all(self._off(worker) == off for worker, off in kept.off.items())
            and all(never.is_alone(worker) == alone for worker, alone in reads.alone.items())
            and all(
                frame.presence.of(clear, by_people, steps) == holding
                for clear, by_people, steps, holding in reads.presence
            )
        )

    def off(self, reads: Reads) -> dict[int, list[Span]]:
        """Return the leave of those who were looked at."""
        return {worker: self._off(worker) for worker in reads.people}

    def _off(self, worker: int) -> list[Span]:
        return off_of(self._frame, self._frame.book.people[worker])


def _is_alike(reads: Reads, old: State, new: State) -> bool:
    return (
        (not reads.now or old.now == new.now)
        and (not reads.facts or old.facts == new.facts)
        and (not reads.air or old.air == new.air)
        and all(old.rooms[room] == new.rooms[room] for room in reads.rooms)
        and all(old.people[worker] == new.people[worker] for worker in reads.people)
    )

"""Booth loads: which stages of a job could be sprayed at once, and what that would save."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from fractions import Fraction

from scheduler.cured import cured
from scheduler.normalise.acts import acts_done, clear_out_minutes
from scheduler.normalise.planned import planned_jobs
from scheduler.normalise.rooms import footprint, place_capacity
from scheduler.normalise.ways import bench_steps
from shared.book import Act, Book, Job, Place, PlaceKind, Skill, SkillLevel, Stage, Way
from shared.edits import take_loads
from shared.ids import JobId, PlaceId, SegmentId, StepId
from shared.loads import NoLoad, joined, likeness, usual_pieces_most
from shared.order import afters_of, in_order, segments_of
from shared.plan import Plan
from shared.trade import defaults
from shared.units import STEP_MINUTES, area_up
from shared.worktime import Shift

_DAY_MINUTES = 24 * 60
_Piece = tuple[SegmentId, ...]
"""The segments of a stage, which are one piece here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """Stages alike, each on pieces of its own, that could be sprayed in a booth at once.

    work_minutes, clearance_minutes, cure_minutes: by which the booth is taken for less long,
    with one set-up and mix, one clearance, and one cure where the pieces stay in it.
    """

    name: str
    steps: tuple[StepId, ...]
    place: PlaceId
    work_minutes: int
    clearance_minutes: int
    cure_minutes: int = 0

    @property
    def booth_minutes(self) -> int:
        """Return how much less long the booth is taken."""
        return self.work_minutes + self.clearance_minutes + self.cure_minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """Pieces of one job that could go through the booth together, coat by coat.

    A load of one coat alone would let its recoat time run out while the pieces wait for the next
    one after the other, so all coats that they share are loads.
    """

    job: JobId
    segments: tuple[SegmentId, ...]
    loads: tuple[Load, ...]

    @property
    def booth_minutes(self) -> int:
        """Return how much less long the booth is taken, all loads together."""
        return sum(load.booth_minutes for load in self.loads)


def proposals(
    book: Book, now: datetime, *, pieces_most: int | None = None, plan: Plan | None = None
) -> tuple[Proposal, ...]:
    """Return what could be sprayed at once and taken together, in the order of the book.

    pieces_most: in one load; None means the slots of the booth, or what its area holds, or the
    usual number where it has neither. plan: from which to take how long each cures in the booth;
    without one it is as written.
    """
    maker, taken = _Maker(book, pieces_most, plan), book
    found: list[Proposal] = []
    for job in planned_jobs(book, now, ()):
        for proposal in maker.of_job(job):
            try:
                taken = take(taken, proposal)
            except NoLoad:
                continue
            found.append(proposal)
    return tuple(found)


def take(book: Book, proposal: Proposal) -> Book:
    """Return the book with all loads of a proposal taken.

    Raises
    ------
    NoLoad
        If something that was taken before stands against it.
    """
    return take_loads(book, [load.steps for load in proposal.loads]).book


def booth_minutes(book: Book, plan: Plan) -> int:
    """Return how long booths are taken in a plan: work, cures in them, and clearances."""
    places = {place.id: place for place in book.places if place.kind is PlaceKind.BOOTH}
    steps = {step.id: (job, step) for job in book.jobs for step in job.steps}
    cures = _cure_minutes(book, plan)
    total = 0
    for placement in plan.placements:
        place = places.get(placement.place) if placement.place is not None else None
        job, step = steps.get(placement.step, (None, None))
        if place is None or job is None or step is None:
            continue
        stays = isinstance(step, Stage) and step.stays and not placement.part
        total += int((placement.end - placement.start).total_seconds()) // 60
        total += cures.get(placement.step, 0) if stays else 0
        total += clear_out_minutes(place, acts_done(job, step, placement.part))
    return total


def _cure_minutes(book: Book, plan: Plan) -> dict[StepId, int]:
    """Return how long each step of a plan cures."""
    return {
        step: int((one.ready - one.end).total_seconds()) // 60
        for step, one in cured(book, plan).items()
    }


class _Maker:
    """Finds the loads of a book, job by job."""

    def __init__(self, book: Book, pieces_most: int | None, plan: Plan | None) -> None:
        self._book, self._most = book, pieces_most
        self._cures = {} if plan is None else _cure_minutes(book, plan)
        self._places = {place.id: place for place in book.places}
        self._told = {fact.step for fact in book.facts}

    def of_job(self, job: Job) -> Iterator[Proposal]:
        """Give what could go through the booth together of a job."""
        groups = _groups(job, self._sprayed(job))
        for pieces in self._together(job, groups):
            chosen = [[stage for stage in group if stage.segments in pieces] for group in groups]
            yield Proposal(
                job=job.id,
                segments=tuple(segment for piece in pieces for segment in piece),
                loads=tuple(self._load(job, stages) for stages in chosen if stages),
            )

    def _together(self, job: Job, groups: Sequence[Sequence[Stage]]) -> list[list[_Piece]]:
        """Return pieces with the same coats, each with the first that all coats have room for."""
        coats: dict[_Piece, list[int]] = defaultdict(list)
        for number, group in enumerate(groups):
            for stage in group:
                coats[stage.segments].append(number)
        found: list[list[_Piece]] = []
        for piece, numbers in coats.items():
            for load in found:
                wider = [*load, piece]
                if coats[load[0]] == numbers and self._all_fit(job, groups, numbers, wider):
                    load.append(piece)
                    break
            else:
                found.append([piece])
        return [load for load in found if len(load) > 1]

    def _all_fit(
        self,
        job: Job,
        groups: Sequence[Sequence[Stage]],
        numbers: Iterable[int],
        pieces: Sequence[_Piece],
    ) -> bool:
        """Return whether each of some coats can be sprayed on some pieces at once."""
        coats = ([s for s in groups[number] if s.segments in pieces] for number in numbers)
        return all(self._place(job, stages) is not None for stages in coats)

    def _sprayed(self, job: Job) -> Iterator[Stage]:
        """Give the stages still to be sprayed in a booth, on pieces of their own."""
        for step in job.steps:
            if not isinstance(step, Stage) or not step.segments or not step.ways:
                continue
            is_free = step.id not in self._told and step.pin is None
            places = self._offered(step.ways[0])
            in_booth = bool(places) and all(place.kind is PlaceKind.BOOTH for place in places)
            if is_free and in_booth and Act.SPRAY in defaults.acts_of(step):
                yield step

    def _offered(self, way: Way) -> list[Place]:
        named = [self._places[place] for place in way.places if place in self._places]
        of_kind = [place for place in self._book.places if place.kind in way.place_kinds]
        return list(dict.fromkeys([*named, *of_kind]))

    def _place(self, job: Job, stages: Sequence[Stage]) -> Place | None:
        """Return the booth that takes them at once, None where none does."""
        load = joined(stages)
        if load.in_one_go and _bench(self._book, load) > _longest_go(self._book, load.ways[0]):
            return None
        fitting = (place for place in self._offered(load.ways[0]) if self._fits(job, load, place))
        return next(fitting, None)

    def _fits(self, job: Job, load: Stage, place: Place) -> bool:
        most = self._most
        if most is None:
            most = place.slots
        if most is None and place.area_m2 is None:
            most = usual_pieces_most()
        if most is not None and len(load.segments) > most:
            return False
        if place.area_m2 is None:
            return True
        pieces, wanted = segments_of(job, load), load.ways[0].area_m2
        if wanted is None:
            if any(piece.length_m is None or piece.width_m is None for piece in pieces):
                return False
            wanted = footprint(pieces, self._book.workshop.working_room_m)
        return area_up(wanted) <= place_capacity(place)

    def _load(self, job: Job, stages: Sequence[Stage]) -> Load:
        load, place = joined(stages), self._place(job, stages)
        assert place is not None
        alone = sum(_bench(self._book, stage) for stage in stages)
        cleared = clear_out_minutes(place, acts_done(job, load))
        cures = [self._cures.get(stage.id, int(stage.cure_hours * 60)) for stage in stages]
        return Load(
            name=load.name,
            steps=tuple(stage.id for stage in stages),
            place=place.id,
            work_minutes=(alone - _bench(self._book, load)) * STEP_MINUTES,
            clearance_minutes=(len(stages) - 1) * cleared,
            cure_minutes=sum(cures) - max(cures) if load.stays else 0,
        )


def _groups(job: Job, stages: Iterable[Stage]) -> list[list[Stage]]:
    """Return stages that are alike and of which none waits for another, in the job's order.

    Of several like coats on one piece the first is grouped with first ones, and so on: so all
    the loads found can be taken, one after the other.
    """
    alike: dict[Stage, list[Stage]] = defaultdict(list)
    for stage in stages:
        alike[likeness(stage)].append(stage)
    earlier = _earlier(job)
    found: list[list[Stage]] = []
    for group in alike.values():
        ids = {stage.id for stage in group}
        by_rank: dict[int, list[Stage]] = defaultdict(list)
        for stage in group:
            by_rank[len(ids & earlier[stage.id])].append(stage)
        found += [by_rank[rank] for rank in sorted(by_rank)]
    return found


def _earlier(job: Job) -> Mapping[StepId, frozenset[StepId]]:
    """Return, by step, all that comes before it, near or far."""
    afters = afters_of(job)
    found: dict[StepId, frozenset[StepId]] = {}
    for step in in_order(job, afters):
        near = [after.step for after in afters[step.id] if after.step in found]
        found[step.id] = frozenset(near).union(*(found[each] for each in near))
    return found


def _bench(book: Book, stage: Stage) -> int:
    """Return how long a stage takes in its first way, in quarters of an hour."""
    way = stage.ways[0]
    exact = bench_steps(book.workshop, way.hours.likely, way.hands_count, in_one_go=stage.in_one_go)
    return -(-exact.numerator // exact.denominator)


def _longest_go(book: Book, way: Way) -> Fraction:
    """Return the longest that anybody who can do it works in one go, in quarters of an hour."""
    wanted = {need.skill for need in way.needs}
    shifts = [
        shift
        for person in book.people
        if not wanted or any(_can(skill) for skill in person.skills if skill.skill in wanted)
        for shift in person.hours or book.workshop.shifts
    ]
    bridged = book.workshop.bridged_break_minutes
    longest = max((_go_minutes(shift, bridged) for shift in shifts), default=0)
    return Fraction(longest, STEP_MINUTES)


def _can(skill: Skill) -> bool:
    return skill.level in (SkillLevel.CAN, SkillLevel.LEADS)


def _go_minutes(shift: Shift, bridged_minutes: int) -> int:
    """Return the longest working time of a shift between breaks that are not bridged."""
    begins = shift.start.hour * 60 + shift.start.minute
    length = (shift.end.hour * 60 + shift.end.minute - begins - 1) % _DAY_MINUTES + 1
    found, at, worked = 0, 0, 0
    for pause in sorted(shift.breaks, key=lambda pause: _after(begins, pause.start)):
        first, last = _after(begins, pause.start), _after(begins, pause.end)
        worked += max(0, first - at)
        if last - first > bridged_minutes:
            found, worked = max(found, worked), 0
        at = max(at, last)
    return max(found, worked + max(0, length - at))


def _after(begins: int, clock: time) -> int:
    """Return the minutes from the begin of a shift to a time of the clock."""
    return (clock.hour * 60 + clock.minute - begins) % _DAY_MINUTES

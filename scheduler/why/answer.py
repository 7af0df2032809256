"""Why one job stands as it does: its chain of causes, its days, its slack, and how it is known."""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.countback import earliest
from scheduler.energy import Overload
from scheduler.model.alone import alone
from scheduler.normalise import Normal, normalise
from scheduler.outcome import JobOutcome, Rung
from scheduler.place import place
from scheduler.problem import Schedule
from scheduler.proof import Ladder
from scheduler.shifts import first_schedule
from scheduler.slack import working_minutes
from scheduler.terms import FOREVER
from scheduler.urgency import Urgency, shifted_order
from scheduler.why.anatomy import anatomy
from scheduler.why.chain_ends import of_clash
from scheduler.why.chain_links import Link, LinkKind
from scheduler.why.day_classes import Class
from scheduler.why.deciding import Deciding, deciding_of
from scheduler.why.frozen import never_in_place
from scheduler.why.order_values import Left
from scheduler.why.proposed_buffer import proposed_buffer_minutes
from scheduler.why.stage_slack import Slacks
from scheduler.why.values import Why
from scheduler.why.worth import worth_of_class
from shared.book import Book, Gate, Hours, Job, Stage, Step, Way
from shared.ids import JobId
from shared.units import STEP_MINUTES, instant_of

LEFT_OUT = (Class.PEOPLE, Class.PLACE, Class.CURE, Class.CLIENT)
"""Classes of which it is told what they are worth."""
_HOUR_STEPS = 60 // STEP_MINUTES


def why(normal: Normal, schedule: Schedule, told: JobOutcome, index: Index | None = None) -> Why:
    """Return why a job stands as it does in a schedule. told: how it stands there."""
    deciding = deciding_of(normal, schedule, told.id, index)
    position = deciding.position(told.id)
    asked, counted, first = deciding, tuple[Link, ...](), None
    if position is not None and told.rung in (Rung.CHAIN, Rung.ENERGY, Rung.ALONE):
        asked = _of_alone(normal, told) or deciding
        counted = tuple(_counted(normal, position, told))
    elif position is not None and told.missed_by_minutes:
        first = _before_all(deciding, position)
        asked = first or deciding
        told = _where_others_stay(deciding, schedule, told, position)
    days = anatomy(deciding, told.id)
    worths = [(what, worth_of_class(deciding, told.id, what)) for what in LEFT_OUT]
    return Why(
        told=told,
        chain=(*counted, *_of_outcome(deciding, told), *asked.chain(told.id)),
        anatomy=days,
        worths=tuple((what, worth) for what, worth in worths if worth is not None),
        slack=None if position is None else Slacks(normal, schedule, deciding.index).of(told.id),
        needed_minutes=_needed(asked, told.id),
        there_minutes=_there(normal, told),
        even_at_best=_even_at_best(normal, told),
        goes_first=first is not None,
        buffer_minutes=proposed_buffer_minutes(deciding, days),
    )


def _where_others_stay(
    deciding: Deciding, schedule: Schedule, told: JobOutcome, position: int
) -> JobOutcome:
    """Say of a miss that nothing is proved of whether it holds while no other job is moved."""
    if told.rung is not None or deciding.normal.jobs[position].more:
        return told
    holds = never_in_place(deciding.index, schedule, position)
    return replace(told, rung=Rung.FROZEN) if holds else told


def _before_all(deciding: Deciding, position: int) -> Deciding | None:
    """Return the order in which a job goes before all others, None where it is in time then.

    The plan of a job that misses anyway may let others go first, who then seem to be the cause;
    behind it they may lie where they like, so only what is fixed of them counts.
    """
    index, aim = deciding.index, deciding.normal.problem.jobs[position]
    order = shifted_order(index, {position: -FOREVER})
    placed = place(index, order, release=index.once(Urgency).release)
    if isinstance(placed, Unfit) or aim.latest is None:
        return None
    found = Deciding(deciding.normal, _with_what_is_fixed(index, placed, position), index)
    return found if found.loaded(position) > aim.latest else None


def _with_what_is_fixed(index: Index, schedule: Schedule, position: int) -> Schedule:
    """Return a schedule of one job and of what stands where it is for all others."""
    stands = [
        stage.job == position or stage.under_way or stage.fixed_start is not None
        for stage in index.problem.stages
    ]
    jobs = range(len(schedule.trips))
    return Schedule(
        starts=tuple(-1 if not s else at for s, at in zip(stands, schedule.starts, strict=True)),
        ends=tuple(-1 if not s else at for s, at in zip(stands, schedule.ends, strict=True)),
        ways=tuple(-1 if not s else way for s, way in zip(stands, schedule.ways, strict=True)),
        teams=tuple(() if not s else team for s, team in zip(stands, schedule.teams, strict=True)),
        trips=tuple(
            trip if at == position else -1 for at, trip in zip(jobs, schedule.trips, strict=True)
        ),
    )


def _of_outcome(deciding: Deciding, told: JobOutcome) -> Iterator[Link]:
    """Give what else the verdict names: journeys that collide, steps that found no place."""
    if deciding.normal.clashes_of(told.id) or told.rung not in (None, Rung.FREE, Rung.LEGS):
        return
    for clash in told.reasons:
        link = of_clash(clash, told.id)
        if link.id != told.id:
            yield link


def _of_alone(normal: Normal, told: JobOutcome) -> Deciding | None:
    """Return why a job can't even alone: its chain if that is too long, else its plan."""
    if told.rung is not Rung.ENERGY:
        found = _alone(normal, told.id, is_chain=True)
        position = None if found is None else found.position(told.id)
        if found is not None and position is not None:
            latest = found.normal.problem.jobs[position].latest
            if told.rung is Rung.CHAIN or (latest is not None and found.loaded(position) > latest):
                return found
    return _alone(normal, told.id, is_chain=False)


def _alone(normal: Normal, job: JobId, *, is_chain: bool) -> Deciding | None:
    """Return the plan of a job by itself in an otherwise empty workshop.

    is_chain: nobody and nothing is ever waited for, not even for the job's own other steps.
    """
    found = replace(normal.book, jobs=_only(normal.book, job), other_work=())
    small = normalise(found, normal.now, (job,))
    index = Index(small.problem)
    placed = first_schedule(index, 1)
    if isinstance(placed, Unfit):
        return None
    every = frozenset(range(len(small.stages)))
    rooms = frozenset(range(len(small.rooms)))
    left = Left(people=every, rooms=every, booked=rooms) if is_chain else None
    return Deciding(small, placed, index, left=left)


def _only(book: Book, job: JobId) -> tuple[Job, ...]:
    return tuple(each for each in book.jobs if each.id == job)


def _counted(normal: Normal, position: int, told: JobOutcome) -> Iterator[Link]:
    """Give who or where there is too much work, where counting proves it."""
    aim = normal.problem.jobs[position]
    if told.rung is not Rung.ENERGY or aim.latest is None:
        return
    refuted = Ladder(alone(normal.problem, position)).by_counting((aim.latest,))
    if refuted is not None and refuted.overload is not None:
        yield from overload_links(normal, refuted.overload)


def overload_links(normal: Normal, found: Overload) -> Iterator[Link]:
    """Give too much work in a stretch, one link for each of those who would have to do it."""
    names = {person.id: person.name for person in normal.book.people}
    several = ", ".join(names[normal.workers[worker]] for worker in found.workers)
    units = _HOUR_STEPS
    place = None
    if found.room is not None:
        room = normal.rooms[found.room]
        place = room.place or room.equipment
        units *= max(1, normal.problem.rooms[found.room].capacity)
    facts = (
        ("wanted", -(-found.needed // units)),
        ("have", found.there // units),
        ("first", instant_of(normal.origin, found.start).isoformat()),
        ("until", instant_of(normal.origin, found.end).isoformat()),
    )
    for worker in found.workers:
        more = (("others", several), ("count", len(found.workers)))
        yield Link(kind=LinkKind.PERSON, id=normal.workers[worker], facts=(*more, *facts))
    if place is not None:
        yield Link(kind=LinkKind.PLACE, id=place, facts=(("place", place), *facts))


def _needed(deciding: Deciding, job: JobId) -> int | None:
    position = deciding.position(job)
    last = None if position is None else deciding.last(position)
    if last is None:
        return None
    normal = deciding.normal
    end = instant_of(normal.origin, deciding.soon.ends[last])
    return working_minutes(normal.book.workshop, normal.now, end)


def _there(normal: Normal, told: JobOutcome) -> int | None:
    if told.latest_loading is None:
        return None
    return working_minutes(normal.book.workshop, normal.now, told.latest_loading)


def _even_at_best(normal: Normal, told: JobOutcome) -> bool | None:
    """Return whether a proof by counting holds with every hour as low as it is written."""
    if told.rung not in (Rung.CHAIN, Rung.ENERGY):
        return None
    quick = normalise(at_best(normal.book, told.id), normal.now, (told.id,))
    positions = (at for at, name in enumerate(quick.jobs) if name.job.id == told.id)
    position = next(positions, None)
    if position is None:
        return None
    latest = quick.problem.jobs[position].latest
    if latest is None:
        return True
    problem = alone(quick.problem, position)
    if any(end is None for end in _ends(problem, problem.jobs[0].lasts)):
        return True
    return Ladder(problem).by_counting((latest,)) is not None


def _ends(problem: object, lasts: tuple[int, ...]) -> list[int | None]:
    times = earliest(Index(problem))  # type: ignore[arg-type]
    return [times.ends[last] for last in lasts]


def at_best(book: Book, job: JobId) -> Book:
    """Return a book with only one job, all of its hours as low as they are written."""
    jobs = (
        replace(each, steps=tuple(_quick(step) for step in each.steps)) for each in _only(book, job)
    )
    return replace(book, jobs=tuple(jobs), other_work=())


def _quick(step: Step) -> Step:
    if not isinstance(step, Stage | Gate):
        return step
    return replace(step, ways=tuple(_quick_way(way) for way in step.ways))


def _quick_way(way: Way) -> Way:
    low = min(way.hours.low, way.hours.likely)
    return replace(way, hours=Hours(low=low, likely=low, high=max(low, way.hours.high)))

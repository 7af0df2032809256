"""Who could do a piece of work, and when people are free. No Qt, no engine."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from app.window.people import days
from shared.book import Book, Journey, Person, SkillLevel, Stage
from shared.edits import left_on, seated
from shared.edits.lookup import step_of
from shared.ids import PersonId, SegmentId, StepId
from shared.plan import Plan
from shared.worktime import Span, Spans, clip, intersect, subtract, total_seconds, union

AHEAD = timedelta(days=28)
LEAST = timedelta(hours=1)
"""So long somebody is free at a stretch before it is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """Somebody who could do it. free_from: the first free hour from then on, None in four weeks.

    is_free: while it is planned. only_helps: is not among those who can do it, but may help.
    stage_count: of what is left on a segment, so many stages are for this person.
    """

    person: PersonId
    name: str
    is_free: bool
    free_from: datetime | None
    only_helps: bool = False
    stage_count: int = 0


def busy(book: Book, plan: Plan | None) -> dict[PersonId, Spans]:
    """Return when everybody is held: by stages from start to end, on the road, by other work."""
    loose: dict[PersonId, list[Span]] = {person.id: [] for person in book.people}
    for people, start, end in _held(book, plan):
        for person in people:
            if person in loose and start < end:
                loose[person].append(Span(start=start, end=end))
    return {person: union(spans) for person, spans in loose.items()}


def _held(
    book: Book, plan: Plan | None
) -> Iterable[tuple[tuple[PersonId, ...], datetime, datetime]]:
    crews = {s.id: s.crew for job in book.jobs for s in job.steps if isinstance(s, Journey)}
    for work in book.other_work:
        yield work.people, work.start, work.end
    if plan is None:
        return
    for placed in plan.placements:
        yield placed.people, placed.start, placed.end
    for trip in plan.trips:
        yield crews.get(trip.step, ()), trip.crew_from or trip.start, trip.free


def free(book: Book, held: Spans, person: Person, first: datetime, last: datetime) -> Spans:
    """Return when somebody is there and not held."""
    return subtract(days.there(book, person, first, last), held)


def candidates(
    book: Book,
    plan: Plan,
    now: datetime,
    step_id: StepId,
    team: tuple[PersonId, ...],
    instead_of: PersonId | None,
) -> tuple[Candidate, ...]:
    """Return who could do a stage in somebody's place, those first who are free then."""
    stage = step_of(book, step_id)
    placed = next((p for p in plan.placements if p.step == step_id and not p.part), None)
    if not isinstance(stage, Stage) or placed is None:
        return ()
    held = busy(book, plan)
    by_id = {person.id: person for person in book.people}
    rest = [by_id[one] for one in team if one != instead_of and one in by_id]
    start = max(now, placed.start)
    found = []
    for person in book.people:
        if person.id in team or not _may(stage, rest, person, placed.end):
            continue
        made = _candidate(book, held[person.id], person, start, placed.end)
        found.append(_with_help(made, stage, rest, person))
    return tuple(sorted(found, key=_rank))


def of_segment(book: Book, plan: Plan, now: datetime, segment: SegmentId) -> tuple[Candidate, ...]:
    """Return who could do something of what is left on a segment, those first who can do most."""
    stages = left_on(book, segment)
    held = busy(book, plan)
    ids = {stage.id for stage in stages}
    times = [p for p in plan.placements if p.step in ids]
    if not times:
        return ()
    start = max(now, min(p.start for p in times))
    end = max(p.end for p in times)
    found = []
    for person in book.people:
        count = sum(bool(seated(stage, (person,))) for stage in stages)
        if not count:
            continue
        made = _candidate(book, held[person.id], person, start, end)
        found.append(
            Candidate(
                person=made.person,
                name=made.name,
                is_free=made.is_free,
                free_from=made.free_from,
                stage_count=count,
            )
        )
    return tuple(sorted(found, key=lambda one: (-one.stage_count, *_rank(one))))


def _may(stage: Stage, rest: list[Person], person: Person, until: datetime) -> bool:
    """Return whether somebody, with the rest of a team, finds a seat and holds what is asked."""
    team = (*rest, person)
    if set(seated(stage, team)) != {one.id for one in team}:
        return False
    held = {each.certificate: each for each in person.certificates}
    return all(
        wanted in held and _is_valid(held[wanted].expires, until) for wanted in stage.certificates
    )


def _is_valid(expires: object, until: datetime) -> bool:
    return expires is None or expires >= until.date()  # type: ignore[operator]


def _with_help(made: Candidate, stage: Stage, rest: list[Person], person: Person) -> Candidate:
    skills = {need.skill for way in stage.ways for need in way.needs}
    levels = {each.level for each in person.skills if each.skill in skills}
    only_helps = levels <= {SkillLevel.HELPS}
    return Candidate(
        person=made.person,
        name=made.name,
        is_free=made.is_free,
        free_from=made.free_from,
        only_helps=only_helps,
    )


def _candidate(
    book: Book, held: Spans, person: Person, start: datetime, end: datetime
) -> Candidate:
    there = days.there(book, person, start, start + AHEAD)
    open_ = subtract(there, held)
    wanted = clip(there, start, end)
    is_free = bool(wanted) and total_seconds(intersect(wanted, open_)) == total_seconds(wanted)
    long = [span for span in open_ if span.end - span.start >= LEAST]
    return Candidate(
        person=person.id,
        name=person.name,
        is_free=is_free,
        free_from=long[0].start if long else None,
    )


def _rank(one: Candidate) -> tuple[bool, bool, bool, float, str]:
    far = one.free_from.timestamp() if one.free_from else 0.0
    return not one.is_free, one.only_helps, one.free_from is None, far, one.name


def free_stretches(
    book: Book, plan: Plan | None, person: Person, now: datetime, count: int
) -> tuple[Span, ...]:
    """Return the next stretches of an hour or more in which somebody is free, breaks bridged."""
    return stretches(book, busy(book, plan)[person.id], person, now)[:count]


def stretches(book: Book, held: Spans, person: Person, now: datetime) -> tuple[Span, ...]:
    """Return all of these, of somebody who is held at known times, told in half hours."""
    found: list[Span] = []
    bridged = timedelta(minutes=book.workshop.bridged_break_minutes)
    there = days.there(book, person, now, now + AHEAD)
    known = {at for span in there for at in (span.start, span.end)}
    zone = book.workshop.zone
    for span in free(book, held, person, now, now + AHEAD):
        if found and span.start - found[-1].end <= bridged and not _cuts(held, found[-1], span):
            found[-1] = Span(start=found[-1].start, end=span.end)
        else:
            found.append(span)
    long = (span for span in found if span.end - span.start >= LEAST)
    return tuple(days.half_hours_within(span, zone, known) for span in long)


def _cuts(held: Spans, before: Span, after: Span) -> bool:
    return bool(clip(held, before.end, after.start)) if before.end < after.start else False

"""Edits with ready-made legs: written into the journeys of a job."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from shared.book import (
    Arrangement,
    Book,
    Gate,
    GateKind,
    Hours,
    Job,
    Journey,
    Leg,
    LegKind,
    Step,
    Way,
)
from shared.edits.edited import Edited, NoSuchThing, fresh_id, job_of, label, of_job
from shared.edits.lookup import step_ids
from shared.ids import JobId, SegmentId, StepId
from shared.journeys import HOME, SITE, ReadyLegs
from shared.units import decimal_of

_DECIMALS = 3

_ARRANGED = {LegKind.LIFT: "crane", LegKind.SAILING: "sailing", LegKind.TRAIN: "train"}
"""What has to be arranged with others for a leg of a kind."""


def take_legs(book: Book, job_id: JobId, ready: ReadyLegs) -> Edited:
    """Write ready-made legs into a job, in the place of those of its journeys.

    A journey keeps its id, name, pieces, crew, vehicles and means where it has some. Legs of a
    kind stay as they are where there are as many of that kind as before. Where the ready-made
    legs are several journeys, the pieces are shared out among as many, each with a loading of its
    own. Cranes and sailings become arrangements that are to ask for.

    Raises NoSuchThing when there is no such job, or when it has fewer pieces than journeys.
    """
    job = job_of(book, job_id)
    taken = step_ids(book)
    if not any(isinstance(step, Journey) for step in job.steps):
        job = _with_journey(job, ready, taken)
    job = _shared_out(job, ready, taken)
    found = [step for step in job.steps if isinstance(step, Journey)]
    made = {
        old.id: _written(book, job, old, ready.journeys[min(at, len(ready.journeys) - 1)])
        for at, old in enumerate(found)
    }
    job = replace(job, steps=tuple(made.get(step.id, step) for step in job.steps))
    job = replace(job, arrangements=_arranged(job, list(made.values())))
    return of_job(book, job, label("take_legs", name=job.name, legs=ready.name))


def _with_journey(job: Job, ready: ReadyLegs, taken: set[str]) -> Job:
    first = ready.journeys[0]
    made = Journey(id=StepId(fresh_id(f"{job.id}.{first.id}", taken)), name=first.name)
    taken.add(made.id)
    return replace(job, steps=(*job.steps, made))


def _written(book: Book, job: Job, old: Journey, new: Journey) -> Journey:
    """Give a journey with new legs and what it keeps of its own."""
    known = {thing.id for thing in book.equipment}
    vehicles = tuple(each for each in new.vehicles if each in known)
    travel = tuple(each for each in new.travel_vehicles if each in known)
    legs = tuple(_bound(book, job, leg) for leg in _kept(old.legs, new.legs))
    goes_home = any(leg.kind is LegKind.RETURN for leg in legs)
    is_driven = any(leg.kind is LegKind.DRIVE for leg in legs)
    own = old.vehicles if is_driven else ()
    return replace(
        old,
        legs=legs,
        vehicles=own or (() if old.means or new.means else vehicles),
        means=(old.means or (() if own else new.means)) if is_driven else (),
        travel=old.travel or tuple(_bound(book, job, leg) for leg in new.travel),
        travel_vehicles=old.travel_vehicles or travel,
        back_minutes=0 if goes_home or not is_driven else old.back_minutes,
    )


def _kept(old: Sequence[Leg], new: Sequence[Leg]) -> list[Leg]:
    """Give new legs; those of a kind of which there are as many as before are the old ones."""
    before: dict[LegKind, list[Leg]] = {}
    for leg in old:
        before.setdefault(leg.kind, []).append(leg)
    wanted = [leg.kind for leg in new]
    same = {kind for kind, legs in before.items() if len(legs) == wanted.count(kind)}
    return [_own(before[leg.kind].pop(0), leg) if leg.kind in same else leg for leg in new]


def _own(old: Leg, new: Leg) -> Leg:
    """Give a leg as it was, on the roads and by the clock of the new one where it names none."""
    is_placed = old.country is not None or bool(old.shares)
    return replace(
        old, country=old.country if is_placed else new.country, zone=old.zone or new.zone
    )


def _bound(book: Book, job: Job, leg: Leg) -> Leg:
    """Give a leg with the countries and clocks of the workshop and the site."""
    home, site = book.workshop, job.site
    countries = {HOME: home.country, SITE: site.country}
    zones = {HOME: home.zone, SITE: site.zone}
    return replace(
        leg,
        country=None if leg.country is None else countries.get(leg.country, leg.country),
        zone=None if leg.zone is None else zones.get(leg.zone, leg.zone),
    )


def _arranged(job: Job, journeys: Sequence[Journey]) -> tuple[Arrangement, ...]:
    """Give the job's arrangements, those of legs that are gone left out, new ones to ask for."""
    mine = {journey.id for journey in journeys}
    kept = [each for each in job.arrangements if each.journey not in mine or each.leg is None]
    taken = {each.id for each in kept}
    for journey in journeys:
        for number, leg in enumerate(journey.legs, 1):
            if leg.kind in _ARRANGED:
                what = _ARRANGED[leg.kind]
                old = _same_arrangement(job, journey, what)
                new_id = fresh_id(f"{journey.id}.{what}", taken)
                new = old or Arrangement(id=new_id, what=what, name=leg.name, journey=journey.id)
                taken.add(new.id)
                kept.append(replace(new, leg=number))
    return tuple(kept)


def _same_arrangement(job: Job, journey: Journey, what: str) -> Arrangement | None:
    """Give what was arranged for a leg of that sort, where there was just one."""
    found = [each for each in job.arrangements if each.journey == journey.id and each.what == what]
    wanted = sum(_ARRANGED.get(leg.kind) == what for leg in journey.legs)
    return found[0] if len(found) == 1 == wanted else None


def _shared_out(job: Job, ready: ReadyLegs, taken: set[str]) -> Job:
    """Give the job with as many journeys at least, each with its loading and its pieces."""
    count = len(ready.journeys)
    journeys = [step for step in job.steps if isinstance(step, Journey)]
    if len(journeys) >= count or len(journeys) != 1:
        return job
    old = journeys[0]
    over = old.segments or tuple(segment.id for segment in job.segments)
    if len(over) < count:
        raise NoSuchThing(f"{job.id}: {count} pieces")
    parts = _parts(over, count)
    loading = next((step for step in job.steps if _loads(step, over)), None)
    steps: list[Step] = []
    for step in job.steps:
        if step is loading or step is old:
            steps += _split(step, parts, ready, taken)
        else:
            steps.append(step)
    return replace(job, steps=tuple(steps))


def _parts(over: Sequence[SegmentId], count: int) -> list[tuple[SegmentId, ...]]:
    ends = [at * len(over) // count for at in range(count + 1)]
    return [tuple(over[ends[at] : ends[at + 1]]) for at in range(count)]


def _split(
    step: Step, parts: Sequence[tuple[SegmentId, ...]], ready: ReadyLegs, taken: set[str]
) -> list[Step]:
    """Give a loading or journey once for each part; the first keeps the id."""
    total = sum(len(part) for part in parts)
    made: list[Step] = []
    for at, part in enumerate(parts):
        new_id = step.id if at == 0 else StepId(fresh_id(step.id, taken))
        taken.add(new_id)
        one = replace(step, id=new_id, segments=part)
        if isinstance(one, Journey):
            one = replace(one, name=ready.journeys[at].name)
        else:
            one = replace(one, ways=tuple(_shorter(w, len(part), total) for w in one.ways))
        made.append(one)
    return made


def _shorter(way: Way, part: int, total: int) -> Way:
    """Give a way with its hours for some of the pieces."""

    def share(hours: Decimal) -> Decimal:
        return decimal_of(Fraction(hours) * part / total, _DECIMALS)

    old = way.hours
    hours = Hours(low=share(old.low), likely=share(old.likely), high=share(old.high))
    return replace(way, hours=hours)


def _loads(step: Step, over: Sequence[SegmentId]) -> bool:
    """Say whether a step loads all of these pieces."""
    if not isinstance(step, Gate) or step.gate is not GateKind.LOADING:
        return False
    return not step.segments or set(over) == set(step.segments)

"""Whether a plan that uses levers keeps the law about hours, company and training.

Driving and work on site count as work. Nobody is alone at what is never done alone in hours that
a lever opened, whatever the workshop's own list says. Nobody does what they are only then trained
for before that.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from scheduler.levers.attendance import attendance, morning
from scheduler.levers.law import Week, span_of
from scheduler.normalise import Normal
from scheduler.problem import Schedule
from scheduler.unfold import to_plan
from shared.book import Book, Job, Journey, Person, Stage, Step
from shared.ids import PersonId
from shared.levers import Lever, LeverKind
from shared.plan import Doing, Placement, Plan, Trip
from shared.trade import defaults
from shared.worktime import Span, Spans, clip, intersect, subtract, union

_WORKED = frozenset(
    {Doing.DRIVE, Doing.WORK, Doing.BOARD, Doing.BOARD_IN_REST, Doing.LAND, Doing.LAND_IN_REST}
)


def is_lawful(book: Book, normal: Normal, schedule: Schedule, levers: Sequence[Lever]) -> bool:
    """Return whether a schedule of a book with levers pulled keeps the law. levers: pulled."""
    plan = to_plan(normal, schedule)
    hours = [lever for lever in levers if lever.kind is LeverKind.OVERTIME]
    trained = [lever for lever in levers if lever.kind is LeverKind.TRAINING]
    return (
        _rests(book, plan, hours)
        and _in_company(book, plan, hours)
        and all(_trained_in_time(book, plan, lever) for lever in trained)
    )


def _rests(book: Book, plan: Plan, levers: Sequence[Lever]) -> bool:
    people = {str(person.id): person for person in book.people}
    weeks: dict[str, Week] = {}
    for lever in levers:
        about = lever.about[0]
        if about not in weeks:
            weeks[about] = Week(book, people[about], on_the_way(book, plan, people[about].id))
        if weeks[about].forbids(span_of(lever)) is not None:
            return False
    return True


def on_the_way(book: Book, plan: Plan, person: PersonId) -> Spans:
    """Return when a person drives or works on site in a plan."""
    return union(span for trip in _trips_of(book, plan, person) for span in _worked(trip))


def _trips_of(book: Book, plan: Plan, person: PersonId) -> Iterator[Trip]:
    """Yield the trips that a person goes along with."""
    journeys = {
        step.id: step for job in book.jobs for step in job.steps if isinstance(step, Journey)
    }
    for trip in plan.trips:
        if trip.step in journeys and person in _along(journeys[trip.step], trip):
            yield trip


def _along(journey: Journey, trip: Trip) -> tuple[PersonId, ...]:
    means = next((each for each in journey.means if each.id == trip.means), None)
    return (*journey.crew, *(means.driven_by if means is not None else ()))


def _worked(trip: Trip) -> Iterator[Span]:
    stretches = (*trip.stretches, *trip.travel)
    if stretches:
        pairs = ((each.start, each.end) for each in stretches if each.doing in _WORKED)
    else:
        pairs = ((leg.start, leg.end) for leg in trip.legs)
    for start, end in pairs:
        if start < end:
            yield Span(start=start, end=end)


def _in_company(book: Book, plan: Plan, levers: Sequence[Lever]) -> bool:
    """Return whether somebody else is in the building while one works alone in new hours."""
    if not levers or book.workshop.never_alone is None:
        return True
    steps = {step.id: step for job in book.jobs for step in job.steps}
    opened: dict[str, list[Span]] = {}
    for lever in levers:
        opened.setdefault(lever.about[0], []).append(span_of(lever))
    for placed in plan.placements:
        if len(placed.people) != 1 or not _is_never_alone(steps.get(placed.step)):
            continue
        person = placed.people[0]
        inside = clip(union(opened.get(str(person), ())), placed.start, placed.end)
        if inside and _alone(book, plan, person, inside):
            return False
    return True


def _is_never_alone(step: Step | None) -> bool:
    if not isinstance(step, Stage):
        return False
    return not frozenset(defaults.acts_of(step)).isdisjoint(defaults.NEVER_ALONE)


def _alone(book: Book, plan: Plan, person: PersonId, spans: Spans) -> Spans:
    """Return when nobody but a person is in the building."""
    left = intersect(spans, _there(book, plan, _one(book, person), spans))
    for other in book.people:
        if left and other.id != person:
            left = subtract(left, _there(book, plan, other, spans))
    return left


def _there(book: Book, plan: Plan, person: Person, spans: Spans) -> Spans:
    present = attendance(book, person, spans[0].start, spans[-1].end)
    return subtract(present, _away(book, plan, person.id))


def _away(book: Book, plan: Plan, person: PersonId) -> Spans:
    return union(
        Span(start=trip.crew_from or trip.start, end=trip.free)
        for trip in _trips_of(book, plan, person)
        if (trip.crew_from or trip.start) < trip.free
    )


def _one(book: Book, person: PersonId) -> Person:
    return next(each for each in book.people if each.id == person)


def _trained_in_time(book: Book, plan: Plan, lever: Lever) -> bool:
    """Return whether nobody does before the training what it is for."""
    offer = next(each for each in book.offers if each.id == lever.offer)
    if lever.first is None:
        return True
    ready = morning(book.workshop.zone, lever.first)
    asks = {
        step.id
        for job in book.jobs
        for step in job.steps
        if isinstance(step, Stage)
        and not frozenset(step.certificates).isdisjoint(offer.certificates)
    }
    early = (placed for placed in plan.placements if placed.step in asks and placed.start < ready)
    return not any(_needs(book, placed, lever, offer.certificates) for placed in early)


def _needs(book: Book, placed: Placement, lever: Lever, certificates: tuple[str, ...]) -> bool:
    """Return whether one of the team would not hold the certificates without the training."""
    trained = (person for person in placed.people if person in lever.about)
    return any(_had_not(_one(book, person), placed, certificates) for person in trained)


def _had_not(person: Person, placed: Placement, certificates: tuple[str, ...]) -> bool:
    # What a training gives stands behind what was held before.
    held = person.certificates[: -len(certificates)]
    return any(
        not any(
            each.certificate == wanted
            and (each.expires is None or each.expires >= placed.end.date())
            for each in held
        )
        for wanted in certificates
    )


def careful(book: Book, levers: Sequence[Lever]) -> Book:
    """Return a book by which a plan keeps more of the law than the book itself asks for.

    Where extra hours are taken nobody is alone at what should never be done alone; nothing that
    a training is for begins before it.
    """
    never = book.workshop.never_alone
    if never is not None and any(lever.kind is LeverKind.OVERTIME for lever in levers):
        more = tuple(act for act in defaults.NEVER_ALONE if act not in never)
        if more:
            book = replace(book, workshop=replace(book.workshop, never_alone=(*never, *more)))
    for lever in levers:
        if lever.kind is LeverKind.TRAINING and lever.first is not None:
            offer = next(each for each in book.offers if each.id == lever.offer)
            first, wanted = lever.first, frozenset(offer.certificates)
            book = replace(book, jobs=tuple(_waiting(job, wanted, first) for job in book.jobs))
    return book


def _waiting(job: Job, certificates: frozenset[str], first: date) -> Job:
    steps = tuple(_waits(step, certificates, first) for step in job.steps)
    same = all(one is other for one, other in zip(steps, job.steps, strict=True))
    return job if same else replace(job, steps=steps)


def _waits(step: Step, certificates: frozenset[str], first: date) -> Step:
    if not isinstance(step, Stage) or certificates.isdisjoint(step.certificates):
        return step
    return replace(step, not_before=max(first, step.not_before or first))

"""Levers pulled: each a pure edit of a book, and several at once as one edit."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

from shared.book import (
    Book,
    Booking,
    Certificate,
    Engaged,
    EngagementState,
    Gate,
    Job,
    Journey,
    Offer,
    Person,
    Place,
    Stage,
    Step,
)
from shared.edits.edited import Changed, Edited, found, job_of, label
from shared.edits.levers_away import hired_out, made_faster
from shared.edits.levers_trips import with_means, with_sailings
from shared.edits.lookup import job_of_step, person_of, step_of
from shared.ids import JobId, OfferId, PersonId, StepId, WindowId
from shared.levers import Lever, LeverKind

_Pull = Callable[[Book, Lever], Book]
_A_DAY = timedelta(days=1)


def pull(book: Book, lever: Lever) -> Edited:
    """Give the book with a lever pulled.

    Raises
    ------
    NoSuchThing
        If the book doesn't have what the lever is about.
    """
    return pull_all(book, (lever,))


def pull_all(book: Book, levers: Iterable[Lever]) -> Edited:
    """Give the book with some levers pulled, as one edit.

    Raises
    ------
    NoSuchThing
        If the book doesn't have what one of them is about.
    """
    made, pulled = book, tuple(levers)
    for lever in pulled:
        made = _PULLS[lever.kind](made, lever)
    was = {job.id: job for job in book.jobs}
    changed = Changed(
        jobs=frozenset(job.id for job in made.jobs if was.get(job.id) is not job),
        people=made.people is not book.people,
        workshop=made.places is not book.places or made.equipment is not book.equipment,
    )
    code = "take_way_out" if len(pulled) != 1 else "pull_lever"
    told = label(code, count=len(pulled), kind=str(pulled[0].kind) if pulled else "")
    new = replace(made, revision=book.revision + 1)
    return Edited(book=new, changed=changed, label=told)


def _person(book: Book, old: Person, new: Person) -> Book:
    return replace(book, people=tuple(new if each is old else each for each in book.people))


def _step(book: Book, new: Step) -> Book:
    job = job_of_step(book, new.id)
    return _job(book, replace(job, steps=tuple(new if s.id == new.id else s for s in job.steps)))


def _job(book: Book, new: Job) -> Book:
    return replace(book, jobs=tuple(new if each.id == new.id else each for each in book.jobs))


def _offer(book: Book, lever: Lever) -> Offer:
    offer: Offer = found(book.offers, lambda each: each.id == lever.offer, lever.offer)
    return offer


def _taken(book: Book, offer: OfferId) -> Book:
    offers = (replace(each, taken=True) if each.id == offer else each for each in book.offers)
    return replace(book, offers=tuple(offers))


def _overtime(book: Book, lever: Lever) -> Book:
    person = person_of(book, PersonId(lever.about[0]))
    hours = [
        each
        for each in person.overtime_offered
        if (each.start, each.end) == (lever.start, lever.end)
    ]
    left = tuple(each for each in person.overtime_offered if each not in hours)
    taken = (*person.overtime_taken, *(each for each in hours if each not in person.overtime_taken))
    return _person(book, person, replace(person, overtime_offered=left, overtime_taken=taken))


def _freelancer(book: Book, lever: Lever) -> Book:
    person = person_of(book, PersonId(lever.about[0]))
    engaged = [part for each in person.engaged for part in _confirmed(each, lever)]
    return _person(book, person, replace(person, engaged=tuple(engaged)))


def _confirmed(engaged: Engaged, lever: Lever) -> list[Engaged]:
    """Return a stretch in parts, the days of the lever confirmed."""
    first, last = lever.first, lever.last
    assert first is not None
    assert last is not None
    if engaged.state is EngagementState.CONFIRMED or engaged.last < first or engaged.first > last:
        return [engaged]
    found = []
    if engaged.first < first:
        found.append(replace(engaged, last=first - _A_DAY))
    middle = replace(engaged, first=max(engaged.first, first), last=min(engaged.last, last))
    found.append(replace(middle, state=EngagementState.CONFIRMED))
    if engaged.last > last:
        found.append(replace(engaged, first=last + _A_DAY))
    return found


def hand_id(offer: OfferId) -> PersonId:
    """Give the id of the person who comes by an offer of kind "hired hand"."""
    return PersonId(f"{offer}-hand")


def _hired_hand(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    assert lever.first is not None
    assert lever.last is not None
    days = Engaged(first=lever.first, last=lever.last, state=EngagementState.CONFIRMED)
    book = _taken(book, offer.id)
    old = next((each for each in book.people if each.id == hand_id(offer.id)), None)
    if old is not None:
        return _person(book, old, replace(old, engaged=(*old.engaged, days)))
    hand = Person(
        id=hand_id(offer.id),
        name=offer.name,
        skills=offer.skills,
        certificates=tuple(Certificate(certificate=each) for each in offer.certificates),
        freelance=True,
        engaged=(days,),
        day_rate=offer.day_rate,
    )
    return replace(book, people=(*book.people, hand))


def _training(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    new = tuple(Certificate(certificate=each, expires=lever.last) for each in offer.certificates)
    for about in lever.about:
        person = person_of(book, PersonId(about))
        learnt = replace(person, certificates=(*person.certificates, *new))
        book = _person(book, person, learnt)
    return _taken(book, offer.id)


def _heating(book: Book, lever: Lever) -> Book:
    return _taken(book, _offer(book, lever).id)


def _fast_cure(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    jobs = tuple(made_faster(job, offer) for job in book.jobs)
    return _taken(replace(book, jobs=jobs), offer.id)


def _subcontract(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    for about in lever.about:
        stage = step_of(book, StepId(about))
        assert isinstance(stage, Stage)
        book = _step(book, hired_out(stage, offer))
    return _taken(book, offer.id)


def _store(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    about = frozenset(offer.about)
    return _taken(replace(book, jobs=tuple(_stored(job, about) for job in book.jobs)), offer.id)


def _stored(job: Job, about: frozenset[str]) -> Job:
    if job.id not in about and not any(each.id in about for each in job.segments):
        return job
    segments = (
        replace(each, stored_elsewhere=True) if job.id in about or each.id in about else each
        for each in job.segments
    )
    return replace(job, segments=tuple(segments))


def _places(book: Book, ids: Iterable[str], change: Callable[[Place], Place]) -> Book:
    wanted = frozenset(ids)
    places = (change(each) if each.id in wanted else each for each in book.places)
    return replace(book, places=tuple(places))


def _screen(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    made = _places(book, offer.about, lambda place: replace(place, air=None))
    return _taken(made, offer.id)


def _room(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    return _taken(_places(book, offer.about, lambda place: _larger(place, offer)), offer.id)


def _larger(place: Place, offer: Offer) -> Place:
    if place.area_m2 is not None and offer.area_m2 is not None:
        return replace(place, area_m2=place.area_m2 + offer.area_m2)
    if place.area_m2 is None and offer.slots is not None:
        return replace(place, slots=(place.slots or 1) + offer.slots)
    return place


def _equipment(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    about = frozenset(offer.about)
    things = (
        replace(each, count=each.count + 1) if each.id in about else each for each in book.equipment
    )
    return _taken(replace(book, equipment=tuple(things)), offer.id)


def _courier(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    for about in lever.about:
        step = step_of(book, StepId(about))
        if not isinstance(step, Journey):
            book = _step(book, replace(step, not_before=offer.first))
    return _taken(book, offer.id)


def _put_off(book: Book, lever: Lever) -> Book:
    assert lever.start is not None
    assert lever.end is not None
    work = found(book.other_work, lambda each: each.id == lever.about[0], lever.about[0])
    later = replace(work, start=lever.start, end=lever.end)
    works = tuple(later if each is work else each for each in book.other_work)
    return replace(book, other_work=works)


def _free_place(book: Book, lever: Lever) -> Book:
    wanted, was = lever.about[0], lever.fact("was")

    def moved(bookings: tuple[Booking, ...]) -> tuple[Booking, ...]:
        return tuple(_moved(each, lever) if _stamp(each) == was else each for each in bookings)

    places = tuple(
        replace(each, bookings=moved(each.bookings)) if each.id == wanted else each
        for each in book.places
    )
    things = tuple(
        replace(each, bookings=moved(each.bookings)) if each.id == wanted else each
        for each in book.equipment
    )
    return replace(book, places=places, equipment=things)


def _moved(booking: Booking, lever: Lever) -> Booking:
    assert lever.start is not None
    assert lever.end is not None
    return replace(booking, start=lever.start, end=lever.end)


def _stamp(booking: Booking) -> str:
    return booking.start.isoformat()


def _gate(book: Book, about: str) -> Gate:
    gate = step_of(book, StepId(about))
    assert isinstance(gate, Gate)
    return gate


def _answer_sooner(book: Book, lever: Lever) -> Book:
    assert lever.days is not None
    for about in lever.about:
        gate = _gate(book, about)
        usual = gate.answered_by or job_of_step(book, gate.id).client
        days = usual.answer_days if gate.answer_days is None else gate.answer_days
        book = _step(book, replace(gate, answer_days=min(days, lever.days)))
    return book if lever.offer is None else _taken(book, lever.offer)


def _one_round(book: Book, lever: Lever) -> Book:
    return _step(book, replace(_gate(book, lever.about[0]), allow_no=0))


def _other_window(book: Book, lever: Lever) -> Book:
    job = job_of(book, JobId(lever.about[0]))
    found(job.windows, lambda window: window.id == lever.about[1], lever.about[1])
    return _job(book, replace(job, window=WindowId(lever.about[1])))


def _start_at_once(book: Book, lever: Lever) -> Book:
    job = next((each for each in book.jobs if each.id == lever.about[0]), None)
    if job is not None:
        return _job(book, replace(job, not_before=None))
    step = step_of(book, StepId(lever.about[0]))
    return book if isinstance(step, Journey) else _step(book, replace(step, not_before=None))


def _lift_pin(book: Book, lever: Lever) -> Book:
    step = step_of(book, StepId(lever.about[0]))
    return book if isinstance(step, Journey) else _step(book, replace(step, pin=None))


def _lift_names(book: Book, lever: Lever) -> Book:
    step = step_of(book, StepId(lever.about[0]))
    return _step(book, replace(step, people=())) if isinstance(step, Stage) else book


def _lift_same(book: Book, lever: Lever) -> Book:
    step = step_of(book, StepId(lever.about[0]))
    return _step(book, replace(step, same_people_as=None)) if isinstance(step, Stage) else book


def _journey(book: Book, step: str) -> Journey:
    journey = step_of(book, StepId(step))
    assert isinstance(journey, Journey)
    return journey


def _crew(book: Book, lever: Lever) -> Book:
    about, stays, goes = lever.about
    journey = _journey(book, about)
    crew = tuple(PersonId(goes) if each == stays else each for each in journey.crew)
    return _step(book, replace(journey, crew=crew))


def _sailing(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    for about in lever.about:
        book = _step(book, with_sailings(_journey(book, about), offer.departures))
    return _taken(book, offer.id)


def _means(book: Book, lever: Lever) -> Book:
    offer = _offer(book, lever)
    for about in lever.about:
        book = _step(book, with_means(_journey(book, about), offer.means))
    return _taken(book, offer.id)


def _no_reserve(book: Book, lever: Lever) -> Book:
    return _step(book, replace(_journey(book, lever.about[0]), reserve_minutes=0))


_PULLS: Mapping[LeverKind, _Pull] = MappingProxyType(
    {
        LeverKind.OVERTIME: _overtime,
        LeverKind.FREELANCER: _freelancer,
        LeverKind.HIRED_HAND: _hired_hand,
        LeverKind.TRAINING: _training,
        LeverKind.HEATING: _heating,
        LeverKind.FAST_CURE: _fast_cure,
        LeverKind.SUBCONTRACT: _subcontract,
        LeverKind.STORE: _store,
        LeverKind.SCREEN: _screen,
        LeverKind.ROOM: _room,
        LeverKind.EQUIPMENT: _equipment,
        LeverKind.COURIER: _courier,
        LeverKind.PUT_OFF: _put_off,
        LeverKind.FREE_PLACE: _free_place,
        LeverKind.ANSWER_SOONER: _answer_sooner,
        LeverKind.ONE_ROUND: _one_round,
        LeverKind.OTHER_WINDOW: _other_window,
        LeverKind.RE_PROMISE: _other_window,
        LeverKind.START_AT_ONCE: _start_at_once,
        LeverKind.LIFT_PIN: _lift_pin,
        LeverKind.LIFT_NAMES: _lift_names,
        LeverKind.LIFT_SAME: _lift_same,
        LeverKind.CREW: _crew,
        LeverKind.SAILING: _sailing,
        LeverKind.MEANS: _means,
        LeverKind.NO_RESERVE: _no_reserve,
    }
)

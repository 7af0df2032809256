"""What a trip needs of others, and how far it is arranged: to ask, asked, booked.

A crane in a lift, the sailing that the plan has chosen, an escort of an abnormal load, a bed for
each long rest of the crew away from home, a freelancer's days. What the book has arranged besides
is listed as it stands.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import Decimal
from enum import StrEnum

from shared.book import (
    Arrangement,
    ArrangementState,
    Book,
    EngagementState,
    Job,
    Journey,
    LegKind,
    Person,
)
from shared.delivery.judged import AT_SEA
from shared.ids import PersonId, StepId
from shared.notices.instants import Travelled, travellers
from shared.notices.nights import nights
from shared.plan import Doing, Plan, Trip
from shared.worktime.zones import local_date

_DAY = timedelta(days=1)
_ABOARD = frozenset({Doing.SEA, Doing.SEA_REST})


class Need(StrEnum):
    """What a trip may need of others; an arrangement's `what` says the same word."""

    CRANE = "crane"
    SAILING = "sailing"
    ESCORT = "escort"
    HOTEL = "hotel"
    FREELANCER = "freelancer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Something that is needed of others, or that the book has arranged.

    what: as in an arrangement. leg: from 1. start, end: what it must be for; None where nothing
    of the plan says. person: of a freelancer. arrangement: the book's own, None where nobody has
    written one. is_needed: the plan needs it. is_moved: it is asked or booked for other instants.
    """

    what: str
    journey: StepId | None
    leg: int | None = None
    start: datetime | None = None
    end: datetime | None = None
    name: str = ""
    person: PersonId | None = None
    price: Decimal = Decimal(0)
    state: ArrangementState = ArrangementState.TO_ASK
    reference: str = ""
    arrangement: Arrangement | None = None
    is_needed: bool = True
    is_moved: bool = False

    @property
    def key(self) -> tuple[object, ...]:
        """Return what makes it the same thing in another plan, but for its order among alike."""
        if self.arrangement is not None:
            return ("arrangement", self.arrangement.id)
        return (self.what, self.journey, self.leg, self.person)


def wanted(book: Book, job: Job, plan: Plan | Sequence[Trip]) -> tuple[Wanted, ...]:
    """Return what the trips of a job need of others, in time, then what else is arranged."""
    trips = tuple(plan.trips if isinstance(plan, Plan) else plan)
    left = list(job.arrangements)
    found: list[Wanted] = []
    for step in job.steps:
        trip = next((each for each in trips if each.step == step.id), None)
        if isinstance(step, Journey) and trip is not None:
            on = Travelled(journey=step, trip=trip)
            for need in sorted(_needs(book, job, on), key=_by_time):
                found.append(_arranged(need, left))
    return (*found, *(_besides(each) for each in left))


def _by_time(need: Wanted) -> tuple[bool, float]:
    start = need.start
    return (True, 0.0) if start is None else (False, start.timestamp())


def _needs(book: Book, job: Job, on: Travelled) -> Iterator[Wanted]:
    yield from _lifts(on)
    yield from _sailings(on)
    yield from _own_sailings(on)
    yield from _escort(book, job, on)
    for number, (start, end) in enumerate(nights(book, job, on)):
        yield Wanted(
            what=Need.HOTEL,
            journey=on.journey.id,
            start=start,
            end=end,
            name=job.site.name if number or start >= on.gate else "",
        )
    yield from _freelancers(book, on)


def _lifts(on: Travelled) -> Iterator[Wanted]:
    for index in on.legs(LegKind.LIFT):
        yield Wanted(
            what=Need.CRANE,
            journey=on.journey.id,
            leg=index + 1,
            start=on.begins(index),
            end=on.end(index),
            name=on.journey.legs[index].name,
        )


def _sailings(on: Travelled) -> Iterator[Wanted]:
    for index in on.legs(*AT_SEA):
        chosen = on.sailing(index)
        need = Wanted(
            what=Need.SAILING,
            journey=on.journey.id,
            leg=index + 1,
            start=on.sails(index),
            end=on.end(index) if chosen is None else chosen.arrives,
            name=on.journey.legs[index].name,
        )
        if chosen is not None:
            need = replace(need, price=chosen.price or Decimal(0))
            if chosen.reference:
                booked = ArrangementState.BOOKED
                need = replace(need, state=booked, reference=chosen.reference)
        yield need


def _own_sailings(on: Travelled) -> Iterator[Wanted]:
    """Give the sailings of the crew's own way, which have no leg of the journey."""
    for index, leg in enumerate(on.journey.travel):
        aboard = [each for each in on.trip.travel if each.leg == index and each.doing in _ABOARD]
        if leg.kind in AT_SEA and aboard:
            yield Wanted(
                what=Need.SAILING,
                journey=on.journey.id,
                start=min(each.start for each in aboard),
                end=max(each.end for each in aboard),
                name=leg.name,
            )


def _escort(book: Book, job: Job, on: Travelled) -> Iterator[Wanted]:
    from shared.notices.instants import means_of
    from shared.notices.oversize import oversize
    from shared.passing.roads import Demand, Realm

    over = oversize(book, job, on.journey, means_of(on.journey, on.trip))
    asks = (Demand.PERMIT, Demand.NOTICE, Demand.FORM, Demand.ORDER)
    if any(each.realm is not Realm.FERRY and each.demand in asks for each in over):
        yield Wanted(what=Need.ESCORT, journey=on.journey.id, start=on.trip.start, end=on.gate)


def _freelancers(book: Book, on: Travelled) -> Iterator[Wanted]:
    people = travellers(on.journey, on.trip)
    for person in book.people:
        if not person.freelance or person.id not in people:
            continue
        leaves = on.trip.start if on.trip.crew_from is None else on.trip.crew_from
        is_sure = _is_engaged(book, person, leaves, on.trip.back)
        yield Wanted(
            what=Need.FREELANCER,
            journey=on.journey.id,
            start=leaves,
            end=on.trip.back,
            name=person.name,
            person=person.id,
            state=ArrangementState.BOOKED if is_sure else ArrangementState.TO_ASK,
        )


def _is_engaged(book: Book, person: Person, start: datetime, end: datetime) -> bool:
    """Return whether every day of a stretch is confirmed."""
    zone = book.workshop.zone
    first, last = local_date(start, zone), local_date(end, zone)
    sure = [each for each in person.engaged if each.state is EngagementState.CONFIRMED]
    days = (first + n * _DAY for n in range((last - first).days + 1))
    return all(any(each.first <= day <= each.last for each in sure) for day in days)


def _arranged(need: Wanted, left: list[Arrangement]) -> Wanted:
    """Return a need with its arrangement, which is taken out of those left."""
    fitting = [each for each in left if _serves(each, need)]
    if not fitting:
        return need
    chosen = min(fitting, key=lambda each: _distance(each, need))
    left.remove(chosen)
    return replace(
        need,
        arrangement=chosen,
        name=chosen.name or need.name,
        price=chosen.price or need.price,
        state=chosen.state,
        reference=chosen.reference or need.reference,
        is_moved=chosen.state is not ArrangementState.TO_ASK and not _is_for(chosen, need),
    )


def _serves(arrangement: Arrangement, need: Wanted) -> bool:
    if arrangement.what != need.what or arrangement.journey not in (None, need.journey):
        return False
    if need.person is not None:
        told = f"{arrangement.name} {arrangement.with_whom}".casefold()
        return need.name.casefold() in told or need.person in arrangement.id
    return arrangement.leg in (None, need.leg)


def _distance(arrangement: Arrangement, need: Wanted) -> tuple[bool, bool, float]:
    """Return how far an arrangement is from a need: another leg, no instant, seconds apart."""
    is_of_leg = arrangement.leg is not None and arrangement.leg == need.leg
    if arrangement.start is None or need.start is None:
        return (not is_of_leg, True, 0.0)
    return (not is_of_leg, False, abs((arrangement.start - need.start).total_seconds()))


def _is_for(arrangement: Arrangement, need: Wanted) -> bool:
    """Return whether an arrangement is for the instants that it must be for, as far as it says."""
    if arrangement.start is None or need.start is None:
        return True
    if need.what == Need.SAILING:
        return arrangement.start == need.start
    if arrangement.start > need.start:
        return False
    return arrangement.end is None or need.end is None or arrangement.end >= need.end


def _besides(arrangement: Arrangement) -> Wanted:
    return Wanted(
        what=arrangement.what,
        journey=arrangement.journey,
        leg=arrangement.leg,
        start=arrangement.start,
        end=arrangement.end,
        name=arrangement.name,
        price=arrangement.price,
        state=arrangement.state,
        reference=arrangement.reference,
        arrangement=arrangement,
        is_needed=False,
    )

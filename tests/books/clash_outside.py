"""Clashes with what is outside: the client, a sailing, the floor that is full, shared air."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Abrade,
    Book,
    Booking,
    Client,
    Departure,
    Gate,
    GateKind,
    Hours,
    Journey,
    Leg,
    LegKind,
    Need,
    Offer,
    Place,
    PlaceKind,
    Stage,
    Step,
    Way,
    Window,
)
from shared.ids import OfferId, PlaceId, WindowId
from tests.books.clash_ground import Ground, ground
from tests.books.clash_refit import DUSTY, dusty_work, in_own_air, sharing, stage_id
from tests.books.clash_setting import (
    WEEK,
    Plant,
    morning,
    named,
    price,
    set_windows,
    with_offer,
    with_steps,
)
from tests.books.clash_timing import DAY, Held, days_around, timed
from tests.books.clash_within import COATS
from tests.books.commissions import at
from tests.books.making import FOAM
from tests.books.shapes import Planted

FLOOR, YARD = PlaceId("floor"), PlaceId("yard")


def client(seed: int, weeks: int) -> Planted:
    """Let the answer take long: a slow client or engineer, or a second round."""
    made = ground("client", seed)
    gate = next(s for s in made.job.steps if isinstance(s, Gate) and s.gate is GateKind.ANSWER)
    draw = Random(f"client {seed}")
    how = draw.choice((_slow, _slow, _engineer, _twice))
    return set_windows(made, how(made, gate, draw, weeks))


def _with_gate(book: Book, gate: Gate, **more: object) -> Book:
    def changed(step: Step) -> Step:
        return replace(step, **more) if step.id == gate.id else step  # type: ignore[arg-type]

    return with_steps(book, changed)


def _slow(made: Ground, gate: Gate, draw: Random, weeks: int) -> Plant:
    """Let the client take weeks."""
    days = draw.randrange(15, 24) + 5 * weeks
    return Plant(
        twin=_with_gate(made.book, gate, answer_days=draw.choice((2, 3))),
        book=_with_gate(made.book, gate, answer_days=days),
        cause=named("client", gate.id),
        undo=named("answer_sooner", gate.id),
    )


def _engineer(made: Ground, gate: Gate, draw: Random, weeks: int) -> Plant:
    """Let an engineer answer who takes weeks, and less for more money."""
    home = made.job.client
    days = draw.randrange(15, 24) + 5 * weeks
    engineer = Client(
        name="Hollin engineers", zone=home.zone, country=home.country, subdivision=home.subdivision,
        answer_days=days,
    )  # fmt: skip
    offer = Offer(
        id=OfferId("express"), name="An express check", kind="answer", about=(gate.id,),
        answer_days=3, price=price(made),
    )  # fmt: skip
    book = _with_gate(with_offer(made.book, offer), gate, answered_by=engineer)
    return Plant(
        twin=_with_gate(book, gate, answer_days=3),
        book=book,
        cause=named("client", gate.id),
        undo=named("answer_sooner", gate.id),
    )


def _twice(made: Ground, gate: Gate, draw: Random, weeks: int) -> Plant:
    """Plan for a no and a second round."""
    days = draw.randrange(7, 11) + 4 * weeks
    book = _with_gate(made.book, gate, answer_days=days)
    return Plant(
        twin=book,
        book=_with_gate(made.book, gate, answer_days=days, allow_no=1, rework=_carved_anew()),
        cause=named("client", gate.id),
        undo=named("one_round", gate.id),
        also=(named("answer_sooner", gate.id),),
    )


def _carved_anew() -> Abrade:
    """Write down what a no calls for."""
    hours = Hours(low=Decimal(1), likely=Decimal(3), high=Decimal(6))
    return Abrade(ways=(Way(id="1 person", needs=(Need(skill=FOAM),), hours=hours),))


def floor(seed: int, weeks: int) -> Planted:
    """Let the floor where pieces stand be full until it is too late."""
    made = ground("floor", seed)
    draw = Random(f"floor {seed}")
    store = Place(id=YARD, name="Lean-to", kind=PlaceKind.YARD, area_m2=Decimal(600), standing=True)
    elsewhere = tuple(
        replace(j, segments=tuple(replace(s, stands=YARD) for s in j.segments))
        for j in made.book.jobs[1:]
    )
    book = replace(made.book, jobs=(made.job, *elsewhere), places=(*made.book.places, store))
    until = morning(made.now, draw.randrange(12, 19) + WEEK * weeks)
    offer = draw.choice((_stored, _larger))(made)
    twin = with_offer(book, offer)
    full = _full(twin, made, until)
    plant = Plant(
        twin=twin,
        book=full,
        cause=named("floor", FLOOR),
        undo=named(offer.kind, offer.id),
        also=(named("free_place", FLOOR),),
        held=Held(not_before={step.id: until for step in made.job.steps}),
    )
    return set_windows(made, plant)


def _stored(made: Ground) -> Offer:
    return Offer(
        id=OfferId("barn"), name="The barn next door", kind="store", about=(made.job.id,),
        price=price(made),
    )  # fmt: skip


def _larger(made: Ground) -> Offer:
    return Offer(
        id=OfferId("tent"), name="A tent in the yard", kind="room", about=(FLOOR,),
        area_m2=Decimal(90), price=price(made),
    )  # fmt: skip


def _full(book: Book, made: Ground, until: datetime) -> Book:
    """Let foam lie about that leaves room for no piece at all."""

    def filled(place: Place) -> Place:
        if place.id != FLOOR or place.area_m2 is None:
            return place
        foam = Booking(
            start=made.now - 10 * DAY, end=until, name="foam for next year",
            area_m2=place.area_m2 - 2,
        )  # fmt: skip
        return replace(place, bookings=(foam,))

    return replace(book, places=tuple(filled(place) for place in book.places))


def air(seed: int, weeks: int) -> Planted:
    """Let another job's dust keep the spraying of this one waiting, since both share their air."""
    draw = Random(f"air {seed}")
    made = in_own_air(ground("air", seed, wants=draw.sample(COATS, draw.randrange(1, 4))))
    where = timed(made.book, made.now)
    sprayed = [s for s in made.job.steps if isinstance(s, Stage) and s.name in COATS]
    first = min(where.of(stage.id).start for stage in sprayed)
    lead = (first - made.now).days * 5 // 7
    is_running = draw.random() < 0.5
    days = draw.randrange(8, 13) + 5 * weeks + (lead if is_running else 1)
    book, taken = dusty_work(made, days, None if is_running else first - DAY)
    offer = Offer(
        id=OfferId("curtain"), name="A dust curtain round bay 2", kind="screen", about=(DUSTY,),
        price=price(made),
    )  # fmt: skip
    book = with_offer(book, offer)
    coats = [s for j in book.jobs for s in j.steps if isinstance(s, Stage) and s.name in COATS]
    dust = {stage_id(made, "strip"): taken[2]}
    plant = Plant(
        twin=sharing(book, is_shared=False),
        book=sharing(book, is_shared=True),
        cause=named("air", stage_id(made, "strip")),
        undo=named("screen", offer.id),
        also=() if is_running else (named("lift_pin", stage_id(made, "strip")),),
        held=Held(not_before=dust | {stage.id: taken[2] for stage in coats}, busy=(taken,)),
        twin_held=Held(not_before=dust, busy=(taken,)),
    )
    return set_windows(made, plant)


SAILS_AT, LANDS_AT = 20, 7
CHECK_IN_MINUTES = 60


def sailing(seed: int, weeks: int) -> Planted:
    """Let the one sailing that makes the window be full."""
    made = ground("sailing", seed)
    draw = Random(f"sailing {seed}")
    trip = timed(made.book, made.now).trip(made.job.id)
    room = timedelta(days=draw.randrange(3, 6) + weeks)
    good = at((trip.start + room).date(), SAILS_AT)
    sooner = at((made.now + (trip.start - made.now) * 2 / 5).date(), SAILS_AT)
    later = good + draw.randrange(7, 13) * DAY
    known = tuple(_departure(leaves) for leaves in (sooner - WEEK * DAY, sooner, later))
    lost = _departure(good)
    onward = timedelta(minutes=draw.randrange(2, 9) * 15)
    twin = _by_sea(made, (*known, lost), onward)
    book = _by_sea(made, known, onward)
    end = lost.arrives + onward + timedelta(hours=9)
    held = days_around(end, 2)
    return _held_sailing(made, draw, (twin, book), held, (lost, known[-1]))


def _departure(leaves: datetime) -> Departure:
    arrives = at(leaves.date() + DAY, LANDS_AT)
    return Departure(leaves=leaves, arrives=arrives, check_in_minutes=CHECK_IN_MINUTES)


def _by_sea(made: Ground, sails: tuple[Departure, ...], onward: timedelta) -> Book:
    """Put a crossing into the journey, between the drive and the site."""
    departures = tuple(sorted(sails, key=lambda each: each.leaves))

    def crossed(step: Step) -> Step:
        if not isinstance(step, Journey):
            return step
        drive, *rest = step.legs
        sea = Leg(kind=LegKind.SAILING, name="ferry", departures=departures)
        minutes = int(onward.total_seconds()) // 60
        second = Leg(kind=LegKind.DRIVE, name="drive from the port", minutes=minutes)
        return replace(step, legs=(drive, sea, second, *rest))

    return with_steps(made.book, crossed)


def _held_sailing(
    made: Ground,
    draw: Random,
    books: tuple[Book, Book],
    held: Window,
    sails: tuple[Departure, Departure],
) -> Planted:
    """Set the windows, and hold another sailing out or another window."""
    lost, later = sails
    journey = next(s for s in made.job.steps if isinstance(s, Journey))
    offered: tuple[Window, ...] = ()
    offer: Offer | None = None
    if draw.random() < 0.6:
        offer = Offer(
            id=OfferId("freight-boat"), name="A berth on the freight boat", kind="sailing",
            about=(journey.id,), departures=(replace(lost, price=Decimal(0)),), price=price(made),
        )  # fmt: skip
        undo = named("sailing", offer.id)
    else:
        shift = later.leaves - lost.leaves
        offered = (
            Window(
                id=WindowId("later"), start=held.start + shift, end=held.end + shift,
                price=price(made),
            ),
        )  # fmt: skip
        undo = named("other_window", made.job.id)
    twin, book = (_windowed(made, each, held, offered, offer) for each in books)
    return Planted(
        book=book, twin=twin, job=str(made.job.id), cause=named("sailing", journey.id), undo=undo
    )


def _windowed(
    made: Ground, book: Book, held: Window, offered: tuple[Window, ...], offer: Offer | None
) -> Book:
    """Give the first job its windows and all others theirs, far enough behind."""
    known = timed(made.book, made.now)
    jobs = [replace(book.jobs[0], windows=(held, *offered))]
    for number, job in enumerate(book.jobs[1:]):
        last = max(known.trip(job.id).end, held.end)
        jobs.append(replace(job, windows=(days_around(last + (14 + 3 * number) * DAY),)))
    book = replace(book, jobs=tuple(jobs))
    return book if offer is None else with_offer(book, offer)

"""Made-up workshops in which the rules of the trade decide: cold nights, shared air, company.

Everything is drawn from the seed: temperatures and heating, limits of materials, recoat times by
temperature, places that share air, acts, limits of a day, pairs for the same people, stores.
"""

from dataclasses import replace
from datetime import datetime, time, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Abrade,
    Act,
    Book,
    Booking,
    Hours,
    Job,
    Need,
    Place,
    PlaceKind,
    Reading,
    RecoatBand,
    Stage,
    Standing,
    Step,
    Temperature,
    Way,
)
from shared.ids import PlaceId, StepId
from shared.worktime import Shift
from tests.books.making import FINISH

POLYURETHANE = (
    (21, 48), (27, 48), (32, 36), (38, 24), (43, 12), (49, 2),
)  # fmt: skip
"""Greatest recoat hours of polyurethane by the hottest hour (US Unified Facilities Guide
Specifications, coatings 09971 and 09973, table of recoat windows)."""
WINTER = (11, 12, 1, 2, 3)
STORE = PlaceId("store")
AIRS: tuple[dict[str, str], ...] = (
    {},
    {"bay-1": "hall", "bay-2": "hall", "bay-3": "hall", "bay-4": "hall"},
    {"bay-1": "east", "bay-3": "east", "bay-2": "west", "bay-4": "west"},
)
"""Which places share which air."""


def ruled(book: Book, rng: Random) -> Book:
    """Lay the rules of the trade over a made-up workshop."""
    workshop = replace(
        book.workshop,
        temperatures=_temperatures(rng),
        readings=_readings(book, rng),
        apart=None,
        never_alone=rng.choice((None, None, ())),
        pieces_per_half_day=rng.choice((None, None, 1, 0)),
        sanding_hours_per_day=rng.choice((None, Decimal(3), Decimal(6))),
    )
    places = _places(book, rng)
    jobs = tuple(_job(made, rng) for made in book.jobs)
    return replace(book, workshop=workshop, places=places, jobs=jobs)


def _temperatures(rng: Random) -> tuple[Temperature, ...]:
    """Give winters from mild to too cold by night, and summers; some places are heated."""
    night = Decimal(rng.choice((10, 15, 16, 17, 17)))
    summer = tuple(month for month in range(1, 13) if month not in WINTER)
    spread = rng.choice((None, None, Decimal(1), Decimal("2.5")))
    humidity = rng.choice((None, Decimal(55), Decimal(68)))
    heated = (Shift(days=tuple(range(7)), start=time(5), end=time(22)),)
    entries = [
        Temperature(
            months=WINTER, day_celsius=Decimal(18), night_celsius=night, spread_celsius=spread,
            humidity_percent=humidity,
        ),
        Temperature(
            months=summer, day_celsius=Decimal(rng.choice((20, 24, 29))),
            night_celsius=Decimal(rng.choice((15, 17))), spread_celsius=spread,
            humidity_percent=humidity,
        ),
    ]  # fmt: skip
    for place in rng.sample(("bay-3", "bay-4", "booth"), 2):
        entries.append(
            Temperature(
                months=WINTER, day_celsius=Decimal(16), night_celsius=Decimal(16),
                place=PlaceId(place), heated=heated, heated_celsius=Decimal(rng.choice((19, 21))),
                humidity_percent=humidity,
            )
        )  # fmt: skip
    return tuple(entries)


def _readings(book: Book, rng: Random) -> tuple[Reading, ...]:
    if rng.random() < 0.6:
        return ()
    start: datetime = book.as_of  # type: ignore[assignment]
    return tuple(
        Reading(
            at=start + timedelta(hours=rng.randrange(-30, 200)),
            celsius=Decimal(rng.randrange(12, 36)),
            place=rng.choice((None, PlaceId("booth"), PlaceId("bay-3"))),
            humidity_percent=rng.choice((None, Decimal(60))),
        )
        for _ in range(rng.randrange(1, 6))
    )


def _places(book: Book, rng: Random) -> tuple[Place, ...]:
    airs = rng.choice(AIRS)
    made = [replace(place, air=airs.get(place.id)) for place in book.places]
    start: datetime = book.as_of  # type: ignore[assignment]
    foam = Booking(
        start=start, end=start + timedelta(days=rng.randrange(5, 60)), name="foam in stock",
        area_m2=Decimal(rng.randrange(5, 40)),
    )  # fmt: skip
    made = [replace(p, bookings=(*p.bookings, foam)) if p.standing else p for p in made]
    store = Place(
        id=STORE, name="Store", kind=PlaceKind.STORE, area_m2=Decimal(rng.randrange(40, 120)),
        standing=True,
    )  # fmt: skip
    return (*made, store)


def _job(made: Job, rng: Random) -> Job:
    steps = tuple(_step(step, rng) for step in made.steps)
    return replace(made, steps=_paired(steps, rng), standing=Standing.FIRM)


def _step(step: Step, rng: Random) -> Step:
    if not isinstance(step, Stage):
        return step
    dress = {
        "block": _foam, "carve": _foam, "barrier": _resin, "laminate": _resin,
        "second laminate": _resin, "flow coat": _resin, "hollow": _dusty, "fair": _dusty,
        "sand": _dusty, "prime": _sprayed, "colour": _sprayed, "lacquer": _sprayed,
        "pack": _packed,
    }.get(step.name)  # fmt: skip
    return step if dress is None else dress(step, rng)


def _foam(step: Stage, rng: Random) -> Stage:
    does = (Act.HOT_WIRE, Act.DUST) if step.name == "block" or rng.random() < 0.3 else (Act.DUST,)
    return replace(step, does=does)


def _resin(step: Stage, rng: Random) -> Stage:
    step = replace(
        step,
        cure_celsius=Decimal(20) if step.cure_hours else None,
        coldest_celsius=Decimal(rng.choice((12, 13, 15))),
        warmest_celsius=rng.choice((None, Decimal(33))),
    )
    if step.recoat_hours is None:
        return step
    return replace(step, abrade=_abrade() if rng.random() < 0.8 else None)


def _dusty(step: Stage, rng: Random) -> Stage:
    if step.name == "hollow" or rng.random() < 0.4:
        return replace(step, does=(Act.DUST,))
    ways = tuple(_short(way) for way in step.ways)
    return replace(step, does=(Act.DUST, Act.POWER_SAND), ways=ways, in_one_go=rng.random() < 0.5)


def _short(way: Way) -> Way:
    """Keep a way within what its hands may sand in a day."""
    most = Decimal("2.25") * way.hands_count
    likely = min(way.hours.likely, most)
    return replace(way, hours=Hours(low=min(way.hours.low, likely), likely=likely, high=likely * 2))


def _sprayed(step: Stage, rng: Random) -> Stage:
    does = (Act.SPRAY, Act.ISOCYANATE, Act.WET) if step.name != "prime" else (Act.SPRAY, Act.WET)
    step = replace(
        step,
        does=does,
        cure_celsius=Decimal(18),
        coldest_celsius=Decimal(rng.choice((12, 14, 16))),
        warmest_celsius=Decimal(38),
        most_humidity_percent=rng.choice((None, Decimal(70))),
        dew_point_margin_celsius=rng.choice((None, Decimal(3))),
    )
    if step.name != "colour":
        return step
    share = rng.choice((Decimal(1), Decimal(1), Decimal("0.3")))
    bands = tuple(
        RecoatBand(upto_celsius=Decimal(upto), most_hours=most * share)
        for upto, most in POLYURETHANE
    )
    return replace(step, recoat_hours=None, recoat_bands=bands, abrade=_abrade())


def _packed(step: Stage, rng: Random) -> Stage:
    return replace(step, does=(Act.LIFT,), moves_to=STORE if rng.random() < 0.5 else None)


def _abrade() -> Abrade:
    way = Way(
        id="abrade",
        needs=(Need(skill=FINISH),),
        hours=Hours(low=Decimal(1), likely=Decimal(2), high=Decimal(3)),
        places=(PlaceId("bay-2"), PlaceId("bay-4")),
    )
    return Abrade(ways=(way,))


def _paired(steps: tuple[Step, ...], rng: Random) -> tuple[Step, ...]:
    """Let the same people carve the first two pieces, in some jobs."""
    carved = [step for step in steps if isinstance(step, Stage) and step.name == "carve"]
    if len(carved) < 2 or rng.random() < 0.6:
        return steps
    first, second = carved[:2]
    pair = replace(second, same_people_as=StepId(first.id))
    return tuple(pair if step is second else step for step in steps)

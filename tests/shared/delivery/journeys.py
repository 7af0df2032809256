"""Judged journeys in few words, for the tests of deliveries."""

from dataclasses import replace
from datetime import datetime, time
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from shared.book import (
    Booking,
    Departure,
    Equipment,
    EquipmentKind,
    Journey,
    Leg,
    LegKind,
    Means,
    Site,
    Window,
)
from shared.delivery.choices import Choice
from shared.delivery.delivery import Delivery, delivery_of
from shared.delivery.run import Run
from shared.ids import EquipmentId, PersonId, StepId, WindowId
from shared.plan import Doing, Stretch
from shared.worktime import Shift
from tests.builders import a_book, a_job, a_leg, a_person, a_site, a_workshop

LONDON, PARIS, BERLIN = "Europe/London", "Europe/Paris", "Europe/Berlin"
AMSTERDAM = "Europe/Amsterdam"
EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)


def at(zone: str, text: str) -> datetime:
    """An instant by the clock on the wall of a zone."""
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone))


def shift(start: str, end: str, days: tuple[int, ...] = EVERY_DAY) -> Shift:
    return Shift(days=days, start=time.fromisoformat(start), end=time.fromisoformat(end))


def booked(zone: str, start: str, end: str) -> Booking:
    return Booking(start=at(zone, start), end=at(zone, end))


def window(zone: str, start: str, end: str, *access: Shift, **changes: Any) -> Window:
    usual = Window(id=WindowId("window"), start=at(zone, start), end=at(zone, end), access=access)
    return replace(usual, **changes)


def drive(minutes: int, country: str = "GB", **changes: Any) -> Leg:
    return a_leg(LegKind.DRIVE, 0, driving_minutes=minutes, country=country, **changes)


def inside(kind: LegKind, minutes: int, **changes: Any) -> Leg:
    return a_leg(kind, minutes, inside=True, **changes)


def sails(off: datetime, there: datetime, ahead: int = 60, price: int | None = None) -> Departure:
    cost = None if price is None else Decimal(price)
    return Departure(leaves=off, arrives=there, check_in_minutes=ahead, price=cost)


def van(gross: str | None = "3.5", **changes: Any) -> Equipment:
    mass = None if gross is None else Decimal(gross)
    usual = Equipment(id=EquipmentId("van"), name="Van", kind=EquipmentKind.VEHICLE, gross_t=mass)
    return replace(usual, **changes)


def lorry(gross: str | None = "18") -> Equipment:
    return van(gross, id=EquipmentId("lorry"), name="Lorry")


def journey(*legs: Leg, means: tuple[Means, ...] = (), **changes: Any) -> Journey:
    """A journey that keeps nothing of any limit; hired with a lorry of 18 t unless told."""
    usual = Journey(
        id=StepId("ship"),
        name="Ship",
        legs=legs,
        means=means or (hired(),),
        reserve_minutes=0,
    )
    return replace(usual, **changes)


def hired(**changes: Any) -> Means:
    usual = Means(id="hired", vehicles=(EquipmentId("lorry"),), rules="eu_one_driver")
    return replace(usual, **changes)


def own_van(**changes: Any) -> Means:
    usual = Means(
        id="own",
        vehicles=(EquipmentId("van"),),
        driven_by=(PersonId("ana"),),
        own_account=True,
    )
    return replace(usual, **changes)


def delivery(
    asked: Journey,
    when: Window,
    site: Site | None = None,
    equipment: tuple[Equipment, ...] = (),
    **workshop: Any,
) -> Delivery:
    there = site or a_site()
    job = a_job(site=there, windows=(when,))
    book = a_book(
        job,
        equipment=(van(), lorry(), *equipment),
        people=(a_person(),),
        workshop=a_workshop(**workshop),
    )
    return delivery_of(book, job, asked, when)


def only(found: Delivery) -> Choice:
    (choice,) = found.choices
    return choice


def latest(found: Delivery) -> Run:
    run = found.latest(only(found))
    assert run is not None
    return run


def worked(stretches: tuple[Stretch, ...], leg: int) -> list[tuple[datetime, datetime]]:
    """When a leg is worked on."""
    mine = [each for each in stretches if each.leg == leg and each.doing is Doing.WORK]
    return [(each.start, each.end) for each in mine]


def hours(run: Run) -> float:
    return (run.end - run.leaves).total_seconds() / 3600

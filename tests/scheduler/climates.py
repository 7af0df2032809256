"""Small books whose materials mind the weather, for the tests of engine and check."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from shared.book import Book, Kind, Offer, PlaceKind, RecoatBand, Stage, Temperature
from shared.ids import OfferId
from shared.worktime import Shift
from tests.builders import Number, a_floor, a_place, a_shift, a_stage
from tests.scheduler.normals import of_steps

YEAR = tuple(range(1, 13))


def warmth(day: Number, night: Number | None = None, **more: Any) -> Temperature:
    """Give the temperatures of a whole year, by night those of the day unless said otherwise."""
    usual = Temperature(
        months=YEAR,
        day_celsius=Decimal(day),
        night_celsius=Decimal(day if night is None else night),
    )
    return replace(usual, **more)


def in_air(book: Book, *temperatures: Temperature, **more: Any) -> Book:
    """Give a book with temperatures, and other changes of its workshop."""
    changes: dict[str, Any] = {"temperatures": temperatures, **more}
    return replace(book, workshop=replace(book.workshop, **changes))


def a_book_of(*steps: Stage) -> Book:
    """Give a job of these stages and one that packs, in a bay and a booth."""
    places = (a_place(), a_place("booth", PlaceKind.BOOTH), a_floor())
    return replace(of_steps(*steps, a_stage("wrap", Kind.PACK)), places=places)


def a_skin(step: str = "skin", hours: Number = 4, cure_hours: Number = 48, **more: Any) -> Stage:
    """Give a lay-up in one go, its cure written for 20 degrees."""
    changes: dict[str, Any] = {
        "in_one_go": True,
        "cure_celsius": Decimal(20),
        "places": ("bay",),
        **more,
    }
    return a_stage(step, Kind.LAMINATE, hours=hours, cure_hours=cure_hours, **changes)


def bands(*pairs: tuple[Number, Number]) -> tuple[RecoatBand, ...]:
    """Give recoat bands: up to so many degrees, so many hours at most."""
    return tuple(
        RecoatBand(upto_celsius=Decimal(upto), most_hours=Decimal(most)) for upto, most in pairs
    )


def all_day(start: str = "00:00", end: str = "00:00") -> Shift:
    """Give hours of every day of the week, round the clock unless said otherwise."""
    return a_shift(start, end, days=tuple(range(7)), breaks=())


def heating(warm: Number, *hours: Shift, **more: Any) -> Offer:
    """Give heating that is taken, round the clock unless hours are named."""
    usual = Offer(
        id=OfferId("heater"),
        name="Heater",
        kind="heating",
        taken=True,
        celsius=Decimal(warm),
        heated=hours or (all_day(),),
    )
    return replace(usual, **more)


__all__ = [name for name in dir() if not name.startswith("_")]

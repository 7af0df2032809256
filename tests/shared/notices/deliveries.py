"""Deliveries with a trip for tests: legs with the instants at which they end."""

from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from itertools import pairwise
from typing import Any

from shared.book import Body, Book, Job, Leg, LegKind
from shared.ids import JobId, StepId
from shared.notices import Due, dues
from shared.plan import LegTime, Trip
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_segment,
    a_site,
    a_stage,
    an_equipment,
    at,
)

BED = an_equipment("bed", body=Body.OPEN)


@dataclass(frozen=True)
class Delivered:
    """A book, its only job, and the trip that it is asked about."""

    book: Book
    job: Job
    trips: tuple[Trip, ...]

    def dues(self, now: datetime = NOW) -> dict[str, Due]:
        """Give what is due, by id."""
        return {due.id: due for due in dues(self.book, self.job, self.trips, now)}

    def with_job(self, **changes: Any) -> "Delivered":
        job = replace(self.job, **changes)
        return Delivered(replace(self.book, jobs=(job,)), job, self.trips)


def drive(country: str | None = "GB", **changes: Any) -> Leg:
    return a_leg(LegKind.DRIVE, country=country, **changes)


def legs_of(start: str, *ends: str) -> tuple[LegTime, ...]:
    times = [at(start), *(at(end) for end in ends)]
    return tuple(LegTime(start=a, end=b) for a, b in pairwise(times))


def delivered(
    legs: tuple[Leg, ...],
    times: tuple[LegTime, ...],
    *,
    sizes: tuple[str, str, str] = ("2", "1", "1"),
    segment: dict[str, Any] | None = None,
    job: dict[str, Any] | None = None,
    journey: dict[str, Any] | None = None,
    trip: dict[str, Any] | None = None,
    book: dict[str, Any] | None = None,
) -> Delivered:
    """Give a delivery on an open bed, of one piece of some length, width and height, upright."""
    length, width, height = (Decimal(size) for size in sizes)
    piece = a_segment(
        "heron-torso",
        **{
            "length_m": length,
            "width_m": width,
            "height_m": height,
            "turns": ("upright",),
            **(segment or {}),
        },
    )
    goes = a_journey("heron-journey", legs, vehicles=("bed",), **(journey or {}))
    made = a_job(
        segments=(piece,),
        **{
            "steps": (a_stage("heron-carve"), a_gate("heron-loading"), goes),
            "site": a_site(),
            **(job or {}),
        },
    )
    end = times[-1].end
    goes_at = Trip(
        job=JobId("heron"),
        step=StepId("heron-journey"),
        start=times[0].start,
        end=end,
        back=end,
        free=end,
        legs=times,
    )
    whole = a_book(made, **{"equipment": (BED,), **(book or {})})
    return Delivered(whole, made, (replace(goes_at, **(trip or {})),))

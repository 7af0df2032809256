"""Journeys drawn by number, as the delivery finds them, and plans that hold nothing else."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random
from typing import Any

from shared.book import (
    Book,
    Booking,
    Departure,
    Driving,
    EquipmentKind,
    Journey,
    Leg,
    LegKind,
    Means,
    RoadShare,
    Timetable,
    Window,
)
from shared.delivery.delivery import Delivery, delivery_of
from shared.delivery.run import Run
from shared.ids import EquipmentId, PersonId, SegmentId
from shared.plan import Plan, Trip
from tests.builders import (
    a_book,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_plan,
    a_segment,
    a_shift,
    a_site,
    a_window,
    a_workshop,
    an_equipment,
    at,
    clock,
)

EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
SITE_KINDS = (
    LegKind.UNLOAD,
    LegKind.LIFT,
    LegKind.CARRY,
    LegKind.ASSEMBLE,
    LegKind.SEAL,
    LegKind.INSPECT,
    LegKind.SIGN_OFF,
    LegKind.TAKE_AWAY,
    LegKind.SNAGS,
)
DAYS = ("2027-03-18", "2027-03-22", "2027-03-28", "2027-10-31", "2027-05-17", "2026-12-28")
"""Thursday, Monday after a Sunday of bans, both changes of the clock, holidays of one country."""


class Drawn:
    """A book with one judged journey, and what it may be asked."""

    def __init__(self, number: int) -> None:
        """Draw it."""
        self._draw = Random(number)
        self.day = self._draw.choice(DAYS)
        self.journey = self._journey()
        self.window = self._window()
        self.book = self._book()
        self.delivery: Delivery = delivery_of(
            self.book, self.book.jobs[0], self.journey, self.window
        )

    def _chance(self, share: float) -> bool:
        return self._draw.random() < share

    def _quarters(self, low: int, high: int) -> int:
        return 15 * self._draw.randrange(low, high)

    def _journey(self) -> Journey:
        across = self._chance(0.5)
        self.there = self._draw.choice(("FR", "DE", "NL")) if across else "GB"
        legs = [*self._road(across), *self._site()]
        if self._chance(0.5):
            legs.append(self._home())
        crew = ("ana",) if self._chance(0.8) else ()
        travels = bool(crew) and self._chance(0.3)
        return a_journey(
            "ship",
            legs=tuple(legs),
            crew=crew,
            segments=(SegmentId("torso"),),
            back_minutes=self._quarters(0, 30),
            means=self._means(),
            travel=(self._drive(2, 24),) if travels else (),
            travel_vehicles=(EquipmentId("van"),) if travels and self._chance(0.7) else (),
            reserve_minutes=self._draw.choice((0, 0, None)),
        )

    def _drive(self, low: int, high: int) -> Leg:
        if self._chance(0.2):
            km = Decimal(self._draw.randrange(20, 200))
            return a_leg(LegKind.DRIVE, 0, distance_km=km, country=self.there)
        leg = a_leg(LegKind.DRIVE, 0, driving_minutes=self._quarters(low, high) - 5)
        if self._chance(0.3):
            shares = (
                RoadShare(country="FR", percent=Decimal(33)),
                RoadShare(country="DE", percent=Decimal(67), listed=self._chance(0.5)),
            )
            return replace(leg, shares=shares)
        return replace(leg, country=self.there)

    def _road(self, across: bool) -> Iterator[Leg]:
        if self._chance(0.3):
            yield a_leg(LegKind.LOAD, self._draw.choice((0, 30, 90)))
        yield replace(self._drive(2, 16), country="GB", shares=())
        if across:
            yield self._sea()
            if self._chance(0.4):
                opens = (a_shift("07:00", "18:00", days=EVERY_DAY, breaks=()),)
                zone, minutes = "Europe/Paris", self._draw.choice((0, 45))
                yield a_leg(LegKind.BORDER, minutes, opens=opens, zone=zone, country=self.there)
        if self._chance(0.3):
            yield a_leg(LegKind.WAIT, self._quarters(1, 8))
        yield self._drive(2, 16)

    def _sea(self) -> Leg:
        kind = self._draw.choice((LegKind.SAILING, LegKind.TRAIN))
        hours = self._draw.choice((1.5, 2.0, 6.5, 9.25))
        bunk = self._draw.choice((None, False, True)) if hours > 6 else None
        noon = at(f"{self.day} 12:00")
        if self._chance(0.5):
            off = clock(self._draw.choice(("06:00", "14:07", "21:30")))
            lands = (datetime.combine(noon.date(), off) + timedelta(hours=hours)).time()
            table = Timetable(
                weekdays=(1, 2, 3, 4, 5, 6, 7),
                leaves=off,
                arrives=lands,
                zone="Europe/London",
                days_later=int(lands < off),
                check_in_minutes=self._draw.choice((None, 30)),
            )
            return a_leg(kind, 0, timetable=(table,), bunk=bunk)
        ships = []
        for back in range(-3, 8):
            leaves = noon - timedelta(hours=11 * back + self._draw.random())
            leaves = leaves.replace(second=0, microsecond=0)
            price = self._draw.choice((None, Decimal(50)))
            ships.append(
                Departure(
                    leaves=leaves,
                    arrives=leaves + timedelta(hours=hours),
                    check_in_minutes=self._draw.choice((45, 45, 60)),
                    price=price,
                )
            )
        return a_leg(kind, 0, departures=tuple(ships), bunk=bunk)

    def _site(self) -> Iterator[Leg]:
        helps = self._chance(0.4)
        yield a_leg(LegKind.ARRIVE, 0, inside=self._chance(0.5), driver_helps=helps)
        for kind in self._draw.sample(SITE_KINDS, self._draw.randrange(1, 4)):
            yield self._work(kind, helps=helps and self._chance(0.5))

    def _work(self, kind: LegKind, *, helps: bool) -> Leg:
        leg = a_leg(kind, self._draw.choice((0, 50, 200)), inside=self._chance(0.8))
        changes: dict[str, Any] = {"driver_helps": helps or None}
        if self._chance(0.3):
            changes |= {
                "person_hours": Decimal(self._draw.randrange(1, 9)),
                "hands": self._draw.randrange(1, 4),
            }
        if self._chance(0.2):
            changes["cure_hours"] = Decimal(self._draw.choice(("1.1", "5", "12")))
        if self._chance(0.25):
            noon = at(f"{self.day} 12:00")
            changes["slots"] = tuple(
                Booking(start=noon + timedelta(hours=h - 4), end=noon + timedelta(hours=h + 3))
                for h in (0, 24)
            )
            changes["person_hours"] = Decimal(1)
        if kind is LegKind.LIFT:
            changes["equipment"] = (EquipmentId("crane"),)
        return replace(leg, **changes)

    def _home(self) -> Leg:
        if self._chance(0.3):
            return a_leg(LegKind.RETURN, 0, driving_minutes=self._quarters(2, 50))
        return a_leg(LegKind.RETURN, self._quarters(2, 40))

    def _means(self) -> tuple[Means, ...]:
        lorry, van = (EquipmentId("lorry"),), (EquipmentId("van"),)
        drawn = self._draw.choice(("hired", "two", "own", "lorry"))
        if drawn == "own":
            return (Means(id="own", vehicles=van, driven_by=(PersonId("bob"),), own_account=True),)
        if drawn == "two":
            return (Means(id="two", vehicles=lorry, drivers=2),)
        told = Driving(
            as_of=at(f"{self.day} 00:00") - timedelta(days=2),
            reduced_rests=self._draw.choice((0, 3)),
            long_days=self._draw.choice((0, 2)),
            week_hours=Decimal(self._draw.choice((0, 40))),
        )
        driving = (told,) if drawn == "hired" else ()
        return (Means(id=drawn, vehicles=lorry, driving=driving),)

    def _window(self) -> Window:
        access = (a_shift("08:00", "18:30", days=EVERY_DAY),) if self._chance(0.6) else ()
        noon = at(f"{self.day} 12:00")
        blocked: tuple[Booking, ...] = ()
        if self._chance(0.3):
            start = noon + timedelta(minutes=self._draw.randrange(-120, 120))
            blocked = (Booking(start=start, end=start + timedelta(minutes=70)),)
        return replace(
            a_window("w", access=access),
            start=noon - timedelta(hours=6),
            end=noon + timedelta(hours=self._draw.choice((8, 30))),
            blocked=blocked,
        )

    def _book(self) -> Book:
        zone = {"GB": "Europe/London", "DE": "Europe/Berlin", "FR": "Europe/Paris"}
        site = a_site(
            zone=zone.get(self.there, "Europe/Amsterdam"), country=self.there, subdivision=None
        )
        noon = at(f"{self.day} 12:00")
        booked = (Booking(start=noon, end=noon + timedelta(minutes=50)),)
        job = a_job(
            "j",
            segments=(a_segment(),),
            steps=(self.journey,),
            site=site,
            windows=(self.window,),
        )
        return a_book(
            job,
            as_of=noon - timedelta(days=20),
            people=(a_person("ana"), a_person("bob")),
            workshop=a_workshop(),
            equipment=(
                an_equipment(gross_t=Decimal(18)),
                an_equipment("van", gross_t=Decimal("3.5")),
                an_equipment("crane", kind=EquipmentKind.CRANE, bookings=booked),
            ),
        )

    def plan(self, run: Run) -> Plan:
        """Return a plan that holds the run alone."""
        rest = timedelta(hours=11)
        job = self.book.jobs[0]
        trip = Trip(
            job=job.id,
            step=self.journey.id,
            start=run.leaves,
            end=run.end,
            back=run.back,
            free=run.back + rest,
            legs=run.legs,
            means=run.choice.means_id,
            stretches=run.stretches,
            travel=run.travel,
            crew_from=run.crew_from,
        )
        now = min(run.leaves, run.crew_from or run.leaves) - timedelta(days=2)
        return a_plan(self.book, now=now, placements=(), trips=(trip,))

    def runs(self) -> Iterator[Run]:
        """Give the latest run of each choice, and those that leave at drawn moments."""
        for choice in self.delivery.choices:
            run = self.delivery.latest(choice)
            if run is not None:
                yield run
            leaves = self.window.start - timedelta(minutes=self._quarters(0, 200))
            other = self.delivery.leaving(choice, leaves)
            if other is not None:
                yield other

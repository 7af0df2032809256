"""Made-up workshops: places, equipment and plainly invented people."""

from datetime import time
from decimal import Decimal
from random import Random

from shared.book import (
    Closure,
    Equipment,
    EquipmentKind,
    Person,
    Place,
    PlaceKind,
    Skill,
    SkillLevel,
    Workshop,
)
from shared.ids import EquipmentId, PersonId, PlaceId, SkillId
from shared.worktime import Break, Shift
from tests.books.making import FINISH, FIT, FOAM, LAMINATE, SPRAY

NAMES = (
    "Asta", "Cato", "Dilys", "Edda", "Femi", "Goran", "Hilde", "Ivo", "Juno", "Kofi",
    "Leila", "Mirek", "Nils", "Oona", "Pavel", "Quint", "Runa", "Silas", "Tove", "Ugo",
)  # fmt: skip
WORKDAYS = (0, 1, 2, 3, 4)
USUAL = Shift(
    days=WORKDAYS,
    start=time(7, 30),
    end=time(16),
    breaks=(Break(start=time(12), end=time(12, 30)),),
)
SHORT_WEEK = Shift(
    days=(0, 1, 2, 3), start=time(7, 30), end=time(16),
    breaks=(Break(start=time(12), end=time(12, 30)),),
)  # fmt: skip
ROTA: tuple[tuple[SkillId, ...], ...] = (
    (FOAM, FINISH),
    (LAMINATE, FIT),
    (SPRAY, FINISH),
    (FOAM, LAMINATE),
    (LAMINATE, FINISH),
    (SPRAY, FIT),
    (FOAM, FIT),
    (LAMINATE, FINISH),
    (FOAM, FINISH),
    (LAMINATE, FIT),
    (FINISH, FIT),
    (SPRAY, FINISH),
)


def person(index: int, *, hours: tuple[Shift, ...] = (), pace: str = "1") -> Person:
    """Write down the index-th of the made-up people, with two skills and one to help with."""
    name = NAMES[index % len(NAMES)]
    does = ROTA[index % len(ROTA)]
    helps = tuple(s for s in (FOAM, LAMINATE, FIT) if s not in does)
    skills = tuple(Skill(skill=s) for s in does)
    skills += tuple(Skill(skill=s, level=SkillLevel.HELPS) for s in helps)
    number = index // len(NAMES)
    return Person(
        id=PersonId(name.lower() + (str(number + 1) if number else "")),
        name=name + (f" {number + 1}" if number else ""),
        skills=skills,
        hours=hours,
        pace=Decimal(pace),
    )


def people(count: int, rng: Random | None = None) -> tuple[Person, ...]:
    """Write down so many people; with a random source some are part-time or slower."""
    made = []
    for index in range(count):
        part_time = rng is not None and index > 3 and rng.random() < 0.2
        pace = "0.8" if rng is not None and index > 5 and rng.random() < 0.15 else "1"
        made.append(person(index, hours=(SHORT_WEEK,) if part_time else (), pace=pace))
    return tuple(made)


def places(scale: Decimal = Decimal(1)) -> tuple[Place, ...]:
    """Write down four bays, a booth and a floor to stand pieces on, larger by a factor."""
    bays = [
        Place(
            id=PlaceId(f"bay-{n}"), name=f"Bay {n}", kind=PlaceKind.BAY, area_m2=Decimal(60) * scale
        )
        for n in (1, 2, 3, 4)
    ]
    booth = Place(
        id=PlaceId("booth"), name="Booth", kind=PlaceKind.BOOTH, whole=True, clear_out_minutes=30
    )
    floor = Place(
        id=PlaceId("floor"), name="Standing floor", kind=PlaceKind.FLOOR,
        area_m2=Decimal(220) * scale, standing=True,
    )  # fmt: skip
    return (*bays, booth, floor)


def equipment(vans: int = 1) -> tuple[Equipment, ...]:
    """Write down the hot wires and the vans."""
    return (
        Equipment(id=EquipmentId("hot-wire"), name="Hot wire", kind=EquipmentKind.TOOL, count=2),
        Equipment(id=EquipmentId("van"), name="Van", kind=EquipmentKind.VEHICLE, count=vans),
    )


def workshop(name: str, *, closures: tuple[Closure, ...] = (), is_strict: bool = True) -> Workshop:
    """Write down a workshop in England with the usual week.

    is_strict: with the trade's usual rules of air, company and half days, else with none.
    """
    usual = None if is_strict else ()
    return Workshop(
        name=name,
        zone="Europe/London",
        country="GB",
        subdivision="ENG",
        currency="GBP",
        shifts=(USUAL,),
        closures=closures,
        apart=usual,
        never_alone=usual,
        pieces_per_half_day=None if is_strict else 0,
    )

"""Recipes of the ready-made legs: `python -m tests.books legs FOLDER` writes them again.

What only the planner knows (how far, which sailings, whose crane) is left out, and told when the
legs are written into a job. Legs without minutes take those that are usual for their kind.
"""

import csv
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

from shared.book import Journey, Leg, LegKind, Means
from shared.files.codec import record_of
from shared.ids import EquipmentId, StepId
from shared.journeys import HOME, SITE, ReadyLegs
from tests.books.making_more import numbers
from tests.books.recipe import Told, ToldWhole, whole

HEADER = ("legs", "journey", "field", "number", "figures")
HIRED = (
    Means(id="one-driver", name="lorry, one hired driver"),
    Means(id="two-drivers", name="lorry, two hired drivers", drivers=2),
)
"""Whoever has no lorry hires one with its driver, or with two where the way is long."""


def road(name: str, country: str, minutes: str | None = None) -> Leg:
    """Write a way to drive; how far it is the planner knows, or so many minutes until then."""
    length = 0 if minutes is None else whole(minutes)
    return Leg(kind=LegKind.DRIVE, name=name, country=country, minutes=length)


def back() -> Leg:
    """Write the way home."""
    return Leg(kind=LegKind.RETURN, name="way home", country=HOME)


def site(kind: LegKind, name: str, minutes: str | None = None, **more: Any) -> Leg:
    """Write a leg at the site, inside the window."""
    length = 0 if minutes is None else whole(minutes)
    return Leg(kind=kind, name=name, minutes=length, inside=True, **more)


def border(name: str, country: str) -> Leg:
    """Write an office that clears the load by its own clock."""
    return Leg(kind=LegKind.BORDER, name=name, country=country, zone=country)


def carried_in() -> tuple[Leg, ...]:
    """Write the beginning at every site: signed in, unloaded, carried to the place."""
    return (
        site(LegKind.ARRIVE, "arrive and unsheet"),
        site(LegKind.UNLOAD, "unload", "CP159"),
        site(LegKind.CARRY, "carry in"),
    )


def lifted_in() -> tuple[Leg, ...]:
    """Write the same with a crane between."""
    arrive, unload, carry = carried_in()
    return arrive, unload, site(LegKind.LIFT, "lift"), carry


def put_up(*, is_sealed: bool = False, is_inspected: bool = False) -> tuple[Leg, ...]:
    """Write the end at every site: put up, looked over, signed for."""
    legs = [site(LegKind.ASSEMBLE, "assemble", "CP160")]
    if is_sealed:
        legs.append(site(LegKind.SEAL, "seal the joints", "CP161"))
    if is_inspected:
        legs.append(site(LegKind.INSPECT, "inspection"))
    legs.append(site(LegKind.SNAGS, "snags and photographs"))
    legs.append(site(LegKind.SIGN_OFF, "sign off", "CP162"))
    return tuple(legs)


def _journey(word: str, *legs: Leg, **more: Any) -> Journey:
    return Journey(id=StepId(word), name=word.replace("-", " "), legs=legs, **more)


def local_van() -> ReadyLegs:
    """Write a van and its crew to a site near by."""
    legs = (road("drive", HOME), *carried_in(), *put_up(), back())
    made = _journey("ship", *legs, vehicles=(EquipmentId("van"),))
    return ReadyLegs(id="local-van", name="a van and its crew, near by", journeys=(made,))


def domestic_lorry() -> ReadyLegs:
    """Write a hired lorry in one country, a crane at the site, the crew in their own van."""
    legs = (road("drive", HOME), *lifted_in(), *put_up(is_sealed=True, is_inspected=True))
    made = _journey(
        "ship",
        *legs,
        means=HIRED[:1],
        travel=(road("crew’s drive", HOME),),
        travel_vehicles=(EquipmentId("van"),),
    )
    return ReadyLegs(
        id="domestic-lorry",
        name="a hired lorry in one country, lifted by crane, the crew in their own van",
        journeys=(made,),
    )


def crossing() -> ReadyLegs:
    """Write a lorry over the sea by night, cleared at both borders, one or two drivers."""
    legs = (
        road("to the port", HOME),
        border("export cleared", HOME),
        Leg(kind=LegKind.SAILING, name="overnight sailing", bunk=True),
        border("import cleared", SITE),
        road("from the port", SITE),
        *lifted_in(),
        *put_up(is_sealed=True, is_inspected=True),
    )
    made = _journey("ship", *legs, means=HIRED)
    return ReadyLegs(
        id="crossing",
        name="a lorry over the sea by night, one or two drivers, lifted by crane",
        journeys=(made,),
    )


def container() -> ReadyLegs:
    """Write a container by sea: nobody goes with it, so hours on the road are as written."""
    legs = (
        road("to the port", HOME, "CP158"),
        border("export cleared", HOME),
        Leg(kind=LegKind.SAILING, name="by sea", bunk=False),
        border("import cleared", SITE),
        road("from the port", SITE, "CP158"),
        *carried_in(),
        *put_up(is_sealed=True),
    )
    made = _journey("ship", *legs)
    return ReadyLegs(id="container", name="a container by sea", journeys=(made,))


def collected() -> ReadyLegs:
    """Write a piece that the client comes for: looked over and signed for in the yard."""
    legs = (
        site(LegKind.INSPECT, "looked over in the yard"),
        site(LegKind.SIGN_OFF, "signed for", "CP162"),
    )
    return ReadyLegs(
        id="collected", name="collected by the client", journeys=(_journey("collect", *legs),)
    )


def trips() -> ReadyLegs:
    """Write the same van going twice: first pieces put down, last ones put up with them."""
    van = (EquipmentId("van"),)
    first = (road("drive", HOME), *carried_in(), back())
    last = (road("drive", HOME), *carried_in(), *put_up(), back())
    return ReadyLegs(
        id="trips",
        name="several trips of a van, half of the pieces on each",
        journeys=(
            _journey("first-trip", *first, vehicles=van),
            _journey("last-trip", *last, vehicles=van),
        ),
    )


READY: dict[str, Callable[[], ReadyLegs]] = {
    "local-van": local_van,
    "domestic-lorry": domestic_lorry,
    "crossing": crossing,
    "container": container,
    "collected": collected,
    "trips": trips,
}


def legs_text(made: ReadyLegs) -> str:
    """Give ready-made legs as they stand in their file."""
    return record_of(ReadyLegs).write(made, "") + "\n"


def legs_sources_text() -> str:
    """Give the table of what every number of all ready-made legs is."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(HEADER)
    for word, make in READY.items():
        for journey in make().journeys:
            for field, number in numbers(journey):
                if field.startswith("means."):
                    continue
                assert isinstance(number, Told | ToldWhole), f"{word} {field}: of no figure"
                table.writerow((word, journey.id, field, f"{number}", number.asked))
    return out.getvalue()


def write_legs(folder: Path) -> None:
    """Write all ready-made legs and the table of sources."""
    for word, make in READY.items():
        (folder / f"{word}.json").write_text(legs_text(make()), encoding="utf-8")
    (folder / "sources.csv").write_text(legs_sources_text(), encoding="utf-8")

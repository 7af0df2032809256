"""Words for writing ways of making: each number is asked of the figures of the trade.

`n("PL06")` is the value of a figure, `n("1/QL03a")` a sum with figures, `n("QL01.low")` the low
end of a range. What was asked stays with the number, so that it can be told beside the data.
"""

import ast
import operator
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from shared.book import (
    Abrade,
    After,
    ClassOf,
    Client,
    EquipmentNeed,
    Gate,
    GateKind,
    Hours,
    Journey,
    Kind,
    Leg,
    LegKind,
    MaterialNeed,
    Measure,
    Need,
    PlaceKind,
    RecoatBand,
    RouteRule,
    Stage,
    Step,
    Way,
)
from shared.ids import EquipmentId, MaterialId, SkillId, StepId
from shared.trade import figure

OF_QUANTITIES = 6
"""Decimals of a quantity: catalyst is little beside the rest."""

BAY = (PlaceKind.BAY,)
BOOTH = (PlaceKind.BOOTH,)
Teams = tuple[tuple[int, int], ...]
ONE_OR_TWO: Teams = ((1, 0), (2, 0))
PAIR: Teams = ((1, 1),)
Rate = tuple[str, str, str]
"""What low, likely and high hours are asked as."""


class Told(Decimal):
    """A number that knows as what it was asked."""

    asked: str


class ToldWhole(int):
    """A whole number that knows as what it was asked."""

    asked: str


_SIGNS: dict[type[ast.operator], Callable[[Fraction, Fraction], Fraction]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}


def worked_out(asked: str) -> Fraction:
    """Work out a sum with figures of the trade, exactly."""
    return _worth(ast.parse(asked, mode="eval").body)


def _worth(part: ast.expr) -> Fraction:
    match part:
        case ast.Constant(value=int(number)):
            return Fraction(number)
        case ast.Name(id=name):
            return Fraction(figure(name).amount)
        case ast.Attribute(value=ast.Name(id=name), attr="low"):
            return Fraction(figure(name).least)
        case ast.Attribute(value=ast.Name(id=name), attr="high"):
            return Fraction(figure(name).most)
        case ast.BinOp(left=left, op=sign, right=right):
            return _SIGNS[type(sign)](_worth(left), _worth(right))
    raise ValueError(ast.dump(part))


def rounded(exact: Fraction, places: int = 3) -> Decimal:
    """Round to some decimals, half to even, without zeros at the end."""
    made = Decimal(round(exact * 10**places)).scaleb(-places)
    return Decimal(f"{made:f}".rstrip("0").rstrip(".")) if "." in f"{made:f}" else made


def n(asked: str, places: int = 3) -> Decimal:
    """Give a number by what it is asked as."""
    told = Told(rounded(worked_out(asked), places))
    told.asked = asked
    return told


def whole(asked: str) -> int:
    """Give a whole number by what it is asked as."""
    told = ToldWhole(int(worked_out(asked)))
    told.asked = asked
    return told


def quarters(asked: str) -> Decimal:
    """Give hours rounded up to whole quarters."""
    exact = worked_out(asked) * 4
    told = Told(Decimal(-(-exact.numerator // exact.denominator)) / 4)
    told.asked = f"quarters({asked})"
    return told


def each(name: str) -> Rate:
    """Take hours as a figure gives them: low, likely, high."""
    return f"{name}.low", name, f"{name}.high"


def speed(name: str, coats: str = "1") -> Rate:
    """Take hours from how much is done in one: `coats` times as many."""
    return f"{coats}/{name}.high", f"{coats}/{name}", f"{coats}/{name}.low"


def with_setup(rate: Rate, name: str) -> Rate:
    """Add hours that do not grow with the piece."""
    low, likely, high = rate
    return f"{name}.low+{low}", f"{name}+{likely}", f"{name}.high+{high}"


def hours(rate: Rate) -> Hours:
    """Write hours down."""
    low, likely, high = rate
    return Hours(low=n(low), likely=n(likely), high=n(high))


def takes(*materials: tuple[str, str]) -> tuple[MaterialNeed, ...]:
    """Write down what is taken: a material and what its quantity is asked as."""
    return tuple(
        MaterialNeed(material=MaterialId(material), quantity=n(asked, OF_QUANTITIES))
        for material, asked in materials
    )


def glass(asked: str) -> tuple[MaterialNeed, ...]:
    """Take glass, and resin and peroxide by its weight."""
    resin = f"{asked}*PL10"
    return takes(("mat", asked), ("resin", resin), ("peroxide", f"{resin}*PL01/100"))


def ways(
    skill: str,
    rate: Rate,
    teams: Teams = ((1, 0),),
    kinds: tuple[PlaceKind, ...] = (),
    tools: tuple[str, ...] = (),
    **more: Any,
) -> tuple[Way, ...]:
    """Write a way for each team: so many who can, so many who help."""
    made = []
    for can, helps in teams:
        count = can + helps
        made.append(
            Way(
                id=f"{count} people" if count > 1 else "1 person",
                needs=(Need(skill=SkillId(skill), can=can, helps=helps),),
                hours=hours(rate),
                place_kinds=kinds,
                equipment=tuple(EquipmentNeed(equipment=EquipmentId(t)) for t in tools),
                **more,
            )
        )
    return tuple(made)


Part = tuple[Step, RouteRule | None]
"""A step of a route and how it is copied."""


def stage(word: str, kind: Kind, made: tuple[Way, ...], **more: Any) -> Part:
    """Write a stage: `step_id` where the word is not its id; fields of a rule among the others."""
    about = {key: more.pop(key) for key in _OF_RULE if key in more}
    step_id = StepId(more.pop("step_id", word.replace(" ", "-")))
    return Stage(id=step_id, name=word, kind=kind, ways=made, **more), _rule(step_id, about)


def gate(word: str, kind: GateKind, **more: Any) -> Part:
    """Write a gate, as a stage is written."""
    about = {key: more.pop(key) for key in _OF_RULE if key in more}
    step_id = StepId(more.pop("step_id", word.replace(" ", "-")))
    return Gate(id=step_id, name=word, gate=kind, **more), _rule(step_id, about)


_OF_RULE = (
    "per",
    "only_if",
    "unless",
    "session_hours",
    "session_recoat_hours",
    "together",
    "classes",
)


def _rule(step_id: StepId, about: dict[str, Any]) -> RouteRule | None:
    return RouteRule(step=step_id, **about) if about else None


def only(
    parts: tuple[Part, ...], only_if: tuple[str, ...] = (), unless: tuple[str, ...] = ()
) -> tuple[Part, ...]:
    """Give parts with more said of when they are copied."""
    made = []
    for step, about in parts:
        rule = about or RouteRule(step=step.id)
        words = {"only_if": (*rule.only_if, *only_if), "unless": (*rule.unless, *unless)}
        made.append((step, replace(rule, only_if=words["only_if"], unless=words["unless"])))
    return tuple(made)


def abraded(skill: str = "finish") -> Abrade:
    """Write what a recoat time that ran out calls for."""
    return Abrade(ways=ways(skill, each("CP149"), kinds=BAY))


BANDS = (
    ("PT01a", 21), ("PT01b", 27), ("PT01c", 32), ("PT01d", 38), ("PT01e", 43), ("PT01f", 49),
)  # fmt: skip
"""Polyurethane over polyurethane: figures, and the warm ends of their bands."""


def in_name(name: str, celsius: int) -> Decimal:
    """Give a temperature that stands in the name of a figure."""
    assert f"{celsius} degC" in figure(name).name
    told = Told(celsius)
    told.asked = f"in the name of {name}"
    return told


def recoat_bands() -> tuple[RecoatBand, ...]:
    """Write polyurethane's greatest waits down."""
    return tuple(
        RecoatBand(upto_celsius=in_name(name, upto), most_hours=n(f"{name}.high"))
        for name, upto in BANDS
    )


ENGINEER = Client(name="engineer", zone="UTC", country="", answer_days=whole("CP126"))
"""Bound to the workshop's own zone and holidays when the way of making is copied."""


def leg(kind: LegKind, word: str, name: str, *, inside: bool = True) -> Leg:
    """Write a leg down."""
    return Leg(kind=kind, name=word, minutes=whole(name), inside=inside)


def ship(*, has_sealant: bool) -> Part:
    """Write the journey of a van; with sealant into the joints on site, or without."""
    legs = [
        leg(LegKind.DRIVE, "drive", "CP158", inside=False),
        leg(LegKind.UNLOAD, "unload", "CP159"),
        leg(LegKind.ASSEMBLE, "assemble", "CP160"),
    ]
    if has_sealant:
        legs.append(leg(LegKind.SEAL, "seal", "CP161"))
    legs.append(leg(LegKind.SIGN_OFF, "sign off", "CP162"))
    step_id = StepId("ship-sealed" if has_sealant else "ship")
    made = Journey(
        id=step_id,
        name="ship",
        legs=tuple(legs),
        vehicles=(EquipmentId("van"),),
        back_minutes=whole("CP158"),
    )
    about = {"only_if": ("sealant",)} if has_sealant else {"unless": ("sealant",)}
    return made, RouteRule(step=step_id, **about)  # type: ignore[arg-type]


PER_M2 = Measure.SURFACE
PER_M3 = Measure.VOLUME
PER_M = Measure.JOINTS
PER_PIECE = Measure.PIECE
TRAINED = ("isocyanate training",)
BY_DETAIL = (ClassOf.DETAIL,)
BY_FINISH = (ClassOf.FINISH,)


def after(step: str, least: str | None = None) -> After:
    """Write down that a step comes after another, and how long."""
    hours = Decimal(0) if least is None else n(least)
    return After(step=StepId(step), least_hours=hours)

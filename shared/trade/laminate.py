"""How much glass, resin, catalyst and gel coat a laminate takes, and how thick and heavy it is.

All results are exact. Ratios and uses are those of the tables unless others are given.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shared.trade.figures import Figure, figure

_GRAMS_PER_KG = 1000
_MM_PER_M = 1000
_PERCENT = 100
_CATALYST_BY_TEMPERATURE = ("PL03a", "PL03b", "PL03c", "PL03d")


@dataclass(frozen=True, slots=True, kw_only=True)
class Laminate:
    """What a laminate takes (kg, nothing wasted), its thickness (mm) and its mass (kg).

    mass_kg: glass and resin; the catalyst is not counted.
    """

    glass_kg: Fraction
    resin_kg: Fraction
    catalyst_kg: Fraction
    thickness_mm: Fraction

    @property
    def mass_kg(self) -> Fraction:
        """Return what the finished laminate weighs."""
        return self.glass_kg + self.resin_kg

    @property
    def glass_percent(self) -> Fraction:
        """Return the share of glass by weight."""
        return _PERCENT * self.glass_kg / self.mass_kg


@dataclass(frozen=True, slots=True, kw_only=True)
class Coating:
    """What a gel coat or flow coat takes (kg): the coat, and besides it wax and catalyst."""

    coat_kg: Fraction
    wax_kg: Fraction
    catalyst_kg: Fraction


def laminate(
    area_m2: Decimal,
    mats: Sequence[Decimal],
    *,
    resin_ratio: Decimal | None = None,
    catalyst_percent: Decimal | None = None,
) -> Laminate:
    """Give what layers of chopped-strand mat on an area take.

    mats: the weight of each layer in g/m2. resin_ratio: resin to glass by weight, PL10 where
    none is given. catalyst_percent: of the resin by weight, PL01 where none is given. The
    thickness counts glass and cured resin without voids, by the densities of PL13.

    Raises
    ------
    ValueError
        If the area, a mat, the ratio or the catalyst is negative.
    """
    ratio = _chosen(resin_ratio, "PL10")
    percent = _chosen(catalyst_percent, "PL01")
    _not_negative(area_m2, *mats, ratio, percent)
    glass_kg_per_m2 = sum((Fraction(mat) for mat in mats), Fraction(0)) / _GRAMS_PER_KG
    resin_kg_per_m2 = glass_kg_per_m2 * Fraction(ratio)
    thickness_m = glass_kg_per_m2 / _amount("PL13g") + resin_kg_per_m2 / _amount("PL13r")
    resin_kg = resin_kg_per_m2 * Fraction(area_m2)
    return Laminate(
        glass_kg=glass_kg_per_m2 * Fraction(area_m2),
        resin_kg=resin_kg,
        catalyst_kg=_share(resin_kg, percent),
        thickness_mm=thickness_m * _MM_PER_M,
    )


def catalyst_percent(celsius: Decimal) -> Decimal | None:
    """Give the catalyst for laminating resin in a shop of some temperature, % by weight.

    None where nobody lays up: colder than PL05 (blocked, not slow) or warmer than the last of
    the bands PL03. Where two bands meet the colder one holds, as 2 % at 20 degC in PL04.
    """
    if celsius < figure("PL05").least:
        return None
    for name in _CATALYST_BY_TEMPERATURE:
        band = figure(name)
        if celsius <= band.most:
            return band.amount
    return None


def gel_coat(area_m2: Decimal) -> Coating:
    """Give what a gel coat on an area takes: PL16b of coat, PL02 of catalyst, no wax.

    Raises
    ------
    ValueError
        If the area is negative.
    """
    return _coating(area_m2, figure("PL16b"), Decimal(0))


def flow_coat(area_m2: Decimal) -> Coating:
    """Give what a flow coat on an area takes: PL19b of coat, PL19 of wax, PL02 of catalyst.

    Raises
    ------
    ValueError
        If the area is negative.
    """
    return _coating(area_m2, figure("PL19b"), figure("PL19").amount)


def _coating(area_m2: Decimal, use: Figure, wax_percent: Decimal) -> Coating:
    _not_negative(area_m2)
    coat_kg = Fraction(area_m2) * Fraction(use.amount)
    return Coating(
        coat_kg=coat_kg,
        wax_kg=_share(coat_kg, wax_percent),
        catalyst_kg=_share(coat_kg, figure("PL02").amount),
    )


def _chosen(given: Decimal | None, usual: str) -> Decimal:
    return figure(usual).amount if given is None else given


def _amount(figure_id: str) -> Fraction:
    return Fraction(figure(figure_id).amount)


def _share(mass_kg: Fraction, percent: Decimal) -> Fraction:
    return mass_kg * Fraction(percent) / _PERCENT


def _not_negative(*numbers: Decimal) -> None:
    if any(number < 0 for number in numbers):
        raise ValueError(f"must not be negative: {', '.join(map(str, numbers))}")

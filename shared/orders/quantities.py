"""How much is bought: what is wasted besides, whole packs, and how much of it may be stored."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from math import ceil

from shared.book import Material, MaterialKind
from shared.trade import figure

CUBIC_METRES = "m3"

_PERCENT = 100
_MM_PER_M = 1000
_THOUSANDTHS = 1000
_MOST_PARTS = 12
_WASTE: dict[MaterialKind, Callable[[], Decimal]] = {
    MaterialKind.MAT: lambda: figure("QL04a").amount,
    MaterialKind.RESIN: lambda: figure("QL04b").amount,
    MaterialKind.FOAM: lambda: (figure("QL04c").least + figure("QL04c").most) / 2,
}


def block_m3() -> Fraction:
    """Give the volume of a trade block of foam (EP01), in m3."""
    sides = (Fraction(figure(name).amount) / _MM_PER_M for name in ("EP01a", "EP01b", "EP01c"))
    length, width, height = sides
    return length * width * height


def gross(net: Fraction | Decimal, waste_percent: Decimal, *, of_gross: bool = False) -> Fraction:
    """Give what is bought for a net quantity, waste being a share of that or of what is bought.

    Raises
    ------
    ValueError
        If all of what is bought would be wasted.
    """
    share = Fraction(waste_percent) / _PERCENT
    if not of_gross:
        return Fraction(net) * (1 + share)
    if share >= 1:
        raise ValueError(f"nothing is left of what is bought: {waste_percent} %")
    return Fraction(net) / (1 - share)


def waste_percent(material: Material) -> Decimal:
    """Give the waste of a material: its own, else the usual of its kind, else none."""
    if material.waste_percent is not None:
        return material.waste_percent
    usual = _WASTE.get(material.kind)
    return Decimal(0) if usual is None else usual()


def gross_of(material: Material, net: Fraction | Decimal) -> Fraction:
    """Give what is bought of a material for a net quantity, in its unit."""
    return gross(net, waste_percent(material), of_gross=material.waste_of_gross)


def pack_size(material: Material) -> Fraction | None:
    """Give how much is in a pack of a material, in its unit; None where it comes loose."""
    if material.pack_size is not None:
        return Fraction(material.pack_size)
    in_blocks = material.kind is MaterialKind.FOAM and material.unit == CUBIC_METRES
    return block_m3() if in_blocks else None


def packs(quantity: Fraction, size: Fraction) -> int:
    """Give how many whole packs hold a quantity."""
    return ceil(quantity / size)


def store_cap(material: Material) -> Fraction | None:
    """Give how much of a material may be stored at once, in its unit; None where nothing is said.

    Of foam in m3 it is EP09, advice of the industry for sites.
    """
    if material.store_cap is not None:
        return Fraction(material.store_cap)
    is_counted = material.kind is MaterialKind.FOAM and material.unit == CUBIC_METRES
    return Fraction(figure("EP09").amount) if is_counted else None


def shelf_life_months(material: Material) -> int | None:
    """Give how long a material may lie, in calendar months: its own, of resin else PL26."""
    if material.shelf_life_months is not None:
        return material.shelf_life_months
    return int(figure("PL26").amount) if material.kind is MaterialKind.RESIN else None


def age_days(material: Material) -> int:
    """Give how old foam must be under a hard coat, in days: its own figure, else EP06."""
    return int(figure("EP06").amount) if material.age_days is None else material.age_days


def join_days(material: Material) -> int:
    """Give within how many days of a delivery what is needed comes with it: its own, else CP600."""
    return int(figure("CP600").amount) if material.join_days is None else material.join_days


def parts_for_store(quantity: Fraction, room: Fraction, most: Fraction) -> tuple[Fraction, ...]:
    """Give the deliveries in which so much comes: what there is room for, then the rest.

    room, most: so much more the store takes now, and so much when it is empty, in whole packs.
    Where it never holds a pack all comes at once; after twelve deliveries what is left does.
    """
    if most <= 0:
        return (quantity,)
    parts = [min(quantity, room)] if room > 0 else []
    left = quantity - sum(parts)
    while left > 0 and len(parts) < _MOST_PARTS - 1:
        parts.append(min(left, most))
        left -= parts[-1]
    return (*parts, left) if left > 0 else tuple(parts)


def rounded_up(quantity: Fraction) -> Decimal:
    """Give a quantity as a decimal, up to a thousandth of its unit."""
    exact = quantity * _THOUSANDTHS
    return Decimal(-(-exact.numerator // exact.denominator)) / _THOUSANDTHS

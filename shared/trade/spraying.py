"""How far paint goes, how much of it a surface takes, and the hours of work by a rate."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shared.trade.figures import Figure, figure

_MICROMETRES_AND_LITRES = 1000
"""A litre of dry film a thousandth of a millimetre thick covers a thousand square metres."""

_PERCENT = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonHours:
    """Hours of work by a rate: as quick as it goes, as is likely, as slow as it goes.

    The three are the same where the rate has no range.
    """

    low: Fraction
    likely: Fraction
    high: Fraction


def coverage_m2_per_litre(solids_percent: Decimal, film_um: Decimal) -> Fraction:
    """Give the theoretical coverage of paint: solids by volume, film when dry.

    Source: published datasheet PC 0458, as PT13a and PT13b: 10 x solids / film.

    Raises
    ------
    ValueError
        If solids are not within 0 to 100 %, or the film is not thicker than nothing.
    """
    if not 0 <= solids_percent <= _PERCENT or film_um <= 0:
        raise ValueError(f"no such paint: {solids_percent} %, {film_um} um")
    return _MICROMETRES_AND_LITRES * Fraction(solids_percent) / _PERCENT / Fraction(film_um)


def paint_litres(
    area_m2: Decimal, coverage: Fraction, *, coats: int = 1, share_percent: Decimal | None = None
) -> Fraction:
    """Give the litres that coats on an area take.

    coverage: m2/l in theory. share_percent: how much of it is reached in practice; PT14 (spraying
    on sculpture, common practice) where none is given.

    Raises
    ------
    ValueError
        If the area or the number of coats is negative, or coverage or share not above 0.
    """
    share = figure("PT14").amount if share_percent is None else share_percent
    if area_m2 < 0 or coats < 0 or coverage <= 0 or share <= 0:
        raise ValueError(f"can't be painted: {area_m2} m2, {coats} coats, {coverage}, {share} %")
    return coats * Fraction(area_m2) / (coverage * Fraction(share) / _PERCENT)


def painting_hours(area_m2: Decimal, *, coats: int = 1) -> PersonHours:
    """Give the person-hours to paint an easy surface, QL01 for each coat.

    Raises
    ------
    ValueError
        If the area or the number of coats is negative.
    """
    return person_hours(figure("QL01"), coats * area_m2)


def person_hours(rate: Figure, amount: Decimal) -> PersonHours:
    """Give the person-hours for an amount (m2, m3, kg) at a rate per person-hour (QL01 to QL03).

    Raises
    ------
    ValueError
        If the amount is negative or the figure is no rate per person-hour.
    UnknownFigure
        If the figure has a range but no value.
    """
    if amount < 0 or not rate.unit.endswith("/person-hour"):
        raise ValueError(f"no hours of {amount} at {rate.id} in {rate.unit}")
    quick = rate.amount if rate.high is None else rate.high
    slow = rate.amount if rate.low is None else rate.low
    whole = Fraction(amount)
    return PersonHours(
        low=whole / Fraction(quick),
        likely=whole / Fraction(rate.amount),
        high=whole / Fraction(slow),
    )

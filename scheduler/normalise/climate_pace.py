"""How fast something cures at a temperature, and for how long it may be coated again.

A cure gets done twice as fast where it is ten degrees warmer (figure PL07). Powers of two are
hardly ever whole, so they are kept in billionths of the pace at the temperature that the cure is
written for, rounded down: no wait is ever too short, and none a billionth too long.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Context, Decimal
from fractions import Fraction
from functools import lru_cache

from scheduler.problem import Table
from shared.book import Gate, RecoatBand, Stage
from shared.trade import figure
from shared.units import STEPS_PER_HOUR

FULL_PACE = 10**9
"""The pace at the temperature that a cure is written for."""

_EXACT = Context(prec=40)
_TENS_MAX = Decimal(10)
"""What is warmer by more tens of degrees is taken for so much: sums stay in 64 bits."""
_NEED_MAX = 2 * 10**18


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """So many hours at so many degrees."""

    celsius: Decimal
    hours: Decimal

    @property
    def need(self) -> int:
        """Return what must be done in all, in paces times steps, rounded up."""
        exact = Fraction(self.hours) * STEPS_PER_HOUR * FULL_PACE
        return min(-(-exact.numerator // exact.denominator), _NEED_MAX)

    def pace(self, celsius: Decimal) -> int:
        """Return how much of it is done in a step at so many degrees, rounded down.

        Never more than all of it: a step is the least there is.
        """
        return min(_pace(celsius - self.celsius), self.need)


def cure_of(step: Stage | Gate) -> Cure | None:
    """Return the cure of a step that goes by the temperature, None where it does not."""
    if isinstance(step, Gate) or step.cure_celsius is None or not step.cure_hours:
        return None
    return Cure(celsius=step.cure_celsius, hours=step.cure_hours)


@lru_cache(maxsize=4096)
def _pace(warmer: Decimal) -> int:
    tens = min(warmer / 10, _TENS_MAX)
    return int(_EXACT.power(figure("PL07").amount, tens) * FULL_PACE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """Greatest waits by the hottest hour: (upto, hours), no longer where it is warmer."""

    bands: tuple[tuple[Decimal, Decimal], ...]

    def hours(self, celsius: Decimal) -> Decimal:
        """Return the greatest wait at so many degrees, 0 where it is too hot for any."""
        return next((hours for upto, hours in self.bands if celsius <= upto), Decimal(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat:
    """Until when the next coat may start: steps from the end, or by a table; None: no limit.

    in_doubt: it may be later in one place than in another.
    """

    most: int | None = None
    table: Table | None = None
    in_doubt: bool = False


def bands_of(bands: Iterable[RecoatBand]) -> Bands:
    """Return the bands of a coat."""
    found: list[tuple[Decimal, Decimal]] = []
    for band in sorted(bands, key=lambda each: each.upto_celsius):
        least = min((hours for _, hours in found), default=band.most_hours)
        found.append((band.upto_celsius, min(least, band.most_hours)))
    return Bands(bands=tuple(found))

"""The limits of a material: which hours forbid it, and why."""

from dataclasses import dataclass
from decimal import Context, Decimal
from functools import lru_cache

from scheduler.reasons import Reason
from shared.book import Stage
from shared.climate import Hour
from shared.trade import figure

_FINE = Context(prec=30)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit of a material: least or most degrees, most humidity, or degrees above dew."""

    reason: Reason
    amount: Decimal
    above_dew: bool = False

    def forbids(self, hour: Hour) -> bool:
        """Return whether an hour is too cold, too warm or too damp; what is not known is not."""
        if self.reason is Reason.TOO_COLD:
            return hour.coldest < self.amount
        if self.reason is Reason.TOO_WARM:
            return hour.hottest > self.amount
        if hour.humidity is None:
            return False
        if not self.above_dew:
            return hour.humidity > self.amount
        return hour.coldest < _dew_point(hour.hottest, hour.humidity) + self.amount


def limits_of(stage: Stage) -> tuple[Limit, ...]:
    """Return the limits that a stage names."""
    return _limits(
        stage.coldest_celsius,
        stage.warmest_celsius,
        stage.most_humidity_percent,
        stage.dew_point_margin_celsius,
    )


@lru_cache(maxsize=1024)
def _limits(
    coldest: Decimal | None, warmest: Decimal | None, damp: Decimal | None, dew: Decimal | None
) -> tuple[Limit, ...]:
    named = (
        (Reason.TOO_COLD, coldest, False),
        (Reason.TOO_WARM, warmest, False),
        (Reason.TOO_DAMP, damp, False),
        (Reason.TOO_DAMP, dew, True),
    )
    return tuple(
        Limit(reason=reason, amount=amount, above_dew=above_dew)
        for reason, amount, above_dew in named
        if amount is not None
    )


def _dew_point(celsius: Decimal, humidity: Decimal) -> Decimal:
    """Return the dew point of air by the Magnus formula (figures MG01 and MG02).

    With no water in it, or where the formula ends, it is as cold as can be.
    """
    factor, offset = figure("MG01").amount, figure("MG02").amount
    if humidity <= 0 or celsius <= -offset:
        return -offset
    damp = _FINE.ln(humidity / 100) + factor * celsius / (offset + celsius)
    return offset * damp / (factor - damp)

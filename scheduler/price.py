"""What an enquiry costs, and the price at which taking it leaves the owner no worse off.

For the owner's eyes: a floor, not a proposal. Hours that people are paid for anyway cost nothing.
"""

from dataclasses import dataclass
from decimal import ROUND_UP, Decimal

SELDOM_PERCENT = 90
"""A price paid only on time means nothing where more often than so in a hundred nothing is paid."""
_CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """What is spent because of an enquiry, beside what would be spent anyway.

    besides: freight, work hired out, overtime, hired hands and heating that the plan takes. levers:
    ways out that are pulled for it. lateness: how much more the lateness of other jobs is expected
    to cost.
    """

    materials: Decimal = Decimal(0)
    besides: Decimal = Decimal(0)
    levers: Decimal = Decimal(0)
    lateness: Decimal = Decimal(0)

    @property
    def total(self) -> Decimal:
        """Return all of it."""
        return self.materials + self.besides + self.levers + self.lateness


@dataclass(frozen=True, slots=True, kw_only=True)
class Pricing:
    """What an enquiry costs, and what its own lateness does.

    missed: what its own lateness is expected to cost. late_percent: how often it is late, None
    where nothing is known.
    """

    costs: Costs
    missed: Decimal
    late_percent: int | None

    @property
    def least(self) -> Decimal:
        """Return the price that leaves the owner no worse off where it is paid in any case."""
        return _up(self.costs.total + self.missed)

    @property
    def least_if_on_time(self) -> Decimal | None:
        """Return it where it is paid only if the window is kept; None where it seldom is."""
        if self.late_percent is None or self.late_percent > SELDOM_PERCENT:
            return None
        share = Decimal(100 - self.late_percent) / 100
        return _up((self.costs.total + self.missed) / share)


def _up(amount: Decimal) -> Decimal:
    return max(Decimal(0), amount).quantize(_CENT, rounding=ROUND_UP)

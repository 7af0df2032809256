"""The buying list: what to order by when, and what is on order and comes too late."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shared.ids import JobId, MaterialId, StepId, SupplierId


@dataclass(frozen=True, slots=True, kw_only=True)
class Dates:
    """The days of one delivery.

    need: the first step that uses it begins. receive_by, order_by: the last days for that; no
    order_by where nobody delivers, or no day is early enough. by_age: the foam's age under a hard
    coat decides it. made_not_before: made earlier it would be too old at its last use; not_before:
    the first working day from then on. is_too_old: that lies after receive_by, since one step
    takes longer than the shelf life. overdue_days: the supplier's working days since order_by.
    Of what is overdue, arrives: the day it comes if it is ordered today; late_days: the
    workshop's working days from receive_by to then; aged: the first day for the hard coat, where
    that is after the one planned.
    """

    need: date
    receive_by: date
    order_by: date | None = None
    by_age: bool = False
    made_not_before: date | None = None
    not_before: date | None = None
    is_too_old: bool = False
    overdue_days: int = 0
    arrives: date | None = None
    late_days: int = 0
    aged: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One line of the buying list; quantities are in the material's unit.

    needed: with what is wasted. packs: whole ones; None where it comes loose. quantity: what is
    bought. is_rest: there is no room in the store for more at once, and this comes as it
    empties. deposit_first: jobs whose deposit is not paid.
    """

    material: MaterialId
    supplier: SupplierId | None
    jobs: tuple[JobId, ...]
    steps: tuple[StepId, ...]
    needed: Decimal
    packs: int | None
    quantity: Decimal
    cost: Decimal | None
    dates: Dates
    is_rest: bool = False
    deposit_first: tuple[JobId, ...] = ()

    @property
    def day(self) -> date:
        """Return the day it stands on in the list."""
        return self.dates.order_by or self.dates.receive_by


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """So much that is on order comes after the day on which a step needs it.

    late_days: the workshop's working days from receive_by to its arrival.
    """

    material: MaterialId
    job: JobId
    step: StepId
    quantity: Decimal
    arrives: date
    receive_by: date
    late_days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Buying:
    """What is to be bought, by the day of the order, and what comes too late.

    undated: steps that take material and stand nowhere in the plan.
    """

    orders: tuple[Order, ...] = ()
    coming: tuple[Coming, ...] = ()
    undated: tuple[StepId, ...] = ()

    @property
    def cost(self) -> Decimal:
        """Return what the orders cost whose price is known."""
        return sum((each.cost for each in self.orders if each.cost is not None), Decimal(0))

    @property
    def priced_count(self) -> int:
        """Return how many orders have a known price."""
        return sum(each.cost is not None for each in self.orders)

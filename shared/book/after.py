"""Which steps a step comes after, and how long after."""

from dataclasses import dataclass
from decimal import Decimal

from shared.ids import StepId
from shared.value import Value


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class After(Value):
    """A step comes after another: least and greatest elapsed hours between them.

    Counted from the other's end, or from its start; the other's own cure and recoat time
    hold besides when counted from its end.
    """

    step: StepId
    least_hours: Decimal = Decimal(0)
    most_hours: Decimal | None = None
    from_start: bool = False

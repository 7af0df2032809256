"""The ways to go on a journey: each means, by each kind of sailing, with its rules and price."""

from dataclasses import dataclass
from decimal import Decimal

from shared.book import Means
from shared.road.bans import Lorry
from shared.road.rules import HoursRules


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """The sailings of a leg that cost the same and ask to be there as long before.

    leg: its number in the book.
    """

    leg: int
    price: Decimal
    check_in_minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One way to go.

    means: as in the book; where the journey names none, one of its `vehicles` with id "".
    offers: which sailings it takes, one for each leg with some. rules: of whoever drives, the
    reserve already taken off. law: the same without reserve. crew_rules: of the people on site
    and on their own way; None where whoever drives works on site as well. lorry: as bans see it.
    price: of the means and its sailings. notes: codes of what it rests on (`Note`).
    """

    means: Means
    offers: tuple[Offer, ...]
    rules: HoursRules
    law: HoursRules
    crew_rules: HoursRules | None
    lorry: Lorry
    price: Decimal
    notes: tuple[str, ...] = ()

    @property
    def means_id(self) -> str | None:
        """Return the id that a plan keeps: None where the journey has no means to choose from."""
        return self.means.id or None

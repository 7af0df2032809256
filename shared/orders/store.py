"""What of a material is there or comes, taken by one use after the other."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from shared.book import Delivery, Material
from shared.orders.days import usable_until
from shared.orders.quantities import shelf_life_months
from shared.orders.uses import Use
from shared.worktime.zones import local_date


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """So much that is there from a day on; of no use after `until`."""

    left: Fraction
    since: date
    until: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What a use found: how much it still lacks, and what of it comes after its first day."""

    lacks: Fraction
    late: tuple[tuple[date, Fraction], ...] = ()


class Store:
    """The lots of one material.

    Of what was counted nobody knows the age, so it is taken to be of use.
    """

    def __init__(self, material: Material, zone: str, today: date) -> None:
        """Start with what was counted."""
        self._material, self._zone, self._today = material, zone, today
        self._months = shelf_life_months(material)
        self._lots: list[Lot] = []
        self._came: list[tuple[date, Fraction]] = []
        self._went: list[tuple[date, Fraction]] = []
        if material.counted:
            self.add(Fraction(material.counted), date.min, None)

    def deliver(self, deliveries: Iterable[Delivery]) -> None:
        """Add what has come since it was counted, and what is still to come."""
        counted_at = self._material.counted_at
        for each in deliveries:
            if each.arrived and counted_at is not None and each.at <= counted_at:
                continue
            day = local_date(each.at, self._zone)
            since = day if each.arrived else max(day, self._today)
            made = each.made_on or day
            margin = self._material.margin_days or 0
            until = usable_until(made, self._months, margin) if self._months is not None else None
            self.add(Fraction(each.quantity), since, until)

    def add(self, quantity: Fraction, since: date, until: date | None) -> None:
        """Add a lot that comes on a day."""
        self.keep(quantity, since, until)
        self.comes(since, quantity)

    def keep(self, quantity: Fraction, since: date, until: date | None) -> None:
        """Add what is left over of something that has come."""
        self._lots.append(Lot(left=quantity, since=since, until=until))

    def comes(self, day: date, quantity: Fraction) -> None:
        """Note that so much comes on a day, whoever uses it."""
        self._came.append((day, quantity))

    def goes(self, day: date, quantity: Fraction) -> None:
        """Note that so much is used on a day."""
        self._went.append((day, quantity))

    def holds(self, day: date) -> Fraction:
        """Return how much lies in the store before anything is used on a day."""
        came = sum((quantity for since, quantity in self._came if since <= day), Fraction(0))
        went = sum((quantity for used, quantity in self._went if used < day), Fraction(0))
        return max(came - went, Fraction(0))

    def take(self, use: Use, wanted: Fraction, soonest: date | None) -> Taken:
        """Take from the lots what a use can have, those first that grow old first.

        soonest: what is ordered today comes then; a lot that comes later than both that and the
        use is left for others. None: nothing can be ordered.
        """
        lots = sorted(self._lots, key=lambda lot: (lot.until or date.max, lot.since))
        kept, late = [], []
        for lot in lots:
            amount = min(lot.left, wanted) if _is_of_use(lot, use, soonest) else Fraction(0)
            wanted -= amount
            self.goes(use.first, amount)
            if amount and lot.since > use.first:
                late.append((lot.since, amount))
            if lot.left > amount:
                kept.append(replace(lot, left=lot.left - amount))
        self._lots = kept
        return Taken(lacks=wanted, late=tuple(late))


def _is_of_use(lot: Lot, use: Use, soonest: date | None) -> bool:
    if use.is_provided:
        return True
    if lot.until is not None and lot.until < use.last:
        return False
    return lot.since <= use.first or soonest is None or lot.since <= soonest

"""The buying list of a plan: deliveries joined over jobs, split by age and by the store."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from math import floor

from shared.book import Book, Job, Material, MaterialKind
from shared.orders.dating import Batch, dated, late_by, received
from shared.orders.days import Road, arrives, made_not_before, road_of, workshop_days
from shared.orders.quantities import (
    gross_of,
    join_days,
    pack_size,
    packs,
    parts_for_store,
    rounded_up,
    shelf_life_months,
    store_cap,
)
from shared.orders.store import Store, Taken
from shared.orders.uses import Use, undated, uses_of
from shared.orders.values import Buying, Coming, Dates, Order
from shared.plan import Plan
from shared.worktime import DayCalendar, NoWorkingTime
from shared.worktime.zones import local_date


def buying(book: Book, plan: Plan, now: datetime) -> Buying:
    """Return what is to be bought for a plan, as of a moment.

    What is done, under way or told to be there takes from the store what it needs, and nothing
    is bought for it. The days go by the plan as it stands; how likely it is does not count.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of the zone or of the holidays of the workshop or a supplier.
    """
    if not book.materials:
        return Buying()
    by_material = defaultdict(list)
    for use in uses_of(book, plan, now):
        by_material[use.material].append(use)
    buyers = [_Buyer(book, material, now) for material in book.materials]
    in_one_store = [buyer.store for buyer in buyers if buyer.is_in_common_store]
    orders: list[Order] = []
    coming: list[Coming] = []
    for buyer in buyers:
        if buyer.is_in_common_store:
            buyer.beside = [store for store in in_one_store if store is not buyer.store]
        orders += buyer.orders_for(by_material[buyer.material.id])
        coming += buyer.coming
    return Buying(
        orders=tuple(sorted(orders, key=lambda each: (each.day, each.material, each.dates.need))),
        coming=tuple(sorted(coming, key=lambda each: (each.receive_by, each.material, each.step))),
        undated=undated(book, plan),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lack:
    """What a use lacks, wasted included."""

    use: Use
    quantity: Fraction


class _Buyer:
    """The orders of one material.

    beside: what lies in the same store. All foam whose store has no cap of its own shares one; of
    materials that stand later in the book only what is there and on order is known.
    """

    def __init__(self, book: Book, material: Material, now: datetime) -> None:
        self.material = material
        self._zone = book.workshop.zone
        self._today = local_date(now, self._zone)
        self._here: DayCalendar = workshop_days(book.workshop)
        self._road = _road(book, material)
        self._unpaid = {job.id for job in book.jobs if _is_unpaid(job)}
        self._months = shelf_life_months(material)
        self._size, self._cap = pack_size(material), store_cap(material)
        self.store = Store(material, self._zone, self._today)
        self.store.deliver(each for each in book.deliveries if each.material == material.id)
        self._soonest = self._arrival()
        self._open: list[_Lack] = []
        self.beside: list[Store] = []
        self.coming: list[Coming] = []

    @property
    def is_in_common_store(self) -> bool:
        """Return whether it lies where all the foam does."""
        return self.material.store_cap is None and self._cap is not None

    def orders_for(self, uses: Sequence[Use]) -> list[Order]:
        """Return the orders, in the order of the uses."""
        counted_at = self.material.counted_at
        later = [use for use in uses if counted_at is None or use.starts >= counted_at]
        found: list[Order] = []
        for use in later:
            lacks = self._taken(use, gross_of(self.material, use.net))
            if lacks and self._open and not self._joins(use, lacks):
                found += list(self._closed())
                lacks = self._taken(use, lacks)
            if lacks:
                self._open.append(_Lack(use=use, quantity=lacks))
        return [*found, *(self._closed() if self._open else ())]

    def _arrival(self) -> date | None:
        try:
            return None if self._road is None else arrives(self._road, self._today)
        except NoWorkingTime:
            return None

    def _taken(self, use: Use, wanted: Fraction) -> Fraction:
        """Return what has to be bought for a use; note what comes too late for it."""
        taken = self.store.take(use, wanted, self._soonest)
        if use.is_provided:
            return Fraction(0)
        self.coming += self._late(use, taken)
        return taken.lacks

    def _late(self, use: Use, taken: Taken) -> Iterator[Coming]:
        last = self._received(use)
        for day, quantity in taken.late:
            yield Coming(
                material=use.material,
                job=use.job,
                step=use.step,
                quantity=rounded_up(quantity),
                arrives=day,
                receive_by=last,
                late_days=late_by(self._here, last, day),
            )

    def _received(self, use: Use) -> date:
        return received(self._here, use.first, self._road)

    def _joins(self, use: Use, lacks: Fraction) -> bool:
        """Return whether a use can have its share of the delivery that is open."""
        first = self._open[0].use
        if self.material.kind is MaterialKind.PEROXIDE and use.job != first.job:
            return False
        arrival = self._received(first)
        if (self._received(use) - arrival).days > join_days(self.material):
            return False
        if self._months is not None:
            last = max(use.last, *(each.use.last for each in self._open))
            margin = self.material.margin_days or 0
            if made_not_before(last, self._months, margin) > arrival:
                return False
        total = lacks + sum(each.quantity for each in self._open)
        return self._cap is None or self._bought(total) <= self._room(self._cap, arrival)

    def _room(self, cap: Fraction, day: date) -> Fraction:
        taken = sum((each.holds(day) for each in (self.store, *self.beside)), Fraction(0))
        return max(cap - taken, Fraction(0))

    def _bought(self, quantity: Fraction) -> Fraction:
        return quantity if self._size is None else packs(quantity, self._size) * self._size

    def _closed(self) -> Iterator[Order]:
        """Give the orders of the delivery that is open; what is left over goes to the store."""
        uses = [each.use for each in self._open]
        needed = sum((each.quantity for each in self._open), Fraction(0))
        bought = self._bought(needed)
        left = bought - needed
        arrival = self._received(uses[0])
        for number, part in enumerate(self._parts(bought, arrival)):
            yield self._order(uses, min(part, needed), part, is_rest=number > 0)
            needed -= min(part, needed)
        self.store.comes(arrival, bought)
        for each in self._open:
            self.store.goes(each.use.first, each.quantity)
        if left:
            last = max(use.last for use in uses)
            self.store.keep(left, arrival, last if self._months is not None else None)
        self._open = []

    def _parts(self, bought: Fraction, arrival: date) -> tuple[Fraction, ...]:
        if self._cap is None:
            return (bought,)
        room = self._whole(self._room(self._cap, arrival))
        return parts_for_store(bought, room, self._whole(self._cap))

    def _whole(self, quantity: Fraction) -> Fraction:
        return quantity if self._size is None else floor(quantity / self._size) * self._size

    def _order(
        self, uses: Sequence[Use], needed: Fraction, bought: Fraction, *, is_rest: bool
    ) -> Order:
        material = self.material
        count = None if self._size is None else packs(bought, self._size)
        price = material.pack_price
        jobs = tuple(dict.fromkeys(use.job for use in uses))
        return Order(
            material=material.id,
            supplier=material.supplier,
            jobs=jobs,
            steps=tuple(dict.fromkeys(use.step for use in uses)),
            needed=rounded_up(needed),
            packs=count,
            quantity=rounded_up(bought),
            cost=None if count is None or price is None else count * price,
            dates=self._dates(uses, is_rest=is_rest),
            is_rest=is_rest,
            deposit_first=tuple(job for job in jobs if job in self._unpaid),
        )

    def _dates(self, uses: Sequence[Use], *, is_rest: bool) -> Dates:
        coats = [use.coat for use in uses if use.coat is not None]
        batch = Batch(
            need=uses[0].first,
            last_use=max(use.last for use in uses),
            coat=min(coats, default=None),
            is_rest=is_rest,
        )
        return dated(self.material, self._here, self._road, batch, self._today)


def _road(book: Book, material: Material) -> Road | None:
    found = (each for each in book.suppliers if each.id == material.supplier)
    supplier = next(found, None)
    return None if supplier is None else road_of(book.workshop, supplier)


def _is_unpaid(job: Job) -> bool:
    return job.deposit_due is not None and job.deposit_paid is None

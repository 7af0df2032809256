"""When something comes that is ordered today, and when work with it can begin."""

from datetime import date, timedelta

from shared.book import Book, Supplier
from shared.ids import MaterialId
from shared.orders.days import arrives, first_open, road_of, workshop_days
from shared.orders.values import Order
from shared.worktime import NoWorkingTime


def comes(book: Book, order: Order, today: date) -> date:
    """Return the day on which an order comes that goes out today.

    That is as soon as its supplier can, but not before the first day on which it may come. Where
    nobody is named who delivers it, the last day to receive it.
    """
    supplier = _supplier(book, order.material)
    first = order.dates.not_before or today
    if supplier is None:
        return max(order.dates.receive_by, today)
    try:
        return max(arrives(road_of(book.workshop, supplier), today), first)
    except NoWorkingTime:
        return max(order.dates.receive_by, today)


def usable_from(book: Book, material: MaterialId, arrival: date) -> date:
    """Return the first day for work with what comes on a day: as `receive_by` has it, forward."""
    supplier = _supplier(book, material)
    here = workshop_days(book.workshop)
    is_same_day = supplier is not None and supplier.same_day
    try:
        return first_open(here, arrival if is_same_day else arrival + timedelta(days=1))
    except NoWorkingTime:
        return arrival


def _supplier(book: Book, material: MaterialId) -> Supplier | None:
    by_id = {each.id: each for each in book.suppliers}
    named = next((each.supplier for each in book.materials if each.id == material), None)
    return by_id.get(named) if named else None

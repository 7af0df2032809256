"""The days of one delivery: from whom, for what, as of today."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from shared.book import Material, MaterialKind
from shared.orders.days import (
    Road,
    arrives,
    first_open,
    made_not_before,
    moulded,
    order_by,
    order_by_age,
    receive_by,
)
from shared.orders.quantities import age_days, shelf_life_months
from shared.orders.values import Dates
from shared.worktime import DayCalendar, NoWorkingTime, working_days_between

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """What one delivery is for: its first and last day of use, and the day of a hard coat.

    is_rest: it comes once the store has room, which is when the work begins.
    """

    need: date
    last_use: date
    coat: date | None = None
    is_rest: bool = False


def received(here: DayCalendar, need: date, road: Road | None) -> date:
    """Return the last day to receive what is needed on a day.

    That is the day itself where five years before hold no working day.
    """
    try:
        return receive_by(here, need, same_day=road is not None and road.same_day)
    except NoWorkingTime:
        return need


def late_by(here: DayCalendar, last: date, day: date) -> int:
    """Return how many working days after the last day to receive it something comes."""
    return working_days_between(here, last + _DAY, day + _DAY)


def dated(
    material: Material, here: DayCalendar, road: Road | None, batch: Batch, today: date
) -> Dates:
    """Return the days of a delivery of a material, as of today."""
    found = _with_age(_received(here, road, batch), material, here, batch.last_use)
    if road is None:
        return found
    try:
        return _late(_ordered(found, material, road, batch), material, road, batch, today)
    except NoWorkingTime:
        return replace(found, order_by=None, by_age=False)


def _received(here: DayCalendar, road: Road | None, batch: Batch) -> Dates:
    if not batch.is_rest:
        return Dates(need=batch.need, receive_by=received(here, batch.need, road))
    try:
        day = first_open(here, batch.need)
    except NoWorkingTime:
        day = batch.need
    return Dates(need=batch.need, receive_by=day, not_before=day)


def _with_age(found: Dates, material: Material, here: DayCalendar, last_use: date) -> Dates:
    """Return the days with the first on which it may have been made, where it grows old."""
    months = shelf_life_months(material)
    if months is None:
        return found
    made = made_not_before(last_use, months, material.margin_days or 0)
    try:
        day = first_open(here, made)
    except NoWorkingTime:
        day = made
    return replace(
        found,
        made_not_before=made,
        not_before=max(day, found.not_before or day),
        is_too_old=made > found.receive_by,
    )


def _ordered(found: Dates, material: Material, road: Road, batch: Batch) -> Dates:
    day = order_by(road, found.receive_by)
    if material.kind is not MaterialKind.FOAM or batch.coat is None:
        return replace(found, order_by=day)
    by_age = order_by_age(road, batch.coat, age_days(material), _moulding(material, road))
    return replace(found, order_by=min(day, by_age), by_age=by_age < day)


def _moulding(material: Material, road: Road) -> int:
    """Return the supplier's working days to the moulding; at the latest it is the dispatch."""
    return road.lead_days if material.moulded_days is None else material.moulded_days


def _late(found: Dates, material: Material, road: Road, batch: Batch, today: date) -> Dates:
    """Return the days with what comes of ordering only today, where it is overdue."""
    if found.order_by is None or found.order_by >= today:
        return found
    day = arrives(road, today)
    aged = None
    if material.kind is MaterialKind.FOAM and batch.coat is not None:
        made = moulded(road, today, _moulding(material, road))
        aged = made + timedelta(days=age_days(material))
    return replace(
        found,
        overdue_days=working_days_between(road.there, found.order_by, today),
        arrives=day,
        late_days=late_by(road.here, found.receive_by, day),
        aged=aged if aged is not None and batch.coat is not None and aged > batch.coat else None,
    )

"""The buying list in words: what to order by when, how much, from whom and for which jobs."""

from decimal import Decimal
from typing import TYPE_CHECKING

from app.words.amounts import money
from app.words.template import Template, counted, within
from app.words.voice import capital

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from app.words import Words
    from shared.book import Job, Material
    from shared.ids import JobId, MaterialId, StepId
    from shared.orders import Buying, Coming, Dates, Order

TITLE: Template = "Orders"
MORE: Template = counted(
    "count",
    "One more with countback orders or --json.",
    "{number} more with countback orders or --json.",
)
NONE: Template = "Nothing is to be ordered."
HEAD: Template = counted("count", "One order.", "{number} orders.")
OVERDUE_HEAD: Template = counted(
    "count",
    "One of them should have gone out already.",
    "{number} of them should have gone out already.",
)
BY_KEPT: Template = "By the plan that the book holds."
BY_NEW: Template = "By a plan made for this, since the book holds none of its state."

LINE: Template = "{day}  {order}"
NO_DAY: Template = "no day"
PACKS: Template = "{material}, {count} × {size} {unit} ({needed} {unit} needed)"
BLOCKS: Template = counted(
    "count",
    "{material}, {count} block ({needed} {unit} needed)",
    "{material}, {count} blocks ({needed} {unit} needed)",
)
LOOSE: Template = "{material}, {needed} {unit}"
FROM: Template = "{what}, from {supplier}."
FROM_NOBODY: Template = "{what}; nobody is named who delivers it."

HERE_BY: Template = "Here by {day}, for {jobs}."
COST: Template = "Price: {cost} {currency}."
BY_AGE: Template = "The foam's age under the hard coat decides the day."
NOT_BEFORE: Template = "Made no earlier than {made}, so not delivered before {day}."
TOO_OLD: Template = (
    "It is used for longer than it keeps: have what is used last made no earlier than {made}."
)
REST: Template = "The store has no room for it before work on the rest has begun."
NO_DAY_WORKS: Template = "No working day of {supplier} is early enough."
TODAY: Template = "The order goes out today at the latest."
OVERDUE: Template = counted(
    "count",
    "It should have gone out a working day ago.",
    "It should have gone out {number} working days ago.",
)
STILL_IN_TIME: Template = "Ordered today it comes {day}, still in time."
TOO_LATE: Template = counted(
    "count",
    "Ordered today it comes {day}, a working day too late.",
    "Ordered today it comes {day}, {number} working days too late.",
)
AGED: Template = (
    "Ordered today the foam is old enough for its hard coat on {day}, which is too late."
)
SPARE: Template = "{job} has {spare} to spare."
DEPOSIT: Template = "First the deposit of {job}, due {day}."
DEPOSIT_LATE: Template = "First the deposit of {job}, which is due only {day}."
DEPOSIT_OVER: Template = "First the deposit of {job}, which was due {day}."

COMING: Template = counted(
    "count",
    "{quantity} {unit} of {material} on order comes {day}, a working day too late for {step} of "
    "{job}.",
    "{quantity} {unit} of {material} on order comes {day}, {number} working days too late for "
    "{step} of {job}.",
)
UNDATED: Template = counted(
    "count",
    "One step takes material and stands in no plan, so nothing is ordered for it: {steps}.",
    "{number} steps take material and stand in no plan, so nothing is ordered for them: {steps}.",
)
TOTAL: Template = "All of it comes to {cost} {currency}."
TOTAL_OF_SOME: Template = counted(
    "unknown",
    "What has a price comes to {cost} {currency}; the price of one order is not known.",
    "What has a price comes to {cost} {currency}; the price of {number} orders is not known.",
)

UNITS: dict[str, Template] = {
    "m2": within("unit", "m²"),
    "m3": within("unit", "m³"),
    "piece": within("unit", "pieces"),
}
_NAMED_COUNT = 6

TOLD_COUNT = 5
SOON_DAYS = 14


def quantity(words: "Words", amount: Decimal) -> str:
    """Give a quantity without noughts at its end."""
    whole = int(amount)
    if whole == amount:
        return words.number(whole)
    return f"{amount:f}".rstrip("0")


def unit(words: "Words", name: str) -> str:
    """Give a unit as it is written."""
    return words.say(UNITS[name]) if name in UNITS else name


def soon_lines(
    words: "Words",
    found: "Buying",
    materials: "Mapping[MaterialId, Material]",
    today: "date",
    spare_minutes: "Mapping[JobId, int | None]",
) -> list[str]:
    """Give the orders of the next two weeks and those overdue, and what comes too late.

    What nobody is named for who delivers it has no day, and is left for the buying list.
    spare_minutes: what the jobs have to spare; said where an order comes too late.
    """
    named = [each for each in found.orders if each.supplier is not None]
    soon = [each for each in named if (each.day - today).days <= SOON_DAYS]
    told = []
    for order in soon[:TOLD_COUNT]:
        line = order_line(words, order, materials[order.material], today)
        late = late_lines(words, order, today)
        spare = _spare_lines(words, order, spare_minutes) if order.dates.late_days else []
        told.append(" ".join((line, *late, *spare)))
    if len(soon) > TOLD_COUNT:
        told.append(_counted(words, MORE, len(soon) - TOLD_COUNT))
    return told + [coming_line(words, c, materials[c.material], today) for c in found.coming]


def _spare_lines(
    words: "Words", order: "Order", spare_minutes: "Mapping[JobId, int | None]"
) -> list[str]:
    known = [(job, spare_minutes.get(job)) for job in order.jobs]
    return [
        words.say(SPARE, job=words.names.of("job", job), spare=words.spare(minutes))
        for job, minutes in known
        if minutes is not None
    ]


def head_lines(words: "Words", found: "Buying") -> list[str]:
    """Give how many orders there are, and how many are overdue."""
    if not found.orders:
        return [words.say(NONE)]
    late = sum(order.dates.overdue_days > 0 for order in found.orders)
    told = [_counted(words, HEAD, len(found.orders))]
    return [*told, _counted(words, OVERDUE_HEAD, late)] if late else told


def order_line(words: "Words", order: "Order", material: "Material", today: "date") -> str:
    """Give an order behind its day."""
    day = order.dates.order_by
    what = words.say(
        FROM if order.supplier else FROM_NOBODY,
        what=_what(words, order, material),
        supplier=words.names.of("supplier", order.supplier or ""),
    )
    shown = words.say(NO_DAY) if day is None else words.day(day, after=today)
    return words.say(LINE, day=shown, order=what)


def _what(words: "Words", order: "Order", material: "Material") -> str:
    facts = {
        "material": material.name,
        "unit": unit(words, material.unit),
        "needed": quantity(words, order.needed),
    }
    if order.packs is None:
        return words.say(LOOSE, **facts)
    if material.pack_size is None:
        return words.say(BLOCKS, count=order.packs, **facts)
    size = quantity(words, material.pack_size)
    return words.say(PACKS, count=order.packs, size=size, **facts)


def order_lines(
    words: "Words", order: "Order", jobs: "Mapping[JobId, Job]", today: "date"
) -> list[str]:
    """Give what there is to say of an order besides."""
    dates = order.dates
    named = words.both(words.names.of("job", job) for job in order.jobs)
    here_by = words.day(dates.receive_by, after=today)
    told = [words.say(HERE_BY, day=here_by, jobs=named)]
    if order.is_rest:
        told.append(words.say(REST))
    told += age_lines(words, dates, today)
    told += late_lines(words, order, today)
    told += deposit_lines(words, order, jobs, today)
    if order.cost is not None:
        cost = money(words, order.cost)
        told.append(words.say(COST, cost=cost, currency=words.currency))
    return told


def deposit_lines(
    words: "Words", order: "Order", jobs: "Mapping[JobId, Job]", today: "date"
) -> list[str]:
    """Give which deposits are paid before it is ordered."""
    told = []
    for each in order.deposit_first:
        told += _deposit_lines(words, jobs[each], order.dates, today)
    return told


def age_lines(words: "Words", dates: "Dates", today: "date") -> list[str]:
    """Give what the age of a material says of its days."""
    told = []
    if dates.by_age:
        told.append(words.say(BY_AGE))
    made, first = dates.made_not_before, dates.not_before
    if made is None or first is None or made <= today:
        return told
    shown = words.day(made, after=today)
    if dates.is_too_old:
        return [*told, words.say(TOO_OLD, made=shown)]
    return [*told, words.say(NOT_BEFORE, made=shown, day=words.day(first, after=made))]


def late_lines(words: "Words", order: "Order", today: "date") -> list[str]:
    """Give what is late of an order, and what comes of ordering it today."""
    dates = order.dates
    if dates.order_by is None:
        supplier = words.names.of("supplier", order.supplier or "")
        return [words.say(NO_DAY_WORKS, supplier=supplier)] if order.supplier else []
    if dates.order_by == today:
        return [words.say(TODAY)]
    if not dates.overdue_days or dates.arrives is None:
        return []
    day = words.day(dates.arrives, after=today)
    told = [_counted(words, OVERDUE, dates.overdue_days)]
    if dates.late_days:
        told.append(_counted(words, TOO_LATE, dates.late_days, day=day))
    elif dates.aged is None:
        told.append(words.say(STILL_IN_TIME, day=day))
    if dates.aged is not None:
        told.append(words.say(AGED, day=words.day(dates.aged, after=today)))
    return told


def _deposit_lines(words: "Words", job: "Job", dates: "Dates", today: "date") -> list[str]:
    due = job.deposit_due
    if due is None:
        return []
    is_late = dates.order_by is not None and due > dates.order_by
    template = DEPOSIT_OVER if due < today else DEPOSIT_LATE if is_late else DEPOSIT
    return [words.say(template, job=job.name, day=words.day(due, after=today))]


def coming_line(words: "Words", coming: "Coming", material: "Material", today: "date") -> str:
    """Give what is on order and comes too late."""
    return _counted(
        words,
        COMING,
        coming.late_days,
        quantity=quantity(words, coming.quantity),
        unit=unit(words, material.unit),
        material=material.name,
        day=words.day(coming.arrives, after=today),
        step=words.names.of("step", coming.step),
        job=words.names.of("job", coming.job),
    )


def undated_line(words: "Words", steps: "tuple[StepId, ...]") -> str:
    """Give the steps for which nothing is ordered; the first few by name."""
    names = [words.names.of("step", step) for step in steps[:_NAMED_COUNT]]
    more = ["…"] if len(steps) > _NAMED_COUNT else []
    return _counted(words, UNDATED, len(steps), steps=words.series([*names, *more]))


def total_line(words: "Words", found: "Buying") -> str:
    """Give what the orders cost whose price is known; nothing where none is."""
    if not found.priced_count:
        return ""
    facts = {"cost": money(words, found.cost), "currency": words.currency}
    unknown = len(found.orders) - found.priced_count
    if not unknown:
        return words.say(TOTAL, **facts)
    number = words.number_word(unknown)
    return words.say(TOTAL_OF_SOME, unknown=unknown, number=number, **facts)


def _counted(words: "Words", template: Template, count: int, **facts: str) -> str:
    number = words.number_word(count)
    return capital(words.say(template, count=count, number=number, **facts))

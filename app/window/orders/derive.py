"""What the Orders view shows, reckoned from a book and its plan. No Qt."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from app.words import Words
from app.words import orders as told
from app.words import orders_view as say
from app.words.amounts import money
from app.words.template import Template
from app.words.voice import capital
from scheduler.outcome import Outcome
from shared.book import Book, Delivery, MaterialKind
from shared.ids import JobId, MaterialId, StepId
from shared.orders import Buying, Coming, Order, comes, usable_from
from shared.orders.days import workshop_days
from shared.plan import Plan
from shared.worktime import working_days_between
from shared.worktime.zones import local_date


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of the ladder.

    figure: the working days left. cells: what stands in its columns, the answer first. alarms:
    what is late of it; cure: what helps, and begin: the steps that would have to begin no earlier
    than a day for it. order, delivery: what can be marked. job: whose it is.
    """

    id: str
    figure: str
    is_late: bool
    kind: MaterialKind | None
    title: str
    small: tuple[str, ...]
    cells: tuple[str, ...]
    alarms: tuple[str, ...] = ()
    cure: str = ""
    begin: tuple[tuple[StepId, date], ...] = ()
    name: str = ""
    order: Order | None = None
    expected: date | None = None
    delivery: Delivery | None = None
    job: JobId | None = None

    @property
    def description(self) -> str:
        """Return all of it, as it is read out."""
        said = [self.name, *self.small, *self.alarms, self.cure]
        return " ".join(f"{each.rstrip('.')}." for each in said if each)


@dataclass(frozen=True, slots=True, kw_only=True)
class Orders:
    """All that is to be seen: what is to be ordered, what is on its way, and what has no day."""

    buying: Buying = field(default_factory=Buying)
    to_order: tuple[Line, ...] = ()
    on_order: tuple[Line, ...] = ()
    undated: str = ""
    total: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _At:
    book: Book
    plan: Plan
    words: Words
    today: date
    spare: Mapping[JobId, int | None]

    def days_to(self, day: date) -> int:
        here = workshop_days(self.book.workshop)
        if day < self.today:
            return -working_days_between(here, day, self.today)
        return working_days_between(here, self.today, day)

    def short(self, day: date) -> str:
        return say.short(self.words, day, self.today)

    def supplier(self, material: MaterialId) -> str:
        by_id = {each.id: each for each in self.book.materials}
        named = by_id[material].supplier
        if named is None:
            return self.words.say(say.WHOEVER)
        return self.words.names.of("supplier", named)


def derive(
    book: Book, plan: Plan, outcome: Outcome | None, found: Buying, words: Words, today: date
) -> Orders:
    """Return what the view shows of a buying list."""
    spare = {job.id: job.slack_minutes for job in outcome.jobs} if outcome else {}
    at = _At(book=book, plan=plan, words=words, today=today, spare=spare)
    return Orders(
        buying=found,
        to_order=_told_apart(_order_line(at, each) for each in found.orders),
        on_order=_told_apart(_on_order(at, found.coming)),
        undated=told.undated_line(words, found.undated) if found.undated else "",
        total=told.total_line(words, found),
    )


def _told_apart(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Return lines whose ids differ: one material may be ordered several times."""
    seen: dict[str, int] = {}
    made = []
    for line in lines:
        count = seen[line.id] = seen.get(line.id, 0) + 1
        made.append(replace(line, id=f"{line.id} {count}"))
    return tuple(made)


def _order_line(at: _At, order: Order) -> Line:
    words, dates = at.words, order.dates
    material = next(each for each in at.book.materials if each.id == order.material)
    day = dates.order_by
    begin, cure = _cure(at, order)
    alarms = tuple(told.late_lines(words, order, at.today))
    jobs = {job.id: job for job in at.book.jobs}
    notes = [words.say(told.REST)] if order.is_rest else []
    notes += told.age_lines(words, dates, at.today)
    notes += told.deposit_lines(words, order, jobs, at.today)
    title = _amount(at, order)
    by = words.say(say.NO_DAY) if day is None else at.short(day)
    return Line(
        id=f"order {order.material} {dates.receive_by}",
        figure="" if day is None else str(abs(at.days_to(day))),
        is_late=bool(dates.overdue_days) or (day is None and order.supplier is not None),
        kind=material.kind,
        title=title,
        small=(_source(at, order), *notes),
        cells=(
            by,
            "" if dates.not_before is None else _not_before(at, dates.not_before),
            at.short(dates.receive_by),
            "" if order.cost is None else f"{money(words, order.cost)} {words.currency}",
        ),
        alarms=alarms,
        cure=cure,
        begin=begin,
        name=words.say(say.ROW_NAME, what=title, day=by),
        order=order,
        expected=comes(at.book, order, at.today),
        job=order.jobs[0] if order.jobs else None,
    )


def _not_before(at: _At, day: date) -> str:
    return at.short(day) if day > at.today else ""


def _amount(at: _At, order: Order) -> str:
    material = next(each for each in at.book.materials if each.id == order.material)
    words = at.words
    facts = {
        "material": material.name,
        "unit": told.unit(words, material.unit),
        "needed": told.quantity(words, order.needed),
    }
    if order.packs is None:
        return words.say(say.AMOUNT, **facts)
    if material.pack_size is None:
        return words.say(say.AMOUNT_BLOCKS, count=order.packs, **facts)
    size = told.quantity(words, material.pack_size)
    return words.say(say.AMOUNT_PACKS, count=order.packs, size=size, **facts)


def _source(at: _At, order: Order) -> str:
    words = at.words
    material = next(each for each in at.book.materials if each.id == order.material)
    parts = []
    if order.packs is not None:
        unit = told.unit(words, material.unit)
        needed = told.quantity(words, order.needed)
        parts.append(words.say(say.NEEDED, needed=needed, unit=unit))
    if order.supplier is None:
        parts.append(words.say(say.FROM_NOBODY))
    else:
        parts.append(words.say(say.FROM, supplier=at.supplier(order.material)))
    named = words.both(words.names.of("job", job) for job in order.jobs)
    parts.append(words.say(say.FOR, jobs=named))
    return words.series(parts)


def _cure(at: _At, order: Order) -> tuple[tuple[tuple[StepId, date], ...], str]:
    """Return what helps where an order comes too late, and the steps that would wait for it."""
    words, dates = at.words, order.dates
    if order.supplier is None:
        return (), words.say(say.CURE_SUPPLIER)
    if dates.order_by is None:
        return (), words.say(say.CURE_NO_DAY)
    if dates.late_days and dates.arrives is not None:
        return _waits(at, order.material, order.steps, dates.arrives, dates.late_days)
    if dates.aged is not None:
        return (), words.say(say.CURE_AGED)
    return (), ""


def _waits(
    at: _At, material: MaterialId, steps: tuple[StepId, ...], arrival: date, late_days: int
) -> tuple[tuple[tuple[StepId, date], ...], str]:
    """Return the steps that would wait for an arrival, and the sentence that offers it."""
    words = at.words
    day = usable_from(at.book, material, arrival)
    waiting = tuple(step for step in steps if _begins(at, step) < day)
    job = next((j for j in at.book.jobs for s in j.steps if s.id in waiting[:1]), None)
    if job is None:
        return (), ""
    facts = {
        "step": capital(words.names.of("step", waiting[0])),
        "day": at.short(day),
        "job": job.name,
        "supplier": at.supplier(material),
    }
    begin = tuple((step, day) for step in waiting)
    spare = at.spare.get(job.id)
    if spare is None:
        return begin, words.say(say.CURE_UNKNOWN, **facts)
    if spare >= late_days * words.day_minutes:
        return begin, words.say(say.CURE_SPARE, spare=words.spare(spare), **facts)
    left = words.say(say.SPARE_ONLY, spare=words.spare(spare)) if spare > 0 else ""
    left = left or words.say(say.SPARE_NONE)
    return begin, words.say(say.CURE_NO_SPARE, spare=left, **facts)


def _begins(at: _At, step: StepId) -> date:
    starts = [each.start for each in at.plan.placements if each.step == step]
    return local_date(min(starts), at.words.zone) if starts else date.max


def _on_order(at: _At, coming: tuple[Coming, ...]) -> Iterator[Line]:
    """Return what is on its way, by the day on which it comes."""
    open_ones = [each for each in at.book.deliveries if not each.arrived]
    for each in sorted(open_ones, key=lambda d: (d.at, d.material)):
        yield _delivery_line(at, each, _late_for(at, each, coming))


def _late_for(at: _At, delivery: Delivery, coming: tuple[Coming, ...]) -> Coming | None:
    day = max(local_date(delivery.at, at.words.zone), at.today)
    late = (c for c in coming if c.material == delivery.material and c.arrives == day)
    return next(late, None)


def _delivery_line(at: _At, delivery: Delivery, late: Coming | None) -> Line:
    words = at.words
    material = next((m for m in at.book.materials if m.id == delivery.material), None)
    name = material.name if material else delivery.material
    unit = told.unit(words, material.unit) if material else ""
    title = words.say(
        say.AMOUNT, material=name, needed=told.quantity(words, delivery.quantity), unit=unit
    )
    day = local_date(delivery.at, words.zone)
    small: list[str] = []
    if material is not None and material.supplier is not None:
        small.append(words.say(say.FROM, supplier=at.supplier(material.id)))
    alarms: list[str] = []
    begin: tuple[tuple[StepId, date], ...] = ()
    cure = ""
    if late is not None:
        step, job = words.names.bare_step(late.step), words.names.of("job", late.job)
        by = at.short(late.receive_by)
        small.append(words.say(say.FOR_STEP, step=step, job=job, day=by))
        alarms.append(say.counted_line(words, say.COMES_LATE, late.late_days))
        begin, cure = _waits(at, late.material, (late.step,), late.arrives, late.late_days)
    elif at.days_to(day) < 0 and material is not None:
        supplier = at.supplier(material.id)
        ago = -at.days_to(day)
        alarms.append(say.counted_line(words, say.OVERDUE_HERE, ago, supplier=supplier))
    return Line(
        id=f"delivery {delivery.material} {delivery.quantity}",
        figure=str(abs(at.days_to(day))),
        is_late=bool(alarms),
        kind=material.kind if material else None,
        title=title,
        small=(words.series(small),) if small else (),
        cells=(at.short(day),),
        alarms=tuple(alarms),
        cure=cure,
        begin=begin,
        name=words.say(say.ROW_COMING, what=title, day=at.short(day)),
        delivery=delivery,
        job=late.job if late else None,
    )


def sentence(orders: Orders, words: Words, materials: Mapping[MaterialId, str], today: date) -> str:
    """Return the view's sentence: what comes too late, else what is overdue, else what is next."""
    found = orders.buying.orders
    late = [each for each in found if each.dates.late_days or each.dates.aged is not None]
    if late:
        return _about(words, say.TOO_LATE, late, materials, today)
    coming = orders.buying.coming
    if coming:
        first = coming[0]
        job = words.names.of("job", first.job)
        return words.say(say.COMES_TOO_LATE, material=materials[first.material], jobs=job)
    if not found:
        return words.say(say.NOTHING)
    overdue = [each for each in found if each.dates.overdue_days]
    if overdue:
        return _about(words, say.OVERDUE, overdue, materials, today)
    dated = [each for each in found if each.dates.order_by is not None]
    if not dated:
        return say.counted_line(words, say.UNDATED_ONLY, len(found))
    return _about(words, say.FIRST, dated, materials, today)


def _about(
    words: Words,
    template: Template,
    orders: list[Order],
    materials: Mapping[MaterialId, str],
    today: date,
) -> str:
    first = orders[0]
    day = first.dates.order_by
    return say.counted_line(
        words,
        template,
        len(orders),
        material=materials[first.material],
        day="" if day is None else say.short(words, day, today),
        jobs=words.names.of("job", first.jobs[0]) if first.jobs else "",
    )


def next_parts(
    orders: Orders, words: Words, materials: Mapping[MaterialId, str], today: date
) -> list[tuple[str, str]]:
    """Return the next few orders and their days, of those not overdue."""
    coming = [
        (words.say(say.NEXT_ORDER, material=materials[each.material]), each.dates.order_by)
        for each in orders.buying.orders
        if each.dates.order_by is not None and each.dates.order_by >= today
    ]
    return [(text, say.short(words, day, today)) for text, day in coming[:4]]

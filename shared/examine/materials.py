"""Material, who delivers it, and the days on the way from the enquiry to a firm job."""

from typing import TYPE_CHECKING

from shared.book import (
    Book,
    Delivery,
    Gate,
    Job,
    Material,
    MaterialKind,
    MaterialNeed,
    Stage,
    Standing,
    Way,
)

if TYPE_CHECKING:
    from shared.examine.look import Look, Path

_CUBIC_METRES = "m3"
_MOST_OF_GROSS = 99


def check_material(material: Material, path: "Path", look: "Look") -> None:
    """Hold that a material can be counted in what it is bought in."""
    no_packs = material.pack_size is None and material.unit != _CUBIC_METRES
    if material.kind is MaterialKind.FOAM and no_packs:
        look.add("foam_not_in_blocks", (*path, "unit"), unit=material.unit)
    wasted = material.waste_percent
    if material.waste_of_gross and wasted is not None and wasted > _MOST_OF_GROSS:
        told = {"field": "waste_percent", "value": f"{wasted:f}", "limit": _MOST_OF_GROSS}
        look.add("above_limit", (*path, "waste_percent"), **told)


def check_suppliers(book: Book, path: "Path", look: "Look") -> None:
    """Hold that somebody delivers what is needed, in a book that knows suppliers at all."""
    if not book.suppliers:
        return
    needed = {need.material for job in book.jobs for step in job.steps for need in _needs(step)}
    for index, material in enumerate(book.materials):
        if material.supplier is None and material.id in needed:
            where = (*path, "materials", index, "supplier")
            look.add("material_without_supplier", where, material=material.name)


def _needs(step: object) -> list[MaterialNeed]:
    if isinstance(step, Stage):
        abrade = () if step.abrade is None else step.abrade.ways
        return [*step.materials, *_of_ways((*step.ways, *abrade))]
    if not isinstance(step, Gate):
        return []
    more = [each.ways for each in (step.rework, step.changes) if each is not None]
    return _of_ways((*step.ways, *(way for ways in more for way in ways)))


def _of_ways(ways: tuple[Way, ...]) -> list[MaterialNeed]:
    return [need for way in ways for need in way.materials]


def check_delivery(delivery: Delivery, path: "Path", look: "Look") -> None:
    """Hold that what has arrived did so already, and was made before."""
    if delivery.arrived and look.as_of is not None and delivery.at > look.as_of:
        look.add("fact_after_now", (*path, "at"), at=delivery.at, as_of=look.as_of)
    came = look.local_day(delivery.at)
    if delivery.made_on is not None and delivery.made_on > came:
        look.add("days_reversed", (*path, "made_on"), first=delivery.made_on, last=came)


def check_agreed(job: Job, path: "Path", look: "Look") -> None:
    """Hold that a quote is still good, and a deposit paid by its day."""
    today = look.today
    if today is None:
        return
    until = job.quote_good_until
    if until is not None and until < today and job.standing is not Standing.FIRM:
        look.add("quote_over", (*path, "quote_good_until"), until=until, as_of=today)
    due = job.deposit_due
    if due is not None and due < today and job.deposit_paid is None:
        look.add("deposit_overdue", (*path, "deposit_due"), due=due, as_of=today)

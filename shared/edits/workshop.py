"""Edits of the workshop's people, places and what it buys, and of where a job stands."""

from collections.abc import Collection
from dataclasses import replace
from typing import Protocol, TypeVar

from shared.book import Book, Equipment, Fact, Material, Person, Place, Supplier
from shared.edits.edited import Changed, Edited, Label, found, fresh_id, label
from shared.ids import EquipmentId, FactId, MaterialId, PlaceId, StepId, SupplierId


class _Named(Protocol):
    """One of a list of the book."""

    @property
    def id(self) -> str: ...

    @property
    def name(self) -> str: ...


Listed = TypeVar("Listed", bound=_Named)


def name_people(book: Book, people: tuple[Person, ...]) -> Edited:
    """Add people, all in one edit; whoever has the id of somebody here takes their place."""
    by_id = {person.id: person for person in people}
    kept = tuple(by_id.pop(old.id, old) for old in book.people)
    new = replace(book, people=(*kept, *by_id.values()), revision=book.revision + 1)
    what = label("add_people", count=len(people))
    return Edited(book=new, changed=Changed(people=True), label=what)


def change_people(book: Book, people: tuple[Person, ...], name: str) -> Edited:
    """Put the people's new selves in the place of the old ones; name: of what changed on them."""
    by_id = {person.id: person for person in people}
    made = tuple(by_id.get(old.id, old) for old in book.people)
    new = replace(book, people=made, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(people=True), label=label("change_people", name=name))


def add_place(book: Book, place: Place) -> Edited:
    """Add a place."""
    made = replace(book, places=(*book.places, place))
    return _of_workshop(made, label("add_place", name=place.name))


def change_place(book: Book, place: Place) -> Edited:
    """Put a place's new self in the place of the old one, found by the id."""
    found(book.places, lambda each: each.id == place.id, place.id)
    made = replace(book, places=_with(book.places, place))
    return _of_workshop(made, label("change_place", name=place.name))


def remove_place(book: Book, place: PlaceId) -> Edited:
    """Remove a place; findings name what still asks for it."""
    gone, left = _without(book.places, place)
    return _of_workshop(replace(book, places=left), label("remove_place", name=gone.name))


def put_equipment(book: Book, thing: Equipment) -> Edited:
    """Add a tool, vehicle or crane, or put its new self in the place of the old one."""
    made = replace(book, equipment=_with(book.equipment, thing))
    return _of_workshop(made, label("change_thing", name=thing.name))


def remove_equipment(book: Book, thing: EquipmentId) -> Edited:
    """Remove a tool, vehicle or crane; findings name what still asks for it."""
    gone, left = _without(book.equipment, thing)
    return _of_workshop(replace(book, equipment=left), label("remove_thing", name=gone.name))


def put_material(book: Book, material: Material) -> Edited:
    """Add a material, or put its new self in the place of the old one."""
    made = replace(book, materials=_with(book.materials, material))
    return _of_workshop(made, label("change_bought", name=material.name))


def put_supplier(book: Book, supplier: Supplier) -> Edited:
    """Add somebody who delivers, or put the new self in the place of the old one."""
    made = replace(book, suppliers=_with(book.suppliers, supplier))
    return _of_workshop(made, label("change_bought", name=supplier.name))


def remove_material(book: Book, material: MaterialId) -> Edited:
    """Remove a material; findings name what still takes it."""
    gone, left = _without(book.materials, material)
    return _of_workshop(replace(book, materials=left), label("remove_bought", name=gone.name))


def remove_supplier(book: Book, supplier: SupplierId) -> Edited:
    """Remove somebody who delivers; findings name what still comes from there."""
    gone, left = _without(book.suppliers, supplier)
    return _of_workshop(replace(book, suppliers=left), label("remove_bought", name=gone.name))


def _with(listed: tuple[Listed, ...], new: Listed) -> tuple[Listed, ...]:
    """Return a list with a new self in the place of the old one, at the end where there is none."""
    if all(old.id != new.id for old in listed):
        return (*listed, new)
    return tuple(new if old.id == new.id else old for old in listed)


def _without(listed: tuple[Listed, ...], gone: str) -> tuple[Listed, tuple[Listed, ...]]:
    """Return what has an id, and the list without it."""
    one = found(listed, lambda each: each.id == gone, gone)
    return one, tuple(old for old in listed if old.id != gone)


def _of_workshop(made: Book, what: Label) -> Edited:
    new = replace(made, revision=made.revision + 1)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def tell_where(
    book: Book, facts: tuple[Fact, ...], forgotten: Collection[StepId], name: str, step: str
) -> Edited:
    """Write down how far something is: facts of what is over, none of what is still to come.

    forgotten: the steps of which no fact is left. name, step: what has reached what.
    """
    kept = tuple(fact for fact in book.facts if fact.step not in forgotten)
    taken = {fact.id for fact in kept}
    new = []
    for fact in facts:
        named = FactId(fresh_id(fact.id, taken))
        taken.add(named)
        new.append(replace(fact, id=named))
    steps = {fact.step for fact in facts} | set(forgotten)
    jobs = frozenset(job.id for job in book.jobs if any(s.id in steps for s in job.steps))
    made = replace(book, facts=(*kept, *new), revision=book.revision + 1)
    what = label("tell_where", name=name, step=step)
    return Edited(book=made, changed=Changed(jobs=jobs), label=what)


def change_besides(made: Book) -> Edited:
    """Take a book with other work of no job, or with other offers, as it was made."""
    new = replace(made, revision=made.revision + 1)
    what = label("change_workshop", name=made.workshop.name)
    return Edited(book=new, changed=Changed(workshop=True, people=True), label=what)

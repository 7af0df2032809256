"""Edits of the workshop's people, places and what it buys, and of where a job stands."""

from collections.abc import Collection
from dataclasses import replace

from shared.book import Book, Equipment, Fact, Material, Person, Place, Supplier
from shared.edits.edited import Changed, Edited, Label, found, fresh_id, label
from shared.ids import EquipmentId, FactId, MaterialId, PlaceId, StepId, SupplierId


def add_people(book: Book, people: tuple[Person, ...]) -> Edited:
    """Add people, all in one edit."""
    new = replace(book, people=(*book.people, *people), revision=book.revision + 1)
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
    return _places(book, (*book.places, place), label("add_place", name=place.name))


def change_place(book: Book, place: Place) -> Edited:
    """Put a place's new self in the place of the old one, found by the id."""
    found(book.places, lambda each: each.id == place.id, place.id)
    made = tuple(place if old.id == place.id else old for old in book.places)
    return _places(book, made, label("change_place", name=place.name))


def remove_place(book: Book, place: PlaceId) -> Edited:
    """Remove a place; findings name what still asks for it."""
    gone = found(book.places, lambda each: each.id == place, place)
    made = tuple(old for old in book.places if old.id != place)
    return _places(book, made, label("remove_place", name=gone.name))


def _places(book: Book, places: tuple[Place, ...], what: Label) -> Edited:
    new = replace(book, places=places, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def put_equipment(book: Book, thing: Equipment) -> Edited:
    """Add a tool, vehicle or crane, or put its new self in the place of the old one."""
    made = [thing if old.id == thing.id else old for old in book.equipment]
    made += [] if thing in made else [thing]
    new = replace(book, equipment=tuple(made), revision=book.revision + 1)
    what = label("change_thing", name=thing.name)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def remove_equipment(book: Book, thing: EquipmentId) -> Edited:
    """Remove a tool, vehicle or crane; findings name what still asks for it."""
    gone = found(book.equipment, lambda each: each.id == thing, thing)
    made = tuple(old for old in book.equipment if old.id != thing)
    new = replace(book, equipment=made, revision=book.revision + 1)
    what = label("remove_thing", name=gone.name)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def put_material(book: Book, material: Material) -> Edited:
    """Add a material, or put its new self in the place of the old one."""
    made = [material if old.id == material.id else old for old in book.materials]
    made += [] if material in made else [material]
    new = replace(book, materials=tuple(made), revision=book.revision + 1)
    what = label("change_bought", name=material.name)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def put_supplier(book: Book, supplier: Supplier) -> Edited:
    """Add somebody who delivers, or put the new self in the place of the old one."""
    made = [supplier if old.id == supplier.id else old for old in book.suppliers]
    made += [] if supplier in made else [supplier]
    new = replace(book, suppliers=tuple(made), revision=book.revision + 1)
    what = label("change_bought", name=supplier.name)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def remove_material(book: Book, material: MaterialId) -> Edited:
    """Remove a material; findings name what still takes it."""
    gone = found(book.materials, lambda each: each.id == material, material)
    made = tuple(old for old in book.materials if old.id != material)
    new = replace(book, materials=made, revision=book.revision + 1)
    what = label("remove_bought", name=gone.name)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def remove_supplier(book: Book, supplier: SupplierId) -> Edited:
    """Remove somebody who delivers; findings name what still comes from there."""
    gone = found(book.suppliers, lambda each: each.id == supplier, supplier)
    made = tuple(old for old in book.suppliers if old.id != supplier)
    new = replace(book, suppliers=made, revision=book.revision + 1)
    what = label("remove_bought", name=gone.name)
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

"""Edits of what is bought: it is ordered, it comes on another day, it has come."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from shared.book import Book, Delivery
from shared.edits.edited import Changed, Edited, Label, found, label
from shared.ids import MaterialId


def order_material(
    book: Book, material: MaterialId, quantity: Decimal, expected: datetime
) -> Edited:
    """Write down that so much of a material is ordered, in its unit, and when it comes."""
    made = Delivery(material=material, quantity=quantity, at=expected)
    named = label("order_material", name=_name(book, material))
    return _deliveries(book, (*book.deliveries, made), named)


def move_delivery(book: Book, delivery: Delivery, expected: datetime) -> Edited:
    """Write down that what is on order comes at another time."""
    made = replace(delivery, at=expected)
    return _changed(book, delivery, made, "move_delivery")


def take_delivery(book: Book, delivery: Delivery, at: datetime, by: str) -> Edited:
    """Write down that what is on order has come. by: who says so."""
    made = replace(delivery, at=at, arrived=True, told_by=by)
    return _changed(book, delivery, made, "take_delivery")


def _changed(book: Book, old: Delivery, new: Delivery, code: str) -> Edited:
    at = book.deliveries.index(found(book.deliveries, lambda each: each == old, old.material))
    made = (*book.deliveries[:at], new, *book.deliveries[at + 1 :])
    return _deliveries(book, made, label(code, name=_name(book, old.material)))


def _deliveries(book: Book, made: tuple[Delivery, ...], what: Label) -> Edited:
    new = replace(book, deliveries=made, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def _name(book: Book, material: MaterialId) -> str:
    return found(book.materials, lambda each: each.id == material, material).name

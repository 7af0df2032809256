"""Edits of people, the workshop, facts and the plan."""

from dataclasses import replace

from shared.book import Book, Fact, Leave, Person, Workshop
from shared.edits.edited import Changed, Edited, Label, fresh_id, inserted, label
from shared.edits.lookup import person_of
from shared.ids import FactId, PersonId
from shared.plan import Plan


def _people(book: Book, people: tuple[Person, ...], what: Label) -> Edited:
    new = replace(book, people=people, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(people=True), label=what)


def add_person(book: Book, person: Person, at: int | None = None) -> Edited:
    """Add a person, at a position or at the end."""
    made = inserted(book.people, person, at)
    return _people(book, made, label("add_person", name=person.name))


def remove_person(book: Book, person_id: PersonId) -> Edited:
    """Remove a person; findings name what still asks for them."""
    gone = person_of(book, person_id)
    made = tuple(p for p in book.people if p.id != person_id)
    return _people(book, made, label("remove_person", name=gone.name))


def change_person(book: Book, person: Person) -> Edited:
    """Put a person's new self in the place of the old one, found by the id."""
    person_of(book, person.id)
    made = tuple(person if old.id == person.id else old for old in book.people)
    return _people(book, made, label("change_person", name=person.name))


def add_leave(book: Book, person_id: PersonId, leave: Leave) -> Edited:
    """Let a person be away for a stretch of time."""
    person = person_of(book, person_id)
    away = replace(person, leave=(*person.leave, leave))
    made = tuple(away if old.id == person_id else old for old in book.people)
    return _people(book, made, label("add_leave", name=person.name))


def change_workshop(book: Book, workshop: Workshop) -> Edited:
    """Change the workshop's own figures."""
    new = replace(book, workshop=workshop, revision=book.revision + 1)
    what = label("change_workshop", name=workshop.name)
    return Edited(book=new, changed=Changed(workshop=True), label=what)


def tell_fact(book: Book, fact: Fact) -> Edited:
    """Write down what happened; a fact whose id is taken gets another."""
    named = replace(fact, id=FactId(fresh_id(fact.id, (f.id for f in book.facts))))
    new = replace(book, facts=(*book.facts, named), revision=book.revision + 1)
    jobs = frozenset(j.id for j in book.jobs if any(s.id == fact.step for s in j.steps))
    return Edited(book=new, changed=Changed(jobs=jobs), label=label("add_fact", name=fact.step))


def take_plan(book: Book, plan: Plan | None) -> Edited:
    """Keep a plan in the book as the one that was made; None takes it out."""
    new = replace(book, plan=plan, revision=book.revision + 1)
    return Edited(book=new, changed=Changed(plan=True), label=label("take_plan"))

"""What a route's words are called in a workshop: skills, equipment, certificates, places."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from shared.book import (
    Abrade,
    Book,
    Gate,
    Journey,
    Kind,
    MaterialNeed,
    PlaceKind,
    Route,
    Stage,
    Step,
    Way,
)
from shared.ids import EquipmentId, PersonId, PlaceId, SkillId

Word = TypeVar("Word", bound=str)


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """What a workshop calls what a route speaks of.

    words: for a route's word of a skill, an equipment, a material or a certificate the workshop's
    own; a word that isn't here is the workshop's already. places: for a kind of work the places
    where it is done instead of any bay. crew: who travels with the piece.
    """

    words: Mapping[str, str] = field(default_factory=dict)
    places: Mapping[Kind, tuple[PlaceId, ...]] = field(default_factory=dict)
    crew: tuple[PersonId, ...] = ()


USUAL_NAMES = Names()
"""The workshop uses the route's own words."""


def bound(book: Book, route: Route, names: Names = USUAL_NAMES) -> Route:
    """Give a route in the words of a workshop.

    Equipment that the book doesn't have is left out (`unknown_words` tells which), and so is
    material; who answers in the route's name gets the workshop's zone and holidays.
    """
    return replace(route, steps=tuple(_step(book, step, names) for step in route.steps))


def unknown_words(book: Book, route: Route, names: Names = USUAL_NAMES) -> tuple[str, ...]:
    """Give the words of skills, equipment and certificates that stand for nothing in the book."""
    known = {str(skill.skill) for person in book.people for skill in person.skills}
    known |= {str(thing.id) for thing in book.equipment}
    known |= {each.certificate for person in book.people for each in person.certificates}
    wanted = dict.fromkeys(word for step in route.steps for word in _words(step))
    return tuple(word for word in wanted if names.words.get(word, word) not in known)


def _words(step: Step) -> list[str]:
    if isinstance(step, Journey):
        return [str(vehicle) for vehicle in step.vehicles]
    words = [str(need.skill) for way in step.ways for need in way.needs]
    words += [str(need.equipment) for way in step.ways for need in way.equipment]
    return words + (list(step.certificates) if isinstance(step, Stage) else [])


def _step(book: Book, step: Step, names: Names) -> Step:
    if isinstance(step, Journey):
        vehicles = _known(book, tuple(_word(names, each) for each in step.vehicles))
        return replace(step, vehicles=vehicles, crew=names.crew or step.crew)
    kind = step.kind if isinstance(step, Stage) else None

    def way(old: Way) -> Way:
        return _way(book, old, names, kind)

    if isinstance(step, Stage):
        return replace(
            step,
            ways=tuple(map(way, step.ways)),
            abrade=_abrade(step.abrade, way),
            certificates=tuple(_word(names, each) for each in step.certificates),
            materials=_materials(book, step.materials, names),
        )
    return _gate(book, step, way)


def _gate(book: Book, gate: Gate, way: Callable[[Way], Way]) -> Gate:
    by = gate.answered_by
    if by is not None and not by.country:
        home = book.workshop
        by = replace(
            by,
            zone=home.zone,
            country=home.country,
            subdivision=home.subdivision,
            holiday_categories=home.holiday_categories,
        )
    return replace(
        gate,
        ways=tuple(map(way, gate.ways)),
        rework=_abrade(gate.rework, way),
        changes=_abrade(gate.changes, way),
        answered_by=by,
    )


def _abrade(abrade: Abrade | None, way: Callable[[Way], Way]) -> Abrade | None:
    return None if abrade is None else replace(abrade, ways=tuple(map(way, abrade.ways)))


def _way(book: Book, way: Way, names: Names, kind: Kind | None) -> Way:
    needs = tuple(replace(need, skill=SkillId(_word(names, need.skill))) for need in way.needs)
    equipment = tuple(
        replace(need, equipment=EquipmentId(_word(names, need.equipment))) for need in way.equipment
    )
    known = _known(book, tuple(need.equipment for need in equipment))
    made = replace(
        way,
        needs=needs,
        equipment=tuple(n for n in equipment if n.equipment in known),
        materials=_materials(book, way.materials, names),
    )
    places = () if kind is None else names.places.get(kind, ())
    if not places or PlaceKind.BAY not in way.place_kinds:
        return made
    others = tuple(each for each in way.place_kinds if each is not PlaceKind.BAY)
    return replace(made, places=(*way.places, *places), place_kinds=others)


def _materials(
    book: Book, needs: tuple[MaterialNeed, ...], names: Names
) -> tuple[MaterialNeed, ...]:
    there = {material.id for material in book.materials}
    own = (replace(need, material=_word(names, need.material)) for need in needs)
    return tuple(need for need in own if need.material in there)


def _word(names: Names, word: Word) -> Word:
    return type(word)(names.words.get(word, word))


def _known(book: Book, wanted: tuple[EquipmentId, ...]) -> tuple[EquipmentId, ...]:
    there = {thing.id for thing in book.equipment}
    return tuple(each for each in wanted if each in there)

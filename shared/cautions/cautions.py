"""Which cautions go with a step: by its acts, materials, legs and what the piece is for.

The table is `cautions.csv`. A row holds for a step that has one of the acts, kinds of work, kinds
of material, legs or kinds of gate named ("any": every one), under the condition in `when`, and,
where purposes are named, for a job with one of these. `figures` gives the numbers of its sentence;
source and confidence are theirs where the row has none.
"""

import csv
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from types import MappingProxyType

from shared.book import (
    Act,
    Book,
    Gate,
    Job,
    Journey,
    Kind,
    MaterialNeed,
    PlaceKind,
    Stage,
    Step,
    Way,
)
from shared.findings import Fact
from shared.ids import PlaceId
from shared.order import segments_of, touched
from shared.trade import Confidence, Figure, figure
from shared.trade.defaults import acts_of

_TABLE = Path(__file__).with_name("cautions.csv")
_ANY = "any"
_FROM = {"low": "least", "high": "most"}
_TRIGGERS = ("acts", "kinds", "materials", "legs", "gates")


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution: which, from where, and the facts of its sentence; app's catalogue has the words.

    is_from_memory: the source is named but was not read again. places: where it also holds, as
    the place of a cure.
    """

    id: str
    source: str
    is_from_memory: bool = False
    facts: tuple[tuple[str, Fact], ...] = ()
    places: tuple[PlaceId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A row of the table: what calls it up, its condition, and the caution itself."""

    triggers: Mapping[str, frozenset[str]]
    purposes: frozenset[str]
    when: str
    caution: Caution


def caution_ids() -> tuple[str, ...]:
    """Return the ids of all cautions, in the order of the table."""
    return tuple(row.caution.id for row in _rows())


def cautions_of(book: Book, job: Job, step: Step) -> tuple[Caution, ...]:
    """Return the cautions that go with a step of a job, in the order of the table."""
    marks = _marks(book, step)
    return tuple(_placed(book, step, row) for row in _rows() if _holds(row, marks, book, job, step))


def _holds(
    row: _Row, marks: Mapping[str, frozenset[str]], book: Book, job: Job, step: Step
) -> bool:
    if not any(_meets(row.triggers[sort], marks[sort]) for sort in _TRIGGERS):
        return False
    if row.purposes and not row.purposes & {purpose.value for purpose in job.purposes}:
        return False
    return not row.when or _CONDITIONS[row.when](job, step)


def _meets(wanted: frozenset[str], there: Collection[str]) -> bool:
    return bool(there) if _ANY in wanted else bool(wanted.intersection(there))


def _marks(book: Book, step: Step) -> Mapping[str, frozenset[str]]:
    """Return what calls cautions up in a step, by the column of the table."""
    found: dict[str, frozenset[str]] = dict.fromkeys(_TRIGGERS, frozenset())
    if isinstance(step, Journey):
        return {**found, "legs": frozenset(leg.kind.value for leg in step.legs)}
    kinds = {material.id: material.kind.value for material in book.materials}
    needed = (kinds.get(need.material, "") for need in _needs(step))
    found["materials"] = frozenset(needed)
    if isinstance(step, Gate):
        worked = frozenset({step.gate.value}) if step.ways else frozenset[str]()
        return {**found, "gates": worked}
    acts = frozenset(act.value for act in acts_of(step))
    return {**found, "acts": acts, "kinds": frozenset({step.kind.value})}


def _needs(step: Stage | Gate) -> tuple[MaterialNeed, ...]:
    own = step.materials if isinstance(step, Stage) else ()
    return (*own, *(need for way in step.ways for need in way.materials))


def _cures(job: Job, step: Step) -> bool:
    return isinstance(step, Stage | Gate) and step.cure_hours > 0


def _is_hardened(job: Job, step: Step) -> bool:
    """Return whether a laminate is worked on: its own, or of a step before on the same piece."""
    if not isinstance(step, Stage):
        return False
    pieces = touched(job, step)
    before = job.steps[: [each.id for each in job.steps].index(step.id) + 1]
    return any(_is_laminate(each) and pieces & touched(job, each) for each in before)


def _is_laminate(step: Step) -> bool:
    if not isinstance(step, Stage):
        return False
    return step.kind is Kind.LAMINATE or (step.kind is Kind.COAT and Act.RESIN in acts_of(step))


def _is_tall(job: Job, step: Step) -> bool:
    limit = figure("CP601").amount
    heights = (segment.height_m for segment in segments_of(job, step))
    return any(height is not None and height > limit for height in heights)


_CONDITIONS: Mapping[str, Callable[[Job, Step], bool]] = MappingProxyType(
    {"cures": _cures, "hardened": _is_hardened, "tall": _is_tall}
)


def _placed(book: Book, step: Step, row: _Row) -> Caution:
    caution = row.caution
    if row.when != "cures" or not isinstance(step, Stage | Gate):
        return caution
    return replace(caution, places=_cure_places(book, step))


def _cure_places(book: Book, step: Stage | Gate) -> tuple[PlaceId, ...]:
    """Return where a step cures: where it is moved to, else done, and what shares air with that."""
    moved = step.moves_to if isinstance(step, Stage) else None
    named = {moved} if moved is not None else _places(book, step.ways)
    airs = {place.air for place in book.places if place.id in named and place.air is not None}
    return tuple(place.id for place in book.places if place.id in named or place.air in airs)


def _places(book: Book, ways: tuple[Way, ...]) -> set[PlaceId]:
    named = {place for way in ways for place in way.places}
    kinds: set[PlaceKind] = {kind for way in ways for kind in way.place_kinds}
    return named | {place.id for place in book.places if place.kind in kinds}


@cache
def _rows() -> tuple[_Row, ...]:
    with _TABLE.open(encoding="utf-8", newline="") as lines:
        return tuple(_row(each) for each in csv.DictReader(lines))


def _row(cells: dict[str, str]) -> _Row:
    named = dict(each.split("=") for each in _listed(cells["figures"]))
    figures = {fact: figure(name.partition(".")[0]) for fact, name in named.items()}
    facts: list[tuple[str, Fact]] = [
        (fact, _number(figures[fact], name.partition(".")[2])) for fact, name in named.items()
    ]
    if cells["since"]:
        facts.append(("since", cells["since"]))
    sources = dict.fromkeys(found.source for found in figures.values())
    known = {found.confidence for found in figures.values()} | set(_listed(cells["confidence"]))
    return _Row(
        triggers=MappingProxyType({sort: frozenset(_listed(cells[sort])) for sort in _TRIGGERS}),
        purposes=frozenset(_listed(cells["purposes"])),
        when=cells["when"],
        caution=Caution(
            id=cells["id"],
            source=cells["source"] or "; ".join(sources),
            is_from_memory=Confidence.MEMORY in known,
            facts=tuple(facts),
        ),
    )


def _listed(cell: str) -> list[str]:
    return cell.split(";") if cell else []


def _number(found: Figure, end: str) -> Fact:
    number = getattr(found, _FROM[end]) if end else found.amount
    return int(number) if number == int(number) else f"{number:f}"

"""Pieces against doors, lifts and vehicles: every way round tried, one after the other.

A piece is moved wrapped on every side and on skates. It passes an opening if in some way round
that it may be turned its breadth, its height and, where the opening has a depth, its length are
no more than the opening's. It travels by any one of the vehicles of its journey. What nobody
measured keeps nothing back; containers are as their standard has them.
"""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import permutations
from typing import NamedTuple

from scheduler.check.tell import of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import (
    Body,
    Equipment,
    EquipmentKind,
    Face,
    Gate,
    GateKind,
    Job,
    Journey,
    Opening,
    Segment,
)
from shared.ids import EquipmentId
from shared.trade import figure

_MM = 1000
_FACES = (
    {Face.LEFT, Face.RIGHT},
    {Face.FRONT, Face.BACK},
    {Face.TOP, Face.BOTTOM},
)
_UPRIGHT = {"upright": (2,), "on_side": (1,), "on_end": (0,), "lying": (0, 1)}
_CONTAINERS = {
    Body.CONTAINER_20: (("TR11d", "TR11e", "TR11a"), ("TR11c", "TR11b")),
    Body.CONTAINER_40: (("TR12d", "TR12b", "TR12a"), ("TR11c", "TR12c")),
}
"""Figures of width, height and length inside, and of width and height of the door."""

_DIMENSIONS = ("width", "height", "length")

_Room = tuple[Fraction | None, Fraction | None, Fraction | None]
"""Width, height and length in millimetres, None where nothing is measured or it doesn't count."""


class Over(NamedTuple):
    """By how much a piece is too big, at least, in which size, and for what."""

    mm: Fraction
    dimension: str
    opening: str

    @property
    def facts(self) -> dict[str, str | int]:
        """Return it for a sentence."""
        return {"opening": self.opening, "over_mm": _up(self.mm), "dimension": self.dimension}


def sizes(world: World) -> Iterator[Breach]:
    """Give the first work on each piece that will never get out or in."""
    for job in world.jobs:
        if not _is_measured(world, job):
            continue
        for segment in job.segments:
            first = _first_work(world, job, segment)
            if first is not None:
                yield from _segment(world, job, segment, first)


def _segment(world: World, job: Job, segment: Segment, first: Task) -> Iterator[Breach]:
    vehicles, workshop = _vehicles(world, job, segment), world.book.workshop
    measured = (tuple(vehicles), workshop.openings, job.site.openings)
    around = (workshop.wrap_m, workshop.skates_m)
    over, heavy = world.memory.sizes.of(
        segment.id, (segment, measured, around), lambda: _facts(world, job, segment, vehicles)
    )
    if over is not None:
        yield of_task(Rule.SIZE, first, segment=segment.name, **over)
    if heavy is not None:
        yield of_task(Rule.MASS, first, segment=segment.name, **heavy)


def _facts(
    world: World, job: Job, segment: Segment, vehicles: Sequence[Equipment]
) -> tuple[dict[str, str | int] | None, dict[str, str | int] | None]:
    """Return the facts of a piece that is too big and of one that is too heavy, None if not."""
    over = too_big(world, job, segment)
    return None if over is None else over.facts, mass_over(segment, vehicles)


def mass_over(segment: Segment, vehicles: Sequence[Equipment]) -> dict[str, str | int] | None:
    """Return the facts of a piece that is heavier than what any of the vehicles carries."""
    bare = segment.mass_high_kg if segment.mass_low_kg is None else segment.mass_low_kg
    payloads = [vehicle.payload_kg for vehicle in vehicles if vehicle.payload_kg is not None]
    if bare is None or not payloads or len(payloads) < len(vehicles) or bare <= max(payloads):
        return None
    best = next(each for each in vehicles if each.payload_kg == max(payloads))
    return {
        "equipment": best.name,
        "mass_kg": _up(Fraction(bare)),
        "payload_kg": f"{max(payloads):f}",
    }


def worst_on(world: World, segment: Segment, vehicles: Sequence[Equipment]) -> Over | None:
    """Return by how much a piece is too big for the best of the vehicles, None if one takes it."""
    ways = _ways(world, segment)
    by_vehicle = [_worst(_on(ways, each)) for each in vehicles] if ways else []
    if not by_vehicle or None in by_vehicle:
        return None
    return min(over for over in by_vehicle if over is not None)


def _is_measured(world: World, job: Job) -> bool:
    return bool(world.book.workshop.openings or job.site.openings or world.book.equipment)


def _first_work(world: World, job: Job, segment: Segment) -> Task | None:
    """Return the first work on a piece that is still to do, None once it is loaded."""
    mine = world.tasks_on(job, segment)
    loadings = (
        step
        for step in job.steps
        if isinstance(step, Gate)
        and step.gate is GateKind.LOADING
        and segment in world.segments_of(job, step)
    )
    if any(world.facts.done(step.id) for step in loadings):
        return None
    left = (task for task in mine if task.work and not task.done)
    return min(left, key=lambda task: (task.start, task.step.id), default=None)


def too_big(world: World, job: Job, segment: Segment) -> Over | None:
    """Return by how much a piece is too big where it is most so, None where it may pass."""
    ways = _ways(world, segment)
    if not ways:
        return None
    openings = [_over(ways, room, name) for name, room in _openings(world, job)]
    found = [over for over in openings if over is not None]
    on_board = worst_on(world, segment, _vehicles(world, job, segment))
    return _worst([*found, on_board] if on_board is not None else found)


def has_sizes(segment: Segment) -> bool:
    """Return whether somebody wrote down all three sizes of a piece."""
    return None not in _made(segment)


def _made(segment: Segment) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
    return segment.length_m, segment.width_m, segment.height_m


def rooms_to_pass(world: World, job: Job, segment: Segment) -> list[str]:
    """Return the names of all that is measured on the way of a piece."""
    vehicles = (
        vehicle.name
        for vehicle in _vehicles(world, job, segment)
        for room in (_inside(vehicle), _door(vehicle))
        if vehicle.body is not Body.OPEN and any(size is not None for size in room)
    )
    return [*(name for name, _ in _openings(world, job)), *vehicles]


def _openings(world: World, job: Job) -> Iterator[tuple[str, _Room]]:
    for each in (*world.book.workshop.openings, *job.site.openings):
        if each.measured:
            yield each.name, _opening(each)


def _worst(found: Sequence[Over]) -> Over | None:
    return max(found, key=lambda over: over.mm, default=None)


def _ways(world: World, segment: Segment) -> list[tuple[Fraction, Fraction, Fraction]]:
    """Return breadth, height and length as moved, for every way round; none without sizes."""
    made = [size for size in _made(segment) if size is not None]
    if len(made) < len(_FACES):
        return []
    workshop = world.book.workshop
    wrap = 2 * _margin(workshop.wrap_m, "CP400")
    skates = _margin(workshop.skates_m, "CP401")
    around = [Fraction(size) * _MM + wrap for size in made]
    allowed = _upright(segment)
    return [
        (around[across], around[up] + skates, around[along])
        for across, up, along in permutations(range(3))
        if up in allowed
    ]


def _upright(segment: Segment) -> set[int]:
    """Return which sizes may stand upright; as it is made where nothing else is left."""
    named = {size for word in segment.turns for size in _UPRIGHT.get(word, ())}
    marked = set(segment.finished_faces)
    left = {size for size in named or range(3) if not _FACES[size] <= marked}
    return left or {2}


def _margin(own_m: Decimal | None, usual: str) -> Fraction:
    return Fraction(figure(usual).amount) if own_m is None else Fraction(own_m) * _MM


def _opening(opening: Opening) -> _Room:
    width, height = Fraction(opening.width_m) * _MM, Fraction(opening.height_m) * _MM
    length = opening.length_m
    return width, height, None if length is None else Fraction(length) * _MM


def _over(
    ways: Sequence[tuple[Fraction, Fraction, Fraction]], room: _Room, name: str
) -> Over | None:
    """Return by how much the best way round is too big, None if it passes."""
    best: tuple[Fraction, str] | None = None
    for way in ways:
        over = [
            (size - limit, dimension)
            for size, limit, dimension in zip(way, room, _DIMENSIONS, strict=True)
            if limit is not None and size > limit
        ]
        if not over:
            return None
        most = max(over, key=lambda pair: pair[0])
        if best is None or most[0] < best[0]:
            best = most
    return None if best is None else Over(*best, name)


def _vehicles(world: World, job: Job, segment: Segment) -> list[Equipment]:
    """Return the vehicles of the journey that takes a piece; a crane carries nothing.

    Those of all its means; none where one of them names no vehicle.
    """
    for step in job.steps:
        if isinstance(step, Journey) and segment in world.segments_of(job, step):
            choice = [means.vehicles for means in step.means] or [step.vehicles]
            by_means = [_carrying(world, names) for names in choice]
            return [one for found in by_means for one in found] if all(by_means) else []
    return []


def _carrying(world: World, names: Sequence[EquipmentId]) -> list[Equipment]:
    named = [one for one in world.book.equipment if one.id in names]
    return [one for one in named if one.kind is EquipmentKind.VEHICLE]


def _on(ways: Sequence[tuple[Fraction, Fraction, Fraction]], vehicle: Equipment) -> list[Over]:
    rooms = [_inside(vehicle), _door(vehicle)] if vehicle.body is not Body.OPEN else []
    found = (_over(ways, room, vehicle.name) for room in rooms)
    return [over for over in found if over is not None]


def _inside(vehicle: Equipment) -> _Room:
    own = (vehicle.inside_width_m, vehicle.inside_height_m, vehicle.inside_length_m)
    width, height, length = _standard(own, vehicle.body, 0)
    return width, height, length


def _door(vehicle: Equipment) -> _Room:
    own = (vehicle.door_width_m, vehicle.door_height_m)
    width, height = _standard(own, vehicle.body, 1)
    return width, height, None


def _standard(
    own: Sequence[Decimal | None], body: Body | None, which: int
) -> list[Fraction | None]:
    """Return sizes in millimetres; those of a container that nobody measured by its standard."""
    usual = _CONTAINERS[body][which] if body in _CONTAINERS else (None,) * len(own)
    taken = [
        size if size is not None or name is None else figure(name).amount
        for size, name in zip(own, usual, strict=True)
    ]
    return [None if size is None else Fraction(size) * _MM for size in taken]


def _up(exact: Fraction) -> int:
    return -(-exact.numerator // exact.denominator)

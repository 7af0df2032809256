"""Small books with one piece on its way, and the same ways judged by trying everything."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import permutations
from random import Random
from typing import Any, NamedTuple

from shared.book import Book, Equipment, Face, Job, Leg, LegKind, Opening, Segment
from shared.passing.boxes import margins_of, piece_of
from shared.passing.judge import Passing, judge_way
from shared.passing.passages import course_of
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_segment,
    a_site,
    a_stage,
    a_workshop,
    an_equipment,
)

Number = int | str | Decimal


def an_opening(name: str, *sizes: Number, measured: bool = True) -> Opening:
    """Give an opening by width, height and, where it counts, depth, in metres."""
    width, height, *depth = map(Decimal, sizes)
    length = depth[0] if depth else None
    return Opening(name=name, width_m=width, height_m=height, length_m=length, measured=measured)


def a_vehicle(vehicle: str = "van", *inside: Number, **changes: Any) -> Equipment:
    """Give a vehicle by length, width and height inside, in metres."""
    names = ("inside_length_m", "inside_width_m", "inside_height_m")
    sizes = dict(zip(names, map(Decimal, inside), strict=False))
    return an_equipment(vehicle, **sizes, **changes)


def sized(*sizes: Number, segment: str = "torso", **changes: Any) -> Segment:
    """Give a piece by length, width and height, in metres."""
    length, width, height = map(Decimal, sizes)
    return a_segment(segment, length_m=length, width_m=width, height_m=height, **changes)


def on_its_way(
    *segments: Segment,
    out: tuple[Opening, ...] = (),
    vehicles: tuple[Equipment, ...] = (),
    into: tuple[Opening, ...] = (),
    legs: tuple[LegKind, ...] = (LegKind.DRIVE, LegKind.ASSEMBLE),
    country: str = "GB",
    **workshop: Any,
) -> Book:
    """Give a book of one job with these pieces; without legs nothing is delivered."""
    steps: tuple[Any, ...] = (a_stage(), a_gate())
    if legs:
        made = tuple(_leg(kind) for kind in legs)
        steps += (a_journey(legs=made, vehicles=tuple(each.id for each in vehicles)),)
    site = a_site(openings=into, country=country, subdivision=None)
    return a_book(
        a_job(segments=segments, steps=steps, site=site),
        workshop=a_workshop(openings=out, country=country, subdivision=None, **workshop),
        equipment=vehicles,
    )


def _leg(kind: LegKind) -> Leg:
    return replace(a_leg(kind, inside=kind is LegKind.ASSEMBLE), name=kind.value)


def passing_of(book: Book, index: int = 0) -> Passing:
    """Give what one piece of the only job comes to."""
    job: Job = book.jobs[0]
    segment = job.segments[index]
    piece = piece_of(segment)
    assert piece is not None
    return judge_way(piece, course_of(book, job, segment), margins_of(book.workshop))


class Tried(NamedTuple):
    """What trying every way round gives: the least room left, at best, as made or any way."""

    as_made: Fraction | None
    at_best: Fraction


def tried(segment: Segment, opening: Opening, wrap: int = 50, skates: int = 150) -> Tried:
    """Try a piece in an opening every way round that it may be turned; margins in millimetres.

    Each size of the piece is upright once, across once, along once: six ways. The words and the
    faces rule some of them out.
    """
    made = (segment.length_m, segment.width_m, segment.height_m)
    faces = (
        (Face.LEFT, Face.RIGHT),
        (Face.FRONT, Face.BACK),
        (Face.TOP, Face.BOTTOM),
    )
    words = ({"on_end", "lying"}, {"on_side", "lying"}, {"upright"})
    left: list[tuple[bool, Fraction]] = []
    for up, across, along in permutations(range(3)):
        says = set(segment.turns) & {"on_end", "on_side", "lying", "upright"}
        if says and not says & words[up]:
            continue
        if all(face in segment.finished_faces for face in faces[up]):
            continue
        left.append((up == 2, _left(made, (across, up, along), opening, wrap, skates)))
    if not left:
        for across, along in ((0, 1), (1, 0)):
            left.append((True, _left(made, (across, 2, along), opening, wrap, skates)))
    as_made = [spare for is_as_made, spare in left if is_as_made]
    return Tried(max(as_made, default=None), max(spare for _, spare in left))


def _left(
    made: tuple[Decimal | None, ...],
    way: tuple[int, int, int],
    opening: Opening,
    wrap: int,
    skates: int,
) -> Fraction:
    across, up, along = ((made[at] or Decimal(0)) * 1000 + 2 * wrap for at in way)
    spares = [opening.width_m * 1000 - across, opening.height_m * 1000 - up - skates]
    if opening.length_m is not None:
        spares.append(opening.length_m * 1000 - along)
    return Fraction(min(spares))


TURNS = ((), ("upright",), ("lying",), ("on_side",), ("on_end",), ("upright", "on_end"), ("odd",))


def drawn_piece(draw: Random, segment: str = "torso") -> Segment:
    """Draw a piece: its sizes to the centimetre, how it may be turned, its finished faces."""
    sizes = [Decimal(draw.randint(20, 400)) / 100 for _ in range(3)]
    faces = tuple(face for face in Face if draw.random() < 0.3)
    return sized(*sizes, segment=segment, turns=draw.choice(TURNS), finished_faces=faces)


def drawn_opening(draw: Random, name: str = "door") -> Opening:
    """Draw an opening, now and then with a depth, now and then not measured."""
    sizes: list[Number] = [Decimal(draw.randint(50, 450)) / 100 for _ in range(3)]
    sides = sizes if draw.random() < 0.5 else sizes[:2]
    return an_opening(name, *sides, measured=draw.random() < 0.8)

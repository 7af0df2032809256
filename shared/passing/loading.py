"""Pieces on the floor of a vehicle: rows across it, in as few trips as rows allow.

What is needed first at the site stands nearest the door. Nothing stands on another piece. A trip
takes pieces that are needed one after another; in a row they stand side by side, and each may be
turned as it is allowed to.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shared.passing.boxes import Margins, Piece, Sides, Turn, moved
from shared.passing.masses import Mass, Weight, against, known_of, together

_SQUARE_MM_PER_M2 = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Where pieces stand in a vehicle, in millimetres; height None: open above."""

    length: Fraction
    width: Fraction
    height: Fraction | None = None
    payload_kg: Decimal | None = None

    @property
    def area_m2(self) -> Fraction:
        """Return its floor."""
        return self.length * self.width / _SQUARE_MM_PER_M2


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A piece to be loaded, with its mass, None where nobody knows it."""

    piece: Piece
    mass: Mass | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stowed:
    """A piece on the floor, in its way round and with its sizes as moved."""

    piece: Piece
    turn: Turn
    sides: Sides


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Pieces side by side across the vehicle, and how much of its length they take."""

    depth: Fraction
    pieces: tuple[Stowed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """One load: rows from the door inwards, so that what is needed first comes out first."""

    rows: tuple[Row, ...]
    mass: Mass | None
    weight: Weight

    @property
    def length(self) -> Fraction:
        """Return how much of the vehicle's length is taken."""
        return sum((row.depth for row in self.rows), Fraction())

    @property
    def area_m2(self) -> Fraction:
        """Return the floor that the pieces themselves take."""
        areas = (each.sides.length * each.sides.width for row in self.rows for each in row.pieces)
        return sum(areas, Fraction()) / _SQUARE_MM_PER_M2

    @property
    def in_order(self) -> tuple[Stowed, ...]:
        """Return the pieces as they are loaded: what is needed last at the site goes in first."""
        needed = [each for row in self.rows for each in row.pieces]
        return tuple(reversed(needed))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stow:
    """All pieces by one vehicle: trips in the order of need, and what it can't take at all.

    least_count: trips that the floor and the payload call for at the least.
    """

    trips: tuple[Trip, ...]
    left: tuple[Piece, ...]
    least_count: int


def stow(loads: Sequence[Load], room: Room, margins: Margins) -> Stow:
    """Return the trips of a vehicle for pieces given in the order of need at the site.

    As they are made, unless turning saves a trip or lets one more go in.
    """
    plain = _Floor(room, margins, as_made=True).stow(loads)
    turned = _Floor(room, margins, as_made=False).stow(loads)
    return min((plain, turned), key=lambda found: (len(found.left), len(found.trips)))


class _Floor:
    """The floor of one vehicle."""

    def __init__(self, room: Room, margins: Margins, *, as_made: bool) -> None:
        self._room, self._margins, self._as_made = room, margins, as_made

    def stow(self, loads: Sequence[Load]) -> Stow:
        ways = [(load, self._ways(load.piece)) for load in loads]
        fitting = [(load, found) for load, found in ways if found]
        return Stow(
            trips=self._trips(fitting),
            left=tuple(load.piece for load, found in ways if not found),
            least_count=self._least(fitting),
        )

    def _ways(self, piece: Piece) -> list[Stowed]:
        """Return the ways round in which a piece goes in at all."""
        room = self._room
        usable = [turn for turn in piece.turns if turn.is_as_made] if self._as_made else []
        found = []
        for turn in usable or piece.turns:
            sides = moved(piece.box, turn, self._margins)
            is_low = room.height is None or sides.height <= room.height
            if is_low and sides.width <= room.width and sides.length <= room.length:
                found.append(Stowed(piece=piece, turn=turn, sides=sides))
        return found

    def _least(self, fitting: Sequence[tuple[Load, list[Stowed]]]) -> int:
        floor = sum(
            (min(way.sides.length * way.sides.width for way in ways) for _, ways in fitting),
            Fraction(),
        )
        by_floor = -(-floor // (self._room.length * self._room.width))
        mass = together(load.mass for load, _ in fitting)
        payload = self._room.payload_kg
        by_mass = 0 if mass is None or payload is None else -(-mass.bare // Fraction(payload))
        return max(by_floor, by_mass)

    def _trips(self, fitting: Sequence[tuple[Load, list[Stowed]]]) -> tuple[Trip, ...]:
        """Return the fewest trips of consecutive pieces, the first as full as that allows."""
        count = len(fitting)
        best: list[tuple[int, Trip | None, int]] = [(0, None, count)] * (count + 1)
        for first in range(count - 1, -1, -1):
            found = [
                (1 + best[behind][0], trip, behind) for behind, trip in self._from(fitting, first)
            ]
            best[first] = min(found, key=lambda each: (each[0], -each[2]))
        told, at = [], 0
        while at < count:
            _, trip, at = best[at]
            assert trip is not None
            told.append(trip)
        return tuple(told)

    def _from(
        self, fitting: Sequence[tuple[Load, list[Stowed]]], first: int
    ) -> list[tuple[int, Trip]]:
        """Return each trip that begins with a piece, with where the next one would begin.

        A piece alone always goes, even where it is too heavy: that is told with the trip.
        """
        rows: list[tuple[Row, ...]] = [()]
        found: list[tuple[int, Trip]] = []
        for last in range(first, len(fitting)):
            row = self._rows(fitting, rows, first, last)
            if row is None:
                break
            rows.append(row)
            masses = tuple(load.mass for load, _ in fitting[first : last + 1])
            payload = self._room.payload_kg
            if last > first and payload is not None and known_of(masses).high > payload:
                break
            weight = against(masses, payload)
            found.append((last + 1, Trip(rows=row, mass=together(masses), weight=weight)))
        return found

    def _rows(
        self,
        fitting: Sequence[tuple[Load, list[Stowed]]],
        rows: Sequence[tuple[Row, ...]],
        first: int,
        last: int,
    ) -> tuple[Row, ...] | None:
        """Return the shortest rows for pieces first to last, from those up to each before."""
        found: list[tuple[Fraction, tuple[Row, ...]]] = []
        for begins in range(last, first - 1, -1):
            row = self._row([ways for _, ways in fitting[begins : last + 1]])
            if row is None:
                break
            taken = (*rows[begins - first], row)
            depth = sum((each.depth for each in taken), Fraction())
            if depth <= self._room.length:
                found.append((depth, taken))
        return min(found, key=lambda pair: pair[0])[1] if found else None

    def _row(self, pieces: Sequence[list[Stowed]]) -> Row | None:
        """Return the shortest row of some pieces, None where they don't stand side by side."""
        for depth in sorted({way.sides.length for ways in pieces for way in ways}):
            chosen: list[Stowed] = []
            for ways in pieces:
                short = [way for way in ways if way.sides.length <= depth]
                if not short:
                    break
                chosen.append(min(short, key=lambda way: way.sides.width))
            width = sum((way.sides.width for way in chosen), Fraction())
            if len(chosen) == len(pieces) and width <= self._room.width:
                return Row(depth=depth, pieces=tuple(chosen))
        return None

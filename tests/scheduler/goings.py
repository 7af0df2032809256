"""Journeys of made-up problems: crew and vehicles away together."""

from collections.abc import Iterable

from scheduler.problem import Going, Trip


def a_going(
    leaves: int,
    back: int,
    free: int,
    *,
    crew: Iterable[int] = (),
    rooms: Iterable[tuple[int, int]] = (),
    price: int = 0,
    in_time: bool = True,
) -> Going:
    """Whoever goes is away until free, what they go with until back; rooms: with units."""
    return Going(
        leaves=leaves,
        away=tuple((worker, leaves, free) for worker in crew),
        takes=tuple((room, leaves, back, units) for room, units in rooms),
        price=price,
        in_time=in_time,
    )


def a_trip(
    *times: tuple[int, int, int],
    crew: Iterable[int] = (),
    rooms: Iterable[tuple[int, int]] = (),
    makes_window: bool = True,
) -> Trip:
    """The first departure (leaves, back, free) is in time if any is, the others are not."""
    crew, rooms = tuple(crew), tuple(rooms)
    return Trip(
        options=tuple(
            a_going(*each, crew=crew, rooms=rooms, in_time=makes_window and not at)
            for at, each in enumerate(times)
        )
    )

"""How long the people on a journey have been on duty, from its stretches."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from itertools import groupby

from shared.plan import Doing, Stretch
from shared.road.quarters import QUARTER

_DAY = timedelta(days=1)
_RESTS = frozenset({Doing.REST, Doing.SEA_REST, Doing.STAND})
_BROKEN = frozenset({Doing.BOARD_IN_REST, Doing.LAND_IN_REST})


def long_rests(stretches: Iterable[Stretch], quarters: int) -> Iterator[tuple[datetime, datetime]]:
    """Give the rests of so many quarters or more, in order, each from its start to its end.

    Boarding and landing inside a rest don't end it, and don't count.
    """
    for is_rest, group in groupby(stretches, key=lambda each: each.doing in _RESTS | _BROKEN):
        same = list(group)
        net = sum((each.end - each.start) // QUARTER for each in same if each.doing in _RESTS)
        if is_rest and net >= quarters:
            yield same[0].start, same[-1].end


def on_duty(stretches: tuple[Stretch, ...], until: datetime, rest: int) -> int:
    """Return the quarters since the last rest of so many ended, at an instant; -1 if in one.

    Where there was none, since the first stretch began.
    """
    began = stretches[0].start if stretches else until
    for _, end in long_rests((each for each in stretches if each.end <= until), rest):
        began = end
    length = (until - began) // QUARTER
    return length if length else -1


def with_gaps(stretches: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """Return what is done, in order, with a rest wherever nothing is."""
    found: list[Stretch] = []
    for each in stretches:
        if each.doing in _RESTS:
            continue
        if found and found[-1].end < each.start:
            rest = Stretch(doing=Doing.REST, leg=each.leg, start=found[-1].end, end=each.start)
            found.append(rest)
        found.append(each)
    return tuple(found)


def first_duty_ends(
    stretches: tuple[Stretch, ...], rest: int, end: datetime, back: datetime
) -> datetime:
    """Return when the first rest of so many quarters begins, else when they are back.

    How they come home is not judged: where that would make the day too long, they rest at the
    `end` of what is.
    """
    # A wait before anything is done is no end of a duty.
    begun = tuple(stretches)
    while begun and begun[0].doing in _RESTS:
        begun = begun[1:]
    found = next((start for start, _ in long_rests(begun, rest)), None)
    if found is not None:
        return found
    leaves = stretches[0].start if stretches else end
    return back if back - leaves <= _DAY - rest * QUARTER else end

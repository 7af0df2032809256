"""Which way of choosing stages is tried next: by what each has gained so far, and where.

Windows and hours come first: what was gained there is counted apart from what only polishes, for
cheap small gains would draw everything to themselves.
"""

from random import Random

from scheduler.aims import Levels
from scheduler.neighbours import POLISH, TARGETED, Kind

FIRST_LEVELS = 4
"""The levels that targeted choices are for."""
SIZE_FIRST, SIZE_LEAST, SIZE_MOST = 30, 12, 120
PATIENCE = 6
"""Targeted tries without a gain after which most tries polish."""
KEPT_OF_TEN = 8


class Record:
    """How a way of choosing has done. rate: gain for each unit of effort, lately."""

    __slots__ = ("rate", "size", "tries", "wins")

    def __init__(self) -> None:
        self.size, self.tries, self.wins, self.rate = SIZE_FIRST, 0, 0, 0


class Chances:
    """The records of all ways of choosing."""

    def __init__(self) -> None:
        self.records = {kind: Record() for kind in Kind}
        self.fails = 0

    def draw(self, draw: Random, *, is_costly: bool) -> Kind:
        """Return the next way to choose. is_costly: some job fares worse than it would alone."""
        # One try in eight stays targeted, however long nothing came of it.
        worth = max(1, 7 - 6 * min(self.fails, PATIENCE) // PATIENCE) if is_costly else 0
        kinds = TARGETED if draw.randrange(8) < worth else POLISH
        rates = [self.records[kind].rate for kind in kinds]
        known = [rate for kind, rate in zip(kinds, rates, strict=True) if self.records[kind].tries]
        usual = sum(known) // len(known) if known else 1
        weights = [
            1 + usual // 5 + (rate if self.records[kind].tries else usual)
            for kind, rate in zip(kinds, rates, strict=True)
        ]
        return draw.choices(kinds, weights)[0]

    def size(self, kind: Kind) -> int:
        """Return how many stages are chosen."""
        return self.records[kind].size

    def note(self, kind: Kind, gain: int, effort: int, *, is_proved: bool, is_easy: bool) -> None:
        """Note what came of a try.

        gain: as `gain` says. is_proved: nothing better is in the part; is_easy: and soon.
        """
        record = self.records[kind]
        record.tries += 1
        record.wins += gain > 0
        rate = gain // max(1, effort)
        record.rate = (KEPT_OF_TEN * record.rate + (10 - KEPT_OF_TEN) * rate) // 10
        if is_easy:
            record.size = min(SIZE_MOST, record.size + max(1, record.size // 12))
        elif not is_proved:
            record.size = max(SIZE_LEAST, record.size - max(1, record.size // 12))
        if kind in TARGETED:
            self.fails = 0 if gain else self.fails + 1


def gain(kind: Kind, before: Levels, after: Levels) -> int:
    """Return what better levels are worth to a way of choosing: more at a higher level."""
    worths = (100_000_000, 100_000_000, 10_000, 1_000, 10_000, 1_000, 1, 10)
    counted = worths[:FIRST_LEVELS] if kind in TARGETED else worths
    for worth, was, is_ in zip(counted, before, after, strict=False):
        if is_ != was:
            return max(0, was - is_) * worth
    return 0

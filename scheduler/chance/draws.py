"""Drawn luck: for everything that is uncertain a row of normal numbers, by its name.

A name has the same row in every book, so that two plans are compared by the same luck. Rows are
stratified: each of the equal shares of all numbers is drawn once. Stages have luck in common, all
of them a little and those of one kind more; independence is the commonest way to be too sure.
"""

from math import sqrt
from zlib import crc32

import numpy as np

from scheduler.chance.arrays import Floats
from scheduler.chance.shapes import even_normals, share_below

DRAWS = 2048
SEED = 1


class Draws:
    """So many draws of everything, from one seed."""

    def __init__(
        self,
        *,
        alike: float,
        overall: float,
        count: int = DRAWS,
        seed: int = SEED,
        copies: int = 1,
    ) -> None:
        """alike, overall: how closely hours of one kind, and all hours, go together (0 to 1).

        copies: the same draws so many times one behind the other, to be replayed side by side.
        """
        self.count, self.seed, self.copies = count, seed, copies
        self._alike, self._overall = max(alike, overall), overall
        self._common: dict[str, Floats] = {}

    @property
    def rows(self) -> int:
        """Return how long every row is."""
        return self.count * self.copies

    def normals(self, name: str) -> Floats:
        """Return the normal numbers of a name."""
        stream = np.random.Generator(np.random.PCG64([self.seed, crc32(name.encode())]))
        found: Floats = stream.permutation(even_normals(self.count))
        return found if self.copies == 1 else np.tile(found, self.copies)

    def shares(self, name: str) -> Floats:
        """Return the numbers of a name, spread evenly from 0 to 1."""
        return share_below(self.normals(name))

    def of_stage(self, name: str, kind: str) -> Floats:
        """Return the normal numbers of a stage's hours, with what it has in common with others."""
        alike, overall = self._alike, self._overall
        found: Floats = (
            sqrt(1 - alike) * self.normals(f"stage/{name}")
            + sqrt(alike - overall) * self._kept(f"kind/{kind}")
            + sqrt(overall) * self._kept("everything")
        )
        return found

    def _kept(self, name: str) -> Floats:
        found = self._common.get(name)
        if found is None:
            found = self._common[name] = self.normals(name)
        return found

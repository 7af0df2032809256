"""What the parts of a reader raise to one another; never seen outside `shared.files`."""

from collections.abc import Collection
from typing import Any

from shared.findings import Fact

Json = Any
"""A plain value, as JSON text gives it."""

Path = tuple[str | int, ...]

Near = tuple[str, Collection[str]]


class Broken(Exception):  # noqa: N818 - it says what is wrong
    """A part can't be made; the findings that say why are already noted."""


class Wrong(Broken):
    """A part can't be made: a code of `shared.findings_codes` and its facts.

    below: where, counted from the part that is being read. near: what was written and what
    could stand there, from which the fact `nearest` is made.
    """

    def __init__(
        self, code: str, below: Path = (), near: Near | None = None, **facts: Fact
    ) -> None:
        """Keep what the finding needs."""
        super().__init__(code, facts)
        self.code = code
        self.below = below
        self.near = near
        self.facts = facts

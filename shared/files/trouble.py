"""What the parts of a reader raise to one another; never seen outside `shared.files`."""

from typing import Any

from shared.findings import Fact

Json = Any
"""A plain value, as JSON text gives it."""

Path = tuple[str | int, ...]


class Broken(Exception):  # noqa: N818 - it says what is wrong
    """A part can't be made; the findings that say why are already noted."""


class Wrong(Broken):
    """A part can't be made: a code of `shared.findings_codes` and its facts.

    below: where, counted from the part that is being read.
    """

    def __init__(self, code: str, below: Path = (), **facts: Fact) -> None:
        """Keep what the finding needs."""
        super().__init__(code, facts)
        self.code = code
        self.below = below
        self.facts = facts

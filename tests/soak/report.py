"""What a soak is given and what it comes to."""

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

MOST_LINES = 50


@dataclass(frozen=True, slots=True)
class Task:
    """rounds: how many are asked for; until: on time.monotonic, no round begins later.

    say: takes a line for whoever watches.
    """

    rounds: int
    seed: int
    until: float
    say: Callable[[str], None]

    @property
    def has_time(self) -> bool:
        return time.monotonic() < self.until


@dataclass(frozen=True, slots=True)
class Report:
    """rounds: done, each whole; failed: a line for each that did, with what repeats it.

    facts: further figures, by name; rounds and failed are not among them.
    """

    rounds: int
    failed: tuple[str, ...] = ()
    facts: Mapping[str, int | float | str] = field(default_factory=dict)

    def to_json(self, name: str) -> dict[str, object]:
        return {
            "soak": name,
            "rounds": self.rounds,
            "failed": len(self.failed),
            **self.facts,
            "failures": list(self.failed[:MOST_LINES]),
        }

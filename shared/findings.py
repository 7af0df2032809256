"""Findings: what a person can mend in a book, each with its place and facts for the cure."""

from dataclasses import dataclass
from typing import Literal

Fact = str | int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing in a book that is not understood, contradicts itself, or deserves a look.

    Attributes
    ----------
    code: which kind of finding; app's catalogue has a sentence and a cure for each code.
    path: where, as field names and list positions, e.g. ("jobs", 0, "segments", 2, "length_m").
    name: the person's own name of the nearest named thing, or "".
    facts: what the sentence and its cure need, by name.
    stops: True when the book can't be taken as it is; False when it only tells.
    """

    code: str
    path: tuple[str | int, ...]
    name: str = ""
    facts: tuple[tuple[str, Fact], ...] = ()
    stops: bool = True

    def fact(self, key: str) -> Fact:
        """Return the fact of that name, or None."""
        return dict(self.facts).get(key)


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """A fact of the world that keeps a job from its window: a code and the things it names."""

    code: str
    facts: tuple[tuple[str, Fact], ...] = ()
    kind: Literal["fact", "chain", "capacity", "solver"] = "fact"

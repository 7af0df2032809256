"""What became of mutants, and which of the survivors change nothing."""

import tomllib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from pathlib import Path

from tests.house.tree import source_of
from tests.mutation.mutants import Mutant

EQUIVALENT = Path(__file__).with_name("equivalent.toml")


class Fate(StrEnum):
    KILLED = "killed"
    BY_TIME = "killed by time"
    SURVIVED = "survived"
    EQUIVALENT = "equivalent"


@dataclass(frozen=True)
class Outcome:
    """by: the test that failed first, where one did."""

    mutant: Mutant
    source: str
    fate: Fate
    seconds: float
    by: str = ""

    @property
    def lines(self) -> tuple[str, str]:
        return changed_lines(self.mutant, self.source)

    def __str__(self) -> str:
        was, becomes = self.lines
        return f"{self.fate}: {self.mutant.name}\n  - {was}\n  + {becomes}"


def changed_lines(mutant: Mutant, source: str) -> tuple[str, str]:
    """What was written and what is written instead, without what both share."""
    was, becomes = source_of(mutant.path).splitlines(), source.splitlines()
    at = next((at for at, (a, b) in enumerate(zip(was, becomes, strict=False)) if a != b), -1)
    after = len(was) - len(becomes)
    shown = " ".join(line.strip() for line in becomes[at : max(at + 1, at + 1 - after)])
    return was[at].strip(), shown


@dataclass(frozen=True)
class Reason:
    """Why nothing can tell a line from its mutant, and of how many lines of the file that is so."""

    why: str
    lines: int


@cache
def reasons() -> dict[tuple[str, str, str], Reason]:
    """By file, line as it is and as it becomes."""
    listed = tomllib.loads(EQUIVALENT.read_text(encoding="utf-8"))["mutant"]
    return {
        (one["path"], one["was"], one["becomes"]): Reason(one["why"], one.get("lines", 1))
        for one in listed
    }


def is_equivalent(mutant: Mutant, source: str) -> bool:
    return (str(mutant.path), *changed_lines(mutant, source)) in reasons()


def figures(outcomes: Sequence[Outcome]) -> dict[str, float]:
    """Counts and shares; a share of nothing is 0."""
    fates = Counter(outcome.fate for outcome in outcomes)
    killed = fates[Fate.KILLED] + fates[Fate.BY_TIME]
    other = len(outcomes) - fates[Fate.EQUIVALENT]
    return {
        "mutants": len(outcomes),
        "killed": killed,
        "by_time": fates[Fate.BY_TIME],
        "survived": fates[Fate.SURVIVED],
        "equivalent": fates[Fate.EQUIVALENT],
        "killed_of_others": round(killed / other, 4) if other else 0.0,
        "killed_of_all": round(killed / len(outcomes), 4) if outcomes else 0.0,
    }

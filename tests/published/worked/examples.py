"""The worked examples as tables; INDEX.csv says where each number was printed."""

import csv
from fractions import Fraction
from pathlib import Path

from scheduler.calendar import Index
from scheduler.countback import Times, earliest, latest
from scheduler.problem import Edge, JobAim, Problem, Stage, Way

FOLDER = Path(__file__).parent
Row = dict[str, str]
Arc = tuple[str, str, str, int]


def rows(name: str) -> list[Row]:
    """A table of the folder, a dict for each line."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def expected(name: str) -> dict[tuple[str, str], str]:
    """What is printed, by item and quantity."""
    return {(row["item"], row["quantity"]): row["value"] for row in rows(f"{name}.expected")}


def arcs_of(activities: list[Row]) -> list[Arc]:
    """The predecessors of a table as relations from end to start."""
    return [
        (before, row["activity"], "FS", 0)
        for row in activities
        for before in row["predecessors"].split()
    ]


class Network:
    """Activities with fixed durations, and their times as the engine's countback gives them."""

    def __init__(self, durations: dict[str, Fraction], arcs: list[Arc]) -> None:
        self.names = list(durations)
        self.arcs = arcs
        self.scale = 1
        for duration in durations.values():
            self.scale *= duration.denominator
        self.steps = {name: int(duration * self.scale) for name, duration in durations.items()}
        self.early = earliest(Index(self._problem(None)))
        self.duration = max(end for end in self.early.ends if end is not None)
        self.late = latest(Index(self._problem(self.duration)))

    def _problem(self, until: int | None) -> Problem:
        number = {name: at for at, name in enumerate(self.names)}
        return Problem(
            horizon=2 * sum(self.steps.values()) + 100,
            stages=tuple(
                Stage(ways=(Way(work=Fraction(self.steps[name])),)) for name in self.names
            ),
            edges=tuple(
                Edge(
                    before=number[a],
                    after=number[b],
                    least=self._lag(a, b, kind, lag),
                    from_start=True,
                )
                for a, b, kind, lag in self.arcs
            ),
            jobs=(JobAim(lasts=tuple(number.values()), latest=until),),
        )

    def _lag(self, a: str, b: str, kind: str, lag: int) -> int:
        """A relation between ends and starts, as one from start to start."""
        from_end = self.steps[a] if kind[0] == "F" else 0
        to_end = self.steps[b] if kind[1] == "F" else 0
        return from_end + lag * self.scale - to_end

    def figure(self, name: str, quantity: str) -> Fraction:
        """One of the usual figures of an activity."""
        at = self.names.index(name)
        match quantity:
            case "early_start":
                return self._time(self.early, at, end=False)
            case "early_finish":
                return self._time(self.early, at, end=True)
            case "late_start":
                return self._time(self.late, at, end=False)
            case "late_finish":
                return self._time(self.late, at, end=True)
            case "total_float":
                return self.figure(name, "late_start") - self.figure(name, "early_start")
            case "free_float":
                return self._free_float(name)
            case "critical":
                return Fraction(self.figure(name, "total_float") == 0)
        raise ValueError(f"no such quantity: {quantity}")

    def _time(self, times: Times, at: int, *, end: bool) -> Fraction:
        found = (times.ends if end else times.starts)[at]
        assert found is not None
        return Fraction(found, self.scale)

    def _free_float(self, name: str) -> Fraction:
        followers = [b for a, b, _, _ in self.arcs if a == name]
        until = [self.figure(b, "early_start") for b in followers]
        until = until or [Fraction(self.duration, self.scale)]
        return min(until) - self.figure(name, "early_finish")

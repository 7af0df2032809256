"""The engine against published instances.

``python -m tests.bench published DIR --known CSV --seconds N --workers N [--places odd|even]
[--limit N] [--bare] [--json]``: every instance in DIR in natural order, one line each and a
summary; with --json one object on the last line. DIR's name is the set's. --places: only every
other one, counted from 1 (parameters are chosen on those at odd places, figures come from even
ones). --bare: each also by bare CP-SAT (bare.py) in the same run, whose figures are then the
member "bare" of the object, under the same names. Exit 1 on a contradiction or a broken schedule
of ours or of bare's.
"""

import argparse
import csv
import json
import re
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean, median
from time import monotonic

from scheduler.calendar import Index
from scheduler.model.makespan import least_makespan
from scheduler.model.run import Limits, Status
from scheduler.model.whole import ModelResult
from scheduler.problem import Problem, Schedule
from scheduler.replay import breaches
from tests.bench import bare
from tests.published.instances import Instance, problem_of
from tests.published.readers import read
from tests.published.recheck import broken as broken_rules


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """The published interval of the optimum; None: proved to have no schedule."""

    lower: int | None
    upper: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What the engine said of one instance, against what is known."""

    name: str
    known: Known
    result: ModelResult
    broken: tuple[str, ...]
    seconds: float

    @property
    def value(self) -> int | None:
        return self.result.values[0] if self.result.values else None

    @property
    def optimal(self) -> bool:
        return self.result.status is Status.PROVED

    @property
    def proved(self) -> bool:
        return self.optimal or self.result.status is Status.NOTHING_FITS

    @property
    def contradicts(self) -> bool:
        lower, upper, value = self.known.lower, self.known.upper, self.value
        if self.result.status is Status.NOTHING_FITS:
            return lower is not None
        if value is None:
            return False
        if lower is None or upper is None:
            return True
        return value < lower or (self.optimal and value > upper)

    @property
    def deviation_percent(self) -> float | None:
        """Above the upper bound, in its percent; None for an instance without schedule."""
        if self.known.upper is None:
            return None
        if self.value is None:
            return 100.0
        return max(0.0, 100 * (self.value - self.known.upper) / self.known.upper)


def natural(name: str) -> list[tuple[int, str]]:
    """A key by which psp9 comes before psp10."""
    return [(int(part), "") if part.isdigit() else (0, part) for part in re.split(r"(\d+)", name)]


def read_known(path: Path, wanted_set: str) -> dict[str, Known]:
    """Known values of one set, by file name."""
    with path.open(encoding="utf-8", newline="") as lines:
        return {
            row["instance"]: Known(
                lower=_figure(row["optimal_or_lower_bound"]), upper=_figure(row["upper_bound"])
            )
            for row in csv.DictReader(lines)
            if row["set"] == wanted_set
        }


def _figure(text: str) -> int | None:
    return None if text == "infeasible" else int(text)


def solve(path: Path, known: Known, *, seconds: float, workers: int) -> Run:
    """Read, solve and check one instance within so many seconds."""
    begin = monotonic()
    instance = read(path)
    problem = problem_of(instance)
    limits = Limits(seconds=seconds - (monotonic() - begin), workers=workers)
    result = least_makespan(Index(problem), limits)
    return _checked(path, known, instance, result, monotonic() - begin)


def solve_bare(path: Path, known: Known, *, seconds: float, workers: int) -> Run:
    """Read, solve and check one instance by bare CP-SAT within so many seconds."""
    begin = monotonic()
    instance = read(path)
    answer = bare.solve(instance, seconds=seconds - (monotonic() - begin), workers=workers)
    found = answer.schedule is not None
    if answer.proved:
        status = Status.PROVED if found else Status.NOTHING_FITS
    else:
        status = Status.FOUND if found else Status.UNKNOWN
    values = () if answer.value is None else (answer.value,)
    result = ModelResult(status=status, schedule=answer.schedule, values=values)
    return _checked(path, known, instance, result, monotonic() - begin)


def _checked(
    path: Path, known: Known, instance: Instance, result: ModelResult, seconds: float
) -> Run:
    return Run(
        name=path.name,
        known=known,
        result=result,
        broken=_broken(instance, problem_of(instance), result.schedule),
        seconds=seconds,
    )


def _broken(instance: Instance, problem: Problem, schedule: Schedule | None) -> tuple[str, ...]:
    """What the schedule breaks: in the instance's terms, and in the problem's."""
    if schedule is None:
        return ()
    replayed = (str(breach.rule) for breach in breaches(problem, schedule))
    return (*broken_rules(instance, schedule), *replayed)


def line(run: Run) -> str:
    """One instance for people to read."""
    low, high = run.known.lower, run.known.upper
    known = "none" if low is None else f"{low}" if low == high else f"{low}-{high}"
    value = "-" if run.value is None else str(run.value)
    notes = [str(run.result.status)]
    notes += ["CONTRADICTS"] * run.contradicts + [f"BROKEN {rule}" for rule in run.broken]
    return f"{run.name:40} {value:>7} {known:>11} {run.seconds:7.2f} s  {' '.join(notes)}"


def summary(wanted_set: str, runs: Iterable[Run]) -> dict[str, str | int | float | None]:
    """The figures of a set, under the names that --json gives."""
    runs = list(runs)
    deviations = [run.deviation_percent for run in runs if run.deviation_percent is not None]
    return {
        "set": wanted_set,
        "instances": len(runs),
        "proved": sum(run.proved for run in runs),
        "optimal": sum(run.optimal for run in runs),
        "mean_deviation_percent": round(fmean(deviations), 4) if deviations else None,
        "contradictions": sum(run.contradicts for run in runs),
        "broken": sum(bool(run.broken) for run in runs),
        "median_seconds": round(median(run.seconds for run in runs), 4) if runs else None,
        "total_seconds": round(sum(run.seconds for run in runs), 4),
    }


def instances_in(
    folder: Path, known: dict[str, Known], limit: int | None, places: str | None = None
) -> list[Path]:
    """The folder's instances with a known value, in natural order, no more than the limit.

    places: "odd" or "even", only those at such a place, the first being at place 1.
    """
    found = sorted((path for path in folder.iterdir() if path.name in known), key=_by_name)
    if places is not None:
        found = found[0 if places == "odd" else 1 :: 2]
    return found[:limit]


def _by_name(path: Path) -> list[tuple[int, str]]:
    return natural(path.name)


def main(argv: list[str]) -> int:
    """Run the bench; 0 unless something contradicts or breaks, 2 when nothing is there."""
    asked = _parser().parse_args(argv)
    wanted_set = asked.folder.resolve().name
    known = read_known(asked.known, wanted_set)
    paths = instances_in(asked.folder, known, asked.limit, asked.places)
    if not paths:
        print(f"no instance of {wanted_set} with a known value", file=sys.stderr)
        return 2
    ours: list[Run] = []
    plain: list[Run] = []
    for path in paths:
        for engine, runs in ((solve, ours), (solve_bare, plain))[: 2 if asked.bare else 1]:
            run = engine(path, known[path.name], seconds=asked.seconds, workers=asked.workers)
            print(line(run), "" if runs is ours else "  bare", flush=True)
            runs.append(run)
    return _tell(wanted_set, ours, plain if asked.bare else None, in_json=asked.json)


def _tell(wanted_set: str, ours: list[Run], plain: list[Run] | None, *, in_json: bool) -> int:
    figures: dict[str, object] = dict(summary(wanted_set, ours))
    print("  ".join(f"{name} {value}" for name, value in figures.items()))
    if plain is not None:
        figures["bare"] = bare_figures = summary(wanted_set, plain)
        print("bare", "  ".join(f"{name} {value}" for name, value in bare_figures.items()))
    if in_json:
        print(json.dumps(figures))
    return int(any(run.contradicts or run.broken for run in (*ours, *(plain or ()))))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.bench published")
    parser.add_argument("folder", type=Path, metavar="DIR")
    parser.add_argument("--known", type=Path, required=True, metavar="CSV")
    parser.add_argument("--seconds", type=float, default=10.0, metavar="N")
    parser.add_argument("--workers", type=int, default=2, metavar="N")
    parser.add_argument("--places", choices=("odd", "even"))
    parser.add_argument("--limit", type=int, metavar="N")
    parser.add_argument("--bare", action="store_true")
    parser.add_argument("--json", action="store_true")
    return parser


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""What improving gains: ``python -m tests.bench improve [--seconds N] [--seeds N] [--first SEED]``.

Workshops of tests/books/sized.py with twelve people and twelve jobs. Each is planned, pulled
together, and bettered for so many seconds; beside it stand every job planned alone in an empty
workshop, and CP-SAT on the whole book with the same plan as a hint in the same time. Gain is the
share of the way from the first justified plan to the sum of the jobs alone, by one number: windows
missed, steps late, steps short of the wish, floor time, as _warm.single_number weighs them. Jobs
alone are plans, not proofs; missed_proved: so many windows no plan keeps, by chains and by journeys
that collide alone. Every plan goes through the check; ends with 1 if one is broken.
"""

import argparse
import json
import sys
from dataclasses import dataclass, field, replace
from time import monotonic

from scheduler.aims import Levels, levels
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.improve import IN_SECONDS, improve
from scheduler.problem import Schedule
from scheduler.proofs import Prover
from scheduler.shifts import first_schedule, improve_by_shifts
from scheduler.stop import AfterEffort, AfterSeconds
from shared.book import Book
from tests.bench._warm import Broken, Warm, single_number
from tests.bench.whole_book import solve_whole_book
from tests.books.sized import Size, sized_book

STAGES, JOBS = 680, 12
ALONE_PASSES = 12
MARKS = (1, 2, 5, 10, 15, 20, 25, 30, 60, 120)
"""Seconds after which the curve is told."""
FLOOR = 7


@dataclass(slots=True)
class Curve:
    """The best plans as they came: seconds since it began, and levels."""

    begun: float
    points: list[tuple[float, Levels]] = field(default_factory=list)

    def take(self, _: Schedule, reached: Levels) -> None:
        """Note a better plan."""
        self.points.append((monotonic() - self.begun, reached))

    def at(self, seconds: float) -> Levels:
        """Give the levels there were by then."""
        return [reached for since, reached in self.points if since <= seconds][-1]


def alone_levels(book: Book) -> list[Levels]:
    """Give the levels of each job planned alone in an empty workshop."""
    found = []
    for job in book.jobs:
        normal = Warm().normal(replace(book, jobs=(job,)))
        index = Index(normal.problem)
        first = first_schedule(index, 1)
        if isinstance(first, Unfit):
            raise Broken(f"{book.name}: {job.id} fits nowhere, alone")
        best = improve_by_shifts(index, first, seed=1, stop=AfterEffort(ALONE_PASSES))
        found.append(levels(normal.problem, best))
    return found


def _missed(reached: Levels) -> int:
    return reached[0] + reached[1]


def _gain(start: int, end: int, alone: int) -> float:
    """Give the share of the way from start to alone, in per cent."""
    return round(100 * (start - end) / (start - alone), 2) if start > alone else 0.0


def measured(size: Size, seconds: float, *, whole: bool) -> dict[str, object]:
    """Better one workshop's plan, and tell what that gained beside the others."""
    book, warm = sized_book(size), Warm()
    normal, first, _ = warm.first(book, justified=True)
    index = warm.index(normal)
    curve = Curve(begun=monotonic())
    curve.points.append((0.0, levels(normal.problem, first)))
    best = improve(
        index,
        first,
        seed=size.seed,
        stop=AfterSeconds(seconds, monotonic),
        pace=IN_SECONDS,
        on_better=curve.take,
    )
    took = monotonic() - curve.begun
    warm.checked(book, normal, best)
    prover = Prover(normal, index)
    prover.by_chain(best)
    start, end = curve.points[0][1], levels(normal.problem, best)
    alone = alone_levels(book)
    told: dict[str, object] = {
        "seed": size.seed,
        "missed_start": _missed(start),
        "missed_end": _missed(end),
        "missed_alone": sum(map(_missed, alone)),
        "missed_proved": _missed(prover.least_levels()),
        "floor_ratio_to_alone": round(end[FLOOR] / sum(each[FLOOR] for each in alone), 3),
    }
    aim = sum(map(single_number, alone))
    told["gain_percent"] = _gain(single_number(start), single_number(end), aim)
    told["whole_book_gain_percent"] = None
    if whole:
        found = solve_whole_book(warm.index(normal), seconds, hint=first)
        assert found.schedule is not None
        warm.checked(book, normal, found.schedule)
        number = single_number(levels(normal.problem, found.schedule))
        told["whole_book_gain_percent"] = _gain(single_number(start), number, aim)
    _print(told, len(normal.problem.stages), curve, took)
    return told


def _print(told: dict[str, object], stages: int, curve: Curve, took: float) -> None:
    print("  ".join(f"{key} {value}" for key, value in told.items()))
    marks = [0, *(mark for mark in MARKS if mark < took), round(took, 1)]
    print(f"  {stages} stages; seconds: windows missed, steps late, steps short, floor steps")
    for mark in marks:
        at = curve.at(mark + 0.1)
        print(f"  {mark:6} {_missed(at):4} {at[2]:7} {at[3]:7} {at[FLOOR]:9}", flush=True)


def main(argv: list[str]) -> int:
    """Better so many workshops."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench improve", description=__doc__)
    parser.add_argument("--seconds", type=float, default=30)
    parser.add_argument("--seeds", type=int, default=10)
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--stages", type=int, default=STAGES)
    parser.add_argument("--jobs", type=int, default=JOBS)
    parser.add_argument("--tight", type=int, default=0, help="windows so many per cent closer")
    parser.add_argument("--no-whole", action="store_true", help="no CP-SAT on the whole book")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    rows = []
    for seed in range(asked.first, asked.first + asked.seeds):
        size = Size(stages=asked.stages, jobs=asked.jobs, seed=seed, tight_percent=asked.tight)
        try:
            rows.append(measured(size, asked.seconds, whole=not asked.no_whole))
        except Broken as broken:
            print(broken, file=sys.stderr)
            return 1
    if asked.json:
        print(json.dumps({"seeds": rows}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

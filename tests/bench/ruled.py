"""Books under all the rules of the trade: ``python -m tests.bench ruled [--seeds N] [--first N]``.

Every plan goes through the check, and is timed anew by code that shares nothing with it
(tests/books/retime.py): waits, limits of materials, standing, floor, air.
"""

import argparse
import json
import os
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from time import perf_counter

from scheduler.request import SolveRequest
from scheduler.solve import solve
from tests.books.retime import faults
from tests.books.shapes import SHAPES


def ask(seed: int, effort: int) -> tuple[Counter[str], list[str]]:
    """Solve one book; give counts of what came, and lines about what should not have."""
    planted = SHAPES["ruled"](seed)
    request = SolveRequest(book=planted.book, now=planted.now, effort=effort, workers=1)
    outcome = solve(request)
    counts: Counter[str] = Counter(books=1)
    counts[f"abraded {min(1, _abraded(outcome.plan.placements))}"] += 1
    odd = [f"{seed}: {line}" for line in faults(planted.book, outcome.plan)]
    counts["retimed faults"] += len(odd)
    if not outcome.check.sound:
        counts["broken"] += 1
        odd.append(f"{seed}: {outcome.check}")
    for job in outcome.jobs:
        counts[job.verdict.value] += 1
    counts["steps"] += len(outcome.plan.placements)
    counts["unplaced"] += len(outcome.plan.unplaced)
    return counts, odd


def _abraded(placements: tuple[object, ...]) -> int:
    return sum(getattr(placed, "part", "") == "abrade" for placed in placements)


def main(argv: list[str]) -> int:
    """Ask of so many seeds."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench ruled", description=__doc__)
    parser.add_argument("--seeds", type=int, default=2000)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--effort", type=int, default=2, help="placement passes a book")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    counts: Counter[str] = Counter()
    begun = perf_counter()
    seeds = range(asked.first, asked.first + asked.seeds)
    with ProcessPoolExecutor(asked.processes) as pool:
        for more, odd in pool.map(partial(ask, effort=asked.effort), seeds, chunksize=4):
            counts += more
            for line in odd:
                print(line, flush=True)
    told = {"broken": 0, "retimed faults": 0, **counts, "seconds": round(perf_counter() - begun)}
    for name, count in sorted(told.items()):
        print(f"{name:32} {count}")
    if asked.json:
        print(json.dumps(told))
    return 1 if told["broken"] or told["retimed faults"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

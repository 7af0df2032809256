"""Books with a planted truth: ``python -m tests.bench planted [--seeds N] [--first N]``.

Half of the questions have a known plan, so `cannot` would be false; half have a planted cause,
so anything but `cannot` falls short. Every plan goes through the check.
"""

import argparse
import json
import sys
from collections import Counter
from time import perf_counter

from scheduler.check import check
from scheduler.request import SolveRequest
from scheduler.solve import solve
from tests.books.shapes import SHAPES


def ask(shape: str, seed: int, effort: int) -> tuple[Counter[str], list[str]]:
    """Solve one book; give counts of what came, and lines about what should not have."""
    planted = SHAPES[shape](seed)
    request = SolveRequest(book=planted.book, now=planted.now, effort=effort, workers=1)
    outcome = solve(request)
    told = check(planted.book, outcome.plan)
    counts: Counter[str] = Counter(books=1, broken=0 if told.sound else 1)
    odd = [] if told.sound else [f"{shape} {seed}: {told}"]
    verdicts = {str(job.id): job.verdict.value for job in outcome.jobs}
    for job, wanted in (planted.verdicts or {}).items():
        counts[f"{shape}: {verdicts[job]}"] += 1
        if (verdicts[job] == "cannot") != (wanted == "cannot"):
            counts["wrong"] += 1
            odd.append(f"{shape} {seed}: {job} is {verdicts[job]}, planted {wanted}")
    return counts, odd


def main(argv: list[str]) -> int:
    """Ask of so many seeds of each planted shape."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench planted", description=__doc__)
    parser.add_argument("--seeds", type=int, default=200)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--effort", type=int, default=8, help="placement passes a book")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    counts: Counter[str] = Counter(broken=0, wrong=0)
    begun = perf_counter()
    for seed in range(asked.first, asked.first + asked.seeds):
        for shape in ("planted-plan", "planted-impossible"):
            more, odd = ask(shape, seed, asked.effort)
            counts += more
            for line in odd:
                print(line, flush=True)
    told = {**counts, "seconds": round(perf_counter() - begun)}
    told = {"broken": 0, "wrong": 0, **told}
    for name, count in sorted(told.items()):
        print(f"{name:32} {count}")
    if asked.json:
        print(json.dumps(told))
    return 1 if told["broken"] or told["wrong"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

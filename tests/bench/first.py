"""How soon the first checked plan is there: ``python -m tests.bench first [BOOK ...]``.

From the book's bytes on disk to the first plan told, the check included; the solver is not
imported by then.
"""

import argparse
import json
import sys
from dataclasses import dataclass, field
from pathlib import Path
from time import perf_counter

from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.examine import take_in
from shared.ids import JobId
from shared.plan import Plan

SAMPLES = ("small", "tight", "full", "impossible")


@dataclass(slots=True)
class First:
    """Notes when the first plan came, and has had enough then."""

    begun: float
    seconds: float | None = None
    levels: tuple[int, ...] = field(default=())

    def plan(self, plan: Plan, levels: tuple[int, ...]) -> None:
        if self.seconds is None and plan.placements:
            self.seconds, self.levels = perf_counter() - self.begun, levels

    def bound(self, job: JobId, minutes: int) -> None:
        """Bounds are not what is measured."""

    def has_it(self) -> bool:
        return self.seconds is not None


def measured(path: Path) -> dict[str, object]:
    """Give how long one book takes to its first checked plan."""
    first = First(begun=perf_counter())
    book = take_in(path.read_bytes()).book
    if book is None or book.as_of is None:
        raise SystemExit(f"{path}: no book that says as of when")
    request = SolveRequest(book=book, now=book.as_of, seconds=60)
    solve(request, progress=first, cancel=first.has_it)
    steps = sum(len(job.steps) for job in book.jobs)
    return {"book": path.name, "steps": steps, "seconds": first.seconds, "levels": first.levels}


def main(argv: list[str]) -> int:
    """Measure the samples, or the books named."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench first", description=__doc__)
    parser.add_argument("books", nargs="*", type=Path)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    books = asked.books or [Path("sample_jobs") / f"{name}.countback" for name in SAMPLES]
    rows = [measured(path) for path in books]
    for row in rows:
        print(f"{row['book']:28} {row['steps']:5} steps  {row['seconds']:.2f} s")
    if asked.json:
        print(json.dumps({"rows": rows}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

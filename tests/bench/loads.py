"""What booth loads save: ``python -m tests.bench loads [BOOK] [--effort N] [--pieces N]``.

The book is planned without loads and with all that are proposed, with the same effort, in one
run; floor time and booth hours are read from the two plans.
"""

import argparse
import json
import sys
from datetime import timedelta
from pathlib import Path

from scheduler.loads import booth_minutes, proposals, take
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book
from shared.examine import take_in
from shared.units import STEP_MINUTES


def planned(book: Book, effort: int) -> Outcome:
    assert book.as_of is not None
    return solve(SolveRequest(book=book, now=book.as_of, effort=effort, workers=1))


def measured(book: Book, outcome: Outcome) -> dict[str, object]:
    """Give what one plan comes to."""
    booth = booth_minutes(book, outcome.plan)
    return {
        "stages": sum(len(job.steps) for job in book.jobs),
        "missed": outcome.levels[0] + outcome.levels[1],
        "floor_days": round(timedelta(minutes=outcome.levels[7] * STEP_MINUTES) / timedelta(1), 1),
        "booth_hours": round(booth / 60, 2),
        "sound": outcome.check.sound,
    }


def main(argv: list[str]) -> int:
    """Measure the fullest sample, or the book named."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench loads", description=__doc__)
    parser.add_argument("book", nargs="?", type=Path, default=Path("sample_jobs/full.countback"))
    parser.add_argument("--effort", type=int, default=8, help="placement passes a plan")
    parser.add_argument("--pieces", type=int, help="in one load at most")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    book = take_in(asked.book.read_bytes()).book
    if book is None or book.as_of is None:
        raise SystemExit(f"{asked.book}: no book that says as of when")
    found, taken = proposals(book, book.as_of, pieces_most=asked.pieces), book
    for proposal in found:
        taken = take(taken, proposal)
    rows = {
        "without": measured(book, planned(book, asked.effort)),
        "with": measured(taken, planned(taken, asked.effort)),
    }
    count = sum(len(proposal.loads) for proposal in found)
    print(f"{asked.book.name}: {len(book.jobs)} jobs, {count} loads")
    for name, row in rows.items():
        print(f"{name:8} " + "  ".join(f"{key} {value}" for key, value in row.items()))
    if asked.json:
        print(json.dumps({"loads": count, **rows}))
    return 0 if all(row["sound"] for row in rows.values()) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""What judged journeys cost the first plan: ``python -m tests.bench delivery [--json]``.

The sample crossing, and the full sample as it is and with every drive of its journeys judged: three
hours at the wheel of a hired lorry, as long as they were elapsed. Times are of the first checked
plan, in one process; unknown: nothing is known of the road yet; known: asked again. The ratio is to
the book without judged journeys.
"""

import argparse
import json
import sys
from dataclasses import replace
from pathlib import Path
from time import perf_counter

from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, Job, Journey, Leg, LegKind
from shared.examine import take_in
from tests.bench.first import First

SAMPLES = Path("sample_jobs")
WHEEL_MINUTES = 180
RUNS = 3


def judged(book: Book) -> Book:
    """Return a book with every drive of its journeys judged by drivers' hours."""
    return replace(book, jobs=tuple(_job(job) for job in book.jobs))


def plain(book: Book) -> Book:
    """Return the same book with as many minutes elapsed on the road."""
    return replace(book, jobs=tuple(_job(job, is_judged=False) for job in book.jobs))


def _job(job: Job, *, is_judged: bool = True) -> Job:
    steps = (
        replace(step, legs=tuple(_leg(leg, is_judged=is_judged) for leg in step.legs))
        if isinstance(step, Journey)
        else step
        for step in job.steps
    )
    return replace(job, steps=tuple(steps))


def _leg(leg: Leg, *, is_judged: bool) -> Leg:
    if leg.kind is not LegKind.DRIVE:
        return leg
    if is_judged:
        return replace(leg, minutes=0, driving_minutes=WHEEL_MINUTES, country=leg.country or "GB")
    return replace(leg, minutes=WHEEL_MINUTES, driving_minutes=None, distance_km=None, shares=())


def first_plan(book: Book) -> float:
    """Return how long a book takes to its first checked plan."""
    if book.as_of is None:
        raise SystemExit("a book that does not say as of when")
    first = First(begun=perf_counter())
    solve(SolveRequest(book=book, now=book.as_of, seconds=60), progress=first, cancel=first.has_it)
    if first.seconds is None:
        raise SystemExit("no plan at all")
    return first.seconds


def measured(name: str, book: Book, against: Book | None) -> dict[str, object]:
    """Return the seconds of a book, at first and again, and both against another."""
    unknown = first_plan(book)
    known, base = [], []
    for _ in range(RUNS):  # In turns: what else runs slows both.
        known.append(first_plan(book))
        if against is not None:
            base.append(first_plan(against))
    found: dict[str, object] = {"book": name, "unknown": unknown, "known": min(known)}
    if base:
        plain_s = min(base)
        ratios = {"unknown_ratio": unknown / plain_s, "known_ratio": min(known) / plain_s}
        found |= {"plain": plain_s, **ratios}
    return found


def _sample(name: str) -> Book:
    book = take_in((SAMPLES / f"{name}.countback").read_bytes()).book
    if book is None:
        raise SystemExit(f"{name}: no book")
    return book


def main(argv: list[str]) -> int:
    """Measure the first plans and print them."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench delivery", description=__doc__)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    full = _sample("full")
    first_plan(_sample("small"))  # What is imported late counts for none of them.
    rows = [
        measured("crossing", _sample("crossing"), None),
        measured("full, judged", judged(full), plain(full)),
    ]
    for row in rows:
        ratios = (f"{row[key]:.2f} x" for key in ("unknown_ratio", "known_ratio") if key in row)
        seconds = f"unknown {row['unknown']:.2f} s  known {row['known']:.2f} s"
        print(f"{row['book']:16} {seconds}  {'  '.join(ratios)}".rstrip())
    if asked.json:
        print(json.dumps({"rows": rows}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

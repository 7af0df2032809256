"""Ways out in a large book: ``python -m tests.bench levers [--stages N] [--seeds N] [--json]``.

Sized workshops in which hours and hands are offered. Of one job that has room the window is moved
so much sooner that it misses by some days; then it is asked about: when the first useful set is
there, what it costs, what comes out in the end, and what is proved of the cheapest. Seconds of the
processor stand beside those of the clock, because a machine may be shared.
"""

import argparse
import json
import sys
from dataclasses import replace
from datetime import timedelta
from time import perf_counter, process_time

from scheduler.levers.search import ways_out
from scheduler.levers.values import WayOut, WaysOut
from scheduler.outcome import JobOutcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book
from shared.edits import move_window
from tests.books.offered import with_offers
from tests.books.sized import Size, sized_book

MET = (Verdict.FITS, Verdict.TIGHT)
SHARE_FIRST, SHARE_LAST = 3, 7
"""The job is one of those whose windows lie from so many tenths of all to so many."""


def ask(stages: int, seed: int, days: int, seconds: float) -> dict[str, object] | None:
    """Ask about one job that misses by some days; None where it finds room all the same."""
    book = _answered(with_offers(sized_book(Size(stages=stages, seed=seed)), seed))
    assert book.as_of is not None
    looked = solve(SolveRequest(book=book, now=book.as_of, seconds=4))
    job = _chosen(looked.jobs, seed)
    book = _sooner(book, job, days)
    began, used = perf_counter(), process_time()
    firsts: list[tuple[float, float, WayOut]] = []
    found = ways_out(
        SolveRequest(book=book, now=looked.now, seconds=seconds),
        job.id,
        on_way=lambda way: firsts.append((perf_counter() - began, process_time() - used, way)),
    )
    spent = (perf_counter() - began, process_time() - used)
    return None if found.is_kept else _told(found, firsts, spent, seed)


def _answered(book: Book) -> Book:
    """Let every client answer within two days, so that only hours and hands are left to help."""
    jobs = (replace(job, client=replace(job.client, answer_days=2)) for job in book.jobs)
    return replace(book, jobs=tuple(jobs))


def _chosen(jobs: tuple[JobOutcome, ...], seed: int) -> JobOutcome:
    kept = sorted((job for job in jobs if job.verdict in MET), key=_window)
    first, last = (len(kept) * share // 10 for share in (SHARE_FIRST, SHARE_LAST))
    return kept[first + seed % max(1, last - first)]


def _window(job: JobOutcome) -> str:
    return str(job.latest_loading)


def _sooner(book: Book, told: JobOutcome, days: int) -> Book:
    """Move a job's window sooner by what it has to spare and so many days."""
    job = next(each for each in book.jobs if each.id == told.id)
    held = job.held_window
    assert held is not None
    assert told.latest_loading is not None
    assert told.loading_end is not None
    by = told.latest_loading - told.loading_end + timedelta(days=days)
    by = timedelta(days=max(1, by.days))
    return replace(
        move_window(book, job.id, held.start - by, held.end - by).book, revision=book.revision
    )


def _told(
    found: WaysOut,
    firsts: list[tuple[float, float, WayOut]],
    spent: tuple[float, float],
    seed: int,
) -> dict[str, object]:
    first = firsts[0] if firsts else None
    return {
        "seed": seed,
        "job": found.job,
        "verdict": found.told.verdict.value,
        "late_days": round(found.told.missed_by_working_minutes / 480, 2),
        "levers": len(found.levers),
        "trials": found.trials,
        "first_seconds": None if first is None else round(first[0], 1),
        "first_cpu": None if first is None else round(first[1], 1),
        "first_price": None if first is None else float(first[2].price),
        "seconds": round(spent[0], 1),
        "cpu": round(spent[1], 1),
        "prices": [float(way.price) for way in found.ways],
        "changes": [[lever.id for lever in way.levers] for way in found.ways],
        "proved": bool(found.ways) and found.ways[0].proved_cheapest,
        "at_least": float(found.at_least),
        "stuck": found.stuck,
    }


def main(argv: list[str]) -> int:
    """Ask of so many seeds."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench levers", description=__doc__)
    parser.add_argument("--stages", type=int, default=600)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--days", type=int, default=25, help="so many days too soon")
    parser.add_argument("--seconds", type=float, default=30)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    rows = []
    for seed in range(asked.first, asked.first + asked.seeds):
        row = ask(asked.stages, seed, asked.days, asked.seconds)
        print(f"{seed}: {'the window is kept' if row is None else row}", flush=True)
        if row is not None:
            rows.append(row)
    if asked.json:
        print(json.dumps({"rows": rows}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

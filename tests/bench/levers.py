"""Ways out in a large book: ``python -m tests.bench levers [--stages N] [--seeds N] [--json]``.

Sized workshops in which hours and hands are offered. The windows are as they are drawn; the first
job that misses is asked about: when the first useful set is there, what it costs, and what is
proved of the cheapest.
"""

import argparse
import json
import sys
from time import perf_counter

from scheduler.kept import Kept
from scheduler.levers.search import WaysOut, ways_out
from scheduler.levers.values import WayOut
from scheduler.outcome import Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from tests.books.offered import with_offers
from tests.books.sized import Size, sized_book

MET = (Verdict.FITS, Verdict.TIGHT)


def ask(stages: int, seed: int, tight: int, seconds: float) -> dict[str, object] | None:
    """Ask about the first job that misses; None where none does."""
    book = with_offers(sized_book(Size(stages=stages, seed=seed, tight_percent=tight)), seed)
    assert book.as_of is not None
    request = SolveRequest(book=book, now=book.as_of, seconds=seconds)
    looked = solve(SolveRequest(book=book, now=book.as_of, seconds=4), kept=Kept())
    missed = [job for job in looked.jobs if job.verdict not in MET]
    if not missed:
        return None
    began = perf_counter()
    firsts: list[tuple[float, WayOut]] = []
    found = ways_out(
        request, missed[0].id, on_way=lambda way: firsts.append((perf_counter() - began, way))
    )
    return _told(found, firsts, perf_counter() - began, seed)


def _told(
    found: WaysOut, firsts: list[tuple[float, WayOut]], seconds: float, seed: int
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
        "first_price": None if first is None else float(first[1].price),
        "seconds": round(seconds, 1),
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
    parser.add_argument("--tight", type=int, default=0, help="windows so many per cent closer")
    parser.add_argument("--seconds", type=float, default=30)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    rows = []
    for seed in range(asked.first, asked.first + asked.seeds):
        row = ask(asked.stages, seed, asked.tight, asked.seconds)
        print(f"{seed}: {'all windows are kept' if row is None else row}", flush=True)
        if row is not None:
            rows.append(row)
    if asked.json:
        print(json.dumps({"rows": rows}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

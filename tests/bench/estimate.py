"""How long an estimate takes: ``python -m tests.bench estimate [--segments N]``.

Medians of several runs of every way of making with all its options; wanted are at most 50 ms each
for twelve segments. The first run, which reads the tables, stands apart.
"""

import argparse
import json
from dataclasses import replace
from decimal import Decimal
from statistics import median
from time import perf_counter

from shared.book import Workshop
from shared.estimate import estimate_of_segments
from shared.ids import SegmentId
from shared.routes import PROGRAM_ROUTES, program_route
from tests.builders import a_segment, a_workshop

RUNS = 9
MILLISECONDS_AT_MOST = 50


def milliseconds_of(route_id: str, count: int, workshop: Workshop) -> float:
    route = program_route(route_id)
    assert route is not None
    piece = replace(a_segment(), height_m=Decimal("1.3"))
    pieces = [replace(piece, id=SegmentId(f"piece-{number}")) for number in range(count)]
    begun = perf_counter()
    found = estimate_of_segments(workshop, route, pieces, route.options)
    took = perf_counter() - begun
    assert found.lines
    assert found.quantities
    return took * 1000


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench estimate", description=__doc__)
    parser.add_argument("--segments", type=int, default=12)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    workshop = a_workshop()
    first = milliseconds_of(PROGRAM_ROUTES[0], asked.segments, workshop)
    times = {
        route: round(
            median(milliseconds_of(route, asked.segments, workshop) for _ in range(RUNS)), 1
        )
        for route in PROGRAM_ROUTES
    }
    print(f"{asked.segments} segments; the first estimate, with the tables: {first:.1f} ms")
    for route, took in times.items():
        print(f"{route:12} {took:6.1f} ms")
    if asked.json:
        print(json.dumps({"first_ms": round(first, 1), "ms": times}))
    return 0 if max(times.values()) <= MILLISECONDS_AT_MOST else 1

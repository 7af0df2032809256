"""Verdicts of tiny books held against every plan: ``python -m tests.bench verdicts [--count N]``.

A false `cannot`, a false `fits`, a bound above the truth or a certificate that says too much is
printed with its seed.
"""

import argparse
import json
import sys
from collections import Counter
from time import perf_counter

from tests.scheduler.test_verdicts_tried import hold


def main(argv: list[str]) -> int:
    """Hold so many books against trying everything."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench verdicts", description=__doc__)
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--first", type=int, default=1000)
    said = parser.parse_args(argv)
    counts: Counter[str] = Counter()
    false: list[int] = []
    started = perf_counter()
    for seed in range(said.first, said.first + said.count):
        try:
            counts.update(verdict.value for verdict in hold(seed))
        except AssertionError:
            false.append(seed)
            print(f"seed {seed}: a verdict is false")
    told = {
        "books": said.count,
        "verdicts": dict(counts),
        "false": false,
        "seconds": round(perf_counter() - started, 1),
    }
    print(json.dumps(told))
    return 1 if false else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

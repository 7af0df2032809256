"""How long the quick commands take beside Python itself: ``python -m tests.bench startup``.

Medians of nine runs each; wanted are at most twelve times `python -c pass`.
"""

import argparse
import json
import subprocess
import sys
from statistics import median
from time import perf_counter

from tests.house.tree import ROOT

RUNS = 9
COMMANDS = {
    "help": ("-m", "app", "--help"),
    "findings small": ("-m", "app", "findings", "sample_jobs/small.countback"),
    "findings full": ("-m", "app", "findings", "sample_jobs/full.countback"),
}
TIMES_AT_MOST = 12


def seconds_of(arguments: tuple[str, ...]) -> float:
    begun = perf_counter()
    subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, check=True)
    return perf_counter() - begun


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench startup", description=__doc__)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    bare = median(seconds_of(("-c", "pass")) for _ in range(RUNS))
    times = {
        name: round(median(seconds_of(command) for _ in range(RUNS)) / bare, 1)
        for name, command in COMMANDS.items()
    }
    print(f"python -c pass: {bare * 1000:.0f} ms")
    for name, ratio in times.items():
        print(f"{name:16} {ratio:5.1f} times that")
    if asked.json:
        print(json.dumps({"bare_seconds": round(bare, 4), "times": times}))
    return 0 if max(times.values()) <= TIMES_AT_MOST else 1

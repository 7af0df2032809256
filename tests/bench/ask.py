"""How soon a first answer is there: ``python -m tests.bench ask``.

Four blanks on an empty machine, from the command to its last line, after one run to warm up; the
median of several runs is wanted within 2 s.
"""

import argparse
import json
import subprocess
import sys
from statistics import median
from time import perf_counter

from tests.house.tree import ROOT

RUNS = 5
SECONDS_AT_MOST = 2
ASKS = {
    "lily pad": ("2.4x2.1x2.6", "2027-04-30"),
    "lighthouse": ("3x3x9", "2027-09-30"),
    "bench": ("2x0.6x0.9", "2027-02-26"),
}


def seconds_of(what: str, size: str, by: str) -> float:
    words = ("ask", what, "--size", size, "--by", by, "--country", "NO")
    command = (sys.executable, "-m", "app", *words, "--now", "2026-11-25T09:00")
    begun = perf_counter()
    done = subprocess.run(command, cwd=ROOT, capture_output=True, check=False)
    took = perf_counter() - begun
    assert done.returncode in (0, 3), done.stderr.decode()
    return took


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench ask", description=__doc__)
    parser.add_argument("--runs", type=int, default=RUNS)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    seconds_of("warm-up", *ASKS["bench"])
    times = {
        what: round(median(seconds_of(what, *blanks) for _ in range(asked.runs)), 2)
        for what, blanks in ASKS.items()
    }
    for what, took in times.items():
        print(f"{what:12} {took:5.2f} s")
    if asked.json:
        print(json.dumps({"seconds": times}))
    return 0 if max(times.values()) <= SECONDS_AT_MOST else 1

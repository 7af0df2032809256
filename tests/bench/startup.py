"""How quickly help and findings answer, against a Python that does nothing.

``python -c pass`` is the yardstick, so the ratio says more than the milliseconds. The commands
take turns, so that other work on the machine slows all of them alike.
"""

import argparse
import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).resolve().parents[2]
BOOK = ROOT / "sample_jobs" / "small.countback"
RATIO_MAX = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """One command's median time and how many times the yardstick it takes."""

    name: str
    milliseconds: float
    ratio: float
    exit_code: int


def _once(arguments: tuple[str, ...]) -> tuple[float, int]:
    started = perf_counter()
    result = subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, capture_output=True, check=False
    )
    return perf_counter() - started, result.returncode


def measure(commands: dict[str, tuple[str, ...]], run_count: int) -> list[Timing]:
    """Median of run_count runs of each command; the first command is the yardstick."""
    seconds: dict[str, list[float]] = {name: [] for name in commands}
    codes: dict[str, int] = {}
    for _ in range(run_count):
        for name, arguments in commands.items():
            taken, codes[name] = _once(arguments)
            seconds[name].append(taken)
    medians = {name: median(taken) for name, taken in seconds.items()}
    yardstick = next(iter(medians.values()))
    return [
        Timing(
            name=name,
            milliseconds=round(taken * 1000, 1),
            ratio=round(taken / yardstick, 2),
            exit_code=codes[name],
        )
        for name, taken in medians.items()
    ]


def _printed(timings: list[Timing]) -> None:
    for timing in timings:
        print(
            f"{timing.name:<9} {timing.milliseconds:7.1f} ms  {timing.ratio:5.1f} times"
            f"  exit {timing.exit_code}"
        )


def main(argv: list[str]) -> int:
    """Print the timings; 1 if a command failed or is slower than the goal."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench startup", description=__doc__)
    parser.add_argument("--book", type=Path, default=BOOK)
    parser.add_argument("--runs", type=int, default=9)
    parser.add_argument("--json", action="store_true")
    chosen = parser.parse_args(argv)
    timings = measure(
        {
            "pass": ("-c", "pass"),
            "help": ("-m", "app", "--help"),
            "findings": ("-m", "app", "findings", str(chosen.book.resolve())),
        },
        chosen.runs,
    )
    _printed(timings)
    failed = [timing.name for timing in timings if timing.exit_code != 0]
    slow = [timing.name for timing in timings if timing.ratio > RATIO_MAX]
    kept = not failed and not slow
    print(f"goal: at most {RATIO_MAX:.0f} times; {'kept' if kept else 'not kept'}")
    print(f"too slow: {', '.join(slow) or 'none'}; failed: {', '.join(failed) or 'none'}")
    if chosen.json:
        of = {timing.name: timing for timing in timings}
        print(
            json.dumps(
                {
                    "bench": "startup",
                    "runs": chosen.runs,
                    "kept": kept,
                    "ratio_max": RATIO_MAX,
                    "pass_ms": of["pass"].milliseconds,
                    "help_ms": of["help"].milliseconds,
                    "help_ratio": of["help"].ratio,
                    "findings_ms": of["findings"].milliseconds,
                    "findings_ratio": of["findings"].ratio,
                }
            )
        )
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

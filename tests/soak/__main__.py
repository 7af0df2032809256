"""``python -m tests.soak NAME`` runs tests/soak/NAME.py for long, bounded in rounds and time."""

import argparse
import json
import sys
import time
from importlib import import_module

from tests.soak.report import Report, Task

NAMES = ("kill", "hostile", "workshops", "solver", "day")
NOTHING_RUN = 3


def main(argv: list[str]) -> int:
    """Exit code: 0 if nothing failed, 1 if a round did, 3 if there was no time for any."""
    options = _parser().parse_args(argv)
    soak = import_module(f"tests.soak.{options.name}")
    task = Task(
        rounds=options.rounds or soak.ROUNDS,
        seed=options.seed,
        until=time.monotonic() + 60 * options.minutes,
        say=lambda line: print(line, file=sys.stderr, flush=True),
    )
    report: Report = soak.run(task)
    if options.json:
        print(json.dumps(report.to_json(options.name)))
    else:
        _print(report)
    if report.failed:
        return 1
    return 0 if report.rounds else NOTHING_RUN


def _print(report: Report) -> None:
    print(f"{report.rounds} rounds, {len(report.failed)} failed")
    for name, value in report.facts.items():
        print(f"{name}: {value}")
    for line in report.failed:
        print(line)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.soak")
    parser.add_argument("name", choices=NAMES)
    parser.add_argument("--rounds", type=_some, help="so many instead of the soak's own number")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=120, help="no round begins later")
    parser.add_argument("--json", action="store_true", help="one object on the last line")
    return parser


def _some(text: str) -> int:
    number = int(text)
    if number < 1:
        raise argparse.ArgumentTypeError("at least one round")
    return number


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

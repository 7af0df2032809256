"""Write a made-up book: `python -m tests.books SHAPE --seed N OUT`.

`sample --name NAME OUT` writes a sample book again, `routes FOLDER` the ways of making, `legs
FOLDER` the ready-made legs.

OUT is the book; OUT.planted.json says what is known of it; a planted plan lies in OUT.plan, the
same book without a planted clash in OUT.twin.
"""

import argparse
import json
import sys
from pathlib import Path

from shared.files.write import write_book, write_plan
from tests.books.clashes import CLASHES
from tests.books.legs import write_legs
from tests.books.making_more import write_routes
from tests.books.samples import SAMPLES
from tests.books.shapes import SHAPES, Planted


def _write(shape: str, seed: int, planted: Planted, out: Path) -> None:
    out.write_bytes(write_book(planted.book))
    plan_path = Path(f"{out}.plan")
    if planted.plan is not None:
        plan_path.write_bytes(write_plan(planted.plan))
    twin_path = Path(f"{out}.twin")
    if planted.twin is not None:
        twin_path.write_bytes(write_book(planted.twin))
    told: dict[str, object] = {
        "shape": shape,
        "seed": seed,
        "now": planted.now.isoformat(),
        "verdicts": planted.verdicts,
        "plan": None if planted.plan is None else str(plan_path),
        "cause": planted.cause,
        "undo": planted.undo,
    }
    if planted.twin is not None:
        told |= {"job": planted.job, "also": planted.also, "twin": str(twin_path)}
    Path(f"{out}.planted.json").write_text(json.dumps(told, indent=2) + "\n", encoding="utf-8")


def main(argv: list[str]) -> int:
    """Write one book and what was planted in it."""
    parser = argparse.ArgumentParser(prog="python -m tests.books")
    shapes = {**SHAPES, **CLASHES}
    parser.add_argument("shape", choices=[*shapes, "sample", "routes", "legs"])
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--name", choices=list(SAMPLES), help="which sample, with shape `sample`")
    parser.add_argument("out", type=Path)
    said = parser.parse_args(argv)
    if said.shape == "sample":
        said.out.write_bytes(write_book(SAMPLES[said.name]()))
        return 0
    if said.shape in ("routes", "legs"):
        (write_routes if said.shape == "routes" else write_legs)(said.out)
        return 0
    _write(said.shape, said.seed, shapes[said.shape](said.seed), said.out)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

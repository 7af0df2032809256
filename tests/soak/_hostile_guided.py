"""Hostile files looked for by the lines that they reach: atheris, with ways that know the grammar.

    python -m tests.soak._hostile_guided KIND SECONDS FOLDER

FOLDER then holds what reached something new; what failed lies in it as crash-* or timeout-*. What
is worth keeping is copied into tests/soak/corpus as KIND-NAME, and taken first in every soak.
Needs the extra `soak`; `python -m tests.soak hostile` doesn't.
"""

import sys
import tempfile
from pathlib import Path
from random import Random

import atheris

LARGEST = 16 * 1024
_READERS = ["shared.files", "shared.examine", "app.exchange.bring"]
_KEPT = 0.3


def main(kind: str, seconds: int, folder: Path) -> None:
    """Look for so long; ends with an exit code other than 0 where something failed."""
    with atheris.instrument_imports(include=_READERS):
        from tests.soak._hostile_judge import judge
    from tests.soak._hostile_files import WAYS
    from tests.soak._hostile_samples import samples
    from tests.soak._hostile_ways import ANY

    folder.mkdir(exist_ok=True)
    smallest = sorted(samples(kind), key=len)[:6]
    for at, data in enumerate(smallest):
        (folder / f"good{at}").write_bytes(data[:LARGEST])
    scratch = Path(tempfile.mkdtemp(prefix="countback-guided-"))

    def one(data: bytes) -> None:
        judge(kind, data, scratch, len(data))

    def mutated(data: bytes, most: int, seed: int) -> bytes:
        rng = Random(seed)
        if rng.random() < _KEPT:
            return bytes(atheris.Mutate(data, most))
        try:
            return rng.choice((*ANY, *WAYS[kind]))(data, rng)[:most]
        except (ValueError, LookupError):
            # What is spoiled already may be no JSON any more, nor any table.
            return rng.choice(ANY)(data, rng)[:most]

    asked = [f"-max_total_time={seconds}", f"-max_len={LARGEST}", "-timeout=20"]
    asked += ["-rss_limit_mb=2048", f"-artifact_prefix={folder}/", "-print_final_stats=1"]
    atheris.Setup([sys.argv[0], *asked, str(folder)], one, custom_mutator=mutated)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), Path(sys.argv[3]))

"""The one entry point: `countback` and `python -m app`."""

import gc
import sys

NEW_BEFORE_A_SWEEP, SWEEPS_OF_OLDER = 50_000, (20, 50)
"""Books are trees without rings: sweeping for rings while they are built only costs time."""


def main() -> int:
    gc.set_threshold(NEW_BEFORE_A_SWEEP, *SWEEPS_OF_OLDER)
    from app.cli.run import main as run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())

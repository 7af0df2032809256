"""The one entry point: `countback` and `python -m app`."""

import sys


def main() -> int:
    from app.cli.run import main as run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())

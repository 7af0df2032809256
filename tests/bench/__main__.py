"""``python -m tests.bench NAME ...`` runs the bench of that name, tests/bench/NAME.py."""

import sys
from importlib import import_module
from pathlib import Path


def names() -> list[str]:
    here = Path(__file__).parent
    packages = (path.parent for path in here.glob("[a-z]*/__init__.py"))
    return sorted(path.stem for path in (*here.glob("[a-z]*.py"), *packages))


def main(argv: list[str]) -> int:
    if not argv or argv[0] not in names():
        print(f"usage: python -m tests.bench {{{','.join(names())}}} ...", file=sys.stderr)
        return 2
    code: int = import_module(f"tests.bench.{argv[0]}").main(argv[1:])
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

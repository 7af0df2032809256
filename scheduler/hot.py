"""The hot files of the engine, and where they lie compiled, if they do.

Compiled they take the place of the plain ones and answer the same to the step. Their folder is
named by a digest of the sources, so that a changed source is never answered by old code.
"""

import os
import sys
from importlib.machinery import EXTENSION_SUFFIXES
from importlib.util import source_hash
from pathlib import Path

MODULES = (
    *("aims", "board", "busy", "calendar", "chain", "choices", "circles", "company"),
    *("countback", "daily", "demands", "forms", "hours", "justify", "lags", "later", "laws"),
    *("leaving", "mirror", "net", "pairs", "passes", "place", "problem", "quick", "reach", "ready"),
    *("search", "sorted_ints", "spans", "spots", "stands", "tables", "teams"),
    *("terms", "trips", "urgency"),
)
BESIDE = ("recall",)
"""What they read and what stays plain: a ring of imports that the compiler does not see through."""
TYPED = {"sorted_ints": "typed_ints"}
"""What the compiler reads in the place of a module."""
_READ = (*MODULES, *BESIDE, *TYPED.values())
"""They read no other module of the engine: what is compiled hangs on these sources alone."""
PREFIX = "hot-"


def folder(package: Path) -> Path | None:
    """Return where the hot files of a package folder lie compiled; None where they do not.

    None too with COUNTBACK_PURE=1 in the environment. A built program has no sources beside it to
    hold them against, and only those folders that were put there with it.
    """
    if os.environ.get("COUNTBACK_PURE") == "1":
        return None
    build = build_folder(package)
    kept = next(build.glob(f"{PREFIX}*"), None)
    if kept is None or getattr(sys, "frozen", False):
        return kept
    found = build / (PREFIX + digest(package))
    return found if found.is_dir() else None


def build_folder(package: Path) -> Path:
    """Return the folder beside a package in which those compiled lie."""
    return package.parent / "build"


def digest(package: Path) -> str:
    """Return the digest of the hot files in a package folder, for this interpreter."""
    sources = [(package / f"{module}.py").read_bytes() for module in _READ]
    return source_hash(b"\0".join((EXTENSION_SUFFIXES[0].encode(), *sources))).hex()

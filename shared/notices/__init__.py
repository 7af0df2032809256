"""Notices and papers of a delivery by their latest date, and what is arranged with others.

Derived from the book and the trips of a plan; no clock, no sentences. What has no source is
common practice, an editable default (figures CP650 to CP663).
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shared.notices.arrangements import Wanted, wanted
    from shared.notices.calling import Call, Calling, calls
    from shared.notices.listed import dues, notice_of
    from shared.notices.quiet import is_quiet
    from shared.notices.values import Due, Paper

_NAMES = {
    "shared.notices.arrangements": ("Wanted", "wanted"),
    "shared.notices.calling": ("Call", "Calling", "calls"),
    "shared.notices.listed": ("dues", "notice_of"),
    "shared.notices.quiet": ("is_quiet",),
    "shared.notices.values": ("Due", "Paper"),
}
_HOMES = {name: module for module, names in _NAMES.items() for name in names}

__all__ = [
    "Call",
    "Calling",
    "Due",
    "Paper",
    "Wanted",
    "calls",
    "dues",
    "is_quiet",
    "notice_of",
    "wanted",
]


def __getattr__(name: str) -> object:
    """Give a name from the module that has it; a job that is quiet pays for nothing else."""
    if name not in _HOMES:
        raise AttributeError(name)
    return getattr(import_module(_HOMES[name]), name)

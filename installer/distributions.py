"""Which installed distributions people get: what Countback asks for, and what those ask for."""

import re
from functools import cache
from importlib.metadata import Distribution, distribution


def plain(name: str) -> str:
    """Give a distribution's name as names are compared."""
    return re.sub(r"[-_.]+", "-", name).lower()


@cache
def shipped_distributions() -> tuple[Distribution, ...]:
    """Give Countback and all it needs at run time, by name.

    Raises
    ------
    importlib.metadata.PackageNotFoundError
        If one of them is not installed here.
    """
    from packaging.requirements import Requirement

    found: dict[str, Distribution] = {}
    ahead = ["countback"]
    while ahead:
        name = plain(ahead.pop())
        if name in found:
            continue
        found[name] = distribution(name)
        asked = (Requirement(each) for each in found[name].requires or ())
        ahead += [
            each.name
            for each in asked
            if each.marker is None or each.marker.evaluate({"extra": ""})
        ]
    return tuple(found[name] for name in sorted(found))

"""The known name that somebody most likely meant."""

from collections.abc import Collection

_LONGEST_COMPARED = 60
_MOST_COMPARED = 1000
_NEAR_ENOUGH = 0.6


def nearest(name: str, known: Collection[str]) -> str | None:
    """Give the known name most like the one that was written; None if none is like it."""
    if len(name) > _LONGEST_COMPARED:
        return None
    from difflib import get_close_matches

    short = [k for k in sorted(known) if len(k) <= _LONGEST_COMPARED][:_MOST_COMPARED]
    lower = {k.casefold(): k for k in reversed(short)}
    found = get_close_matches(name.casefold(), lower, n=1, cutoff=_NEAR_ENOUGH)
    return lower[found[0]] if found else None

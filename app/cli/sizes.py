"""Lengths and sizes that a command names, refused with their place in what was typed."""

from decimal import Decimal

from app.cli.arguments import Usage
from shared.sizes import BadSize, length_of, size_of


def length_typed(text: str) -> Decimal:
    """Give a length in metres; raises Usage."""
    try:
        return length_of(text)
    except BadSize as bad:
        raise _refused(bad, text) from None


def size_typed(text: str) -> tuple[Decimal, Decimal, Decimal]:
    """Give length, width and height in metres; raises Usage."""
    try:
        return size_of(text)
    except BadSize as bad:
        raise _refused(bad, text) from None


def _refused(bad: BadSize, text: str) -> Usage:
    return Usage(bad.code, word=bad.word, at=bad.at, typed=text)

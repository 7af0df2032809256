"""Marks of texts for people: what a translator sees, and how a count or a context chooses."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Phrase:
    """A text with its plural, chosen by the fact named `by`, or with a context of its own."""

    text: str
    many: str = ""
    by: str = ""
    context: str = ""


Template = str | Phrase
"""A whole sentence with the facts it needs in braces."""


def counted(by: str, one: str, many: str, context: str = "") -> Phrase:
    """Make a sentence whose form depends on the count in the fact named `by`."""
    return Phrase(one, many, by, context)


def within(context: str, text: str) -> Phrase:
    """Make a text that may be another one elsewhere in other languages."""
    return Phrase(text, context=context)

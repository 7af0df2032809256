"""Pencilled jobs of which only one can be taken, in words."""

from typing import TYPE_CHECKING

from app.words.template import Template

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.rivals import Rivals

PAIR: Template = (
    "{job} and {other} are both pencilled, and no plan was found that keeps both windows; without "
    "{other}, {job} keeps its own."
)


def rivals_line(words: "Words", found: "Rivals") -> str:
    """Give which two can't both be taken, as far as was found."""
    job, other = (words.names.of("job", each) for each in (found.job, found.other))
    return words.say(PAIR, job=job, other=other)

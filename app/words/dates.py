"""The days of a job from its enquiry to its invoices, in words."""

from typing import TYPE_CHECKING

from app.words.template import Template, counted
from app.words.voice import capital
from shared.dates import DateKind

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from app.words import Words
    from shared.dates import JobDate

TOLD_COUNT = 5

TITLE: Template = "Next dates"
LINE: Template = "{day}  {job}: {what}"
MORE = counted("count", "One more with --json.", "{number} more with --json.")
SENTENCES: dict[DateKind, Template] = {
    DateKind.SURVEY: "survey on site.",
    DateKind.CONCEPT: "the concept is due.",
    DateKind.QUOTE: "the quote is good until then.",
    DateKind.PENCILLED: "pencilled until then.",
    DateKind.DEPOSIT: "the deposit is due; nothing is ordered before it is paid.",
    DateKind.INVOICE_YES: "invoice at the yes, as planned.",
    DateKind.INVOICE_HAND_OVER: "invoice at the hand-over, as planned.",
}
DEPOSIT_OVER: Template = "the deposit was due and is not paid; nothing is ordered before."


def date_line(words: "Words", found: "JobDate", today: "date") -> str:
    """Give a day and what is due on it."""
    is_late = found.is_over and found.kind is DateKind.DEPOSIT
    return words.say(
        LINE,
        day=words.day(found.day, after=today),
        job=words.names.of("job", found.job),
        what=words.say(DEPOSIT_OVER if is_late else SENTENCES[found.kind]),
    )


def date_lines(words: "Words", found: "Sequence[JobDate]", today: "date") -> list[str]:
    """Give the first few, and how many more there are."""
    told = [date_line(words, each, today) for each in found[:TOLD_COUNT]]
    more = len(found) - TOLD_COUNT
    if more > 0:
        told.append(capital(words.say(MORE, count=more, number=words.number_word(more))))
    return told

"""A plan on its way out: it has passed the check, and says so where it is old. No Qt."""

from dataclasses import dataclass, field
from datetime import datetime

from app.window.sheets.standing import Mark, mark_line, standing
from app.words import Words, shell
from app.words import give as say
from app.words import sheets as on_sheets
from app.words import window as wording
from scheduler.check import check
from scheduler.outcome import Breach, Outcome
from scheduler.rules import Rule
from shared.book import Book
from shared.files.write import digest
from shared.plan import Plan


class NotSound(Exception):  # noqa: N818 - it says what happened
    """A plan breaks rules of its book, so nothing of it is given out."""

    def __init__(self, breaches: tuple[Breach, ...]) -> None:
        super().__init__(breaches)
        self.breaches = breaches


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A checked plan of a book, and what must be said along with it.

    now: as of which it is given out. marks: sentences for what must not be missed. is_old: another
    plan is called for. is_told: people have been told just this one. made: when and from which
    revision it was made, as a sentence. outcome: the engine's answer that the plan is of, None
    for one that was kept.
    """

    book: Book
    plan: Plan
    now: datetime
    words: Words = field(compare=False)
    marks: tuple[str, ...]
    is_old: bool
    is_told: bool
    made: str
    outcome: Outcome | None = None


def given(book: Book, plan: Plan, now: datetime, words: Words) -> Given:
    """Check a plan against its book, and give it with its marks.

    That it tells otherwise for today and tomorrow than people have it is no reason against it.

    Raises
    ------
    NotSound
        If it breaks a rule.
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    """
    found = check(book, plan)
    broken = tuple(each for each in found.breaches if each.rule != Rule.TOLD.value)
    if broken:
        raise NotSound(broken)
    is_told = book.told is not None and book.told.plan == plan
    stands = standing(book, plan, None, now, is_same=is_told)
    wanted = [mark for mark in stands.marks if mark is not Mark.NOT_CHECKED]
    marks = [mark_line(words, mark, stands, book, plan) for mark in wanted]
    is_otherwise = Mark.OLD_BOOK not in wanted and _reads_otherwise(book, plan)
    if is_otherwise:
        marks.insert(0, words.say(say.OLD_SAME))
    if found.not_judged:
        marks.append(words.say(shell.NOT_JUDGED, list=words.rule_names(found.not_judged)))
    return Given(
        book=book,
        plan=plan,
        now=now,
        words=words,
        marks=tuple(marks),
        is_old=stands.is_old or is_otherwise,
        is_told=is_told,
        made=words.say(
            on_sheets.FOOT,
            moment=wording.short_moment(words, plan.now),
            revision=plan.made_from.revision,
        ),
    )


def _reads_otherwise(book: Book, plan: Plan) -> bool:
    """Return whether the book differs from that of the plan though its revision doesn't."""
    made = plan.made_from
    return made.revision == book.revision and made.digest != digest(book)

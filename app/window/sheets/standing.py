"""Whether a plan may go out on paper as it is, and which number its sheet has. No Qt."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from app.words import Words
from app.words import sheets as say
from app.words import window as wording
from scheduler.outcome import Outcome
from shared.book import Book, Told
from shared.plan import Plan
from shared.worktime.zones import local_date


class Mark(StrEnum):
    """What is not as it should be of a plan that is to be given out."""

    OLD_BOOK = "old_book"
    OLD_DAY = "old_day"
    FAULTY = "faulty"
    NOT_CHECKED = "not_checked"
    NOT_TOLD = "not_told"


OLD = frozenset({Mark.OLD_BOOK, Mark.OLD_DAY, Mark.FAULTY})


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How a plan stands to its book, to the day and to what people were told.

    number: of the sheet that it makes. before: the sheet that it takes the place of, None for the
    first one. against: the told plan that what is changed is marked against.
    """

    marks: tuple[Mark, ...]
    number: int
    before: int | None
    against: Told | None

    @property
    def is_old(self) -> bool:
        """Return whether another plan is already called for."""
        return not OLD.isdisjoint(self.marks)

    @property
    def is_told(self) -> bool:
        """Return whether people have been given just this."""
        return Mark.NOT_TOLD not in self.marks

    @property
    def may_be_told(self) -> bool:
        """Return whether it can be made what people are told."""
        return not self.is_old and Mark.NOT_CHECKED not in self.marks


def standing(
    book: Book,
    plan: Plan,
    outcome: Outcome | None,
    now: datetime,
    *,
    is_same: bool,
    former: Told | None = None,
) -> Standing:
    """Return how a plan stands.

    outcome: the engine's last answer, of whichever plan. is_same: people have these very rows.
    former: what was told before the present told plan, where that is known; what is changed is
    then marked against it.
    """
    told = book.told
    marks = []
    if not _is_of(book, plan):
        marks.append(Mark.OLD_BOOK)
    zone = book.workshop.zone
    if local_date(plan.now, zone) < local_date(now, zone):
        marks.append(Mark.OLD_DAY)
    if outcome is not None and outcome.check.breaches:
        marks.append(Mark.FAULTY)
    elif (outcome is None or outcome.plan != plan) and not _is_told_just_now(book, plan):
        marks.append(Mark.NOT_CHECKED)
    if not is_same:
        marks.append(Mark.NOT_TOLD)
    number = 1 if told is None else told.sheet_number + (0 if is_same else 1)
    return Standing(
        marks=tuple(marks),
        number=number,
        before=number - 1 if number > 1 else None,
        against=former if is_same and former is not None else told,
    )


def _is_of(book: Book, plan: Plan) -> bool:
    """Return whether a plan was made of this book, or is what was told of it in the last edit."""
    return plan.made_from.revision == book.revision or _is_told_just_now(book, plan)


def _is_told_just_now(book: Book, plan: Plan) -> bool:
    """Return whether nothing lies between a plan and the book but that people were told it."""
    made = plan.made_from.revision
    return book.told is not None and book.told.plan == plan and made + 1 == book.revision


def mark_line(words: Words, mark: Mark, stands: Standing, book: Book, plan: Plan) -> str:
    """Return what a sheet says of a mark."""
    if mark is Mark.OLD_BOOK:
        return words.say(say.OLD_BOOK, made=plan.made_from.revision, now=book.revision)
    if mark is Mark.OLD_DAY:
        day = wording.short_day(words, local_date(plan.now, words.zone))
        return words.say(say.OLD_DAY, day=day)
    if mark is Mark.FAULTY:
        return words.say(say.FAULTY)
    if mark is Mark.NOT_CHECKED:
        return words.say(say.NOT_CHECKED)
    if stands.before is None:
        return words.say(say.NOT_TOLD)
    return words.say(say.NOT_TOLD_AFTER, before=stands.before)

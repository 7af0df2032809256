"""What the view of an enquiry shows, from the engine's answer. No Qt.

The first look of the engine is enough for the dots; dates, money and words come with the whole.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from app.window.wall.items import Shape
from app.window.wall.parts import shapes_of
from app.words import Words
from app.words import enquiry_view as say
from app.words import window as of_window
from scheduler.enquiring import Taking
from scheduler.outcome import JobOutcome, Outcome, Verdict
from shared.book import Book, Fact, Job, Standing
from shared.ids import JobId, StepId
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from scheduler.rush.values import Late, Promise, Rush

_MET = (Verdict.FITS, Verdict.TIGHT)
_ELAPSED_DAY = 24 * 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What is known of an enquiry so far. rush: the whole answer, None at a first look."""

    job: JobId
    without: Outcome
    with_: Outcome
    rush: "Rush | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DotRow:
    """A job's days to spare, without and with the enquiry; below nothing is late.

    before, after: in days, None where nothing is known. said: beside the dots. note: below that.
    shapes: its piece.
    """

    job: JobId
    name: str
    day: str
    verdict: Verdict | None
    before: float | None
    after: float | None
    said: str
    note: str
    line: str
    is_enquiry: bool = False
    shapes: tuple[Shape, ...] = ()

    @property
    def is_late(self) -> bool:
        """Return whether it misses its window with the enquiry."""
        return self.verdict is not None and self.verdict not in _MET


@dataclass(frozen=True, slots=True, kw_only=True)
class DateColumn:
    """A date that was tried, and what it does to the job hit hardest.

    late, level, today: times in 100 it is late, above which it is harmed, late without; None
    where no other job keeps its window. squeezed: whom, in words.
    """

    at: int
    day: date
    label: str
    dated: str
    month: str
    taking: Taking
    late: int | None
    level: int | None
    today: int | None
    who: str
    squeezed: str
    line: str
    is_wished: bool
    is_honest: bool
    is_misses: bool

    @property
    def is_squeezing(self) -> bool:
        """Return whether some booked job is harmed."""
        return self.taking is Taking.AT_RISK


def enquiries(book: Book) -> tuple[Job, ...]:
    """Return what can be taken or let go: enquiries first, then what is pencilled."""
    order = (Standing.ENQUIRY, Standing.PENCILLED)
    return tuple(job for standing in order for job in book.jobs if job.standing is standing)


def dot_rows(book: Book, found: Found, words: Words) -> tuple[DotRow, ...]:
    """Return the jobs by their windows, the enquiry among them."""
    before = {told.id: told for told in found.without.jobs}
    lates = {} if found.rush is None else {each.job: each for each in found.rush.wished.lates}
    jobs = {job.id: job for job in book.jobs}
    enquiry = jobs[found.job].name
    facts: dict[StepId, list[Fact]] = {}
    for fact in book.facts:
        facts.setdefault(fact.step, []).append(fact)
    rows = []
    for told in found.with_.jobs:
        job = jobs.get(told.id)
        if job is None:
            continue
        was = None if told.id == found.job else before.get(told.id)
        row = _row(job, told, was, lates.get(told.id), enquiry, words)
        rows.append((_opens(job), replace(row, shapes=shapes_of(job, facts))))
    return tuple(row for _, row in sorted(rows, key=lambda pair: pair[0]))


def _opens(job: Job) -> tuple[datetime, str]:
    held = job.held_window
    assert held is not None, "what is planned holds a window"
    return held.start, job.id


def _row(
    job: Job,
    told: JobOutcome,
    was: JobOutcome | None,
    late: "Late | None",
    enquiry: str,
    words: Words,
) -> DotRow:
    is_enquiry = job.name == enquiry and was is None
    held = job.held_window
    assert held is not None
    day = of_window.short_day(words, local_date(held.start, job.site.zone))
    said = say.short_margin(words, told)
    if was is not None and say.short_margin(words, was) != said:
        said = words.say(say.FROM_TO, before=say.short_margin(words, was), after=said)
    note = words.say(say.THE_ENQUIRY) if is_enquiry else ""
    if late is not None and say.is_changed(late):
        note = words.say(say.LATE_TODAY, late=late.late, before=late.before)
    return DotRow(
        job=job.id,
        name=job.name,
        day=words.say(say.WINDOW_OF, day=day),
        verdict=told.verdict,
        before=None if was is None else spare_days(was, words.day_minutes),
        after=spare_days(told, words.day_minutes),
        said=said,
        note=note,
        line=say.row_line(words, told, was, late, enquiry=enquiry, day=day),
        is_enquiry=is_enquiry,
    )


def spare_days(told: JobOutcome, day_minutes: int) -> float | None:
    """Return what a job has to spare in working days; below nothing it is late."""
    if told.verdict in _MET:
        return (told.slack_minutes or 0) / day_minutes
    if not told.missed_by_minutes:
        return None
    return -(told.missed_by_working_minutes / day_minutes or told.missed_by_minutes / _ELAPSED_DAY)


def span_of(rows: Sequence[DotRow]) -> tuple[int, int]:
    """Return the days that the dots' axis runs from and to, with nothing in between."""
    known = [each for row in rows for each in (row.before, row.after) if each is not None]
    most, least = max(known, default=0.0), min(known, default=0.0)
    return min(0, -_even(-least)), max(4, _even(most))


def _even(days: float) -> int:
    """Return the next even number of days."""
    return max(0, -(-int(days * 100) // 200) * 2)


def hardest(promise: "Promise") -> "Late | None":
    """Return the job that a date hits hardest: the farthest above its level, or the nearest."""
    return max(
        promise.lates, key=lambda each: (each.late - each.level, each.late, each.job), default=None
    )


def shown_of(found: "Rush") -> tuple["Late | None", ...]:
    """Return for each date the job that stands for it.

    It is the one hit hardest where one is harmed; elsewhere the same job on all dates, so that
    steps between them mean something.
    """
    hit = [hardest(promise) for promise in found.promises]
    known = [each for each in hit if each is not None]
    nearest = max(known, key=lambda each: each.late - each.level, default=None)
    shown = []
    for promise, each in zip(found.promises, hit, strict=True):
        if each is not None and nearest is not None and each.late <= each.level:
            each = next((own for own in promise.lates if own.job == nearest.job), each)
        shown.append(each)
    return tuple(shown)


def date_columns(found: "Rush", words: Words) -> tuple[DateColumn, ...]:
    """Return the dates that were tried, by the site's calendar."""
    today = local_date(found.with_.outcome.now, words.zone)
    pairs = zip(found.promises, shown_of(found), strict=True)
    return tuple(
        _column(at, found, promise, hit, words, today) for at, (promise, hit) in enumerate(pairs)
    )


def _column(
    at: int, found: "Rush", promise: "Promise", hit: "Late | None", words: Words, today: date
) -> DateColumn:
    day = local_date(promise.window.start, found.job.site.zone)
    _, dated = of_window.short_day(words, day).split(" ", 1)
    return DateColumn(
        at=at,
        day=day,
        label=str(day.day),
        dated=dated,
        month=dated.split()[-1],
        taking=promise.taking,
        late=None if hit is None else hit.late,
        level=None if hit is None else hit.level,
        today=None if hit is None else hit.before,
        who="" if hit is None else hit.name,
        squeezed=say.squeezed_by(words, promise),
        line=say.date_line(words, found, promise, hit, today),
        is_wished=promise is found.wished,
        is_honest=promise is found.honest,
        is_misses=promise.taking is Taking.NOT,
    )


def first_choice(found: "Rush") -> int:
    """Return which of the dates is looked at first: the honest one, else the one asked for."""
    wanted = found.honest or found.wished
    return found.promises.index(wanted)


def promised(found: "Rush", at: int) -> "Promise | None":
    """Return the date that the words for the client promise: the one looked at if it holds."""
    looked_at = found.promises[at]
    return looked_at if looked_at.is_honest else found.honest

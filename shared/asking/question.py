"""A question in four blanks, and the book with the job that it asks for."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal

from shared.asking.assumed import Assumed, assumed_materials, assumed_supplier, clock
from shared.asking.changes import with_changes
from shared.asking.countries import Country
from shared.book import (
    Book,
    Client,
    Job,
    Journey,
    Route,
    Segment,
    Site,
    Standing,
    Window,
)
from shared.edits import add_job, change_job, take_route
from shared.edits.edited import fresh_id
from shared.estimate.likened import likened
from shared.estimate.pieces import cut_into
from shared.ids import JobId, SegmentId, WindowId
from shared.passing.boxes import margins_of, piece_of
from shared.passing.passages import course_of
from shared.passing.split import Counts, Proposal, Whole, in_parts, propose
from shared.routes import USUAL_NAMES, Names, bound
from shared.trade import figure
from shared.trade.own import looked_up
from shared.worktime import Shift, local_instant

_EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
_WORD_LENGTH = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked: a piece by its size, by when, for whom; how it is to be made.

    whole: the piece, not cut yet. by: the last day on which it may be put up. past, times: like
    that job of the book, its lengths so many times those. count: cut into so many equal segments.
    """

    what: str
    whole: Segment
    by: date
    country: Country
    route: Route
    options: tuple[str, ...] = ()
    past: Job | None = None
    times: Decimal | None = None
    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """The book with the job that was asked for.

    proposal: how it is cut to pass on its way, None where somebody said how or nothing passes.
    left: stages of the past job that the new one has no like of. materials_assumed: the book
    had no material, so the usual ones and their supplier were added.
    """

    book: Book
    job: Job
    proposal: Proposal | None
    left: tuple[str, ...] = ()
    materials_assumed: bool = False


def asked_book(
    book: Book,
    question: Question,
    assumed: Assumed,
    now: datetime,
    *,
    names: Names = USUAL_NAMES,
    standing: Standing = Standing.ENQUIRY,
) -> Answered:
    """Return a book with the job that is asked for in it."""
    bare = not book.materials
    if bare:
        book = _with_materials(book)
    job = _job(book, question, assumed, now, standing)
    segments, proposal = _segments(book, question, job, names)
    route, options = question.route, question.options
    left: tuple[str, ...] = ()
    if question.past is not None and question.times is not None:
        like = likened(
            book,
            question.past,
            question.times,
            segments,
            route=question.route,
            options=options or None,
        )
        route, options, left = like.route, like.options, like.left
    made = add_job(book, replace(job, segments=segments)).book
    ids = [segment.id for segment in segments]
    made = take_route(made, job.id, ids, route, options=options, names=names).book
    written = next(each for each in made.jobs if each.id == job.id)
    if assumed.changes:
        written = with_changes(written)
        made = change_job(made, written).book
    return Answered(
        book=replace(made, revision=book.revision),
        job=written,
        proposal=proposal,
        left=left,
        materials_assumed=bare,
    )


def _with_materials(book: Book) -> Book:
    home = Country(
        code=book.workshop.country,
        name=book.workshop.country,
        zone=book.workshop.zone,
        subdivision=book.workshop.subdivision,
    )
    suppliers = (*book.suppliers, assumed_supplier(home))
    return replace(book, suppliers=suppliers, materials=assumed_materials())


def _job(
    book: Book, question: Question, assumed: Assumed, now: datetime, standing: Standing
) -> Job:
    taken = {str(job.id) for job in book.jobs}
    taken |= {str(segment.id) for job in book.jobs for segment in job.segments}
    job_id = JobId(fresh_id(word_of(question.what), taken))
    country = question.country
    return Job(
        id=job_id,
        name=question.what,
        client=Client(
            name="client",
            zone=country.zone,
            country=country.code,
            subdivision=country.subdivision,
            answer_days=assumed.answer_days,
        ),
        site=Site(
            name=f"site of {question.what}",
            zone=country.zone,
            country=country.code,
            subdivision=country.subdivision,
        ),
        windows=(_window(job_id, question, now),),
        segments=(),
        steps=(),
        standing=standing,
        pencilled_until=question.by if standing is Standing.PENCILLED else None,
        asked_at=now,
    )


def _window(job: JobId, question: Question, now: datetime) -> Window:
    """Return the window: from now to the end of the last day, within a site's usual hours."""
    zone = question.country.zone
    opens, closes = clock(figure("CP573").amount), clock(figure("CP574").amount)
    after = local_instant(question.by + timedelta(days=1), time(0), zone, opening=True)
    return Window(
        id=WindowId(f"{job}.window"),
        start=now.astimezone(UTC),
        end=after.astimezone(UTC),
        access=(Shift(days=_EVERY_DAY, start=opens, end=closes),),
    )


def _segments(
    book: Book, question: Question, job: Job, names: Names
) -> tuple[tuple[Segment, ...], Proposal | None]:
    """Return the piece in as many segments as its way asks for, or as somebody said."""
    whole = replace(question.whole, id=SegmentId(job.id), name=question.what)
    piece = piece_of(whole)
    if piece is None:
        raise ValueError(f"no size: {question.what}")
    proposal, counts = None, Counts()
    if question.count is not None:
        counts = in_parts(piece.box, question.count)
    else:
        proposal = _proposal(book, question, job, whole, names)
        counts = counts if proposal is None else proposal.counts
    named = _numbered(question.what, counts)
    return cut_into(whole, counts, named, looked_up(book.workshop)), proposal


def _proposal(
    book: Book, question: Question, job: Job, whole: Segment, names: Names
) -> Proposal | None:
    steps = bound(book, question.route, names).steps
    journeys = tuple(step for step in steps if isinstance(step, Journey))[:1]
    probe = replace(job, segments=(whole,), steps=journeys)
    piece = piece_of(whole)
    assert piece is not None
    course = course_of(book, probe, whole)
    return propose(Whole(segment=whole, piece=piece), course, margins_of(book.workshop))


def _numbered(what: str, counts: Counts) -> Callable[[int], str]:
    return lambda number: what if counts.all == 1 else f"{what} {number}"


def word_of(what: str) -> str:
    """Give a word for an id out of what something is called."""
    letters = (each if each.isascii() and each.isalnum() else "-" for each in what.casefold())
    parts = "".join(letters).split("-")
    return "-".join(part for part in parts if part)[:_WORD_LENGTH].strip("-") or "asked"

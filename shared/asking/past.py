"""An enquiry like a past job so many times as large, for a site and a day.

Each segment of the past job is taken so many times as long and, where it passes nowhere on its
way, cut into as few equal parts as do. The way of making is the past job's; its hours are the
past hours grown by surface, volume and seams.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction

from shared.asking.assumed import clock
from shared.asking.question import word_of
from shared.book import Book, Client, Job, Journey, Route, Segment, Site, Standing, Window
from shared.edits import add_job, take_route
from shared.edits.edited import fresh_id
from shared.estimate.like import scaled_segment
from shared.estimate.likened import likened, past_route
from shared.estimate.pieces import cut_into
from shared.ids import JobId, SegmentId, WindowId
from shared.passing.boxes import margins_of, piece_of
from shared.passing.passages import course_of
from shared.passing.split import Counts, Whole, propose
from shared.routes import USUAL_NAMES, Names, bound
from shared.trade import figure
from shared.trade.own import Lookup, looked_up
from shared.units import decimal_of
from shared.worktime import Shift, local_instant
from shared.worktime.zones import zone_named

LONGEST_DAYS = 7
"""A past window that was longer says nothing of how long work at the site takes."""
_EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
_PLACES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class LikePast:
    """What is asked for. day: the first day of the window. times: how many times as long."""

    what: str
    past: Job
    times: Decimal
    client: Client
    site: Site
    day: date
    price: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LikePastFound:
    """The book with the enquiry in it. left: stages of the past job that it has no like of."""

    book: Book
    job: Job
    left: tuple[str, ...] = ()


class SizeMissing(Exception):  # noqa: N818 - it says what is missing
    """A segment of the past job has no size, so nothing is so many times as large."""


def like_past(
    book: Book, asked: LikePast, now: datetime, *, names: Names = USUAL_NAMES
) -> LikePastFound:
    """Return a book with an enquiry like a past job in it.

    Raises
    ------
    SizeMissing
        If a segment of the past job has no length, width or height.
    """
    route = past_route(book, asked.past)
    shell = _shell(book, asked, now)
    segments = tuple(_segments(book, asked, shell, bound(book, route, names)))
    like = likened(book, asked.past, asked.times, segments, route=route)
    made = add_job(book, replace(shell, segments=segments)).book
    ids = [segment.id for segment in segments]
    made = take_route(made, shell.id, ids, like.route, options=like.options, names=names).book
    job = next(each for each in made.jobs if each.id == shell.id)
    return LikePastFound(book=replace(made, revision=book.revision), job=job, left=tuple(like.left))


def _shell(book: Book, asked: LikePast, now: datetime) -> Job:
    taken = {str(job.id) for job in book.jobs}
    taken |= {str(segment.id) for job in book.jobs for segment in job.segments}
    job_id = JobId(fresh_id(word_of(asked.what), taken))
    return Job(
        id=job_id,
        name=asked.what,
        client=asked.client,
        site=asked.site,
        windows=(_window(job_id, asked),),
        segments=(),
        steps=(),
        standing=Standing.ENQUIRY,
        price=asked.price,
        asked_at=now,
    )


def _window(job: JobId, asked: LikePast) -> Window:
    """Return a window as long as the past job's, from the same time of day by the site's clock."""
    zone, held = asked.site.zone, asked.past.held_window
    name = WindowId(f"{job}.window")
    if held is not None and held.end - held.start <= timedelta(days=LONGEST_DAYS):
        there = zone_named(asked.past.site.zone)
        first, last = held.start.astimezone(there), held.end.astimezone(there)
        final = asked.day + (last.date() - first.date())
        return Window(
            id=name,
            start=local_instant(asked.day, first.time(), zone, opening=True).astimezone(UTC),
            end=local_instant(final, last.time(), zone, opening=False).astimezone(UTC),
            access=held.access,
        )
    opens, closes = clock(figure("CP573").amount), clock(figure("CP574").amount)
    after = asked.day + timedelta(days=1)
    return Window(
        id=name,
        start=local_instant(asked.day, time(0), zone, opening=True).astimezone(UTC),
        end=local_instant(after, time(0), zone, opening=True).astimezone(UTC),
        access=(Shift(days=_EVERY_DAY, start=opens, end=closes),),
    )


def _segments(book: Book, asked: LikePast, shell: Job, route: Route) -> Iterator[Segment]:
    journeys = tuple(step for step in route.steps if isinstance(step, Journey))[:1]
    look = looked_up(book.workshop)
    number = 0
    for old in asked.past.segments:
        whole = replace(scaled_segment(old, asked.times), id=SegmentId(f"{shell.id}-{number + 1}"))
        for part in _parts(book, replace(shell, segments=(whole,), steps=journeys), whole, look):
            number += 1
            name = old.name if part is whole else f"{old.name}, {number}"
            yield replace(part, id=SegmentId(f"{shell.id}-{number}"), name=name)


def _parts(book: Book, probe: Job, whole: Segment, look: Lookup) -> tuple[Segment, ...]:
    """Return a segment in as few equal parts as pass on its way; whole where no cut helps."""
    piece = piece_of(whole)
    if piece is None:
        raise SizeMissing(whole.name)
    proposal = propose(
        Whole(segment=whole, piece=piece), course_of(book, probe, whole), margins_of(book.workshop)
    )
    counts = Counts() if proposal is None else proposal.counts
    if counts.all == 1:
        return (whole,)
    parts = cut_into(whole, counts, str, look)
    return tuple(_share(part, whole, len(parts)) for part in parts)


def _share(part: Segment, whole: Segment, count: int) -> Segment:
    """Return a part with its share of what the whole was said to have."""

    def shared(amount: Decimal | None) -> Decimal | None:
        return None if amount is None else decimal_of(Fraction(amount) / count, _PLACES)

    return replace(
        part,
        volume_m3=shared(whole.volume_m3),
        mass_low_kg=shared(whole.mass_low_kg),
        mass_high_kg=shared(whole.mass_high_kg),
        joints_m=(part.joints_m or Decimal(0)) + (shared(whole.joints_m) or Decimal(0)),
    )

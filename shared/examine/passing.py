"""What pieces must pass: openings that nobody measured, or that the book doesn't have.

Whether pieces fit is looked at only in books that measure something (`shared.examine.fits`).
"""

from collections.abc import Iterator

from shared.book import (
    Book,
    FactKind,
    Job,
    Journey,
    Opening,
    Segment,
    Workshop,
)
from shared.examine.look import Look, Path
from shared.passing.known import is_measured, knows_openings


def check_way_out(workshop: Workshop, path: Path, look: Look) -> None:
    """Tell of openings of the workshop that nobody measured, or that the book doesn't have."""
    if not any(True for _ in _jobs_here(look.book)):
        return
    _check_measured(workshop.openings, path, look)
    if not workshop.openings and knows_openings(look.book):
        look.add("way_out_unknown", (*path, "openings"))


def check_way_in(job: Job, path: Path, look: Look) -> None:
    """Tell of a site's openings that nobody measured, and of pieces that hardly pass."""
    if not job.segments or _has_left(look.book, job):
        return
    site = (*path, "site")
    _check_measured(job.site.openings, site, look)
    is_sent = any(isinstance(step, Journey) for step in job.steps)
    if is_sent and not job.site.openings and knows_openings(look.book):
        look.add("way_in_unknown", (*site, "openings"), site=job.site.name)
    if is_measured(look.book):
        from shared.examine.fits import check_pieces

        check_pieces(job, path, look)


def check_turns(segment: Segment, path: Path, look: Look) -> None:
    """Hold that ways round have known names, and that one of them is left."""
    if segment.turns or segment.finished_faces:
        from shared.examine.fits import check_ways_round

        check_ways_round(segment, path, look)


def _check_measured(openings: tuple[Opening, ...], path: Path, look: Look) -> None:
    for index, opening in enumerate(openings):
        if not opening.measured:
            where = (*path, "openings", index, "measured")
            look.add("opening_not_measured", where, opening=opening.name)


def _jobs_here(book: Book) -> Iterator[Job]:
    return (job for job in book.jobs if job.segments and not _has_left(book, job))


def _has_left(book: Book, job: Job) -> bool:
    journeys = {step.id for step in job.steps if isinstance(step, Journey)}
    over = {
        fact.step
        for fact in book.facts
        if fact.kind in (FactKind.GONE, FactKind.DONE) and fact.step in journeys
    }
    return bool(journeys) and over == journeys

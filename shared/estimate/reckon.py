"""The estimate of a job as it is written, or of pieces by their sizes and a way of making.

Both are what `take_route` writes into a book: there is one set of rates.
"""

from collections.abc import Sequence

from shared.book import Book, Job, Material, Route, Segment, Workshop
from shared.estimate.entries import Entry, entries_as_written, entries_of_job, measures_of
from shared.estimate.lines import lines_of, sizes_of
from shared.estimate.quantities import mass_of, quantities_of
from shared.estimate.values import Estimate
from shared.trade.own import Lookup, looked_up


def estimate_of_segments(
    workshop: Workshop,
    route: Route,
    segments: Sequence[Segment],
    options: Sequence[str] = (),
    materials: Sequence[Material] = (),
    *,
    by_share: bool = False,
) -> Estimate:
    """Return hours and quantities of pieces that are made in one way and meet no others.

    options: of the way of making. materials: the book's, for their names and waste. by_share: the
    skins that the pieces have are a share of the box's surface (CP134), not measured.
    """
    pieces = tuple(segments)
    entries = entries_as_written(workshop, route, pieces, tuple(options))
    look = looked_up(workshop)
    return _estimate(entries, pieces, materials, look, by_share=by_share)


def estimate_of_job(book: Book, job: Job) -> Estimate:
    """Return hours and quantities of a job as it stands in the book.

    Where a step's hours are not those of the way of making it was written from, or it was written
    from none, they are the planner's own; so are quantities.
    """
    entries = entries_of_job(book, job)
    made = {piece.id for each in entries if each.origin is not None for piece in each.pieces}
    pieces = tuple(segment for segment in job.segments if segment.id in made)
    return _estimate(entries, pieces, book.materials, looked_up(book.workshop))


def _estimate(
    entries: Sequence[Entry],
    pieces: Sequence[Segment],
    materials: Sequence[Material],
    look: Lookup,
    *,
    by_share: bool = False,
) -> Estimate:
    quantities = quantities_of(entries, materials, look)
    return Estimate(
        lines=lines_of(entries, by_share=by_share),
        quantities=quantities,
        sizes=sizes_of(measures_of(entries), pieces, look, by_share=by_share),
        mass=mass_of(quantities, look),
    )

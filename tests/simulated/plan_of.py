"""A plan made by hand, written down as a plan of the book, so that the check can judge it."""

from collections.abc import Iterator

from shared.book import Book
from shared.files.write import digest
from shared.ids import StepId
from shared.plan import LegTime, MadeFrom, Placement, Plan, Trip
from tests.bench.year.clock import instant
from tests.bench.year.floor import Floor, Turn
from tests.bench.year.rides import Ride


def plan_of(book: Book, ahead: Floor) -> Plan:
    """Return what was thought through to its end as a plan. book: as of the morning."""
    assert book.as_of is not None
    return Plan(
        made_from=MadeFrom(revision=book.revision, digest=digest(book)),
        now=book.as_of,
        jobs=tuple(job.id for job in book.jobs),
        placements=tuple(
            sorted(
                _placements(book, ahead),
                key=lambda each: (each.job, each.step, each.round, each.part),
            )
        ),
        trips=tuple(
            _trip(ahead, ride) for job, ride in sorted(ahead.gone.items()) if job in ahead.jobs
        ),
    )


def _placements(book: Book, ahead: Floor) -> Iterator[Placement]:
    known = {step.id for job in book.jobs for step in job.steps}
    for turn in ahead.over.values():
        if turn.how is None:
            yield Placement(
                job=turn.job,
                step=turn.task,
                start=instant(turn.start),
                end=instant(turn.end),
                round=1,
            )
        else:
            yield _worked(turn, is_known=turn.task in known)


def _worked(turn: Turn, *, is_known: bool) -> Placement:
    assert turn.how is not None
    is_abrade = not is_known
    return Placement(
        job=turn.job,
        step=turn.task if is_known else StepId(turn.task.removesuffix(".abrade")),
        start=instant(turn.start),
        end=instant(turn.end),
        way=turn.how.way,
        people=turn.team,
        place=turn.how.place,
        part="abrade" if is_abrade else "",
    )


def _trip(ahead: Floor, ride: Ride) -> Trip:
    legs = tuple(LegTime(start=instant(a), end=instant(b)) for a, b in ride.legs)
    return Trip(
        job=ride.job,
        step=ahead.jobs[ride.job].steps[-1].id,
        start=instant(ride.leaves),
        end=instant(ride.end),
        back=instant(ride.back),
        free=instant(ride.free),
        legs=legs,
    )

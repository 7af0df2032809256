"""Which work a plan holds, and when its people are at it. No Qt."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import timedelta

from app.window.people import days
from app.window.sheets.rows import A_BREAK, segment_text
from app.window.wall.parts import is_work, kind_of
from app.words import Words
from app.words import window as wording
from shared.book import Book, Gate, Job, Journey, Kind, Stage
from shared.ids import PersonId
from shared.plan import Placement, Plan
from shared.worktime import Span, Spans, union

_A_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A placed piece of work. spans: when all of its people are at it, breaks left out.

    what: the pieces, or the job where it is all of it. stage: its name, with its part.
    """

    job: Job
    step: Stage | Gate
    placed: Placement
    kind: Kind
    what: str
    stage: str
    spans: Spans

    @property
    def key(self) -> str:
        """Return what it is known by in every plan of the book."""
        return f"{self.step.id}|{self.placed.round}|{self.placed.part}"


def worked(book: Book, plan: Plan, words: Words) -> Iterator[Worked]:
    """Give the work of a plan in its order, with and without people."""
    jobs = {job.id: job for job in book.jobs}
    steps = {step.id: step for job in book.jobs for step in job.steps}
    there = times_there(book, plan)
    for placed in plan.placements:
        job, step = jobs.get(placed.job), steps.get(placed.step)
        if job is None or step is None or isinstance(step, Journey) or not is_work(step, placed):
            continue
        wanted = set(step.segments)
        segments = tuple(each for each in job.segments if not wanted or each.id in wanted)
        yield Worked(
            job=job,
            step=step,
            placed=placed,
            kind=kind_of(step, placed),
            what=segment_text(words, job, segments),
            stage=stage_text(words, step, placed),
            spans=days.at_work(placed.people, placed.start, placed.end, there) or _whole(placed),
        )


def stage_text(words: Words, step: Stage | Gate, placed: Placement) -> str:
    """Return the name of a step as it was placed: with the part that is put in for it."""
    return wording.part_of(words, placed.part, step.name) if placed.part else step.name


def times_there(book: Book, plan: Plan) -> Mapping[PersonId, Spans]:
    """Return when everybody is there while a plan lasts."""
    if not plan.placements:
        return {}
    first = min(placed.start for placed in plan.placements) - _A_DAY
    last = max(placed.end for placed in plan.placements) + _A_DAY
    return {each.id: days.there(book, each, first, last) for each in book.people}


def _whole(placed: Placement) -> Spans:
    return union(Span(start=placed.start, end=placed.end)) if placed.start < placed.end else ()


def joined(spans: Spans) -> Spans:
    """Return spans with the breaks of a day closed."""
    made: list[Span] = []
    for span in spans:
        if made and span.start - made[-1].end <= A_BREAK:
            made[-1] = Span(start=made[-1].start, end=span.end)
        else:
            made.append(span)
    return tuple(made)

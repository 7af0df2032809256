"""Something broke: to the stage from which it is done again, with the caret where why is typed."""

from typing import TYPE_CHECKING

from app.window.sheet import writing
from app.window.sheet.steps_part import has_begun
from app.window.sheet.typed import NotTaken
from shared.book import Book, Job, Stage
from shared.ids import SegmentId, StepId
from shared.order import touched

if TYPE_CHECKING:
    from app.window.sheet.sheet import Sheet


def first_again(
    book: Book, job: Job, segment: SegmentId | None, step: StepId | None
) -> StepId | None:
    """Return the chosen stage if it has begun, else the first that has on the segment.

    One that is of the segment alone comes before what it shares with others.
    """
    mine = [each for each in writing.steps_of(job, segment) if isinstance(each, Stage)]
    begun = [each for each in mine if has_begun(book, each.id)]
    if step in {each.id for each in begun}:
        return step
    own = [each for each in begun if touched(job, each) == {segment}]
    return next((each.id for each in own + begun), None)


def ask_what_happened(sheet: "Sheet") -> None:
    """Put the caret where it is written what happened; say so where nothing has begun."""
    book, segment = sheet.book, sheet.segment
    if book is None or sheet.job is None:
        return
    job = writing.job(book, sheet.job)
    step = first_again(book, job, segment, sheet.step)
    if step is None:
        name = next((each.name for each in job.segments if each.id == segment), job.name)
        sheet.making.refuse("work", NotTaken("nothing_begun", segment=name))
        return
    sheet.show_step(step)
    sheet.making.enter_later("cause")

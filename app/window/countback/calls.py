"""What a moved window makes necessary, as lines: calls, dates, notices. No Qt."""

from dataclasses import replace
from datetime import datetime

from app.moved import Moved, moved, moving
from app.solved import Solved
from app.tried import TriedWindow
from app.words import Words
from app.words import move as say
from scheduler.outcome import Outcome
from shared.book import Book, Job
from shared.notices.calling import total_cost
from shared.worktime.zones import local_date


def moved_with(book: Book, window: TriedWindow, before: Outcome, after: Outcome) -> Moved | None:
    """Return what a tried window comes to; None where the job held none before.

    before, after: of the book without and with it.
    """
    job = next((each for each in book.jobs if each.id == window.job.id), None)
    if job is None or job.held_window is None:
        return None
    edited = moving(book, job, window.start, window.end, before.plan, before.now)
    both = (Solved(outcome=before, seconds=0), Solved(outcome=after, seconds=0))
    return moved(book, job, edited, both, before.now)


def book_of(found: Moved, revision: int) -> Book:
    """Return the book with the window moved, as a trial of a revision."""
    return replace(found.edited.book, revision=revision)


def is_of(found: Moved, job: Job) -> bool:
    """Return whether a job holds the window that was moved."""
    held = job.held_window
    is_same = held is not None and (held.start, held.end) == (found.now.start, found.now.end)
    return job.id == found.new.id and is_same


def lines_of(words: Words, found: Moved, now: datetime, *, has_money: bool) -> tuple[str, ...]:
    """Return the calls first, then what they cost, then what is dated anew."""
    today, zone = local_date(now, words.zone), found.new.site.zone
    calls = [
        " ".join(say.call_lines(words, each, zone, today, has_money=has_money))
        for each in found.calls
    ]
    if calls and has_money:
        calls.append(say.total_line(words, total_cost(found.calls)))
    elif not calls:
        calls.append(words.say(say.NO_CALLS))
    dates = [
        say.redated_line(
            words, each.what, each.name, each.was, each.now, today, zone if each.is_there else None
        )
        for each in found.redated
    ]
    papers = [say.due_line(words, each.was, each.now, today) for each in found.dues]
    stands = [say.stands_line(words, each, today) for each in found.stands]
    lost = [words.say(say.UNDATED, journey=words.names.of("step", each)) for each in found.undated]
    return (*calls, *stands, *lost, *dates, *papers)

"""Books made easier in one way: whoever has a plan of the book has one of the easier book.

More people, a longer window, a shorter stage, an earlier start. None gives the book itself where
there is nothing to ease.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from random import Random

from shared.book import Book, Certificate, Hours, Job, Journey, Person, Skill, Stage, Step, Way
from shared.ids import PersonId, StepId

HAND = PersonId("one-more-hand")
A_WEEK = timedelta(days=7)


def more_people(book: Book, draw: Random) -> Book | None:
    """Let one more come who can do all that is asked for, in the workshop's hours."""
    del draw
    if any(person.id == HAND for person in book.people):
        return None
    steps = [step for job in book.jobs for step in job.steps if not isinstance(step, Journey)]
    skills = {need.skill for step in steps for way in _ways(step) for need in way.needs}
    held = {each for step in steps if isinstance(step, Stage) for each in step.certificates}
    hand = Person(
        id=HAND,
        name="One more hand",
        skills=tuple(Skill(skill=skill) for skill in sorted(skills)),
        certificates=tuple(Certificate(certificate=each) for each in sorted(held)),
    )
    return replace(book, people=(*book.people, hand))


def _ways(step: Step) -> Iterator[Way]:
    """Give all ways in which a step may call for people, what is done again included."""
    if isinstance(step, Journey):
        return
    again = (step.abrade,) if isinstance(step, Stage) else (step.rework, step.changes)
    for each in (step, *again):
        if each is not None:
            yield from each.ways


def longer_window(book: Book, draw: Random) -> Book | None:
    """Let a window that is held shut some days later."""
    held = [job for job in book.jobs if job.held_window is not None]
    if not held:
        return None
    job = draw.choice(held)
    window = job.held_window
    assert window is not None
    longer = replace(window, end=window.end + A_WEEK * draw.choice((1, 2, 6)))
    windows = tuple(longer if each.id == window.id else each for each in job.windows)
    return _with_job(book, replace(job, windows=windows, window=window.id))


def shorter_stage(book: Book, draw: Random) -> Book | None:
    """Let a stage take half as long that need not be followed soon, and whose material asks for
    no warmth: it begins as before and is over sooner.
    """
    found = list(_free_stages(book))
    if not found:
        return None
    job, stage = draw.choice(found)
    ways = tuple(replace(way, hours=_half(way.hours)) for way in stage.ways)
    short = replace(stage, ways=ways)
    steps = tuple(short if step is stage else step for step in job.steps)
    return _with_job(book, replace(job, steps=steps))


def _half(hours: Hours) -> Hours:
    return replace(hours, low=hours.low / 2, likely=hours.likely / 2, high=hours.high / 2)


def _free_stages(book: Book) -> Iterator[tuple[Job, Stage]]:
    """Give stages that may be over sooner without anything else being due sooner for it."""
    told = {fact.step for fact in book.facts}
    for job in book.jobs:
        soon = {link.step for step in job.steps for link in step.after or () if link.most_hours}
        for step in job.steps:
            if isinstance(step, Stage) and step.id not in told and _is_free(step, soon):
                yield job, step


def _is_free(stage: Stage, soon: set[StepId]) -> bool:
    return (
        stage.id not in soon
        and stage.recoat_hours is None
        and not stage.recoat_bands
        and stage.pin is None
        and stage.cure_celsius is None
        and stage.coldest_celsius is None
        and stage.warmest_celsius is None
        and stage.dew_point_margin_celsius is None
        and stage.most_humidity_percent is None
        and all(way.setup_hours is None for way in stage.ways)
        and any(way.hours.likely for way in stage.ways)
    )


def earlier_start(book: Book, draw: Random) -> Book | None:
    """Let a book be as of some days earlier; of one in which something was told nothing is said."""
    if book.facts or book.told is not None or book.as_of is None:
        return None
    return replace(book, as_of=book.as_of - timedelta(days=draw.choice((1, 3, 7))))


def _with_job(book: Book, job: Job) -> Book:
    return replace(book, jobs=tuple(job if each.id == job.id else each for each in book.jobs))


Ease = Callable[[Book, Random], Book | None]
EASES: dict[str, Ease] = {
    "more people": more_people,
    "a longer window": longer_window,
    "a shorter stage": shorter_stage,
    "an earlier start": earlier_start,
}

"""What stands over the wall and under it: one sentence, what is next, the state. No Qt."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.wall.items import Role, Wall, instant_at
from app.words import Words, on_wall
from app.words import window as say
from app.words.keys import key_text
from app.words.template import Template
from scheduler.outcome import Outcome, Verdict
from shared.book import Book, FactKind, Gate, GateKind
from shared.findings import Finding

if TYPE_CHECKING:
    from app.window.wall.derive import Shown

NEXT_COUNT = 4
CHANGES_TOLD = 3
Part = tuple[str, bool]
"""A piece of a line, and whether it is the answer (bold)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """What is known of the book on show.

    planned_at: when the plan on show came. is_late: the planner takes longer than it was given.
    trying: what is tried, in words; tried: what came of it.
    """

    book: Book
    now: datetime
    outcome: Outcome | None = None
    is_busy: bool = False
    is_late: bool = False
    seconds: int = 0
    planned_at: datetime | None = None
    stopping: tuple[Finding, ...] = ()
    trouble: str = ""
    note: str = ""
    change_count: int = 0
    looking_only: str = ""
    outside: str = ""
    trying: str = ""
    tried: Outcome | None = None

    @property
    def has_faults(self) -> bool:
        """Whether the second opinion found faults in the last answer."""
        return self.outcome is not None and bool(self.outcome.check.breaches)


@dataclass(frozen=True, slots=True, kw_only=True)
class Headline:
    """The masthead's mark and lines. is_enquiry: the mark is that of an enquiry."""

    sentence: str
    verdict: Verdict | None = None
    next: tuple[Part, ...] = ()
    is_alarm: bool = False
    is_enquiry: bool = False


def headline(state: State, wall: Wall, words: Words) -> Headline:
    """Return what the masthead says."""
    if not state.book.jobs:
        return Headline(sentence=words.say(say.EMPTY))
    if alarm := state.trouble or _late(state, words):
        return Headline(sentence=alarm, next=_next(wall, words), is_alarm=True)
    if state.trying:
        return _of_trial(state, wall, words)
    if state.stopping:
        count = len(state.stopping)
        number = words.number_word(count)
        sentence = words.say(say.FINDINGS_STOP, count=count, number=number)
        first, cure = words.finding(state.stopping[0])
        return Headline(sentence=sentence, next=((f"{first} {cure}", False),), is_alarm=True)
    outcome = state.outcome
    if outcome is None:
        return Headline(sentence=words.say(say.PLANNING if state.is_busy else say.NOT_PLANNED_YET))
    if outcome.revision != state.book.revision:
        template = say.PLANNING_ANEW if state.is_busy else say.CHANGED_SINCE
        return Headline(sentence=words.say(template), next=_next(wall, words))
    if outcome.check.breaches:
        count = len(outcome.check.breaches)
        sentence = words.say(say.CHECK_DISAGREES, count=count)
        return Headline(sentence=sentence, next=_next(wall, words), is_alarm=True)
    sentence = words.book_line(outcome.jobs, seconds=state.seconds)
    if state.is_busy:
        sentence = words.say(say.STILL_LOOKING, sentence=sentence)
    return Headline(
        sentence=sentence,
        verdict=outcome.verdict,
        next=_next(wall, words),
    )


def _late(state: State, words: Words) -> str:
    """Return that the planner takes longer than it was given, where it does."""
    if not state.is_late:
        return ""
    return words.say(say.ENGINE_LATE, seconds=state.seconds, key=key_text("Esc"))


def _of_trial(state: State, wall: Wall, words: Words) -> Headline:
    """Return what is tried, and the verdict with it."""
    found = state.tried
    if found is None:
        return Headline(sentence=words.say(say.TRYING, what=state.trying), next=_next(wall, words))
    return Headline(
        sentence=tried_line(words, state.trying, words.book_line(found.jobs)),
        verdict=found.verdict,
        next=_next(wall, words),
    )


def tried_line(words: Words, what: str, sentence: str) -> str:
    """Return what is tried with what is said of the plan that came of it."""
    return words.say(say.TRIED_LINE, what=what, sentence=sentence)


def told_first(said: Headline, shown: "Shown", words: Words) -> Headline:
    """Return a headline in which whose client is to answer sooner than was told comes first.

    Told is what the sheets that were given out go by; a date that is only later moves nobody.
    """
    parts = tuple((f"{sentence}  ", True) for sentence in _sooner(shown, words))
    return replace(said, next=(*parts, *said.next)) if parts else said


def _sooner(shown: "Shown", words: Words) -> Iterator[str]:
    book, plan = shown.book, shown.plan
    if book.told is None or plan is None:
        return
    told = {(p.step, p.round): p.end for p in book.told.plan.placements if not p.part}
    given = {fact.step for fact in book.facts if fact.kind is FactKind.ANSWER}
    jobs = {step.id: (job, step) for job in book.jobs for step in job.steps}
    for placed in plan.placements:
        job, step = jobs.get(placed.step, (None, None))
        was = told.get((placed.step, placed.round))
        if job is None or not isinstance(step, Gate) or was is None or step.id in given:
            continue
        zone = ZoneInfo((step.answered_by or job.client).zone)
        now_on, was_on = placed.end.astimezone(zone).date(), was.astimezone(zone).date()
        if step.gate is GateKind.ANSWER and now_on < was_on:
            day, told_day = say.short_day(words, now_on), say.short_day(words, was_on)
            yield words.say(say.ANSWER_SOONER, job=job.name, day=day, told=told_day)


def _next(wall: Wall, words: Words) -> tuple[Part, ...]:
    """Return the next dates: coats whose recoat time runs, pictures, answers, loading by.

    Of an old plan: what has changed since.
    """
    if wall.changes:
        changes = words.series(wall.changes[:CHANGES_TOLD])
        return ((words.say(on_wall.SINCE_LINE, changes=changes), False),)
    found: list[tuple[int, str]] = list(wall.dues)
    for band in wall.bands:
        for seam in band.seams:
            if seam.role is Role.ANSWER and seam.state == "open":
                found.append((seam.start, words.say(say.NEXT_PICTURES, job=band.name)))
                found.append((seam.end, words.say(say.NEXT_ANSWER, job=band.name)))
        if band.bar is not None:
            found.append((band.bar, words.say(say.NEXT_LOADING, job=band.name)))
    coming = sorted(item for item in found if item[0] >= wall.now)[:NEXT_COUNT]
    if not coming:
        return ()
    parts: list[Part] = [(words.say(say.NEXT), True)]
    for number, (minute, text) in enumerate(coming, start=1):
        day = _day(words, minute)
        parts += [(f"  {text} ", False), (day + ("," if number < len(coming) else ""), True)]
    return tuple(parts)


def _day(words: Words, minute: int) -> str:
    return say.short_day(words, instant_at(minute).astimezone(ZoneInfo(words.zone)).date())


def foot_left(state: State, words: Words) -> tuple[Part, ...]:
    """Return the state of the plan for the foot."""
    parts: list[Part] = []
    if state.trying:
        parts += [(words.say(say.TRYING, what=state.trying), True)]
        return (*parts, (f"  {words.say(say.TRIAL_KEYS)}", False))
    if state.outside:
        parts += [(state.outside, True), ("   ", False)]
    if state.looking_only:
        parts += [(words.say(say.LOOKING_ONLY), True), (f"  {state.looking_only}   ", False)]
    outcome = state.outcome
    if outcome is not None and state.planned_at is not None:
        local = state.planned_at.astimezone(ZoneInfo(words.zone))
        clock = f"{local.hour:02}:{local.minute:02}"
        parts += [(words.say(say.PLANNED, clock=clock), True)]
        parts += [("  " + words.say(_checked(outcome), revision=outcome.revision), False)]
    if state.change_count:
        number = words.number_word(state.change_count)
        text = words.say(say.CHANGES, count=state.change_count, number=number)
        parts += [("   ", False), (text[:1].upper() + text[1:], True)]
    if state.note:
        parts += [(f"   {state.note}", False)]
    return tuple(parts)


def _checked(outcome: Outcome) -> Template:
    if not outcome.check.sound:
        return say.REVISION_NOT_CHECKED
    return say.REVISION_PROVED if outcome.stopped == "proved" else say.REVISION_CHECKED

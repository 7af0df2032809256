"""What stands at the side: a title, what is offered with its keys, and what each comes to. No Qt.

One value for all that the side says; builders make it of what is chosen or asked.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from app.window.people.free import Candidate, busy, free_stretches, stretches
from app.window.people.items import Bar, Board, Line, Sort
from app.words import Words, evening
from app.words import away as said_away
from app.words import people_view as say
from app.words import window as said
from app.words.voice import capital
from scheduler.outcome import JobOutcome, Verdict
from shared.book import Book, SkillLevel
from shared.plan import Plan

OFFERED_MAX = 9
SHOWN_JOBS = 4
SHOWN_LINES = 3
FAR_DAYS = 5
"""Of a job that keeps more days to spare than so many, only that it stands otherwise is said."""
FREE_SHOWN = 4
_NEVER = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slack:
    """What is to spare of a job before and after, in working minutes; below nothing: late."""

    name: str
    before: int
    after: int
    text: str
    is_late: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One thing that is offered. key: the figure that chooses it, "" for a mere line.

    sum_up, verdict: how all jobs then stand. is_tried: it is on show now.
    """

    id: str
    head: str
    key: str = ""
    lines: tuple[str, ...] = ()
    slacks: tuple[Slack, ...] = ()
    sum_up: str = ""
    verdict: Verdict | None = None
    is_tried: bool = False
    is_alarm: bool = False

    @property
    def told(self) -> str:
        """Return it as it is read out."""
        parts = [self.head, *self.lines, *(f"{s.name} {s.text}" for s in self.slacks), self.sum_up]
        return " ".join(_ended(part) for part in parts if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """All of the side.

    lead: lines between the title and what is offered. keys: letters with what each does. is_close:
    there are no lines between the entries.
    """

    title: str
    sub: str = ""
    lead: tuple[str, ...] = ()
    entries: tuple[Entry, ...] = ()
    more: tuple[str, ...] = ()
    keys: tuple[tuple[str, str], ...] = ()
    is_close: bool = False


def _ended(text: str) -> str:
    return text if text[-1:] in ".:!?" else text + "."


# At rest: what may be finished, who is free.


def at_rest(
    words: Words,
    book: Book,
    plan: Plan | None,
    board: Board,
    now: datetime,
    lead: tuple[str, ...] = (),
) -> tuple[Panel, tuple[Bar, ...]]:
    """Return what is offered while nothing is chosen, and the bars that the figures mark done.

    lead: what was put down last.
    """
    every = to_be_finished(board, board.now)
    bars, more = every[:OFFERED_MAX], len(every) - OFFERED_MAX
    entries = [
        Entry(
            id=f"done {bar.id}",
            key=str(at),
            head=work_of_job(words, bar),
            lines=(who_and_until(words, board, bar, now),),
        )
        for at, bar in enumerate(bars, start=1)
    ]
    panel = Panel(
        title=words.say(say.FINISHED if bars else say.NOTHING_RUNS),
        sub=" ".join([words.say(say.FINISHED_SUB), *_more_lines(words, more)]) if bars else "",
        lead=lead,
        entries=tuple(entries),
        more=_free_lines(words, book, plan, now),
        keys=(
            ("T", words.say(evening.DO_AS_TOLD)),
            ("R", words.say(evening.DO_OTHERWISE)),
            ("A", words.say(say.DO_AWAY)),
        ),
        is_close=True,
    )
    return panel, bars


def work_of_job(words: Words, bar: Bar) -> str:
    """Return what a piece of work is called, with its job."""
    work = words.say(said.STAGE_NAME, segment=bar.what, stage=bar.stage)
    job = words.names.of("job", bar.job) if bar.job is not None else ""
    return work if not job or job == bar.what else words.series((work, job))


def _more_lines(words: Words, more: int) -> tuple[str, ...]:
    if more <= 0:
        return ()
    return (words.say(say.MORE_TO_SAY, count=more, number=capital(words.number_word(more))),)


def to_be_finished(board: Board, now: int) -> tuple[Bar, ...]:
    """Return work that has begun by the plan and of which nobody has said that it is done.

    That of the days on show stands first, then what was to be over before, the last first.
    """
    found = {
        bar.id: bar
        for line in board.people
        for bar in line.bars
        if bar.sort is Sort.WORK and not bar.part and not bar.is_done and bar.start < now
    }
    here = sorted(found.values(), key=lambda bar: (bar.end, bar.id))
    before = sorted(board.unsaid, key=lambda bar: (-bar.end, bar.id))
    return (*here, *(bar for bar in before if bar.id not in found))


def who_and_until(words: Words, board: Board, bar: Bar, now: datetime) -> str:
    """Return who is on a piece of work, and when it was or is to end."""
    names = {line.id: line.name for line in board.people}
    people = words.both(names.get(one, one) for one in bar.people)
    moment = said.short_moment(words, _instant(bar.end))
    template = say.WAS_TO_END if bar.end <= int(now.timestamp()) // 60 else say.IS_TO_END
    return words.say(template, people=people, moment=moment)


def _instant(minute: int) -> datetime:
    return datetime.fromtimestamp(minute * 60, UTC)


def _free_lines(words: Words, book: Book, plan: Plan | None, now: datetime) -> tuple[str, ...]:
    if plan is None:
        return ()
    lines = [words.say(say.FREE_NEXT)]
    held = busy(book, plan)
    free = {p.name: stretches(book, held[p.id], p, now)[:1] for p in book.people}
    for name, spans in sorted(free.items(), key=lambda one: [s.start for s in one[1]] or [_NEVER]):
        if spans:
            span = said.short_span(words, spans[0].start, spans[0].end)
            lines.append(words.say(say.FREE_LINE, who=name, span=span))
        else:
            lines.append(words.say(say.FREE_NEVER, who=name))
    return tuple(lines)


# A person or a place.


def of_line(words: Words, book: Book, plan: Plan | None, line: Line, now: datetime) -> Panel:
    """Return what is said of a row: what somebody can do, and when they are free."""
    if line.is_place:
        lines = tuple(
            words.say(say.PLACE_LINE, what=bar.name, span=_span(words, bar)) for bar in line.bars
        )
        return Panel(title=line.name, sub="", more=lines or (words.say(say.PLACE_FREE),))
    person = next(each for each in book.people if each.id == line.id)
    can = words.series(s.skill for s in person.skills if s.level is not SkillLevel.HELPS)
    helps = words.series(s.skill for s in person.skills if s.level is SkillLevel.HELPS)
    template = say.CAN_AND_HELPS if can and helps else say.CAN if can else say.HELPS
    spans = free_stretches(book, plan, person, now, FREE_SHOWN)
    free = [words.say(say.FREE_TITLE if spans else say.FREE_NONE)]
    free += [said.short_span(words, span.start, span.end) for span in spans]
    away = [bar.description for bar in line.bars if bar.sort is Sort.AWAY]
    return Panel(
        title=line.name,
        sub=words.say(template, can=can, helps=helps) if can or helps else "",
        more=(*away, *free),
        keys=(("A", words.say(say.DO_AWAY_WHO, who=line.name)),),
    )


def _span(words: Words, bar: Bar) -> str:
    return said.short_span(words, _instant(bar.start), _instant(bar.end))


# A piece of work, and who could do it.


def of_bar(
    words: Words,
    bar: Bar,
    line: Line,
    offered: Sequence[Candidate],
    judged: "dict[str, Judged]",
    *,
    tried: str = "",
    segment: str = "",
    picked: tuple[str, ...] = (),
) -> Panel:
    """Return who could do a piece of work instead; segment: the name where all of it is given."""
    entries = tuple(
        _candidate(words, one, at, judged.get(one.person), tried=tried, picked=picked)
        for at, one in enumerate(offered[:OFFERED_MAX], start=1)
    )
    if segment:
        title = words.say(say.ALL_OF, segment=segment)
        sub = words.say(say.ALL_OF_SUB)
    else:
        title = words.say(said.STAGE_NAME, segment=bar.what, stage=bar.stage)
        is_other = not line.is_place and len(bar.people) > 1
        template = say.INSTEAD_OF if is_other else say.WHO_CAN
        sub = words.say(template if entries else say.NOBODY_ELSE, who=line.name)
    facts = "" if segment else bar.description.removeprefix(f"{bar.name}.").strip()
    return Panel(
        title=title,
        sub=facts,
        lead=(sub,),
        entries=entries,
        keys=_keys(words, bar, segment),
        is_close=bool(segment) and not judged,
    )


def of_absence(words: Words, bar: Bar, line: Line) -> Panel:
    """Return what is said of an absence: why, until when, and that it can be taken out."""
    entry = Entry(id="back", key="1", head=words.say(say.BACK_AFTER_ALL, who=line.name))
    return Panel(title=bar.name, sub=bar.description, entries=(entry,))


def _keys(words: Words, bar: Bar, segment: str) -> tuple[tuple[str, str], ...]:
    keys = []
    if not bar.is_done:
        keys.append(("D", words.say(say.DO_DONE)))
        keys.append(("R", words.say(evening.DO_OTHERWISE)))
    if len(bar.segments) == 1:
        keys.append(("O", words.say(say.DO_ONLY if segment else say.DO_ALL)))
    keys.append(("P", words.say(said.DO_UNPIN if bar.is_pinned else said.DO_PIN)))
    return tuple(keys)


def _candidate(
    words: Words,
    one: Candidate,
    at: int,
    judged: "Judged | None",
    *,
    tried: str,
    picked: tuple[str, ...],
) -> Entry:
    if one.stage_count:
        free = words.say(
            say.STAGES, count=one.stage_count, number=words.number_word(one.stage_count)
        )
    elif one.is_free:
        free = words.say(say.FREE_THEN)
    elif one.free_from is not None:
        moment = said.short_moment(words, one.free_from)
        free = words.say(say.FREE_FROM, moment=moment)
    else:
        free = words.say(say.FREE_NOT)
    if one.only_helps:
        free = words.say(say.AND_HELPS, free=free)
    is_in = one.person in picked
    return Entry(
        id=f"give {one.person}",
        key=str(at),
        head=one.name,
        lines=(free, *(judged.lines if judged else ())),
        slacks=judged.slacks if judged else (),
        sum_up=judged.sum_up if judged else "",
        verdict=judged.verdict if judged else None,
        is_alarm=judged.is_alarm if judged else False,
        is_tried=tried == one.person or is_in,
    )


# What something comes to.


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What a change does to the windows. is_alarm: one is lost by it, or nothing came of it."""

    lines: tuple[str, ...] = ()
    slacks: tuple[Slack, ...] = ()
    sum_up: str = ""
    verdict: Verdict | None = None
    is_alarm: bool = False


def judged_of(
    words: Words, before: Sequence[JobOutcome], after: Sequence[JobOutcome], lines: Sequence[str]
) -> Judged:
    """Lay how jobs stand beside how they stood."""
    was = {each.id: each for each in before}
    moved = [
        slack for each in after if (slack := _slack(words, was.get(each.id), each)) is not None
    ]
    far = FAR_DAYS * words.day_minutes
    slacks = sorted(
        (one for one in moved if min(one.before, one.after) < far), key=lambda one: one.after
    )[:SHOWN_JOBS]
    worst = max((each.verdict for each in after), key=list(Verdict).index, default=None)
    lost = any(
        each.slack_minutes is None and each.id in was and was[each.id].slack_minutes is not None
        for each in after
    )
    told = list(lines)
    count = len(moved) - len(slacks)
    if not moved:
        told.append(words.say(said_away.STANDS))
    elif count:
        number = capital(words.number_word(count))
        told.append(words.say(say.MORE_JOBS, count=count, number=number))
    return Judged(
        lines=tuple(told),
        slacks=tuple(slacks),
        sum_up=words.book_line(after) if after else "",
        verdict=worst,
        is_alarm=lost,
    )


def _slack(words: Words, was: JobOutcome | None, now: JobOutcome) -> Slack | None:
    if was is None:
        return None
    before, after = _margin(was), _margin(now)
    texts = _margin_text(words, was), _margin_text(words, now)
    if texts[0] == texts[1]:
        return None
    text = words.say(say.FROM_TO, before=texts[0], after=texts[1])
    return Slack(
        name=words.names.of("job", now.id),
        before=before,
        after=after,
        text=text,
        is_late=now.slack_minutes is None,
    )


def _margin(each: JobOutcome) -> int:
    if each.slack_minutes is not None:
        return each.slack_minutes
    return -max(1, each.missed_by_working_minutes)


def _margin_text(words: Words, each: JobOutcome) -> str:
    if each.slack_minutes is not None:
        return said.quarters(words, each.slack_minutes, words.day_minutes)
    if not each.missed_by_minutes:
        return words.verdict_mark(each.verdict)
    late = each.missed_by_working_minutes or each.missed_by_minutes
    return words.say(say.LATE_SHORT, late=said.quarters(words, late, words.day_minutes))

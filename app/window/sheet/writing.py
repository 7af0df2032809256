"""What is written on the sheet as edits of the book: a text for a field, a word done. No Qt."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.words import Words
from app.words import window as say
from shared.book import (
    Book,
    Gate,
    GateKind,
    Hours,
    Job,
    Journey,
    Kind,
    Need,
    Pin,
    Stage,
    Step,
    Way,
)
from shared.edits import (
    Edited,
    add_step,
    change_job,
    change_segment,
    change_step,
    change_window,
    copy_segment,
    fresh_id,
    move_step,
    move_window,
    pin_step,
)
from shared.edits.edited import label
from shared.edits.lookup import job_of_segment, job_of_step, segment_of, step_ids, step_of
from shared.ids import JobId, PersonId, SegmentId, SkillId, StepId

NEW_STAGE_HOURS = Decimal(8)
MOST_HANDS = 20
HOURS = ("low", "likely", "high")


def job(book: Book, identity: JobId) -> Job:
    """Return a job by its id."""
    return next(job for job in book.jobs if job.id == identity)


# A job.


def job_name(book: Book, identity: JobId, text: str) -> Edited:
    """Name a job."""
    return change_job(book, replace(job(book, identity), name=typed.name(text)))


def client_name(book: Book, identity: JobId, text: str) -> Edited:
    """Name a job's client."""
    old = job(book, identity)
    return change_job(book, replace(old, client=replace(old.client, name=typed.name(text))))


def answer_days(book: Book, identity: JobId, text: str) -> Edited:
    """Say within how many of its working days the client answers."""
    old = job(book, identity)
    client = replace(old.client, answer_days=typed.whole(text))
    return change_job(book, replace(old, client=client))


def window_edge(book: Book, identity: JobId, text: str, words: Words, *, start: bool) -> Edited:
    """Say when a job's window begins or ends, by the site's clock.

    One that moves as a whole takes along what is booked for it.
    """
    old = job(book, identity)
    held = old.held_window
    if held is None:
        raise NotTaken("not_a_moment", value=text)
    near = held.start if start else held.end
    when = typed.utc(typed.moment(text, old.site.zone, near, typed.months_of(words)))
    if start:
        made = replace(held, start=when, end=max(held.end, when + (held.end - held.start)))
    else:
        made = replace(held, end=when)
    if made.start >= made.end:
        raise NotTaken("ends_before_start")
    if start and made.end != held.end:
        return move_window(book, identity, made.start, made.end)
    return change_window(book, identity, made)


def _same(likely: Decimal) -> Hours:
    return Hours(low=likely, likely=likely, high=likely)


# A segment.


def another_segment(book: Book, like: SegmentId, words: Words) -> Edited:
    """Add a segment that is made like another, its size still open."""
    owner = job_of_segment(book, like)
    name = words.say(say.NEW_SEGMENT, number=len(owner.segments) + 1)
    copied = copy_segment(book, like, name)
    before = {segment.id for segment in owner.segments}
    made = next(s for s in job(copied.book, owner.id).segments if s.id not in before)
    bare = replace(made, length_m=None, width_m=None, height_m=None, surface_m2=None)
    sized = change_segment(copied.book, bare).book
    return Edited(
        book=replace(sized, revision=copied.book.revision),
        changed=copied.changed,
        label=label("add_segment", name=name),
    )


def same_segment(book: Book, like: SegmentId, words: Words) -> Edited:
    """Add a copy of a segment."""
    name = words.say(say.COPY_OF, name=segment_of(book, like).name)
    return copy_segment(book, like, name)


# A step.


def step_name(book: Book, identity: StepId, text: str) -> Edited:
    """Name a step."""
    return change_step(book, replace(step_of(book, identity), name=typed.name(text)))


def stage(book: Book, identity: StepId) -> Stage:
    """Return a stage by its id."""
    found = step_of(book, identity)
    if not isinstance(found, Stage):
        raise TypeError(identity)
    return found


def stage_kind(book: Book, identity: StepId, text: str, words: Words) -> Edited:
    """Say which kind of work a stage is."""
    known = {say.kind(words, kind): kind.value for kind in Kind}
    kind = Kind(typed.one_of(text, known, "not_a_kind"))
    return change_step(book, replace(stage(book, identity), kind=kind))


def stage_hours(book: Book, identity: StepId, which: str, text: str) -> Edited:
    """Give a stage's low, likely or high person-hours, in all ways that have the same now.

    A likely figure outside low and high takes the one it passes along.
    """
    old = stage(book, identity)
    hours = old.ways[0].hours
    new = _hours(hours, which, typed.number(text))
    ways = tuple(replace(w, hours=new) if w.hours == hours else w for w in old.ways)
    return change_step(book, replace(old, ways=ways))


def _hours(old: Hours, which: str, value: Decimal) -> Hours:
    if which == "likely":
        return Hours(low=min(old.low, value), likely=value, high=max(old.high, value))
    new = replace(old, low=value) if which == "low" else replace(old, high=value)
    if not new.low <= new.likely <= new.high:
        raise NotTaken("hours_out_of_order")
    return new


def stage_hands(book: Book, identity: StepId, text: str) -> Edited:
    """Say how many people work on a stage together, in all its ways that have as many now.

    Who must be able to do it stay, as far as there are so many; the others help.
    """
    wanted = typed.whole(text)
    if not 1 <= wanted <= MOST_HANDS:
        raise NotTaken("not_between", value=text, least=1, most=MOST_HANDS)
    old = stage(book, identity)
    now = hands_of(old.ways[0]) if old.ways else 0
    ways = tuple(_with_hands(way, wanted) if hands_of(way) == now else way for way in old.ways)
    return change_step(book, replace(old, ways=ways))


def hands_of(way: Way) -> int:
    """Return how many people work in a way together."""
    return sum(need.can + need.helps for need in way.needs)


def _with_hands(way: Way, wanted: int) -> Way:
    if not way.needs:
        raise NotTaken("no_needs")
    first, others = way.needs[0], way.needs[1:]
    left = wanted - sum(need.can + need.helps for need in others)
    if left < 1:
        raise NotTaken("not_between", value=wanted, least=1 + wanted - left, most=MOST_HANDS)
    can = min(first.can, left) or 1
    return replace(way, needs=(replace(first, can=can, helps=left - can), *others))


def gate_days(book: Book, identity: StepId, text: str) -> Edited:
    """Say within how many working days an answer comes; nothing typed means as usual."""
    gate = step_of(book, identity)
    if not isinstance(gate, Gate):
        raise TypeError(identity)
    days = typed.whole(text) if text.strip() else None
    return change_step(book, replace(gate, answer_days=days))


def stage_cure(book: Book, identity: StepId, text: str) -> Edited:
    """Say how many hours a stage cures, dries or sets; nothing typed means none."""
    hours = typed.number_or_none(text) or Decimal(0)
    return change_step(book, replace(stage(book, identity), cure_hours=hours))


def stage_recoat(book: Book, identity: StepId, text: str) -> Edited:
    """Say within how many hours the next coat follows; nothing typed means any time."""
    hours = typed.number_or_none(text)
    return change_step(book, replace(stage(book, identity), recoat_hours=hours))


def stage_go(book: Book, identity: StepId, text: str, words: Words) -> Edited:
    """Say whether a stage is done in one go."""
    known = {words.say(say.ONE_GO): "yes", words.say(say.IN_PAUSES): ""}
    one_go = bool(typed.one_of(text, known, "not_go"))
    return change_step(book, replace(stage(book, identity), in_one_go=one_go))


def step_people(book: Book, identity: StepId, text: str, words: Words) -> Edited:
    """Pin people to a stage or gate by name; "whoever can" or nothing lets go of them."""
    step = step_of(book, identity)
    if isinstance(step, Journey):
        raise TypeError(identity)
    anybody = text.strip().casefold() in {"", words.say(say.ANYBODY).casefold()}
    known = {person.name: str(person.id) for person in book.people}
    wanted = () if anybody else typed.people(text, known)
    people = tuple(PersonId(person) for person in wanted)
    pin = replace(step.pin or Pin(), people=people)
    return pin_step(book, identity, None if pin == Pin() else pin)


def pin_as_planned(
    book: Book, identity: StepId, start: datetime, people: tuple[PersonId, ...]
) -> Edited:
    """Pin a step to when it is planned and to its people; a pinned one is let go."""
    step = step_of(book, identity)
    if isinstance(step, Journey) or step.pin is not None:
        return pin_step(book, identity, None)
    return pin_step(book, identity, Pin(start=start, people=people))


def steps_of(job: Job, segment: SegmentId | None) -> tuple[Step, ...]:
    """Return the steps that touch a segment, in order; all of them for None."""
    if segment is None:
        return job.steps
    return tuple(step for step in job.steps if not step.segments or segment in step.segments)


def moved_step(book: Book, identity: StepId, segment: SegmentId | None, stride: int) -> Edited:
    """Move a step before or after its neighbour on a segment; at the end it stays."""
    owner = job_of_step(book, identity)
    mine = steps_of(owner, segment)
    here = next(index for index, step in enumerate(mine) if step.id == identity)
    there = max(0, min(here + stride, len(mine) - 1))
    return move_step(book, identity, owner.steps.index(mine[there]))


def stage_after(book: Book, identity: StepId, segment: SegmentId | None, words: Words) -> Edited:
    """Add a stage behind a step, with the hands of a stage of its job and an hour's work."""
    owner = job_of_step(book, identity)
    here = step_of(book, identity)
    like = here if isinstance(here, Stage) else _any_stage(owner)
    over = here.segments or ((segment,) if segment else ())
    made = Stage(
        id=StepId(fresh_id(f"{owner.id}.stage", step_ids(book))),
        name=words.say(say.NEW_STAGE),
        kind=like.kind if like else Kind.FOAM,
        segments=over,
        ways=tuple(replace(w, hours=_same(NEW_STAGE_HOURS)) for w in like.ways)
        if like
        else (Way(id="usual", needs=_any_need(book), hours=_same(NEW_STAGE_HOURS)),),
    )
    return add_step(book, owner.id, made, owner.steps.index(here) + 1)


def _any_stage(owner: Job) -> Stage | None:
    return next((step for step in owner.steps if isinstance(step, Stage)), None)


def _any_need(book: Book) -> tuple[Need, ...]:
    skills: tuple[SkillId, ...] = tuple(s.skill for p in book.people for s in p.skills)
    return (Need(skill=skills[0]),) if skills else ()


def answer_after(book: Book, identity: StepId, words: Words) -> Edited:
    """Add an answer of the client behind a step, for all of the job."""
    owner = job_of_step(book, identity)
    here = step_of(book, identity)
    made = Gate(
        id=StepId(fresh_id(f"{owner.id}.answer", step_ids(book))),
        name=say.gate(words, GateKind.ANSWER),
        gate=GateKind.ANSWER,
    )
    return add_step(book, owner.id, made, owner.steps.index(here) + 1)


def fit_after(book: Book, identity: StepId, words: Words) -> Edited:
    """Add a trial fit behind a step, for all of the job."""
    owner = job_of_step(book, identity)
    here = step_of(book, identity)
    made = Gate(
        id=StepId(fresh_id(f"{owner.id}.fit", step_ids(book))),
        name=say.gate(words, GateKind.TRIAL_FIT),
        gate=GateKind.TRIAL_FIT,
    )
    return add_step(book, owner.id, made, owner.steps.index(here) + 1)


Writing = Callable[[Book, str], Edited]

"""The evening: a day ticked as told with one key, and what went otherwise said stage by stage."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from app.window.people import edits
from app.window.people.how import How, how
from app.window.people.items import Bar, Sort
from app.window.people.panel import Entry, Panel, who_and_until, work_of_job
from app.window.sheet.typed import NotTaken
from app.words import Words, floor
from app.words import evening as say
from app.words.changes import SOMEBODY
from app.words.facts import facts_in_words
from app.words.voice import capital
from shared.as_told import as_told
from shared.book import Answer, Book, Fact, FactKind, Gate, GateKind, Held
from shared.edits import Edited, NotNow, tell_done, tell_fact, tell_held, tell_left, tell_material
from shared.edits import tick_as_told as ticked
from shared.edits.lookup import job_of_step
from shared.ids import FactId
from shared.plan import Placement, Plan
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from datetime import datetime

    from app.window.people.view import PeopleView

GATES_MAX = 3


@dataclass(slots=True)
class Evening:
    """Whether it is being said what went otherwise, and what was put down last.

    revision: of the book that it was put down in.
    """

    is_open: bool = False
    said: str = ""
    revision: int = -1


def shown(view: "PeopleView", bar: Bar | None) -> tuple[Panel, dict[str, Callable[[], object]]]:
    """Return what stands at the side while it is said what went otherwise, and what it does."""
    words, board = view.desk.words, view.base
    assert board is not None
    if bar is None or bar.sort is not Sort.WORK or bar.part:
        return _of_day(view)
    does: dict[str, Callable[[], object]] = {}
    entries = []
    choices = [("done", words.say(say.IS_DONE))]
    if not bar.is_running:
        choices += [
            (why.value, words.say(say.HELD_BY, why=words.say(floor.WHY[why]))) for why in Held
        ]
    for at, (what, head) in enumerate(choices if not bar.is_done else [], start=1):
        entries.append(Entry(id=f"evening {what}", key=str(at), head=head))
        held_by = Held(what) if what != "done" else None
        does[f"evening {what}"] = partial(put_down, view, bar, How(held_by=held_by))
    keys = () if bar.is_done else (("C", words.say(say.DO_CAME)),)
    panel = Panel(
        title=work_of_job(words, bar),
        sub=who_and_until(words, board, bar, view.desk.now),
        lead=(*said_last(view), words.say(say.HOW_MEANS)),
        entries=tuple(entries),
        keys=(*keys, ("T", words.say(say.DO_REST_AS_TOLD))),
        is_close=True,
    )
    return panel, does


def _of_day(view: "PeopleView") -> tuple[Panel, dict[str, Callable[[], object]]]:
    """Return what is said of no one piece of work: which answers came."""
    words, entries = view.desk.words, list[Entry]()
    does: dict[str, Callable[[], object]] = {}
    for gate in _awaited(view):
        for answer in Answer:
            identity = f"evening {gate.id} {answer.value}"
            text = _answer_text(view, gate, answer)
            entries.append(Entry(id=identity, key=str(len(entries) + 1), head=text))
            does[identity] = partial(put_answer_down, view, gate, answer)
    panel = Panel(
        title=words.say(say.TITLE),
        sub=words.say(say.CHOOSE),
        lead=said_last(view),
        entries=tuple(entries),
        keys=(("T", words.say(say.DO_REST_AS_TOLD)), ("S", words.say(say.DO_SHEET))),
        is_close=True,
    )
    return panel, does


def _answer_text(view: "PeopleView", gate: Gate, answer: Answer) -> str:
    words, book = view.desk.words, _book(view)
    job = words.names.of("job", job_of_step(book, gate.id).id)
    return capital(words.say(say.ANSWERS[answer.value], gate=gate.name, job=job))


def _awaited(view: "PeopleView") -> tuple[Gate, ...]:
    """Return whose answer is awaited: pictures are out by fact or by plan, and no yes came."""
    book, plan, now = _book(view), view.desk.plan, view.desk.now
    over = {f.step for f in book.facts if f.kind is FactKind.DONE}
    over |= {f.step for f in book.facts if f.answer is not None and f.answer is not Answer.NO}
    begun = {p.step: p.start for p in plan.placements if p.start <= now} if plan else {}
    begun |= {f.step: f.at for f in book.facts if f.kind is FactKind.PICTURES}
    gates = [
        step
        for job in book.jobs
        for step in job.steps
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER
    ]
    found = [gate for gate in gates if gate.id in begun and gate.id not in over]
    return tuple(sorted(found, key=lambda gate: begun[gate.id])[:GATES_MAX])


def said_last(view: "PeopleView") -> tuple[str, ...]:
    """Return what was put down last, as long as the book stays as it is."""
    evening = view.evening
    is_so = bool(evening.said) and evening.revision == _book(view).revision
    return (evening.said,) if is_so else ()


def _book(view: "PeopleView") -> Book:
    assert view.desk.document is not None
    return view.desk.document.book


# Putting it down.


def take_typed(view: "PeopleView", bar: Bar | None, text: str) -> None:
    """Put down how a piece of work went, as it was typed.

    Raises NotTaken where it can't be meant, or can't have been.
    """
    if bar is None or not text.strip():
        return
    words = view.desk.words
    placed = _placed(view.desk.plan, bar)
    end = placed.end if placed is not None else view.desk.now
    try:
        _put(view, bar, how(text, words, end, view.desk.now))
    except NotNow as no:
        raise NotTaken("because", reason=_why_not(words, no)) from None


def put_down(view: "PeopleView", bar: Bar, went: How) -> None:
    """Put down how a piece of work went; nothing given: it is done as the sheet has it."""
    _or_say(view, lambda: _put(view, bar, went))


def put_material_down(view: "PeopleView", bar: Bar | None) -> None:
    """Put down that all that a piece of work takes has come."""
    if bar is None or bar.step is None or bar.sort is not Sort.WORK:
        return
    step, desk = bar.step, view.desk

    def put() -> None:
        edited = tell_material(_book(view), step, desk.now, desk.who)
        job = job_of_step(edited.book, step).id
        _keep(view, edited, floor.came_line(desk.words, job, step, desk.now, _who(view)))

    _or_say(view, put)


def put_answer_down(view: "PeopleView", gate: Gate, answer: Answer) -> None:
    """Put down what a client said, and that it was said by now."""
    desk = view.desk
    fact = Fact(
        id=FactId(f"{gate.id}.{answer.value}"),
        kind=FactKind.ANSWER,
        step=gate.id,
        at=desk.now,
        told_by=desk.who,
        told_at=desk.now,
        answer=answer,
    )
    text = _answer_text(view, gate, answer)
    said = capital(desk.words.say(say.ANSWERED, who=_who(view), answer=text))
    _keep(view, tell_fact(_book(view), fact), said)


def _put(view: "PeopleView", bar: Bar, went: How) -> None:
    """Put down how a piece of work went. Raises NotNow."""
    desk, book, who = view.desk, _book(view), _who(view)
    words, now, by = desk.words, desk.now, desk.who
    assert bar.step is not None
    placed, step = _placed(desk.plan, bar), bar.step
    job = job_of_step(book, step).id
    if went.hours is not None:
        edited = tell_left(book, step, went.hours, now, by, went.held_by, placed)
        lines = floor.left_lines(words, job, step, went.hours, now, who, went.held_by)
    elif went.held_by is not None:
        edited = tell_held(book, step, went.held_by, now, by)
        lines = [floor.held_line(words, job, step, now, who, went.held_by)]
    else:
        edited = tell_done(book, step, now, by, went.over, placed)
        lines = [floor.done_line(words, job, step, edited.book.facts[-1].at, who)]
    _keep(view, edited, " ".join(lines))


def _placed(plan: Plan | None, bar: Bar) -> Placement | None:
    return edits.placed(plan, bar) if plan is not None else None


def _who(view: "PeopleView") -> str:
    return view.desk.who or view.desk.words.say(SOMEBODY)


def _keep(view: "PeopleView", edited: Edited, said: str) -> None:
    """Make an edit and say what was put down."""
    desk, evening = view.desk, view.evening
    evening.said, evening.revision = said, edited.book.revision
    desk.edit(edited)
    _say(view, said)


def _say(view: "PeopleView", text: str) -> None:
    view.desk.note = text
    view.desk.state_changed.emit()


def _or_say(view: "PeopleView", put: Callable[[], object]) -> None:
    """Do something, or say why it can't have been."""
    try:
        put()
    except NotNow as no:
        _say(view, _why_not(view.desk.words, no))


def _why_not(words: Words, no: NotNow) -> str:
    facts = facts_in_words(words, no.facts.items(), words.zone)
    template = say.NOT_NOW.get(no.code)
    return words.say(template, **facts) if template else words.trouble(no.code, **facts)


# As told.


def tick(view: "PeopleView") -> None:
    """Tick the last day on the sheet of which something is over and not marked."""
    _or_say(view, lambda: _tick(view))


def _tick(view: "PeopleView") -> None:
    desk, book = view.desk, _book(view)
    day = day_to_tick(book, desk.now)
    made = ticked(book, day, desk.now, desk.who)
    assert book.told is not None
    placed = {p.step: p for p in book.told.plan.placements if not p.part}
    left = [
        (job_of_step(book, step).id, step, why_not_ticked(book, placed[step])) for step in made.left
    ]
    said = say.ticked_line(desk.words, day, len(made.done), left, _who(view))
    view.close_evening()
    view.part.choose(None)
    if made.edited is not None:
        _keep(view, made.edited, said)
    else:
        view.evening.said, view.evening.revision = said, book.revision
        _say(view, said)
        view.refresh()


def day_to_tick(book: Book, now: "datetime") -> date:
    """Return the last day of which work can be ticked, else of which some is not marked."""
    zone = book.workshop.zone
    over = [each.at for each in as_told(book, now) if each.kind is FactKind.DONE]
    if over:
        return local_date(max(over), zone)
    known = {fact.step for fact in book.facts if fact.kind is FactKind.DONE}
    known |= {step.id for job in book.jobs for step in job.steps if isinstance(step, Gate)}
    ended = [
        p.end
        for p in (book.told.plan.placements if book.told else ())
        if p.end <= now and not p.part and p.people and p.step not in known
    ]
    return local_date(max(ended, default=now), zone)


def why_not_ticked(book: Book, placed: Placement) -> str:
    """Return why work of the sheet is not taken for done: one of the reasons that have words."""
    facts = [fact for fact in book.facts if fact.step == placed.step]
    if any(fact.kind is FactKind.RUNNING and fact.remaining_hours for fact in facts):
        return "hours"
    if any(fact.kind is FactKind.HELD for fact in facts):
        return "held"
    people = {person.id: person for person in book.people}
    for one in placed.people:
        leaves = people[one].leave if one in people else ()
        is_gone = one not in people
        if is_gone or any(e.start < placed.end and e.end > placed.start for e in leaves):
            return "away"
    return "before"

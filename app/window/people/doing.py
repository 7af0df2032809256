"""What can be done about what is chosen: offers with their figures, and what each figure does."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from app.window.people import edits, evening
from app.window.people.free import Candidate, candidates, of_segment
from app.window.people.items import Bar, Line, Sort
from app.window.people.panel import Panel, at_rest, of_absence, of_bar, of_line
from app.window.sheet.writing import pin_as_planned
from app.window.trial import whole_edit
from app.words import people_view as say
from app.words import window as said
from shared.book import Book
from shared.edits import Edited, give_segment, give_stage, left_on, mark_done
from shared.ids import PersonId, StepId
from shared.plan import Placement, Plan

if TYPE_CHECKING:
    from app.window.people.view import PeopleView

Doing = dict[str, Callable[[], object]]
PAIR = 2


def offered(view: "PeopleView") -> tuple[Panel, Doing]:
    """Return what stands at the side, and what its figures do."""
    if view.awaying.is_open:
        panel = view.awaying.panel()
        numbers = [int(entry.key) for entry in panel.entries]
        return panel, {f"answer {n}": partial(_try_answer, view, n) for n in numbers}
    bar, line = chosen(view)
    if view.evening.is_open:
        return evening.shown(view, bar)
    desk, board = view.desk, view.base
    assert board is not None
    assert desk.document is not None
    book, plan = desk.document.book, desk.plan
    if bar is not None and line is not None and bar.sort is Sort.WORK and plan is not None:
        return _of_work(view, book, plan, bar, line)
    if bar is not None and line is not None and bar.sort is Sort.AWAY:
        return of_absence(desk.words, bar, line), {"back": partial(come_back, view, bar, line)}
    if line is not None:
        return of_line(desk.words, book, plan, line, desk.now), {}
    lead = evening.said_last(view)
    panel, bars = at_rest(desk.words, book, plan, board, desk.now, lead)
    return panel, {f"done {each.id}": partial(finish, view, each) for each in bars}


def chosen(view: "PeopleView") -> tuple[Bar | None, Line | None]:
    """Return the bar and the row that are chosen."""
    board = view.base
    if board is None or not view.choice.line:
        return None, None
    line = board.line(view.choice.line)
    return board.bar(view.choice.line, view.choice.bar), line


def _of_work(
    view: "PeopleView", book: Book, plan: Plan, bar: Bar, line: Line
) -> tuple[Panel, Doing]:
    segment = _segment(view, bar, book)
    found = _candidates(view, book, plan, bar, line)
    panel = of_bar(
        view.desk.words,
        bar,
        line,
        found,
        view.giving.judged,
        tried=view.giving.tried,
        segment=segment,
        picked=view.choice.picked,
    )
    if segment:
        does: Doing = {f"give {c.person}": partial(pick_person, view, bar, c.person) for c in found}
    else:
        does = {f"give {c.person}": partial(_give, view, bar, line.id, c.person) for c in found}
    return panel, does


def _segment(view: "PeopleView", bar: Bar, book: Book) -> str:
    if not view.choice.is_whole or len(bar.segments) != 1:
        return ""
    names = {s.id: s.name for job in book.jobs for s in job.segments}
    return names.get(bar.segments[0], "")


def _candidates(
    view: "PeopleView", book: Book, plan: Plan, bar: Bar, line: Line
) -> tuple[Candidate, ...]:
    now = view.desk.now
    if view.choice.is_whole and len(bar.segments) == 1:
        return of_segment(book, plan, now, bar.segments[0])
    placed = edits.placed(plan, bar)
    if placed is None or bar.is_done or bar.part:
        return ()
    leaves = None if line.is_place else PersonId(line.id)
    return candidates(book, plan, now, placed.step, placed.people, leaves)


# Giving.


def _give(view: "PeopleView", bar: Bar, line: str, to: PersonId) -> None:
    is_tried = view.giving.tried == to and view.desk.trial is not None
    view.take_or(is_tried=is_tried, do=partial(try_person, view, bar, line, to))


def try_person(view: "PeopleView", bar: Bar, line: str, to: PersonId) -> None:
    """Try a piece of work with somebody in the place of whoever's row it was in."""
    given = _given(view, bar, line, to)
    if given is not None:
        edited, what, step = given
        view.giving.try_(edited, what, to, (step,))


def judge_person(view: "PeopleView", bar: Bar, line: Line, to: Line) -> str:
    """Return what letting go over a person's row would do; ask what it does to the windows."""
    words = view.desk.words
    facts = {"work": bar.name, "who": to.name}
    if not could(view, bar, line, to):
        return words.say(say.DRAG_CANNOT, **facts)
    given = _given(view, bar, line.id, PersonId(to.id))
    if given is not None:
        edited, what, step = given
        view.giving.judge(edited, what, to.id, (step,))
    return judged_text(view, bar, to)


def judged_text(view: "PeopleView", bar: Bar, to: Line) -> str:
    """Return what giving work to a person does, as far as it is known."""
    words = view.desk.words
    told = [words.say(say.DRAG_GIVES, work=bar.name, who=to.name)]
    judged = view.giving.judged.get(to.id)
    if judged is not None:
        told += [*judged.lines, *(f"{each.name} {each.text}." for each in judged.slacks)]
    return " ".join(told)


def could(view: "PeopleView", bar: Bar, line: Line, to: Line) -> bool:
    """Return whether somebody could do a piece of work in the place of another."""
    desk = view.desk
    if desk.document is None or desk.plan is None:
        return False
    found = _candidates(view, desk.document.book, desk.plan, bar, line)
    return any(one.person == to.id for one in found)


def _given(
    view: "PeopleView", bar: Bar, line: str, to: PersonId
) -> tuple[Edited, str, StepId] | None:
    """Return the edit that gives work to somebody, what it is called, and the work."""
    document, plan = view.desk.document, view.desk.plan
    if document is None or plan is None or bar.part:
        return None
    placed = edits.placed(plan, bar)
    if placed is None:
        return None
    people = edits.instead(placed, line, to)
    words = view.desk.words
    who = words.names.of("person", to)
    work = words.say(said.STAGE_NAME, segment=bar.what, stage=bar.stage)
    what = words.say(say.GIVES, who=who, work=work)
    return give_stage(document.book, placed.step, people), what, placed.step


def pick_person(view: "PeopleView", bar: Bar, person: PersonId) -> None:
    """Add somebody to those who get all that is left on a segment, or take them off again."""
    picked = view.choice.picked
    picked = tuple(p for p in picked if p != person) if person in picked else (*picked, person)
    view.choice = replace(view.choice, picked=picked[-PAIR:])
    document = view.desk.document
    if document is None:
        return
    if not view.choice.picked:
        view.giving.forget()
        view.desk.leave_trial()
        view.refresh()
        return
    segment, words = bar.segments[0], view.desk.words
    people = tuple(PersonId(one) for one in view.choice.picked)
    names = words.both(words.names.of("person", one) for one in people)
    template = say.GIVES_ALL if len(people) > 1 else say.GIVES_ALL_ONE
    what = words.say(template, who=names, segment=words.names.of("segment", segment))
    edited = give_segment(document.book, segment, people)
    steps = tuple(stage.id for stage in left_on(document.book, segment))
    view.giving.try_(edited, what, people[-1], steps)


def other_scope(view: "PeopleView") -> None:
    """Speak of all that is left on the segment, or of the one stage again."""
    bar, _ = chosen(view)
    if bar is None or bar.sort is not Sort.WORK or len(bar.segments) != 1:
        return
    view.giving.forget()
    view.desk.leave_trial()
    view.choice = replace(view.choice, is_whole=not view.choice.is_whole, picked=())
    view.refresh()


def give_beside(view: "PeopleView", stride: int) -> None:
    """Try what is chosen with the next person below or above who could do it."""
    bar, line = chosen(view)
    board = view.base
    if bar is None or line is None or board is None or bar.sort is not Sort.WORK:
        return
    could = {entry.id.removeprefix("give ") for entry in view.side.panel.entries}
    ids = [each.id for each in board.people]
    here = view.giving.tried or line.id
    at = ids.index(here) if here in ids else 0
    order = ids[at + 1 :] if stride > 0 else list(reversed(ids[:at]))
    to = next((each for each in order if each in could), None)
    if to is not None:
        try_person(view, bar, line.id, PersonId(to))


# Finished, pinned.


def finish_chosen(view: "PeopleView") -> None:
    """Mark what is chosen as finished."""
    bar, _ = chosen(view)
    if bar is not None:
        finish(view, bar)


def finish(view: "PeopleView", bar: Bar) -> None:
    """Mark a piece of work as finished: when it was to end, or now if that is still to come."""
    desk = view.desk
    document, plan = desk.document, desk.plan
    placed = edits.placed(plan, bar) if plan is not None else None
    if document is None or bar.sort is not Sort.WORK:
        return
    words = desk.words
    if bar.is_done or placed is None:
        desk.note = words.say(say.ALREADY if bar.is_done else say.NOT_BEGUN)
        desk.state_changed.emit()
        return
    desk.edit(mark_done(document.book, placed, desk.now, desk.who))
    work = words.say(said.STAGE_NAME, segment=bar.what, stage=bar.stage)
    moment = said.short_moment(words, min(placed.end, desk.now))
    desk.note = words.say(say.FINISHED_NOTE, work=work, moment=moment)
    desk.state_changed.emit()


def pin_chosen(view: "PeopleView") -> None:
    """Pin what is chosen to its time and people, or let go of it."""
    bar, _ = chosen(view)
    document, plan = view.desk.document, view.desk.plan
    if bar is None or document is None or plan is None:
        return
    placed: Placement | None = edits.placed(plan, bar)
    if placed is not None and not bar.part:
        edit = pin_as_planned(document.book, placed.step, placed.start, placed.people)
        view.desk.edit(edit)


# Away.


def _try_answer(view: "PeopleView", number: int) -> None:
    is_tried = view.awaying.tried == number and view.desk.trial is not None
    view.take_or(is_tried=is_tried, do=partial(view.awaying.try_, number))


def come_back(view: "PeopleView", bar: Bar, line: Line) -> None:
    """Take an absence out again."""
    document = view.desk.document
    if document is not None:
        view.desk.edit(edits.without_absence(document.book, PersonId(line.id), bar))


def mark_only(view: "PeopleView") -> None:
    """Write an absence down and nothing else."""
    made = view.awaying.mark_only()
    document = view.desk.document
    if made is not None and document is not None:
        book, what = made
        view.desk.edit(whole_edit(document.book, book, what))

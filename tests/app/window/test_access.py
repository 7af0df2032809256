"""The wall as a screen reader meets it: one tree, one sentence for each item."""

import re
from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

from PySide6.QtGui import QAccessible, QAccessibleInterface

from app.window.main import MainWindow
from app.window.wall import moves
from app.window.wall.items import Role
from scheduler.outcome import Outcome, StepTimes
from shared.book import Book, Stage
from shared.edits import tell_plan
from shared.order import touched
from shared.plan import Placement
from tests.app.window.conftest import HandEngine
from tests.app.window.scenes import outcome_for, planted
from tests.books.shapes import Planted

REST = r"As on the sheet of [^.]+\.( Waited [^.]+ for [^.]+\.)?"
Name, Description = QAccessible.Text.Name, QAccessible.Text.Description


def tree(window: MainWindow) -> QAccessibleInterface:
    found = QAccessible.queryAccessibleInterface(window.wall)
    assert found is not None
    return found


def children(of: QAccessibleInterface) -> list[QAccessibleInterface]:
    return [of.child(index) for index in range(of.childCount())]


def test_the_tree_is_wall_job_segment_stage(window: MainWindow) -> None:
    wall = window.wall.wall
    root = tree(window)

    assert root.role() == QAccessible.Role.Tree
    assert [job.text(Name) for job in children(root)] == [b.header.name for b in wall.bands]
    job = root.child(0)
    segments = children(job)[: wall.bands[0].row_count]
    assert [s.text(Name).split(",")[0] for s in segments] == ["Head", "Body", "Left wing",
        "Right wing", "Perch"]  # fmt: skip
    stages = children(segments[1])
    assert [s.text(Name) for s in stages][:2] == ["Body, block", "Body, carve"]
    gates = [c.text(Name) for c in children(job)[wall.bands[0].row_count :]]
    assert gates[:3] == ["Reading owl, the answer", "Reading owl, trial fit",
        "Reading owl, loading"]  # fmt: skip


def test_forty_marks_are_told_in_sentences(window: MainWindow) -> None:
    told = 0
    for job in children(tree(window)):
        for below in children(job):
            for each in (below, *children(below)):
                text = each.text(Description)
                assert text.endswith("."), text
                assert "{" not in text
                assert each.text(Name) in text or each.text(Name).split(",")[0] in text
                told += 1
    assert told >= 40


def test_forty_stages_are_told_in_one_order(window: MainWindow, engine: HandEngine) -> None:
    """What, whose, kind and people, when, where, then, to spare, standing, why.

    What has to be said is asked of book and plan, not of what writes the sentences.
    """
    made = planted()
    assert made.plan is not None
    assert window.desk.document is not None
    window.desk.edit(tell_plan(window.desk.document.book, made.plan, made.now))
    engine.answer(with_times(made, window.desk.document.book.revision))
    book, placed = window.desk.document.book, {p.step: p for p in made.plan.placements}
    told, sure = 0, dict.fromkeys(("then", "why"), 0)
    for job, node in zip(book.jobs, children(tree(window)), strict=True):
        names = {segment.name: segment for segment in job.segments}
        for row in children(node)[: len(names)]:
            segment = names[row.text(Name).split(",")[0]]
            steps = [s for s in job.steps if isinstance(s, Stage) and segment.id in touched(job, s)]
            by_name = {f"{segment.name}, {s.name}": s for s in steps}
            for mark in children(row):
                step = by_name.get(mark.text(Name))
                if step is None:
                    continue
                parts = parts_of(mark.text(Name), job.name, step, placed[step.id], book)
                text = mark.text(Description)
                at = -1
                for part in parts:
                    found = text.find(part, at + 1)
                    assert found > at, (part, text)
                    at = found
                rest = text[at:]
                assert re.fullmatch(REST, rest), rest
                sure["then"] += " Then " in text
                sure["why"] += "Waited " in rest
                told += 1
    assert told >= 40
    assert all(sure.values()), sure


def with_times(made: Planted, revision: int) -> Outcome:
    """Give an outcome that has counted back every step, each with three days to spare."""
    assert made.plan is not None
    later, outcome = timedelta(days=3), outcome_for(made)
    jobs = tuple(
        replace(
            job,
            steps=tuple(
                StepTimes(step=p.step, latest_start=p.start + later, latest_end=p.end + later)
                for p in made.plan.placements
                if p.job == job.id
            ),
        )
        for job in outcome.jobs
    )
    return replace(outcome, revision=revision, jobs=jobs)


def parts_of(name: str, job: str, step: Stage, placed: Placement, book: Book) -> list[str]:
    """What must be said of a stage, in its order."""
    people = {person.id: person.name for person in book.people}
    places = {place.id: place.name for place in book.places}
    start = placed.start.astimezone(ZoneInfo(book.workshop.zone))
    kinds = {"fill": "Fill and sand", "pack": "Fit and pack"}
    found = [f"{name}.", f" {job}.", kinds.get(step.kind, step.kind.capitalize())]
    found += [people[who] for who in sorted(placed.people, key=lambda who: people[who])]
    found += [f"{start:%a} {start.day} {start:%b} {start:%H:%M}"]
    found += [places[placed.place]] if placed.place else []
    return [*found, " to spare.", "As on the sheet of "]


def test_parents_and_children_agree(window: MainWindow) -> None:
    root = tree(window)
    for index, job in enumerate(children(root)):
        assert root.indexOfChild(job) == index
        assert job.parent().text(Name) == root.text(Name)
        for place, below in enumerate(children(job)):
            assert job.indexOfChild(below) == place
            assert below.parent().text(Name) == job.text(Name)
            assert all(c.parent().text(Name) == below.text(Name) for c in children(below))


def test_a_stage_lies_where_it_is_painted_and_is_found_there(window: MainWindow) -> None:
    block = max(window.wall.wall.rows[1].blocks, key=lambda b: b.end - b.start)
    node = next(
        c for s in children(tree(window).child(0)) for c in children(s)
        if c.text(Name) == block.name and c.text(Description) == block.description
    )  # fmt: skip
    box = node.rect()

    assert box.topLeft() == window.wall.mapToGlobal(window.wall.item_rect(block).topLeft())
    found = tree(window).childAt(box.center().x(), box.center().y())
    assert found.text(Name) == block.name


def test_what_is_chosen_has_the_focus(window: MainWindow) -> None:
    block = window.wall.wall.rows[0].blocks[2]
    window.wall.choose(moves.at(window.wall.wall, block.id))
    window.activateWindow()
    window.wall.setFocus()
    focused = tree(window).focusChild()

    assert focused is not None
    assert focused.text(Name) == block.name
    assert focused.state().selected
    assert focused.state().focused


def test_nodes_of_items_that_are_gone_say_so_and_nothing_breaks(
    window: MainWindow, engine: HandEngine
) -> None:
    document = window.desk.document
    assert document is not None
    job = tree(window).child(0)
    stage = job.child(0).child(0)
    assert stage.isValid()
    from shared.edits import remove_job

    window.desk.edit(remove_job(document.book, document.book.jobs[0].id))

    assert not stage.isValid()
    assert stage.text(Name) == ""
    assert stage.state().invisible
    assert tree(window).childCount() == 2
    window.desk.undo()
    assert stage.isValid()
    engine.answer(outcome_for(planted()))


def test_items_that_are_only_drawn_are_not_in_the_tree(window: MainWindow) -> None:
    names = {c.text(Name) for j in children(tree(window)) for s in children(j) for c in children(s)}
    drawn = [i for i in window.wall.wall.items if i.role in {Role.CURE, Role.WAIT}]

    assert drawn
    assert len(names) > 20


def test_sentences_of_masthead_and_foot_are_names(window: MainWindow) -> None:
    assert window.masthead.accessibleName() == window.masthead.shown.sentence
    assert window.foot.accessibleName().startswith("Planned 07:41")

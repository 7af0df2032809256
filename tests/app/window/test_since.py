"""An old plan: what has changed since is named and framed, and the wall says that it is old."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication

from app.window.main import MainWindow
from app.window.theme import theme
from app.window.wall.derive import derive
from app.window.wall.items import Role
from app.window.wall.paint_pointed import paint_since
from app.window.wall.since import changes_since, marked
from app.words import Words
from shared.book import Book, Leave, Stage
from shared.edits import change_job
from shared.ids import PersonId
from tests.app.window.conftest import HandEngine
from tests.app.window.scenes import laid_out, outcome_for, planted, shown


def longer(book: Book, hours: int) -> tuple[Book, Stage]:
    """Let the first stage with a way take so many person-hours more."""
    job = book.jobs[0]
    stage = next(s for s in job.steps if isinstance(s, Stage) and s.ways)
    way = stage.ways[0]
    more = replace(way.hours, likely=way.hours.likely + hours, high=way.hours.high + 20)
    changed = replace(stage, ways=(replace(way, hours=more), *stage.ways[1:]))
    steps = tuple(changed if step.id == stage.id else step for step in job.steps)
    return change_job(book, replace(job, steps=steps)).book, changed


def is_old(window: MainWindow) -> bool:
    return window.wall.wall.is_stale


def test_what_is_as_it_was_is_not_named() -> None:
    book = planted().book
    assert changes_since(book, book) == ()


def test_hours_somebody_away_and_a_window_are_named_where_they_are() -> None:
    made = planted()
    assert made.plan is not None
    book, stage = longer(made.book, 6)
    placed = next(p for p in made.plan.placements if p.people)
    leave = Leave(start=placed.start, end=placed.end + timedelta(hours=1))
    people = tuple(
        replace(each, leave=(*each.leave, leave)) if each.id == placed.people[0] else each
        for each in book.people
    )
    job = book.jobs[1]
    held = job.held_window
    assert held is not None
    later = replace(held, end=held.end + timedelta(days=1))
    windows = tuple(later if each.id == held.id else each for each in job.windows)
    jobs = (book.jobs[0], replace(job, windows=windows), *book.jobs[2:])
    book = replace(book, people=people, jobs=jobs)

    found = changes_since(made.book, book)
    assert [(each.step, each.more) for each in found if each.step] == [(stage.id, Decimal(6))]
    assert [each.job for each in found if each.job] == [job.id]
    assert [each.person.id for each in found if each.person] == [placed.people[0]]

    words = Words("en", book=book)
    wall = derive(replace(shown(), book=book, before=made.book, is_stale=True), words)
    marks = dict(wall.since)
    name = next(p.name for p in book.people if p.id == PersonId(placed.people[0]))
    assert f"{name} away" in marks.values()
    framed = [wall.by_id[each] for each in marks]
    assert {item.step for item in framed if marks[item.id] == "+6 h"} == {stage.id}
    assert [item.job for item in framed if item.role is Role.WINDOW] == [job.id]
    for item in framed:
        if marks[item.id] == f"{name} away":
            assert placed.people[0] in item.people
            assert item.start < (placed.end + timedelta(hours=1)).timestamp() / 60
    assert marked((), wall.items, words) == ()


def test_a_plan_of_this_book_has_no_frames() -> None:
    made = planted()
    book, _ = longer(made.book, 6)
    wall = derive(replace(shown(), book=book, before=made.book), Words("en", book=book))
    assert wall.since == ()


def test_after_the_planner_stopped_the_wall_is_veiled_and_shows_what_changed(
    window: MainWindow, engine: HandEngine
) -> None:
    document = window.desk.document
    assert document is not None
    assert not is_old(window)
    book, stage = longer(document.book, 6)
    window.desk.edit(change_job(document.book, book.jobs[0]))
    window.desk.plan_now()
    assert not is_old(window), "another plan is on its way"
    engine.is_busy = False
    engine.died.emit("")
    assert is_old(window)
    marks = dict(window.wall.wall.since)
    assert {window.wall.wall.by_id[each].step for each in marks} == {stage.id}
    assert set(marks.values()) == {"+6 h"}
    told = window.masthead.shown.next[0][0]
    assert f"{stage.name} on " in told
    assert "takes 6 h more. Sheets printed now would be wrong" in told

    window.desk.plan_now()
    engine.answer(replace(outcome_for(planted()), revision=document.book.revision))
    assert not is_old(window)
    assert window.wall.wall.since == ()


def test_frames_lie_round_what_changed_in_dashes(prepared: QApplication) -> None:
    made = planted()
    book, _ = longer(made.book, 6)
    told = replace(shown(outcome=outcome_for(made)), book=book, before=made.book, is_stale=True)
    wall = derive(told, Words("en", book=book))
    item = next(each for name, _ in wall.since if (each := wall.by_id[name]).role is Role.BLOCK)
    layout = laid_out(wall, per_day=96)
    layout = replace(layout, scale=layout.scale.moved(layout.scale.x(item.start) - 300))
    image = QImage(layout.width, layout.height, QImage.Format.Format_RGB32)
    of = theme("light")
    image.fill(of.paper)
    painter = QPainter(image)
    paint_since(painter, wall, layout, of)
    painter.end()
    thick = min(layout.thickness(item.hands), layout.heights[item.row])
    y = layout.row_middle(item.row) - thick // 2 - 4
    left, right = layout.span_x(item)
    inks = [image.pixelColor(x, y) == of.ink for x in range(left - 4, right + 4)]
    assert inks[0]
    assert 0.4 < sum(inks) / len(inks) < 0.8
    assert image.pixelColor((left + right) // 2, layout.row_middle(item.row)) == of.paper

"""Orders: what is shown of a buying list, and how a hand or the keyboard marks it."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.document import Document
from app.window.main import MainWindow
from app.window.orders.derive import Orders, derive, next_parts, sentence
from app.window.orders.view import OrdersView
from app.window.views.view import Which
from app.words import Words
from shared.book import Book, MaterialKind, Stage
from shared.orders import buying, comes, usable_from
from shared.worktime.zones import local_date
from tests.app.window.bought import bought
from tests.app.window.conftest import HandEngine
from tests.app.window.hands import click, key
from tests.app.window.scenes import outcome_for
from tests.books.shapes import Planted

CTRL = Qt.KeyboardModifier.ControlModifier


def shown(made: Planted, *, spare_days: int = 2) -> Orders:
    """Give what the view shows of a planted book."""
    assert made.plan is not None
    words, found = Words("en", book=made.book), buying(made.book, made.plan, made.now)
    outcome = outcome_for(made, spare_days=spare_days)
    return derive(made.book, made.plan, outcome, found, words, local_date(made.now, words.zone))


def said(made: Planted) -> str:
    words, materials = Words("en", book=made.book), made.book.materials
    names = {each.id: each.name for each in materials}
    return sentence(shown(made), words, names, local_date(made.now, words.zone))


def ordered_later(lead_days: int) -> Planted:
    """Give the book in which every supplier takes so many working days."""
    made = bought()
    suppliers = tuple(replace(each, lead_days=lead_days) for each in made.book.suppliers)
    return replace(made, book=replace(made.book, suppliers=suppliers))


def test_lines_stand_by_the_day_of_the_order() -> None:
    made = bought()
    lines = shown(made).to_order
    days = [line.order.day for line in lines if line.order]

    assert days == sorted(days)
    assert len({line.id for line in lines}) == len(lines)
    assert {line.kind for line in lines} >= {MaterialKind.FOAM, MaterialKind.RESIN}


def test_the_figure_counts_working_days_from_today() -> None:
    made = bought()
    today = local_date(made.now, made.book.workshop.zone)
    line = next(line for line in shown(made).to_order if line.order and line.order.day > today)
    assert line.order is not None
    day = line.order.day
    weekdays = sum(
        date.fromordinal(each).weekday() < 5 for each in range(today.toordinal(), day.toordinal())
    )

    assert 0 <= weekdays - int(line.figure) <= 2, "holidays only take away"


def test_what_comes_too_late_says_so_and_offers_a_cure() -> None:
    lines = shown(ordered_later(40)).to_order
    late = [line for line in lines if line.order and line.order.dates.late_days]

    assert late
    for line in late:
        assert line.is_late
        assert line.alarms
        assert line.cure
        assert line.begin


def test_a_job_with_enough_to_spare_is_offered_to_begin_later() -> None:
    made = ordered_later(40)
    enough = next(line for line in shown(made, spare_days=90).to_order if line.begin)
    little = next(line for line in shown(made, spare_days=1).to_order if line.begin)

    assert "has 90 days to spare" in enough.cure
    assert "only 1 day to spare" in little.cure
    assert "a faster way" in little.cure


def test_who_is_not_named_is_to_be_named() -> None:
    line = next(line for line in shown(bought()).to_order if line.order and "Primer" in line.title)

    assert line.cells[0] == "no day"
    assert line.cure == "Name somebody under W, what is bought."


def test_what_is_late_on_its_way_is_told_with_its_day() -> None:
    line = next(line for line in shown(bought()).on_order if "Resin" in line.title)

    assert line.is_late
    assert line.alarms[0].startswith("Was expected a working day ago. Ring Harbour")


def test_the_sentence_says_the_worst_first() -> None:
    assert said(ordered_later(40)).endswith("first Foam for Reading owl.")
    assert said(bought()) == "Too late, even if it is ordered today: Foam for Reading owl."
    made = bought()
    nothing = replace(made, book=replace(made.book, jobs=()))

    assert (
        said(nothing) == "Nothing is to be ordered: all that the plan needs is here or on its way."
    )


def test_next_dates_are_of_what_is_not_overdue() -> None:
    made = bought()
    words = Words("en", book=made.book)
    names = {each.id: each.name for each in made.book.materials}
    parts = next_parts(shown(made), words, names, local_date(made.now, words.zone))

    assert 0 < len(parts) <= 4


def test_what_is_ordered_in_turn_leaves_nothing_to_order() -> None:
    made = bought()
    assert made.plan is not None
    today = local_date(made.now, made.book.workshop.zone)
    order = buying(made.book, made.plan, made.now).orders[0]
    arrival = comes(made.book, order, today)

    assert arrival >= today
    assert usable_from(made.book, order.material, arrival) > arrival


# The view.


@pytest.fixture
def view(qtbot: QtBot, bare_window: MainWindow, engine: HandEngine) -> OrdersView:
    made = bought()
    bare_window.desk.take(Document(made.book))
    bare_window.show_work()
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    engine.answer(outcome_for(made))
    bare_window.shelf.show(Which.ORDERS)
    found = bare_window.shelf.view
    assert isinstance(found, OrdersView)
    return found


def book_of(view: OrdersView) -> Book:
    assert view.desk.document is not None
    return view.desk.document.book


def test_enter_marks_as_ordered_and_one_undo_takes_it_back(view: OrdersView) -> None:
    before = book_of(view).deliveries
    first = view.to_order.lines[0]
    key(view.to_order, Qt.Key.Key_Return)

    added = book_of(view).deliveries[len(before) :]
    assert [each.material for each in added] == [first.order.material] if first.order else []
    assert first.id not in {line.id for line in view.to_order.lines}
    view.desk.undo()
    assert book_of(view).deliveries == before
    assert view.to_order.lines[0].id == first.id


def test_a_click_on_a_row_only_chooses_it_and_on_its_word_marks_it(view: OrdersView) -> None:
    ladder, before = view.to_order, len(book_of(view).deliveries)
    line = ladder.lines[1]
    row = ladder.spot(line.id)
    act = ladder.spot(f"{line.id} act")
    assert row is not None
    assert act is not None
    click(ladder, row.rect.topLeft())
    assert ladder.line == line
    assert len(book_of(view).deliveries) == before
    click(ladder, act.rect.center())
    assert len(book_of(view).deliveries) == before + 1


def test_what_is_on_its_way_has_come_with_one_key(view: OrdersView) -> None:
    ladder = view.on_order
    ladder.setFocus()
    ladder.choose(ladder.lines[0].id)
    wanted = ladder.lines[0].delivery
    key(ladder, Qt.Key.Key_Return)

    came = [each for each in book_of(view).deliveries if each.arrived]
    assert wanted is not None
    assert [each.material for each in came] == [wanted.material]
    assert (came[0].at, came[0].told_by) == (view.desk.now, view.desk.who)
    view.desk.undo()
    assert not any(each.arrived for each in book_of(view).deliveries)


def test_plus_and_minus_move_its_day_and_are_one_undo(view: OrdersView) -> None:
    ladder = view.on_order
    ladder.setFocus()
    ladder.choose(ladder.lines[-1].id)
    before = book_of(view).deliveries
    for _ in range(3):
        key(ladder, Qt.Key.Key_Plus)
    moved = book_of(view).deliveries
    assert moved != before
    assert local_date(moved[-1].at, view.desk.words.zone).weekday() < 5
    key(ladder, Qt.Key.Key_Minus)
    assert book_of(view).deliveries != moved
    view.desk.undo()
    assert book_of(view).deliveries == before


def test_one_lets_the_work_wait_for_what_comes_late(view: OrdersView, engine: HandEngine) -> None:
    made = ordered_later(40)
    view.desk.take(Document(made.book))
    engine.answer(outcome_for(made))
    line = next(line for line in view.to_order.lines if line.begin)
    view.to_order.choose(line.id)
    key(view.to_order, Qt.Key.Key_1)

    wanted = dict(line.begin)
    steps = {s.id: s for job in book_of(view).jobs for s in job.steps if isinstance(s, Stage)}
    assert all(steps[step].not_before == day for step, day in wanted.items())
    view.desk.undo()
    assert book_of(view) == replace(made.book, revision=book_of(view).revision)


def test_h_hides_all_money(view: OrdersView) -> None:
    assert "EUR" in view.to_order.said.foot or view.to_order.lines[0].cells[-1]
    key(view.to_order, "h")

    assert all(len(line.cells) == 3 for line in view.to_order.lines)
    assert "hidden" in view.to_order.said.foot
    key(view.to_order, "h")
    assert any(len(line.cells) == 4 for line in view.to_order.lines)


def test_arrows_go_from_row_to_row_and_each_is_told(view: OrdersView, qapp: QApplication) -> None:
    ladder = view.to_order
    ladder.setFocus()
    ladder.choose(ladder.lines[0].id)
    key(ladder, Qt.Key.Key_Down)
    assert ladder.at == ladder.lines[1].id
    key(ladder, Qt.Key.Key_Up)
    assert ladder.at == ladder.lines[0].id
    root = QAccessible.queryAccessibleInterface(ladder)
    assert root is not None
    assert root.text(QAccessible.Text.Name) == "To order"
    first = root.child(0)
    assert first is not None
    assert "order by" in first.text(QAccessible.Text.Name)
    assert "Enter marks it as ordered." in first.text(QAccessible.Text.Description)


@pytest.mark.parametrize("look", ["light", "dark"])
def test_rows_lie_below_one_another_and_within_the_width(view: OrdersView, look: str) -> None:
    view.window().setProperty("ground", look)
    for ladder in (view.to_order, view.on_order):
        rows = [spot.rect for spot in ladder.spots if spot.do is None]
        for above, below in pairwise(rows):
            assert above.bottom() < below.top()
        assert all(rect.right() <= ladder.width() for rect in rows)
        assert not ladder.grab().isNull()


def test_no_material_and_no_plan_are_said(view: OrdersView) -> None:
    bare = replace(book_of(view), materials=(), deliveries=(), jobs=())
    view.desk.take(Document(bare))
    assert view.headline().sentence.startswith("No material is written in this book")
    assert view.headline().next[0][0].startswith("W, what is bought")
    view.desk.take(Document(bought().book))
    assert view.headline().sentence == "What to order goes by the plan, and there is none yet."


def test_the_view_is_one_key_away(window: MainWindow) -> None:
    key(window, Qt.Key.Key_4, CTRL)
    assert window.shelf.front is Which.ORDERS

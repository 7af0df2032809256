"""The owner's view of an enquiry: hands on keys and pointer, what is read out, what is edited."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QPixmap
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.counsel.questions import AskDates, AskPlan, AskRush
from app.document import Document
from app.window.enquiry.dots import LEFT
from app.window.enquiry.view import EnquiryView
from app.window.fonts import text_width
from app.window.main import MainWindow
from app.window.views.view import Which
from scheduler.enquiring import Taking
from scheduler.rush.values import Rush
from shared.book import Book, Job, Standing
from shared.edits import Edited, change_job
from tests.app.window.conftest import HandCounsel, HandEngine
from tests.app.window.enquired import (
    LEAST,
    a_promise,
    a_rush,
    enquiry_of,
    first_look,
    the_book,
    with_,
    without,
)
from tests.app.window.hands import click, key, keys

Key = Qt.Key


def shown(window: MainWindow, qtbot: QtBot, engine: HandEngine, book: Book) -> EnquiryView:
    """Bring the view to the front on a book whose jobs are planned."""
    window.desk.take(Document(book))
    window.show_work()
    window.resize(1366, 768)
    with qtbot.waitExposed(window):
        window.show()
    engine.answer(without(the_book()))
    window.wall.setFocus()
    key(window, Key.Key_5, Qt.KeyboardModifier.ControlModifier)
    view = window.shelf.view
    assert isinstance(view, EnquiryView)
    return view


@pytest.fixture
def view(bare_window: MainWindow, qtbot: QtBot, engine: HandEngine) -> EnquiryView:
    return shown(bare_window, qtbot, engine, the_book())


def usual_rush() -> Rush:
    """Asked for at a job's risk, honest six days later."""
    book = the_book()
    return a_rush(book, a_promise(book, 0, Taking.AT_RISK, 31), a_promise(book, 6, Taking.TAKE))


@pytest.fixture
def answered(view: EnquiryView, counsel: HandCounsel) -> EnquiryView:
    counsel.answer(usual_rush())
    return view


def job_now(view: EnquiryView) -> Job:
    assert view.laid.book is not None
    return next(job for job in view.laid.book.jobs if job.id == enquiry_of(the_book()).id)


def window_of(view: EnquiryView) -> MainWindow:
    window = view.window()
    assert isinstance(window, MainWindow)
    return window


# Asking.


def test_the_enquiry_of_the_book_is_asked_about_and_the_first_look_is_shown(
    view: EnquiryView, counsel: HandCounsel
) -> None:
    asked = counsel.asked[-1]
    assert isinstance(asked, AskRush)
    assert asked.job == enquiry_of(the_book()).id
    assert not view.dots.rows
    counsel.tell(first_look(the_book()))
    assert len(view.dots.rows) == len(the_book().jobs)
    assert not view.dates.columns
    assert view.headline().sentence.startswith("At a first look")
    assert view.headline().is_enquiry


def test_the_whole_answer_brings_dates_money_and_words(answered: EnquiryView) -> None:
    window = window_of(answered)

    assert "risk" in window.masthead.shown.sentence
    assert any("Honest date" in text for text, _ in window.masthead.shown.next)
    assert len(answered.dates.columns) == 2
    assert answered.laid.looked_at == 1
    assert any(row.is_answer and LEAST in row.amount for row in answered.table.rows)
    assert "11,500" in answered.saying.quote.text


def test_a_pencilled_job_is_asked_about_as_if_it_were_an_enquiry(
    bare_window: MainWindow, qtbot: QtBot, engine: HandEngine, counsel: HandCounsel
) -> None:
    shown(bare_window, qtbot, engine, the_book(Standing.PENCILLED))
    asked = counsel.asked[-1]
    assert isinstance(asked, AskRush)
    assert enquiry_of(asked.request.book).standing is Standing.ENQUIRY


def test_without_an_enquiry_the_view_says_how_one_is_written(
    bare_window: MainWindow, qtbot: QtBot, engine: HandEngine, counsel: HandCounsel
) -> None:
    book = the_book()
    firm = tuple(replace(job, standing=Standing.FIRM) for job in book.jobs)
    view = shown(bare_window, qtbot, engine, replace(book, jobs=firm))

    assert view.headline().sentence == "No enquiry yet. Q writes one."
    assert not counsel.asked
    for letter in ("y", "b", "p", "v"):
        key(view, letter)
    assert bare_window.desk.document is not None
    assert bare_window.desk.document.undo_label is None


def test_it_is_asked_again_only_where_the_book_is_another(
    answered: EnquiryView, counsel: HandCounsel
) -> None:
    window, count = window_of(answered), len(counsel.asked)
    window.shelf.show(Which.WALL)
    window.shelf.show(Which.ENQUIRY)
    assert len(counsel.asked) == count
    book = answered.laid.book
    assert book is not None
    window.desk.edit(replace_name(book))
    assert len(counsel.asked) == count + 1
    assert answered.laid.rush is None


def replace_name(book: Book) -> Edited:
    return change_job(book, replace(book.jobs[0], name="Another name"))


def test_a_question_that_another_view_gave_up_is_asked_again(
    view: EnquiryView, counsel: HandCounsel
) -> None:
    window, count = window_of(view), len(counsel.asked)
    counsel.forget()
    window.shelf.show(Which.WALL)
    window.shelf.show(Which.ENQUIRY)
    assert len(counsel.asked) > count


# Looking.


def test_arrows_and_clicks_look_at_another_date(answered: EnquiryView) -> None:
    answered.dates.setFocus()
    before = answered.saying.quote.text
    key(answered.dates, Key.Key_Left)
    assert answered.laid.looked_at == 0
    assert answered.table.title != ""
    assert answered.saying.quote.text == before
    click(answered.dates, answered.dates.spots[1].rect.center())
    assert answered.laid.looked_at == 1


def test_a_job_chosen_here_is_chosen_for_all_views(answered: EnquiryView) -> None:
    click(answered.dots, answered.dots.spots[0].rect.center())
    assert answered.desk.job == answered.dots.rows[0].job


def test_a_screen_reader_hears_jobs_dates_and_money(answered: EnquiryView) -> None:
    for drawn, count in ((answered.dots, 3), (answered.dates, 2), (answered.table, 5)):
        root = QAccessible.queryAccessibleInterface(drawn)
        assert root is not None
        assert root.childCount() == count
        for at in range(count):
            child = root.child(at)
            assert child is not None
            assert child.text(QAccessible.Text.Description)


# Money.


def is_shown(view: EnquiryView) -> bool:
    return bool(view.table.rows)


def test_h_hides_all_money_and_shows_it_again(answered: EnquiryView) -> None:
    key(answered.dates, "h")
    assert not is_shown(answered)
    assert answered.saying.price.isHidden()
    assert "11,500" not in answered.saying.quote.text
    root = QAccessible.queryAccessibleInterface(answered.table)
    assert root is not None
    assert root.childCount() == 0
    key(answered.dates, "h")
    assert is_shown(answered)
    assert "11,500" in answered.saying.quote.text


def test_a_picture_to_give_away_holds_no_money(
    answered: EnquiryView, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[bool] = []
    grab = answered.grab

    def watched() -> QPixmap:
        seen.append(is_shown(answered))
        return grab()

    monkeypatch.setattr(answered, "grab", watched)
    assert not answered.picture().isNull()
    assert seen == [False]
    assert is_shown(answered)


def test_another_price_is_one_edit_and_asks_nothing_anew(
    answered: EnquiryView, counsel: HandCounsel
) -> None:
    count = len(counsel.asked)
    answered.saying.price.setFocus()
    answered.saying.price.selectAll()
    keys(answered.saying.price, "12500")
    key(answered.saying.price, Key.Key_Return)
    assert job_now(answered).price == 12_500
    assert "12,500" in answered.saying.quote.text
    assert len(counsel.asked) == count
    assert answered.laid.rush is not None


def test_a_price_that_is_no_number_is_refused(answered: EnquiryView) -> None:
    answered.saying.price.setFocus()
    answered.saying.price.selectAll()
    keys(answered.saying.price, "much")
    key(answered.saying.price, Key.Key_Return)
    assert "much" in answered.saying.trouble
    assert job_now(answered).price == enquiry_of(the_book()).price


# Deciding: each one edit, one undo.


def test_b_books_it_for_the_date_that_is_looked_at(answered: EnquiryView) -> None:
    window, rush = window_of(answered), answered.laid.rush
    assert rush is not None
    key(answered.dates, "b")
    made = job_now(answered)
    assert made.standing is Standing.FIRM
    assert made.held_window is not None
    assert made.held_window.start == rush.promises[1].window.start
    assert "is booked for" in window.desk.note
    key(window, Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert job_now(answered) == enquiry_of(the_book())


def test_p_pencils_it_and_one_undo_takes_it_back(answered: EnquiryView) -> None:
    key(answered.dates, "p")
    made = job_now(answered)
    assert made.standing is Standing.PENCILLED
    assert made.pencilled_until is not None
    key(window_of(answered), Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert job_now(answered) == enquiry_of(the_book())


def test_delete_lets_it_go_and_one_undo_brings_it_back(answered: EnquiryView) -> None:
    key(answered.dates, Key.Key_Delete)
    assert answered.laid.book is not None
    assert enquiry_of(the_book()).id not in {job.id for job in answered.laid.book.jobs}
    key(window_of(answered), Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert job_now(answered) == enquiry_of(the_book())


def test_a_date_that_is_missed_is_not_booked(view: EnquiryView, counsel: HandCounsel) -> None:
    book = the_book()
    counsel.answer(a_rush(book, a_promise(book, 0, Taking.NOT)))
    for letter in ("b", "p"):
        key(view.dates, letter)
        assert job_now(view) == enquiry_of(book)
        assert "does not hold" in view.desk.note
    assert not any(word.key in ("B", "P") for word in view.saying.keys)


# On the wall.


def is_tried(window: MainWindow) -> bool:
    return window.desk.trial is not None


def test_v_shows_the_window_asked_for_on_the_wall_and_again_without_it(
    answered: EnquiryView,
) -> None:
    window = window_of(answered)
    answered.dates.setFocus()
    key(answered.dates, Key.Key_Left)
    key(answered.dates, "v")
    assert window.shelf.view is None
    assert is_tried(window)
    assert enquiry_of(the_book()).id in {band.job for band in window.wall.wall.bands}
    key(window.wall, "v")
    assert not is_tried(window)
    assert window.shelf.view is None
    key(window.wall, "v")
    assert is_tried(window)
    key(window.wall, Key.Key_Return)
    assert job_now(answered).standing is Standing.FIRM


def test_v_plans_another_date_before_it_is_shown(
    answered: EnquiryView, counsel: HandCounsel
) -> None:
    key(answered.dates, "v")
    asked = counsel.asked[-1]
    assert isinstance(asked, AskPlan)
    assert (
        next(job for job in asked.request.book.jobs if job.id == enquiry_of(the_book()).id).standing
        is Standing.FIRM
    )
    counsel.answer(with_(the_book()))
    assert window_of(answered).desk.trial is not None
    assert window_of(answered).shelf.view is None


def test_a_date_is_not_shown_once_another_enquiry_is_looked_at(
    answered: EnquiryView, counsel: HandCounsel
) -> None:
    key(answered.dates, "v")
    found = answered.laid.found
    assert found is not None
    assert found.rush is not None
    other = replace(found.rush, job=the_book().jobs[0])
    assert other.job.id != found.rush.job.id
    answered.laid.found = replace(found, rush=other)
    counsel.answer(with_(the_book()))
    assert window_of(answered).desk.trial is None


def test_a_figure_tries_a_way_out(view: EnquiryView, counsel: HandCounsel) -> None:
    book = the_book()
    counsel.answer(a_rush(book, a_promise(book, 0, Taking.NOT), ways=True))
    assert not view.left_ways.isHidden()
    key(view.dates, "2")
    assert not is_tried(window_of(view))
    key(view.dates, "1")
    assert view.desk.trial is not None
    assert "way out 1" in view.desk.trial.what


# Another date.


def test_t_tries_another_date_and_lays_it_beside_the_others(
    answered: EnquiryView, counsel: HandCounsel
) -> None:
    book = the_book()
    key(answered.dates, "t")
    assert answered.other.hasFocus()
    keys(answered.other, "2027-09-06")
    key(answered.other, Key.Key_Return)
    asked = counsel.asked[-1]
    assert isinstance(asked, AskDates)
    (moved,) = asked.windows
    assert moved.start.date().isoformat() == "2027-09-06"
    counsel.answer((a_promise(book, 3, Taking.JUST),))
    assert len(answered.dates.columns) == 3
    assert answered.laid.looked_at == 1
    assert answered.other.isHidden()


def test_days_between_are_tried_by_themselves_and_the_date_looked_at_stays(
    answered: EnquiryView, counsel: HandCounsel
) -> None:
    book = the_book()
    asked = counsel.asked[-1]
    assert isinstance(asked, AskDates)
    assert len(asked.windows) == 5
    before = answered.laid.promise
    counsel.answer((a_promise(book, 2, Taking.JUST), a_promise(book, 4, Taking.AT_RISK, 20)))
    assert len(answered.dates.columns) == 4
    assert answered.laid.promise is before


def test_space_looks_longer_at_dates(answered: EnquiryView, counsel: HandCounsel) -> None:
    key(answered.dates, Key.Key_Space)
    asked = counsel.asked[-1]
    assert isinstance(asked, AskRush)
    assert asked.request.seconds == 40
    assert answered.laid.rush is None


def test_esc_puts_the_field_of_another_date_away(answered: EnquiryView) -> None:
    key(answered.dates, "t")
    key(answered.other, Key.Key_Escape)
    assert answered.other.isHidden()
    assert window_of(answered).shelf.view is answered


# A new enquiry, by keys alone.


def test_enter_goes_to_the_first_blank_that_is_empty_and_esc_leaves(view: EnquiryView) -> None:
    key(view.dots, "q")
    form = view.form
    keys(form.blanks["what"], "Pear")
    key(form.blanks["what"], Key.Key_Return)
    assert form.blanks["past"].hasFocus()
    key(form.blanks["past"], Key.Key_Escape)
    assert form.isHidden()
    assert window_of(view).shelf.view is view


def test_what_is_not_understood_is_said_at_the_sentence(view: EnquiryView) -> None:
    key(view.dots, "q")
    form = view.form
    keys(form.blanks["what"], "Pear")
    key(form.blanks["what"], Key.Key_Return)
    keys(form.blanks["past"], "Nobody")
    key(form.blanks["past"], Key.Key_Return)
    assert "Nobody" in form.note("past")
    assert form.blanks["past"].is_refused


# On both grounds, at every size of text.


@pytest.mark.parametrize("ground", ["light", "dark"])
@pytest.mark.parametrize("percent", [100, 150])
def test_it_is_painted_and_no_part_lies_over_another(
    answered: EnquiryView, ground: str, percent: int, qtbot: QtBot
) -> None:
    window = window_of(answered)
    window.ground.set_look(ground)
    while window.ground.settings.text_percent < percent:
        window.change_text(1)
    qtbot.wait(10)
    assert not answered.grab().isNull()
    parts = [answered.left, answered.dates, answered.table, answered.right]
    for at, one in enumerate(parts):
        for other in parts[at + 1 :]:
            assert not one.geometry().intersects(other.geometry())
    last = max(word.geometry().bottom() for word in answered.saying.keys)
    assert last <= answered.saying.height()
    while window.ground.settings.text_percent > 100:
        window.change_text(-1)


def test_larger_text_cuts_nothing_of_dates_money_and_price(answered: EnquiryView) -> None:
    window = window_of(answered)
    window.resize(1366, 768)
    usual = answered.saying.price.width()
    while window.ground.settings.text_percent < 150:
        window.change_text(1)
    QApplication.processEvents()
    assert answered.saying.price.width() > usual
    assert answered.dates.height() >= answered.dates.least
    assert answered.table.height_at(answered.table.width()) <= answered.table.height()
    title = text_width(answered.dots.title, 12, 600, serif=True)
    assert title < answered.dots.width() - answered.dots.margin


def test_pieces_are_sketched_before_the_names_where_there_is_room(answered: EnquiryView) -> None:
    def ink_before_names() -> bool:
        """Say whether anything is drawn left of the names in the first row."""
        dots = answered.dots
        made = dots.grab().toImage()
        spot = dots.spots_at(dots.width())[0].rect
        ground = made.pixelColor(spot.left() + 8, spot.top() + 3)
        across, down = range(LEFT + 1, LEFT + 40), range(spot.top() + 4, spot.bottom() - 4)
        return any(made.pixelColor(x, y) != ground for x in across for y in down)

    assert ink_before_names()
    answered.dots.show_rows(
        tuple(replace(row, shapes=(), name="", day="") for row in answered.dots.rows),
        answered.dots.title,
        answered.dots.legend,
        answered.words,
    )
    assert not ink_before_names()

"""The first start: four blanks answer; a made-up workshop, books opened lately, what is assumed."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.document import Document
from app.settings import Settings
from app.window.bits import KeyWord
from app.window.first import asked, usual
from app.window.first.asked import Blanks
from app.window.first.start import Line, Start
from app.window.main import MainWindow
from app.window.reader import READER
from app.window.sheet.blanks import Blank
from app.window.sheet.typed import NotTaken
from app.window.startup import empty_book
from app.window.views.view import Which
from app.words import Words
from app.words import first as say
from shared.book import Book, Standing
from shared.examine import examine
from shared.files.write import write_book
from tests.app.window import hands
from tests.app.window.conftest import CLOCK, HandAsker, HandEngine
from tests.app.window.scenes import planted

Key = Qt.Key
WORDS = Words("en")
TODAY = date(2027, 1, 18)
BLANKS = Blanks(what="a garden snail", size="2.4 x 1.2 x 1.8", by="15 Apr", country="England")


# Blanks are read.


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("a garden snail", "Garden snail"),
        ("  the   reading owl ", "Reading owl"),
        ("Anvil", "Anvil"),
        ("a", "A"),
    ],
)
def test_what_is_made_is_called_as_jobs_are(typed: str, name: str) -> None:
    assert asked.read_what(typed, WORDS) == name


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("15 Apr", date(2027, 4, 15)),
        ("Thu 15 April", date(2027, 4, 15)),
        ("17 Jan", date(2028, 1, 17)),
        ("18 Jan", date(2027, 1, 18)),
        ("3.5.", date(2027, 5, 3)),
        ("3.5.2028", date(2028, 5, 3)),
        ("29 Feb", date(2028, 2, 29)),
        ("2027-11-02", date(2027, 11, 2)),
    ],
)
def test_a_day_without_its_year_is_the_next_one(typed: str, day: date) -> None:
    assert asked.read_day(typed, WORDS, TODAY) == day


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("soon", "not_a_day"),
        ("31 Apr", "not_a_day"),
        ("2027-01-17", "day_is_over"),
        ("2033-01-01", "day_too_far"),
    ],
)
def test_a_day_that_can_not_be_meant_is_refused(typed: str, code: str) -> None:
    with pytest.raises(NotTaken) as refused:
        asked.read_day(typed, WORDS, TODAY)
    assert refused.value.code == code


def test_sizes_and_countries_are_read_or_refused_with_their_cure() -> None:
    assert asked.read_size("2,4 x 1.2 x 1.8") == tuple(map(Decimal, ("2.4", "1.2", "1.8")))
    assert asked.read_size("2400mm x 1200mm x 1800mm")[0] == Decimal("2.4")
    with pytest.raises(NotTaken):
        asked.read_size("2.4 x 1.2")
    assert asked.read_country("norway").code == "NO"
    with pytest.raises(NotTaken) as refused:
        asked.read_country("Norwai")
    assert refused.value.facts["nearest"] == "Norway"


# Four blanks make a book.


def made(blanks: Blanks = BLANKS, answers: usual.Usual | None = None) -> Book:
    book = empty_book(WORDS)
    edited = asked.asked(book, blanks, answers or usual.usual(), WORDS, CLOCK)
    assert edited.book.revision == book.revision + 1
    assert edited.label.code == "add_job"
    return edited.book


def test_four_blanks_make_a_job_in_an_assumed_workshop_that_can_be_planned() -> None:
    book = made()
    job = book.jobs[0]

    assert (job.name, job.standing, job.pencilled_until) == (
        "Garden snail",
        Standing.PENCILLED,
        date(2027, 4, 15),
    )
    assert (book.workshop.country, book.workshop.zone) == ("GB", "Europe/London")
    assert book.workshop.currency == "GBP"
    assert book.as_of is None, "time would stand still in it"
    assert len(book.people) == 5
    assert job.held_window is not None
    assert job.held_window.start.date() == date(2027, 4, 8), "the night before, by UTC"
    assert job.held_window.end.date() == date(2027, 4, 15)
    assert not [found for found in examine(book) if found.stops]


def test_what_is_assumed_can_be_said_otherwise() -> None:
    answers = usual.usual()
    texts = {
        "hours": "6:00 - 14:00",
        "people": "8",
        "booths": "2",
        "floor": "300",
        "day": "18",
        "night": "12",
        "money": "eur",
        "christmas": "23 Dec to 6 Jan",
        "august": "1 Aug to 21 Aug",
        "answer": "6",
        "buffer": "3",
    }
    assert set(texts) == set(usual.NAMES)
    for name, text in texts.items():
        answers = usual.with_text(answers, name, text, WORDS)
    book = made(answers=answers)
    shop, warm = book.workshop, book.workshop.temperatures[0]

    assert (shop.shifts[0].start, shop.shifts[0].end) == (time(6), time(14))
    assert shop.shift_hours == Decimal("7.5")
    assert shop.useful_hours < shop.shift_hours
    assert (len(book.people), shop.currency) == (8, "EUR")
    assert sum(place.kind.value == "booth" for place in book.places) == 2
    assert (warm.day_celsius, warm.night_celsius) == (Decimal(18), Decimal(12))
    assert shop.closures[0].first == date(2027, 12, 23)
    assert shop.closures[0].last == date(2028, 1, 6)
    assert book.suppliers[0].closures[0].first == date(2027, 8, 1)
    assert book.jobs[0].client.answer_days == 6
    assert shop.wished_buffer_days == 3
    assert not [found for found in examine(book) if found.stops]


@pytest.mark.parametrize("name", usual.NAMES)
def test_a_default_read_back_as_it_stands_changes_nothing(name: str) -> None:
    answers = usual.usual()
    assert usual.with_text(answers, name, usual.text_of(answers, name, WORDS), WORDS) == answers


@pytest.mark.parametrize(
    ("name", "text", "code"),
    [
        ("people", "0", "not_between"),
        ("people", "2.5", "not_between"),
        ("hours", "all day", "not_hours"),
        ("hours", "16:00 to 07:30", "not_hours"),
        ("christmas", "late December", "not_a_span"),
        ("night", "99", "not_between"),
        ("money", "pounds", "not_money"),
    ],
)
def test_what_can_not_be_assumed_is_refused(name: str, text: str, code: str) -> None:
    with pytest.raises(NotTaken) as refused:
        usual.with_text(usual.usual(), name, text, WORDS)
    assert refused.value.code == code


def test_beside_other_jobs_the_workshop_stays_and_hours_may_be_those_of_a_past_job() -> None:
    book = planted().book
    blanks = replace(BLANKS, past=book.jobs[0].name, times="1.5")
    edited = asked.asked(book, blanks, usual.usual(), WORDS, CLOCK)

    assert edited.book.workshop == book.workshop
    assert edited.book.people == book.people
    assert edited.book.jobs[:-1] == book.jobs
    plain = asked.asked(book, BLANKS, usual.usual(), WORDS, CLOCK).book.jobs[-1]
    assert edited.book.jobs[-1].steps != plain.steps


# Hands.


@pytest.fixture
def empty(qtbot: QtBot, bare_window: MainWindow) -> MainWindow:
    bare_window.desk.take(Document(empty_book(WORDS)))
    bare_window.show_work()
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    bare_window.activateWindow()
    start(bare_window).fields["what"].setFocus()
    return bare_window


def start(window: MainWindow) -> Start:
    found = window.first.start
    assert found is not None
    return found


def at() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def test_from_first_start_four_fields_are_enough_for_an_answer(
    empty: MainWindow, engine: HandEngine
) -> None:
    fields = ("a garden snail", "2.4 x 1.2 x 1.8", "15 Apr", "England")
    for number, text in enumerate(fields, start=1):
        hands.keys(at(), text)
        hands.key(at(), Key.Key_Return if number == len(fields) else Key.Key_Tab)

    assert [job.name for job in book(empty).jobs] == ["Garden snail"]
    assert engine.asked[-1] == book(empty), "not planned at once"
    assert not empty.page.isVisible()
    assert empty.wall.isVisible()
    assert empty.desk.job == book(empty).jobs[0].id
    empty.desk.undo()
    assert book(empty).people == ()
    assert empty.desk.note == "Taken back: add the job Garden snail"


def test_enter_goes_to_the_next_empty_blank_and_a_refusal_stands_under_the_sentence(
    empty: MainWindow,
) -> None:
    hands.keys(at(), "a garden snail")
    hands.key(at(), Key.Key_Return)
    assert at() is start(empty).fields["size"]
    hands.keys(at(), "big")
    hands.key(at(), Key.Key_Return)

    assert at() is start(empty).fields["size"]
    blank = start(empty).fields["size"]
    assert blank.is_refused
    assert start(empty)._note.text.startswith("“big” is not length, width and height.")
    assert READER.said[-1].endswith("Write them as 2.4 x 2.1 x 2.6.")
    assert not book(empty).jobs


def test_esc_frees_the_letters_and_m_opens_the_made_up_workshop(empty: MainWindow) -> None:
    hands.key(at(), Key.Key_Escape)
    assert not isinstance(at(), Blank)
    hands.key(at(), "n")
    assert at() is start(empty).fields["what"]
    hands.key(at(), Key.Key_Escape)
    hands.key(at(), "m")

    assert len(book(empty).jobs) == 12, "the words of the line say twelve"
    assert len(book(empty).people) == 12
    assert sum(place.kind.value == "booth" for place in book(empty).places) == 2
    assert empty.wall.isVisible()
    assert empty.desk.document is not None
    assert empty.desk.document.path is None, "the sample itself could be written over"


def test_w_begins_a_book_with_a_workshop_and_no_job(empty: MainWindow) -> None:
    hands.key(at(), Key.Key_Escape)
    hands.key(at(), "w")

    assert len(book(empty).people) == 5
    assert not book(empty).jobs
    assert empty.shelf.front is Which.WORKSHOP
    assert empty.shelf.view is not None
    assert empty.shelf.view.isVisible()


def test_books_opened_lately_are_offered_by_number(
    empty: MainWindow, asker: HandAsker, kept: list[Settings], tmp_path: Path
) -> None:
    path = tmp_path / "yard.countback"
    path.write_bytes(write_book(planted().book))
    asker.path = path
    empty.ask_and_open()
    assert kept[-1].recent == (str(path),)
    empty.desk.take(Document(empty_book(WORDS)))
    empty.show_work()
    hands.key(at(), Key.Key_Escape)
    hands.key(at(), "1")

    assert book(empty) == planted().book
    empty.desk.release()


def test_tab_goes_through_blanks_then_ways_in_then_what_is_assumed(empty: MainWindow) -> None:
    seen: list[str] = []
    for _ in range(40):
        widget = at()
        seen.append(widget.text() if isinstance(widget, Line) else widget.accessibleName())
        hands.key(widget, Key.Key_Tab)
        if at() is start(empty).fields["what"]:
            break

    assert seen[:4] == ["what", "length × width × height", "date", "country"]
    assert seen.index("Open a book") < seen.index("Look round a made-up workshop")
    assert seen.index("Begin a book with the workshop") < seen.index("the working day")


def test_n_on_a_wall_asks_the_same_and_esc_goes_back(window: MainWindow) -> None:
    hands.key(window.wall, "n")
    assert window.masthead.shown.sentence == "What else must stand where, and by when?"
    assert start(window).fields["past"].isVisible()
    hands.key(start(window).fields["what"], Key.Key_Escape)
    assert window.wall.isVisible()
    assert len(book(window).jobs) == 3


@pytest.mark.parametrize("percent", [100, 150, 175])
def test_words_beside_the_ways_in_are_all_there_and_lie_apart(
    empty: MainWindow, percent: int
) -> None:
    empty.ground.settings = replace(empty.ground.settings, text_percent=percent)
    empty.ground.apply()
    empty.resize(1366, 768)
    empty.arrange()
    QApplication.processEvents()
    QApplication.processEvents()
    start = empty.first.start
    assert start is not None
    words = [each for each in start.findChildren(KeyWord) if not each.isHidden()]
    assert len(words) == len(say.SAMPLES)
    boxes = [each.geometry() for each in (*words, *start.findChildren(Line))]
    assert all(start.rect().contains(box) for box in boxes)
    assert not any(one.intersects(other) for one, other in combinations(boxes, 2))


def test_what_lies_behind_a_new_job_takes_another_ground(window: MainWindow) -> None:
    hands.key(window.wall, Key.Key_N)
    QApplication.processEvents()

    def darkest_ground() -> int:
        image = window.page.grab().toImage()
        return image.pixelColor(image.width() - 20, image.height() - 20).lightness()

    assert darkest_ground() > 128
    window.ground.set_look("dark")
    QApplication.processEvents()
    assert darkest_ground() < 128

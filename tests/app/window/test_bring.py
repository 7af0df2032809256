"""The page on which files are brought in: by keys and by hand, whole or not at all."""

from pathlib import Path
from random import Random

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from app.counsel.questions import Help
from app.exchange.bring.asked import A_PAGE, AskBring, Brought
from app.exchange.bring.fields import FIELDS
from app.exchange.bring.grid import read_grid
from app.jobs import Refusal
from app.window.exchange.bring_view import BringView
from app.window.exchange.lines import LEFT, NAME, VALUE, Line
from app.window.main import MainWindow
from app.window.tokens import px
from app.window.views.view import Which
from app.window.wall import moves
from scheduler.kept import Kept
from shared.book import Book
from tests.app.exchange.bring.made import KINDS, a_book, a_table, as_csv, as_xlsx
from tests.app.window.conftest import HandAsker, HandCounsel
from tests.app.window.hands import click, key

CTRL = Qt.KeyboardModifier.ControlModifier
JOBS = (
    "commission,for,country,window start,window end,standing,price\n"
    "Heron,Town library,Norway,2027-05-11 08:00,2027-05-14 17:00,firm,12500.50\n"
    "Curlew,Harbour museum,Norway,2027-06-11 08:00,2027-06-14 17:00,firm,9000\n"
)
WEEK = (
    "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//a test//\r\nBEGIN:VEVENT\r\nUID:1@test\r\n"
    "DTSTAMP:20270101T000000Z\r\nDTSTART;VALUE=DATE:20270705\r\nDTEND;VALUE=DATE:20270710\r\n"
    "SUMMARY:{of}\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
)
"""RFC 5545 section 3.6.1: an event of whole days; its end is not in it."""


def at() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def book_of(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def looked(asked: object) -> Brought:
    """Answer as the child does."""
    assert isinstance(asked, AskBring)
    at_hand = Help(part=lambda _: None, cancel=lambda: False, kept=Kept())
    return asked.answer(at_hand)


def answer(counsel: HandCounsel) -> None:
    counsel.answer(looked(counsel.asked[-1]))


@pytest.fixture
def view(window: MainWindow) -> BringView:
    key(window.wall, "i")
    assert window.shelf.front is Which.BRING
    found = window.shelf.view
    assert isinstance(found, BringView)
    return found


def pick(asker: HandAsker, tmp_path: Path, data: bytes, name: str = "jobs.csv") -> None:
    asker.path = tmp_path / name
    asker.path.write_bytes(data)
    key(at(), "1")


def line(view: BringView, identity: str) -> Line:
    found = view.lines.line(identity)
    assert found is not None, [each.id for each in view.lines.lines]
    return found


def sentence(window: MainWindow) -> str:
    return window.masthead.shown.sentence


def test_a_file_is_looked_at_and_taken_as_one_step(
    window: MainWindow, view: BringView, asker: HandAsker, counsel: HandCounsel, tmp_path: Path
) -> None:
    before = book_of(window)
    pick(asker, tmp_path, JOBS.replace("for,", "client,").encode())
    assert sentence(window) == "Reading jobs.csv."
    answer(counsel)

    assert sentence(window) == "Two rows can be taken."
    assert line(view, "kind").value == "jobs"
    assert line(view, "field job").value == "A: commission"
    assert line(view, "field client").cells == ("Town library", "Harbour museum")
    assert book_of(window) is before, "nothing before it is told to"
    key(at(), Qt.Key.Key_Return)
    assert [job.name for job in book_of(window).jobs[-2:]] == ["Heron", "Curlew"]
    assert len(book_of(window).jobs) == len(before.jobs) + 2
    assert sentence(window) == "Two rows are taken, as one step. Ctrl Z takes that back."
    key(at(), Qt.Key.Key_Z, CTRL)
    assert book_of(window).jobs == before.jobs


def test_a_column_is_chosen_by_keys(
    window: MainWindow, view: BringView, asker: HandAsker, counsel: HandCounsel, tmp_path: Path
) -> None:
    pick(asker, tmp_path, JOBS.replace("for,", "ordered by whom,").encode())
    answer(counsel)
    assert line(view, "field client").value == "none"
    missing = "No column is there for “client”. Choose one above, or name one so."
    assert missing in [each.text for each in view.lines.lines]
    while view.lines.at != "field client":
        key(at(), Qt.Key.Key_Down)
    key(at(), Qt.Key.Key_Right)
    key(at(), Qt.Key.Key_Right)
    assert line(view, "field client").value == "B: ordered by whom", "before an answer is there"
    key(at(), Qt.Key.Key_Return)
    assert not any(job.name == "Heron" for job in book_of(window).jobs), "still looked at"
    answer(counsel)
    assert view.lines.at == "field client"
    assert line(view, "field client").cells == ("Town library", "Harbour museum")
    key(at(), Qt.Key.Key_Return)
    assert book_of(window).jobs[-1].client.name == "Harbour museum"


def test_a_column_is_chosen_with_the_pointer(
    view: BringView, asker: HandAsker, counsel: HandCounsel, tmp_path: Path
) -> None:
    pick(asker, tmp_path, JOBS.replace("for,", "client,").encode())
    answer(counsel)
    spot = view.lines.spot("field price")
    assert spot is not None
    y = spot.rect.center().y()
    click(view.lines, QPoint(LEFT + px(NAME) + 6, y))
    answer(counsel)
    assert line(view, "field price").value == "F: standing"
    click(view.lines, QPoint(LEFT + px(NAME) + px(VALUE) - 8, y))
    click(view.lines, QPoint(LEFT + px(NAME) + px(VALUE) - 8, y))
    answer(counsel)
    assert line(view, "field price").value == "none"
    asked = counsel.asked[-1]
    assert isinstance(asked, AskBring)
    assert asked.said["price"] == ""


def test_every_bad_row_is_listed_and_nothing_is_taken(
    window: MainWindow, view: BringView, counsel: HandCounsel
) -> None:
    before = book_of(window)
    rows = [f"Heron {n},Library,Atlantis,soon,2027-05-14 17:00" for n in range(120)]
    data = "job,client,country,window start,window end\n" + "\n".join(rows)
    view.look_at(data.encode(), "jobs.csv")
    answer(counsel)
    assert view.found is not None
    count = view.found.trouble_count
    seen: list[str] = []
    while True:
        seen += [each.text for each in view.lines.lines if each.id.startswith("trouble ")]
        if view.lines.line("more") is None:
            break
        key(at(), "+")
    assert count == 120
    assert len(seen) == len(set(seen)) == count
    assert sentence(window) == "120 things can't be taken, so nothing is."
    assert "Row 2, column D (window start): " in "".join(t for t, _ in window.masthead.shown.next)
    assert seen[0].startswith("Row 2, column D (window start): “soon” is no day with a time.")
    assert seen[-1].startswith("Row 121, column D (window start): ")
    key(at(), Qt.Key.Key_Return)
    assert book_of(window) is before
    for _ in range(count // A_PAGE):
        key(at(), Qt.Key.Key_Minus)
    assert view.lines.line("trouble 0") is not None


def test_a_field_without_a_column_is_named_where_it_is_missed(
    view: BringView, counsel: HandCounsel
) -> None:
    data = JOBS.replace("for,", "client,").replace("firm,9000", "pencilled,9000")
    view.look_at(data.encode(), "jobs.csv")
    answer(counsel)
    said = "Row 3, pencilled until: It is empty, and is needed. Fill it in."
    assert said in [each.text for each in view.lines.lines]


def test_reading_is_called_off_and_an_answer_that_comes_later_is_not_heard(
    window: MainWindow, view: BringView, counsel: HandCounsel
) -> None:
    view.look_at(JOBS.replace("for,", "client,").encode(), "jobs.csv")
    late = counsel._hear
    assert late is not None
    key(at(), Qt.Key.Key_Escape)
    assert not counsel.is_busy
    assert sentence(window) == "Called off; nothing is taken."
    late(looked(counsel.asked[-1]))
    assert view.found is None
    key(at(), Qt.Key.Key_Escape)
    assert window.shelf.front is Which.WALL


def test_a_pasted_table_is_as_good_as_a_file(
    window: MainWindow, view: BringView, counsel: HandCounsel
) -> None:
    QGuiApplication.clipboard().setText(JOBS.replace("for,", "client,").replace(",", "\t"))
    key(at(), Qt.Key.Key_V, CTRL)
    assert sentence(window) == "Reading the clipboard."
    answer(counsel)
    key(at(), Qt.Key.Key_Enter)
    assert book_of(window).jobs[-1].name == "Curlew"


def test_an_empty_clipboard_is_told(window: MainWindow, view: BringView) -> None:
    QGuiApplication.clipboard().clear()
    key(at(), "2")
    assert sentence(window) == "There is no text on the clipboard."
    assert view.asked is None


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("german", [False, True])
def test_a_table_is_taken_for_what_it_is(kind: str, german: bool) -> None:
    made = a_book()
    assert made.as_of is not None
    grid = a_table(kind, Random(3), 5).grid(german=german)
    for data in (as_csv(grid), as_xlsx(grid)):
        found = looked(AskBring(book=made, data=data, now=made.as_of, by="Wren"))
        assert found.kind == kind
        assert found.can_be_taken


def test_another_kind_is_taken_by_keys(view: BringView, counsel: HandCounsel) -> None:
    view.look_at(b"name,skills\nZita,carve\n", "a.csv")
    answer(counsel)
    assert line(view, "kind").value == "people"
    assert view.lines.at == "kind"
    key(at(), Qt.Key.Key_Left)
    answer(counsel)
    assert line(view, "kind").value == "stages"
    assert view.lines.at == "kind", "what was chosen keeps the keyboard"


def test_leave_is_that_of_the_person_whom_the_calendar_names(
    window: MainWindow, view: BringView, counsel: HandCounsel
) -> None:
    people = book_of(window).people
    view.look_at(WEEK.format(of=f"{people[1].name} away").encode(), "leave.ics")
    answer(counsel)
    assert line(view, "kind").value == "leave of one person"
    assert line(view, "whose").value == people[1].name
    while view.lines.at != "whose":
        key(at(), Qt.Key.Key_Down)
    key(at(), Qt.Key.Key_Right)
    answer(counsel)
    assert line(view, "whose").value == people[2].name
    before = [len(each.leave) for each in people]
    key(at(), Qt.Key.Key_Return)
    after = [len(each.leave) for each in book_of(window).people]
    assert [b - a for a, b in zip(before, after, strict=True)][:3] == [0, 0, 1]


def test_days_that_name_nobody_are_those_on_which_the_workshop_is_shut(
    window: MainWindow, view: BringView, counsel: HandCounsel
) -> None:
    view.look_at(WEEK.format(of="stocktaking").encode(), "shut.ics")
    answer(counsel)
    assert line(view, "kind").value == "days the workshop is shut"
    key(at(), Qt.Key.Key_Return)
    assert len(book_of(window).workshop.closures) == 1


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "nothing.csv is empty."),
        (b"name,skills\n", "nothing.csv has names of columns and no row under them."),
        (b"PK\x03\x04 no workbook", "nothing.csv can't be read as a workbook: "),
        (b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n", "nothing.csv "),
    ],
)
def test_a_file_that_holds_nothing_is_told(
    window: MainWindow, view: BringView, counsel: HandCounsel, data: bytes, said: str
) -> None:
    view.look_at(data, "nothing.csv")
    answer(counsel)
    assert sentence(window).startswith(said)
    assert view.lines.line("take") is None


def test_a_book_that_changes_meanwhile_has_the_file_looked_at_anew(
    window: MainWindow, view: BringView, counsel: HandCounsel
) -> None:
    view.look_at(b"name,skills\nZita,carve\n", "a.csv")
    answer(counsel)
    counted = len(counsel.asked)
    window.shelf.show(Which.WALL)
    item = window.wall.wall.rows[0].blocks[2]
    window.wall.choose(moves.at(window.wall.wall, item.id))
    key(window.wall, "p")
    key(window.wall, "i")
    again = counsel.asked[-1]
    assert len(counsel.asked) > counted
    assert isinstance(again, AskBring)
    assert again.book is book_of(window)
    answer(counsel)
    key(at(), Qt.Key.Key_Return)
    assert book_of(window).people[-1].name == "Zita"


@pytest.mark.parametrize("suffix", [".csv", ".xlsx", ""])
@pytest.mark.parametrize("kind", KINDS)
def test_a_table_to_be_filled_in_is_written_and_would_be_known_again(
    window: MainWindow, view: BringView, asker: HandAsker, tmp_path: Path, kind: str, suffix: str
) -> None:
    asker.path = tmp_path / f"to fill{suffix}"
    key(at(), line(view, f"template {kind}").key)
    target = tmp_path / f"to fill{suffix or '.csv'}"
    grid = read_grid(target.read_bytes())
    assert grid.columns == tuple(each.headers[0] for each in FIELDS[kind])
    assert str(target) in sentence(window)


def test_no_file_is_written_over_by_a_name_that_was_not_said(
    window: MainWindow, view: BringView, asker: HandAsker, tmp_path: Path
) -> None:
    mine = tmp_path / "mine.csv"
    mine.write_text("mine")
    asker.path = tmp_path / "mine"
    key(at(), line(view, "template jobs").key)
    assert mine.read_text() == "mine"
    said = f"{mine} is there already; write its name in full to write over it."
    assert sentence(window) == said


def test_a_child_that_is_gone_leaves_the_file(
    window: MainWindow, view: BringView, counsel: HandCounsel
) -> None:
    view.look_at(b"name\nZita\n", "a.csv")
    counsel.refused.emit(Refusal(code="fault", facts={"what": "the process ended"}))
    assert view.asked is None
    assert window.masthead.shown.is_alarm


def test_money_of_a_file_is_hidden_with_all_other_money(
    view: BringView, counsel: HandCounsel
) -> None:
    view.look_at(JOBS.replace("for,", "client,").encode(), "jobs.csv")
    answer(counsel)
    assert line(view, "field price").cells == ("12500.50", "9000")
    key(at(), "h")
    assert line(view, "field price").cells == ("…", "…")


def test_a_file_that_can_t_be_read_is_told(
    window: MainWindow, view: BringView, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "gone.csv"
    key(at(), "1")
    assert "gone.csv" in sentence(window)
    assert view.asked is None

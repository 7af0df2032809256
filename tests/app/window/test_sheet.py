"""Writing on the sheet."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.bits import KeyWord
from app.window.main import MainWindow
from app.window.sheet.blanks import Blank, Note, Words
from app.window.wall import moves
from shared.book import Book, Kind, Pin, Stage
from shared.ids import PersonId
from tests.app.window import hands
from tests.app.window.conftest import HandEngine


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def open_sheet(window: MainWindow, row: int = 1, stop: int = 1) -> None:
    item = window.wall.wall.rows[row].stops[stop]
    window.wall.choose(moves.at(window.wall.wall, item.id, row))
    window._write()
    settle()


def settle() -> None:
    QApplication.processEvents()
    QApplication.processEvents()


def write(qtbot: QtBot, blank: Blank, text: str) -> None:
    blank.setFocus()
    blank.selectAll()
    hands.keys(blank, text)
    hands.key(blank, Qt.Key.Key_Return)
    settle()


def stage(window: MainWindow) -> Stage:
    step = next(s for j in book(window).jobs for s in j.steps if s.id == window.sheet.step)
    assert isinstance(step, Stage)
    return step


def word(window: MainWindow, text: str, *, last: bool = False) -> KeyWord:
    found = [w for w in window.sheet.findChildren(KeyWord) if w.text() == text]
    return found[-1 if last else 0]


def test_e_opens_the_sheet_on_what_is_chosen(qtbot: QtBot, window: MainWindow) -> None:
    item = window.wall.wall.rows[1].stops[1]
    window.wall.choose(moves.at(window.wall.wall, item.id))
    hands.key(window.wall, Qt.Key.Key_E)
    settle()

    assert window.sheet.isVisible()
    assert not window.slip.isVisible()
    assert window.sheet.blank("job name").text() == "Reading owl"
    assert window.sheet.blank("step name").text() == "carve"
    assert window.sheet.segment == "owl.body"
    assert not window.wall.isVisible()
    assert window.sheet.side.wall.isVisible()
    assert [band.name for band in window.sheet.side.wall.wall.bands] == ["Reading owl"]


def test_hours_are_written_planned_anew_and_taken_back_by_name(
    qtbot: QtBot, window: MainWindow, engine: HandEngine
) -> None:
    open_sheet(window)
    before = stage(window).ways[0].hours.likely
    write(qtbot, window.sheet.blank("hours likely"), "77½")

    assert str(stage(window).ways[0].hours.likely) == "77.5"
    assert window.masthead.shown.sentence in {
        "The wall shows an earlier plan. The book has changed since.",
        "The book has changed. Planning anew.",
    }
    qtbot.waitUntil(lambda: engine.asked[-1] == book(window), timeout=3000)
    assert window.masthead.shown.sentence == "The book has changed. Planning anew."
    window.desk.undo()
    settle()
    assert stage(window).ways[0].hours.likely == before
    assert window.sheet.blank("hours likely").text() == f"{before.normalize():f}"
    assert "Taken back: change the step carve" in window.foot.accessibleName()
    assert book(window).revision == 3


def test_what_can_not_be_meant_stays_in_the_blank_with_the_reason_under_it(
    qtbot: QtBot, window: MainWindow
) -> None:
    open_sheet(window)
    revision = book(window).revision
    blank = window.sheet.blank("hours likely")
    write(qtbot, blank, "many")

    assert blank.is_refused
    assert blank.text() == "many"
    assert window.sheet.note("work") == "“many” is no number. Write it as 12 or 12.5."
    assert book(window).revision == revision
    write(qtbot, blank, "12")
    assert not window.sheet.blank("hours likely").is_refused
    assert window.sheet.note("work") == ""
    assert book(window).revision == revision + 1


def test_the_window_is_written_by_the_sites_clock(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)
    write(qtbot, window.sheet.blank("window end"), "Fri 25 Jun 20:00")

    held = book(window).jobs[0].held_window
    assert held is not None
    assert (held.end.month, held.end.day, held.end.hour) == (6, 25, 19)
    assert "Fri 25 Jun 20:00" in window.wall.wall.by_id["job owl"].description


def test_people_are_pinned_by_name(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)
    name = book(window).people[0].name
    write(qtbot, window.sheet.blank("people"), name)

    assert stage(window).pin == Pin(people=(PersonId(book(window).people[0].id),))
    item = window.wall.wall.by_id[f"{window.sheet.step} @{window.sheet.segment}"]
    assert item.is_pinned
    assert " Pinned." in item.description
    assert window.sheet.blank("people").text() == name


def test_p_on_the_wall_pins_and_lets_go(qtbot: QtBot, window: MainWindow) -> None:
    item = window.wall.wall.rows[1].stops[1]
    window.wall.choose(moves.at(window.wall.wall, item.id))
    hands.key(window.wall, Qt.Key.Key_P)
    step = next(s for s in book(window).jobs[0].steps if s.id == item.step)
    assert isinstance(step, Stage)
    assert step.pin is not None
    assert step.pin.people
    hands.key(window.wall, Qt.Key.Key_P)
    step = next(s for s in book(window).jobs[0].steps if s.id == item.step)
    assert isinstance(step, Stage)
    assert step.pin is None


def test_segments_are_added_and_removed(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)
    word(window, "another segment").click()
    settle()
    names = [s.name for s in book(window).jobs[0].segments]
    assert names == ["Head", "Body", "Segment 6", "Left wing", "Right wing", "Perch"]
    assert window.sheet.blank("segment 3 name").text() == "Segment 6"
    word(window, "remove").click()
    settle()
    assert "Body" not in [s.name for s in book(window).jobs[0].segments]
    assert window.sheet.segment == book(window).jobs[0].segments[0].id


def test_the_last_segment_can_not_be_removed(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)
    for _ in range(5):
        word(window, "remove").click()
        settle()

    assert len(book(window).jobs[0].segments) == 1
    assert window.sheet.note("segments") == "A job keeps at least one segment."


def test_steps_are_chosen_moved_added_and_removed(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)
    carve = window.sheet.step
    block = next(s.id for s in book(window).jobs[0].steps if s.id.endswith("body.block"))
    window.sheet.strip.choose(str(block))
    settle()
    assert window.sheet.step == block
    assert window.wall.spot is not None
    assert window.wall.wall.by_id[window.wall.spot.item].step == block
    word(window, "later").click()
    settle()
    order = [s.id for s in book(window).jobs[0].steps]
    assert carve is not None
    assert order.index(block) > order.index(carve)
    word(window, "a stage after it").click()
    settle()
    assert "new stage" in [s.name for s in book(window).jobs[0].steps]
    assert stage(window).name == "new stage"
    word(window, "remove", last=True).click()
    settle()
    assert "new stage" not in [s.name for s in book(window).jobs[0].steps]
    assert block in [s.id for s in book(window).jobs[0].steps]


def test_a_finding_stands_under_what_it_is_about_and_nothing_is_asked(
    qtbot: QtBot, window: MainWindow, engine: HandEngine
) -> None:
    laminate = next(s for s in window.wall.wall.rows[1].stops if s.label == "laminate")
    open_sheet(window, 1, window.wall.wall.rows[1].stops.index(laminate))
    asked = len(engine.asked)
    write(qtbot, window.sheet.blank("recoat"), "1")

    assert window.masthead.shown.sentence == (
        "Not planned: one thing in the book must be mended first."
    )
    assert window.sheet.note("step") == " ".join(window.words.finding(window.desk.stopping[0]))
    window.desk.plan_now()
    assert len(engine.asked) == asked
    assert window.wall.wall.is_stale
    write(qtbot, window.sheet.blank("recoat"), "48")
    assert window.sheet.note("step") == ""
    qtbot.waitUntil(lambda: engine.asked[-1] == book(window), timeout=3000)


def test_removing_the_job_puts_the_sheet_away(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)
    word(window, "remove the job").click()
    settle()

    assert len(book(window).jobs) == 2
    assert not window.sheet.isVisible()
    window.desk.undo()
    assert len(book(window).jobs) == 3


def test_escape_puts_a_blank_back_then_the_sheet_away(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)
    blank = window.sheet.blank("step name")
    blank.setFocus()
    blank.selectAll()
    hands.keys(blank, "x")
    hands.key(blank, Qt.Key.Key_Escape)
    assert blank.text() == "carve"
    hands.key(window, Qt.Key.Key_Escape)
    assert not window.sheet.isVisible()


def test_a_step_says_what_to_mind_in_short_and_in_full(qtbot: QtBot, window: MainWindow) -> None:
    open_sheet(window)

    def notes() -> list[str]:
        said = [note.text for note in window.sheet.making.findChildren(Note)]
        said += [each.text for each in window.sheet.making.findChildren(Words)]
        return [text for text in said if len(text.split()) > 3]

    assert stage(window).kind is Kind.FOAM
    assert notes() == ["Mind: extraction at the wire, no flame or spark."]
    word(window, "in full").click()
    qtbot.waitUntil(lambda: len(notes()) == 3)
    assert "Source: HSE, pages on the storage of plastics; common practice." in notes()[1]
    assert notes()[2].startswith("What local codes, the product's data sheet and licensed people")
    write(qtbot, window.sheet.blank("kind"), "laminate")
    qtbot.waitUntil(lambda: notes()[0].startswith("Styrene vapour: "))
    word(window, "in short").click()
    qtbot.waitUntil(lambda: [note[:14] for note in notes()] == ["Mind: styrene,"])

"""The workshop's page in the window: keys and hands, one undo each, what a reader is told."""

from dataclasses import replace
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.document import Document
from app.window.main import MainWindow
from app.window.reader import READER
from app.window.views.view import Which
from app.window.workshop import people
from app.window.workshop.parts import PARTS
from app.window.workshop.view import WorkshopView
from app.words import workshop_view as say
from shared.book import Book
from shared.edits import change_person
from tests.app.window.bought import bought
from tests.app.window.conftest import HandEngine
from tests.app.window.hands import click, key, keys
from tests.app.window.scenes import outcome_for
from tests.builders import a_book, a_person

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def page(qtbot: QtBot, bare_window: MainWindow, engine: HandEngine) -> WorkshopView:
    made = bought()
    bare_window.desk.take(Document(made.book))
    bare_window.show_work()
    bare_window.resize(1366, 768)
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    engine.answer(outcome_for(made))
    bare_window.wall.setFocus()
    key(bare_window.wall, "w")
    found = bare_window.shelf.view
    assert isinstance(found, WorkshopView)
    settle()
    return found


def settle() -> None:
    """Let a layout that was asked for come about."""
    QApplication.processEvents()
    QApplication.processEvents()


def book_of(page: WorkshopView) -> Book:
    assert page.desk.document is not None
    return page.desk.document.book


def go(page: WorkshopView, part: str) -> None:
    """Bring a part to the front with its figure."""
    page.enter()
    key(page.contents, str(PARTS.index(part) + 1))
    settle()


def write(page: WorkshopView, name: str, text: str) -> None:
    """Type a text into a blank and press Enter."""
    blank = page.paper.blank(name)
    blank.setFocus()
    blank.selectAll()
    keys(blank, text)
    key(blank, Qt.Key.Key_Return)
    settle()


def without_revision(book: Book) -> Book:
    return replace(book, revision=0)


def test_w_shows_the_page_and_figures_its_parts(page: WorkshopView) -> None:
    assert page.front == "people"
    for part in PARTS:
        go(page, part)
        assert page.front == part
        assert page.paper.part.name == part
    go(page, "people")
    assert page.headline().sentence == "Six people and six places. One thing wants mending."
    assert page.headline().next[0][0] == "Primer: "


def test_escape_goes_to_the_list_and_then_to_the_wall(page: WorkshopView) -> None:
    page.paper.focus("add people")
    key(page.paper.blank("add people"), Qt.Key.Key_Escape)
    assert page.contents.hasFocus()
    key(page.contents, Qt.Key.Key_Escape)
    window = page.window()
    assert isinstance(window, MainWindow)
    assert window.shelf.front is Which.WALL


def test_typed_names_make_people_and_the_blank_is_ready_for_more(page: WorkshopView) -> None:
    before = len(book_of(page).people)
    write(page, "add people", "Hilde, Ivo and Juno")

    assert [p.name for p in book_of(page).people[before:]] == ["Hilde", "Ivo", "Juno"]
    assert page.paper.blank("add people").text() == ""
    assert page.paper.blank("add people").hasFocus()
    page.desk.undo()
    assert len(book_of(page).people) == before


def test_a_list_of_lines_is_pasted_whole(page: WorkshopView) -> None:
    before = len(book_of(page).people)
    QGuiApplication.clipboard().setText("Hilde: spray\nIvo\nJuno: foam, fit\n")
    blank = page.paper.blank("add people")
    blank.setFocus()
    key(blank, Qt.Key.Key_V, CTRL)
    settle()

    new = book_of(page).people[before:]
    assert [(p.name, len(p.skills)) for p in new] == [("Hilde", 1), ("Ivo", 0), ("Juno", 2)]
    page.desk.undo()
    assert len(book_of(page).people) == before


def test_arrows_walk_the_grid_and_space_ticks(page: WorkshopView) -> None:
    grid = page.ticks
    grid.setFocus()
    person, skill = grid.people[0], grid.skills[-1]
    grid.choose(f"{person.id}|{grid.skills[-2]}")
    key(grid, Qt.Key.Key_Right)
    assert grid.at == f"{person.id}|{skill}"
    before = book_of(page)
    key(grid, Qt.Key.Key_Space)
    settle()
    assert skill in {each.skill for each in book_of(page).people[0].skills}
    assert grid.hasFocus()
    assert grid.at == f"{person.id}|{skill}"
    key(grid, Qt.Key.Key_Down)
    assert grid.at == f"{grid.people[1].id}|{skill}"
    page.desk.undo()
    assert without_revision(book_of(page)) == without_revision(before)


def test_plus_raises_and_minus_lowers_what_somebody_can(page: WorkshopView) -> None:
    grid = page.ticks
    grid.setFocus()
    person, skill = grid.people[0], grid.skills[-1]
    grid.choose(f"{person.id}|{skill}")
    for level in ("helps", "can", "leads", "leads"):
        key(grid, "+")
        assert {str(s.skill): s.level for s in book_of(page).people[0].skills}[skill] == level
    for _ in range(3):
        key(grid, "-")
    assert skill not in {s.skill for s in book_of(page).people[0].skills}


def test_enter_on_a_skill_ticks_it_for_all_in_one_undo(page: WorkshopView) -> None:
    grid = page.ticks
    grid.setFocus()
    skill = grid.skills[-1]
    grid.choose(f"|{skill}")
    before = book_of(page)
    key(grid, Qt.Key.Key_Return)
    assert all(skill in {s.skill for s in p.skills} for p in book_of(page).people)
    page.desk.undo()
    assert without_revision(book_of(page)) == without_revision(before)


def test_the_row_of_the_grid_says_who_is_written_below(page: WorkshopView) -> None:
    page.ticks.setFocus()
    person = page.ticks.people[2]
    page.ticks.choose(f"{person.id}|")
    settle()
    assert page.paper.blank("person name").text() == person.name
    key(page.ticks, Qt.Key.Key_Return)
    settle()
    assert page.paper.blank("person hours").hasFocus()
    write(page, "person hours", "Mon to Thu 7:00 to 15:30")
    assert book_of(page).people[2].hours[0].days == (0, 1, 2, 3)
    assert page.paper.blank("person hours").text() == "Mon to Thu 07:00 to 15:30"


def test_leave_is_written_with_a_word_to_take_it_out(page: WorkshopView) -> None:
    write(page, "person add away", "3 May to 7 May")
    assert len(book_of(page).people[0].leave) == 1
    assert page.paper.blank("person away 1").text() == "Mon 3 May to Fri 7 May"
    assert page.paper.blank("person add away").hasFocus()
    page.desk.undo()
    settle()
    assert "person away 1" not in page.paper.names


def test_what_cant_be_meant_is_said_beside_it(page: WorkshopView) -> None:
    before = book_of(page)
    write(page, "person add away", "soon")
    assert "“soon” is no span of days" in " ".join(page.paper.notes)
    assert book_of(page) == before
    blank = page.paper.blank("person add away")
    key(blank, Qt.Key.Key_Escape)
    assert blank.text() == ""
    assert not page.paper.notes


def test_a_finding_stands_under_its_row_until_it_is_mended(page: WorkshopView) -> None:
    go(page, "bought")
    assert page.paper.notes[0].startswith("Nobody is named who delivers Primer")
    assert page.contents.entries[PARTS.index("bought")].mend == "one to mend"
    write(page, "primer supplier", "Oak")
    assert book_of(page).materials[2].supplier == "oakham"
    assert not page.paper.notes
    assert page.contents.entries[PARTS.index("bought")].mend == ""
    assert page.headline().sentence == "Six people and six places."


def test_a_box_is_ticked_with_space(page: WorkshopView) -> None:
    go(page, "places")
    place = book_of(page).places[0]
    box = page.paper.box(f"{place.id} standing")
    box.setFocus()
    key(box, Qt.Key.Key_Space)
    assert book_of(page).places[0].standing is not place.standing
    page.desk.undo()
    assert box.isChecked() is place.standing


def test_places_openings_and_warmth_are_added_in_sentences(page: WorkshopView) -> None:
    go(page, "places")
    write(page, "add place", "Upper store")
    assert book_of(page).places[-1].kind.value == "store"
    write(page, f"{book_of(page).places[-1].id} room", "40 m2")
    assert str(book_of(page).places[-1].area_m2) == "40"
    write(page, "add opening", "Yard gate")
    write(page, "opening 1 height_m", "3,2")
    assert str(book_of(page).workshop.openings[0].height_m) == "3.2"
    write(page, "add warmth", "Nov to Mar")
    write(page, "warmth 1 night_celsius", "-4")
    assert str(book_of(page).workshop.temperatures[0].night_celsius) == "-4"


def test_enter_goes_down_a_column_of_a_grid(page: WorkshopView) -> None:
    go(page, "places")
    first, second = book_of(page).places[:2]
    write(page, f"{first.id} air", "hall")
    assert page.paper.blank(f"{second.id} air").hasFocus()
    assert book_of(page).places[0].air == "hall"


def test_closures_are_added_and_kept_in_order(page: WorkshopView) -> None:
    go(page, "hours")
    write(page, "add shut", "24 Dec to 2 Jan")
    write(page, "add shut", "2 Aug to 20 Aug")
    firsts = [each.first.month for each in book_of(page).workshop.closures]
    assert firsts == [8, 12]


def test_day_one_is_a_press_for_each_segment_and_one_undo(page: WorkshopView) -> None:
    go(page, "standing")
    before = book_of(page)
    strips = page.strips
    count = sum(len(job.strips) for job in strips.jobs)
    asked = "Where do the three running jobs stand?"
    assert page.headline().sentence == f"{asked} 0 of {count} segments have begun."
    job = strips.jobs[0]
    stop = job.strips[0].stops[4]
    spot = strips.spot(f"{job.strips[0].segment}|{stop.step}")
    assert spot is not None
    click(strips, spot.rect.center())
    states = [each.state for each in strips.jobs[0].strips[0].stops]
    assert states[:6] == ["over"] * 4 + ["here", "ahead"]
    assert all(fact.at == page.desk.now for fact in book_of(page).facts)
    page.desk.undo()
    assert without_revision(book_of(page)) == without_revision(before)


def test_day_one_goes_with_arrows_and_enter(page: WorkshopView) -> None:
    go(page, "standing")
    strips = page.strips
    strips.setFocus()
    strips.choose(strips.spots[0].id)
    key(strips, Qt.Key.Key_Right)
    key(strips, Qt.Key.Key_Right)
    key(strips, Qt.Key.Key_Return)
    settle()
    assert strips.jobs[0].strips[0].stops[2].state == "here"
    assert strips.hasFocus()
    assert "Head, approve: still to come" in READER.said


def test_when_it_ended_can_be_said(page: WorkshopView) -> None:
    go(page, "standing")
    write(page, "ended", "Fri 12 Mar 16:00")
    spot = page.strips.spots[3]
    click(page.strips, spot.rect.center())
    assert {fact.at.day for fact in book_of(page).facts} == {12}


def test_a_screen_reader_hears_list_grid_and_blanks(page: WorkshopView) -> None:
    root = QAccessible.queryAccessibleInterface(page.contents)
    assert root is not None
    assert root.childCount() == len(PARTS)
    grid = QAccessible.queryAccessibleInterface(page.ticks)
    assert grid is not None
    person, skill = page.ticks.people[0], page.ticks.skills[0]
    index = [spot.id for spot in page.ticks.spots].index(f"{person.id}|{skill}")
    cell = grid.child(index)
    assert cell is not None
    level = next(s.level for s in person.skills if s.skill == skill)
    word = page.desk.words.say(say.LEVELS[level])
    assert cell.text(QAccessible.Text.Name) == f"{person.name}, {skill}: {word}"
    assert page.paper.blank("person hours").accessibleName() == f"{person.name}, hours"


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("part", PARTS)
def test_nothing_is_wider_than_the_page(page: WorkshopView, part: str, look: str) -> None:
    page.window().setProperty("ground", look)
    go(page, part)
    body = page.paper.widget()
    assert body is not None
    right = page.paper.viewport().width()
    for name in page.paper.names:
        widget = page.paper.blank(name) if name in page.paper._blanks else page.paper.box(name)
        corner = widget.mapTo(body, widget.rect().topRight())
        assert corner.x() <= right, name
    for drawn in (page.ticks, page.strips):
        if drawn.isVisible():
            assert all(spot.rect.right() <= drawn.width() for spot in drawn.spots)
    assert not page.grab().isNull()


def test_tab_goes_from_the_list_to_names_grid_and_what_stands_below(page: WorkshopView) -> None:
    page.enter()
    seen = []
    for _ in range(5):
        key(page.focusWidget() or page, Qt.Key.Key_Tab)
        seen.append(page.focusWidget())

    assert seen[0] is page.paper.blank("add people")
    assert seen[1] is page.ticks
    assert seen[2] is page.paper.blank("add skill")
    assert seen[3] is page.paper.blank("person name")
    assert seen[4] is page.paper.blank("person hours")


def test_what_is_walked_to_comes_into_sight(page: WorkshopView) -> None:
    go(page, "standing")
    strips = page.strips
    strips.setFocus()
    strips.choose(strips.spots[0].id)
    for _ in range(40):
        key(strips, Qt.Key.Key_Down)
        spot = strips.spot(strips.at)
        assert spot is not None
        top = strips.mapTo(page.paper.viewport(), spot.rect.topLeft()).y()
        assert 0 <= top <= page.paper.viewport().height() - spot.rect.height()


def test_what_is_to_be_mended_of_somebody_else_is_said_with_the_name(page: WorkshopView) -> None:
    person = book_of(page).people[3]
    page.desk.edit(change_person(book_of(page), replace(person, freelance=True)))
    settle()
    assert page.paper.note().startswith(f"{person.name}: This freelancer has no confirmed days")
    page.ticks.choose(f"{person.id}|")
    settle()
    assert page.paper.note() == ""
    assert any("no confirmed days" in note for note in page.paper.notes)


def test_what_falls_due_next_is_told_but_never_why(page: WorkshopView) -> None:
    go(page, "bought")
    write(page, "primer supplier", "Oak")
    go(page, "people")
    write(page, "person add away", "3 May to 7 May")
    write(page, "person away 1 reason", "back pain")
    write(page, "person add holds", "isocyanate training")
    write(page, "person holds 1 until", "30 Apr")
    line = "".join(text for text, _ in page.headline().next)

    name = book_of(page).people[0].name
    assert line.startswith(f"Next  isocyanate training of {name} ends Fri 30 Apr,")
    assert f"{name} away from Mon 3 May" in line
    assert "pain" not in line


def test_a_tool_is_added_counted_and_tested(page: WorkshopView) -> None:
    go(page, "places")
    write(page, "add thing", "Long lorry")
    thing = book_of(page).equipment[-1]
    assert thing.kind.value == "vehicle"
    write(page, f"{thing.id} inside_length_m", "7.2")
    write(page, f"{thing.id} test_due", "30 Jun")
    made = book_of(page).equipment[-1]
    assert (str(made.inside_length_m), made.test_due) == ("7.2", date(2027, 6, 30))


def test_one_rate_for_everybody_is_one_value_and_one_undo(page: WorkshopView) -> None:
    go(page, "rates")
    before = book_of(page)
    write(page, "add rate of all", "28.50")
    assert {str(each.rate_per_hour) for each in book_of(page).people} == {"28.50"}
    page.desk.undo()
    assert without_revision(book_of(page)) == without_revision(before)


def test_h_hides_all_money_here_too(page: WorkshopView) -> None:
    go(page, "rates")
    assert any("rate" in name for name in page.paper.names)
    key(page.contents, "h")
    settle()
    assert not any("rate" in name for name in page.paper.names)


def test_people_who_were_only_counted_get_the_names_and_others_can_what_they_can() -> None:
    one, two = (a_person(f"person-{number}", ("carve", "paint")) for number in (1, 2))
    counted = replace(one, name="Person 1"), replace(two, name="Person 2")
    book = replace(a_book(), people=counted)
    named = people.add_named(book, "Edda: laminate\nFemi\nGoran").book
    assert [(p.id, p.name) for p in named.people] == [
        ("person-1", "Edda"), ("person-2", "Femi"), ("goran", "Goran")
    ]  # fmt: skip
    assert [[s.skill for s in p.skills] for p in named.people] == [
        ["laminate"], ["carve", "paint"], ["carve", "paint"]
    ]  # fmt: skip
    assert people.add_named(named, "Hilde").book.people[-1].skills == ()

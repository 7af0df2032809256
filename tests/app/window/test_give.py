"""The page on which files are given out: what is written, for whom, and what is in none of it."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import icalendar
import openpyxl
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from app.document import Document
from app.window.exchange.give_view import GiveView
from app.window.exchange.making import SORTS
from app.window.main import MainWindow
from app.window.views.view import Which
from shared.book import Book, Leave, Stage, Standing
from shared.files.read import read_plan
from tests.app.cli.shell import a_file, countback
from tests.app.cli.test_give import files, found_in, spellings
from tests.app.cli.test_rush import a_rush_book, asked
from tests.app.exchange.scenes import NOTE, PRICES, REASON, a_book, changed_since, told
from tests.app.window.conftest import HandAsker
from tests.app.window.hands import key
from tests.builders import NOW

KEYS = {sort: str(number) for number, sort in enumerate(SORTS, start=1)}
NAMES = {sort: f"{sort}{endings[0] if endings else ''}" for sort, endings in SORTS.items()}
NAMES["calendar"] = "calendars"


def at() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def shown(window: MainWindow, book: Book) -> GiveView:
    """Give the page in front, of a book with its plan."""
    window.desk.take(Document(book))
    window.shelf.show(Which.WALL)
    key(window.wall, "u")
    view = window.shelf.view
    assert isinstance(view, GiveView)
    return view


def give(asker: HandAsker, folder: Path, sort: str) -> Path:
    asker.path = folder / NAMES[sort]
    key(at(), KEYS[sort])
    return asker.path


def turn_to(view: GiveView, identity: str, value: str) -> None:
    while view.lines.at != identity:
        key(at(), Qt.Key.Key_Down)
    for _ in range(99):
        line = view.lines.line(identity)
        assert line is not None
        if line.value == value:
            return
        key(at(), Qt.Key.Key_Right)
    raise AssertionError(value)


def sentence(window: MainWindow) -> str:
    return window.masthead.shown.sentence


def test_everything_is_given_by_its_key_and_holds_nothing_private(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    book = told(a_book())
    view = shown(window, book)
    firm = next(job for job in book.jobs if job.standing is not Standing.ENQUIRY)
    turn_to(view, "plan", "the plan that people were told")
    for sort in SORTS:
        if sort == "letter":
            turn_to(view, "whom", f"{firm.name}, a job")
            view.lines.choose("plan")
        path = give(asker, tmp_path, sort)
        assert str(path) in sentence(window), sort
        assert path.exists()
    found = files(tmp_path)
    secrets = {REASON.encode(), NOTE.encode(), *(s for p in PRICES for s in spellings(p))}
    where = {(name, s) for name, data in found.items() for s in secrets if found_in(data, s)}

    assert len(found) > 30
    assert {name for name, _ in where} == {"letter.pdf/words"}, "the price that is asked"
    assert {secret for _, secret in where} <= spellings(PRICES[0])


def test_the_least_price_of_an_enquiry_is_in_nothing(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    made = a_rush_book()
    away = Leave(start=NOW + timedelta(days=90), end=NOW + timedelta(days=91), reason=REASON)
    people = (replace(made.people[0], leave=(away,)), *made.people[1:])
    jobs = []
    for job in made.jobs:
        steps = tuple(
            replace(s, ways=tuple(replace(w, cost=Decimal("7313.37")) for w in s.ways))
            if isinstance(s, Stage) and job.standing is Standing.ENQUIRY
            else s
            for s in job.steps
        )
        jobs.append(replace(job, steps=steps))
    book = replace(made, jobs=tuple(jobs), people=people)
    apart = tmp_path / "apart"
    apart.mkdir()
    path = a_file(apart, book)
    least = Decimal(str(asked(path).last["least_price"]))
    kept = apart / "with.plan"
    planned = countback(
        "plan", path, "--with", "owl", "--out", kept, "--seconds", "2", "--now", str(NOW)
    )
    assert planned.code == 0
    plan = read_plan(kept.read_bytes()).plan
    view = shown(window, book)
    window.desk.plan = plan
    firm = next(job for job in book.jobs if job.standing is Standing.FIRM)
    out = tmp_path / "out"
    out.mkdir()
    for sort in SORTS:
        if sort == "letter":
            turn_to(view, "whom", f"{firm.name}, a job")
        assert give(asker, out, sort).exists(), sentence(window)
    secrets = {REASON.encode(), *spellings(least)}
    found = files(out)

    assert least > 7000
    assert any(b"Owl" in data for data in found.values())
    assert not [(name, s) for name, data in found.items() for s in secrets if found_in(data, s)]


def test_one_person_s_calendar_is_a_file(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    book = told(a_book())
    view = shown(window, book)
    person = book.people[0]
    turn_to(view, "whom", f"{person.name}, a person")
    line = view.lines.line("sort calendar")
    assert line is not None
    assert line.text == f"the calendar of {person.name} (ICS)"
    asker.path = tmp_path / "hers"
    key(at(), KEYS["calendar"])
    data = (tmp_path / "hers.ics").read_bytes()
    events = list(icalendar.Calendar.from_ical(data).walk("VEVENT"))
    assert book.plan is not None
    assert events
    assert len(events) <= len(book.plan.placements)


def test_a_workbook_is_read_back(window: MainWindow, asker: HandAsker, tmp_path: Path) -> None:
    shown(window, told(a_book()))
    path = give(asker, tmp_path, "workbook")
    sheets = openpyxl.load_workbook(path).sheetnames
    assert sheets == ["about", "plan", "hours", "orders"]


def test_an_old_plan_is_given_with_its_mark(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    view = shown(window, changed_since(told(a_book())))
    turn_to(view, "plan", "the plan that people were told")
    path = give(asker, tmp_path, "page")
    assert "OLD PLAN." in path.read_text()
    assert any(line.is_alarm and "OLD PLAN." in line.text for line in view.lines.lines)


def test_a_plan_that_breaks_a_rule_is_refused(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    book = a_book()
    view = shown(window, book)
    plan = book.plan
    assert plan is not None
    where, placed = next((i, p) for i, p in enumerate(plan.placements) if p.people)
    sooner = replace(placed, start=placed.start - timedelta(days=30))
    placements = (*plan.placements[:where], sooner, *plan.placements[where + 1 :])
    window.desk.plan = replace(plan, placements=placements)
    path = give(asker, tmp_path, "page")
    assert sentence(window).startswith("Nothing is given out: the plan breaks")
    assert any(line.is_alarm for line in view.lines.lines)
    assert not path.exists()


def test_what_can_t_be_given_is_told(window: MainWindow, asker: HandAsker, tmp_path: Path) -> None:
    view = shown(window, told(a_book()))
    give(asker, tmp_path, "letter")
    assert sentence(window) == "Choose under “For whom” to which job’s client the letter goes."
    asker.path = tmp_path / "page.txt"
    key(at(), KEYS["page"])
    assert sentence(window) == "The name must end in .html, .htm."
    asker.path = tmp_path / "mine"
    asker.path.write_text("mine")
    key(at(), KEYS["tables"])
    assert sentence(window) == f"A folder is wanted, and {asker.path} is a file."
    assert asker.path.read_text() == "mine"
    asker.path = tmp_path / "page"
    (tmp_path / "page.html").write_text("mine")
    key(at(), KEYS["page"])
    assert sentence(window).startswith(f"{tmp_path / 'page.html'} is there already")
    (tmp_path / "page.html").unlink()
    asker.path = tmp_path / "no folder" / "a.html"
    key(at(), KEYS["page"])
    assert "no folder" in sentence(window)
    asker.path = None
    window.desk.trouble = ""
    key(at(), KEYS["page"])
    assert view.written is None
    window.desk.plan = None
    key(at(), KEYS["page"])
    assert sentence(window) == "There is no plan yet, so nothing can be given out."
    assert sorted(each.name for each in tmp_path.iterdir()) == ["mine"]


@pytest.mark.parametrize("suffix", [".svg", ".png", ".pdf"])
def test_paper_is_of_the_size_chosen(
    window: MainWindow, asker: HandAsker, tmp_path: Path, suffix: str
) -> None:
    view = shown(window, told(a_book()))
    sizes = []
    for paper in ("A3", "A4"):
        turn_to(view, "paper", paper)
        asker.path = tmp_path / f"{paper}{suffix}"
        key(at(), KEYS["wall"])
        sizes.append(asker.path.read_bytes())
    assert sizes[0] != sizes[1]

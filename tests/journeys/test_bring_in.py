"""Jobs of another program come into the window as a file, are planned, and are taken back."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.window.exchange.bring_view import BringView
from app.window.views.view import Which
from shared.book import Book
from tests.house.tree import ROOT
from tests.journeys.conftest import Start
from tests.journeys.whole import Started, at, book, is_planned, key

pytestmark = [pytest.mark.journey, pytest.mark.screen]

CTRL = Qt.KeyboardModifier.ControlModifier
JOBS = (
    "Projekt;Kunde;Land;Fenster von;Fenster bis;Status\n"
    "Rohrdommel;Stadtbücherei;GB;03.05.2027 08:00;07.05.2027 17:00;fest\n"
)
STAGES = "job;segment;stage;kind;skill;places;hours;hands\n" + "".join(
    f"Rohrdommel;Figure;{stage};{kind};{kind};{place};{hours};1\n"
    for stage, kind, place, hours in (
        ("carve", "foam", "Bay 1", 8),
        ("laminate", "laminate", "Bay 2", 6),
    )
)


def brought(made: Started, tmp_path: Path, name: str, text: str) -> None:
    """Bring a file in by keys: I, 1, and Enter once it is looked at."""
    view = made.window.shelf.views[Which.BRING]
    assert isinstance(view, BringView)
    made.asker.path = tmp_path / name
    made.asker.path.write_bytes(text.encode("cp1252"))
    key(at(), "i")
    key(at(), "1")
    made.wait(lambda: view.found is not None)
    assert made.window.masthead.shown.sentence.endswith("can be taken."), view.found
    key(at(), Qt.Key.Key_Return)


def names(found: Book) -> list[str]:
    return [job.name for job in found.jobs]


def test_jobs_come_in_are_planned_and_are_taken_back(start: Start, tmp_path: Path) -> None:
    path = tmp_path / "book.countback"
    path.write_bytes((ROOT / "sample_jobs/tight.countback").read_bytes())
    made = start(path).planned()
    window, before = made.window, book(made.window)
    brought(made, tmp_path, "jobs.csv", JOBS)
    brought(made, tmp_path, "stages.csv", STAGES)
    assert names(book(window)) == [*names(before), "Rohrdommel"]
    made.wait(lambda: is_planned(window))
    new = book(window).jobs[-1]
    assert window.desk.plan is not None
    placed = {each.step for each in window.desk.plan.placements if each.job == new.id}
    stages = [step.id for step in new.steps if step.name in ("carve", "laminate")]
    assert len(stages) == 2
    assert placed.issuperset(stages)
    key(at(), Qt.Key.Key_Z, CTRL)
    assert not any(step.name == "carve" for step in book(window).jobs[-1].steps)
    key(at(), Qt.Key.Key_Z, CTRL)
    assert book(window).jobs == before.jobs
    made.wait(lambda: is_planned(window))
    key(at(), Qt.Key.Key_Escape)
    assert window.shelf.front is Which.WALL
    assert not window.wall.isHidden()


def test_the_first_jobs_come_in_where_nothing_is_on_the_wall(start: Start, tmp_path: Path) -> None:
    made = start()
    key(at(), Qt.Key.Key_Escape)
    brought(made, tmp_path, "jobs.csv", JOBS)
    assert names(book(made.window)) == ["Rohrdommel"]
    made.planned()
    key(at(), Qt.Key.Key_Escape)
    QApplication.processEvents()
    assert not made.window.wall.isHidden()

"""What the window decides can be tested without one: these modules reach no Qt."""

import subprocess
import sys

from tests.house.tree import ROOT

WITHOUT_QT = (
    "app.document",
    "app.crash",
    "app.moved",
    "app.recovery",
    "app.settings",
    "app.paths",
    "app.words.on_wall",
    "app.words.window",
    "app.exchange.bring.asked",
    "app.exchange.bring.bringing",
    "app.exchange.bring.templates",
    "app.exchange.calendar",
    "app.exchange.csv_text",
    "app.exchange.entries",
    "app.exchange.files",
    "app.exchange.given",
    "app.exchange.latest",
    "app.exchange.page",
    "app.exchange.tables",
    "app.exchange.text",
    "app.exchange.work",
    "app.exchange.workbook",
    "app.exchange.zones",
    "app.window.tokens",
    "app.window.exchange.making",
    "app.window.headline",
    "app.window.session",
    "app.words.compared",
    "app.window.sheet.typed",
    "app.window.sheet.writing",
    "app.window.wall.causes",
    "app.window.wall.chain",
    "app.window.wall.derive",
    "app.window.wall.describe",
    "app.window.wall.find",
    "app.window.wall.hours",
    "app.window.wall.items",
    "app.window.wall.judging",
    "app.window.wall.layout",
    "app.window.wall.moves",
    "app.window.wall.parts",
    "app.window.wall.telling",
    "app.window.orders.derive",
    "app.window.people.how",
    "app.window.papers.board",
    "app.window.papers.letter",
    "app.window.papers.loads",
    "app.window.papers.owner",
    "app.window.papers.text",
    "app.window.workshop.bought",
    "app.window.workshop.coming",
    "app.window.workshop.items",
    "app.window.workshop.learned",
    "app.window.workshop.parts",
    "app.window.workshop.people",
    "app.window.workshop.places",
    "app.window.workshop.shop",
    "app.window.workshop.standing",
    "app.window.workshop.things",
    "app.window.workshop.typed",
)
LOOK = (
    "import sys; import {names}; "
    "print(sorted(n for n in sys.modules if n.split('.')[0] in ('PySide6', 'shiboken6')))"
)


def _qt_reached_by(*names: str) -> str:
    asked = [sys.executable, "-c", LOOK.format(names=", ".join(names))]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stdout.strip()


def test_states_layouts_and_edits_reach_no_qt() -> None:
    assert _qt_reached_by(*WITHOUT_QT) == "[]"


def test_the_look_would_see_it() -> None:
    assert "PySide6" in _qt_reached_by("app.window.theme")

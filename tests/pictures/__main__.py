"""``python -m tests.pictures DIR [SAMPLE ...]`` writes pictures of the window with sample books.

They are solved by the real engine, as of the moment the books name, and drawn without a screen
unless QT_QPA_PLATFORM says otherwise. Without a sample: every view of one, an enquiry and a miss
of others, and every state of the window.
"""

import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from app.document import Document
from app.window.countback.view import CountbackView, Face
from app.window.enquiry.view import EnquiryView
from app.window.main import MainWindow
from app.window.people.view import PeopleView
from app.window.startup import build, empty_book, prepare
from app.window.views.view import Which
from app.window.wall import moves
from app.window.workshop.parts import PARTS
from app.window.workshop.view import WorkshopView
from tests.books.samples import SAMPLES
from tests.pictures.states import shoot_states

SIZES = ((1366, 768, 100), (1920, 1080, 100), (1366, 768, 150))
"""Width, height, and how large texts are in per cent."""
GROUNDS = ("light", "dark")
USUAL: dict[str, tuple[str, ...]] = {
    "tight": (),
    "rush": ("season", "enquiry", "why"),
    "impossible": ("season", "why"),
}
"""Samples, and which views of them: none named is all."""
WAIT_MILLISECONDS = 120_000


def wait_until(done: Callable[[], bool]) -> None:
    """Let the window live until something has happened."""
    loop = QEventLoop()
    tick, last = QTimer(interval=20), QTimer(singleShot=True, interval=WAIT_MILLISECONDS)
    tick.timeout.connect(lambda: loop.quit() if done() else None)
    last.timeout.connect(loop.quit)
    tick.start()
    last.start()
    loop.exec()
    assert done(), "waited in vain"


def planned(window: MainWindow) -> bool:
    """Say whether the plan on show is the engine's last word on this book."""
    desk = window.desk
    assert desk.document is not None
    outcome = desk.outcome
    return outcome is not None and outcome.revision == desk.document.book.revision


def enquiry(window: MainWindow, *, is_new: bool) -> None:
    """Show what is answered of an enquiry, or the sentence of a new one."""
    window.shelf.show(Which.ENQUIRY)
    view = window.shelf.view
    assert isinstance(view, EnquiryView)
    view.back()
    if view.laid.enquiry is not None:
        wait_until(lambda: view.laid.rush is not None)
    if is_new:
        view.begin_new()


def people(window: MainWindow, what: str) -> None:
    """Show the people of a book, what can be done about work of theirs, or an absence."""
    window.shelf.show(Which.PEOPLE)
    view = window.shelf.view
    assert isinstance(view, PeopleView)
    view.back()
    if what == "people_work":
        view.choose_work()
    if what == "people_away":
        view.ask_away()
        view.form.blanks["who"].setText(view.form.names[0])
        view.form.blanks["who"].editingFinished.emit()
        wait_until(lambda: not view.awaying.is_busy)


def by_hand(window: MainWindow, chosen: Callable[[], None]) -> dict[str, Callable[[], None]]:
    """Name the pictures of what hands do on the wall."""
    hand, wall = window.hand, window.wall

    def clear() -> None:
        while hand.back():
            pass
        wall.fold(frozenset())
        chosen()

    def found() -> None:
        clear()
        hand.find()
        hand.find_part.field.setText("carve")
        hand.find_part.typed.emit("carve")

    def chain() -> None:
        clear()
        hand.follow()

    def folded() -> None:
        clear()
        hand.fold_others()

    def moving() -> None:
        clear()
        spot = wall.spot
        item = wall.wall.item(spot.item) if spot else None
        if item is not None and hand.mover.begin(item):
            hand.mover.nudge_shift(1)

    def marks() -> None:
        clear()
        window.shelf.show(Which.MARKS)

    return {"found": found, "chain": chain, "folded": folded, "moving": moving, "marks": marks}


def views(window: MainWindow) -> dict[str, Callable[[], None]]:
    """Name the pictures of one book, each with what is done to get there."""
    wall = window.wall

    def season() -> None:
        while window.hand.back():
            pass
        wall.fold(frozenset())
        window.shelf.show(Which.WALL)
        window.close_sheet()
        wall.choose(None)
        wall.show_season()

    def chosen() -> None:
        season()
        row = wall.wall.rows[min(1, len(wall.wall.rows) - 1)]
        stops = [stop for stop in row.stops if stop.label == "carve"] or row.stops
        wall.choose(moves.at(wall.wall, stops[0].id), reveal=False)

    def weeks() -> None:
        season()
        wall.zoom(30 / wall.layout_.scale.pixels_per_day)
        wall.show_today()

    def days() -> None:
        season()
        middle = wall.wall.rows[0].blocks[len(wall.wall.rows[0].blocks) // 2]
        wall.zoom(96 / wall.layout_.scale.pixels_per_day)
        wall.scroll_time(wall.layout_.scale.x(middle.start) - 300)

    def sheet() -> None:
        chosen()
        window._write()

    def another() -> None:
        season()
        window.first.ask()

    return {
        "season": season,
        "chosen": chosen,
        "weeks": weeks,
        "days": days,
        "sheet": sheet,
        "another": another,
        **by_hand(window, chosen),
        **beside(window),
    }


def beside(window: MainWindow) -> dict[str, Callable[[], None]]:
    """Name the pictures of the views beside the wall."""

    def countback() -> None:
        window.shelf.show(Which.COUNTBACK)
        view = window.shelf.view
        if isinstance(view, CountbackView):
            view.back()

    def why() -> None:
        countback()
        view = window.shelf.view
        if isinstance(view, CountbackView) and view.face is not Face.WHY:
            view.turn()
        wait_until(lambda: not window.desk.counsel.is_busy)

    def sheets() -> None:
        window.shelf.show(Which.SHEETS)

    def orders() -> None:
        window.shelf.show(Which.ORDERS)

    def workshop(part: str) -> None:
        window.shelf.show(Which.WORKSHOP)
        view = window.shelf.view
        if isinstance(view, WorkshopView):
            view.contents.choose(part)

    return {
        "countback": countback,
        "why": why,
        **{
            what: partial(people, window, what) for what in ("people", "people_work", "people_away")
        },
        "orders": orders,
        "sheets": sheets,
        "bring": partial(window.shelf.show, Which.BRING),
        "give": partial(window.shelf.show, Which.GIVE),
        "enquiry_new": partial(enquiry, window, is_new=True),
        "enquiry": partial(enquiry, window, is_new=False),
        **{f"workshop_{part}": partial(workshop, part) for part in PARTS},
    }


def sized(window: MainWindow) -> Iterator[str]:
    """Go through sizes, grounds and texts, naming each."""
    for width, height, percent in SIZES:
        window.resize(width, height)
        window.ground.settings = replace(window.ground.settings, text_percent=percent)
        larger = "" if percent == 100 else f"_{percent}"
        for ground in GROUNDS:
            window.ground.set_look(ground)
            window.arrange()
            window.refresh_state()
            yield f"{ground}_{width}{larger}"


def settle() -> None:
    """Let what was asked for be laid out and drawn."""
    QApplication.processEvents()
    QApplication.processEvents()


def shoot(folder: Path, name: str, data: Path, only: tuple[str, ...] = ()) -> None:
    """Write all pictures of one sample, or only those of some views."""
    path = data / f"{name}.countback"
    from shared.files.write import write_book

    path.write_bytes(write_book(SAMPLES[name]()))
    window = build(data)
    window.show()
    window.show_book(window.desk.open(path))
    wait_until(lambda: planned(window))
    for where in sized(window):
        window.desk.note = ""
        for view, go in views(window).items():
            if only and view not in only:
                continue
            window.desk.leave_trial()
            go()
            settle()
            window.grab().save(str(folder / f"{name}_{view}_{where}.png"))
    window.desk.leave_trial()
    window.show_keys()
    QApplication.processEvents()
    window.grab().save(str(folder / f"{name}_keys.png"))
    window.close_page()
    window.desk.document = None
    window.close()


def shoot_first(folder: Path, data: Path) -> None:
    """Write the pictures of an empty wall."""
    window = build(data)
    window.desk.take(Document(empty_book(window.words)))
    window.show_work()
    window.show()
    for where in sized(window):
        settle()
        window.grab().save(str(folder / f"first_{where}.png"))
    window.desk.document = None
    window.close()


def main(arguments: list[str]) -> int:
    if not arguments:
        print("python -m tests.pictures DIR [SAMPLE ...]", file=sys.stderr)
        return 2
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    data = folder / ".data"
    data.mkdir(exist_ok=True)
    app = QApplication([])
    prepare(app)
    shoot_first(folder, data)
    for name in arguments[1:]:
        shoot(folder, name, data)
    if not arguments[1:]:
        for name, only in USUAL.items():
            shoot(folder, name, data, only)
        shoot_states(folder, data)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

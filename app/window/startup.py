"""Where the window is put together: the only place that builds and connects its parts."""

import logging
import sys
from collections.abc import Callable
from datetime import datetime, time
from importlib.resources import files
from pathlib import Path

from PySide6.QtCore import QLibraryInfo, QTranslator
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QApplication, QFileDialog, QStyleFactory, QWidget

from app import clock
from app.counsel.asking import Counsel
from app.crash import Rescue
from app.document import Document
from app.jobs import Engine
from app.paths import data_folder
from app.settings import Settings, read_settings, write_settings
from app.window.desk import Desk
from app.window.fonts import load_fonts
from app.window.keeper import Keeper
from app.window.main import MainWindow
from app.window.reader import READER
from app.window.spots.access import AccessibleDrawn
from app.window.spots.drawn import Drawn
from app.window.wall.access import AccessibleWall
from app.window.wall.view import WallView
from app.words import Words
from app.words import window as say
from app.words.language import speak
from shared.book import Book, Workshop
from shared.errors import DiskError
from shared.worktime import Shift

LOG = logging.getLogger(__name__)


class FileAsker:
    """Asks with the system's own file window."""

    def open(self, parent: QWidget, title: str, kinds: str) -> Path | None:
        """Return a file to open."""
        name, _ = QFileDialog.getOpenFileName(parent, title, "", kinds)
        return Path(name) if name else None

    def save(self, parent: QWidget, title: str, kinds: str) -> Path | None:
        """Return a file to write."""
        name, _ = QFileDialog.getSaveFileName(parent, title, "", kinds)
        return Path(name) if name else None


def prepare(app: QApplication) -> None:
    """Give the application its name, its icon, its style, its fonts and its voice."""
    app.setApplicationName("countback")
    app.setApplicationDisplayName("Countback")
    app.setDesktopFileName("internal.countback.countback")
    app.setWindowIcon(QIcon(str(files("app") / "resources" / "countback.svg")))
    app.setStyle(QStyleFactory.create("Fusion"))
    failed = load_fonts()
    if failed:
        LOG.info("fonts not loaded: %s", failed)
    READER.install((WallView, AccessibleWall), (Drawn, AccessibleDrawn))  # type: ignore[arg-type]


def _let_qt_speak() -> None:
    """Give Qt's own words, in menus of fields and file windows, in the language that is spoken."""
    app = QApplication.instance()
    if app is None:
        return
    for before in app.findChildren(QTranslator):
        app.removeTranslator(before)
        before.deleteLater()
    translator = QTranslator(app)
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if translator.load(f"qtbase_{Words().language}", folder):
        app.installTranslator(translator)


def build(
    folder: Path,
    *,
    now: datetime | None = None,
    engine: Engine | None = None,
    asker: FileAsker | None = None,
    ticking: Callable[[], datetime] = clock.now,
) -> MainWindow:
    """Build the window on a data folder; the engine's child is started."""
    settings = read_settings(folder)
    speak(settings.language)
    _let_qt_speak()
    made = engine or Engine()
    made.start()
    desk = Desk(
        made,
        Counsel(),
        ticking,
        clock.ticks,
        now=now,
        seconds=settings.solve_seconds,
        who=settings.who,
    )

    def keep(changed: Settings) -> None:
        try:
            write_settings(folder, changed)
        except DiskError as trouble:
            LOG.info("settings not kept: %s", trouble)

    window = MainWindow(desk, asker or FileAsker(), settings, keep)
    made.setParent(window)
    return window


def empty_book(words: Words) -> Book:
    """Return a book with nothing on its wall yet, with hours as they are common."""
    shift = Shift(days=(0, 1, 2, 3, 4), start=time(7, 30), end=time(16))
    shop = Workshop(name="", zone="Europe/London", country="GB", shifts=(shift,))
    return Book(name=words.say(say.UNTITLED), workshop=shop)


def run(path: Path | None, now: datetime | None, data: Path | None = None) -> int:
    """Open the window, on a book or on an empty wall, and stay until it is closed."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    prepare(app)
    folder = data_folder(data)
    window = build(folder, now=now)
    keeper = Keeper(window, folder)
    rescue = Rescue(folder, keeper.autosave.keep, clock.now, keeper.tell_crash)
    crashed = rescue.begin()
    try:
        _begin(window, path)
        if not keeper.offer.at_start() and crashed:
            keeper.tell_former_crash()
        window.show()
        return app.exec()
    finally:
        rescue.end()


def _begin(window: MainWindow, path: Path | None) -> None:
    if path is None:
        window.desk.take(Document(empty_book(window.words)))
        window.show_work()
        return
    opened = window.desk.open(path)
    if opened.document is None:
        window.desk.take(Document(empty_book(window.words)))
    window.show_book(opened)

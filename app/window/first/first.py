"""The first start: a job in four blanks, a made-up workshop, books opened lately."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from app.window.first.start import Start, Ways
from app.window.page import Content
from app.window.session import BOOK_ENDING
from app.window.views.view import Which
from app.words import first as say
from app.words import window as window_words
from app.words.brought import in_words
from shared.edits import Edited
from shared.files.read import read_book

if TYPE_CHECKING:
    from app.window.main import MainWindow

MOST_RECENT = 9
SHOWN_RECENT = 5


class First:
    """Fills the empty wall's page, and lets a new job be written over a wall that isn't empty."""

    def __init__(self, window: "MainWindow") -> None:
        self._window = window
        self._start: Start | None = None
        window.desk.state_changed.connect(self._remember)

    @property
    def start(self) -> Start | None:
        """The page's part, while there is one."""
        return self._start

    def page(self) -> Content:
        """Return what stands where nothing is on the wall yet."""
        words = self._window.words
        return Content(
            title=words.say(window_words.EMPTY),
            next=words.say(say.UNDER_SENTENCE),
            has_ghost=True,
            is_sentence=True,
            body=self._make(is_first=True),
        )

    def ask(self) -> None:
        """Ask for a new job in four blanks."""
        window = self._window
        if window.desk.document is None:
            return
        if not window.desk.document.book.jobs:
            window.show_work()
            return
        body = self._make(is_first=False)
        title = window.words.say(say.ASK_ANOTHER)
        window.show_page(Content(title=title, is_sentence=True, body=body))

    def _make(self, *, is_first: bool) -> Start:
        desk, window, old = self._window.desk, self._window, self._start
        book = desk.document.book if desk.document is not None else None
        if old is not None and old.book is book and old.is_first == is_first:
            return old
        if old is not None:
            old.deleteLater()
        ways = Ways(
            open_=window.ask_and_open,
            sample=self.open_sample,
            begin=self._begin,
            recent=self._recent() if is_first else (),
        )
        behind = None if is_first else (window.shelf.view or window.wall).grab
        self._start = Start(desk, ways, is_first=is_first, behind=behind)
        self._start.answered.connect(self._on_answered)
        return self._start

    def _on_answered(self, edited: object) -> None:
        assert isinstance(edited, Edited)
        window, before = self._window, self._ids()
        window.desk.edit(edited)
        new = [job for job in self._ids() if job not in before]
        if not new:
            window.show_work()
            window.shelf.show(Which.WORKSHOP)
            return
        window.desk.plan_now()
        window.close_page()
        window.choose_job(new[0])

    def _ids(self) -> list[str]:
        document = self._window.desk.document
        return [job.id for job in document.book.jobs] if document is not None else []

    def _begin(self) -> None:
        if self._start is not None:
            self._start.begin()

    # Other ways in.

    def open_sample(self, name: str) -> None:
        """Open a made-up workshop as a book that has no file yet."""
        data = files("sample_jobs").joinpath(name + BOOK_ENDING).read_bytes()
        book = read_book(data).book
        assert book is not None
        self._window.leaving.take(in_words(self._window.words, book))

    def _recent(self) -> tuple[tuple[str, Callable[[], object]], ...]:
        paths = [Path(text) for text in self._window.ground.settings.recent]
        there = [path for path in paths if path.is_file()][:SHOWN_RECENT]
        return tuple((path.stem, partial(self._window.leaving.open_book, path)) for path in there)

    def _remember(self) -> None:
        """Keep which book was opened or saved last."""
        document, ground = self._window.desk.document, self._window.ground
        path = document.path if document is not None else None
        if path is None:
            return
        text, recent = str(path.absolute()), ground.settings.recent
        if recent[:1] != (text,):
            others = tuple(each for each in recent if each != text)
            ground.keep(replace(ground.settings, recent=(text, *others)[:MOST_RECENT]))

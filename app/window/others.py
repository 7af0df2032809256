"""Who else has the book, and what somebody else wrote in its place: told, compared, never lost."""

import logging
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence

from app.window import session
from app.window.page import Choice, Content
from app.window.session import Outside
from app.window.trial import Trial
from app.words import compared as say
from shared.comparing import differences
from shared.edits import take_others
from shared.errors import DiskError
from shared.files.disk import real
from shared.files.lock import Held, look

if TYPE_CHECKING:
    from app.document import Document
    from app.window.main import MainWindow
    from shared.book import Book

LOG = logging.getLogger(__name__)
AFTER_MILLISECONDS = 300
"""So long after the last sign from the disk it is looked at."""
EVERY_MILLISECONDS = 20_000
"""So often it is looked at anyway: of a share on another machine no sign comes."""
LINES_MOST = 9
_ITEM = "–  "


class Others(QObject):
    """Looks whether the file of the open book is still what was read or saved last.

    A sign of the disk is only told, with the key that compares, since somebody may be typing; the
    comparison comes of itself when the window is come back to, and when a save is refused.
    """

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window, self._desk = window, window.desk
        self._asked = ""
        self.files = QFileSystemWatcher(self)
        self.soon = QTimer(self, singleShot=True, interval=AFTER_MILLISECONDS)
        self.often = QTimer(self, interval=EVERY_MILLISECONDS)
        self.files.fileChanged.connect(lambda _: self.soon.start())
        self.files.directoryChanged.connect(lambda _: self.soon.start())
        self.soon.timeout.connect(self.look)
        self.often.timeout.connect(self.look)
        self._desk.shown_changed.connect(self._watch)
        self._desk.saved.connect(self._watch)
        self._desk.crossed.connect(self.ask)
        window.book_shown.connect(self.ask_for_lock)
        app = QGuiApplication.instance()
        assert isinstance(app, QGuiApplication)
        app.focusWindowChanged.connect(self._on_focus)
        action = QAction(window)
        action.setShortcut(QKeySequence(say.KEY))
        action.triggered.connect(lambda _=False: self.ask())
        window.addAction(action)

    # Looking.

    def _watch(self) -> None:
        """Watch the file of the open book; a file that was replaced is watched anew."""
        document = self._desk.document
        path = document.path if document is not None else None
        file = None if path is None else real(path)
        wanted = set() if file is None else {str(file), str(file.parent)}
        held = {*self.files.files(), *self.files.directories()}
        if held - wanted:
            self.files.removePaths(sorted(held - wanted))
        if wanted - held:
            self.files.addPaths(sorted(wanted - held))
        if wanted and not self.often.isActive():
            self.often.start()
        elif not wanted:
            self.often.stop()

    def _on_focus(self, focused: object) -> None:
        """Look when the window is come back to, and ask once for each thing found."""
        if focused is None or focused is not self._window.windowHandle():
            return
        found = self.look()
        if found is not None and found.digest != self._asked:
            self.ask()

    def look(self) -> Outside | None:
        """Look at the file, say in the foot whether somebody else wrote it, and give that."""
        self._watch()
        document = self._desk.document
        found = None
        if document is not None:
            self._look_at_lock(document)
            try:
                found = session.look_outside(document)
            except DiskError as trouble:
                LOG.info("the book can't be looked at: %s", trouble)
        if self._desk.is_outside != (found is not None):
            self._desk.is_outside = found is not None
            self._desk.state_changed.emit()
        return found

    def _look_at_lock(self, document: "Document") -> None:
        """Only look at the book from here on if somebody took its lock."""
        opened = self._desk.opened
        try:
            if opened is None or opened.lock is None or opened.lock.is_ours:
                return
            held = look(opened.path)
        except DiskError as trouble:
            LOG.info("the lock can't be looked at: %s", trouble)
            return
        document.read_only = True
        self._desk.opened = session.Opened(path=opened.path, document=document, held=held or Held())
        self._desk.state_changed.emit()

    # Asking.

    def ask(self) -> None:
        """Compare what somebody else wrote, or say who has the book."""
        found = self.look()
        if found is None:
            if not self._has_come_free():
                self.ask_for_lock()
            return
        self._asked = found.digest
        document = self._desk.document
        assert document is not None
        self._window.show_page(self._page(document, found))

    def _has_come_free(self) -> bool:
        """Look who has the book by now, and take it where nobody has; whether it was taken."""
        opened = self._desk.opened
        if opened is None or opened.held is None:
            return False
        try:
            held = look(opened.path)
        except DiskError as trouble:
            LOG.info("the lock can't be looked at: %s", trouble)
            return False
        if held is not None:
            self._desk.opened = replace(opened, held=held)
            return False
        self._take_lock()
        return True

    def ask_for_lock(self) -> None:
        """Ask for the word of a person where whoever has the book may be gone."""
        opened = self._desk.opened
        held = opened.held if opened is not None else None
        if held is None or not self._desk.may_take_lock:
            return
        words = self._window.words
        take = Choice(key="1", text=words.say(say.TAKE_LOCK), do=self._take_lock)
        back = Choice(key="Esc", text=words.say(say.ONLY_LOOK), do=self._window.close_page)
        page = Content(
            title=say.lock_sentence(words, held),
            next=words.say(say.ONE_AT_A_TIME),
            choices=(take, back),
            is_sentence=True,
        )
        self._window.show_page(page)

    def _take_lock(self) -> None:
        desk, document = self._desk, self._desk.document
        assert document is not None
        assert document.path is not None
        try:
            got = session.lock_of(document.path, desk.clock_now, has_word=True)
        except DiskError as trouble:
            desk.trouble = self._window.words.trouble(trouble.code, **trouble.facts)
            self._window.close_page()
            return
        desk.hold(document.path, got)
        desk.note = self._window.words.say(say.LOCK_TAKEN)
        self._window.close_page()
        if self.look() is not None:
            self.ask()

    def _page(self, document: "Document", found: Outside) -> Content:
        words = self._window.words
        mine, book = document.book, found.book
        choices = []
        if book is not None:
            text = words.say(say.TAKE if document.unsaved_count else say.TAKE_CLEAN)
            choices.append(Choice(key="1", text=text, do=partial(self._take, found)))
        if not document.read_only:
            text = words.say(say.KEEP)
            choices.append(Choice(key="2", text=text, do=partial(self._keep, found)))
        if book is not None:
            text = words.say(say.LOOK)
            choices.append(Choice(key="3", text=text, do=partial(self._look_at, found)))
        text = words.say(say.LATER)
        choices.append(Choice(key="Esc", text=text, do=self._window.close_page))
        rows = () if book is None else self._rows(document, book)
        next_ = words.say(say.UNREADABLE if book is None else say.NOTHING_LOST)
        if book is not None and (both := self._both(document, book)):
            next_ = words.say(say.BOTH, things=both)
        return Content(
            title=words.say(say.TITLE, book=mine.name),
            next=next_,
            rows=rows,
            choices=tuple(choices),
            is_sentence=True,
        )

    def _rows(self, document: "Document", book: "Book") -> tuple[tuple[str, str], ...]:
        words, was, mine = self._window.words, document.on_disk.book, document.book
        theirs = say.lines(differences(was, book), was, book, LINES_MOST)
        head = say.THEIRS if theirs else say.SAME
        rows = [("", words.say(head)), *(("", _ITEM + line) for line in theirs)]
        ours = say.lines(differences(was, mine), was, mine, LINES_MOST)
        if ours:
            rows += [("", ""), ("", words.say(say.MINE))]
            rows += [("", _ITEM + line) for line in ours]
        return tuple(rows)

    def _both(self, document: "Document", book: "Book") -> str:
        """Return what both have changed, by name."""
        was, words = document.on_disk.book, self._window.words
        theirs = {each.thing for each in differences(was, book)}
        ours = [each.thing for each in differences(was, document.book)]
        both = dict.fromkeys(thing for thing in ours if thing in theirs and thing[1])
        return words.both(words.names.of(sort, name) for sort, name in both)

    # What was chosen.

    def _take(self, found: Outside) -> None:
        """Put what they wrote in the place of the book; one undo takes that back."""
        document = self._desk.document
        assert document is not None
        session.take_outside(document, found)
        self._desk.note = self._window.words.say(say.TAKEN)
        self._shown()

    def _keep(self, found: Outside) -> None:
        """Save the book over what they wrote, which is put beside it first."""
        desk, document = self._desk, self._desk.document
        lock = desk.opened.lock if desk.opened is not None else None
        assert document is not None
        assert lock is not None
        self._window.close_page()
        try:
            beside = session.save_over(document, found, lock, desk.clock_now)
        except DiskError as trouble:
            desk.refuse_save(trouble)
            return
        desk.trouble, desk.note = "", self._window.words.say(say.KEPT_BESIDE, path=beside.name)
        desk.saved.emit()
        self._shown()

    def _look_at(self, found: Outside) -> None:
        """Show on the wall what they wrote, what is otherwise framed; Enter takes it."""
        document = self._desk.document
        assert document is not None
        assert found.book is not None
        self._window.close_page()
        edited = take_others(document.book, found.book)
        trial = Trial(
            what=self._window.words.say(say.LOOKED_AT),
            label=edited.label,
            book=edited.book,
            plan=self._desk.plan,
            before=document.book,
            digest=found.digest,
        )
        self._desk.try_(trial)

    def _shown(self) -> None:
        self.look()
        self._window.show_work()

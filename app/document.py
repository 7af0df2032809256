"""The open book: the only thing that changes; every change is an edit that can be undone."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from shared.book import Book
from shared.edits import Changed, Edited, Label
from shared.files.known import NO_FILE

Listener = Callable[[Changed], None]
MOST_DONE = 200
"""So many edits can be taken back; older ones stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnDisk:
    """A file as it was read or written: the digest of its bytes and the book in it."""

    known: str
    book: Book


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """An edit that was made: the book before and after it, what it touched, its label.

    merge: edits that follow one another with the same key (typing in one field) are one.
    files: of a book that was taken from its file, which file was known before and since.
    """

    before: Book
    after: Book
    changed: Changed
    label: Label
    merge: str | None = None
    files: tuple[OnDisk, OnDisk] | None = None


class Document:
    """A book in work, with its undo list, its file and whether that is up to date.

    Undoing gives the earlier book a revision of its own: revisions only ever rise. The last
    `MOST_DONE` edits can be undone. on_disk: the file as it was last read or written.
    """

    def __init__(
        self, book: Book, path: Path | None = None, *, read_only: bool = False, known: str = NO_FILE
    ) -> None:
        self.book = book
        self.path = path
        self.on_disk = OnDisk(known=known, book=book)
        self.read_only = read_only
        self._done: list[Done] = []
        self._undone: list[Done] = []
        # The edit after which the file holds all; one that is on no list where no undo leads there.
        self._clean: Done | None = None
        self._was_saved = path is not None
        self._listeners: list[Listener] = []

    def listen(self, listener: Listener) -> None:
        """Call somebody after every change, with what it touched."""
        self._listeners.append(listener)

    @property
    def undo_label(self) -> Label | None:
        """Return what undo would take back, or None."""
        return self._done[-1].label if self._done else None

    @property
    def redo_label(self) -> Label | None:
        """Return what redo would do again, or None."""
        return self._undone[-1].label if self._undone else None

    @property
    def is_saved(self) -> bool:
        """Return whether the file holds what is shown."""
        return self._was_saved and self._clean is self._last

    @property
    def unsaved_count(self) -> int:
        """Return how many edits the file doesn't hold; 1 at least when it is not up to date."""
        if self.is_saved:
            return 0
        at = next((i for i, each in enumerate(self._done) if each is self._clean), None)
        if at is None:
            is_any = bool(self._done) or self._was_saved or self._clean is not None
            return max(1, len(self._done)) if is_any else 0
        return max(1, len(self._done) - 1 - at)

    @property
    def _last(self) -> Done | None:
        return self._done[-1] if self._done else None

    def apply(self, edited: Edited, *, merge: str | None = None) -> None:
        """Take an edit of the present book over.

        Raises ValueError when it was made from an earlier revision.
        """
        if edited.book.revision <= self.book.revision:
            raise ValueError((edited.book.revision, self.book.revision))
        last = self._last
        before = self.book
        if merge is not None and last is not None and last.merge == merge:
            before = last.before
            self._done.pop()
        self._done.append(
            Done(
                before=before,
                after=edited.book,
                changed=edited.changed,
                label=edited.label,
                merge=merge,
            )
        )
        self._undone.clear()
        if len(self._done) > MOST_DONE:
            self._let_stand(self._done.pop(0))
        self._show(edited.book, edited.changed)

    def _let_stand(self, oldest: Done) -> None:
        """Note that an edit can't be taken back any more."""
        if self._clean is None:
            self._clean = oldest
        elif self._clean is oldest:
            self._clean = None

    def take_file(self, edited: Edited, known: str) -> None:
        """Take over what somebody else wrote into the file, with bytes of that digest.

        Once that is undone the file counts as written by somebody else again.
        """
        assert self.path is not None
        before = self.on_disk
        self.apply(edited)
        done = self._done[-1]
        self._done[-1] = replace(done, files=(before, OnDisk(known=known, book=edited.book)))
        self.mark_saved(self.path, known)

    def undo(self) -> Label | None:
        """Take the last edit back; return its label, or None when there is none."""
        return self._swap(self._done, self._undone, back=True)

    def redo(self) -> Label | None:
        """Make the last edit that was undone again; return its label, or None."""
        return self._swap(self._undone, self._done, back=False)

    def _swap(self, source: list[Done], target: list[Done], *, back: bool) -> Label | None:
        if not source:
            return None
        done = source.pop()
        target.append(done)
        book = done.before if back else done.after
        if done.files is not None:
            left, back_to = reversed(done.files) if back else done.files
            if self.on_disk == left:
                self.on_disk = back_to
        self._show(replace(book, revision=self.book.revision + 1), done.changed)
        return done.label

    def mark_saved(self, path: Path, known: str) -> None:
        """Note that the present book lies in a file with bytes of that digest."""
        self.path = path
        self.on_disk = OnDisk(known=known, book=self.book)
        self._was_saved = True
        self._clean = self._last

    def close_merge(self) -> None:
        """Let the next edit stand for itself, whatever its merge key."""
        if self._done:
            last = self._done.pop()
            closed = replace(last, merge=None)
            if self._clean is last:
                self._clean = closed
            self._done.append(closed)

    def _show(self, book: Book, changed: Changed) -> None:
        self.book = book
        for listener in tuple(self._listeners):
            listener(changed)

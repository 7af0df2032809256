"""The sentence in which it is written who is away, from when, to when, and why."""

from dataclasses import replace
from datetime import date, datetime

from PySide6.QtCore import Signal

from app.window.people import asked
from app.window.people.asked import Typed
from app.window.people.form import BlankForm
from app.words import Words
from app.words import people_view as say
from shared.book import Book


class AwayForm(BlankForm):
    """Four blanks in a sentence; what is typed is told at once, Enter goes on to the answers.

    written: of a Typed.
    """

    written = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.typed = Typed()
        self._book: Book | None = None
        self._now: datetime | None = None

    def open(self, typed: Typed, book: Book, words: Words, now: datetime) -> None:
        """Show what is known already."""
        self.typed, self._book, self._now = typed, book, now
        self._clear(words)
        self._make()

    @property
    def names(self) -> tuple[str, ...]:
        """The names that it knows."""
        return tuple(asked.known(self._book)) if self._book is not None else ()

    def take_caret(self) -> None:
        """Put the caret into the first blank that asks for something."""
        self.blanks["end" if self.typed.id else "who"].setFocus()

    def _make(self) -> None:
        assert self._book is not None
        self._add("who", say.BLANK_WHO, self._who, self._write_who, suggestions=self.names)
        self._add("start", say.BLANK_FROM, lambda: self._day(self.typed.start), self._write_start)
        self._add("end", say.BLANK_TO, lambda: self._day(self.typed.end), self._write_end)
        self._add("reason", say.BLANK_WHY, lambda: self.typed.reason, self._write_reason)
        self._sentence(say.AWAY_SENTENCE, ("who", "start", "end"))
        self._sentence(say.AWAY_WHY, ("reason",))
        self._end()

    def _is_enough(self) -> bool:
        return bool(self.typed.id)

    # Reading and writing.

    def _who(self) -> str:
        assert self._book is not None
        wanted = (self.typed.kind, self.typed.id)
        return next((name for name, each in asked.known(self._book).items() if each == wanted), "")

    def _day(self, when: date | datetime | None) -> str:
        return asked.written(when, self._words)

    def _write_who(self, text: str) -> None:
        assert self._book is not None
        kind, identity = asked.who(text, self._book)
        self._tell(replace(self.typed, kind=kind, id=identity))

    def _write_start(self, text: str) -> None:
        start = self._when(text)
        end = self.typed.end
        if end is None or _day_of(end) < _day_of(start):
            end = start if not isinstance(start, datetime) else start.date()
        self._tell(replace(self.typed, start=start, end=end))

    def _write_end(self, text: str) -> None:
        self._tell(replace(self.typed, end=self._when(text)))

    def _write_reason(self, text: str) -> None:
        self._tell(replace(self.typed, reason=" ".join(text.split())))

    def _when(self, text: str) -> date | datetime:
        assert self._now is not None
        return asked.when(text, self._words, self._now)

    def _tell(self, typed: Typed) -> None:
        self.typed = typed
        for blank in self.blanks.values():
            if not blank.hasFocus():
                blank.refresh()
        self.written.emit(typed)


def _day_of(when: date | datetime) -> date:
    return when.date() if isinstance(when, datetime) else when

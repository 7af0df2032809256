"""The page under I: a file of another program is looked at, and taken whole or not at all."""

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence

from app.exchange.bring.asked import AskBring, Brought
from app.exchange.bring.bringing import TABLES
from app.window.desk import Desk
from app.window.exchange.bring_lines import Doing, first_bad, head, lines_of
from app.window.exchange.lines import Line
from app.window.exchange.lines_view import LinesView
from app.window.filing import Filing
from app.window.guard import guarded
from app.window.headline import Headline
from app.window.views.view import Which
from app.words import bring as told
from app.words import exchange_view as say
from shared.errors import DiskError
from shared.files.disk import load, save_over
from shared.ids import PersonId

FIRST_TEMPLATE = 3
"""The key of the first table that can be written out to be filled in."""


class BringView(LinesView):
    """Answers what a file would bring, and takes it when it is told to.

    is_reading: a file is looked at just now.
    """

    which = Which.BRING

    def __init__(self, desk: Desk, filing: Filing) -> None:
        super().__init__(desk, filing)
        self.path = ""
        self.said = ""
        self.found: Brought | None = None
        self.asked: AskBring | None = None
        self._start, self.is_reading = 0, False
        self._wanted: str | None = None
        desk.counsel.refused.connect(lambda _: self.leave() if self.is_reading else None)

    # Showing.

    def refresh(self) -> None:
        if self.desk.document is None:
            return
        if self.asked is not None and self._is_behind():
            self._ask(self.asked.kind, dict(self.asked.said), self.asked.person)
            return
        self._show()

    def _is_behind(self) -> bool:
        """Whether the book is another one by now, or the answer will not come."""
        assert self.asked is not None
        is_lost = self.is_reading and not self.desk.counsel.is_busy
        return self.asked.book is not self.book or is_lost

    def _show(self) -> None:
        self._show_lines(self._lines(), self._wanted)

    def _lines(self) -> list[Line]:
        words = self.desk.words
        if self.found is None or self.asked is None:
            leave = Line(id="stop", key="Esc", text=words.say(say.DO_LEAVE), do=self.leave)
            return [leave] if self.is_reading else self._first_lines()
        doing = Doing(
            kind=self._take_kind,
            whose=self._take_whose,
            column=self._take_column,
            go=self._go,
            take=self.take,
            leave=self.leave,
            has_money=not (self.desk.is_money_hidden or self.is_given_away),
        )
        return lines_of(words, self.book, self.found, self.asked.said, doing, self._start)

    def _first_lines(self) -> list[Line]:
        words = self.desk.words
        lines = [
            Line(id="file", key="1", text=words.say(say.PICK_FILE), do=self.pick),
            Line(id="paste", key="2", text=words.say(say.PASTE), do=self.paste),
            Line(text=words.say(say.TO_FILL), is_title=True),
            Line(text=words.say(say.TO_FILL_TOLD)),
        ]
        for number, kind in enumerate(TABLES, start=FIRST_TEMPLATE):
            do = partial(self.write_template, kind)
            text = words.say(say.KINDS[kind])
            lines.append(Line(id=f"template {kind}", key=str(number), text=text, do=do))
        return lines

    def headline(self) -> Headline:
        words = self.desk.words
        if self.desk.trouble:
            return Headline(sentence=self.desk.trouble, is_alarm=True)
        if self.is_reading:
            sentence = words.say(say.READING, path=self.path)
            return Headline(sentence=sentence, next=((words.say(say.READING_NEXT), False),))
        if self.found is not None:
            sentence, next_, is_alarm = head(words, self.found, self.path)
            bad = first_bad(words, self.found)
            parts = ((self.path, True), (bad, False), (words.say(next_), False))
            under = tuple((f"{text}  ", is_bold) for text, is_bold in parts if text)
            return Headline(sentence=sentence, next=under, is_alarm=is_alarm)
        sentence = self.said or words.say(say.BRING)
        return Headline(sentence=sentence, next=((words.say(say.BRING_NEXT), False),))

    # Looking at a file.

    def pick(self) -> None:
        """Ask for a file and look at it."""
        words = self.desk.words
        path = self._filing.ask_file(words.say(say.PICK_TITLE), words.say(say.PICK_KINDS))
        if path is None:
            return
        try:
            data = load(path)
        except DiskError as trouble:
            self._tell_trouble(trouble)
            return
        self.look_at(data, path.name)

    def paste(self) -> None:
        """Look at the table on the clipboard."""
        words, text = self.desk.words, QGuiApplication.clipboard().text()
        if not text.strip():
            self.said = words.say(say.NO_TEXT)
            self._show()
            return
        self.look_at(text.encode(), words.say(say.CLIPBOARD))

    def look_at(self, data: bytes, path: str) -> None:
        """Look at a file in the child; what comes of it is shown when it is there."""
        self.path, self.said, self.found = path, "", None
        self.lines.at = self._wanted = None
        self.desk.trouble = ""
        self.asked = self._asking(data, "", {}, None)
        self._send()

    def _asking(
        self, data: bytes, kind: str, said: dict[str, str], person: PersonId | None
    ) -> AskBring:
        desk = self.desk
        return AskBring(
            book=self.book,
            data=data,
            now=desk.now,
            by=desk.who,
            kind=kind,
            said=said,
            person=person,
        )

    def _ask(self, kind: str, said: dict[str, str], person: PersonId | None) -> None:
        assert self.asked is not None
        self.asked = self._asking(self.asked.data, kind, said, person)
        self._send()

    def _send(self) -> None:
        asked = self.asked
        assert asked is not None
        self._start, self.is_reading = 0, True
        self.desk.ask(asked, partial(self._hear, asked))
        self._show()

    def _hear(self, asked: AskBring, found: object) -> None:
        assert isinstance(found, Brought)
        if self.asked is asked:
            self.found, self.is_reading = found, False
            self._show()
            self._wanted = None

    # What is chosen.

    def _take_kind(self, kind: str) -> None:
        person = self.asked.person if self.asked is not None else None
        self.found, self._wanted = None, "kind"
        self._ask(kind, {}, person)

    def _take_whose(self, person: PersonId) -> None:
        self._ask("leave", {}, person)

    def _take_column(self, field: str, column: str) -> None:
        if self.asked is not None and self.found is not None:
            self._ask(self.found.kind, {**self.asked.said, field: column}, None)

    def _go(self, start: int) -> None:
        self._start = start
        self._show()
        self.lines.choose(f"trouble {start}")

    def take(self) -> None:
        """Take all of it, as one edit, unless the book is another one by now."""
        found, asked = self.found, self.asked
        if found is None or found.judged is None or asked is None or not found.can_be_taken:
            return
        if self.is_reading or asked.book is not self.book:
            return
        count = found.judged.count - found.judged.left_count
        self.asked = self.found = None
        self.desk.edit(found.edited())
        self.said = told.number_line(self.desk.words, say.DONE, count)
        self.lines.at = None
        self._show()

    def leave(self) -> None:
        """Leave the file as it is; what is still read of it is called off."""
        if self.asked is None:
            return
        self.asked = self.found = None
        if self.is_reading:
            self.is_reading = False
            self.desk.counsel.forget()
        self.said = self.desk.words.say(say.CALLED_OFF)
        self.lines.at = None
        self._show()

    def write_template(self, kind: str) -> None:
        """Write a table to be filled in where somebody says."""
        from app.exchange.bring.templates import template_csv, template_workbook

        words = self.desk.words
        title, kinds = words.say(say.TEMPLATE_TITLE), words.say(say.TEMPLATE_KINDS)
        path = self._filing.ask_where(title, kinds)
        if path is None:
            return
        is_workbook = path.suffix.casefold() == ".xlsx"
        target = path if is_workbook else path.with_suffix(".csv")
        if target != path and target.exists():
            self.said = words.say(say.THERE_ALREADY, path=target)
            self._show()
            return
        make = template_workbook if is_workbook else template_csv
        try:
            save_over(target, make(kind, german=words.language == "de"))
        except DiskError as trouble:
            self._tell_trouble(trouble)
            return
        self.said = words.say(told.TEMPLATE, path=target)
        self._show()

    def _tell_trouble(self, trouble: DiskError) -> None:
        self.desk.trouble = self.desk.words.trouble(trouble.code, **trouble.facts)
        self.desk.state_changed.emit()

    # Keys.

    def enter(self) -> None:
        self.said = ""
        self.lines.setFocus()
        self._show()

    def back(self) -> bool:
        if self.asked is None:
            return False
        self.leave()
        return True

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        else:
            event.ignore()

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not shift:
            self.take()
            return True
        if key is Qt.Key.Key_H and not shift:
            self.desk.hide_money()
            return True
        return self.lines.press(key) or (key is Qt.Key.Key_I and not shift)

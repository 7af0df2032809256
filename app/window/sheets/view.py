"""The sheets of a day as a view: S brings it to the front, Enter saves the PDF, Y tells people."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QResizeEvent

from app.exchange.given import Given
from app.window.bits import theme_of
from app.window.desk import Desk
from app.window.filing import Filing
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.people import days
from app.window.sheets.day import DaySheet
from app.window.sheets.derive import Asked, derive, for_each
from app.window.sheets.layout import Page
from app.window.sheets.pages import pages_of
from app.window.sheets.paper import pdf_of, picture_of
from app.window.sheets.parts import Pages, Said, Side
from app.window.sheets.standing import Standing
from app.window.sheets.under import day_calendar
from app.window.spots.drawn import scrolled
from app.window.spots.spot import Spot
from app.window.tokens import px
from app.window.views.view import View, Which
from app.window.wall import pens
from app.words import changes as changing
from app.words import papers, printing
from app.words import sheets as say
from app.words import window as wording
from scheduler.told_changes import told_changes
from shared.edits import tell_plan
from shared.worktime import next_working_day, previous_working_day
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from datetime import date

    from app.document import Document
    from shared.book import Told

SIDE, SIDE_LARGE, LARGE_FROM = 380, 464, 1700
HEARS_MAX = 12
MOST_FORMERS = 10
"""So many sheets in a row can be taken back and still show what changed since the one before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """The sheets on show, and how their plan stands."""

    sheet: DaySheet
    stands: Standing
    pages: tuple[Page, ...]


class SheetsView(View):
    """Shows what everybody does on a day, as it is printed."""

    which = Which.SHEETS

    def __init__(self, desk: Desk, filing: Filing) -> None:
        super().__init__(desk)
        self._filing = filing
        self.day: date | None = None
        self.is_each = False
        self.shown: Shown | None = None
        self._key: tuple[object, ...] = ()
        self._document: Document | None = None
        self._formers: dict[int, Told] = {}
        self.pages, self.side = Pages(), Side()
        self._areas = [scrolled(self.pages), scrolled(self.side)]
        for area, part in zip(self._areas, (self.pages, self.side), strict=True):
            area.setParent(self)
            part.hovered.connect(self._on_hovered)
        self.pages.turned.connect(self.step_day)
        self.setFocusProxy(self.pages)

    # Showing.

    def refresh(self) -> None:
        desk = self.desk
        document = desk.document
        if document is None:
            return
        if document is not self._document:
            self._document, self.day = document, None
            self._formers.clear()
        key = (
            document.book,
            desk.plan,
            desk.outcome,
            desk.now,
            self.day,
            self.is_each,
            desk.words,
            bool(desk.stopping),
        )
        if len(key) != len(self._key) or any(
            a is not b for a, b in zip(key, self._key, strict=True)
        ):
            self._key = key
            self._make()
        self.pages.setAccessibleName(desk.words.say(say.PAGES_NAME))
        self.side.setAccessibleName(desk.words.say(say.SIDE))
        self.side.show_lines(self._lines())
        self.headline_changed.emit()

    def _make(self) -> None:
        desk, document = self.desk, self.desk.document
        assert document is not None
        self.shown, self.pages.pages = None, ()
        if desk.plan is not None and document.book.jobs:
            book = document.book
            told = book.told
            asked = Asked(
                book=book,
                plan=desk.plan,
                now=desk.now,
                day=self.day or days.sheet_day(book, desk.now),
                outcome=desk.outcome,
                former=self._formers.get(told.sheet_number) if told else None,
            )
            sheet, stands = derive(asked, desk.words)
            sheets = for_each(sheet) if self.is_each else (sheet,)
            pages = pages_of(sheets, desk.words)
            self.shown = Shown(sheet=sheet, stands=stands, pages=pages)
            self.pages.pages = pages
        self.pages.refresh()

    def headline(self) -> Headline:
        desk, words, shown = self.desk, self.desk.words, self.shown
        if desk.trouble:
            return Headline(sentence=desk.trouble, is_alarm=True)
        if shown is None:
            return Headline(sentence=words.say(say.NO_PLAN))
        noted: tuple[Part, ...] = ((desk.note + "   ", True),) if desk.note else ()
        if shown.stands.is_old:
            next_ = (*noted, (self._sheet_is(), False))
            return Headline(sentence=shown.sheet.marks[0], next=next_, is_alarm=True)
        day = wording.short_day(words, shown.sheet.date)
        sentence = words.say(say.TITLE, day=day, sheet=self._sheet_is())
        parts = [(text + "   ", is_bold) for text, is_bold in shown.sheet.summary]
        if shown.sheet.changes:
            parts.append((shown.sheet.changes, False))
        return Headline(sentence=sentence, next=(*noted, *parts))

    def _sheet_is(self) -> str:
        assert self.shown is not None
        stands = self.shown.stands
        template = say.SHEET_IS
        if not stands.is_told:
            template = say.SHEET_FIRST if stands.before is None else say.SHEET_DRAFT
        return self.desk.words.say(template, number=stands.number)

    def _lines(self) -> tuple[Said, ...]:
        """Return what stands at the side."""
        words, shown = self.desk.words, self.shown
        back = Said(text=words.say(say.DO_BACK), key="Esc")
        if shown is None:
            return (Said(text=words.say(say.NO_PLAN), is_title=True), back)
        count = len(shown.pages)
        pages = words.say(say.PAGES_ARE, count=count, number=words.number_word(count))
        marks = [
            Said(text=mark, is_strong=True, is_alarm=shown.stands.is_old)
            for mark in shown.sheet.marks
        ]
        return (
            Said(text=say.date_in_full(words, shown.sheet.date), is_title=True),
            Said(text=pages[:1].upper() + pages[1:]),
            *marks,
            *self._doing(shown),
            back,
            *self._hearing(shown),
        )

    def _doing(self, shown: Shown) -> tuple[Said, ...]:
        words = self.desk.words
        found = [
            Said(text=words.say(say.DO_SAVE), key="Enter", do=self.save, id="save", is_apart=True)
        ]
        board = words.say(papers.DO_BOARD)
        found.append(Said(text=board, key="B", do=self.save_board, id="board"))
        if self._may_tell(shown):
            text = words.say(say.DO_TELL, number=self._next_number())
            found.append(Said(text=text, key="Y", do=self.tell, id="tell"))
        each = say.DO_ALL if self.is_each else say.DO_ONE
        found += [
            Said(text=words.say(each), key="O", do=self.turn, id="each"),
            Said(text=words.say(say.DO_DAY), key="← →"),
            Said(text=words.say(printing.DO_PRINT), key="Ctrl P"),
            Said(text=words.say(say.DO_PICTURE), key="Ctrl Shift P"),
        ]
        return tuple(found)

    def _hearing(self, shown: Shown) -> tuple[Said, ...]:
        """Return who hears something else than they were told, line by line."""
        desk, words, document = self.desk, self.desk.words, self.desk.document
        assert document is not None
        assert desk.plan is not None
        head = Said(text=words.say(say.HEARS), is_title=True, is_apart=True)
        told = document.book.told
        if told is None:
            return (head, Said(text=words.say(say.HEARS_FIRST)))
        found = told_changes(document.book, desk.plan, desk.now)
        today = local_date(desk.now, words.zone)
        lines = changing.change_lines(words, found, today)
        if not lines:
            return (head, Said(text=words.say(say.HEARS_NOBODY, number=told.sheet_number)))
        more = len(lines) - HEARS_MAX
        said = [Said(text=line) for line in lines[:HEARS_MAX]]
        if more > 0:
            text = words.say(say.MORE_HEAR, count=more, number=words.number_word(more))
            said.append(Said(text=text))
        return (head, *said)

    # Arranging.

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        wanted = px(SIDE_LARGE if self.width() >= LARGE_FROM else SIDE)
        side = min(wanted, self.width() // 3)
        left, right = self._areas
        left.setGeometry(0, 1, self.width() - side, self.height() - 1)
        right.setGeometry(self.width() - side, 1, side, self.height() - 1)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.ink)
        painter.end()

    def _on_hovered(self, spot: Spot | None) -> None:
        self.hovered.emit(spot.description if spot else "")

    def picture(self) -> QImage:
        if self.shown is None:
            return super().picture()
        return picture_of(self.shown.pages[self.pages.top_page()])

    # Doing.

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        if shift:
            return False
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not self.desk.take_trial():
                self.save()
            return True
        if key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self.step_day(1 if key is Qt.Key.Key_Right else -1)
            return True
        if key is Qt.Key.Key_Y:
            self.tell()
        elif key is Qt.Key.Key_O:
            self.turn()
        elif key is Qt.Key.Key_B:
            self.save_board()
        return key in (Qt.Key.Key_S, Qt.Key.Key_Y, Qt.Key.Key_O, Qt.Key.Key_B)

    def save(self) -> None:
        """Save the pages as a PDF where somebody says, as they stand by now."""
        self.refresh()
        shown, words = self.shown, self.desk.words
        if shown is None:
            return
        title, kinds = words.say(say.SAVE_SHEETS), words.say(say.PAPER_FILES)
        path = self._filing.save_paper(title, kinds, lambda: pdf_of(shown.pages, shown.sheet.title))
        if path is not None:
            self.desk.trouble, self.desk.note = "", words.say(say.SAVED, path=path)
            self.desk.state_changed.emit()

    def save_board(self) -> None:
        """Save the board of the week as a PDF where somebody says, as it stands by now."""
        # Printing knows this view, and papers are printed.
        from app.window.papers.jobs import board_of_view

        self.refresh()
        shown, words, plan = self.shown, self.desk.words, self.desk.plan
        document = self.desk.document
        if shown is None or plan is None or document is None:
            return
        given = Given(
            book=document.book,
            plan=plan,
            now=self.desk.now,
            words=words,
            marks=shown.sheet.marks,
            is_old=shown.stands.is_old,
            is_told=shown.stands.is_told,
            made=shown.sheet.foot,
        )
        title, kinds = words.say(papers.SAVE_BOARD), words.say(say.PAPER_FILES)
        day = shown.sheet.date
        path = self._filing.save_paper(title, kinds, lambda: board_of_view(given, day))
        if path is not None:
            self.desk.trouble, self.desk.note = "", words.say(papers.BOARD_SAVED, path=path)
            self.desk.state_changed.emit()

    def turn(self) -> None:
        """Show a page for each person, or one list for all."""
        self.is_each = not self.is_each
        self.refresh()

    def step_day(self, by: int) -> None:
        """Show the sheets of the working day after or before, but of none that is over."""
        document = self.desk.document
        if document is None or self.shown is None:
            return
        calendar, first = day_calendar(document.book), days.first_day(document.book, self.desk.now)
        other = previous_working_day if by < 0 else next_working_day
        self.day = max(first, other(calendar, self.shown.sheet.date))
        self.refresh()

    # Telling.

    def _next_number(self) -> int:
        document = self.desk.document
        told = document.book.told if document else None
        return 1 if told is None else told.sheet_number + 1

    def _may_tell(self, shown: Shown) -> bool:
        return shown.stands.may_be_told and not self._is_told(shown)

    def _is_told(self, shown: Shown) -> bool:
        """Return whether nobody would hear anything new."""
        document, plan = self.desk.document, self.desk.plan
        if document is None or plan is None or document.book.told is None:
            return False
        if document.book.told.plan == plan:
            return True
        is_same = not told_changes(document.book, plan, self.desk.now).each
        return is_same and shown.stands.is_told

    def tell(self) -> None:
        """Make the plan what people are told, in one edit, if it is new and checked."""
        self.refresh()
        desk, words, shown = self.desk, self.desk.words, self.shown
        document, plan = desk.document, desk.plan
        if shown is None or document is None or plan is None:
            return
        told, number = document.book.told, self._next_number()
        if self._is_told(shown):
            note = words.say(say.TOLD_ALREADY, number=number - 1)
        elif not shown.stands.may_be_told:
            note = words.say(say.NOT_TO_BE_TOLD, reason=words.say(say.NOT_NOW))
        else:
            if told is not None:
                self._formers[number] = told
                self._formers.pop(number - MOST_FORMERS, None)
            desk.edit(tell_plan(document.book, plan, desk.now, desk.who))
            note = words.say(say.TOLD, number=number)
        desk.note = note
        desk.state_changed.emit()

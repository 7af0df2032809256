"""The view of an enquiry: can we take it, whom it squeezes, the honest date, what to say."""

from dataclasses import replace
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QImage, QPainter, QPaintEvent, QResizeEvent

from app.counsel.questions import AskPlan, AskRush, FirstLook
from app.window.bits import KeyWord, theme_of
from app.window.desk import Desk
from app.window.enquiry import acting
from app.window.enquiry import state as reckon
from app.window.enquiry.dates import Dates
from app.window.enquiry.dots import Dots
from app.window.enquiry.saying import Saying
from app.window.enquiry.state import Found
from app.window.enquiry.table import Table
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.sheet import typed
from app.window.spots.drawn import scrolled
from app.window.tokens import px
from app.window.trial import Trial
from app.window.views.shelf import Shelf
from app.window.views.view import View, Which
from app.window.wall import pens
from app.words import enquiry_view as say
from app.words import owner_enquiry as owner
from app.words import window as of_window
from app.words.words import Words
from scheduler.enquiring import Taking
from scheduler.outcome import Outcome
from shared.book import Book, Job, Standing
from shared.edits import Edited, change_job, let_go
from shared.ids import JobId
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from collections.abc import Callable

SECONDS = 10
"""For dates and ways out; the plans go by effort and come sooner."""
TRIAL_EFFORT = 4
LEFT_SHARE, MONEY_SHARE, DATES_SHARE = 0.492, 0.47, 0.56
GAP = 16


class EnquiryView(View):
    """One enquiry of the book is laid beside it whenever the book is another one."""

    which = Which.ENQUIRY

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.enquiry: JobId | None = None
        self.found: Found | None = None
        self.looked_at = 0
        self._asked: tuple[int, JobId] | None = None
        self._make_parts()

    def _make_parts(self) -> None:
        self.dots = Dots(self._choose_job)
        self.dates = Dates(self.look_at)
        self.table = Table()
        self.saying = Saying(self._read_price, self._write_price)
        self.left = scrolled(self.dots)
        for part in (self.left, self.dates, self.table, self.saying):
            part.setParent(self)
        for drawn in (self.dots, self.dates, self.table, self.saying.quote):
            drawn.hovered.connect(
                lambda spot: self.hovered.emit(spot.description if spot is not None else "")
            )

    # What it speaks of.

    @property
    def book(self) -> Book | None:
        """The open book."""
        return None if self.desk.document is None else self.desk.document.book

    @property
    def job(self) -> Job | None:
        """The enquiry that is looked at."""
        book = self.book
        found = () if book is None else reckon.enquiries(book)
        return next((job for job in found if job.id == self.enquiry), None)

    @property
    def words(self) -> Words:
        """The words of the book."""
        return self.desk.words

    @property
    def today(self) -> date:
        """The workshop's day."""
        return local_date(self.desk.now, self.words.zone)

    def _choose_job(self, job: JobId) -> None:
        self.desk.job = job

    def choose_enquiry(self, job: JobId) -> None:
        """Look at another enquiry of the book."""
        self.enquiry = self.desk.job = job
        self.refresh()

    # Asking.

    def refresh(self) -> None:
        """Show the book as it is now, and ask anew where the answer is of another one."""
        book = self.book
        if book is None:
            return
        known = reckon.enquiries(book)
        if self.job is None:
            wanted = next((job.id for job in known if job.id == self.desk.job), None)
            self.enquiry = wanted or (known[0].id if known else None)
        if self._asked != self._question_now():
            self.found = None
            self._ask()
        self._show()

    def enter(self) -> None:
        """Take the keyboard; ask again where somebody else's question gave ours up."""
        if self.found is None or self.found.rush is None:
            self._ask()
        (self.dates if self.dates.columns else self.dots).setFocus()

    def _question_now(self) -> tuple[int, JobId] | None:
        if self.book is None or self.enquiry is None:
            return None
        return self.book.revision, self.enquiry

    def _ask(self) -> None:
        """Lay the enquiry beside the book, if it can be."""
        self._asked = self._question_now()
        job = self.job
        if job is None or job.held_window is None or self.desk.stopping:
            return
        request = self.desk.request(seconds=SECONDS)
        request = replace(request, book=acting.as_enquiry(request.book, job.id))
        self.desk.ask(AskRush(request=request, job=job.id), self._hear, self._hear_first)

    def _hear_first(self, found: object) -> None:
        if isinstance(found, FirstLook) and self.enquiry is not None:
            self.found = Found(job=self.enquiry, without=found.without, with_=found.with_)
            self._show()

    def _hear(self, found: object) -> None:
        from scheduler.rush.values import Rush

        assert isinstance(found, Rush)
        self.found = Found(
            job=found.job.id,
            without=found.without.outcome,
            with_=found.with_.outcome,
            rush=found,
        )
        self.looked_at = reckon.first_choice(found)
        self._show()

    # Showing.

    def look_at(self, at: int) -> None:
        """Look at another of the dates that were tried: money, words and keys go by it."""
        self.looked_at = at
        self._show()

    def _show(self) -> None:
        if self.book is None:
            return
        self._show_dots()
        self._show_dates()
        self._show_money()
        self._show_words()
        self._arrange()
        self.update()
        self.headline_changed.emit()

    def _show_dots(self) -> None:
        book, found, job = self.book, self.found, self.job
        assert book is not None
        rows = () if found is None or job is None else reckon.dot_rows(book, found, self.words)
        title = "" if job is None else self.words.say(say.WITHOUT_AND_WITH, job=job.name)
        is_whole = found is not None and found.rush is not None
        self.dots.show_rows(rows, title, self.words, is_whole=is_whole)

    def _show_dates(self) -> None:
        rush = None if self.found is None else self.found.rush
        columns = () if rush is None else reckon.date_columns(rush, self.words)
        is_looking = self.found is not None and rush is None
        self.dates.show_columns(columns, self.looked_at, self.words, is_looking=is_looking)
        self.dates.setVisible(bool(columns) or is_looking)
        if self.dates.at is None and columns:
            self.dates.at = f"date {self.looked_at}"

    def _show_money(self) -> None:
        rush, job = None if self.found is None else self.found.rush, self.job
        self.table.setVisible(rush is not None)
        if rush is None or job is None:
            return
        promise = rush.promises[self.looked_at]
        rows = owner.money_rows(self.words, promise.pricing, job.price)
        title = self.words.say(say.MONEY_FOR, day=say.day_of(self.words, rush, promise))
        self.table.show_rows(rows, title, self.words, is_hidden=self.desk.is_money_hidden)

    def _show_words(self) -> None:
        rush = None if self.found is None else self.found.rush
        self.saying.setVisible(rush is not None)
        if rush is None:
            return
        has_price = not self.desk.is_money_hidden
        self.saying.show_text(self.client_text(), self.words, self._keys(), has_price=has_price)

    def client_text(self) -> str:
        """Return the words for the client, as they are shown: without a price where it is hid."""
        rush = None if self.found is None else self.found.rush
        if rush is None or self.job is None:
            return ""
        rush = replace(rush, job=replace(rush.job, price=self.job.price))
        promised = reckon.promised(rush, self.looked_at)
        has_price = not self.desk.is_money_hidden
        return say.client_words(self.words, rush, promised, with_price=has_price)

    def _keys(self) -> list[KeyWord]:
        """Return what can be done with the date that is looked at."""
        rush, job, words = self.found.rush if self.found else None, self.job, self.words
        if rush is None or job is None:
            return []
        promise = rush.promises[self.looked_at]
        day = say.day_of(words, rush, promise)
        until = of_window.short_day(words, acting.pencil_until(job, self.today))
        hide = say.SHOW_MONEY if self.desk.is_money_hidden else say.HIDE_MONEY
        keys = [KeyWord(words.say(say.DO_COPY), self.copy, "Y")]
        if promise.taking is not Taking.NOT:
            keys.append(KeyWord(words.say(say.DO_BOOK, day=day), self.book_it, "B"))
            if job.standing is Standing.ENQUIRY:
                keys.append(KeyWord(words.say(say.DO_PENCIL, day=until), self.pencil_it, "P"))
        keys.append(KeyWord(words.say(say.DO_WITH), self.try_it, "V"))
        keys.append(KeyWord(words.say(say.DO_LET_GO), self.let_it_go, "Del"))
        keys.append(KeyWord(words.say(hide), self.desk.hide_money, "H"))
        return keys

    # The masthead.

    def headline(self) -> Headline:
        """Return whether it can be taken, then the honest date."""
        job, found, words = self.job, self.found, self.words
        if job is None:
            return Headline(sentence=words.say(say.NONE_YET))
        if job.held_window is None:
            return Headline(sentence=words.say(say.NO_WINDOW, job=job.name))
        if self.desk.stopping:
            reason, cure = words.finding(self.desk.stopping[0])
            sentence = words.say(say.PLANS_NOT, job=job.name, reason=reason)
            return Headline(sentence=sentence, next=((cure, False),), is_alarm=True)
        if found is None:
            return Headline(sentence=words.say(say.LOOKING, job=job.name))
        if found.rush is None:
            told = next(each for each in found.with_.jobs if each.id == job.id)
            return Headline(sentence=say.first_sentence(words, told))
        return Headline(sentence=say.sentence(words, found.rush), next=self._next(job))

    def _next(self, job: Job) -> tuple[Part, ...]:
        rush = self.found.rush if self.found else None
        assert rush is not None
        words, honest = self.words, rush.honest
        parts: list[Part] = [(words.say(say.NO_HONEST_DATE), True)]
        if honest is not None:
            day = say.day_of(words, rush, honest)
            template = say.HONEST_NO_OTHER if honest.chance else say.HONEST_NO_OTHER_UNKNOWN
            parts = [
                (words.say(say.HONEST_DATE, day=day), True),
                (f"  {words.say(template, chance=honest.chance)}", False),
            ]
        asks = words.say(say.ASKS, window=say.day_of(words, rush, rush.wished))
        parts += [(f"    {job.client.name}", True), (f"  {asks}", False)]
        if job.pencilled_until is not None and job.standing is Standing.PENCILLED:
            day = of_window.short_day(words, job.pencilled_until)
            parts.append((f"    {words.say(say.PENCILLED_UNTIL, day=day)}", False))
        return tuple(parts)

    # The price asked.

    def _read_price(self) -> str:
        return "" if self.job is None else typed.figure(self.job.price)

    def _write_price(self, text: str) -> None:
        price, job, book = typed.number_or_none(text), self.job, self.book
        if job is None or book is None or price == job.price:
            return
        self._keep_answer(change_job(book, replace(job, price=price)))

    def _keep_answer(self, edited: Edited) -> None:
        """Make an edit that changes nothing of what was answered: the price that is asked."""
        found, at = self.found, self.looked_at
        self._asked = (edited.book.revision, self.enquiry) if self.enquiry else None
        self.desk.edit(edited)
        if found is not None and found.rush is not None:
            self.found, self.looked_at = found, at
            self._show()

    # Doing.

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Do what a letter does here."""
        doing: dict[Qt.Key, Callable[[], object]] = {
            Qt.Key.Key_Y: self.copy,
            Qt.Key.Key_B: self.book_it,
            Qt.Key.Key_P: self.pencil_it,
            Qt.Key.Key_V: self.try_it,
            Qt.Key.Key_H: self.desk.hide_money,
            Qt.Key.Key_Delete: self.let_it_go,
        }
        if shift or key not in doing:
            return False
        doing[key]()
        return True

    def _note(self, text: str) -> None:
        self.desk.note = text
        self.desk.state_changed.emit()

    def copy(self) -> None:
        """Copy the words for the client."""
        text = self.client_text()
        if text:
            QGuiApplication.clipboard().setText(text)
            self._note(self.words.say(say.COPIED))

    def book_it(self) -> None:
        """Book it for the date that is looked at, if it holds that."""
        rush, book = self.found.rush if self.found else None, self.book
        if rush is None or book is None:
            return
        promise = rush.promises[self.looked_at]
        day = say.day_of(self.words, rush, promise)
        if promise.taking is Taking.NOT:
            self._note(self.words.say(say.NOT_FOR_THAT, job=rush.job.name, day=day))
            return
        self.desk.edit(acting.booked(book, rush.job.id, promise))
        self._note(self.words.say(say.BOOKED, job=rush.job.name, day=day))

    def pencil_it(self) -> None:
        """Hold its place for the date that is looked at, until the quote runs out."""
        rush, book, job = self.found.rush if self.found else None, self.book, self.job
        if rush is None or book is None or job is None or job.standing is not Standing.ENQUIRY:
            return
        promise = rush.promises[self.looked_at]
        if promise.taking is Taking.NOT:
            day = say.day_of(self.words, rush, promise)
            self._note(self.words.say(say.NOT_FOR_THAT, job=job.name, day=day))
            return
        until = acting.pencil_until(job, self.today)
        self.desk.edit(acting.pencilled(book, job.id, promise, until))
        day = of_window.short_day(self.words, until)
        self._note(self.words.say(say.PENCILLED, job=job.name, day=day))

    def let_it_go(self) -> None:
        """Take it out of the book; undo brings it back."""
        book, job = self.book, self.job
        if book is not None and job is not None:
            self.desk.edit(let_go(book, job.id))
            self._note(self.words.say(say.LET_GO, job=job.name))

    # On the wall.

    def try_it(self) -> None:
        """See the book with it on the wall; again: without it."""
        if self.desk.leave_trial():
            self._go(Which.WALL)
            return
        found, book = self.found, self.book
        if found is None or found.rush is None or book is None:
            return
        promise = found.rush.promises[self.looked_at]
        if promise is found.rush.wished:
            self._on_wall(acting.wished_trial(book, found, self.words))
            return
        edited = acting.booked(book, found.rush.job.id, promise)
        tried = replace(edited.book, revision=book.revision)
        request = replace(self.desk.request(), book=tried, effort=TRIAL_EFFORT)
        self.desk.ask(AskPlan(request=request), partial(self._hear_trial, self.looked_at))

    def _hear_trial(self, at: int, outcome: object) -> None:
        found, book = self.found, self.book
        assert isinstance(outcome, Outcome)
        if found is None or found.rush is None or book is None:
            return
        promise = found.rush.promises[at]
        plan = outcome.plan
        self._on_wall(acting.trial_of(book, found.rush, promise, plan, outcome, self.words))

    def _on_wall(self, trial: Trial) -> None:
        self.desk.try_(trial)
        self._go(Which.WALL)

    def _go(self, which: Which) -> None:
        shelf = self.window().findChild(Shelf)
        if shelf is not None:
            shelf.show(which)

    # Pictures, and Qt's overrides.

    def picture(self) -> QImage:
        """Return a picture that may be given away: no money is in it."""
        was = self.desk.is_money_hidden
        self.desk.is_money_hidden = True
        self._show()
        made = super().picture()
        self.desk.is_money_hidden = was
        self._show()
        return made

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        half = round(width * LEFT_SHARE)
        self.dots.room = height
        self.left.setGeometry(0, 0, half, height)
        x = half + GAP + 2
        room = width - x
        top = round(height * DATES_SHARE)
        self.dates.room = top
        self.dates.setGeometry(x, 0, room, top)
        money = round((room - GAP) * MONEY_SHARE)
        self.table.setGeometry(x, top + px(6), money, height - top - px(6))
        left = x + money + 2 * GAP
        self.saying.setGeometry(left, top + px(6), width - left - GAP, height - top - px(6))
        for drawn in (self.dates, self.table):
            drawn.refresh()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        half = round(self.width() * LEFT_SHARE)
        if self.found is not None:
            pens.flat_rect(painter, half, GAP, 1, self.height() - 2 * GAP, of.line)
        if self.found is not None and self.found.rush is not None:
            top = round(self.height() * DATES_SHARE)
            pens.flat_rect(painter, half + GAP, top, self.width() - half - 2 * GAP, 1, of.line)
        painter.end()

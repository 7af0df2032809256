"""Which enquiry is laid beside the book, what was answered, and which date is looked at."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.counsel.questions import AskDates, AskRush, FirstLook
from app.window.desk import Desk
from app.window.enquiry import acting
from app.window.enquiry import state as reckon
from app.window.enquiry.state import Found
from app.words import Words
from app.words import enquiry_view as say
from shared.book import Book, Job, Window
from shared.edits import Edited
from shared.estimate import estimate_of_job
from shared.ids import JobId
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from app.counsel.asking import Hear
    from scheduler.rush.values import Promise, Rush

SECONDS, LONGEST_SECONDS = 10, 160
"""For dates and ways out, and at most; the plans go by effort."""
DAYS_BETWEEN = 5
"""So many days between the date asked for and the honest one are tried as well."""


class Laid(QObject):
    """Asks anew whenever the book is another one, and tells of what it hears."""

    changed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.enquiry: JobId | None = None
        self.found: Found | None = None
        self.looked_at = 0
        self.seconds = SECONDS
        self._asked: tuple[int, JobId] | None = None

    @property
    def book(self) -> Book | None:
        """The open book."""
        return None if self.desk.document is None else self.desk.document.book

    @property
    def job(self) -> Job | None:
        """The enquiry."""
        book = self.book
        found = () if book is None else reckon.enquiries(book)
        return next((job for job in found if job.id == self.enquiry), None)

    @property
    def rush(self) -> "Rush | None":
        """The whole answer, with the price that is asked now."""
        found, job = self.found, self.job
        if found is None or found.rush is None or job is None:
            return None
        return found.rush

    @property
    def promise(self) -> "Promise | None":
        """The date that is looked at."""
        rush = self.rush
        return None if rush is None else rush.promises[self.looked_at]

    @property
    def hours(self) -> Decimal:
        """The likely person-hours of the enquiry."""
        job, book = self.job, self.book
        if job is None or book is None:
            return Decimal(0)
        return estimate_of_job(book, job).hours.likely

    @property
    def words(self) -> Words:
        """The words of the book."""
        return self.desk.words

    @property
    def today(self) -> date:
        """The workshop's day."""
        return local_date(self.desk.now, self.words.zone)

    # Asking.

    def refresh(self) -> None:
        """Ask anew where the answer is of another book or enquiry."""
        book = self.book
        if book is None:
            return
        known = reckon.enquiries(book)
        if self.job is None:
            wanted = next((job.id for job in known if job.id == self.desk.job), None)
            self.enquiry = wanted or (known[0].id if known else None)
        if self._asked != self._question_now():
            self.found, self.seconds = None, SECONDS
            self.ask()

    def choose(self, job: JobId) -> None:
        """Look at another enquiry of the book."""
        self.enquiry = self.desk.job = job
        self.refresh()
        self.changed.emit()

    def look_longer(self) -> None:
        """Ask again with four times as long for dates and ways out."""
        if self.rush is not None:
            self.seconds = min(LONGEST_SECONDS, 4 * self.seconds)
            self.found = None
            self.ask()
            self.changed.emit()

    def look_at(self, at: int) -> None:
        """Look at another of the dates that were tried."""
        self.looked_at = at
        self.changed.emit()

    def _question_now(self) -> tuple[int, JobId] | None:
        if self.book is None or self.enquiry is None:
            return None
        return self.book.revision, self.enquiry

    def ask(self) -> None:
        """Lay the enquiry beside the book, if it can be."""
        self._asked = self._question_now()
        job = self.job
        if job is None or job.held_window is None or self.desk.stopping:
            return
        request = self.desk.request(seconds=self.seconds)
        request = replace(request, book=acting.as_enquiry(request.book, job.id))
        self.desk.ask(AskRush(request=request, job=job.id), self._hear, self._hear_first)

    def ask_day(self, day: date) -> None:
        """Try one more date: a window of the same length from the same time of day."""
        if self.rush is not None and self.job is not None:
            self._ask_windows((acting.window_on(self.job, day),), self._hear_day)
            self.desk.note = self.words.say(say.LOOKING_AT_DAY, day=self.words.day(day, after=day))
            self.desk.state_changed.emit()

    def _ask_between(self, found: "Rush") -> None:
        """Try some days between the one asked for and the honest one, while nobody waits."""
        job = self.job
        days = acting.days_between(found, DAYS_BETWEEN)
        if job is not None and days:
            self._ask_windows(tuple(acting.window_on(job, day) for day in days), self._hear_more)

    def _ask_windows(self, windows: tuple[Window, ...], hear: "Hear") -> None:
        rush, book, job = self.rush, self.book, self.job
        assert rush is not None
        assert book is not None
        assert job is not None
        request = self.desk.request(seconds=self.seconds)
        request = replace(request, book=acting.as_enquiry(book, job.id))
        self.desk.ask(AskDates(request=request, found=rush, windows=windows), hear)

    def _hear_first(self, found: object) -> None:
        if isinstance(found, FirstLook) and self.enquiry is not None:
            self.found = Found(job=self.enquiry, without=found.without, with_=found.with_)
            self.changed.emit()

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
        self.changed.emit()
        self._ask_between(found)

    def _hear_day(self, more: object) -> None:
        """Look at the date that was asked for."""
        self._hear_more(more)
        assert isinstance(more, tuple)
        rush = self.rush
        if rush is None or not more:
            return
        starts = [each.window.start for each in rush.promises]
        self.looked_at = starts.index(more[0].window.start)
        self.desk.note = ""
        self.desk.state_changed.emit()
        self.changed.emit()

    def _hear_more(self, more: object) -> None:
        """Take more dates among those that are shown; the one looked at stays."""
        assert isinstance(more, tuple)
        promise = self.promise
        if self.found is None or self.found.rush is None or promise is None:
            return
        made = acting.with_more(self.found.rush, more)
        self.found = replace(self.found, rush=made)
        starts = [each.window.start for each in made.promises]
        self.looked_at = starts.index(promise.window.start)
        self.changed.emit()

    def edit_beside(self, edited: Edited) -> None:
        """Make an edit that changes nothing of what was answered: the price that is asked."""
        found, at = self.found, self.looked_at
        self._asked = (edited.book.revision, self.enquiry) if self.enquiry else None
        self.desk.edit(edited)
        if found is not None and found.rush is not None:
            self.found, self.looked_at = found, at
            self.changed.emit()

    # The words.

    def client_text(self) -> str:
        """Return the words for the client, as they are shown: without a price where it is hid."""
        rush, job = self.rush, self.job
        if rush is None or job is None:
            return ""
        promised = reckon.promised(rush, self.looked_at)
        price = None if self.desk.is_money_hidden else job.price
        return say.client_words(self.words, rush, promised, price)

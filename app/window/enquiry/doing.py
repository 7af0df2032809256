"""What is done with the enquiry that is looked at: each is one edit, or something only tried."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QGuiApplication

from app.counsel.questions import AskPlan
from app.window.desk import Desk
from app.window.enquiry import acting, newly
from app.window.enquiry.laid import Laid
from app.window.enquiry.newly import Asked
from app.window.sheet import typed
from app.window.trial import Trial
from app.words import enquiry_view as say
from app.words import window as of_window
from scheduler.enquiring import Taking
from scheduler.outcome import Outcome
from shared.book import Standing
from shared.edits import change_job, let_go
from shared.ids import JobId

if TYPE_CHECKING:
    from scheduler.rush.values import Promise

TRIAL_EFFORT = 4


class Doing:
    """Hands of the view. to_wall: brings the wall to the front."""

    def __init__(self, desk: Desk, laid: Laid, to_wall: Callable[[], object]) -> None:
        self.desk, self.laid, self._to_wall = desk, laid, to_wall

    def _note(self, text: str) -> None:
        self.desk.note = text
        self.desk.state_changed.emit()

    def copy(self) -> None:
        """Copy the words for the client."""
        text = self.laid.client_text()
        if text:
            QGuiApplication.clipboard().setText(text)
            self._note(self.laid.words.say(say.COPIED))

    def _holds(self) -> bool:
        """Return whether the date that is looked at is held; else say that it is not."""
        rush, promise, words = self.laid.rush, self.laid.promise, self.laid.words
        if rush is None or promise is None:
            return False
        if promise.taking is Taking.NOT:
            day = say.day_of(words, rush, promise)
            self._note(words.say(say.NOT_FOR_THAT, job=rush.job.name, day=day))
            return False
        return True

    def book_it(self) -> None:
        """Book it for the date that is looked at, if it holds that."""
        if not self._holds():
            return
        rush, promise, book = self.laid.rush, self.laid.promise, self.laid.book
        assert rush is not None
        assert promise is not None
        assert book is not None
        words = self.laid.words
        day = say.day_of(words, rush, promise)
        self.desk.edit(acting.booked(book, rush.job.id, promise))
        self._note(words.say(say.BOOKED, job=rush.job.name, day=day))

    def pencil_it(self) -> None:
        """Hold its place for the date that is looked at, until the quote runs out."""
        job, promise, book = self.laid.job, self.laid.promise, self.laid.book
        if job is None or job.standing is not Standing.ENQUIRY or not self._holds():
            return
        assert promise is not None
        assert book is not None
        words = self.laid.words
        until = acting.pencil_until(job, self.laid.today)
        self.desk.edit(acting.pencilled(book, job.id, promise, until))
        day = of_window.short_day(words, until)
        self._note(words.say(say.PENCILLED, job=job.name, day=day))

    def let_it_go(self) -> None:
        """Take it out of the book; undo brings it back."""
        book, job = self.laid.book, self.laid.job
        if book is not None and job is not None:
            self.desk.edit(let_go(book, job.id))
            self._note(self.laid.words.say(say.LET_GO, job=job.name))

    # The price asked, and a new enquiry.

    def read_price(self) -> str:
        """Return the price that is asked, as it is typed."""
        job = self.laid.job
        return "" if job is None else typed.figure(job.price)

    def write_price(self, text: str) -> None:
        """Ask another price, or none; raises NotTaken."""
        price, job, book = typed.number_or_none(text), self.laid.job, self.laid.book
        if job is None or book is None or price == job.price:
            return
        self.laid.edit_beside(change_job(book, replace(job, price=price)))

    def write_enquiry(self, asked: Asked) -> None:
        """Write a new enquiry and look at it; raises NotTaken."""
        book = self.laid.book
        if book is None:
            return
        edited, job = newly.enquired(book, asked, self.laid.words, self.desk.now)
        self.laid.enquiry = self.desk.job = job
        self.desk.edit(edited)

    # On the wall.

    def try_it(self) -> None:
        """See the book with it on the wall; again: without it."""
        if self.desk.leave_trial():
            self._to_wall()
            return
        found, book, promise = self.laid.found, self.laid.book, self.laid.promise
        if found is None or found.rush is None or book is None or promise is None:
            return
        if promise is found.rush.wished:
            self._on_wall(acting.wished_trial(book, found, self.laid.words))
            return
        edited = acting.booked(book, found.rush.job.id, promise)
        tried = replace(edited.book, revision=book.revision)
        request = replace(self.desk.request(), book=tried, effort=TRIAL_EFFORT)
        hear = partial(self._hear_trial, found.rush.job.id, promise)
        self.desk.ask(AskPlan(request=request), hear)

    def _hear_trial(self, job: JobId, promise: "Promise", outcome: object) -> None:
        rush, book = self.laid.rush, self.laid.book
        assert isinstance(outcome, Outcome)
        if rush is None or book is None or rush.job.id != job:
            return
        trial = acting.trial_of(book, rush, promise, outcome.plan, outcome, self.laid.words)
        self._on_wall(trial)

    def try_way(self, number: int) -> bool:
        """See a way out on the wall; whether there is one of that number."""
        found, book = self.laid.found, self.laid.book
        ways = None if found is None or found.rush is None else found.rush.ways
        if found is None or book is None or ways is None or number > len(ways.ways):
            return False
        way = ways.ways[number - 1]
        self._on_wall(acting.way_trial(book, found, way, number, self.laid.words))
        return True

    def _on_wall(self, trial: Trial) -> None:
        self.desk.try_(trial)
        self._to_wall()

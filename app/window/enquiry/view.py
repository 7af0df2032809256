"""The view of an enquiry: can we take it, whom it squeezes, the honest date, what to say."""

from dataclasses import replace

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from app.counsel.questions import AskRush, FirstLook
from app.window.desk import Desk
from app.window.enquiry.dots import Dots
from app.window.enquiry.state import Found, dot_rows, enquiries
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.spots.drawn import scrolled
from app.window.views.view import View, Which
from app.words import enquiry_view as say
from app.words.words import Words
from shared.book import Book, Job, Standing
from shared.ids import JobId

SECONDS = 10
"""For dates and ways out; the plans go by effort and come sooner."""


class EnquiryView(View):
    """One enquiry of the book is laid beside it whenever the book is another one."""

    which = Which.ENQUIRY

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.enquiry: JobId | None = None
        self.found: Found | None = None
        self._asked: tuple[int, JobId] | None = None
        self.dots = Dots(self._choose_job)
        self.left = scrolled(self.dots)
        self.left.setParent(self)
        self.dots.hovered.connect(lambda spot: self.hovered.emit(spot.description if spot else ""))

    # What it speaks of.

    @property
    def book(self) -> Book | None:
        """The open book."""
        return None if self.desk.document is None else self.desk.document.book

    @property
    def job(self) -> Job | None:
        """The enquiry that is looked at."""
        book = self.book
        found = () if book is None else enquiries(book)
        return next((job for job in found if job.id == self.enquiry), None)

    @property
    def words(self) -> Words:
        """The words of the book."""
        return self.desk.words

    def _choose_job(self, job: JobId) -> None:
        self.desk.job = job

    # Asking.

    def refresh(self) -> None:
        """Show the book as it is now, and ask anew where the answer is of another one."""
        book = self.book
        if book is None:
            return
        known = enquiries(book)
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
        self.dots.setFocus()

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
        if job.standing is not Standing.ENQUIRY:
            book = request.book
            jobs = (replace(each, standing=Standing.ENQUIRY) for each in (job,))
            asked = next(jobs)
            others = tuple(asked if each.id == job.id else each for each in book.jobs)
            request = replace(request, book=replace(book, jobs=others))
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
        self._show()

    # Showing.

    def _show(self) -> None:
        book, found, job = self.book, self.found, self.job
        if book is None:
            return
        rows = () if found is None or job is None else dot_rows(book, found, self.words)
        title = "" if job is None else self.words.say(say.WITHOUT_AND_WITH, job=job.name)
        is_whole = found is not None and found.rush is not None
        self.dots.room = self.height()
        self.dots.show_rows(rows, title, self.words, is_whole=is_whole)
        self.headline_changed.emit()

    def headline(self) -> Headline:
        """Return whether it can be taken, then the honest date."""
        job, found, words = self.job, self.found, self.words
        if job is None:
            return Headline(sentence=words.say(say.NONE_YET))
        if job.held_window is None:
            return Headline(sentence=words.say(say.NO_WINDOW, job=job.name))
        if found is None:
            return Headline(sentence=words.say(say.LOOKING, job=job.name))
        if found.rush is None:
            told = next(each for each in found.with_.jobs if each.id == job.id)
            return Headline(sentence=say.first_sentence(words, told))
        return Headline(sentence=say.sentence(words, found.rush), next=self._next(job))

    def _next(self, job: Job) -> tuple[Part, ...]:
        assert self.found is not None
        rush = self.found.rush
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
        return (*parts, (f"    {job.client.name}", True), (f"  {asks}", False))

    # Qt's overrides.

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        half = round(self.width() * 0.492)
        self.dots.room = self.height()
        self.left.setGeometry(0, 0, half, self.height())

    def parts(self) -> tuple[QWidget, ...]:
        """Return the drawn parts."""
        return (self.dots,)

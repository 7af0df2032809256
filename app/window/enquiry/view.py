"""The view of an enquiry: can we take it, whom it squeezes, the honest date, what to say."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRect, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QResizeEvent

from app.window.bits import KeyWord, theme_of
from app.window.desk import Desk
from app.window.enquiry import acting
from app.window.enquiry import state as reckon
from app.window.enquiry.dates import Dates
from app.window.enquiry.doing import Doing
from app.window.enquiry.dots import Dots
from app.window.enquiry.form import NewEnquiry
from app.window.enquiry.laid import Laid
from app.window.enquiry.lines import Names, Ways
from app.window.enquiry.newly import Asked
from app.window.enquiry.saying import Saying
from app.window.enquiry.table import Table
from app.window.enquiry.ways import Way, names_of, ways_of
from app.window.first.asked import read_day
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.sheet.blanks import Blank
from app.window.sheet.typed import NotTaken
from app.window.spots.drawn import Drawn, scrolled
from app.window.tokens import px
from app.window.views.shelf import Shelf
from app.window.views.view import View, Which
from app.window.wall import pens
from app.words import enquiry_view as say
from app.words import owner_enquiry as owner
from app.words import window as of_window
from app.words.words import Words
from scheduler.enquiring import Taking
from shared.book import Job, Standing
from shared.ids import JobId

if TYPE_CHECKING:
    from collections.abc import Callable

LEFT_SHARE, MONEY_SHARE, DATES_SHARE, WAYS_SHARE = 0.492, 0.47, 0.56, 0.45
BELOW_MOST = 0.64
GAP = 16


class EnquiryView(View):
    """One enquiry of the book is laid beside it whenever the book is another one."""

    which = Which.ENQUIRY

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.laid = Laid(desk)
        self.laid.changed.connect(self._show)
        self.doing = Doing(desk, self.laid, self._to_wall)
        self._make_parts()

    def _make_parts(self) -> None:
        doing = self.doing
        self.names, self.dots = Names(self.laid.choose), Dots(self._choose_job)
        self.dates, self.ways = Dates(self.laid.look_at), Ways(doing.try_way)
        self.table, self.saying = Table(), Saying(doing.read_price, doing.write_price)
        self.form = NewEnquiry()
        self.form.wanted.connect(self._on_wanted)
        self.form.left.connect(self.back)
        self.other = Blank("", str, self._on_other, pixels=14)
        self.other.entered.connect(self._on_other_entered)
        self._new = KeyWord("", self.begin_new, "Q")
        self._other_day = KeyWord("", self.begin_other, "T")
        self.left, self.left_ways = scrolled(self.dots), scrolled(self.ways)
        self.right = scrolled(self.saying)
        beside = (self.dates, self.table, self.right, self._new, self._other_day)
        for part in (self.names, self.left, self.left_ways, *beside, self.form, self.other):
            part.setParent(self)
        self.form.hide()
        self.other.hide()
        all_drawn = (self.names, self.dots, self.ways, self.dates, self.table, self.saying.quote)
        for drawn in all_drawn:
            drawn.hovered.connect(
                lambda spot: self.hovered.emit(spot.description if spot is not None else "")
            )

    @property
    def words(self) -> Words:
        """The words of the book."""
        return self.desk.words

    def _choose_job(self, job: JobId) -> None:
        self.desk.job = job

    def _to_wall(self) -> None:
        shelf = self.window().findChild(Shelf)
        if shelf is not None:
            shelf.show(Which.WALL)

    # Showing.

    def refresh(self) -> None:
        """Show the book as it is now."""
        if self.desk.document is None:
            return
        self.laid.refresh()
        self._show()

    def enter(self) -> None:
        """Take the keyboard; ask again where somebody else's question gave ours up."""
        book = self.laid.book
        known = () if book is None else reckon.enquiries(book)
        if self.desk.job != self.laid.enquiry and self.desk.job in {job.id for job in known}:
            assert self.desk.job is not None
            self.laid.choose(self.desk.job)
        elif self.laid.rush is None:
            self.laid.ask()
        shown = self.dots if self.laid.job is not None else self._new
        (self.dates if self.dates.columns else shown).setFocus()

    def _show(self) -> None:
        book = self.laid.book
        if book is None:
            return
        title = self.words.say(say.ENQUIRIES)
        self.names.show_names(names_of(book, self.words), self.laid.enquiry, title)
        self._show_dots()
        self._show_ways()
        self._show_dates()
        self._show_money()
        self._show_words()
        self._arrange()
        self.update()
        self.headline_changed.emit()

    def _show_dots(self) -> None:
        book, found, job = self.laid.book, self.laid.found, self.laid.job
        assert book is not None
        rows = () if found is None or job is None else reckon.dot_rows(book, found, self.words)
        title = "" if job is None else self.words.say(say.WITHOUT_AND_WITH, job=job.name)
        self.dots.show_rows(rows, title, self._legend(), self.words)
        self.dots.setAccessibleName(title or self.words.say(say.ENQUIRIES))
        self._new.setText(self.words.say(say.DO_NEW))
        self._new.setAccessibleName(f"{self._new.text()}, Q")
        self._new.setFixedSize(self._new.sizeHint())

    def _legend(self) -> str:
        """Return what the dots are, whether they are checked, and whose sheet would change."""
        words, found, rush = self.words, self.laid.found, self.laid.rush
        said = [words.say(say.DOTS_LEGEND)]
        if found is not None:
            is_sound = found.without.check.sound and found.with_.check.sound
            said.append(words.say(say.DOTS_CHECKED if is_sound else say.DOTS_NOT_ALL))
        if rush is not None:
            said.append(say.told_anew(words, rush))
        return " ".join(part for part in said if part)

    def _show_ways(self) -> None:
        rush = self.laid.rush
        title = ""
        ways: tuple[Way, ...] = ()
        if rush is not None and rush.wished.taking is Taking.NOT:
            day = say.day_of(self.words, rush, rush.wished)
            title = self.words.say(say.WAYS, day=day)
            is_hidden = self.desk.is_money_hidden
            ways = ways_of(rush, self.words, self.laid.today, is_money_hidden=is_hidden)
        self.ways.show_ways(ways, title, self.words.say(say.NO_WAYS))
        self.left_ways.setVisible(bool(title))

    def _show_dates(self) -> None:
        rush = self.laid.rush
        columns = () if rush is None else reckon.date_columns(rush, self.words)
        is_looking = self.laid.found is not None and rush is None
        at = self.laid.looked_at
        self.dates.show_columns(columns, at, self.words, is_looking=is_looking)
        self.dates.setVisible(bool(columns) or is_looking)
        if columns:
            self.dates.at = f"date {at}"
        self._other_day.setText(self.words.say(say.DO_OTHER_DATE))
        self._other_day.setAccessibleName(f"{self._other_day.text()}, T")
        self._other_day.setFixedSize(self._other_day.sizeHint())
        self._other_day.setVisible(bool(columns) and self.other.isHidden())
        self.other.setAccessibleName(self._other_day.text())

    def _show_money(self) -> None:
        rush, promise, job = self.laid.rush, self.laid.promise, self.laid.job
        self.table.setVisible(rush is not None)
        if rush is None or promise is None or job is None:
            return
        rows = owner.money_rows(self.words, promise.pricing, job.price)
        title = self.words.say(say.MONEY_FOR, day=say.day_of(self.words, rush, promise))
        note = owner.hours_note(self.words, self.laid.hours)
        is_hidden = self.desk.is_money_hidden
        self.table.show_rows(rows, title, note, self.words, is_hidden=is_hidden)

    def _show_words(self) -> None:
        self.right.setVisible(self.laid.rush is not None)
        rush, promise, note = self.laid.rush, self.laid.promise, ""
        if rush is not None and promise is not None:
            note = say.date_note(self.words, rush, promise, self.laid.today)
        has_price = not self.desk.is_money_hidden
        self.saying.show_keys(self._key_words())
        self.saying.show_text(self.laid.client_text(), note, self.words, has_price=has_price)

    def _key_words(self) -> list[KeyWord]:
        """Return what can be done with the date that is looked at."""
        rush, promise, job = self.laid.rush, self.laid.promise, self.laid.job
        if rush is None or promise is None or job is None:
            return []
        words, doing = self.words, self.doing
        day = say.day_of(words, rush, promise)
        until = of_window.short_day(words, acting.pencil_until(job, self.laid.today))
        hide = say.SHOW_MONEY if self.desk.is_money_hidden else say.HIDE_MONEY
        keys = [KeyWord(words.say(say.DO_COPY), doing.copy, "Y")]
        if promise.taking is not Taking.NOT:
            keys.append(KeyWord(words.say(say.DO_BOOK, day=day), doing.book_it, "B"))
            if job.standing is Standing.ENQUIRY:
                keys.append(KeyWord(words.say(say.DO_PENCIL, day=until), doing.pencil_it, "P"))
        keys.append(KeyWord(words.say(say.DO_WITH), doing.try_it, "V"))
        keys.append(KeyWord(words.say(say.DO_LET_GO), doing.let_it_go, "Del"))
        keys.append(KeyWord(words.say(hide), self.desk.hide_money, "H"))
        return keys

    # The masthead.

    def headline(self) -> Headline:
        """Return whether it can be taken, then the honest date."""
        job, found, rush, words = self.laid.job, self.laid.found, self.laid.rush, self.words
        if self.desk.trouble:
            return Headline(sentence=self.desk.trouble, is_alarm=True)
        if not self.form.isHidden():
            return Headline(sentence=words.say(say.NEW_QUESTION))
        if job is None:
            return Headline(sentence=words.say(say.NONE_YET))
        if job.held_window is None:
            return Headline(sentence=words.say(say.NO_WINDOW, job=job.name))
        if self.desk.stopping:
            reason, cure = words.finding(self.desk.stopping[0])
            sentence = words.say(say.PLANS_NOT, job=job.name, reason=reason)
            return Headline(sentence=sentence, next=((cure, False),), is_alarm=True)
        if found is None:
            return Headline(sentence=words.say(say.LOOKING, job=job.name), is_enquiry=True)
        if rush is None:
            told = next(each for each in found.with_.jobs if each.id == job.id)
            return Headline(sentence=say.first_sentence(words, told), is_enquiry=True)
        sentence = say.sentence(words, rush)
        return Headline(sentence=sentence, next=self._next(job), is_enquiry=True)

    def _next(self, job: Job) -> tuple[Part, ...]:
        rush, words = self.laid.rush, self.words
        assert rush is not None
        honest = rush.honest
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

    # Keys.

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Do what a letter does here; a figure tries a way out."""
        doing: dict[Qt.Key, Callable[[], object]] = {
            Qt.Key.Key_Q: self.begin_new,
            Qt.Key.Key_T: self.begin_other,
            Qt.Key.Key_Y: self.doing.copy,
            Qt.Key.Key_B: self.doing.book_it,
            Qt.Key.Key_P: self.doing.pencil_it,
            Qt.Key.Key_V: self.doing.try_it,
            Qt.Key.Key_H: self.desk.hide_money,
            Qt.Key.Key_Delete: self.doing.let_it_go,
            Qt.Key.Key_Space: self.laid.look_longer,
        }
        for number in range(1, 10):
            figure = Qt.Key(Qt.Key.Key_0 + number)
            doing[figure] = partial(self.doing.try_way, number)
        if shift or key not in doing:
            return False
        doing[key]()
        return True

    def back(self) -> bool:
        """Put the field or the sentence away that is open."""
        if not self.other.isHidden():
            self._close_other()
            return True
        if self.form.isHidden():
            return False
        self.form.hide()
        self._show()
        self.enter()
        return True

    # A new enquiry, and another date.

    def begin_new(self) -> None:
        """Open the sentence of a new enquiry."""
        book = self.laid.book
        if book is None:
            return
        self.form.begin(book, self.words, self.desk.now)
        self.form.show()
        self.form.raise_()
        self._arrange()
        self.form.blanks["what"].setFocus()
        self.headline_changed.emit()

    def _on_wanted(self, asked: object) -> None:
        assert isinstance(asked, Asked)
        try:
            self.doing.write_enquiry(asked)
        except NotTaken as no:
            self.form.refuse("past", no)
            return
        self.form.hide()
        self._show()
        self.dots.setFocus()

    def begin_other(self) -> None:
        """Open the field of another date."""
        if self.laid.rush is not None:
            self.other.show()
            self.other.setFocus()
            self._show_dates()
            self._arrange()

    def _on_other(self, text: str) -> None:
        self.laid.ask_day(read_day(text, self.words, self.laid.today))

    def _on_other_entered(self) -> None:
        if not self.other.is_refused:
            self._close_other()

    def _close_other(self) -> None:
        self.other.hide()
        self.other.clear()
        self._show_dates()
        self.dates.setFocus()

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
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange and self.desk.document is not None:
            self._show()

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        half = round(width * LEFT_SHARE)
        self._arrange_left(half, height)
        x = half + GAP + 2
        money = round((width - x - GAP) * MONEY_SHARE)
        left = x + money + 2 * GAP
        below = self._below(money, width - left - GAP)
        top = height - below
        self.dates.room, self.dates.margin = top, self._other_day.width() + GAP
        _place(self.dates, QRect(x, 0, width - x, top))
        _place(self.table, QRect(x, top + px(6), money, below - px(6)))
        self.right.setGeometry(left, top + px(6), width - left - GAP, below - px(6))
        right = width - GAP
        self._other_day.move(right - self._other_day.width(), px(8))
        self.other.move(right - self.other.width(), px(8))

    def _below(self, money: int, saying: int) -> int:
        """Return how high the money and the words are: a share, more where they need it."""
        height = self.height()
        needed = max(self.table.height_at(money), self.saying.height_at(saying)) + px(10)
        usual = height - round(height * DATES_SHARE)
        most = min(round(height * BELOW_MOST), height - self.dates.least)
        return max(min(usual, most), min(needed, most))

    def _arrange_left(self, half: int, height: int) -> None:
        top = self.names.height_at(half)
        _place(self.names, QRect(0, 0, half, top))
        ways = 0
        if self.ways.title:
            ways = min(self.ways.height_at(half) + px(8), round(height * WAYS_SHARE))
        self.dots.room, self.dots.margin = height - top - ways, self._new.width() + GAP
        shown = min(self.dots.room, self.dots.height_at(half) + px(12))
        self.left.setGeometry(0, top, half, shown)
        self.left_ways.setGeometry(0, top + shown, half, ways)
        self.dots.refresh()
        is_empty = self.laid.job is None
        right = half - self._new.width() - GAP
        self._new.move(GAP - 3 if is_empty else right, top + px(8))
        self._new.raise_()
        self.form.setGeometry(0, 0, self.width(), height)
        self.form.raise_()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        half = round(self.width() * LEFT_SHARE)
        if self.laid.found is not None:
            pens.flat_rect(painter, half, GAP, 1, self.height() - 2 * GAP, of.line)
        if self.laid.rush is not None:
            top = self.dates.height()
            pens.flat_rect(painter, half + GAP, top, self.width() - half - 2 * GAP, 1, of.line)
        painter.end()


def _place(drawn: Drawn, rect: QRect) -> None:
    """Give a part its place, also where it needed to be higher before."""
    drawn.setMinimumHeight(0)
    drawn.setGeometry(rect)
    drawn.refresh()
    drawn.setMinimumHeight(0)

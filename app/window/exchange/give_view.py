"""The page under U: what can be given out of a checked plan, for whom, and where it was written."""

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from app.exchange.calendar import Feed, Whose, feeds
from app.exchange.given import Given, NotSound, given
from app.window.desk import Desk
from app.window.exchange import making
from app.window.exchange.bring_lines import turning
from app.window.exchange.lines import Line
from app.window.exchange.lines_view import LinesView
from app.window.exchange.making import CALENDAR, SORTS, Asking, CantGive
from app.window.filing import Filing
from app.window.headline import Headline
from app.window.views.view import Which
from app.words import exchange_view as say
from app.words import give as told
from shared.book import Job
from shared.errors import DiskError

if TYPE_CHECKING:
    from collections.abc import Callable

    from shared.plan import Plan

ALL = "all"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What came of the last thing given: a sentence, what must be said with it, what it breaks."""

    sentence: str
    under: str = ""
    marks: tuple[str, ...] = ()
    breaches: tuple[str, ...] = ()
    is_refused: bool = False


class GiveView(LinesView):
    """Answers what can be written for others, and writes it."""

    which = Which.GIVE

    def __init__(self, desk: Desk, filing: Filing) -> None:
        super().__init__(desk, filing)
        self.whom, self.paper, self.is_told = ALL, making.SIZES[0], False
        self.written: Written | None = None

    # Showing.

    @property
    def plan(self) -> "Plan | None":
        """The plan that is given: on the wall, or that people were told."""
        if self.is_told and self.book.told is not None:
            return self.book.told.plan
        return self.desk.plan

    def _feeds(self) -> dict[str, Feed]:
        return {f"{each.whose} {each.id}": each for each in feeds(self.book)}

    def _job(self) -> Job | None:
        feed = self._feeds().get(self.whom)
        if feed is None or feed.whose is not Whose.JOB:
            return None
        return next(each for each in self.book.jobs if each.id == feed.id)

    def refresh(self) -> None:
        if self.desk.document is None:
            return
        if self.whom not in self._feeds():
            self.whom = ALL
        self.is_told = self.is_told and self.book.told is not None
        self._show_lines(self._lines())

    def _lines(self) -> list[Line]:
        words, known = self.desk.words, self._feeds()
        lines = []
        if self.written is not None:
            lines = [Line(text=mark, is_alarm=True) for mark in self.written.marks]
            if self.written.breaches:
                lines.append(Line(text=words.say(say.BROKEN_RULES), is_title=True))
            lines += [Line(text=text, is_alarm=True) for text in self.written.breaches]
        if self.book.told is not None:
            plans = (("shown", "told"), (words.say(say.PLAN_SHOWN), words.say(say.PLAN_TOLD)))
            now = "told" if self.is_told else "shown"
            lines.append(turning(words, "plan", words.say(say.BY_PLAN), plans, now, self._by))
        whom = [words.say(say.FOR_ALL)]
        for feed in known.values():
            whom.append(words.say(say.FOR_ONE[feed.whose.value], name=feed.name))
        feeds_known = ([ALL, *known], whom)
        label = words.say(say.FOR_WHOM)
        lines.append(turning(words, "whom", label, feeds_known, self.whom, self._for))
        sizes = (making.SIZES, making.SIZES)
        label = words.say(say.PAPER_SIZE)
        lines.append(turning(words, "paper", label, sizes, self.paper, self._on))
        lines.append(Line(text=words.say(say.WHAT_IS_WRITTEN), is_title=True))
        for number, sort in enumerate(SORTS, start=1):
            do: Callable[[], object] = partial(self.give, sort)
            lines.append(Line(id=f"sort {sort}", key=str(number), text=self._called(sort), do=do))
        return lines

    def _called(self, sort: str) -> str:
        words, feed, job = self.desk.words, self._feeds().get(self.whom), self._job()
        if sort == CALENDAR and feed is not None:
            return words.say(say.SORTS["calendar one"], name=feed.name)
        if f"{sort} one" in say.SORTS and sort != CALENDAR and job is not None:
            return words.say(say.SORTS[f"{sort} one"], name=job.name)
        return words.say(say.SORTS[sort])

    def headline(self) -> Headline:
        words, written = self.desk.words, self.written
        if self.desk.trouble:
            return Headline(sentence=self.desk.trouble, is_alarm=True)
        if self.desk.document is not None and self.plan is None:
            return Headline(sentence=words.say(say.NO_PLAN))
        if written is not None:
            under = written.under or words.say(say.GIVE_NEXT)
            is_alarm = written.is_refused
            return Headline(sentence=written.sentence, next=((under, False),), is_alarm=is_alarm)
        next_ = ((words.say(say.GIVE_NEXT), False),)
        return Headline(sentence=words.say(say.GIVE), next=next_)

    # Choosing.

    def _by(self, which: str) -> None:
        self.is_told = which == "told"
        self.refresh()

    def _for(self, whom: str) -> None:
        self.whom = whom
        self.refresh()

    def _on(self, size: str) -> None:
        self.paper = size
        self.refresh()

    # Giving.

    def give(self, sort: str) -> None:
        """Check the plan, make what is wanted of it, and write it where somebody says."""
        self.desk.trouble = ""
        plan = self.plan
        if plan is None:
            self.refresh()
            return
        words = self.desk.words
        asking = Asking(feed=self._feeds().get(self.whom), job=self._job(), size=self.paper)
        try:
            making.check(sort, asking)
            made = given(self.book, plan, self.desk.now, words)
            path = self._where(sort, asking)
            if path is not None:
                files = making.files(sort, made, asking, path.suffix.casefold())
                self.written = self._write(sort, asking, made, path, files)
        except NotSound as trouble:
            breaches = tuple(words.breach(each) for each in trouble.breaches)
            sentence = words.say(told.BROKEN, count=len(breaches))
            self.written = Written(sentence=sentence, breaches=breaches, is_refused=True)
        except CantGive as no:
            sentence = words.say(making.REASONS[no.code], **no.facts)
            self.written = Written(sentence=sentence, is_refused=True)
        except DiskError as no:
            self.written = None
            self.desk.trouble = words.trouble(no.code, **no.facts)
        self.refresh()

    def _where(self, sort: str, asking: Asking) -> Path | None:
        """Ask where it goes; a name without an ending gets the usual one. Raises CantGive."""
        words, endings = self.desk.words, making.endings(sort, asking)
        title = words.say(say.WHERE_TITLE, what=self._called(sort))
        usual = endings[0] if endings else ""
        path = self._filing.ask_where(title, words.say(say.FILES_OF[usual]))
        if path is None:
            return None
        if not endings:
            if path.exists() and not path.is_dir():
                raise CantGive("folder", path=str(path))
            return path
        if not path.suffix:
            path = path.with_suffix(usual)
            if path.exists():
                raise CantGive("there", path=str(path))
        if path.suffix.casefold() not in endings:
            raise CantGive("ending", endings=", ".join(endings))
        return path

    def _write(
        self, sort: str, asking: Asking, made: Given, path: Path, files: making.Files
    ) -> Written:
        from app.exchange.files import write_files

        words = self.desk.words
        is_folder = not making.endings(sort, asking)
        count = write_files(path, files, is_folder=is_folder)
        template = told.WRITTEN if is_folder else told.WRITTEN_ONE_BY_ONE
        made_line = f"{made.made}."
        under = f"{words.say(told.BY_TOLD)} {made_line}" if self.is_told else made_line
        sentence = words.say(template, path=str(path), count=count)
        return Written(sentence=sentence, under=under, marks=made.marks)

    # Keys.

    def enter(self) -> None:
        self.written = None
        self.lines.setFocus()
        self.refresh()

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        if shift:
            return False
        return self.lines.press(key) or key is Qt.Key.Key_U

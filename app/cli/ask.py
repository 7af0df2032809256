"""`countback ask`: a first answer from four blanks, on an empty machine or beside a book's jobs."""

import json
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from app import clock
from app.cli.arguments import Asked, Usage
from app.cli.ask_said import Answer, answer_object, say_answer
from app.cli.assume import Line, assume_typed, country_typed
from app.cli.beside import NOTHING, beside, with_beside
from app.cli.blanks import Blanks
from app.cli.books import finding_objects, load_book, words_for
from app.cli.console import Console
from app.cli.estimate import Typed, check_like, job_blank, route_blank, typed_blanks
from app.cli.findings import say_findings
from app.cli.keeping import locked
from app.cli.make import names_asked
from app.cli.moments import instant_typed, now_of
from app.cli.plan import solved
from app.cli.report import plan_object
from app.cli.routes import route_asked
from app.cli.run import MET, MISSED, REFUSED
from app.cli.through import refused
from app.words import Words, shell
from app.words import ask as ask_words
from app.words.brought import in_words, job_in_words
from app.words.verdicts import is_met
from app.words.voice import Voice
from scheduler.dues import dues
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from shared.asking import Country, Question, asked_book, assumed_book, usual_assumed
from shared.asking.assumed import assumed_names
from shared.book import Book, Job, Route, Standing
from shared.errors import DiskError
from shared.estimate.likened import past_route
from shared.examine import examine
from shared.findings import Finding
from shared.ids import JobId
from shared.routes import PROGRAM_ROUTES, Names
from shared.trade import figure

USUAL_SECONDS = 0.6
"""Of planning, so that the whole answer is there within two."""
USUAL_WORKERS = 2
_DAYS_PER_YEAR = 365
_EXAMPLES = {"--size": "2.4x2.1x2.6", "--by": "2027-05-11", "--country": ask_words.COUNTRY_EXAMPLE}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    """The blanks as they were read; None where one is missing or can't be taken."""

    typed: Typed
    country: Country | None
    by: date | None
    route: Route | None
    past: Job | None
    line: Line


def run(asked: Asked, console: Console) -> int:
    out = _free(asked.out)
    book = None
    if asked.book is not None:
        read_book = load_book(Path(asked.book))
        if read_book.book is None:
            return refused(asked, console, read_book)
        book = read_book.book
    blanks = Blanks()
    now = _now(asked, book)
    read = _read(asked, blanks, book, now)
    words = words_for(book)
    if blanks.wrong:
        return _wrong(asked, console, words, blanks)
    seconds = USUAL_SECONDS if asked.seconds is None else asked.number("seconds", 1)
    workers = asked.number("workers", USUAL_WORKERS)
    return _Asking(
        asked=asked,
        console=console,
        base=book,
        read=read,
        now=now,
        out=out,
        seconds=seconds,
        workers=workers,
    ).answer()


def _free(out: str | None) -> Path | None:
    """Give the path for the book that was assumed; raises DiskError where something is there."""
    if out is None:
        return None
    if Path(out).exists():
        raise DiskError("exists", path=out)
    return Path(out)


def _now(asked: Asked, book: Book | None) -> datetime | None:
    """Give the now to speak of; None where it is still to be read by the assumed home's clock."""
    if book is not None:
        return now_of(asked, book)[0]
    return None if asked.now is not None else clock.now()


def _read(asked: Asked, blanks: Blanks, book: Book | None, now: datetime | None) -> _Read:
    what = asked.words[0]
    if not what.strip():
        blanks.refuse("WHAT", what, "what_missing")
    for option, example in _EXAMPLES.items():
        if getattr(asked, option.removeprefix("--")) is None:
            facts = {"option": option, "example": Voice().say(example)}
            blanks.refuse(option, "", "blank_missing", **facts)
    typed = typed_blanks(asked, blanks)
    country = blanks.read("--country", asked.country, country_typed)
    line = assume_typed(usual_assumed(), asked.assume, blanks, has_book=book is not None)
    today = _today(asked, book, now, line.home or country)
    by = blanks.read("--by", asked.by, lambda text: _day(text, today))
    past = job_blank(blanks, "--like", asked.like, book)
    check_like(asked, blanks)
    route = route_blank(asked, blanks, book)
    return _Read(typed=typed, country=country, by=by, route=route, past=past, line=line)


def _today(asked: Asked, book: Book | None, now: datetime | None, home: Country | None) -> date:
    zone = book.workshop.zone if book is not None else home.zone if home is not None else "UTC"
    moment = now or instant_typed(asked.now or "", zone)
    return moment.astimezone(ZoneInfo(zone)).date()


def _day(text: str, today: date) -> date:
    """Give a day to come; raises Usage."""
    try:
        found = date.fromisoformat(text.strip())
    except ValueError:
        raise Usage("bad_date", word=text, example=_EXAMPLES["--by"]) from None
    if found < today:
        raise Usage("date_over", word=text, today=today.isoformat())
    last = today + timedelta(days=_DAYS_PER_YEAR * int(figure("CP578").amount))
    if found > last:
        raise Usage("date_too_far", word=text, last=last.isoformat())
    return found


def _wrong(asked: Asked, console: Console, words: Words, blanks: Blanks) -> int:
    blanks.say(console, words)
    if asked.json:
        told = {**plan_object(words, None, None), **NOTHING}
        told["findings"] = blanks.objects(words)
        console.say(json.dumps(told, ensure_ascii=False))
    return REFUSED


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asking:
    """One question whose blanks can all be taken. base: the book it is asked beside, if any."""

    asked: Asked
    console: Console
    base: Book | None
    read: _Read
    now: datetime | None
    out: Path | None
    seconds: float
    workers: int

    def answer(self) -> int:
        """Answer it, keep the book if that was asked for, and give the exit code."""
        home = self._home()
        now = self.now or instant_typed(self.asked.now or "", home.zone)
        question = self._question()
        book, names, standing = self._ground(question, home, now)
        made = asked_book(
            book, question, self.read.line.assumed, now, names=names, standing=standing
        )
        said = job_in_words(Voice(), made.book, made.job)
        made = replace(made, book=said, job=next(j for j in said.jobs if j.id == made.job.id))
        stopping = tuple(found for found in examine(made.book) if found.stops)
        if stopping:
            return self._stopped(made.book, stopping)
        before = self._solved(book, now, None) if self._has_others(book) else None
        after = self._solved(made.book, now, made.job.id)
        if self.out is not None:
            with locked(self.out, self.asked) as kept:
                _free(self.asked.out)
                kept.keep(made.book)
        answer = Answer(
            asked=self.asked,
            question=question,
            made=made,
            line=self.read.line,
            home=None if self.base is not None else home,
            names=names,
            before=before[0] if before else None,
            after=after[0],
            seconds=after[1],
            out=self.out,
        )
        words = words_for(made.book)
        say_answer(self.console, words, answer)
        if self.asked.json:
            self._tell(words, answer)
        return MET if all(is_met(job) for job in after[0].jobs) else MISSED

    def _home(self) -> Country:
        """Return where the workshop is: as said, as in the book, else in the site's country."""
        if self.base is not None:
            workshop = self.base.workshop
            return Country(code=workshop.country, name=workshop.country, zone=workshop.zone)
        found = self.read.line.home or self.read.country
        assert found is not None
        return found

    def _question(self) -> Question:
        read, past = self.read, self.read.past
        assert read.country is not None
        assert read.by is not None
        basic = route_asked(self.base, PROGRAM_ROUTES[0])
        if past is not None and self.base is not None:
            basic = in_words(Voice(), past_route(self.base, past))
        return Question(
            what=self.asked.words[0].strip(),
            whole=read.typed.segment("piece", self.asked.words[0].strip()),
            by=read.by,
            country=read.country,
            route=read.route or basic,
            options=self.asked.options,
            past=past,
            times=read.typed.times,
            count=read.typed.count,
        )

    def _ground(
        self, question: Question, home: Country, now: datetime
    ) -> tuple[Book, Names, Standing]:
        """Return the book that the job comes into: the one named, else the assumed one."""
        if self.base is not None:
            return self.base, names_asked(self.asked, self.base), Standing.ENQUIRY
        book = assumed_book(self.read.line.assumed, home, question.route, now, question.what)
        return in_words(Voice(), book), assumed_names(book), Standing.PENCILLED

    def _stopped(self, book: Book, found: tuple[Finding, ...]) -> int:
        words = words_for(book)
        say_findings(self.console, words, found)
        self.console.say(words.say(shell.NOT_PLANNED))
        if self.asked.json:
            told = {**plan_object(words, None, None), **NOTHING}
            told["findings"] = finding_objects(words, found)
            self.console.say(json.dumps(told, ensure_ascii=False))
        return REFUSED

    def _has_others(self, book: Book) -> bool:
        return self.base is not None and bool(book.jobs)

    def _solved(self, book: Book, now: datetime, job: JobId | None) -> tuple[Outcome, float]:
        is_asked = job is not None and self.base is not None
        request = SolveRequest(
            book=book,
            now=now,
            asked=(job,) if is_asked and job is not None else (),
            seconds=self.seconds,
            workers=self.workers,
        )
        begun = clock.ticks()
        outcome = solved(request, words_for(book), self.console, is_quiet=self.asked.quiet)
        return outcome, clock.ticks() - begun

    def _tell(self, words: Words, answer: Answer) -> None:
        book, outcome = answer.made.book, answer.after
        found = dues(book, outcome.plan, outcome.now)
        more = beside(book, outcome, (answer.made.job.id,))
        told = with_beside(plan_object(words, outcome, answer.seconds, found), words, outcome, more)
        told |= answer_object(words, answer)
        self.console.say(json.dumps(told, ensure_ascii=False))

"""Somebody is away: what is asked, the answers, and which of them is tried."""

from collections.abc import Callable
from dataclasses import replace

from app.counsel.questions import AskAway
from app.window.desk import Desk
from app.window.people.asked import Typed
from app.window.people.panel import SHOWN_LINES, Entry, Panel, judged_of
from app.window.trial import Trial
from app.words import Words
from app.words import away as said_away
from app.words import people_view as say
from app.words.amounts import money
from app.words.levers import lever_line, lever_text
from app.words.template import Template
from app.words.voice import capital
from scheduler.away.values import Answer, Answers, MoveKind
from scheduler.outcome import Outcome, Verdict
from scheduler.told_changes import Line
from shared.absence import Absence, AwayKind
from shared.book import Book
from shared.edits import Label, mark_away
from shared.edits.edited import label
from shared.worktime.zones import local_date

SECONDS = 3
HEAD_PARTS = 2
LONGEST_WHAT = 60
"""So many letters stand in the foot beside what is done with it."""
HEADS: dict[MoveKind, Template] = {
    MoveKind.TAKEN_OVER: say.TAKES_OVER,
    MoveKind.WAITS: say.IT_WAITS,
    MoveKind.BROUGHT_FORWARD: say.SOONER,
    MoveKind.ELSEWHERE: say.ELSEWHERE,
    MoveKind.SWAPPED: say.SWAPPED,
    MoveKind.MOVED: say.MOVED,
    MoveKind.LEAVES: say.LEAVES,
    MoveKind.OFF: say.OFF,
}


class Awaying:
    """What is asked of an absence. changed: called when there is something else to see."""

    def __init__(self, desk: Desk, changed: Callable[[], object]) -> None:
        self._desk, self._changed = desk, changed
        self.typed: Typed | None = None
        self.absence: Absence | None = None
        self.answers: Answers | None = None
        self.is_busy = self.has_failed = False
        self.tried = 0

    @property
    def is_open(self) -> bool:
        """Whether an absence is being asked about."""
        return self.typed is not None

    def open(self, typed: Typed) -> None:
        """Begin to ask; what is known already stands in the blanks."""
        self.close()
        self.typed = typed
        if typed.id:
            self.ask()
        self._changed()

    def close(self) -> None:
        """Ask no more."""
        self.typed = self.absence = self.answers = None
        self.is_busy = self.has_failed = False
        self.tried = 0

    def fail(self) -> None:
        """No answer comes any more."""
        if self.is_busy:
            self.is_busy, self.has_failed = False, True
            self._changed()

    def write(self, typed: Typed) -> None:
        """Take what was typed, and ask when that is another absence."""
        before, self.typed = self.typed, typed
        if before is not None and replace(before, reason="") == replace(typed, reason=""):
            if self.tried:
                self.try_(self.tried)
            return
        self.ask()

    def ask(self) -> None:
        """Ask for answers, if it is known of whom and when."""
        desk, document = self._desk, self._desk.document
        assert document is not None
        assert self.typed is not None
        desk.leave_trial()
        self.absence = self.typed.absence(document.book, desk.now)
        self.answers, self.tried, self.has_failed = None, 0, False
        self.is_busy = self.absence is not None
        if self.absence is not None:
            request = desk.request(SECONDS)
            desk.ask(AskAway(request=request, absence=self.absence), self._hear)
        self._changed()

    def _hear(self, found: object) -> None:
        assert isinstance(found, Answers)
        if found.absence != self.absence:
            return  # of another absence, or nobody asks any more
        self.is_busy = False
        self.answers = found
        if found.answers:
            self.try_(1)
        self._changed()

    def try_(self, number: int) -> bool:
        """Show an answer as if it were taken; the one after the last only writes it down."""
        trial = self._trial(number)
        if trial is None:
            return False
        self.tried = number
        self._desk.try_(trial)
        return True

    def _trial(self, number: int) -> Trial | None:
        answers, document = self.answers, self._desk.document
        if answers is None or document is None or not 1 <= number <= len(answers.answers):
            return None
        answer = answers.answers[number - 1]
        words = self._desk.words
        name = said_away.who_of(words, answers.absence)
        return Trial(
            what=self._what(words, name, number, answer),
            label=label("take_answer", name=name),
            book=self._with_reason(answer.book, answers.absence),
            plan=answer.plan,
            outcome=self._outcome(answer),
        )

    def mark_only(self) -> tuple[Book, Label] | None:
        """Return the book with the absence in it and nothing else, and what that is called."""
        document = self._desk.document
        if self.absence is None or document is None:
            return None
        made = mark_away(document.book, self.absence)
        return self._with_reason(made.book, self.absence), made.label

    def _with_reason(self, book: Book, absence: Absence) -> Book:
        reason = self.typed.reason if self.typed is not None else ""
        if not reason or absence.kind is not AwayKind.PERSON:
            return book
        people = []
        for person in book.people:
            leave = tuple(
                replace(each, reason=reason)
                if person.id == absence.id
                and (each.start, each.end) == (absence.start, absence.end)
                else each
                for each in person.leave
            )
            people.append(person if leave == person.leave else replace(person, leave=leave))
        return replace(book, people=tuple(people))

    def _outcome(self, answer: Answer) -> Outcome | None:
        """Return how the jobs stand with an answer, as the wall shows it."""
        before = self._desk.outcome
        if before is None or not answer.jobs:
            return None
        worst = max((job.verdict for job in answer.jobs), key=list(Verdict).index)
        return replace(
            before,
            revision=answer.book.revision,
            plan=answer.plan,
            check=answer.check,
            jobs=answer.jobs,
            verdict=worst,
            proved_levels=0,
            stopped="time",
        )

    # What stands at the side.

    def panel(self) -> Panel:
        """Return the answers with what each changes for whom, and what it costs."""
        words = self._desk.words
        if self.typed is None or not self.typed.id:
            return Panel(title=words.say(say.WHO_IS_AWAY), sub=words.say(say.WHO_SUB))
        if self.absence is None:
            return Panel(title=words.say(say.WHO_IS_AWAY), more=(words.say(say.ENDS_BEFORE),))
        today = local_date(self._desk.now, words.zone)
        title = words.say(say.WHILE_AWAY, who=said_away.who_of(words, self.absence))
        sub = said_away.who_line(words, self.absence, today)
        if self.answers is None:
            waiting = say.NOT_JUDGED if self.has_failed else say.LOOKING
            return Panel(title=title, sub=sub, more=(words.say(waiting),))
        found = self.answers
        entries = tuple(
            self._entry(words, found, answer, at) for at, answer in enumerate(found.answers, 1)
        )
        more = [said_away.hits_title(words, found), *said_away.hit_lines(words, found.hits, today)]
        if found.stuck:
            more.append(words.say(say.STUCK))
        elif not entries:
            more.append(words.say(say.NO_ANSWER))
        keys = (("M", words.say(say.MARK_ONLY)),)
        return Panel(title=title, sub=sub, entries=entries, more=tuple(more), keys=keys)

    def _entry(self, words: Words, found: Answers, answer: Answer, at: int) -> Entry:
        today = local_date(found.now, words.zone)
        then = Words(book=answer.book)
        lines = said_away.answer_lines(then, found, answer, today)
        say_lever = lever_text if self._desk.is_money_hidden else lever_line
        levers = [say_lever(then, each, today) for each in answer.levers]
        head, rest = self._head(answer), [*levers, *lines[len(levers) :]]
        more = len(rest) - SHOWN_LINES
        rest = rest[:SHOWN_LINES]
        if more > 0:
            rest.append(words.say(say.MORE_LINES, count=more, number=words.number(more)))
        rest.append(self._hears(words, answer))
        judged = judged_of(then, found.before, answer.jobs, rest)
        return Entry(
            id=f"answer {at}",
            key=str(at),
            head=head,
            lines=judged.lines,
            slacks=judged.slacks,
            sum_up=judged.sum_up,
            verdict=judged.verdict,
            is_alarm=bool(answer.lost),
            is_tried=self.tried == at and self._desk.trial is not None,
        )

    def _what(self, words: Words, name: str, number: int, answer: Answer) -> str:
        """Return what is tried; the answer only by its figure where it takes many words."""
        text = words.say(say.TRIED_ANSWER, who=name, answer=self._head(answer))
        if len(text) <= LONGEST_WHAT:
            return text
        return words.say(say.TRIED_NUMBER, who=name, number=number)

    def _head(self, answer: Answer) -> str:
        """Return what an answer is, in a few words."""
        assert self.absence is not None
        words = Words(book=answer.book)
        today = local_date(self._desk.now, words.zone)
        parts = [lever_text(words, each, today) for each in answer.levers]
        kinds = dict.fromkeys(move.kind for move in answer.moves)
        parts += [self._kind(words, answer, kind) for kind in kinds if kind in HEADS]
        named = list(dict.fromkeys(capital(part) for part in parts))[:HEAD_PARTS]
        return ". ".join(named) or words.say(say.AS_IT_IS)

    def _kind(self, words: Words, answer: Answer, kind: MoveKind) -> str:
        assert self.absence is not None
        who = said_away.who_of(words, self.absence)
        is_person = self.absence.kind is AwayKind.PERSON
        if kind is MoveKind.WAITS and not is_person:
            return words.say(say.IT_WAITS_THING)
        names = dict.fromkeys(
            words.names.of("person", line.person)
            for line in answer.changes.lines()
            if line.line is Line.ON and self.absence.id in line.others
        )
        if kind is MoveKind.TAKEN_OVER and not names:
            return words.say(say.SWAPPED)
        return words.say(HEADS[kind], who=who, people=words.both(names))

    def _hears(self, words: Words, answer: Answer) -> str:
        """Say how many others hear something new, and what it costs unless money is hidden."""
        count = len(answer.changes.people)
        if count:
            people = words.number_word(count).capitalize()
            text = words.say(say.HEARS, count=count, people=people)
        else:
            text = words.say(say.HEARS_NOBODY)
        if self._desk.is_money_hidden:
            return text
        price = words.say(say.COSTS_NOTHING)
        if answer.price:
            amount = money(words, answer.price)
            price = words.say(say.COSTS, amount=amount, currency=words.currency)
        return f"{text} {price}"

"""The client's letter: the dates they keep, what their late days ate, the price asked. No Qt.

The deciding words are those for the client. What a price must be at least is nowhere in here.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from app.exchange.given import Given
from app.window.papers.text import Item, Paper, Part
from app.window.sheets.under import answers_overdue
from app.words import moments, rush
from app.words import papers as say
from app.words.amounts import money
from app.words.template import Template
from app.words.verdicts import is_met
from scheduler.outcome import JobOutcome, Outcome
from scheduler.slack import working_minutes
from shared.book import Fact, FactKind, Gate, GateKind, Job
from shared.ids import StepId
from shared.plan import Placement

InFull = Callable[[date], str]
"""A date as it is written in full in the client's country."""


def letter(given: Given, job: Job, outcome: Outcome, in_full: InFull) -> Paper:
    """Return the letter to the client of a job."""
    told = next((each for each in outcome.jobs if each.id == job.id), None)
    overdue = answers_overdue(given.book, given.plan, given.now)
    made = _Letter(given=given, job=job, told=told, in_full=in_full, overdue=overdue)
    words, today = given.words, given.now.astimezone(ZoneInfo(job.client.zone)).date()
    return Paper(
        title=words.say(say.LETTER, job=job.name),
        shop=given.book.workshop.name or given.book.name,
        line=words.say(say.LETTER_LINE, client=job.client.name, day=in_full(today)),
        marks=given.marks,
        is_old=given.is_old,
        first=made.sentence(),
        parts=tuple(made.parts()),
        last="",
        foot=given.made,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Letter:
    given: Given
    job: Job
    told: JobOutcome | None
    in_full: InFull
    overdue: frozenset[StepId]

    def _say(self, template: Template, **facts: object) -> str:
        return self.given.words.say(template, **facts)

    def _day(self, when: datetime) -> str:
        return self.in_full(when.astimezone(ZoneInfo(self.job.client.zone)).date())

    def _moment(self, when: datetime, zone: str) -> str:
        there = when.astimezone(ZoneInfo(zone))
        clock = moments.clock(self.given.words, there)
        return self._say(say.MOMENT, day=self.in_full(there.date()), clock=clock)

    def sentence(self) -> str:
        """Return what is promised, or that nothing can be; of an old plan nothing is said."""
        held, told = self.job.held_window, self.told
        if held is None or told is None or self.given.is_old:
            return ""
        zone = self.job.site.zone
        window = self._say(
            say.ACCESS_HOURS, start=self._moment(held.start, zone), end=self._moment(held.end, zone)
        )
        if not is_met(told):
            return self._say(rush.CLIENT_NO, job=self.job.name, wished=window)
        yes = self._say(rush.CLIENT_YES, job=self.job.name, window=window)
        return f"{yes} {self._say(say.HANGS)}"

    def parts(self) -> Iterator[Part]:
        """Give the parts of the letter."""
        yield Part(title=self._say(say.ANSWERS), items=self._or(self._answers(), say.NO_ANSWERS))
        yield Part(title=self._say(say.SITE), items=tuple(self._site()))
        yield Part(title=self._say(say.EATEN), items=self._or(self._eaten(), say.EATEN_NOTHING))
        if self.job.price is not None:
            words = self.given.words
            amount = money(words, self.job.price)
            text = words.say(rush.CLIENT_PRICE, amount=amount, currency=words.currency)
            yield Part(title=self._say(say.PRICE), items=(Item(what=text),))

    def _or(self, found: Iterator[Item], nothing: Template) -> tuple[Item, ...]:
        return tuple(found) or (Item(what=self._say(nothing)),)

    # Answers.

    def _gates(self) -> Iterator[tuple[Gate, Placement | None, list[Fact], list[Fact]]]:
        """Give the client's own answers, when they are planned, pictures sent and answers had."""
        placed: dict[str, Placement] = {}
        for each in self.given.plan.placements:
            if not each.part:
                placed.setdefault(each.step, each)
        for step in self.job.steps:
            if not isinstance(step, Gate) or step.gate is not GateKind.ANSWER or step.answered_by:
                continue
            facts = sorted(
                (fact for fact in self.given.book.facts if fact.step == step.id), key=_at
            )
            shown = [fact for fact in facts if fact.kind is FactKind.PICTURES]
            had = [fact for fact in facts if fact.answer is not None]
            yield step, placed.get(step.id), shown, had

    def _answers(self) -> Iterator[Item]:
        for gate, placed, shown, had in self._gates():
            if len(had) >= max(1, len(shown)):
                when = self._day(had[-1].at)
                yield Item(what=self._say(say.ANSWER_GIVEN, answer=gate.name), when=when)
                continue
            if gate.id in self.overdue:
                due = self._day(self._due(gate, shown[len(had)]))
                what = self._say(say.ANSWER_LATE, answer=gate.name)
                yield Item(what=what, when=due, is_strong=True)
                continue
            if placed is None:
                continue
            if len(shown) <= len(had):
                what = self._say(say.PICTURES, answer=gate.name)
                yield Item(what=what, when=self._day(placed.start))
            when = self._moment(placed.end, self.job.client.zone)
            what = self._say(say.ANSWER_DUE, answer=gate.name)
            yield Item(what=what, when=when, is_strong=True)

    def _due(self, gate: Gate, shown: Fact) -> datetime:
        from scheduler.normalise.answers import due_at

        return due_at(self.job.client, gate, shown.at)

    # The site.

    def _site(self) -> Iterator[Item]:
        held, site, words = self.job.held_window, self.job.site, self.given.words
        if held is None:
            return
        for template, at in ((say.SITE_FREE, held.start), (say.SITE_UNTIL, held.end)):
            what = self._say(template, site=site.name)
            yield Item(what=what, when=self._moment(at, site.zone), is_strong=True)
        for shift in held.access:
            days = words.series(words.say(moments.WEEKDAYS[day]) for day in shift.days)
            hours = self._say(
                say.ACCESS_HOURS, start=f"{shift.start:%H:%M}", end=f"{shift.end:%H:%M}"
            )
            yield Item(what=self._say(say.ACCESS, days=days), when=hours)
        place = site.zone.rpartition("/")[2].replace("_", " ")
        yield Item(what=self._say(say.CLOCK_OF, place=place))

    # What was lost.

    def _eaten(self) -> Iterator[Item]:
        workshop, words = self.given.book.workshop, self.given.words
        for gate, _, shown, had in self._gates():
            for sent, answer in zip(shown, had, strict=False):
                due = self._due(gate, sent)
                minutes = working_minutes(workshop, due, answer.at)
                if answer.at > due and minutes:
                    facts = {"due": self._day(due), "came": self._day(answer.at)}
                    late = words.late(minutes)
                    text = self._say(say.CAME_LATE, answer=gate.name, late=late, **facts)
                    yield Item(what=text)
            if gate.id in self.overdue:
                yield self._gone(gate, self._due(gate, shown[len(had)]))

    def _gone(self, gate: Gate, due: datetime) -> Item:
        """Return how much of what an answer had to spare is gone since it was due."""
        workshop, words = self.given.book.workshop, self.given.words
        facts = {"answer": gate.name, "due": self._day(due)}
        steps = self.told.steps if self.told is not None else ()
        latest = next((each.latest_end for each in steps if each.step == gate.id), None)
        spare = 0 if latest is None else working_minutes(workshop, due, latest)
        gone = working_minutes(workshop, due, self.given.now)
        if gone >= spare:
            return Item(what=self._say(say.ALL_GONE, **facts), is_strong=True)
        text = self._say(say.SOME_GONE, spare=words.spare(spare), gone=words.late(gone), **facts)
        return Item(what=text, is_strong=True)


def _at(fact: Fact) -> datetime:
    return fact.at

"""One object that says everything in one language; window, command line and paper ask it."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.words import amounts, moments
from app.words.names import Names
from app.words.voice import Voice

if TYPE_CHECKING:
    from scheduler.outcome import Breach, CheckResult, JobOutcome, OtherWindow, Outcome, Verdict
    from shared.book import Book
    from shared.findings import Clash, Finding


class Words(Voice):
    """The catalogue in one language, for one workshop: its zone, its day, its names.

    Each method imports its own table: a short command pays only for what it says.

    language: as in "de"; None takes that of the person's environment. day_minutes: working
    minutes of one normal shift, which is what a day to spare is.
    """

    def __init__(
        self,
        language: str | None = None,
        *,
        book: "Book | None" = None,
        folder: Path | None = None,
    ) -> None:
        super().__init__(language, folder=folder)
        self.zone = book.workshop.zone if book else "UTC"
        self.day_minutes = round(book.workshop.shift_hours * 60) if book else 8 * 60
        self.currency = book.workshop.currency if book else ""
        self.names = Names(self, book)
        self._sites = {job.id: job.site.zone for job in book.jobs} if book else {}

    # Amounts and moments.

    def spare(self, minutes: int) -> str:
        """Give working minutes that are to spare, rounded down."""
        return amounts.days(self, minutes, self.day_minutes, amounts.Role.SPARE)

    def late(self, minutes: int) -> str:
        """Give working minutes that something is late by, rounded up."""
        return amounts.days(self, minutes, self.day_minutes, amounts.Role.LATE)

    def elapsed(self, minutes: int) -> str:
        """Give elapsed minutes."""
        return amounts.elapsed(self, minutes)

    def day(self, when: date, *, after: date | None) -> str:
        """Give a date, the year only when it differs from that of `after`."""
        return moments.day(self, when, after=after)

    def moment(self, when: datetime, *, after: date | None, zone: str | None = None) -> str:
        """Give an instant by the workshop's clock, or by that of a zone which is then named."""
        return moments.moment(self, when, zone or self.zone, after=after, home=self.zone)

    def clock(self, when: datetime) -> str:
        """Give the time of day by the workshop's clock."""
        return moments.clock(self, when.astimezone(ZoneInfo(self.zone)))

    def span(
        self, start: datetime, end: datetime, *, after: date | None, zone: str | None = None
    ) -> str:
        """Give a stretch of time, as for a moment."""
        return moments.span(self, start, end, zone or self.zone, after=after, home=self.zone)

    # Verdicts.

    def verdict_mark(self, verdict: "Verdict") -> str:
        """Give a verdict as one word or a few."""
        from app.words import verdicts

        return verdicts.mark(self, verdict)

    def verdict_line(
        self, outcome: "JobOutcome", *, seconds: int | None = None, now: datetime | None = None
    ) -> str:
        """Give a job's sentence; with `now` also by when whoever answers must."""
        from app.words import verdicts

        answer = outcome.latest_answer
        answer_by = ""
        if answer is not None and now is not None:
            answer_by = moments.local_day(self, answer, self.zone, after=now)
        line = verdicts.job_line(
            self,
            outcome,
            self.day_minutes,
            seconds=seconds,
            answer_by=answer_by,
            reason=self.reason(outcome),
        )
        return f"{line} {self.next_window_line(outcome, now=now)}".rstrip()

    def verdict_margin(self, outcome: "JobOutcome") -> str:
        """Give what is to spare, or by how much it is late."""
        from app.words import verdicts

        return verdicts.margin(self, outcome, self.day_minutes)

    def book_line(
        self,
        outcomes: "Sequence[JobOutcome]",
        *,
        seconds: int | None = None,
        now: datetime | None = None,
    ) -> str:
        """Give the sentence for all jobs that were planned."""
        from app.words import verdicts

        failing = [outcome for outcome in outcomes if not verdicts.is_met(outcome)]
        only = failing[0] if len(failing) == 1 else None
        return verdicts.book_line(
            self,
            outcomes,
            self.day_minutes,
            seconds=seconds,
            reason=self.reason(only) if only else "",
            next_window=self.next_window_line(only, now=now) if only else "",
        )

    def reason(self, outcome: "JobOutcome") -> str:
        """Give the first reason of a job, or nothing."""
        return self.clash(outcome.reasons[0]) if outcome.reasons else ""

    def next_window_line(self, outcome: "JobOutcome", *, now: datetime | None = None) -> str:
        """Give the next window on offer of a job that does not keep its own, or nothing."""
        if outcome.next_window is None:
            return ""
        from app.words import windows

        return windows.next_line(self, outcome, self.currency, self._window_of(outcome, now))

    def window_lines(self, outcome: "JobOutcome", *, now: datetime) -> "Sequence[str]":
        """Give the windows on offer of a job that does not keep its own, or that there is none."""
        from app.words import windows

        return windows.lines(self, outcome, self.currency, self._window_of(outcome, now))

    def _window_of(
        self, outcome: "JobOutcome", now: datetime | None
    ) -> "Callable[[OtherWindow], str]":
        zone = self._sites.get(outcome.id, self.zone)
        after = None if now is None else now.astimezone(ZoneInfo(self.zone)).date()
        return lambda window: self.span(window.start, window.end, after=after, zone=zone)

    def level_lines(self, outcome: "Outcome") -> list[str]:
        """Give what a plan comes to, aim by aim, and how far from the best it can be."""
        from app.words import levels

        return levels.lines(self, outcome, self.currency)

    def gain(self, before: Sequence[int], after: Sequence[int]) -> str:
        """Give what a better plan gained, in the first aim that tells them apart."""
        from app.words import levels

        return levels.gain(self, before, after, self.currency)

    # Codes.

    def finding(self, found: "Finding") -> tuple[str, str]:
        """Give the sentence of a finding and its cure."""
        from app.words import findings

        return findings.finding(self, found, self.zone)

    def path(self, path: tuple[str | int, ...]) -> str:
        """Give where in a file something stands."""
        from app.words import findings

        return findings.where(path)

    def breach(self, broken: "Breach") -> str:
        """Give the sentence of a rule that a plan breaks."""
        from app.words import breaches

        return breaches.breach(self, broken, self.zone, self.names)

    def rule_names(self, rules: Iterable[str]) -> str:
        """Give rules as a list."""
        from app.words import breaches

        return breaches.rule_names(self, rules)

    def check_line(self, result: "CheckResult") -> str:
        """Give the sentence for a plan that breaks nothing."""
        from app.words import breaches

        return breaches.check_line(self, result)

    def clash(self, found: "Clash") -> str:
        """Give the sentence of a clash."""
        from app.words import clashes

        return clashes.clash(self, found, self.zone, self.names)

    def unplaced(self, step: str, code: str) -> str:
        """Give why a step has no place in a plan."""
        from app.words import clashes

        return clashes.reason(self, code, (("step", step),), self.zone, self.names)

    def undo_label(self, code: str, **facts: object) -> str:
        """Give what an edit is called where it can be taken back."""
        from app.words import undo

        return undo.undo_label(self, code, **facts)

    def trouble(self, code: str, **facts: object) -> str:
        """Give the sentence for something that went wrong outside the program."""
        from app.words import troubles

        return troubles.trouble(self, code, **facts)

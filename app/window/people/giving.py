"""Work tried with other people: planned by the engine, judged, shown, and taken as one edit."""

from collections.abc import Callable

from app.counsel.questions import AskPlan
from app.window.desk import Desk
from app.window.people.panel import Judged, judged_of
from app.window.trial import Trial
from app.words import people_view as say
from app.words import window as said
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from shared.edits import Edited
from shared.ids import StepId

SECONDS = 3
"""So long the engine plans what is tried."""


class Giving:
    """What is tried last, and what each try came to while the book stays as it is.

    changed: called when there is something else to see.
    """

    def __init__(self, desk: Desk, changed: Callable[[], object]) -> None:
        self._desk, self._changed = desk, changed
        self.judged: dict[str, Judged] = {}
        self.asking = ""
        self.tried = ""
        self._trials: dict[str, Trial] = {}

    def forget(self) -> None:
        """Forget everything: the book is another one, or something else is chosen."""
        self.judged, self._trials = {}, {}
        self.asking = self.tried = ""

    def fail(self) -> None:
        """No answer comes any more."""
        if self.asking:
            words = self._desk.words
            self.judged[self.asking] = Judged(lines=(words.say(say.NOT_JUDGED),), is_alarm=True)
            self.asking = ""
            self._changed()

    def try_(self, edited: Edited, what: str, key: str, steps: tuple[StepId, ...]) -> None:
        """Try a changed book; steps: the work that is given, to say when it then is."""
        self._desk.leave_trial()
        self.tried = key
        if key in self._trials:
            self._desk.try_(self._trials[key])
        elif self.asking != key:
            self.judge(edited, what, key, steps)

    def judge(self, edited: Edited, what: str, key: str, steps: tuple[StepId, ...]) -> None:
        """Look what a changed book does to the windows, and show nothing of it yet."""
        desk = self._desk
        if key in self._trials or self.asking == key:
            self._changed()
            return
        self.asking = key
        self.judged[key] = Judged(lines=(desk.words.say(say.JUDGING),))
        request = SolveRequest(book=edited.book, now=desk.now, seconds=SECONDS, workers=1)
        desk.ask(
            AskPlan(request=request),
            lambda found: self._hear(found, edited, what, key, steps),
        )
        self._changed()

    def _hear(
        self, found: object, edited: Edited, what: str, key: str, steps: tuple[StepId, ...]
    ) -> None:
        assert isinstance(found, Outcome)
        if self.asking == key:
            self.asking = ""
        words, before = self._desk.words, self._desk.outcome
        if found.check.breaches:
            self.judged[key] = Judged(lines=(words.say(say.GIVEN_BROKEN),), is_alarm=True)
            self._changed()
            return
        lines = self._lines(found, steps)
        judged = judged_of(words, before.jobs if before else (), found.jobs, lines)
        self.judged[key] = judged
        trial = Trial(
            what=what, label=edited.label, book=edited.book, plan=found.plan, outcome=found
        )
        self._trials[key] = trial
        if self.tried == key:
            self._desk.try_(trial)
        self._changed()

    def _lines(self, found: Outcome, steps: tuple[StepId, ...]) -> list[str]:
        words = self._desk.words
        lines = [
            words.unplaced(each.step, each.code)
            for each in found.plan.unplaced
            if each.step in steps
        ]
        if len(steps) != 1:
            return lines
        for placed in found.plan.placements:
            if placed.step == steps[0] and not placed.part:
                names = (words.names.of("person", one) for one in placed.people)
                span = said.short_span(words, placed.start, placed.end)
                facts = {"span": span, "people": words.both(names)}
                lines.append(words.say(say.GIVEN_WHEN, **facts))
        return lines

"""What was told of each step, in order of time."""

from collections.abc import Iterable

from shared.book import NOT_BEGUN, Answer, Fact, FactKind
from shared.ids import StepId

_EVERY_ROUND = 10**6


class Facts:
    """What was told of each step: the last word on it, answers and pictures in order."""

    def __init__(self, facts: Iterable[Fact]) -> None:
        """Sort the facts by step."""
        self._by_step: dict[StepId, list[Fact]] = {}
        for fact in sorted(facts, key=lambda told: told.at):
            self._by_step.setdefault(fact.step, []).append(fact)

    def last(self, step: StepId, kind: FactKind) -> Fact | None:
        """Return the last told fact of a kind, None if there is none."""
        if step not in self._by_step:
            return None
        return next((fact for fact in reversed(self._by_step[step]) if fact.kind is kind), None)

    def done(self, step: StepId) -> Fact | None:
        """Return the fact that a step is done, None if nobody said so."""
        return self.last(step, FactKind.DONE)

    def running(self, step: StepId) -> Fact | None:
        """Return the fact that a step is under way and not done yet."""
        return None if self.done(step) else self.last(step, FactKind.RUNNING)

    def in_order(self, step: StepId, kind: FactKind) -> list[Fact]:
        """Return the facts of a kind, first told event first."""
        return [fact for fact in self._by_step.get(step, ()) if fact.kind is kind]

    def answers(self, step: StepId) -> list[Fact]:
        """Return the client's answers up to and with the first yes."""
        found: list[Fact] = []
        for fact in self.in_order(step, FactKind.ANSWER):
            found.append(fact)
            if fact.answer in (Answer.YES, Answer.CHANGES):
                break
        return found

    def has_begun(self, step: StepId) -> bool:
        """Return whether a step was told to have begun, be it over or not."""
        return any(fact.kind not in NOT_BEGUN for fact in self._by_step.get(step, ()))

    def asked_changes(self, step: StepId) -> bool:
        """Return whether the client said yes with changes."""
        answers = self.answers(step)
        return bool(answers) and answers[-1].answer is Answer.CHANGES

    def rounds_begun(self, step: StepId) -> int:
        """Return how many rounds of an answer were told to have begun: all, once it is done."""
        if self.done(step) is not None:
            return _EVERY_ROUND
        shown = len(self.in_order(step, FactKind.PICTURES))
        return max(shown, len(self.answers(step)))

    def said_yes(self, step: StepId) -> bool:
        """Return whether the client said yes, with changes or without."""
        answers = self.answers(step)
        return bool(answers) and answers[-1].answer in (Answer.YES, Answer.CHANGES)

"""How far a solve is, told on stderr: on a terminal in one line, else every few seconds."""

from collections.abc import Callable

from app.cli.console import Console
from app.words import Words, shell
from scheduler.request import SolveRequest
from shared.ids import JobId
from shared.plan import Plan

_PLAIN_EVERY_SECONDS = 5


class Meter:
    """Counts down, and knows the best plan so far; `plan` and `bound` come on any thread."""

    def __init__(
        self, console: Console, words: Words, request: SolveRequest, ticks: Callable[[], float]
    ) -> None:
        self._console = console
        self._words = words
        self._seconds = request.seconds
        self._ticks = ticks
        self._started = ticks()
        self._plain_due = self._started + _PLAIN_EVERY_SECONDS
        self._levels: tuple[int, ...] | None = None
        self._gained = ""

    def plan(self, plan: Plan, levels: tuple[int, ...]) -> None:
        """Hear of a better plan."""
        if self._levels is not None:
            self._gained = self._words.gain(self._levels, levels)
        self._levels = levels

    def bound(self, job: JobId, minutes: int) -> None:
        """Hear of a proved lateness, which the end will tell."""

    def tick(self) -> None:
        """Tell how it stands, if it is time to."""
        if self._console.is_live:
            self._console.pass_by(self.line())
        elif self._ticks() >= self._plain_due:
            self._plain_due += _PLAIN_EVERY_SECONDS
            self._console.tell(self.line())

    def line(self) -> str:
        """Give the time left and the best so far."""
        left = max(0, round(self._started + self._seconds - self._ticks()))
        if self._levels is None:
            return self._words.say(shell.PLANNING, left=left)
        missed = self._levels[0] + self._levels[1]
        number = self._words.number_word(missed)
        said = self._words.say(shell.PLANNING_WITH, left=left, missed=missed, n=number)
        if not self._gained:
            return said
        return self._words.say(shell.PLANNING_GAINED, said=said, gained=self._gained)

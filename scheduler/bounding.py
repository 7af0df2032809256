"""Looking for proofs and bounds beside the search for plans, on a thread of its own.

Question after question about the best plan so far: what a job that misses its window could do
alone, by counting and then by the solver; what it could do beside those that keep theirs; how long
every segment stands at least. Most of the time is the solver's, which lets other threads work. With
an effort instead of time the same questions are asked on the caller's thread, one after the other.
"""

import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from scheduler.model.run import Limits
from scheduler.problem import Schedule
from scheduler.proofs import Prover
from scheduler.purse import Purse
from scheduler.stop import pause

_POLL_SECONDS = 0.01
HALF = 2
_COSTLY = ("alone", "together", "raise")
Told = Callable[[], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Question:
    """One question: what to ask, of which job, beside which others; again: for the second time."""

    kind: Literal["counting", "alone", "together", "floor", "raise"]
    job: int
    beside: frozenset[int] = frozenset()
    again: bool = False


class Bounding:
    """Proofs and bounds about the best schedule so far, which may be told anew at any time."""

    def __init__(
        self,
        prover: Prover,
        schedule: Schedule,
        limits: Limits,
        *,
        cancel: Callable[[], bool] | None = None,
        on_proof: Told | None = None,
    ) -> None:
        """Ask nothing yet. on_proof: called after each question, on the thread that asks."""
        self._prover, self._newest = prover, schedule
        self._limits, self._cancel, self._on_proof = limits, cancel, on_proof
        self._asked: set[_Question] = set()
        self._is_stopping, self._is_finishing = threading.Event(), threading.Event()
        self._thread: threading.Thread | None = None
        self._went_wrong: BaseException | None = None

    def start(self) -> None:
        """Ask on a thread of its own until it is stopped or the limits are reached."""
        self._thread = threading.Thread(target=self._work, name="bounding", daemon=True)
        self._thread.start()

    def tell(self, schedule: Schedule) -> None:
        """Ask about this schedule from now on."""
        self._newest = schedule

    def finish(self) -> None:
        """Wait until nothing is left to ask, or the limits are reached."""
        self._is_finishing.set()
        if self._thread is not None:
            self._thread.join()

    def stop(self) -> None:
        """Stop asking, and wait until the thread is done; raises what went wrong on it."""
        self._is_stopping.set()
        if self._thread is not None:
            self._thread.join()
            self._thread = None
        if self._went_wrong is not None:
            raise self._went_wrong

    def run(self) -> int:
        """Ask all there is to ask on this thread; return the effort spent."""
        purse = Purse(self._limits, self._has_enough)
        while not purse.is_over() and self._ask_next(purse):
            pass
        return purse.spent

    def _work(self) -> None:
        try:
            purse = Purse(self._limits, self._has_enough)
            while not purse.is_over():
                if not self._ask_next(purse):
                    if self._is_finishing.is_set():
                        break
                    pause(_POLL_SECONDS)
        except BaseException as wrong:  # noqa: BLE001 it is raised again by stop()
            self._went_wrong = wrong

    def _has_enough(self) -> bool:
        return self._is_stopping.is_set() or (self._cancel is not None and self._cancel())

    def _ask_next(self, purse: Purse) -> bool:
        """Ask the first question that has not been asked; return whether there was one."""
        schedule = self._newest
        self._prover.by_journeys(schedule)
        left = [each for each in self._questions(schedule) if each not in self._asked]
        if not left:
            return False
        question = left[0]
        self._asked.add(question)
        share = Purse(purse.part(_parts(question, left)), self._has_enough)
        self._ask(question, schedule, share)
        purse.spend(share.spent)
        if self._on_proof is not None:
            self._on_proof()
        return True

    def _questions(self, schedule: Schedule) -> Iterator[_Question]:
        prover = self._prover
        left = prover.by_room(prover.unproved(schedule))
        kept = frozenset(prover.kept(schedule))
        yield from (_Question(kind="counting", job=job) for job in left)
        yield from self._of_solver(left, kept, again=False)
        yield from (_Question(kind="floor", job=job) for job in range(prover.job_count))
        yield from self._of_solver(left, kept, again=True)
        raised = (job for job in prover.missed(schedule) if job not in left)
        yield from (_Question(kind="raise", job=job) for job in raised)

    def _of_solver(
        self, left: list[int], kept: frozenset[int], *, again: bool
    ) -> Iterator[_Question]:
        for job in left:
            if self._prover.is_open((job,)):
                yield _Question(kind="alone", job=job, again=again)
        for job in left if kept else ():
            yield _Question(kind="together", job=job, beside=kept, again=again)

    def _ask(self, question: _Question, schedule: Schedule, share: Purse) -> None:
        prover, job = self._prover, question.job
        if question.kind == "counting":
            prover.by_counting(job, schedule)
        elif question.kind == "alone":
            prover.alone_within(job, share)
        elif question.kind == "together":
            prover.together_within(job, schedule, share)
        elif question.kind == "raise":
            prover.raise_within(job, schedule, share)
        else:
            prover.bounds.add_floor(job)


def _parts(question: _Question, left: list[_Question]) -> int:
    """Return one of how many parts of what is left a question may take.

    Of a job alone, half: the most pressed is asked about first, and most take far less. Else all of
    another kind or that come for a second time count as one.
    """
    if question.kind not in _COSTLY:
        return 1
    key = (question.kind, question.again)
    alike = sum((each.kind, each.again) == key for each in left)
    others = any(each.kind in _COSTLY and (each.kind, each.again) != key for each in left)
    return min(alike + others, HALF) if question.kind == "alone" else alike + others

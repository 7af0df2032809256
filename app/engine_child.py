"""The engine as a process of its own: JSON lines in on stdin, JSON lines out on stdout.

The lines are described in shared/files/ENGINE.md. Standard input is read in the main thread,
solving goes on in a thread beside it; the process ends when its input does.
"""

import gc
import json
import mmap
import os
import signal
import sys
import threading
import traceback
from collections.abc import Callable, Iterable
from concurrent.futures import Future, ThreadPoolExecutor
from datetime import datetime
from typing import IO, TYPE_CHECKING, Any, Protocol

from app.counsel.questions import Help, Question
from app.free_memory import give_back
from app.notices_json import with_dues
from app.outcome_json import outcome_object, plan_object
from app.pickled import as_text, value_of
from scheduler.outcome import Outcome
from scheduler.request import Cancel, Progress, SolveRequest
from scheduler.stop import pause
from shared.book import Book
from shared.examine import take_in
from shared.files.json_text import kept_text, read_json
from shared.files.trouble import Wrong
from shared.ids import JobId
from shared.plan import Plan

if TYPE_CHECKING:
    from scheduler.kept import Kept

Json = dict[str, Any]

_NICER = 10
_SECONDS_TO_LEAVE = 1.0
_BEAT_SECONDS = 1.0
_BEATS_TO_GIVE_BACK = 60
_NO_MEMORY = 12
_ROOM_BYTES = 1 << 20
_LOOK_SECONDS = 0.01


class Solve(Protocol):
    """The engine's door, or what stands in for it."""

    def __call__(
        self, request: SolveRequest, *, progress: Progress | None, cancel: Cancel
    ) -> Outcome:
        """Answer one question."""


class Solving:
    """One solve in a thread of its own, which can be called off."""

    def __init__(self, solve: Solve | None = None) -> None:
        self._solve = solve or _solve
        self._cancelled = threading.Event()
        self._threads = ThreadPoolExecutor(max_workers=1, thread_name_prefix="solve")
        self._future: Future[Outcome] | None = None

    def start(self, request: SolveRequest, progress: Progress | None = None) -> None:
        """Begin; progress is told on the thread that solves."""
        self._future = self._threads.submit(
            self._solve, request, progress=progress, cancel=self._cancelled.is_set
        )

    def cancel(self) -> None:
        """Ask for the best so far."""
        self._cancelled.set()

    @property
    def is_called_off(self) -> bool:
        """Return whether it was asked to stop."""
        return self._cancelled.is_set()

    def is_over(self, within_seconds: float) -> bool:
        """Wait so long at most; say whether it has ended."""
        for _ in range(max(1, round(within_seconds / _LOOK_SECONDS))):
            if self._future is None or self._future.done():
                return True
            pause(_LOOK_SECONDS)
        return False

    def outcome(self) -> Outcome:
        """Give the answer; what went wrong on the other thread is raised here."""
        if self._future is None:
            raise RuntimeError("nothing was begun")
        try:
            return self._future.result()
        finally:
            self._threads.shutdown(wait=False)


def _solve(request: SolveRequest, *, progress: Progress | None, cancel: Cancel) -> Outcome:
    from scheduler.solve import solve

    return solve(request, progress=progress, cancel=cancel)


class Remembering:
    """The engine's door with what one answer leaves for the next; one question at a time."""

    def __init__(self) -> None:
        self._kept: Kept | None = None

    def __call__(
        self, request: SolveRequest, *, progress: Progress | None, cancel: Cancel
    ) -> Outcome:
        """Answer one question, beginning from the answer to the last."""
        from scheduler.kept import Kept
        from scheduler.solve import solve

        self._kept = self._kept or Kept()
        return solve(request, progress=progress, cancel=cancel, kept=self._kept)


class Refused(Exception):  # noqa: N818 - it says what happened
    """A line can't be answered: a code and facts for the `failed` line."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code)
        self.code = code
        self.facts = facts


class Lines:
    """The lines to the window, each whole, whoever writes it."""

    def __init__(self, out: IO[str]) -> None:
        self._out = out
        self._lock = threading.Lock()

    def say(self, kind: str, ask: "Ask | None" = None, **more: object) -> None:
        """Write one line."""
        head = {
            "kind": kind,
            "id": ask.id if ask else None,
            "revision": ask.revision if ask else None,
        }
        text = json.dumps({**head, **more}, ensure_ascii=False)
        with self._lock:
            self._out.write(text + "\n")
            self._out.flush()


class Ask:
    """One question with its number, and whether somebody has had enough of it."""

    def __init__(self, line: Json) -> None:
        self.id = line.get("id")
        self.revision = line.get("revision")
        self.line = line
        self.cancelled = threading.Event()

    def request(self) -> SolveRequest:
        """Read the question.

        Raises
        ------
        Refused
            If something in it is missing, wrong or contradicts itself.
        """
        told = self.line.get("request")
        if not isinstance(told, dict):
            raise Refused("not_an_ask", field="request")
        book = self._book()
        return SolveRequest(
            book=book,
            now=_instant(told.get("now")),
            asked=_ids(told.get("asked", [])),
            seconds=_count(told, "seconds", 1, int(SolveRequest(book=book, now=_EPOCH).seconds)),
            effort=None if told.get("effort") is None else _count(told, "effort", 0, 0),
            workers=_count(told, "workers", 1, 2),
            seed=_count(told, "seed", 0, 1),
        )

    def _book(self) -> Book:
        """Return the book: of our own window a value, of any other program an object."""
        book = self._book_of_window() if "value" in self.line else self._book_read()
        if book.revision != self.revision:
            raise Refused("wrong_revision", revision=self.revision, found=book.revision)
        return book

    def _book_of_window(self) -> Book:
        try:
            found = value_of(str(self.line["value"]))
        except ValueError as trouble:
            raise Refused("not_an_ask", field="value", why=str(trouble)) from None
        if not isinstance(found, Book):
            raise Refused("not_an_ask", field="value")
        return found

    def _book_read(self) -> Book:
        if not isinstance(self.line.get("book"), dict):
            raise Refused("not_an_ask", field="book")
        try:
            data = kept_text(self.line["book"]).encode()
        except Wrong as trouble:
            raise Refused("not_an_ask", field="book", why=trouble.code) from None
        read = take_in(data)
        if read.book is None:
            codes = [found.code for found in read.findings if found.stops]
            raise Refused("book_stops", findings=codes)
        return read.book


def _instant(text: object) -> datetime:
    try:
        found = datetime.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        found = None
    if found is None or found.utcoffset() is None:
        raise Refused("not_an_ask", field="now")
    return found


_EPOCH = datetime.fromisoformat("1970-01-01T00:00:00Z")


def _ids(told: object) -> tuple[JobId, ...]:
    if not isinstance(told, list) or not all(isinstance(each, str) for each in told):
        raise Refused("not_an_ask", field="asked")
    return tuple(JobId(each) for each in told)


def _count(told: Json, field: str, least: int, usual: int) -> int:
    found = told.get(field, usual)
    if type(found) is not int or found < least:
        raise Refused("not_an_ask", field=field)
    return found


class _Telling:
    """Tells of one solve while it runs."""

    def __init__(self, lines: Lines, ask: Ask) -> None:
        self._lines = lines
        self._ask = ask
        self._before: tuple[int, ...] | None = None

    def plan(self, plan: Plan, levels: tuple[int, ...]) -> None:
        """Tell of a better plan; the verdicts on its jobs come with `done`."""
        before, self._before = self._before, levels
        gained = None if before is None else [a - b for a, b in zip(before, levels, strict=True)]
        told = plan_object(plan)
        self._lines.say("plan", self._ask, levels=list(levels), gained=gained, plan=told, jobs=None)

    def bound(self, job: JobId, minutes: int) -> None:
        """Tell of a proved lateness."""
        self._lines.say("bound", self._ask, job=job, minutes=minutes)


class Child:
    """Reads lines, answers asks one after the other, hears `cancel` at any time.

    leave: ends the process, once it has no more memory and can't be relied on for anything.
    """

    def __init__(
        self,
        lines: Lines,
        solve: Solve | None = None,
        leave: Callable[[int], object] | None = None,
    ) -> None:
        self._lines, self._leave = lines, leave
        self._solve = solve or Remembering()
        self._asks: list[Ask] = []
        self._threads = ThreadPoolExecutor(max_workers=1, thread_name_prefix="solve")
        self._said_bye = False
        self._kept: Kept | None = None
        self.is_loading = self.has_worked = True

    @property
    def is_busy(self) -> bool:
        """Return whether some ask is not answered yet."""
        return bool(self._asks)

    def serve(self, given: Iterable[str]) -> None:
        """Answer until the lines end or one says bye."""
        self._lines.say("ready")
        for text in given:
            if text.strip():
                self._hear(text)
            if self._said_bye:
                break
        for ask in self._asks:
            ask.cancelled.set()
        self._threads.shutdown(wait=False, cancel_futures=True)

    def _hear(self, text: str) -> None:
        line = _object_in(text)
        if line is None:
            self._lines.say("failed", code="not_json", facts={})
            return
        match line.get("kind"):
            case "ask":
                self._take(Ask(line), self._answer)
            case "question":
                self._take(Ask(line), self._answer_question)
            case "cancel":
                self._cancel(line.get("id"))
            case "bye":
                self._said_bye = True
            case _:
                pass

    def _take(self, ask: Ask, answer: Callable[[Ask], None]) -> None:
        if not _is_name(ask.id) or type(ask.revision) is not int:
            field = "id" if not _is_name(ask.id) else "revision"
            self._lines.say("failed", code="not_an_ask", facts={"field": field})
            return
        self._asks.append(ask)
        self.has_worked = True
        future = self._threads.submit(self._answer_or_leave, answer, ask)
        future.add_done_callback(lambda done: self._over(ask, done))

    def _cancel(self, identity: object) -> None:
        for ask in tuple(self._asks):
            if ask.id == identity:
                ask.cancelled.set()

    def _answer_or_leave(self, answer: Callable[[Ask], None], ask: Ask) -> None:
        try:
            answer(ask)
        except MemoryError:
            if self._leave is None:
                raise
            self.leave_without_memory()

    def leave_without_memory(self) -> None:
        """Say so to every ask, if there is memory for that, and end the process."""
        assert self._leave is not None
        try:
            for ask in tuple(self._asks):
                self._lines.say("failed", ask, code="no_memory", facts={})
        finally:
            self._leave(_NO_MEMORY)

    def _answer(self, ask: Ask) -> None:
        if ask.cancelled.is_set():
            raise Refused("cancelled")
        request = ask.request()
        outcome = self._solve(
            request, progress=_Telling(self._lines, ask), cancel=ask.cancelled.is_set
        )
        told = with_dues(outcome_object(outcome), request.book, outcome)
        self._lines.say("done", ask, outcome=told)

    def _answer_question(self, ask: Ask) -> None:
        from scheduler.kept import Kept

        if ask.cancelled.is_set():
            raise Refused("cancelled")
        question = _question_in(ask.line.get("asked"))
        self._kept = self._kept or Kept()

        def part(found: object) -> None:
            self._lines.say("part", ask, value=as_text(found))

        at_hand = Help(part=part, cancel=ask.cancelled.is_set, kept=self._kept)
        self._lines.say("answer", ask, value=as_text(question.answer(at_hand)))

    def _over(self, ask: Ask, done: "Future[None]") -> None:
        try:
            if not done.cancelled():
                self._tell_trouble(ask, done.exception())
        finally:
            self._asks.remove(ask)

    def _tell_trouble(self, ask: Ask, trouble: BaseException | None) -> None:
        if isinstance(trouble, Refused):
            self._lines.say("failed", ask, code=trouble.code, facts=trouble.facts)
        elif trouble is not None:
            traceback.print_exception(trouble, file=sys.stderr)
            told = {"what": f"{type(trouble).__name__}: {trouble}"}
            self._lines.say("failed", ask, code="fault", facts=told)


def _question_in(text: object) -> Question:
    """Read a question.

    Raises
    ------
    Refused
        If it is none.
    """
    try:
        found = value_of(text) if isinstance(text, str) else None
    except ValueError:
        found = None
    if not hasattr(found, "answer"):
        raise Refused("not_an_ask", field="asked")
    asked: Question = found
    return asked


def _is_name(identity: object) -> bool:
    return isinstance(identity, str | int) and not isinstance(identity, bool)


def _object_in(text: str) -> Json | None:
    try:
        found = read_json(text.encode("utf-8", "replace"))
    except Wrong:
        return None
    return found if isinstance(found, dict) else None


def _own_stdout() -> IO[str]:
    """Keep stdout for the lines; whatever else prints goes to stderr."""
    sys.stdout.flush()
    kept = os.dup(1)
    os.dup2(2, 1)
    return os.fdopen(kept, "w", encoding="utf-8", newline="\n")


def _warm() -> None:
    """Import the solver and all it needs, so that the first answer is quick."""
    import scheduler.solve  # noqa: F401 - only to have it loaded


def main() -> int:
    """Be the engine's child."""
    if hasattr(os, "nice"):
        os.nice(_NICER)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    lines = Lines(_own_stdout())
    sys.stdin.reconfigure(encoding="utf-8", errors="replace")  # type: ignore[union-attr]
    child = Child(lines, leave=os._exit)
    Beat(lines, child).start()
    _warm()
    # What was loaded stays, and need not be looked through for garbage again and again.
    gc.freeze()
    child.is_loading = False
    child.serve(sys.stdin)
    _leave_soon()
    return 0


class Beat:
    """What it does every second beside its answers."""

    def __init__(self, lines: Lines, child: Child) -> None:
        self._lines, self._child = lines, child
        self._beats_left = 0

    def start(self) -> None:
        """Do it from now on, in a thread of its own."""
        threading.Thread(target=self._go_on, daemon=True).start()

    def _go_on(self) -> None:
        while self.once():
            pause(_BEAT_SECONDS)

    def once(self) -> bool:
        """Say that it is there, while it loads or somebody waits; return whether anybody hears it.

        Without memory it leaves: a thread that has none to begin with is waited for forever. Once
        nobody waits, memory is given back; seldom, since a question may come meanwhile.
        """
        self._beats_left -= 1
        if not (self._child.is_loading or self._child.is_busy):
            if self._child.has_worked and self._beats_left < 0:
                self._child.has_worked, self._beats_left = False, _BEATS_TO_GIVE_BACK
                give_back()
            return True
        if not _has_room():
            self._child.leave_without_memory()
        try:
            self._lines.say("beat")
        except (OSError, ValueError):
            # Nobody is there to hear it; the end of the input ends the process.
            return False
        return True


def _has_room() -> bool:
    """Whether the system still gives memory."""
    try:
        mmap.mmap(-1, _ROOM_BYTES).close()
    except (OSError, MemoryError):
        return False
    return True


def _leave_soon() -> None:
    """End the process even if a solve doesn't hear that it was called off."""

    def leave() -> None:
        pause(_SECONDS_TO_LEAVE)
        os._exit(0)

    threading.Thread(target=leave, daemon=True).start()

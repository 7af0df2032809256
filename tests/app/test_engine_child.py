"""The engine's child: what it hears and says, first with a stand-in for the engine."""

import io
import json
import threading
from dataclasses import replace
from random import Random
from select import select
from typing import Any

import pytest

from app.engine_child import Child, Lines, Remembering, Solve, Solving
from app.outcome_json import outcome_of
from app.pickled import as_text
from scheduler.outcome import Outcome
from scheduler.request import Cancel, Progress, SolveRequest
from shared.book import Book
from shared.files.write import write_book
from shared.ids import JobId
from tests.app.cli.outcomes import MET, an_outcome
from tests.books.edited import ill, planned
from tests.books.sized import Size, sized_book
from tests.builders import NOW, a_book, a_job, a_plan

Json = dict[str, Any]


class Engine:
    """Answers at once, or once it may, or not at all."""

    def __init__(self, *, waits: bool = False, falls: bool = False) -> None:
        self.asked: list[SolveRequest] = []
        self.began = threading.Event()
        self.waits = waits
        self.falls = falls

    def __call__(
        self, request: SolveRequest, *, progress: Progress | None, cancel: Cancel
    ) -> Outcome:
        self.asked.append(request)
        self.began.set()
        if self.falls:
            raise ZeroDivisionError("nothing to share")
        if progress is not None:
            progress.plan(a_plan(request.book), (0, 0, 0, 1, 0, 0, 0, 9))
            progress.bound(JobId("heron"), 45)
        while self.waits and not cancel():
            let_others_work()
        stopped = "cancelled" if cancel() else "proved"
        return an_outcome(request.book, MET, stopped=stopped)


def let_others_work() -> None:
    """Give the processor away for a moment; a clock that was set wrong doesn't matter to it."""
    select([], [], [], 0.005)


def ask(number: object = 1, book: Book | None = None, **changes: Any) -> Json:
    book = book or a_book()
    line: Json = {
        "kind": "ask",
        "id": number,
        "revision": book.revision,
        "book": json.loads(write_book(book)),
        "request": {"now": "2026-01-05T08:00:00Z", "seconds": 2},
    }
    return {**line, **changes}


class Talk:
    """Lines put to a child one by one, each after what it waits for; and what was said."""

    def __init__(self, engine: Solve) -> None:
        self.out = io.StringIO()
        self.child = Child(Lines(self.out), engine)

    def hold(self, *lines: Json | str) -> list[Json]:
        """Put the lines and wait for the end of every ask."""
        texts = [line if isinstance(line, str) else json.dumps(line) + "\n" for line in lines]
        self.child.serve(self.until_over(texts))
        return [json.loads(line) for line in self.out.getvalue().splitlines()]

    def until_over(self, texts: list[str]) -> Any:
        yield from texts
        while self.child.is_busy:
            let_others_work()


def kinds(said: list[Json]) -> list[str]:
    return [line["kind"] for line in said]


def test_an_ask_is_answered_by_plans_bounds_and_one_done() -> None:
    said = Talk(Engine()).hold(ask(7))
    ready, plan, bound, done = said

    assert ready == {"kind": "ready", "id": None, "revision": None}
    assert kinds(said) == ["ready", "plan", "bound", "done"]
    assert all((line["id"], line["revision"]) == (7, 1) for line in said[1:])
    assert plan["levels"] == [0, 0, 0, 1, 0, 0, 0, 9]
    assert plan["gained"] is None
    assert plan["plan"]["countback"]["kind"] == "plan"
    assert (bound["job"], bound["minutes"]) == ("heron", 45)
    assert outcome_of(done["outcome"]) == an_outcome(a_book(), MET, stopped="proved")


def test_a_better_plan_comes_with_what_it_gained() -> None:
    def bettering(request: SolveRequest, *, progress: Progress | None, cancel: Cancel) -> Outcome:
        assert progress is not None
        progress.plan(a_plan(request.book), (1, 0, 4, 0, 0, 0, 0, 9))
        progress.plan(a_plan(request.book), (0, 0, 0, 6, 0, 0, 0, 9))
        return an_outcome(request.book, MET)

    said = Talk(bettering).hold(ask(7))

    assert [line["gained"] for line in said if line["kind"] == "plan"] == [
        None,
        [1, 0, 4, -6, 0, 0, 0, 0],
    ]


def test_the_request_is_read_as_it_was_asked() -> None:
    engine = Engine()
    book = a_book(a_job("heron"), a_job("moon"))
    told = {
        "now": "2026-01-05T09:00:00+01:00",
        "asked": ["moon"],
        "seconds": 30,
        "effort": 12,
        "workers": 1,
        "seed": 5,
    }
    Talk(engine).hold(ask(book=book, request=told))

    assert engine.asked == [
        SolveRequest(
            book=book, now=NOW, asked=(JobId("moon"),), seconds=30, effort=12, workers=1, seed=5
        )
    ]


def test_what_is_left_out_of_a_request_is_the_usual() -> None:
    engine = Engine()
    Talk(engine).hold(ask(request={"now": "2026-01-05T08:00:00Z"}))

    assert engine.asked == [SolveRequest(book=a_book(), now=NOW)]


def test_two_asks_are_answered_in_turn() -> None:
    said = Talk(Engine()).hold(ask("a"), ask("b"))

    assert [line["id"] for line in said if line["kind"] == "done"] == ["a", "b"]


def test_cancel_brings_the_best_so_far_and_a_waiting_ask_fails() -> None:
    engine = Engine(waits=True)
    talk = Talk(engine)

    def lines() -> Any:
        yield json.dumps(ask(1)) + "\n"
        engine.began.wait()
        yield json.dumps(ask(2)) + "\n"
        yield '{"kind": "cancel", "id": 2}\n'
        yield '{"kind": "cancel", "id": 99}\n'
        yield '{"kind": "cancel", "id": 1}\n'
        yield from talk.until_over([])

    talk.child.serve(lines())
    said = [json.loads(line) for line in talk.out.getvalue().splitlines()]

    assert said[-2]["outcome"]["stopped"] == "cancelled"
    assert (said[-2]["id"], said[-2]["kind"]) == (1, "done")
    assert (said[-1]["id"], said[-1]["code"]) == (2, "cancelled")


@pytest.mark.parametrize("text", ["not json\n", "[1, 2]\n", '{"kind": \n', "\x00\n", "NaN\n"])
def test_a_line_that_is_none_fails_and_the_next_is_heard(text: str) -> None:
    said = Talk(Engine()).hold(text, ask())

    assert said[1] == {
        "kind": "failed",
        "id": None,
        "revision": None,
        "code": "not_json",
        "facts": {},
    }
    assert said[-1]["kind"] == "done"


@pytest.mark.parametrize("text", ["\n", "  \n", '{"kind": "sing"}\n', "{}\n", '{"kind": []}\n'])
def test_an_unknown_kind_and_an_empty_line_are_left_aside(text: str) -> None:
    assert kinds(Talk(Engine()).hold(text, ask()))[-1] == "done"
    assert "failed" not in kinds(Talk(Engine()).hold(text))


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"id": None}, "id"),
        ({"id": [1]}, "id"),
        ({"id": True}, "id"),
        ({"revision": "1"}, "revision"),
        ({"revision": None}, "revision"),
        ({"book": None}, "book"),
        ({"book": "x"}, "book"),
        ({"value": "x"}, "value"),
        ({"value": as_text("no book")}, "value"),
        ({"request": None}, "request"),
        ({"request": {}}, "now"),
        ({"request": {"now": "soon"}}, "now"),
        ({"request": {"now": "2026-01-05T08:00:00"}}, "now"),
        ({"request": {"now": "2026-01-05T08:00:00Z", "asked": "moon"}}, "asked"),
        ({"request": {"now": "2026-01-05T08:00:00Z", "asked": [1]}}, "asked"),
        ({"request": {"now": "2026-01-05T08:00:00Z", "seconds": 0}}, "seconds"),
        ({"request": {"now": "2026-01-05T08:00:00Z", "seconds": 1.5}}, "seconds"),
        ({"request": {"now": "2026-01-05T08:00:00Z", "workers": True}}, "workers"),
        ({"request": {"now": "2026-01-05T08:00:00Z", "seed": -1}}, "seed"),
        ({"request": {"now": "2026-01-05T08:00:00Z", "effort": "much"}}, "effort"),
    ],
)
def test_an_ask_that_lacks_something_says_what(changes: Json, field: str) -> None:
    said = Talk(Engine()).hold({**ask(), **changes})

    assert kinds(said) == ["ready", "failed"]
    assert said[1]["code"] == "not_an_ask"
    assert said[1]["facts"]["field"] == field


def test_a_book_comes_as_an_object_or_from_the_window_as_a_value() -> None:
    book, asked = a_book(), ask()
    del asked["book"]
    engine = Engine()
    assert kinds(Talk(engine).hold({**asked, "value": as_text(book)}))[-1] == "done"
    said = Talk(Engine()).hold({**asked, "value": as_text(replace(book, revision=7))})
    assert said[1]["facts"] == {"revision": 1, "found": 7}


def test_a_book_with_findings_that_stop_names_their_codes() -> None:
    book = a_book(replace(a_job(), windows=()))
    said = Talk(Engine()).hold(ask(book=book))

    assert said[1]["code"] == "book_stops"
    assert said[1]["facts"] == {"findings": ["job_without_window"]}


def test_a_revision_that_is_not_the_books_is_refused() -> None:
    said = Talk(Engine()).hold(ask(revision=5))

    assert said[1]["code"] == "wrong_revision"
    assert said[1]["facts"] == {"revision": 5, "found": 1}


def test_a_fault_of_the_engine_is_told_and_the_next_ask_is_taken(
    capsys: pytest.CaptureFixture[str],
) -> None:
    said = Talk(Engine(falls=True)).hold(ask(1), ask(2))

    assert [(line["id"], line["code"]) for line in said[1:]] == [(1, "fault"), (2, "fault")]
    assert said[1]["facts"] == {"what": "ZeroDivisionError: nothing to share"}
    assert "Traceback" in capsys.readouterr().err


def starved(request: SolveRequest, *, progress: Progress | None, cancel: Cancel) -> Outcome:
    raise MemoryError


def test_without_memory_it_says_so_and_leaves() -> None:
    left: list[int] = []
    talk = Talk(starved)
    talk.child = Child(Lines(talk.out), starved, left.append)
    (_, said) = talk.hold(ask(1))

    assert (said["kind"], said["id"], said["code"]) == ("failed", 1, "no_memory")
    assert len(left) == 1


def test_without_memory_even_for_a_word_it_leaves() -> None:
    left: list[int] = []

    class Mute(Lines):
        def say(self, kind: str, *_: Any, **__: object) -> None:
            if kind == "failed" and not left:
                raise MemoryError

    talk = Talk(starved)
    talk.child = Child(Mute(talk.out), starved, left.append)
    assert talk.hold(ask(1)) == []
    assert len(left) == 1


def test_bye_ends_it_whatever_comes_after() -> None:
    said = Talk(Engine()).hold('{"kind": "bye"}\n', ask())

    assert kinds(said) == ["ready"]


def test_the_end_of_input_calls_off_what_runs() -> None:
    engine = Engine(waits=True)
    out = io.StringIO()
    child = Child(Lines(out), engine)

    def lines() -> Any:
        yield json.dumps(ask()) + "\n"
        engine.began.wait()

    child.serve(lines())
    while child.is_busy:
        let_others_work()

    assert json.loads(out.getvalue().splitlines()[-1])["outcome"]["stopped"] == "cancelled"


def test_a_solve_beside_can_be_called_off_and_gives_its_outcome() -> None:
    engine = Engine(waits=True)
    solving = Solving(engine)
    solving.start(SolveRequest(book=a_book(), now=NOW))
    engine.began.wait()

    assert not solving.is_over(0)
    solving.cancel()
    assert solving.is_called_off
    assert solving.outcome().stopped == "cancelled"
    assert solving.is_over(0)


def test_what_goes_wrong_beside_is_raised_here() -> None:
    solving = Solving(Engine(falls=True))
    solving.start(SolveRequest(book=a_book(), now=NOW))

    with pytest.raises(ZeroDivisionError):
        solving.outcome()


def test_the_child_begins_the_next_answer_from_the_last() -> None:
    """What was planned stays where an edit does not touch it, though nobody was told of it."""
    was = planned(sized_book(Size(stages=150, people=12, seed=3)))
    book = replace(was.book, told=None, plan=None)
    asked = {"now": was.now.isoformat(), "effort": 0}
    after = replace(ill(was, Random(1)), told=None, plan=None)
    said = Talk(Remembering()).hold(
        ask(1, book, request=asked), ask(2, after, request=asked), ask(3, after, request=asked)
    )
    first, second, third = (line["outcome"] for line in said if line["kind"] == "done")

    moved = set(starts_of(first).items()) ^ set(starts_of(second).items())
    assert starts_of(first).keys() == starts_of(second).keys()
    assert len(moved) // 2 <= len(starts_of(first)) // 10
    assert starts_of(third) == starts_of(second)


def starts_of(outcome: Json) -> dict[tuple[str, str, int], str]:
    placements = outcome["plan"]["placements"]
    return {
        (one["step"], one.get("part", ""), one.get("round", 0)): one["start"] for one in placements
    }

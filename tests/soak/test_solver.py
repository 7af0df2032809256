"""The soak of the planner's faults finds faults that are planted in how the window bears them."""

import os
import subprocess
from collections.abc import Iterator

import pytest

from app.jobs import Engine
from app.window.desk import Desk
from tests.books.samples import small
from tests.soak import solver
from tests.soak.report import Report, Task

pytestmark = pytest.mark.slow


@pytest.fixture(autouse=True)
def only_killed(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """One kind of fault on a small book, and little patience of the soak itself."""
    monkeypatch.setattr(solver, "KINDS", {"killed": 1})
    monkeypatch.setattr(solver, "BOOKS", {small: 1})
    monkeypatch.setattr(solver, "LONGEST_SECONDS", 30)
    monkeypatch.delenv(solver.MARK, raising=False)
    yield
    os.environ.pop(solver.MARK, None)


def borne() -> Report:
    return solver.run(Task(rounds=1, seed=2, until=float("inf"), say=lambda _: None))


def test_the_same_round_is_drawn_whatever_comes_before_it() -> None:
    assert solver.drawn("1/7") == solver.drawn("1/7") != solver.drawn("1/8")


def test_a_window_that_says_so_and_plans_again_passes() -> None:
    report = borne()
    assert report.failed == ()
    assert (report.facts["killed"], report.facts["told"]) == (1, 1)


def test_a_window_that_says_nothing_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Desk, "_tell_engine", lambda *_: None)
    assert any("said" in line for line in borne().failed)


def test_a_window_that_drops_the_last_plan_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    lost = Desk._on_lost

    def dropping(self: Desk, refusal: object) -> None:
        self.plan = None
        lost(self, refusal)  # type: ignore[arg-type]

    monkeypatch.setattr(Desk, "_on_lost", dropping)
    assert any("the last plan is gone" in line for line in borne().failed)


def test_a_process_that_is_left_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    left: list[subprocess.Popen[bytes]] = []
    close = Engine.close

    def keep(self: Engine) -> None:
        left.append(subprocess.Popen(["sleep", "60"]))
        close(self)

    monkeypatch.setattr(solver, "CLOSED_WITHIN_SECONDS", 0.2)
    monkeypatch.setattr(Engine, "close", keep)
    try:
        assert any(f"process {left[0].pid} is left" in line for line in borne().failed)
    finally:
        left[0].kill()
        left[0].wait()

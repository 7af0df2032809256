"""What goes otherwise than planned, from the command line, on a sample book.

Broken at loading, yes with changes, a change after the yes: each with its verdict and reason in
words, tried and taken, and undone.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from shared.book import (
    Abrade,
    Answer,
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Hours,
    Job,
    Journey,
    Kind,
    Stage,
    Step,
)
from shared.files.write import write_book
from shared.ids import FactId, StepId
from shared.order import afters_of, in_order, touched
from tests.journeys.test_command_line import book_of, countback, last_object

pytestmark = pytest.mark.journey

KEPT = {"fits", "tight"}
SECONDS = ("--seconds", "2")


def told(step: Step, at: datetime) -> Fact:
    is_answer = isinstance(step, Gate) and step.gate is GateKind.ANSWER
    return Fact(
        id=FactId(f"told-{step.id}"),
        kind=FactKind.ANSWER if is_answer else FactKind.DONE,
        step=step.id,
        at=at,
        told_by="Rowan",
        answer=Answer.YES if is_answer else None,
    )


def is_gate(step: Step, kind: GateKind) -> bool:
    return isinstance(step, Gate) and step.gate is kind


def answers(job: Job) -> list[Step]:
    return [step for step in job.steps if is_gate(step, GateKind.ANSWER)]


def upto(job: Job, last: StepId) -> list[Step]:
    """Give all that comes before a step, near or far, each behind what it comes after."""
    afters = afters_of(job)
    found, left = set[StepId](), [last]
    while left:
        fresh = {after.step for after in afters[left.pop()]} - found
        found |= fresh
        left += fresh
    return [step for step in in_order(job, afters) if step.id in found]


def as_of(book: Book, job: Job, done: Iterable[Step], now: datetime) -> Book:
    """Give a book in which some steps of a job were over three days ago."""
    facts = tuple(told(step, now - timedelta(days=3)) for step in done)
    jobs = tuple(job if each.id == job.id else each for each in book.jobs)
    return replace(book, as_of=now, jobs=jobs, facts=facts)


@pytest.fixture
def sample(tmp_path: Path) -> Path:
    countback("sample", "small", tmp_path)
    return tmp_path / "small.countback"


def put(path: Path, book: Book) -> bytes:
    path.write_bytes(write_book(book))
    return path.read_bytes()


def job_told(told_plan: Any, job: Job) -> Any:
    return next(each for each in told_plan["jobs"] if each["id"] == job.id)


def same_but_revision(path: Path, before: bytes) -> bool:
    """Say whether a file is byte for byte what it was, but for the number of its revision."""
    book = book_of(path)
    first = replace(book, revision=1)
    path.with_name("first").write_bytes(before)
    return write_book(first) == write_book(replace(book_of(path.with_name("first")), revision=1))


def check_taken_and_undone(path: Path, before: bytes, verdict: str, *command: str) -> None:
    """Take what was tried, plan the book as it now is, and undo it."""
    taken = countback(*command, "--take", *SECONDS, "--json")
    assert last_object(taken.stdout)["taken"] is True
    assert "countback undo takes that back." in " ".join(taken.stdout.split())
    assert path.with_name(path.name + ".before").read_bytes() == before
    planned = countback("plan", path, *SECONDS, "--json")
    met = all(job["verdict"] in KEPT for job in last_object(planned.stdout)["jobs"])
    assert planned.returncode == taken.returncode == (0 if met else 3)
    assert met is (verdict in KEPT)
    assert last_object(planned.stdout)["checked"] is True
    assert countback("undo", path).returncode == 0
    assert same_but_revision(path, before)


def broken_at_loading(path: Path, days_before: int) -> tuple[Job, Stage, bytes]:
    """Put a book in which all is packed so many days before the window opens."""
    book = book_of(path)
    job = book.jobs[0]
    loading = next(step for step in job.steps if is_gate(step, GateKind.LOADING))
    done = upto(job, loading.id)
    window = job.held_window
    assert window is not None
    now = window.start - timedelta(days=days_before)
    skins = [s for s in done if isinstance(s, Stage) and s.kind is Kind.LAMINATE]
    piece = next(s for s in reversed(skins) if len(touched(job, s)) == 1)
    return job, piece, put(path, as_of(book, job, done, now))


@pytest.mark.parametrize(("days_before", "keeps"), [(25, True), (4, False)])
def test_a_piece_broken_at_loading_is_repaired_before_it_is_loaded(
    sample: Path, days_before: int, keeps: bool
) -> None:
    job, stage, before = broken_at_loading(sample, days_before)
    command = ("again", str(sample), stage.id, "--because", "broken")
    tried = countback(*command, *SECONDS, "--json")
    said = last_object(tried.stdout)

    assert tried.stderr == ""
    assert sample.read_bytes() == before
    assert said["taken"] is False
    assert job_told(said["before"], job)["verdict"] in KEPT
    after = job_told(said["after"], job)
    assert (after["verdict"] in KEPT) is keeps
    assert tried.returncode == (0 if keeps else 3)
    text = " ".join(tried.stdout.split())
    assert "was broken: again from" in text
    assert f"Before: {job.name} fits" in text
    if keeps:
        assert f"After: {job.name} fits" in text
        assert said["over"]
    else:
        assert after["reason"]
        assert after["reason"] in text
    kinds = [each["name"] for each in said["stages"]]
    assert kinds[0] == "cut back"
    assert any(name.startswith("lacquer") for name in kinds)
    check_taken_and_undone(sample, before, after["verdict"], *command)


def changes_of(hours: int, like: Stage) -> Abrade:
    amount = Hours(low=Decimal(hours), likely=Decimal(hours), high=Decimal(hours))
    return Abrade(ways=(replace(like.ways[0], hours=amount),))


@pytest.mark.parametrize(("hours", "keeps"), [(6, True), (900, False)])
def test_a_yes_with_changes_says_what_it_means_and_how_the_job_stands(
    sample: Path, hours: int, keeps: bool
) -> None:
    book = book_of(sample)
    job = book.jobs[0]
    gate = answers(job)[-1]
    done = upto(job, gate.id)
    carve = [s for s in done if isinstance(s, Stage) and s.kind is Kind.FOAM][-1]
    assert isinstance(gate, Gate)
    asking = replace(gate, changes=changes_of(hours, carve))
    job = replace(job, steps=tuple(asking if s.id == gate.id else s for s in job.steps))
    assert book.as_of is not None
    before = put(sample, as_of(book, job, done, book.as_of))
    plain = last_object(countback("plan", sample, *SECONDS, "--json").stdout)
    said = countback(
        *("answer", sample, gate.id, "changes", "--by", "Rowan", "--shown", "left side"),
        *(*SECONDS, "--json"),
    )
    after = job_told(last_object(said.stdout)["after"], job)
    text = " ".join(said.stdout.split())

    assert job_told(plain, job)["verdict"] in KEPT
    assert (after["verdict"] in KEPT) is keeps
    assert said.returncode == (0 if keeps else 3)
    assert f"yes to {gate.name}, with changes. They are {hours} h of work," in text
    assert "It was about “left side”." in text
    assert f"Now: {job.name}" in text
    if not keeps:
        assert after["reason"]
        assert after["reason"] in text
    fact = book_of(sample).facts[-1]
    assert (fact.told_by, fact.answer, fact.shown) == ("Rowan", Answer.CHANGES, ("left side",))
    assert sample.with_name(sample.name + ".before").read_bytes() == before
    assert countback("undo", sample).returncode == 0
    assert same_but_revision(sample, before)


@pytest.mark.parametrize(
    ("days_before", "more", "keeps"), [(75, (), True), (20, ("--answer",), False)]
)
def test_a_change_after_the_yes_strips_carves_and_skins_again(
    sample: Path, days_before: int, more: tuple[str, ...], keeps: bool
) -> None:
    book = book_of(sample)
    job = book.jobs[0]
    segment, window = job.segments[0], job.held_window
    assert window is not None
    skins = [s for s in job.steps if isinstance(s, Stage) and s.kind is Kind.LAMINATE]
    last = next(s for s in skins if s.segments == (segment.id,))
    done = [*upto(job, last.id), last]
    done = [step for step in done if not isinstance(step, Journey)]
    before = put(sample, as_of(book, job, done, window.start - timedelta(days=days_before)))
    command = ("change", str(sample), segment.id, "--what", "a longer beak", "--share", "40", *more)
    tried = countback(*command, *SECONDS, "--json")
    said = last_object(tried.stdout)
    after, text = job_told(said["after"], job), " ".join(tried.stdout.split())

    assert tried.stderr == ""
    assert sample.read_bytes() == before
    names = [each["name"] for each in said["stages"]]
    assert names[0] == "strip"
    assert any(name.endswith("again: a longer beak") for name in names)
    assert said["person_minutes"] == sum(each["person_minutes"] for each in said["stages"])
    assert (after["verdict"] in KEPT) is keeps
    assert tried.returncode == (0 if keeps else 3)
    assert f"{segment.name} changes after the yes, 40 % of it: a longer beak." in text
    if not keeps:
        assert after["reason"]
        assert after["reason"] in text
        assert "pictures out and the answer, " in text
    check_taken_and_undone(sample, before, after["verdict"], *command)

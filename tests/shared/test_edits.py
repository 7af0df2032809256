"""Edits give a new whole book, name what they touched, and leave the rest as it was."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest

from shared.book import Book, Gate, Journey, Leave, Pin, Stage
from shared.edits import (
    LABELS,
    Edited,
    NoSuchThing,
    add_leave,
    add_step,
    change_job,
    change_segment,
    change_step,
    change_window,
    change_workshop,
    copy_job,
    copy_segment,
    copy_step,
    move_job,
    move_segment,
    move_step,
    pin_person,
    pin_step,
    remove_job,
    remove_segment,
    remove_step,
    take_plan,
    tell_fact,
    unpin_person,
)
from shared.examine import examine
from shared.ids import JobId, PersonId, SegmentId, StepId
from tests.books.plain import impossible, small
from tests.builders import a_fact, a_stage, an_after, at

HEAD = SegmentId("owl.head")
CARVE = StepId("owl.head.carve")


def steps_of(book: Book, job: int = 0) -> list[str]:
    return [step.id for step in book.jobs[job].steps]


def stops(book: Book) -> list[str]:
    return [finding.code for finding in examine(book) if finding.stops]


def test_every_edit_adds_one_to_the_revision_and_leaves_the_old_book_alone() -> None:
    book = small()
    before = repr(book)
    after = remove_step(book, CARVE)
    assert after.book.revision == book.revision + 1
    assert repr(book) == before
    assert after.changed.jobs == {JobId("owl")}
    assert after.label.code == "remove_step"
    assert after.label.facts == (("name", "carve"),)


def test_a_copied_job_has_ids_of_its_own_and_the_book_still_makes_sense() -> None:
    book = small()
    after = copy_job(book, JobId("owl"), "Second owl").book
    assert [job.name for job in after.jobs] == ["Reading owl", "Second owl"]
    assert not set(steps_of(after, 0)) & set(steps_of(after, 1))
    assert stops(after) == stops(book) == []
    assert copy_job(after, JobId("owl"), "Third owl").book.jobs[1].id not in {"owl", "owl-2"}


def test_a_copied_segment_gets_its_own_steps_and_joins_those_it_shares() -> None:
    book = small()
    shared_step = a_stage("owl.glue", segments=("owl.head", "owl.body"))
    book = add_step(book, JobId("owl"), shared_step, 2).book
    after = copy_segment(book, HEAD, "Second head").book
    job = after.jobs[0]
    new = next(s for s in job.segments if s.name == "Second head")
    own = [s.name for s in job.steps if s.segments == (new.id,)]
    assert own == [s.name for s in job.steps if s.segments == (HEAD,)]
    glue = next(s for s in job.steps if s.id == "owl.glue")
    assert glue.segments == (HEAD, SegmentId("owl.body"), new.id)
    assert stops(after) == []


def test_a_removed_segment_takes_its_steps_with_it_and_never_widens_another_step() -> None:
    book = small()
    only = a_stage("owl.extra", segments=("owl.head",))
    book = add_step(book, JobId("owl"), only).book
    after = remove_segment(book, HEAD).book
    assert HEAD not in {s.id for s in after.jobs[0].segments}
    assert not [s for s in steps_of(after) if s.startswith("owl.head") or s == "owl.extra"]
    whole_job = [s.id for s in after.jobs[0].steps if not s.segments]
    assert whole_job == [s.id for s in book.jobs[0].steps if not s.segments]
    assert stops(after) == []


def test_what_followed_a_removed_step_by_name_follows_what_that_step_followed() -> None:
    book = small()
    first = a_stage("owl.frame", segments=("owl.head",), after=())
    second = a_stage("owl.weld", segments=("owl.head",), after=(an_after("owl.frame"),))
    third = a_stage("owl.paint-frame", segments=("owl.head",), after=(an_after("owl.weld"),))
    for step in (first, second, third):
        book = add_step(book, JobId("owl"), step).book
    after = remove_step(book, StepId("owl.weld")).book
    painted = next(s for s in after.jobs[0].steps if s.id == "owl.paint-frame")
    assert painted.after is not None
    assert [a.step for a in painted.after] == ["owl.frame"]
    assert stops(after) == stops(book)


def test_facts_about_removed_steps_go_with_them() -> None:
    book = tell_fact(small(), a_fact("f", step=CARVE)).book
    assert len(book.facts) == 1
    assert remove_step(book, CARVE).book.facts == ()
    assert remove_job(book, JobId("owl")).book.facts == ()


def test_a_fact_with_a_taken_id_gets_another() -> None:
    book = tell_fact(small(), a_fact("f", step=CARVE)).book
    again = tell_fact(book, a_fact("f", step=CARVE)).book
    assert [f.id for f in again.facts] == ["f", "f-2"]


def test_a_copied_step_stands_behind_its_model_without_the_pin() -> None:
    book = pin_person(small(), CARVE, PersonId("asta")).book
    after = copy_step(book, CARVE).book
    ids = steps_of(after)
    copied = after.jobs[0].steps[ids.index(CARVE) + 1]
    assert isinstance(copied, Stage)
    assert copied.name == "carve"
    assert copied.pin is None
    assert stops(after) == []


def test_people_are_pinned_one_by_one_and_an_empty_pin_is_lifted() -> None:
    book = pin_person(small(), CARVE, PersonId("asta")).book
    book = pin_person(book, CARVE, PersonId("cato")).book
    book = pin_person(book, CARVE, PersonId("asta")).book
    assert _pin(book) == Pin(people=(PersonId("cato"), PersonId("asta")))
    book = unpin_person(book, CARVE, PersonId("cato")).book
    book = unpin_person(book, CARVE, PersonId("asta")).book
    assert _pin(book) is None


def _pin(book: Book) -> Pin | None:
    step = next(s for s in book.jobs[0].steps if s.id == CARVE)
    assert isinstance(step, Stage | Gate)
    return step.pin


def test_a_journey_can_not_be_pinned() -> None:
    with pytest.raises(TypeError):
        pin_step(small(), StepId("owl.ship"), Pin())
    assert isinstance(small().jobs[0].steps[-1], Journey)


@pytest.mark.parametrize(("to", "position"), [(0, 0), (-5, 0), (99, 55), (3, 3)])
def test_a_step_moves_to_any_position_clamped_to_the_ends(to: int, position: int) -> None:
    after = move_step(small(), CARVE, to).book
    assert steps_of(after).index(CARVE) == position
    assert sorted(steps_of(after)) == sorted(steps_of(small()))


def test_what_is_not_there_is_refused_by_name() -> None:
    book = small()
    wrongs: tuple[Callable[[], Edited], ...] = (
        lambda: remove_job(book, JobId("x")),
        lambda: remove_step(book, StepId("x")),
        lambda: remove_segment(book, SegmentId("x")),
        lambda: pin_person(book, CARVE, PersonId("x")),
    )
    for wrong in wrongs:
        with pytest.raises(NoSuchThing, match="x"):
            wrong()


def some_edit(book: Book, rng: Random) -> Edited:
    """Make one random edit that fits the book."""
    job = rng.choice(book.jobs)
    step = rng.choice(job.steps)
    segment = rng.choice(job.segments)
    person = rng.choice(book.people).id
    leave = Leave(start=at("2027-02-01T08:00Z"), end=at("2027-02-02T08:00Z"))
    held = replace(job.windows[0], end=job.windows[0].end)
    pinnable = next(s for s in job.steps if not isinstance(s, Journey))
    choices: tuple[Callable[[], Edited], ...] = (
        lambda: copy_job(book, job.id, f"{job.name} again"),
        lambda: move_job(book, job.id, rng.randrange(3)),
        lambda: change_job(book, replace(job, name=job.name + "!")),
        lambda: change_window(book, job.id, held),
        lambda: copy_segment(book, segment.id, segment.name + " again"),
        lambda: move_segment(book, segment.id, rng.randrange(4)),
        lambda: change_segment(book, replace(segment, finish="gloss")),
        lambda: remove_segment(book, segment.id) if len(job.segments) > 1 else some_edit(book, rng),
        lambda: copy_step(book, pinnable.id),
        lambda: move_step(book, step.id, rng.randrange(len(job.steps))),
        lambda: change_step(book, replace(step, name=step.name + "!")),
        lambda: remove_step(book, pinnable.id) if len(job.steps) > 9 else some_edit(book, rng),
        lambda: pin_person(book, pinnable.id, person),
        lambda: pin_step(book, pinnable.id, None),
        lambda: add_leave(book, person, leave),
        lambda: change_workshop(book, replace(book.workshop, name="Elsewhere")),
        lambda: take_plan(book, None),
    )
    return rng.choice(choices)()


@pytest.mark.parametrize("seed", range(15))
def test_any_run_of_edits_keeps_every_name_unique_and_counts_up(seed: int) -> None:
    rng = Random(seed)
    book = impossible()
    for count in range(25):
        edited = some_edit(book, rng)
        assert edited.book.revision == 2 + count
        assert edited.label.code in LABELS
        book = edited.book
        ids = [s.id for job in book.jobs for s in job.steps]
        assert len(ids) == len(set(ids))
        assert not [code for code in stops(book) if "duplicate" in code or "unknown" in code]

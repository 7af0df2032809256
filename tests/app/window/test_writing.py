"""What is written on the sheet: every text and every word done is an edit that makes sense."""

from collections.abc import Callable
from decimal import Decimal

import pytest

from app.window.sheet import writing
from app.window.sheet.typed import NotTaken
from app.words import Words
from shared.book import Book, Gate, GateKind, Kind, Pin, Stage
from shared.edits import LABELS, Edited
from shared.examine import examine
from shared.ids import JobId, PersonId, SegmentId, StepId
from tests.books.plain import small
from tests.builders import at

BOOK = small()
WORDS = Words("en", book=BOOK)
JOB = JobId("owl")
HEAD = SegmentId("owl.head")
CARVE = StepId("owl.head.carve")


def _job(book: Book) -> object:
    return writing.job(book, JOB)


EDITS: dict[str, Callable[[], Edited]] = {
    "job_name": lambda: writing.job_name(BOOK, JOB, "Barn owl"),
    "client": lambda: writing.client_name(BOOK, JOB, "The school"),
    "days": lambda: writing.answer_days(BOOK, JOB, "6"),
    "start": lambda: writing.window_edge(BOOK, JOB, "Mon 12 Apr 07:00", WORDS, start=True),
    "end": lambda: writing.window_edge(BOOK, JOB, "Fri 16 Apr 12:00", WORDS, start=False),
    "another": lambda: writing.another_segment(BOOK, HEAD, WORDS),
    "same": lambda: writing.same_segment(BOOK, HEAD, WORDS),
    "step_name": lambda: writing.step_name(BOOK, CARVE, "rough carve"),
    "kind": lambda: writing.stage_kind(BOOK, CARVE, "paint", WORDS),
    "hours": lambda: writing.stage_hours(BOOK, CARVE, "likely", "99"),
    "cure": lambda: writing.stage_cure(BOOK, CARVE, "4"),
    "recoat": lambda: writing.stage_recoat(BOOK, CARVE, "48"),
    "go": lambda: writing.stage_go(BOOK, CARVE, "in one go", WORDS),
    "people": lambda: writing.step_people(BOOK, CARVE, "Edda", WORDS),
    "earlier": lambda: writing.moved_step(BOOK, CARVE, HEAD, -1),
    "later": lambda: writing.moved_step(BOOK, CARVE, HEAD, 1),
    "stage": lambda: writing.stage_after(BOOK, CARVE, HEAD, WORDS),
    "answer": lambda: writing.answer_after(BOOK, CARVE, WORDS),
    "pin": lambda: writing.pin_as_planned(BOOK, CARVE, at("2027-02-01 08:00"), (PersonId("edda"),)),
}


@pytest.mark.parametrize("name", EDITS)
def test_every_edit_is_one_revision_with_a_label_and_leaves_a_sound_book(name: str) -> None:
    edited = EDITS[name]()

    assert edited.book.revision == BOOK.revision + 1
    assert edited.book != BOOK
    assert edited.label.code in LABELS
    said = WORDS.undo_label(edited.label.code, **dict(edited.label.facts))
    assert "{" not in said
    assert "…" not in said
    assert not [f for f in examine(edited.book) if f.stops]


def test_a_later_start_pushes_the_end_and_an_end_before_it_is_refused() -> None:
    held = BOOK.jobs[0].held_window
    assert held is not None
    later = writing.window_edge(BOOK, JOB, "2027-06-01 07:00", WORDS, start=True).book
    moved = later.jobs[0].held_window
    assert moved is not None
    assert moved.end - moved.start == held.end - held.start
    with pytest.raises(NotTaken) as no:
        writing.window_edge(BOOK, JOB, "2027-01-01 07:00", WORDS, start=False)
    assert no.value.code == "ends_before_start"


def test_likely_hours_take_low_and_high_along_but_not_the_other_way() -> None:
    old = writing.stage(BOOK, CARVE).ways[0].hours
    up = writing.stage(writing.stage_hours(BOOK, CARVE, "likely", "500").book, CARVE).ways[0].hours
    assert (up.low, up.likely, up.high) == (old.low, Decimal(500), Decimal(500))
    with pytest.raises(NotTaken) as no:
        writing.stage_hours(BOOK, CARVE, "low", "500")
    assert no.value.code == "hours_out_of_order"


def test_hours_change_in_every_way_that_had_the_same() -> None:
    before = writing.stage(BOOK, CARVE)
    after = writing.stage(writing.stage_hours(BOOK, CARVE, "likely", "40").book, CARVE)

    assert len(before.ways) == 2
    assert [way.hours.likely for way in after.ways] == [Decimal(40), Decimal(40)]
    assert [way.needs for way in after.ways] == [way.needs for way in before.ways]


def test_people_are_pinned_by_name_and_let_go_by_whoever_can() -> None:
    pinned = writing.step_people(BOOK, CARVE, "Edda and Dilys", WORDS).book
    assert writing.stage(pinned, CARVE).pin == Pin(people=(PersonId("edda"), PersonId("dilys")))
    free = writing.step_people(pinned, CARVE, "whoever can", WORDS).book
    assert writing.stage(free, CARVE).pin is None
    with pytest.raises(NotTaken):
        writing.step_people(BOOK, CARVE, "Nobody", WORDS)


def test_p_pins_what_is_planned_and_lets_go_of_it() -> None:
    when = at("2027-02-01 08:00")
    pinned = writing.pin_as_planned(BOOK, CARVE, when, (PersonId("edda"),)).book
    assert writing.stage(pinned, CARVE).pin == Pin(start=when, people=(PersonId("edda"),))
    free = writing.pin_as_planned(pinned, CARVE, when, ()).book
    assert writing.stage(free, CARVE).pin is None


def test_steps_are_moved_past_their_neighbour_on_the_same_segment() -> None:
    order = [s.id for s in writing.steps_of(BOOK.jobs[0], HEAD)]
    later = writing.moved_step(BOOK, CARVE, HEAD, 1).book.jobs[0]
    moved = [s.id for s in writing.steps_of(later, HEAD)]
    here = order.index(CARVE)

    assert moved[here] == order[here + 1]
    assert moved[here + 1] == CARVE
    first = writing.moved_step(BOOK, order[0], HEAD, -1).book.jobs[0]
    assert [s.id for s in writing.steps_of(first, HEAD)] == order


def test_another_segment_is_made_like_the_first_with_its_size_open() -> None:
    made = writing.another_segment(BOOK, HEAD, WORDS).book.jobs[0]
    new = made.segments[1]

    assert new.name == "Segment 5"
    assert new.length_m is None
    assert len(writing.steps_of(made, new.id)) == len(writing.steps_of(made, HEAD))


def test_a_new_stage_stands_behind_the_chosen_one_on_its_segment() -> None:
    made = writing.stage_after(BOOK, CARVE, HEAD, WORDS).book.jobs[0]
    mine = writing.steps_of(made, HEAD)
    new = mine[[s.id for s in mine].index(CARVE) + 1]

    assert isinstance(new, Stage)
    assert (new.name, new.kind, new.segments) == ("new stage", Kind.FOAM, (HEAD,))
    assert new.ways[0].hours.likely == 8


def test_an_answer_is_added_for_the_whole_job() -> None:
    made = writing.answer_after(BOOK, CARVE, WORDS).book.jobs[0]
    new = made.steps[[s.id for s in made.steps].index(CARVE) + 1]

    assert isinstance(new, Gate)
    assert (new.gate, new.segments) == (GateKind.ANSWER, ())

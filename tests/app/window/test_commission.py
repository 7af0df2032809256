"""What a job's sentences, its grid of segments and its strip hold and do, without a window."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt

from app.window.sheet import commission, estimating, grid, made, writing
from app.window.sheet.side import boxes_of
from app.window.sheet.typed import NotTaken
from app.words import Words
from shared.book import (
    Book,
    Detail,
    Gate,
    GateKind,
    Job,
    Journey,
    Kind,
    Stage,
    Standing,
)
from shared.edits import change_segment
from shared.examine import examine
from shared.ids import JobId, SegmentId, StepId
from tests.books.samples import SAMPLES

Key = Qt.Key
SHIFT, CTRL, ALT = (
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
)
TODAY = date(2027, 1, 18)
BOOK = SAMPLES["tight"]()
WORDS = Words("en", book=BOOK)
JOB = BOOK.jobs[0].id
FIRST = BOOK.jobs[0].segments[0].id


def job(book: Book, identity: JobId = JOB) -> Job:
    return next(each for each in book.jobs if each.id == identity)


def stops(book: Book) -> list[str]:
    return [found.code for found in examine(book) if found.stops]


# The sentences.


def test_so_many_segments_are_made_like_the_last_or_taken_away() -> None:
    have = len(job(BOOK).segments)
    more = commission.write_count(BOOK, JOB, str(have + 2), WORDS)
    less = commission.write_count(BOOK, JOB, "1", WORDS)

    assert len(job(more.book).segments) == have + 2
    assert more.book.revision == BOOK.revision + 1
    assert not stops(more.book)
    assert [s.id for s in job(less.book).segments] == [FIRST]
    with pytest.raises(NotTaken):
        commission.write_count(BOOK, JOB, "0", WORDS)


def test_a_job_in_one_piece_is_cut_into_so_many_equal_ones() -> None:
    one = commission.write_count(BOOK, JOB, "1", WORDS).book
    wide, high = Decimal("1.6"), Decimal("2.5")
    sized = replace(job(one).segments[0], length_m=wide, width_m=wide, height_m=high)
    whole = change_segment(one, sized).book
    cut = commission.write_count(whole, JOB, "5", WORDS)

    made = job(cut.book).segments
    assert [(s.length_m, s.width_m, s.height_m) for s in made] == [
        (Decimal("1.6"), Decimal("1.6"), Decimal("0.5"))
    ] * 5
    assert cut.label.code == "cut_segment"
    assert cut.book.revision == whole.revision + 1
    assert not stops(cut.book)


def test_another_way_of_making_takes_the_place_of_all_steps_but_the_journey() -> None:
    edited = commission.write_route(BOOK, JOB, commission.routes(BOOK)[-1].name)
    before = [step for step in job(BOOK).steps if isinstance(step, Journey)]

    assert edited.label.code == "take_route"
    assert edited.book.revision == BOOK.revision + 1
    journeys = [step for step in job(edited.book).steps if isinstance(step, Journey)]
    assert [step.legs for step in journeys] == [step.legs for step in before]
    assert {s.route for s in job(edited.book).segments} == {commission.routes(BOOK)[-1].id}
    assert commission.route_text(edited.book, JOB, WORDS) == commission.routes(BOOK)[-1].name


def test_like_another_job_takes_its_hours_so_many_times_as_large() -> None:
    past = BOOK.jobs[1]
    plain = commission.write_like(BOOK, JOB, past.name, "1")
    large = commission.write_like(BOOK, JOB, past.name, "2")

    def carved(book: Book) -> Decimal:
        return sum(
            (s.ways[0].hours.likely for s in job(book).steps if isinstance(s, Stage) and s.ways),
            Decimal(0),
        )

    assert carved(large.book) > carved(plain.book)
    assert large.book.revision == BOOK.revision + 1


def test_a_job_without_sizes_gets_those_of_the_past_one() -> None:
    past = BOOK.jobs[1]
    bare = tuple(
        replace(s, length_m=None, width_m=None, height_m=None, surface_m2=None)
        for s in job(BOOK).segments
    )
    book = replace(
        BOOK, jobs=tuple(replace(j, segments=bare) if j.id == JOB else j for j in BOOK.jobs)
    )
    edited = commission.write_like(book, JOB, past.name, "2")
    length = past.segments[0].length_m
    assert length is not None
    assert job(edited.book).segments[0].length_m == 2 * length


def test_the_site_gate_opens_as_typed_or_at_any_hour() -> None:
    shut = commission.write_access(BOOK, JOB, "6:00 to 18:30", WORDS)
    held = job(shut.book).held_window
    assert held is not None
    assert (held.access[0].start, held.access[0].end) == (time(6), time(18, 30))
    assert commission.access_text(shut.book, JOB, WORDS) == "06:00–18:30"
    back = commission.write_access(shut.book, JOB, "06:00–18:30", WORDS)
    assert job(back.book).held_window == held
    free = commission.write_access(shut.book, JOB, "at any hour", WORDS)
    freed = job(free.book).held_window
    assert freed is not None
    assert freed.access == ()
    with pytest.raises(NotTaken):
        commission.write_access(BOOK, JOB, "early", WORDS)


def test_noes_standing_money_and_journey_are_written_as_they_are_read() -> None:
    book = commission.write_no(BOOK, JOB, "2").book
    book = commission.write_drive(book, JOB, "3½").book
    book = commission.write_standing(book, JOB, "pencilled until Fri 5 Mar", WORDS, TODAY).book
    book = commission.write_price(book, JOB, "31,500", WORDS).book
    book = commission.write_late(book, JOB, "900", WORDS).book
    book = commission.write_crew(book, JOB, book.people[0].name, WORDS).book

    owner = job(book)
    assert commission.no_text(book, JOB) == "2"
    assert commission.drive_text(book, JOB) == "3.5"
    assert owner.standing is Standing.PENCILLED
    assert owner.pencilled_until == date(2027, 3, 5)
    assert commission.standing_text(book, JOB, WORDS) == "pencilled until Fri 5 Mar"
    assert (owner.price, owner.late_cost_per_day) == (Decimal(31500), Decimal(900))
    assert commission.crew_text(book, JOB, WORDS) == book.people[0].name
    firm = commission.write_standing(book, JOB, "firm", WORDS, TODAY).book
    assert (job(firm).standing, job(firm).pencilled_until) == (Standing.FIRM, None)
    with pytest.raises(NotTaken):
        commission.write_standing(book, JOB, "certain", WORDS, TODAY)
    with pytest.raises(NotTaken):
        commission.write_vehicle(book, JOB, "balloon", WORDS)


# The grid.


@pytest.mark.parametrize("column", grid.COLUMNS)
def test_a_cell_read_back_as_it_stands_changes_nothing(column: str) -> None:
    segment = replace(job(BOOK).segments[0], detail=Detail.FINE)
    text = grid.text_of(segment, column, WORDS)
    assert grid.changed(segment, column, text, WORDS) == segment


def test_rows_of_a_spreadsheet_fill_the_grid_and_make_the_segments_they_need() -> None:
    have = len(job(BOOK).segments)
    lines = [f"Part {n}\t{n}.5\t1,2\t0.9\t\tfine\tmirror" for n in range(1, have + 4)]
    text = "\r\n".join(["name\tlength\twidth\theight m", *lines, ""])
    edited = grid.paste(BOOK, JOB, (FIRST, "name"), text, WORDS)
    segments = job(edited.book).segments

    assert edited.book.revision == BOOK.revision + 1, "one undo"
    assert (edited.label.code, dict(edited.label.facts)["count"]) == ("paste_segments", have + 3)
    assert [s.name for s in segments] == [f"Part {n}" for n in range(1, have + 4)]
    assert (segments[1].length_m, segments[1].width_m) == (Decimal("2.5"), Decimal("1.2"))
    assert segments[-1].detail is Detail.FINE
    assert segments[-1].surface_m2 is None
    assert not stops(edited.book)


def test_what_is_pasted_from_a_cell_on_leaves_the_others_as_they_were() -> None:
    before = job(BOOK).segments[0]
    edited = grid.paste(BOOK, JOB, (FIRST, "width_m"), "1.1\t1.3", WORDS)
    after = job(edited.book).segments[0]
    assert after == replace(before, width_m=Decimal("1.1"), height_m=Decimal("1.3"))


def test_a_row_that_is_not_understood_is_named_and_nothing_is_pasted() -> None:
    with pytest.raises(NotTaken) as refused:
        grid.paste(BOOK, JOB, (FIRST, "length_m"), "1.1\nlong", WORDS)
    assert refused.value.facts["row"] == 2
    assert "“long” is no size." in str(refused.value.facts["reason"])


def test_estimated_hours_follow_the_size_and_typed_ones_stay() -> None:
    own = estimating.typed_steps(BOOK, JOB)
    stages = [s for s in job(BOOK).steps if isinstance(s, Stage) and s.segments == (FIRST,)]
    carve = next(s for s in stages if s.id.endswith(".carve"))
    barrier = next(s for s in stages if s.id not in own and s.kind is Kind.LAMINATE)
    typed_hours = replace(carve.ways[0].hours, likely=Decimal(33))
    by_hand = replace(carve, ways=(replace(carve.ways[0], hours=typed_hours),))
    owner = job(BOOK)
    steps = tuple(by_hand if s.id == carve.id else s for s in owner.steps)
    book = replace(
        BOOK, jobs=tuple(replace(j, steps=steps) if j.id == JOB else j for j in BOOK.jobs)
    )
    assert carve.id in estimating.typed_steps(book, JOB)

    edited = grid.write(book, FIRST, "surface_m2", "99", WORDS)
    after = estimating.following(book, edited, JOB)

    def hours(found: Book, step: StepId) -> Decimal:
        stage = next(s for s in job(found).steps if s.id == step)
        assert isinstance(stage, Stage)
        return stage.ways[0].hours.likely

    assert hours(after.book, carve.id) == 33
    assert hours(after.book, barrier.id) > hours(book, barrier.id)
    assert after.book.revision == book.revision + 1
    assert estimating.typed_steps(after.book, JOB) == estimating.typed_steps(book, JOB)


def test_hours_of_segments_add_up_to_those_of_the_job() -> None:
    works = [s for s in job(BOOK).steps if not isinstance(s, Journey) and s.ways]
    total = sum((step.ways[0].hours.likely for step in works), Decimal(0))
    found = grid.hours_of(BOOK, JOB)
    shown = sum((each.likely for each in found.values()), Decimal(0))
    assert abs(shown - total) <= len(found)


def test_arrows_stop_at_the_edges_of_the_grid() -> None:
    two = (SegmentId("a"), SegmentId("b"))
    assert grid.neighbour(two, (two[0], "name"), 0, 1) == (two[1], "name")
    assert grid.neighbour(two, (two[0], "name"), 1, 0) == (two[0], "length_m")
    assert grid.neighbour(two, (two[0], "name"), -1, 0) is None
    assert grid.neighbour(two, (two[1], "finish_class"), 0, 1) is None


# The strip and what stands beside.


def test_each_step_of_the_strip_says_its_figures_and_whose_they_are() -> None:
    own = frozenset({StepId(f"{FIRST}.carve")})
    found = made.made_of(BOOK, JOB, FIRST, WORDS, own=own, cures={StepId(f"{FIRST}.laminate"): 58})
    by_id = {each.step: each for each in found}
    carve, laminate = by_id[StepId(f"{FIRST}.carve")], by_id[StepId(f"{FIRST}.laminate")]

    assert carve.is_typed
    assert carve.read.endswith("typed.")
    assert carve.people in {"1 person", "2 people", "3 people"}
    assert laminate.waits == "cures 58 h"
    assert not laminate.is_typed
    answer = next(each for each in found if each.gate is GateKind.ANSWER)
    assert answer.waits == "10 days"
    assert found[-1].gate is None
    assert found[-1].kind is None


def test_boxes_of_unknown_size_are_told_from_others() -> None:
    segment = job(BOOK).segments[0]
    known, unknown = boxes_of((segment, replace(segment, length_m=None)))
    assert known.is_known
    assert not unknown.is_known


# The chosen step.


@pytest.mark.parametrize(("text", "hands"), [("1", 1), ("2", 2), ("5", 5)])
def test_so_many_work_on_a_stage_and_who_must_be_able_to_stays(text: str, hands: int) -> None:
    step = StepId(f"{FIRST}.carve")
    before = writing.stage(BOOK, step).ways[0]
    after = writing.stage(writing.stage_hands(BOOK, step, text).book, step).ways[0]

    assert writing.hands_of(after) == hands
    assert after.needs[0].can == min(before.needs[0].can, hands)
    assert after.hours == before.hours
    assert not stops(writing.stage_hands(BOOK, step, text).book)


@pytest.mark.parametrize("text", ["0", "99", "some"])
def test_so_many_can_not_work_on_a_stage(text: str) -> None:
    with pytest.raises(NotTaken):
        writing.stage_hands(BOOK, StepId(f"{FIRST}.carve"), text)


def test_an_answer_has_days_of_its_own_or_the_usual_ones() -> None:
    gate = next(s for s in job(BOOK).steps if isinstance(s, Gate) and s.gate is GateKind.ANSWER)
    book = writing.gate_days(BOOK, gate.id, "4").book
    shown = made.made_of(book, JOB, FIRST, WORDS, own=frozenset(), cures={})
    assert next(each for each in shown if each.step == gate.id).waits == "4 days"
    assert writing.gate_days(book, gate.id, "").book.jobs == BOOK.jobs

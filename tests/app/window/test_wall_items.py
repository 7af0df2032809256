"""The one list: what of a book and its plan stands on the wall, and what is told of it."""

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from app.window.wall.derive import Shown, derive
from app.window.wall.items import STOPS, Role, Wall, minute_of, neighbours
from app.window.wall.layout import season
from app.words import Words
from scheduler.outcome import Verdict
from shared.book import Gate, GateKind, Journey, Pin, Stage, Told
from shared.plan import Plan, Unplaced
from tests.app.window.scenes import a_wall, laid_out, outcome_for, planted, shown
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_placement,
    a_plan,
    a_segment,
    a_stage,
    a_trip,
    at,
)


def wall_of(made: Shown) -> Wall:
    return derive(made, Words("en", book=made.book))


def test_every_placement_of_a_stage_stands_in_the_rows_of_its_segments() -> None:
    made = planted()
    assert made.plan is not None
    wall = a_wall()
    steps = {s.id: s for job in made.book.jobs for s in job.steps}
    jobs = {job.id: job for job in made.book.jobs}
    checked = 0
    for placement in made.plan.placements:
        step = steps[placement.step]
        if not isinstance(step, Stage):
            continue
        over = step.segments or tuple(s.id for s in jobs[placement.job].segments)
        for segment in over:
            item = wall.by_id[f"{step.id} @{segment}"]
            assert (item.start, item.end) == (minute_of(placement.start), minute_of(placement.end))
            assert wall.rows[item.row].segment == segment
            assert item.kind is step.kind
            assert item.hands == len(placement.people)
            checked += 1
    assert checked > 50


def test_jobs_stand_in_the_order_of_their_windows() -> None:
    starts = [band.window.start for band in a_wall().bands if band.window]

    assert len(starts) == 3
    assert starts == sorted(starts)


def test_every_gate_and_leg_is_on_the_wall() -> None:
    made, wall = planted(), a_wall()
    gates = [s for job in made.book.jobs for s in job.steps if isinstance(s, Gate)]
    legs = [s for job in made.book.jobs for s in job.steps if isinstance(s, Journey)]
    seams = {item.step for band in wall.bands for item in band.seams}

    assert {gate.id for gate in gates} == seams
    assert sum(len(band.legs) for band in wall.bands) == sum(len(s.legs) for s in legs)


def test_the_list_holds_what_rows_and_bands_hold() -> None:
    wall = a_wall()
    from_rows = {i.id for row in wall.rows for i in (*row.blocks, *row.cures, *row.waits)}
    from_bands = {i.id for band in wall.bands for i in (band.header, *band.seams, *band.legs)}

    assert from_rows | from_bands <= set(wall.by_id)
    assert len(wall.items) == len(wall.by_id), "two items have one id"
    for item in wall.items:
        assert item.start <= item.end
        assert item.name, item.id


def test_what_is_not_a_stop_belongs_to_one_that_is() -> None:
    wall = a_wall()
    for item in wall.items:
        if item.role in {Role.CURE, Role.WAIT, Role.SPARE}:
            owner = wall.item(item.owner)
            assert owner is not None, item.id
            assert owner.role in STOPS


def test_pieces_of_a_block_lie_inside_it_and_do_not_overlap() -> None:
    wall = a_wall()
    blocks = [block for row in wall.rows for block in row.blocks]
    assert any(len(block.fine) > 1 for block in blocks), "no stage pauses: the book is too easy"
    for block in blocks:
        for pieces in (block.rough, block.fine):
            assert pieces[0][0] >= block.start
            assert pieces[-1][1] <= block.end
            assert all(a[1] < b[0] for a, b in pairwise(pieces))
        assert len(block.rough) <= len(block.fine)
        if block.is_one_go:
            assert block.fine == ((block.start, block.end),)


def test_waits_fill_the_time_from_cured_to_the_next_block() -> None:
    wall = a_wall()
    for row in wall.rows:
        cured = {cure.id.removeprefix("cure "): cure.end for cure in row.cures}
        for wait in row.waits:
            before = [b for b in row.blocks if b.start < wait.end]
            assert max(cured.get(b.id, b.end) for b in before) == wait.start
            assert any(b.start == wait.end for b in row.blocks)


def test_the_tail_runs_from_the_last_work_to_the_latest_loading() -> None:
    for row in a_wall().rows:
        assert row.spare is not None
        last = max([b.end for b in row.blocks] + [c.end for c in row.cures])
        assert row.spare.start == last
        assert row.spare.end > last


def test_neighbours_lead_along_the_row_and_back() -> None:
    wall = a_wall()
    for index, row in enumerate(wall.rows):
        for a, b in pairwise(row.stops):
            assert neighbours(wall, a, index).after == b.id
            assert neighbours(wall, b, index).before == a.id
        assert neighbours(wall, row.stops[0], index).before is None
        assert neighbours(wall, row.stops[-1], index).after is None


def test_above_and_below_are_the_nearest_in_time_of_the_next_row() -> None:
    wall = a_wall()
    block = wall.rows[1].blocks[3]
    below = neighbours(wall, block).below
    middle = block.start + block.end
    distance = {s.id: abs(s.start + s.end - middle) for s in wall.rows[2].stops}

    assert below in distance
    assert distance[below] == min(distance.values())
    assert neighbours(wall, wall.rows[0].blocks[0]).above is None


# What is told: the order of sentences is fixed.


def _small(pin: Pin | None = None) -> Shown:
    body = a_segment("body", name="Body")
    steps = (
        a_stage("carve", segments=("body",)),
        a_stage(
            "skin", name="laminate", segments=("body",), cure_hours=53, in_one_go=True, stays=True,
            places=("bay",), pin=pin,
        ),
        a_gate("loading"),
        a_journey("journey"),
    )  # fmt: skip
    job = a_job("owl", name="Reading owl", segments=(body,), steps=steps)
    book = a_book(job)
    plan = a_plan(
        book,
        placements=(
            a_placement("carve", "2026-01-05 08:00", "2026-01-06 09:00", job="owl"),
            a_placement("skin", "2026-01-07 07:30", "2026-01-07 14:30", job="owl", place="bay"),
            a_placement("loading", "2026-01-12 08:00", "2026-01-12 08:00", job="owl", people=()),
        ),
        trips=(a_trip("journey", job="owl"),),
    )
    return Shown(book=book, now=NOW, plan=plan)


def test_a_block_tells_what_whose_who_when_where_and_then_in_this_order() -> None:
    wall = wall_of(_small())
    item = wall.by_id["skin @body"]

    assert item.name == "Body, laminate"
    assert item.description == (
        "Body, laminate. Reading owl. Foam in one go, one person: Ana. "
        "Wed 7 Jan 07:30 to 14:30, Bay. Then sets 53 hours, to Fri 9 Jan 19:30. "
        "Bay is held until then."
    )


def test_what_is_pinned_and_what_has_changed_since_the_sheet_is_told_last() -> None:
    small = _small(pin=Pin(start=at("2026-01-07 07:30")))
    assert small.plan is not None
    moved = tuple(
        replace(p, start=p.start - timedelta(hours=24), end=p.end - timedelta(hours=24))
        if p.step == "skin"
        else p
        for p in small.plan.placements
    )
    told = Told(plan=replace(small.plan, placements=moved), at=at("2026-01-02 15:00"))
    wall = wall_of(replace(small, book=replace(small.book, told=told)))

    skin, carve = wall.by_id["skin @body"], wall.by_id["carve @body"]
    assert skin.is_anew
    assert skin.is_pinned
    assert skin.description.endswith("Changed since the sheet of Fri 2 Jan. Pinned.")
    assert not carve.is_anew
    assert carve.description.endswith("As on the sheet of Fri 2 Jan.")


def test_a_job_says_its_window_its_verdict_and_what_is_to_spare() -> None:
    band = a_wall().bands[0]

    day = f"{band.window_day}"
    assert band.header.name == f"Reading owl, window {day}, fits, 2 days to spare"
    assert f"The site is ours from {day}" in band.header.description
    assert band.spare_text == "2 d"


def test_a_missed_job_has_a_torn_part_with_words() -> None:
    made = planted()
    assert made.plan is not None
    job = made.book.jobs[0]
    early = replace(job.windows[0], end=job.windows[0].start + timedelta(minutes=30))
    book = replace(made.book, jobs=(replace(job, windows=(early,)), *made.book.jobs[1:]))
    missed = replace(shown(outcome=outcome_for(made, Verdict.MISSES)), book=book)
    band = wall_of(missed).bands[0]

    assert band.late is not None
    assert band.late.start == minute_of(early.end)
    assert band.late.end == band.done_by
    assert band.late_text == "3 days late"
    assert band.spare_text == ""


def test_a_book_without_a_plan_shows_windows_and_names() -> None:
    made = planted()
    wall = wall_of(Shown(book=made.book, now=made.now))

    assert wall.is_bare
    assert [band.name for band in wall.bands] == [band.name for band in a_wall().bands]
    assert all(band.window is not None for band in wall.bands)
    assert all(not band.legs for band in wall.bands)


def test_a_plan_of_a_step_that_the_book_no_longer_has_is_left_out() -> None:
    small = _small()
    job = small.book.jobs[0]
    cut = replace(job, steps=tuple(s for s in job.steps if s.id != "skin"))
    wall = wall_of(replace(small, book=replace(small.book, jobs=(cut,))))

    assert "skin @body" not in wall.by_id
    assert "carve @body" in wall.by_id


def test_the_season_begins_two_working_days_back_and_ends_with_the_last_window() -> None:
    wall = a_wall()
    first, last = season(wall)
    worked = [day for day in wall.days if not day.is_off and first <= day.start < wall.now]

    # Now is in the morning of a working day: that day, and two before it.
    assert len(worked) == 3
    assert last == max(band.window.end for band in wall.bands if band.window)


@pytest.mark.parametrize("seed", [1, 2, 3, 5])
def test_other_books_have_a_whole_wall_too(seed: int) -> None:
    made = planted(seed)
    assert isinstance(made.plan, Plan)
    wall = a_wall(seed)

    assert len(wall.rows) == sum(len(job.segments) for job in made.book.jobs)
    assert all(row.blocks for row in wall.rows)
    kinds = {item.role for item in wall.items}
    assert {Role.JOB, Role.WINDOW, Role.SEGMENT, Role.BLOCK, Role.ANSWER, Role.LEG} <= kinds
    assert GateKind.ANSWER.value in {role.value for role in kinds}


def test_a_job_without_segments_or_window_stands_there_by_its_name() -> None:
    bare = a_job("bare", segments=(), steps=(), windows=())
    book = a_book(bare, a_job())
    wall = wall_of(Shown(book=book, now=NOW))
    band = next(band for band in wall.bands if band.job == "bare")

    assert band.row_count == 0
    assert band.window is None
    assert band.header.name == "Bare, no window"
    assert len(wall.rows) == 1
    layout = laid_out(wall)
    for item in wall.items:
        assert layout.rect(item).height >= 0


def test_why_a_step_has_no_place_is_told_with_its_job() -> None:
    made = planted()
    assert made.plan is not None
    job = made.book.jobs[0]
    gone = Unplaced(job=job.id, step=job.steps[1].id, code="nobody_can")
    plan = replace(made.plan, unplaced=(gone,))
    wall = wall_of(shown(outcome=outcome_for(made, Verdict.CANNOT), plan=plan))
    words = Words("en", book=made.book)

    assert words.unplaced(gone.step, gone.code) in wall.by_id[f"job {job.id}"].description

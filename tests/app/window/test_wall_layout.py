"""Where things lie: whole pixels, rows as large as fit, and what is under a point."""

import pytest

from app.window.tokens import ROW_LEAST, ROW_MOST
from app.window.wall.items import Role
from app.window.wall.layout import Scale, hit, lay_out, row_at, visible
from tests.app.window.scenes import a_wall, laid_out


def test_a_scale_leads_there_and_back() -> None:
    scale = Scale(origin=1_000_000, pixels_per_day=96, offset=37)
    for minute in (1_000_000, 1_000_015, 1_234_567):
        assert abs(scale.minute(scale.x(minute)) - minute) <= 15


def test_scrolling_moves_everything_by_the_same_whole_pixels() -> None:
    scale = Scale(origin=0, pixels_per_day=9.37, offset=0)
    minutes = range(0, 100_000, 777)

    assert {scale.x(m) - scale.moved(41).x(m) for m in minutes} == {41}


@pytest.mark.parametrize("factor", [0.5, 1.25, 4.0])
def test_zooming_holds_what_is_under_the_pointer(factor: float) -> None:
    scale = Scale(origin=0, pixels_per_day=20, offset=300)
    held = scale.minute(500)

    assert abs(scale.zoomed(20 * factor, 500).x(held) - 500) <= 1


def test_zooming_stops_at_a_year_and_at_quarters_of_an_hour() -> None:
    scale = Scale(origin=0, pixels_per_day=20)

    assert scale.zoomed(0.001, 0).pixels_per_day == 4
    assert scale.zoomed(99_999, 0).pixels_per_day == 1000


def test_rows_are_as_high_as_fit_and_never_lower_than_12() -> None:
    wall = a_wall()
    scale = laid_out(wall).scale
    heights = {h: lay_out(wall, 1366, h, scale).row for h in (200, 300, 400, 634, 2000)}

    assert heights[200] == ROW_LEAST
    assert heights[2000] == ROW_MOST
    assert sorted(heights.values()) == list(heights.values())
    fitting = lay_out(wall, 1366, 400, scale)
    assert ROW_LEAST < fitting.row < ROW_MOST
    assert fitting.total <= 400


def test_where_rows_do_not_fit_the_wall_scrolls_no_farther_than_its_end() -> None:
    wall = a_wall()
    layout = lay_out(wall, 1366, 200, laid_out(wall).scale, scroll=99_999)

    assert layout.scroll == layout.total - 200
    assert laid_out(wall).scroll == 0


def test_names_stand_right_of_the_window_and_never_past_the_edge() -> None:
    wall = a_wall()
    season, near = laid_out(wall), laid_out(wall, per_day=96)
    for band in wall.bands:
        assert season.names_left(band) >= season.window_left_right(band)[1]
        assert near.names_left(band) == near.names_x
        assert near.is_window_out_of_sight(band)
        assert not season.is_window_out_of_sight(band)


def test_a_window_is_never_narrower_than_9_pixels() -> None:
    wall = a_wall()
    layout = laid_out(wall, per_day=4)
    for band in wall.bands:
        left, right = layout.window_left_right(band)
        assert right - left >= 9


def test_thickness_is_people() -> None:
    layout = laid_out(a_wall())

    assert layout.row == 30
    assert [layout.thickness(hands) for hands in (1, 2, 3, 5)] == [18, 24, 30, 30]


@pytest.mark.parametrize("per_day", [0, 30, 96, 250])
def test_a_point_on_a_block_finds_it_or_what_lies_over_it(per_day: float) -> None:
    wall = a_wall()
    layout = laid_out(wall, per_day=per_day)
    found = 0
    for row, shown in enumerate(wall.rows):
        for block in shown.blocks:
            left, right = layout.span_x(block)
            if not (layout.sizes.margin < left and right < layout.names_x and right - left > 14):
                continue
            item = hit(wall, layout, (left + right) // 2, layout.row_middle(row))
            assert item is not None
            assert item.start <= block.end
            assert item.end >= block.start
            found += item.id == block.id
    assert found >= 4


def test_gaps_between_rows_count_to_a_row() -> None:
    layout = laid_out(a_wall())
    for row in (0, 1, 2):
        assert row_at(layout, layout.row_tops[row]) == row
        assert row_at(layout, layout.row_tops[row] + layout.row) == row
    assert row_at(layout, 0) is None


def test_names_and_windows_are_found_too() -> None:
    wall = a_wall()
    layout = laid_out(wall)
    band = wall.bands[0]
    left, _ = layout.window_left_right(band)
    names = layout.names_left(band) + 30

    header = hit(wall, layout, names, layout.band_top(band) + 5)
    segment = hit(wall, layout, names, layout.row_middle(1))
    window = hit(wall, layout, left + 1, layout.row_middle(0))
    assert header is not None
    assert header.role is Role.JOB
    assert segment is not None
    assert segment.id == f"segment {wall.rows[1].segment}"
    assert window is not None
    assert window.job == band.job
    assert hit(wall, layout, 5, 5) is None


def test_bisect_gives_what_a_plain_look_gives() -> None:
    row = a_wall().rows[0].blocks
    low, high = row[2].end - 10, row[6].start + 10

    assert visible(row, low, high) == tuple(b for b in row if b.end > low and b.start < high)
    assert visible(row, 0, 1) == ()

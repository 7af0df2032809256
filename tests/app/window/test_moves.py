"""Where the keys lead."""

from dataclasses import replace

from app.window.wall import moves
from app.window.wall.items import Role, Wall
from app.window.wall.moves import Cursor
from tests.app.window.scenes import a_wall


def _spot(wall: Wall, row: int, index: int) -> Cursor:
    return Cursor(item=wall.rows[row].stops[index].id, row=row)


def test_the_arrows_reach_every_stop_of_a_row_and_end_at_its_ends() -> None:
    wall = a_wall()
    spot: Cursor | None = _spot(wall, 1, 0)
    seen = []
    while spot is not None:
        seen.append(spot.item)
        assert spot.row == 1
        spot = moves.beside(wall, spot, "right")

    assert seen == [stop.id for stop in wall.rows[1].stops]
    assert moves.beside(wall, _spot(wall, 1, 0), "left") is None


def test_down_and_up_change_the_row_and_stay_near_in_time() -> None:
    wall = a_wall()
    down = moves.beside(wall, _spot(wall, 0, 1), "down")

    assert down is not None
    assert down.row == 1
    assert moves.beside(wall, _spot(wall, 0, 1), "up") is None


def test_a_seam_is_walked_down_row_by_row() -> None:
    wall = a_wall()
    gate = next(s for s in wall.bands[0].seams if s.role is Role.ANSWER)
    spot = Cursor(item=gate.id, row=0)
    below = moves.beside(wall, spot, "down")

    assert below == Cursor(item=gate.id, row=1)


def test_every_stop_can_be_reached_from_the_first_by_arrows() -> None:
    wall = a_wall()
    start = moves.first(wall)
    assert start is not None
    reached, waiting = {(start.item, start.row)}, [start]
    while waiting:
        here = waiting.pop()
        for key in ("left", "right", "up", "down"):
            there = moves.beside(wall, here, key)
            if there is not None and (there.item, there.row) not in reached:
                reached.add((there.item, there.row))
                waiting.append(there)

    assert {item for item, _ in reached} == {s.id for row in wall.rows for s in row.stops}


def test_j_goes_round_the_windows_in_their_order() -> None:
    wall = a_wall()
    windows = [band.window.id for band in wall.bands if band.window]
    spot, seen = None, []
    for _ in range(len(windows) + 1):
        spot = moves.window_after(wall, spot)
        assert spot is not None
        seen.append(spot.item)
    back = moves.window_after(wall, spot, back=True)

    assert seen == [*windows, windows[0]]
    assert back is not None
    assert back.item == windows[-1]


def test_from_a_stage_j_goes_to_its_own_jobs_window_first() -> None:
    wall = a_wall()
    row = wall.bands[1].first_row
    spot = moves.window_after(wall, _spot(wall, row, 2))

    assert spot is not None
    assert wall.by_id[spot.item].job == wall.bands[1].job


def test_g_goes_from_gate_to_gate_in_time() -> None:
    wall = a_wall()
    gates = [s for band in wall.bands for s in band.seams if s.role in moves.GATES]
    spot, seen = None, []
    for _ in gates:
        spot = moves.gate_after(wall, spot)
        assert spot is not None
        seen.append(spot.item)

    assert sorted(seen) == sorted(gate.id for gate in gates)
    times = [g.end if g.role is Role.ANSWER else g.start for g in map(wall.by_id.get, seen) if g]
    assert times == sorted(times)


def test_end_finds_the_window_of_what_is_chosen_else_the_governing_one() -> None:
    wall = a_wall()
    chosen = moves.job_window(wall, _spot(wall, wall.bands[2].first_row, 0))
    governing = moves.job_window(wall, None)

    assert chosen is not None
    assert wall.by_id[chosen.item].job == wall.bands[2].job
    assert governing is not None
    assert wall.by_id[governing.item].job == wall.governing


def test_from_a_job_the_arrows_lead_into_its_row() -> None:
    wall = a_wall()
    header = moves.at(wall, wall.bands[1].header.id)
    assert header is not None
    into = moves.beside(wall, header, "right")

    assert into is not None
    assert into.row == wall.bands[1].first_row


def test_on_an_empty_wall_nothing_leads_anywhere() -> None:
    wall = replace(a_wall(), bands=(), rows=(), items=(), by_id={})

    assert moves.first(wall) is None
    assert moves.window_after(wall, None) is None
    assert moves.gate_after(wall, None) is None
    assert moves.at(wall, "gone") is None

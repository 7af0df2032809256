"""Where the arrow keys lead on the wall. No Qt."""

from dataclasses import dataclass

from app.window.wall.items import (
    NO_ROW,
    STOPS,
    Item,
    Role,
    Wall,
    neighbours,
    row_beside,
)
from app.window.wall.layout import visible
from shared.ids import StepId

GATES = frozenset({Role.ANSWER, Role.TRIAL_FIT, Role.LOADING})


@dataclass(frozen=True, slots=True, kw_only=True)
class Cursor:
    """The chosen item and the row in which it was chosen."""

    item: str
    row: int


def on_step(wall: Wall, step: StepId | None) -> Cursor | None:
    """Return the place of a step's first item, None where it has none."""
    mine = (item for item in wall.items if item.role in STOPS and item.step == step)
    found = None if step is None else next(mine, None)
    return at(wall, found.id) if found is not None else None


def at(wall: Wall, identity: str, row: int | None = None) -> Cursor | None:
    """Return a cursor on an item, in a row of it; None when it is not on the wall."""
    item = wall.item(identity)
    if item is None:
        return None
    wanted = item.row if row is None or not item.row <= row <= item.last_row else row
    return Cursor(item=identity, row=max(0, wanted))


def first(wall: Wall) -> Cursor | None:
    """Return where the keyboard begins: the first work from now on, else the first item."""
    stops = [stop for row in wall.rows for stop in row.stops]
    if not stops:
        return at(wall, wall.items[0].id) if wall.items else None
    coming = [stop for stop in stops if stop.end > wall.now] or stops
    chosen = min(coming, key=lambda stop: (stop.start, stop.row))
    return Cursor(item=chosen.id, row=max(0, chosen.row))


def partners(wall: Wall, identity: str | None) -> tuple[Item, ...]:
    """Return what is worked on with a block at the same time by its people; of a gate its work."""
    item = wall.item(identity)
    if item is not None and item.role in GATES:
        return tuple(b for row in wall.rows for b in row.blocks if b.owner == item.id)
    if item is None or item.role is not Role.BLOCK or not item.people:
        return ()
    who = frozenset(item.people)
    return tuple(
        block
        for row in wall.rows
        for block in visible(row.blocks, item.start, item.end)
        if block.id != item.id and block.start < item.end and who & frozenset(block.people)
    )


def beside(wall: Wall, cursor: Cursor, key: str) -> Cursor | None:
    """Return where an arrow leads ("left", "right", "up", "down"), or None."""
    item = wall.item(cursor.item)
    if item is None or item.row == NO_ROW:
        return None
    if item.role in {Role.JOB, Role.WINDOW, Role.SEGMENT}:
        return _into_row(wall, cursor, key)
    near = neighbours(wall, item, cursor.row)
    if key == "left":
        return at(wall, near.before, cursor.row) if near.before else None
    if key == "right":
        return at(wall, near.after, cursor.row) if near.after else None
    stride = -1 if key == "up" else 1
    own = row_beside(wall, cursor.row, stride, item.id)
    if own != cursor.row:
        return Cursor(item=item.id, row=own)
    target = near.above if key == "up" else near.below
    return _in_next_row(wall, cursor.row, stride, target)


def _in_next_row(wall: Wall, row: int, stride: int, target: str | None) -> Cursor | None:
    if target is None:
        return None
    row += stride
    while 0 <= row < len(wall.rows):
        if any(stop.id == target for stop in wall.rows[row].stops):
            return Cursor(item=target, row=row)
        row += stride
    return None


def _into_row(wall: Wall, cursor: Cursor, key: str) -> Cursor | None:
    """From a job, a window or a segment: into a row, its last item first."""
    stride = {"up": -1, "down": 1}.get(key, 0)
    row = cursor.row + stride
    if not 0 <= row < len(wall.rows) or not wall.rows[row].stops:
        return None
    stops = wall.rows[row].stops
    return Cursor(item=stops[0 if key == "right" else -1].id, row=row)


def window_after(wall: Wall, cursor: Cursor | None, *, back: bool = False) -> Cursor | None:
    """Return the next job's window, or the one before; round at the end."""
    bands = [band for band in wall.bands if band.window is not None]
    if not bands:
        return None
    item = wall.item(cursor.item) if cursor else None
    here = next((n for n, band in enumerate(bands) if item and band.job == item.job), None)
    if here is None:
        index = -1 if back else 0
    elif item is not None and item.role is not Role.WINDOW and not back:
        index = here
    else:
        index = (here + (-1 if back else 1)) % len(bands)
    window = bands[index].window
    assert window is not None
    return at(wall, window.id)


def gate_after(wall: Wall, cursor: Cursor | None) -> Cursor | None:
    """Return the next answer, trial fit or loading in time, round at the end."""
    gates = sorted(
        (item for band in wall.bands for item in band.seams if item.role in GATES),
        key=lambda gate: (_moment(gate), gate.id),
    )
    if not gates:
        return None
    item = wall.item(cursor.item) if cursor else None
    since = (_moment(item), item.id) if item else (wall.now, "")
    later = [gate for gate in gates if (_moment(gate), gate.id) > since]
    return at(wall, (later or gates)[0].id)


def _moment(item: Item) -> int:
    return item.end if item.role is Role.ANSWER else item.start


def job_window(wall: Wall, cursor: Cursor | None) -> Cursor | None:
    """Return the window of the chosen job, else of the one that governs."""
    item = wall.item(cursor.item) if cursor else None
    job = item.job if item else None
    band = wall.band_of(job) or next((b for b in wall.bands if b.job == wall.governing), None)
    band = band or (wall.bands[0] if wall.bands else None)
    return at(wall, band.window.id) if band and band.window else None

"""Where rows, days and bars lie in pixels. Only numbers and rectangles."""

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QRect

from app.window.people.items import Bar, Board, Column, Line, Sort
from app.window.tokens import LARGE_FROM_WIDTH, px
from app.window.wall.items import Piece

LEFT = 16
SEAM = 10
"""The gap after today, in the middle of which the seam lies."""
GAP = 4
"""Between the days."""
RIGHT = 8
MOST_DAYS = 9
LEAST_ROW, LEAST_PLACE = 24, 19
BETWEEN = 14
"""Between people and places."""
LANE = 17
MOST_ROW_PERCENT = 125
"""So much higher than usual rows grow where few people leave room."""
JOINED = 60
"""On the days after today a break of so many minutes leaves no gap."""
INSET = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Pixels of the view at one size of screen: names, today, a day, a row, a place's row."""

    names: int
    today: int
    day: int
    row: int
    place: int


def sizes_for(width: int) -> Sizes:
    """Return the sizes for a whole view so many pixels wide."""
    if width >= px(LARGE_FROM_WIDTH):
        return Sizes(names=px(92), today=760, day=170, row=px(44), place=px(30))
    return Sizes(names=px(76), today=474, day=106, row=px(36), place=px(25))


def day_count(sizes: Sizes, width: int) -> int:
    """Return how many days stand in a width: today and those after it."""
    rest = width - LEFT - sizes.names - sizes.today - SEAM - RIGHT
    return 1 + max(1, min(MOST_DAYS, rest // (sizes.day + GAP)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """A day in pixels."""

    column: Column
    left: int
    right: int

    def x(self, minute: int) -> int:
        """Return where a minute lies, at the edge where it is outside the hours on show."""
        first, last = self.column.start, self.column.end
        part = (min(max(minute, first), last) - first) / max(1, last - first)
        return self.left + round(part * (self.right - self.left))

    def minute(self, x: int) -> int:
        """Return the minute at a place."""
        part = (min(max(x, self.left), self.right) - self.left) / max(1, self.right - self.left)
        return self.column.start + round(part * (self.column.end - self.column.start))


@dataclass(frozen=True, slots=True, kw_only=True)
class Chunk:
    """What of a bar lies in one day. rects: its worked parts. is_out: worked outside what is shown.

    number: of the day, counted from 0. is_still: the place is held, nobody works there that day.
    """

    line: Line
    bar: Bar
    number: int
    rects: tuple[QRect, ...]
    is_out: bool = False
    is_still: bool = False

    @property
    def id(self) -> str:
        """Its id as a spot."""
        return f"{self.line.id} {self.bar.id} {self.number}"

    @property
    def rect(self) -> QRect:
        """All of it."""
        return self.rects[0].united(self.rects[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row in pixels."""

    line: Line
    top: int
    height: int
    lanes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """All of the view in pixels."""

    width: int
    height: int
    names: int
    tracks: tuple[Track, ...]
    rows: tuple[Row, ...]
    chunks: tuple[Chunk, ...]
    seam_x: int
    places_y: int

    def row_at(self, y: int) -> Row | None:
        """Return the row at a height."""
        return next((row for row in self.rows if row.top <= y < row.top + row.height), None)


def lay_out(board: Board, sizes: Sizes, width: int, height: int) -> Layout:
    """Lay a board out; rows are as high as fits, never lower than can be read."""
    tracks = _tracks(board, sizes, width)
    lanes = {line.id: _lanes(line) for line in board.lines}
    people, places = board.people, board.places
    place = _place_row(sizes, height, lanes, board)
    low = sum(_place_height(place, lanes[line.id]) for line in places)
    room = height - low - BETWEEN - RIGHT
    most = sizes.row * MOST_ROW_PERCENT // 100
    row = max(px(LEAST_ROW), min(most, room // max(1, len(people))))
    rows: list[Row] = []
    y = 2
    for line in people:
        rows.append(Row(line=line, top=y, height=row, lanes=1))
        y += row
    places_y = y + BETWEEN // 2
    y += BETWEEN
    for line in places:
        count = max(lanes[line.id].values(), default=0) + 1
        high = _place_height(place, lanes[line.id])
        rows.append(Row(line=line, top=y, height=high, lanes=count))
        y += high
    return Layout(
        width=width,
        height=y + RIGHT,
        names=sizes.names,
        tracks=tracks,
        rows=tuple(rows),
        chunks=tuple(_chunks(rows, tracks, lanes)),
        seam_x=tracks[0].right + SEAM // 2 if tracks else 0,
        places_y=places_y,
    )


def _tracks(board: Board, sizes: Sizes, width: int) -> tuple[Track, ...]:
    after = len(board.columns) - 1
    left = LEFT + sizes.names
    wide = width - left - RIGHT - SEAM - after * (sizes.day + GAP)
    made = [Track(column=board.columns[0], left=left, right=left + max(200, wide))]
    x = made[0].right + SEAM
    for column in board.columns[1:]:
        made.append(Track(column=column, left=x, right=x + sizes.day))
        x += sizes.day + GAP
    return tuple(made)


def _lanes(line: Line) -> dict[str, int]:
    """Return by bar the lane in which it overlaps no other; people have one."""
    free: list[int] = []
    found: dict[str, int] = {}
    for bar in line.bars:
        if not line.is_place:
            found[bar.id] = 0
            continue
        lane = next((at for at, end in enumerate(free) if end <= bar.start), len(free))
        if lane == len(free):
            free.append(bar.end)
        else:
            free[lane] = bar.end
        found[bar.id] = lane
    return found


def _place_row(sizes: Sizes, height: int, lanes: dict[str, dict[str, int]], board: Board) -> int:
    """Return how high a place's row is: lower than usual where people need the room."""
    room = height - BETWEEN - RIGHT - sizes.row * len(board.people)
    for high in range(sizes.place, px(LEAST_PLACE), -1):
        if sum(_place_height(high, lanes[line.id]) for line in board.places) <= room:
            return high
    return px(LEAST_PLACE)


def _place_height(usual: int, lanes: dict[str, int]) -> int:
    count = max(lanes.values(), default=0) + 1
    return usual if count == 1 else max(usual, count * px(LANE) + INSET)


def _chunks(
    rows: list[Row], tracks: tuple[Track, ...], lanes: dict[str, dict[str, int]]
) -> Iterable[Chunk]:
    for row in rows:
        for number, track in enumerate(tracks):
            for bar in row.line.bars:
                chunk = _chunk(row, track, number, bar, lanes[row.line.id][bar.id])
                if chunk is not None:
                    yield chunk


def _chunk(row: Row, track: Track, number: int, bar: Bar, lane: int) -> Chunk | None:
    top, high = _band(row, lane)
    day_first, day_last = _day_of(track)
    first, last = track.column.start, track.column.end
    mine = _within(bar.pieces, day_first, day_last)
    is_still = row.line.is_place and bar.sort is Sort.WORK and not mine
    if row.line.is_place:
        mine = _within(((bar.start, bar.end),), day_first, day_last)
    if row.line.is_place:
        mine = [(start, end) for start, end in mine if end > first and start < last]
    if not mine:
        return None
    if number:
        mine = _joined(mine)
    rects = []
    for start, end in mine:
        x = track.x(start)
        width = max(3, track.x(end) - x)
        x = min(x, track.right - width)
        rects.append(QRect(x, top, width, high))
    is_out = not row.line.is_place and any(start < first or end > last for start, end in mine)
    return Chunk(
        line=row.line, bar=bar, number=number, rects=tuple(rects), is_out=is_out, is_still=is_still
    )


def _within(pieces: tuple[Piece, ...], first: int, last: int) -> list[Piece]:
    return [
        (max(start, first), min(end, last)) for start, end in pieces if start < last and end > first
    ]


def _joined(pieces: list[tuple[int, int]]) -> list[tuple[int, int]]:
    made = pieces[:1]
    for start, end in pieces[1:]:
        if start - made[-1][1] <= JOINED:
            made[-1] = (made[-1][0], end)
        else:
            made.append((start, end))
    return made


def _band(row: Row, lane: int) -> tuple[int, int]:
    if row.lanes == 1:
        inset = INSET // 2 if row.line.is_place else INSET
        return row.top + inset, row.height - 2 * inset + 1
    high = (row.height - INSET) // row.lanes
    return row.top + INSET // 2 + lane * high, high - 1


def _day_of(track: Track) -> tuple[int, int]:
    """Return minutes that hold the whole day of a track: half of what lies between two days."""
    spare = (24 * 60 - (track.column.end - track.column.start)) // 2
    return track.column.start - spare, track.column.end + spare

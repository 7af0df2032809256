"""Where things lie: a scale of time, a stack of rows, and what lies under a point."""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from math import floor

from app.window import tokens
from app.window.tokens import Sizes, px
from app.window.wall.items import DAY_MINUTES, NO_ROW, Band, Day, Item, Role, Row, Wall
from shared.ids import JobId

LEAST_PIXELS_PER_DAY = 4.0
MOST_PIXELS_PER_DAY = 1000.0
STOPS_OF_ZOOM = (
    4.0,
    6.5,
    9.0,
    13.0,
    17.0,
    24.0,
    30.0,
    46.0,
    64.0,
    96.0,
    160.0,
    250.0,
    500.0,
    1000.0,
)
SEAM_REACH = 4
FAN_LEAST, FAN_MOST = 8, 16
THICKNESS_PERCENT = {1: 60, 2: 80}
HEADER_OF_LOW_ROWS, HEADER_OF_HIGH_ROWS = 19, 24
HIGH_ROWS_FROM = 20
FOLDED_ROW, FOLDED_HEADER, STRAND = 12, 6, 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Time to pixels: `origin` lies `offset` whole pixels left of x = 0."""

    origin: int
    pixels_per_day: float
    offset: int = 0

    def x(self, minute: float) -> int:
        """Return where an instant lies, on whole pixels that stand still while one scrolls."""
        whole = (minute - self.origin) * self.pixels_per_day / DAY_MINUTES + 0.5
        return floor(whole) - self.offset

    def minute(self, x: float) -> float:
        """Return the instant at a pixel."""
        return self.origin + (x + self.offset) * DAY_MINUTES / self.pixels_per_day

    def moved(self, pixels: int) -> "Scale":
        """Return the scale with everything moved left by so many pixels."""
        return replace(self, offset=self.offset + pixels)

    def counted_from(self, origin: int) -> "Scale":
        """Return the same view of time counted from another origin."""
        moved = round((origin - self.origin) * self.pixels_per_day / DAY_MINUTES)
        return replace(self, origin=origin, offset=self.offset - moved)

    def zoomed(self, pixels_per_day: float, about_x: float) -> "Scale":
        """Return another scale under which the instant at a pixel stays there."""
        wanted = min(MOST_PIXELS_PER_DAY, max(LEAST_PIXELS_PER_DAY, pixels_per_day))
        held = self.minute(about_x)
        offset = round((held - self.origin) * wanted / DAY_MINUTES - about_x)
        return replace(self, pixels_per_day=wanted, offset=offset)


def fitting(first: int, last: int, left: int, right: int, origin: int) -> Scale:
    """Return the scale under which a stretch fills the space from left to right."""
    days = max(1.0, (last - first) / DAY_MINUTES)
    per_day = min(30.0, max(LEAST_PIXELS_PER_DAY, (right - left) / days))
    offset = round((first - origin) * per_day / DAY_MINUTES) - left
    return Scale(origin=origin, pixels_per_day=per_day, offset=offset)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """A rectangle in pixels."""

    x: int
    y: int
    width: int
    height: int

    def holds(self, x: float, y: float) -> bool:
        """Say whether a point lies in it."""
        return self.x <= x < self.x + self.width and self.y <= y < self.y + self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The rows of a wall in pixels, and the scale; y counts from the top of the wall's body.

    tops: of each band's header line. row_tops, heights: of each row. scroll: pixels scrolled
    down. folded: indices of the bands whose rows lie in one.
    """

    width: int
    height: int
    sizes: Sizes
    scale: Scale
    header: int
    row: int
    gap: int
    job_gap: int
    tops: tuple[int, ...]
    row_tops: tuple[int, ...]
    heights: tuple[int, ...]
    total: int
    scroll: int = 0
    folded: frozenset[int] = frozenset()

    @property
    def names_x(self) -> int:
        """Return where the names begin at the latest."""
        return self.width - self.sizes.names

    def row_middle(self, row: int) -> int:
        """Return the middle of a row."""
        return self.row_tops[row] - self.scroll + self.heights[row] // 2

    def band_top(self, band: Band) -> int:
        """Return the top of a job's header line."""
        return self.tops[band.header.band] - self.scroll

    def band_bottom(self, band: Band) -> int:
        """Return the bottom of a job's last row."""
        if not band.row_count:
            return self.band_top(band) + self.header_of(band)
        if self.is_folded(band):
            return self.rows_top(band) + px(FOLDED_ROW)
        last = band.first_row + band.row_count - 1
        return self.row_tops[last] - self.scroll + self.heights[last]

    def is_folded(self, band: Band) -> bool:
        """Say whether a job's rows lie in one."""
        return band.header.band in self.folded

    def header_of(self, band: Band) -> int:
        """Return how high a job's header line is."""
        return FOLDED_HEADER if self.is_folded(band) else self.header

    def header_baseline(self, band: Band) -> int:
        """Return where a job's name stands: in the header line, of a folded one in its row."""
        if self.is_folded(band):
            return self.rows_top(band) + px(FOLDED_ROW) - px(2)
        return self.band_top(band) + self.header - 6

    def rows_top(self, band: Band) -> int:
        """Return the top of a job's first row."""
        return self.band_top(band) + self.header_of(band)

    def window_left_right(self, band: Band) -> tuple[int, int]:
        """Return the posts of a window, which is never drawn narrower than can be seen."""
        if band.window is None:
            return 0, 0
        left = self.scale.x(band.window.start)
        return left, max(self.scale.x(band.window.end), left + tokens.WINDOW_LEAST_WIDTH)

    def names_left(self, band: Band) -> int:
        """Return where a job's names stand: right of its window, never past the edge."""
        if band.window is None:
            return self.names_x
        right = self.window_left_right(band)[1]
        if band.late is not None:
            right = max(right, self.scale.x(band.late.end))
        return max(self.sizes.margin, min(right + 10, self.names_x))

    def is_window_out_of_sight(self, band: Band) -> bool:
        """Say whether a window lies right of what can be seen, but for a sliver."""
        edge = self.names_x - 6 - tokens.WINDOW_LEAST_WIDTH
        return band.window is not None and self.scale.x(band.window.start) > edge

    def ground_right(self, band: Band) -> int:
        """Return where a job's ground ends: at its window, or where the names begin."""
        if band.window is None:
            return self.names_x - 6
        return min(self.window_left_right(band)[1], self.names_x - 6)

    def fan(self, band: Band) -> tuple[int, int]:
        """Return from where to where the segments' lines bend into one road."""
        start = self.scale.x(band.legs[0].start) if band.legs else self.names_x
        bar = start if band.bar is None else self.scale.x(band.bar)
        return max(start - FAN_MOST, min(bar, start - FAN_LEAST)), start

    def tail_right(self, band: Band) -> int:
        """Return where tails end: at the loading bar, the road or the window, what comes first."""
        ends = [self.names_x - 6]
        if band.bar is not None:
            ends.append(self.scale.x(band.bar) - 3)
        if band.legs:
            ends.append(self.fan(band)[0])
        if band.window is not None:
            ends.append(self.scale.x(band.window.start) - 4)
        return min(ends)

    def thickness(self, hands: int) -> int:
        """Return how thick so many people are."""
        percent = THICKNESS_PERCENT.get(hands, 100)
        return max(4, round(self.row * percent / 100))

    def span_x(self, item: Item) -> tuple[int, int]:
        """Return the left and right of an item."""
        left = self.scale.x(item.start)
        if item.role is Role.ANSWER:
            right = self.scale.x(item.end)
            return right - SEAM_REACH, right + SEAM_REACH
        if item.role in {Role.TRIAL_FIT, Role.SITE_GATE}:
            return left - SEAM_REACH, left + SEAM_REACH
        return left, max(self.scale.x(item.end), left + 3)

    def rect(self, item: Item) -> Rect:
        """Return where an item lies, over the full pitch of its rows."""
        left, right = self.span_x(item)
        if item.role is Role.JOB:
            top = self.tops[item.band] - self.scroll
            high = FOLDED_HEADER if item.band in self.folded else self.header
            return Rect(x=left, y=top, width=max(1, self.width - left), height=high)
        if item.role is Role.SEGMENT:
            left, right = min(left, right), max(right, left + 1)
        if item.row == NO_ROW or item.row >= len(self.row_tops):
            return Rect(x=left, y=0, width=right - left, height=0)
        top = self.row_tops[item.row] - self.gap // 2 - self.scroll
        bottom = self.row_tops[item.last_row] + self.heights[item.last_row]
        bottom += (self.gap + 1) // 2 - self.scroll
        return Rect(x=left, y=top, width=right - left, height=max(0, bottom - top))


def lay_out(
    wall: Wall,
    width: int,
    height: int,
    scale: Scale,
    *,
    scroll: int = 0,
    sizes: Sizes | None = None,
    folded: frozenset[JobId] = frozenset(),
) -> Layout:
    """Stack the jobs: the largest rows at which all fit, else the smallest, to be scrolled.

    folded: these jobs take one low row each.
    """
    sizes = sizes or tokens.sizes_for(width)
    row = px(tokens.ROW_MOST)
    while row > px(tokens.ROW_LEAST) and _total(wall, row, folded) > height - 4:
        row -= 1
    header, gap, job_gap = _pitch(row)
    tops: list[int] = []
    row_tops: list[int] = []
    heights: list[int] = []
    y = 4
    for band in wall.bands:
        tops.append(y)
        if band.job in folded:
            y += FOLDED_HEADER
            row_tops += [y + px(FOLDED_ROW) * n // band.row_count for n in range(band.row_count)]
            heights += [max(1, px(FOLDED_ROW) // band.row_count)] * band.row_count
            y += px(FOLDED_ROW) + job_gap
            continue
        y += header
        for _ in range(band.row_count):
            row_tops.append(y)
            heights.append(row)
            y += row + gap
        y += job_gap - (gap if band.row_count else 0)
    return Layout(
        width=width,
        height=height,
        sizes=sizes,
        scale=scale,
        header=header,
        row=row,
        gap=gap,
        job_gap=job_gap,
        tops=tuple(tops),
        row_tops=tuple(row_tops),
        heights=tuple(heights),
        total=y,
        folded=frozenset(band.header.band for band in wall.bands if band.job in folded),
        scroll=max(0, min(scroll, y - height)),
    )


def _pitch(row: int) -> tuple[int, int, int]:
    if row >= px(HIGH_ROWS_FROM):
        return px(HEADER_OF_HIGH_ROWS), 3, 13
    return px(HEADER_OF_LOW_ROWS), 2 if row > px(tokens.ROW_LEAST) else 1, 8


def _total(wall: Wall, row: int, folded: frozenset[JobId]) -> int:
    header, gap, job_gap = _pitch(row)
    return 4 + sum(
        FOLDED_HEADER + px(FOLDED_ROW) + job_gap
        if band.job in folded
        else header + band.row_count * row + max(0, band.row_count - 1) * gap + job_gap
        for band in wall.bands
    )


def visible(items: tuple[Item, ...], first: float, last: float) -> tuple[Item, ...]:
    """Return the items of a row, sorted by start, that reach into a stretch of time."""
    if not items or (first < items[0].end and items[-1].start < last):
        return items
    high = bisect_left(items, last, key=lambda item: item.start)
    low = bisect_right(items, first, hi=high, key=lambda item: item.end)
    return items[low:high]


def days_between(wall: Wall, low: float, high: float) -> tuple[Day, ...]:
    """Return the days that reach into a stretch of time."""
    first = bisect_right(wall.days, low, key=lambda day: day.end)
    return wall.days[first : bisect_left(wall.days, high, key=lambda day: day.start)]


def hit(wall: Wall, layout: Layout, x: float, y: float) -> Item | None:
    """Return what lies under a point: a stage, a seam, else the row's, else the job's item."""
    row = row_at(layout, y)
    if row is None or row >= len(wall.rows):
        return _header_at(wall, layout, x, y)
    band = wall.bands[wall.rows[row].band]
    return _in_row(wall.rows[row], band, layout, x) or _around(wall, band, row, layout, x)


def row_at(layout: Layout, y: float) -> int | None:
    """Return the row whose pitch holds a height; gaps count to the row above them."""
    wanted = y + layout.scroll + layout.gap // 2
    row = bisect_right(layout.row_tops, wanted) - 1
    if row < 0 or wanted >= layout.row_tops[row] + layout.heights[row] + layout.gap:
        return None
    return row


def _in_row(row: Row, band: Band, layout: Layout, x: float) -> Item | None:
    seams = [item for item in (*band.seams, *band.legs) if _touches(item, layout, x)]
    if seams and seams[0].role is not Role.LOADING:
        return seams[0]
    minute = layout.scale.minute(x)
    reach = 4 * DAY_MINUTES / layout.scale.pixels_per_day
    blocks = visible(row.blocks, minute - reach, minute + reach)
    if blocks:
        nearest = min(blocks, key=lambda b: _distance(b, minute))
        if _distance(nearest, minute) <= reach:
            return nearest
    others = (*row.cures, *row.waits, *((row.spare,) if row.spare else ()))
    found = next((item for item in others if item.start <= minute < item.end), None)
    return found or (seams[0] if seams else None)


def _touches(item: Item, layout: Layout, x: float) -> bool:
    left, right = layout.span_x(item)
    return left <= x < right


def _distance(item: Item, minute: float) -> float:
    return max(0.0, item.start - minute, minute - item.end)


def _around(wall: Wall, band: Band, row: int, layout: Layout, x: float) -> Item | None:
    """Return the window, or the segment whose name is under the point."""
    if band.window is not None:
        left, right = layout.window_left_right(band)
        if left <= x < right:
            return band.window
    if x >= layout.names_left(band):
        return wall.item(f"segment {wall.rows[row].segment}")
    return None


def _header_at(wall: Wall, layout: Layout, x: float, y: float) -> Item | None:
    for band in wall.bands:
        top = layout.band_top(band)
        if top <= y < top + layout.header_of(band) and x >= layout.names_left(band):
            return band.header
    return None


def season(wall: Wall) -> tuple[int, int]:
    """Return the stretch shown at first: two working days back, to the end of the last window."""
    ends = [band.window.end for band in wall.bands if band.window]
    ends += [band.late.end for band in wall.bands if band.late]
    last = max(ends, default=wall.now + 30 * DAY_MINUTES)
    return _back_working(wall, 2), max(last, wall.now + 7 * DAY_MINUTES)


def _back_working(wall: Wall, count: int) -> int:
    """Return the midnight that lies so many working days before today's."""
    past = [day for day in wall.days if day.start <= wall.now]
    start = past[-1].start if past else wall.now
    for day in reversed(past[:-1]):
        if not count:
            break
        start, count = day.start, count - (not day.is_off)
    return start

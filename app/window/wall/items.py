"""What stands on the wall, in time and rows: the one list that all of the wall is made from.

Painting, hit test, keyboard and screen reader read it; where an item lies in pixels follows
from it and a layout. Times are minutes since 1970 in UTC.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any, Protocol

from scheduler.outcome import Verdict
from shared.book import GateKind, Kind, LegKind
from shared.ids import JobId, PersonId, PlaceId, SegmentId, StepId

DAY_MINUTES = 24 * 60
NO_ROW = -1


def minute_of(instant: datetime) -> int:
    """Return an instant in minutes since 1970."""
    return int(instant.timestamp()) // 60


def instant_at(minute: int) -> datetime:
    """Return the instant of a minute since 1970."""
    return datetime.fromtimestamp(minute * 60, UTC)


class Role(StrEnum):
    """What an item is."""

    JOB = "job"
    WINDOW = "window"
    SEGMENT = "segment"
    BLOCK = "block"
    CURE = "cure"
    WAIT = "wait"
    ANSWER = "answer"
    TRIAL_FIT = "trial fit"
    LOADING = "loading"
    SITE_GATE = "site gate"
    LEG = "leg"
    SPARE = "spare"
    LATE = "late"


STOPS = frozenset({Role.BLOCK, Role.ANSWER, Role.TRIAL_FIT, Role.LOADING, Role.SITE_GATE, Role.LEG})
"""Roles that the arrow keys stop at and that a screen reader is told of below a row."""
SEAMS = {
    GateKind.ANSWER: Role.ANSWER,
    GateKind.TRIAL_FIT: Role.TRIAL_FIT,
    GateKind.LOADING: Role.LOADING,
    GateKind.SITE: Role.SITE_GATE,
}
Piece = tuple[int, int]


class Later:
    """A text that is made when it is asked for: most of a wall's are never read.

    It is made by whoever tells of the wall on show, and kept for as long as that is the same one.
    """

    __slots__ = ("_by", "_make", "_source", "_text")

    def __init__(self, source: "Source", make: "Callable[[Any], str]") -> None:
        """Take where the teller of the wall on show is found, and what makes the text of it."""
        self._source, self._make = source, make
        self._by: object = None
        self._text = ""

    @property
    def text(self) -> str:
        """Return the text."""
        if self._by is not self._source.teller:
            self._by = self._source.teller
            self._text = self._make(self._by)
        return self._text

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Later) and self.text == other.text

    def __hash__(self) -> int:
        return hash(self.text)


class Source(Protocol):
    """Who holds the teller of the wall on show."""

    teller: Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing on the wall.

    row, last_row: the rows it spans, counted over the whole wall. owner: id of the item that
    is chosen when this one is clicked. rough, fine: working pieces from far and from near.
    beyond: pieces in overtime, outside of the workshop's own hours.
    short: a shorter label, for where that one has no room. state: of a seam, "open", "done",
    "late". stands: of work, "done", "running" or "told" (past, and nobody has confirmed it).
    remaining: of what is running, the person-hours given by hand. initials: of its people.
    told: what is read out of it, or what makes that when somebody asks.
    """

    id: str
    role: Role
    job: JobId
    band: int
    row: int
    last_row: int
    start: int
    end: int
    name: str = ""
    told: "str | Later" = ""
    owner: str = ""
    step: StepId | None = None
    segment: SegmentId | None = None
    part: str = ""
    round: int = 0
    kind: Kind | None = None
    leg: LegKind | None = None
    hands: int = 1
    rough: tuple[Piece, ...] = ()
    fine: tuple[Piece, ...] = ()
    beyond: tuple[Piece, ...] = ()
    label: str = ""
    short: str = ""
    state: str = ""
    is_one_go: bool = False
    is_pinned: bool = False
    is_anew: bool = False
    holds_place: bool = False
    recoat: Piece | None = None
    people: tuple[PersonId, ...] = ()
    place: PlaceId | None = None
    stands: str = ""
    remaining: str = ""
    initials: str = ""

    @property
    def description(self) -> str:
        """What is read out of it."""
        return self.told if isinstance(self.told, str) else self.told.text


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbours:
    """Ids of the items beside one, or None."""

    before: str | None
    after: str | None
    above: str | None
    below: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One segment's row: what stops there, and all that is drawn in it, each by start."""

    segment: SegmentId
    band: int
    name: str
    stops: tuple[Item, ...] = ()
    blocks: tuple[Item, ...] = ()
    cures: tuple[Item, ...] = ()
    waits: tuple[Item, ...] = ()
    spare: Item | None = None
    first: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A segment from the front, in metres; outline: its own, as path data, or "".

    reached: the last work on it that is done. is_known: both sizes are written, else 1 m.
    """

    segment: SegmentId
    wide: float
    high: float
    outline: str = ""
    reached: Kind | None = None
    is_known: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """One job: its rows, its window, its seams and its journey.

    spare_text: the number over the tail. late_text: words in the torn part. bar: the latest
    start of loading; None when nothing is known of it. done_by: when the last leg ends. is_held:
    all its work still to come is pinned. shapes: its piece.
    """

    job: JobId
    name: str
    header: Item
    window: Item | None
    window_text: str
    window_day: str
    verdict: Verdict | None
    is_enquiry: bool
    first_row: int
    row_count: int
    seams: tuple[Item, ...] = ()
    legs: tuple[Item, ...] = ()
    late: Item | None = None
    access: tuple[Piece, ...] = ()
    spare_text: str = ""
    late_text: str = ""
    bar: int | None = None
    done_by: int | None = None
    is_held: bool = False
    site_zone: str = "UTC"
    shapes: tuple[Shape, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A day of the workshop's calendar: worked, off (a weekend) or shut (a holiday, a closure)."""

    start: int
    end: int
    date: date
    is_off: bool
    is_shut: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """All that stands on the wall.

    items: the list. first, last: minutes that hold all of it. days: of the workshop.
    shift_hours: its own hours. dues: by when what must follow the coats whose recoat time runs.
    since: ids of items that have changed since the plan on show, each with what it was; changes:
    the same in words.
    """

    now: int
    zone: str
    bands: tuple[Band, ...]
    rows: tuple[Row, ...]
    items: tuple[Item, ...]
    days: tuple[Day, ...]
    shift_hours: tuple[Piece, ...]
    first: int
    last: int
    governing: str | None = None
    is_stale: bool = False
    dues: tuple[tuple[int, str], ...] = ()
    since: tuple[tuple[str, str], ...] = ()
    changes: tuple[str, ...] = ()
    by_id: Mapping[str, Item] = field(default_factory=dict)

    @property
    def is_bare(self) -> bool:
        """Return whether nothing is placed yet."""
        return not any(row.blocks for row in self.rows)

    def item(self, identity: str | None) -> Item | None:
        """Return the item of that id, or None."""
        return None if identity is None else self.by_id.get(identity)

    def band_of(self, job: JobId | None) -> Band | None:
        """Return a job's band, or None."""
        return next((band for band in self.bands if band.job == job), None)


def bare_wall() -> Wall:
    """Return a wall with nothing on it."""
    return Wall(
        now=0,
        zone="UTC",
        bands=(),
        rows=(),
        items=(),
        days=(),
        shift_hours=(),
        first=0,
        last=0,
    )


def neighbours(wall: Wall, item: Item, row: int | None = None) -> Neighbours:
    """Return what lies beside an item, along one of its rows and in the rows above and below."""
    here = item.row if row is None or not item.row <= row <= item.last_row else row
    if here == NO_ROW or not wall.rows:
        return Neighbours(before=None, after=None, above=None, below=None)
    before, after = _beside(wall.rows[here].stops, item)
    return Neighbours(
        before=before,
        after=after,
        above=_nearest(wall, here, -1, item),
        below=_nearest(wall, here, 1, item),
    )


def _beside(stops: tuple[Item, ...], item: Item) -> tuple[str | None, str | None]:
    ids = [stop.id for stop in stops]
    if item.id not in ids:
        return None, None
    at = ids.index(item.id)
    return (ids[at - 1] if at else None), (ids[at + 1] if at + 1 < len(ids) else None)


def _nearest(wall: Wall, row: int, stride: int, item: Item) -> str | None:
    """Return the stop nearest in time in the next row that has another one than this."""
    middle = item.start + item.end
    row += stride
    while 0 <= row < len(wall.rows):
        others = [stop for stop in wall.rows[row].stops if stop.id != item.id]
        if others:
            return min(others, key=lambda stop: abs(stop.start + stop.end - middle)).id
        row += stride
    return None


def row_beside(wall: Wall, row: int, stride: int, item_id: str) -> int:
    """Return the nearest row in a direction in which an item stops, else the row itself."""
    seen = row + stride
    while 0 <= seen < len(wall.rows):
        if any(stop.id == item_id for stop in wall.rows[seen].stops):
            return seen
        seen += stride
    return row

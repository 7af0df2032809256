"""What the pointer is on, how long hands lie still, and a span drawn along the axis. No Qt."""

from collections.abc import Callable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from app.window.wall.items import Item, Wall, instant_at
from app.words import Words
from app.words import on_wall as say
from app.words import window as wording

STILL_SECONDS = 1.0
"""So long hands must lie still before another plan may move what they are on."""
NAMED = 7
"""So many people of a span are named; more are counted."""
Span = tuple[float, float]


@dataclass(slots=True, kw_only=True)
class Pointing:
    """The row and the item under the pointer, and when a hand last moved.

    span: from one minute to another, as drawn along the axis. ticks: seconds of some clock.
    """

    ticks: Callable[[], float]
    row: int | None = None
    item: str | None = None
    span: Span | None = None
    _from: float | None = None
    _stirred: float | None = None

    def stir(self) -> None:
        """Note that a hand moved."""
        self._stirred = self.ticks()

    @property
    def still_in(self) -> float:
        """Return in how many seconds hands will have lain still for long enough."""
        if self._stirred is None:
            return 0.0
        return max(0.0, STILL_SECONDS - (self.ticks() - self._stirred))

    def to(self, row: int | None, item: Item | None) -> bool:
        """Point at something else; whether that is another thing than before."""
        found = row, item.id if item is not None else None
        is_other = found != (self.row, self.item)
        self.row, self.item = found
        return is_other

    # A span along the axis.

    def begin_span(self, minute: float) -> None:
        """Begin a span; one of no length takes the former away."""
        self.span, self._from = None, minute

    def draw_span(self, minute: float) -> bool:
        """Lead the span on to a minute; whether one was begun."""
        if self._from is None:
            return False
        self.span = min(self._from, minute), max(self._from, minute)
        return True

    def end_span(self) -> bool:
        """Let go of the span; whether one was begun."""
        was, self._from = self._from is not None, None
        return was


def span_line(wall: Wall, words: Words, span: Span) -> str:
    """Return a span's working days, and who works in it on what is on the wall."""
    first, last = span
    days = [day for day in wall.days if day.start < last and day.end > first]
    if not days:
        return ""
    count = sum(not day.is_off for day in days)
    zone = ZoneInfo(words.zone)
    dates = (instant_at(round(minute)).astimezone(zone).date() for minute in (first, last))
    begins, ends = (wording.short_day(words, date) for date in dates)
    number = words.number_word(count)
    return words.say(
        say.SPAN_DAYS,
        count=count,
        number=number,
        first=begins,
        last=ends,
        busy=_busy(wall, words, days[0].start, days[-1].end),
    )


def _busy(wall: Wall, words: Words, first: int, last: int) -> str:
    people = {
        person
        for row in wall.rows
        for block in row.blocks
        if block.start < last and block.end > first
        for person in block.people
    }
    names = sorted(words.names.of("person", person) for person in people)
    if not names:
        return words.say(say.SPAN_NOBODY)
    if len(names) > NAMED:
        number = words.number_word(len(names))
        return words.say(say.SPAN_COUNTED, count=len(names), number=number)
    return words.say(say.SPAN_PEOPLE, who=words.both(names))

"""The year's time: quarters of an hour counted from a Monday morning, and hours that are open."""

from bisect import bisect_right
from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

START = date(2027, 1, 4)
"""The Monday on which every year begins."""
ZONE = ZoneInfo("Europe/London")
ORIGIN = datetime(2027, 1, 4, tzinfo=UTC)
QUARTER = timedelta(minutes=15)
DAY = 96
NEVER = 1 << 40

Span = tuple[int, int]


def quarter_up(at: datetime) -> int:
    """Return the first quarter that is not before an instant."""
    return -((ORIGIN - at) // QUARTER)


def quarter_down(at: datetime) -> int:
    """Return the last quarter that is not after an instant."""
    return (at - ORIGIN) // QUARTER


def instant(quarter: int) -> datetime:
    """Return the instant at which a quarter begins, by the workshop's clock."""
    return (ORIGIN + quarter * QUARTER).astimezone(ZONE)


def local(day: date, hour: int, minute: int = 0) -> datetime:
    """Return an instant of a day by the workshop's clock."""
    return datetime.combine(day, time(hour, minute), ZONE)


def at(day: date, hour: int, minute: int = 0) -> int:
    """Return the quarter of an instant of a day by the workshop's clock."""
    return quarter_up(local(day, hour, minute))


def day_of(quarter: int) -> date:
    """Return the day of a quarter by the workshop's clock."""
    return instant(quarter).date()


class Hours:
    """Open stretches, sorted and apart; and the shifts that join them over short breaks."""

    def __init__(self, spans: Iterable[Span], bridged: int) -> None:
        """Take the stretches. bridged: gaps of up to so many quarters lie inside one shift."""
        self.spans = tuple(spans)
        self._bridged = bridged
        self._starts = [start for start, _ in self.spans]
        self._sums = [0]
        for start, end in self.spans:
            self._sums.append(self._sums[-1] + end - start)
        self._shift_ends = self._shifts()

    def _shifts(self) -> list[int]:
        ends: list[int] = []
        for start, end in reversed(self.spans):
            after = ends[-1] if ends else NEVER
            is_joined = bool(ends) and self.spans[len(self.spans) - len(ends)][0] - end <= (
                self._bridged
            )
            ends.append(after if is_joined else end)
            del start
        return ends[::-1]

    def opens(self, quarter: int) -> int:
        """Return the first open quarter from one on."""
        position = bisect_right(self._starts, quarter) - 1
        if position >= 0 and quarter < self.spans[position][1]:
            return quarter
        return self._starts[position + 1] if position + 1 < len(self.spans) else NEVER

    def is_open(self, quarter: int) -> bool:
        """Return whether a quarter is open."""
        return self.opens(quarter) == quarter

    def worked(self, first: int, last: int) -> int:
        """Return how many quarters between two are open."""
        return max(0, self._until(last) - self._until(first))

    def _until(self, quarter: int) -> int:
        position = bisect_right(self._starts, quarter) - 1
        if position < 0:
            return 0
        start, end = self.spans[position]
        return self._sums[position] + min(quarter, end) - start

    def end(self, quarter: int, work: int) -> int:
        """Return when so much work is over that goes on from a quarter."""
        if work <= 0:
            return quarter
        wanted = self._until(quarter) + work
        position = bisect_right(self._sums, wanted - 1) - 1
        if position >= len(self.spans):
            return NEVER
        return self.spans[position][0] + wanted - self._sums[position]

    def begin(self, quarter: int, work: int) -> int:
        """Return when so much work begins at the latest that is over by a quarter."""
        wanted = self._until(quarter) - work
        if wanted < 0:
            return -NEVER
        position = bisect_right(self._sums, wanted) - 1
        return self.spans[position][0] + wanted - self._sums[position]

    def shift_end(self, quarter: int) -> int:
        """Return the end of the shift that an open quarter lies in."""
        return self._shift_ends[bisect_right(self._starts, quarter) - 1]

    def standstill(self, first: int, last: int, shut: Iterable[Span]) -> int:
        """Return the longest stretch between two quarters that is not open, days shut left out."""
        position = max(0, bisect_right(self._starts, first) - 1)
        longest = 0
        while position + 1 < len(self.spans) and self.spans[position + 1][0] < last:
            begins, ends = self.spans[position][1], self.spans[position + 1][0]
            off = sum(max(0, min(ends, b) - max(begins, a)) for a, b in shut)
            longest = max(longest, ends - begins - off)
            position += 1
        return longest

    def without(self, away: Iterable[Span]) -> "Hours":
        """Return the hours less some stretches."""
        spans = list(self.spans)
        for first, last in away:
            spans = [
                part
                for start, end in spans
                for part in ((start, min(end, first)), (max(start, last), end))
                if part[0] < part[1]
            ]
        return Hours(spans, self._bridged)

    def since(self, quarter: int) -> "Hours":
        """Return the hours from a quarter on."""
        return Hours(((max(a, quarter), b) for a, b in self.spans if b > quarter), self._bridged)

    def common(self, other: "Hours") -> "Hours":
        """Return the hours that two have in common."""
        found: list[Span] = []
        mine, theirs = self.spans, other.spans
        i = j = 0
        while i < len(mine) and j < len(theirs):
            first = max(mine[i][0], theirs[j][0])
            last = min(mine[i][1], theirs[j][1])
            if first < last:
                found.append((first, last))
            if mine[i][1] < theirs[j][1]:
                i += 1
            else:
                j += 1
        return Hours(found, self._bridged)


def joined(spans: Iterable[Span]) -> list[Span]:
    """Return stretches sorted, those that touch joined."""
    found: list[Span] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return found

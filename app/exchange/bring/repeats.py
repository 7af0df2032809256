"""When entries of calendars come again (RFC 5545 section 3.8.5.3), within bounds. No Qt."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from app.exchange.bring.cells import NoTable
from app.exchange.bring.names import Misnamed
from app.exchange.bring.values import shown

if TYPE_CHECKING:
    from icalendar import Event, vRecur

REACH = timedelta(days=3 * 366)
MOST = 1000
"""Times that an entry comes again, and for how long after its first; more is not taken in."""
MOST_OF_ALL = 10_000
"""Times that all entries of a calendar come to."""
MOST_STEPS = 30_000
"""Days, weeks, months or years that all rules of a calendar are looked at for."""
_OFTEN = frozenset({"HOURLY", "MINUTELY", "SECONDLY"})
_IN_A_DAY = ("BYHOUR", "BYMINUTE", "BYSECOND")


class _Spent(Exception):  # noqa: N818 - it says what happened
    """No more steps are left."""


class Repeats:
    """The rules of one calendar: a rule may never come, and the package would look for ever."""

    def __init__(self) -> None:
        """Begin with all that a calendar may take."""
        self._steps = MOST_STEPS
        self._times = MOST_OF_ALL

    def step(self) -> None:
        """Note that a rule is looked at for its next day, week, month or year."""
        self._steps -= 1
        if self._steps < 0:
            raise _Spent

    def times(self, event: "Event", first: date) -> Iterator[date]:
        """Give an entry as often as it comes again. first: its own start.

        Raises
        ------
        Misnamed
            If its rule can't be read, comes within a day, or never.
        NoTable
            If that is too much for one calendar.
        """
        for at in self._all(event, first):
            self._times -= 1
            if self._times < 0:
                raise NoTable("too_many_times", most=MOST_OF_ALL)
            yield at

    def _all(self, event: "Event", first: date) -> Iterator[date]:
        rule = event.get("rrule")
        if rule is None:
            yield first
            return
        is_day = not isinstance(first, datetime)
        base: Any = datetime.combine(first, time(0)) if is_day else first
        left_out = _left_out(event)
        count = 0
        for each in rule if isinstance(rule, list) else [rule]:
            for at in self._ruled(event, each, base):
                if at - base > REACH or count >= MOST:
                    break
                count += 1
                moment = at.date() if is_day else at
                if moment not in left_out:
                    yield moment

    def _ruled(self, event: "Event", rule: "vRecur", base: datetime) -> Iterator[datetime]:
        from dateutil.rrule import rrulestr

        try:
            text = str(rule.to_ical().decode().upper())  # type: ignore[no-untyped-call]
            if _is_often(text):
                raise Misnamed("", "too_often", value=shown(text))
            found = rrulestr(text, dtstart=base)
            yield from found.replace(interval=_Counted.of(found, self))
        except _Spent:
            raise Misnamed("", "comes_never", value=shown(text)) from None
        except (ValueError, TypeError, AttributeError, ArithmeticError, LookupError) as trouble:
            raise Misnamed("", "broken_entry", value=shown(str(trouble))) from trouble


def _is_often(text: str) -> bool:
    parts = dict(part.partition("=")[::2] for part in text.split(";"))
    return parts.get("FREQ") in _OFTEN or any("," in parts.get(name, "") for name in _IN_A_DAY)


class _Counted(int):
    """How many days, weeks, months or years a rule goes on by; each time it does is noted."""

    repeats: Repeats

    @classmethod
    def of(cls, rule: object, repeats: Repeats) -> "_Counted":
        """Give the interval of a rule."""
        made = cls(rule._interval)  # type: ignore[attr-defined]
        made.repeats = repeats
        return made

    def __radd__(self, before: int) -> int:
        self.repeats.step()
        return before + int(self)

    def __mul__(self, days: int) -> int:
        self.repeats.step()
        return int(self) * days


def _left_out(event: "Event") -> set[date]:
    found = event.get("exdate", [])
    lists = found if isinstance(found, list) else [found]
    try:
        return {each.dt for some in lists for each in some.dts}
    except AttributeError:
        raise Misnamed("", "broken_entry", value="EXDATE") from None

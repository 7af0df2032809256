"""When an answer is due, by the working days of whoever gives it."""

from datetime import date, datetime, time, timedelta

from scheduler.grid import Grid
from scheduler.problem import Table
from shared.book import Client, Gate, Job
from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    local_instant,
    next_working_day,
    nth_working_day_after,
    working_days_from,
)
from shared.worktime.zones import local_date

_A_DAY = timedelta(days=1)
_MIDNIGHT = time(0)


def answerer(job: Job, gate: Gate) -> Client:
    """Return who answers: whom the gate names, else the job's client."""
    return job.client if gate.answered_by is None else gate.answered_by


def client_days(client: Client) -> DayCalendar:
    """Return the working days of a client: Monday to Friday less holidays and closures."""
    return DayCalendar(
        holidays=HolidayRule(
            country=client.country,
            subdivision=client.subdivision,
            categories=client.holiday_categories,
        ),
        closed=tuple(DateSpan(first=shut.first, last=shut.last) for shut in client.closures),
    )


def answer_days(client: Client, gate: Gate) -> int:
    """Return on which working day after the pictures the answer is due."""
    return client.answer_days if gate.answer_days is None else gate.answer_days


def due_at(client: Client, gate: Gate, pictures: datetime) -> datetime:
    """Return when the answer to pictures is due; never before they went out."""
    day = nth_working_day_after(
        client_days(client), local_date(pictures, client.zone), answer_days(client, gate)
    )
    return max(pictures, _answer_time(client, gate, day))


def overdue_until(client: Client, gate: Gate, now: datetime) -> datetime:
    """Return when an overdue answer is assumed: the end of the client's next working day."""
    day = next_working_day(client_days(client), local_date(now, client.zone))
    return _answer_time(client, gate, day)


def _answer_time(client: Client, gate: Gate, day: date) -> datetime:
    return local_instant(day, gate.answer_by, client.zone, opening=False)


class Dues:
    """When answers are due, as tables on a grid; equal ones are made once."""

    def __init__(self, grid: Grid) -> None:
        """Start with none."""
        self._grid = grid
        self._tables: dict[object, Table] = {}
        self._working: dict[tuple[DayCalendar, date, int], list[date]] = {}
        self._mornings: dict[tuple[str, date, int], list[int]] = {}

    @property
    def count(self) -> int:
        """Return how many tables were made."""
        return len(self._tables)

    def table(self, client: Client, gate: Gate, extra_steps: int) -> Table:
        """Return when work can go on after an answer, by the moment the pictures went out.

        extra_steps: what must pass besides after the answer.
        """
        wanted, calendar = answer_days(client, gate), client_days(client)
        key = (calendar, client.zone, wanted, gate.answer_by, extra_steps)
        if key not in self._tables:
            self._tables[key] = self._made(client, gate, wanted, extra_steps)
        return self._tables[key]

    def _made(self, client: Client, gate: Gate, wanted: int, extra_steps: int) -> Table:
        grid = self._grid
        first = local_date(grid.origin, client.zone)
        count = (local_date(grid.end, client.zone) - first).days + 1
        working = self._working_days(client_days(client), first, count + 2 * wanted + 60)
        mornings = self._next_mornings(client.zone, first, count)
        known: dict[date, int] = {}
        knots: list[tuple[int, int]] = []
        position = wanted - 1
        for after, upto in enumerate(mornings):
            day = first + _A_DAY * after
            while position - wanted + 1 < len(working) and working[position - wanted + 1] <= day:
                position += 1
            if position >= len(working):
                break
            due = working[position] if wanted else day
            if due not in known:
                known[due] = grid.up(_answer_time(client, gate, due)) + extra_steps
            if knots and knots[-1][1] == known[due]:
                knots.pop()
            knots.append((upto - 1, known[due]))
        return Table.of(*knots)

    def _working_days(self, calendar: DayCalendar, first: date, count: int) -> list[date]:
        key = (calendar, first, count)
        if key not in self._working:
            self._working[key] = working_days_from(calendar, first, count)
        return self._working[key]

    def _next_mornings(self, zone: str, first: date, count: int) -> list[int]:
        """Return the first step of the day after each of so many."""
        key = (zone, first, count)
        if key not in self._mornings:
            days = (first + _A_DAY * after for after in range(1, count + 1))
            self._mornings[key] = [
                self._grid.up(local_instant(day, _MIDNIGHT, zone, opening=True)) for day in days
            ]
        return self._mornings[key]

"""When an answer is due, by the working days of whoever gives it."""

from bisect import bisect_right
from datetime import date, datetime, time, timedelta

from scheduler.grid import Grid
from scheduler.problem import Table
from shared.book import Client, Gate, Job
from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    is_working_day,
    local_instant,
    next_working_day,
    nth_working_day_after,
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


def due_table(client: Client, gate: Gate, grid: Grid, extra_steps: int) -> Table:
    """Return when work can go on after an answer, by the moment the pictures went out.

    extra_steps: what must pass besides after the answer.
    """
    wanted = answer_days(client, gate)
    first = local_date(grid.origin, client.zone)
    count = (local_date(grid.end, client.zone) - first).days + 1
    days = [first + _A_DAY * after for after in range(count)]
    working = _working_days(client, first, count + 2 * wanted + 60)
    knots: list[tuple[int, int]] = []
    for day in days:
        position = bisect_right(working, day) + wanted - 1
        if position >= len(working):
            break
        due = working[position] if wanted else day
        value = grid.up(_answer_time(client, gate, due)) + extra_steps
        upto = grid.up(local_instant(day + _A_DAY, _MIDNIGHT, client.zone, opening=True)) - 1
        if knots and knots[-1][1] == value:
            knots.pop()
        knots.append((upto, value))
    return Table.of(*knots)


def _working_days(client: Client, first: date, count: int) -> list[date]:
    calendar = client_days(client)
    days = (first + _A_DAY * after for after in range(count))
    return [day for day in days if is_working_day(calendar, day)]

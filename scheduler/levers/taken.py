"""What has been taken costs money whatever the plan: overtime, days that are engaged, offers."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from scheduler.levers.attendance import days_of
from shared.book import Book, EngagementState, Person
from shared.worktime import Span, is_working_day, total_seconds, union

_HOUR_SECONDS = 3600


def taken_cost(book: Book) -> Decimal:
    """Return what is taken in a book comes to, in its currency.

    Overtime by its hours, rate and premium; confirmed days of freelancers by their day rate, no
    fewer than are paid at least; the price of each offer that is taken.
    """
    costs = (cost for person in book.people for cost in _of_person(book, person))
    offers = (offer.price for offer in book.offers if offer.taken)
    return sum(offers, sum(costs, Decimal(0)))


def _of_person(book: Book, person: Person) -> Iterator[Decimal]:
    for each in person.overtime_taken:
        if each.start < each.end:
            seconds = total_seconds(union(Span(start=each.start, end=each.end)))
            rate = (person.rate_per_hour or Decimal(0)) + each.premium_per_hour
            yield Decimal(seconds) / _HOUR_SECONDS * rate
    if person.freelance and person.day_rate:
        yield person.day_rate * _days(book, person)


def _days(book: Book, person: Person) -> int:
    """Return the days that are paid."""
    calendar = days_of(book, person)
    days = {
        day
        for each in person.engaged
        if each.state is EngagementState.CONFIRMED
        for day in range(each.first.toordinal(), each.last.toordinal() + 1)
    }
    worked = sum(is_working_day(calendar, date.fromordinal(day)) for day in days)
    return max(worked, person.least_days or 0) if days else 0

"""The days on which a job moves from an enquiry to firm, and is invoiced."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from shared.book import Answer, Book, FactKind, Gate, GateKind, Invoice, Job, Standing
from shared.ids import JobId
from shared.plan import Plan
from shared.worktime.zones import local_date


class DateKind(StrEnum):
    """What is due on a day.

    quote, pencilled: the last day on which they hold.
    """

    SURVEY = "survey"
    CONCEPT = "concept"
    QUOTE = "quote"
    PENCILLED = "pencilled"
    DEPOSIT = "deposit"
    INVOICE_YES = "invoice_yes"
    INVOICE_HAND_OVER = "invoice_hand_over"


@dataclass(frozen=True, slots=True, kw_only=True)
class JobDate:
    """A day of a job, in the workshop's zone. is_over: it has passed, and is still open."""

    job: JobId
    kind: DateKind
    day: date
    is_over: bool = False


def job_dates(book: Book, plan: Plan | None, now: datetime) -> tuple[JobDate, ...]:
    """Return the days still to come of all jobs, enquiries too, and deposits that are overdue.

    Invoices go by the plan: at the client's last yes, and at the end of the journey.
    """
    today = local_date(now, book.workshop.zone)
    found = [
        JobDate(job=job.id, kind=kind, day=day, is_over=day < today)
        for job in book.jobs
        for kind, day in (*_written(job), *_invoiced(book, job, plan))
        if day >= today or kind is DateKind.DEPOSIT
    ]
    return tuple(sorted(found, key=lambda each: (each.day, each.job, each.kind)))


def _written(job: Job) -> Iterator[tuple[DateKind, date]]:
    is_firm = job.standing is Standing.FIRM
    days = {
        DateKind.SURVEY: job.survey_on,
        DateKind.CONCEPT: job.concept_due,
        DateKind.QUOTE: None if is_firm else job.quote_good_until,
        DateKind.PENCILLED: job.pencilled_until if job.standing is Standing.PENCILLED else None,
        DateKind.DEPOSIT: job.deposit_due if job.deposit_paid is None else None,
    }
    for kind, day in days.items():
        if day is not None:
            yield kind, day


def _invoiced(book: Book, job: Job, plan: Plan | None) -> Iterator[tuple[DateKind, date]]:
    if plan is None or not job.invoices:
        return
    zone = book.workshop.zone
    if Invoice.AT_YES in job.invoices:
        yes = _last_yes(book, job, plan)
        if yes is not None:
            yield DateKind.INVOICE_YES, local_date(yes, zone)
    if Invoice.AT_HAND_OVER in job.invoices:
        ends = [trip.end for trip in plan.trips if trip.job == job.id]
        if ends:
            yield DateKind.INVOICE_HAND_OVER, local_date(max(ends), zone)


def _last_yes(book: Book, job: Job, plan: Plan) -> datetime | None:
    """Return the moment of the client's last yes: told, else as planned."""
    answers = {
        step.id
        for step in job.steps
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER and step.answered_by is None
    }
    told = {
        fact.step: fact.at
        for fact in book.facts
        if fact.kind is FactKind.ANSWER and fact.answer in (Answer.YES, Answer.CHANGES)
    }
    planned = {
        each.step: each.end
        for each in sorted(plan.placements, key=lambda each: each.end)
        if each.step in answers and not each.part
    }
    ends = [told.get(step) or planned.get(step) for step in answers]
    known = [end for end in ends if end is not None]
    return max(known) if known and len(known) == len(ends) else None

"""The dues of one trip: derived ones with their dates, and those that the book states itself."""

from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime

from shared.book import Before, Book, Job, Notice
from shared.notices.counting import earliest, knows_holidays, last_moment, latest
from shared.notices.instants import Travelled
from shared.notices.papers import papers_of
from shared.notices.receivers import Receivers
from shared.notices.values import Called, Due, Facts, Paper, Receiver
from shared.plan import Trip


class OfTrip:
    """The dues of one trip."""

    def __init__(self, book: Book, job: Job, on: Travelled) -> None:
        self._book, self._job, self._on = book, job, on
        self._by_code: dict[Paper, Due] = {}

    def found(self, trips: tuple[Trip, ...], *, is_first: bool) -> Iterator[Due]:
        """Give them; notices of no journey that replace nothing belong to the job's first."""
        journey = self._on.journey
        notices = {
            each.id: each for each in self._job.notices if each.journey in (None, journey.id)
        }
        seen: Counter[Paper] = Counter()
        for called in papers_of(self._book, self._job, journey, self._on.trip, trips):
            seen[called.code] += 1
            number = seen[called.code]
            name = str(called.code) if number == 1 else f"{called.code}-{number}"
            due = self._derived(called, name, notices.pop(name, None))
            self._by_code.setdefault(called.code, due)
            yield due
        for notice in notices.values():
            if notice.journey is not None or is_first:
                yield self._own(notice)

    def _derived(self, called: Called, name: str, notice: Notice | None) -> Due:
        """Return a paper with its date; where the book has a notice of its name, as that has it."""
        from_event = called.at
        if called.ahead_of is not None:
            other = self._by_code[called.ahead_of]
            from_event = last_moment(other.by, other.receiver)
        if notice is not None:
            if notice.before is not called.before:
                return self._own(notice, called)
            receiver = self._receiver(notice)
            by = latest(receiver, from_event, notice.lead, notice.counted)
            return self._due(name, called, receiver, by, notice)
        receiver, by = earliest(called.receivers, from_event, called.lead, called.counted)
        return self._due(name, called, receiver, by, None)

    def _own(self, notice: Notice, called: Called | None = None) -> Due:
        """Return a notice of the book by what it says itself. called: what it takes the place of.

        Before what the journey hasn't got means before the departure.
        """
        at = self._on.at(notice.before)
        because: Facts = () if called is None else called.because
        before = notice.before
        if at is None:
            because = (*because, ("instead_of", str(before)))
            at, before = self._on.trip.start, Before.DEPARTURE
        receiver = self._receiver(notice)
        stated = Called(
            code=Paper.OWN if called is None else called.code,
            before=before,
            at=at,
            lead=notice.lead,
            counted=notice.counted,
            receivers=(receiver,),
            figures=(),
            because=because,
        )
        by = latest(receiver, at, notice.lead, notice.counted)
        return self._due(notice.id, stated, receiver, by, notice)

    def _receiver(self, notice: Notice) -> Receiver:
        return Receivers(self._book, self._job, self._on.journey).of_notice(notice)

    def _due(
        self,
        name: str,
        called: Called,
        receiver: Receiver,
        by: date | datetime,
        notice: Notice | None,
    ) -> Due:
        is_own_lead = notice is not None and notice.lead != called.lead
        because = called.because
        if not knows_holidays(receiver):
            because = (*because, ("holidays", "unknown"))
        return Due(
            id=name,
            code=called.code,
            job=self._job.id,
            journey=self._on.journey.id,
            by=by,
            before=called.before,
            at=called.at,
            lead=called.lead if notice is None else notice.lead,
            counted=called.counted if notice is None else notice.counted,
            receiver=receiver,
            name="" if notice is None else notice.name,
            figures=() if is_own_lead else called.figures,
            because=because,
            done=None if notice is None else notice.done,
        )

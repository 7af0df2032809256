"""The question and its answers: which departures of a judged journey make its window."""

from collections.abc import Callable
from datetime import datetime

from shared.book import Book, Job, Journey, Window
from shared.delivery.choices import Choice
from shared.delivery.run import Run, Trouble
from shared.worktime import Spans

Watch = Callable[[int, int], None]
"""Told how far a search is (done, of so many); raising stops it."""


def delivery_of(book: Book, job: Job, journey: Journey, window: Window) -> "Delivery":
    """Return the delivery of a judged journey; asked twice it is the same, with its answers.

    Kept in process, by what it depends on: workshop, site, window, journey and its vehicles.
    """
    raise NotImplementedError


class Delivery:
    """A judged journey to one window; nothing is searched before it is asked for.

    choices: in the order of means, then by what their sailings cost. All answers are kept.
    """

    choices: tuple[Choice, ...]

    def __init__(self, book: Book, job: Job, journey: Journey, window: Window) -> None:
        """Read the choices.

        Raises
        ------
        UnknownRules
            If a means or drive names rules that there are none of.
        """
        raise NotImplementedError

    def latest(
        self, choice: Choice, first: datetime | None = None, watch: Watch | None = None
    ) -> Run | None:
        """Return the run that leaves last of those in time, None if none from `first` on is."""
        raise NotImplementedError

    def leaving(self, choice: Choice, at: datetime) -> Run | None:
        """Return the run that leaves at an instant, rounded up; it ends as early as it can.

        Be that after the window's end; None if it never gets there within `longest_days` and the
        site's hours.
        """
        raise NotImplementedError

    def departures(self, choice: Choice, first: datetime, watch: Watch | None = None) -> Spans:
        """Return the departures in time, as spans with their gaps, earliest first.

        From `first` on, and no more than `longest_days` before the latest. Each on the grid stands
        for its quarter.
        """
        raise NotImplementedError

    def site_by(self, choice: Choice) -> datetime | None:
        """Return the latest instant at the gate from which the rested people on site are in time.

        Where whoever drives works on site as well, they are as rested. None: never.
        """
        raise NotImplementedError

    def trouble(self, choice: Choice, first: datetime | None = None) -> Trouble | None:
        """Return why no departure from `first` on is in time, None if one is."""
        raise NotImplementedError

"""When each step of a plan has cured, and until when it may be coated again: for people."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.normalise.climate_walk import Walk
from scheduler.normalise.facts import NOTHING, told_facts
from shared.book import Book, Gate, GateKind, Journey, Stage
from shared.ids import PlaceId, StepId
from shared.plan import Placement, Plan
from shared.units import ceil_to_step, floor_to_step

_LONGEST = timedelta(days=400)
_HOUR_SECONDS = 3600
_Asked = tuple[Stage | Gate, PlaceId | None, datetime]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cured:
    """The figures of a step, as reckoned from where and when it ends.

    ready: from when on what follows may start, rounded up to a quarter. coat_by: until when the
    next coat may start, rounded down; None: as long as one likes.
    """

    end: datetime
    ready: datetime
    coat_by: datetime | None = None

    @property
    def hours(self) -> int:
        """Return whole hours that it cures, rounded up."""
        return -(-int((self.ready - self.end).total_seconds()) // _HOUR_SECONDS)


def cured(book: Book, plan: Plan) -> Mapping[StepId, Cured]:
    """Return the figures of every stage and gate in a plan: see `Cures`."""
    return Cures(book).of(plan)


class Cures:
    """The figures of every stage and gate in a plan that cures or may be coated again.

    Of what is done, from where it was told to have been done. Answers have none. before: figures
    of this or another book; those of steps that are, end and lie as they did are not reckoned anew.

    Raises
    ------
    UnknownZone
        If nothing is known of the workshop's zone.
    """

    def __init__(self, book: Book, before: "Cures | None" = None) -> None:
        """Take the book."""
        self._climate = book.workshop, book.places, book.offers
        self._walk = Walk(book)
        self._told = told_facts(book)
        self._steps = {step.id: step for job in book.jobs for step in job.steps}
        self._known: dict[StepId, tuple[_Asked, Cured]] = {}
        if before is not None and before._climate == self._climate:
            kept = before._known.items()
            self._known = {step: known for step, known in kept if step in self._steps}

    def of(self, plan: Plan) -> dict[StepId, Cured]:
        """Return the figures of a plan."""
        found: dict[StepId, Cured] = {}
        for placed in plan.placements:
            step = self._steps.get(placed.step)
            if placed.part or step is None or isinstance(step, Journey):
                continue
            if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
                continue
            one = self._one(step, placed)
            if one.ready > one.end or one.coat_by is not None:
                found[step.id] = one
        return found

    def _one(self, step: Stage | Gate, placed: Placement) -> Cured:
        told = self._told.get(step.id, NOTHING)
        place = placed.place if told.done is None else told.place
        asked = step, place, placed.end
        kept = self._known.get(step.id)
        if kept is None or kept[0] != asked:
            kept = self._known[step.id] = asked, self._reckoned(step, place, placed)
        return kept[1]

    def _reckoned(self, step: Stage | Gate, place: PlaceId | None, placed: Placement) -> Cured:
        end, until = placed.end, placed.end + _LONGEST
        by = self._walk.coat_by(step, place, end, until) if isinstance(step, Stage) else None
        return Cured(
            end=end,
            ready=ceil_to_step(self._walk.cured(step, place, end, until)),
            coat_by=None if by is None else floor_to_step(by),
        )

"""What has happened to each step, read from the facts of the book."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from scheduler.grid import Grid
from shared.book import Answer, Book, Fact, FactKind
from shared.ids import PersonId, PlaceId, StepId
from shared.plan import Placement, Trip


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """The facts of one step: done, running, gone; answers and pictures in order of time."""

    done: Fact | None = None
    running: Fact | None = None
    gone: Fact | None = None
    answers: tuple[Fact, ...] = ()
    pictures: tuple[Fact, ...] = ()

    @property
    def yes(self) -> Fact | None:
        """Return the answer that lets work go on: yes, with changes or without."""
        return next((fact for fact in self.answers if fact.answer is not Answer.NO), None)

    @property
    def answered(self) -> tuple[Fact, ...]:
        """Return the answers up to and with the first yes."""
        yes = self.yes
        return self.answers if yes is None else self.answers[: self.answers.index(yes) + 1]

    @property
    def began(self) -> datetime | None:
        """Return when the step began, as far as anybody told; never after it was done."""
        if self.running is None:
            return None
        return self.running.at if self.done is None else min(self.running.at, self.done.at)

    @property
    def way(self) -> str:
        """Return the way in which the step was done."""
        return next((fact.way for fact in self._told_of if fact.way), "")

    @property
    def place(self) -> PlaceId | None:
        """Return where the step was done."""
        return next((fact.place for fact in self._told_of if fact.place is not None), None)

    @property
    def people(self) -> tuple[PersonId, ...]:
        """Return who did the step."""
        return next((fact.people for fact in self._told_of if fact.people), ())

    @property
    def _told_of(self) -> tuple[Fact, ...]:
        return tuple(fact for fact in (self.done, self.running) if fact is not None)

    @property
    def noes(self) -> tuple[Fact, ...]:
        """Return the answers that asked for another round."""
        return tuple(fact for fact in self.answered if fact.answer is Answer.NO)

    @property
    def finished(self) -> Fact | None:
        """Return the fact that ended the step: done, or the yes of an answer."""
        return self.done or self.yes

    @property
    def asks_changes(self) -> bool:
        """Return whether the yes came with changes that nobody has told to be done."""
        yes = self.yes
        return self.done is None and yes is not None and yes.answer is Answer.CHANGES

    @property
    def has_begun(self) -> bool:
        """Return whether the step has begun or is over."""
        return bool(self.done or self.running or self.gone or self.answers or self.pictures)


NOTHING = Told()


def told_facts(book: Book) -> dict[StepId, Told]:
    """Return the facts by step; of several of a kind the last in time counts.

    Their instants are told in UTC, for hours counted by a clock that is put back are others.
    """
    by_step: dict[StepId, list[Fact]] = {}
    for fact in sorted(book.facts, key=lambda fact: fact.at):
        utc = replace(fact, at=fact.at.astimezone(UTC))
        by_step.setdefault(fact.step, []).append(utc)
    return {step: _told(facts) for step, facts in by_step.items()}


def _told(facts: Iterable[Fact]) -> Told:
    by_kind: dict[FactKind, list[Fact]] = {}
    for fact in facts:
        by_kind.setdefault(fact.kind, []).append(fact)

    def last(kind: FactKind) -> Fact | None:
        return by_kind[kind][-1] if kind in by_kind else None

    return Told(
        done=last(FactKind.DONE),
        running=last(FactKind.RUNNING),
        gone=last(FactKind.GONE),
        answers=tuple(fact for fact in by_kind.get(FactKind.ANSWER, ()) if fact.answer is not None),
        pictures=tuple(by_kind.get(FactKind.PICTURES, ())),
    )


def told_placements(book: Book) -> dict[tuple[StepId, int, str], Placement]:
    """Return what people were last told, by step, round and part."""
    placements = () if book.told is None else book.told.plan.placements
    return {(each.step, each.round, each.part): each for each in placements}


def trips_as_told(book: Book) -> tuple[Trip, ...]:
    """Return the journeys that people were last told."""
    return () if book.told is None else book.told.plan.trips


def crews_gone(book: Book, grid: Grid) -> dict[StepId, int]:
    """Return by journey at which step its crew was told to go by itself, if that was before now."""
    return {
        trip.step: grid.down(trip.crew_from)
        for trip in trips_as_told(book)
        if trip.crew_from is not None and trip.crew_from < grid.origin
    }

"""The ladder: a job's steps counted back from its window down to today. No Qt."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time
from enum import StrEnum
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.countback.one_job import OneJob
from app.words import Words
from app.words import countback_view as say
from app.words import orders as buying_words
from app.words import window as wording
from app.words.template import Template
from app.words.voice import capital
from shared.book import Gate, GateKind, Journey, Kind, Stage, Step
from shared.ids import StepId
from shared.worktime import local_instant, working_seconds

if TYPE_CHECKING:
    from scheduler.outcome import StepTimes
    from shared.orders import Order
    from shared.plan import Placement


class Mark(StrEnum):
    """What stands before the words of a rung."""

    WINDOW = "window"
    LEG = "leg"
    LOADING = "loading"
    WORK = "work"
    TRIAL_FIT = "trial fit"
    ANSWER = "answer"
    ORDER = "order"
    TODAY = "today"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """One line of the ladder.

    at: where it stands in time, by the latest where that is known. days_left: working days from
    then to the window, None past it. latest, planned: as written, "" where it is not known.
    spare_minutes: working minutes between them, None where one is not known; below 0: so late.
    alike: the steps of the same name that it stands for.
    """

    id: str
    mark: Mark
    at: datetime
    what: str
    detail: str = ""
    days_left: int | None = None
    latest: str = ""
    planned: str = ""
    planned_day: str = ""
    spare_minutes: int | None = None
    kind: Kind | None = None
    step: StepId | None = None
    alike: tuple[StepId, ...] = ()


def ladder(one: OneJob, words: Words, orders: "Sequence[Order]" = ()) -> tuple[Rung, ...]:
    """Return the rungs, from the window down to today; orders: what is to be bought for all."""
    return _Ladder(one, words).rungs(orders)


_ORDER = {Mark.LEG: 2, Mark.WINDOW: 1, Mark.TODAY: -1}
"""Which of several rungs of one moment stands higher."""


class _Ladder:
    def __init__(self, one: OneJob, words: Words) -> None:
        self.one, self.words = one, words
        self.times: dict[StepId, StepTimes] = (
            {t.step: t for t in one.told.steps} if one.told else {}
        )
        self.placed: dict[StepId, list[Placement]] = defaultdict(list)
        for placement in one.plan.placements if one.plan else ():
            if not placement.part:
                self.placed[placement.step].append(placement)
        self.site = one.job.site.zone

    def rungs(self, orders: "Sequence[Order]") -> tuple[Rung, ...]:
        found = [*self._window(), *self._journeys(), *self._gates(), *self._stages()]
        found += self._orders(orders)
        now = self.one.shown.now
        found = [r for r in found if r.at >= now or r.spare_minutes is not None or _is_order(r)]
        found.append(
            Rung(
                id="today",
                mark=Mark.TODAY,
                at=now,
                what=self.words.say(say.TODAY),
                latest=wording.short_moment(self.words, now),
                days_left=self._left(now),
            )
        )
        found.sort(key=lambda rung: (rung.at, _ORDER.get(rung.mark, 0)), reverse=True)
        return tuple(found)

    def _left(self, when: datetime, zone: str | None = None) -> int | None:
        zoned = when.astimezone(ZoneInfo(zone or self.words.zone))
        return self.one.days_left(zoned.date())

    def _moment(self, when: datetime | None, zone: str | None = None) -> str:
        return "" if when is None else wording.short_moment(self.words, when, zone)

    def _day(self, when: datetime | None, zone: str | None = None) -> str:
        if when is None:
            return ""
        return wording.short_day(
            self.words, when.astimezone(ZoneInfo(zone or self.words.zone)).date()
        )

    def _spare(self, planned: datetime | None, latest: datetime | None) -> int | None:
        if planned is None or latest is None:
            return None
        if planned <= latest:
            return working_seconds(self.one.calendar, planned, latest) // 60
        return min(-1, -working_seconds(self.one.calendar, latest, planned) // 60)

    # The window and the way to it.

    def _window(self) -> Iterator[Rung]:
        held = self.one.job.held_window
        if held is None:
            return
        yield Rung(
            id="window",
            mark=Mark.WINDOW,
            at=held.start,
            what=self.words.say(say.WINDOW_OPENS),
            detail=self._site(held.start),
            days_left=self._left(held.start, self.site),
            latest=wording.short_moment_bare(self.words, held.start, self.site),
        )

    def _site(self, when: datetime) -> str:
        """Return the site's name; that its clock is meant, where that is another."""
        name = self.one.job.site.name
        here, there = (when.astimezone(ZoneInfo(zone)) for zone in (self.words.zone, self.site))
        if here.utcoffset() == there.utcoffset():
            return name
        return self.words.say(say.BY_ITS_CLOCK, site=name)

    def _journeys(self) -> Iterator[Rung]:
        trips = {trip.step: trip for trip in self.one.plan.trips} if self.one.plan else {}
        latest = self.one.told.latest_loading if self.one.told else None
        for step in self.one.job.steps:
            trip = trips.get(step.id)
            if not isinstance(step, Journey) or trip is None:
                continue
            rung = self._leg(step, 0, say.LEAVE, trip.start)
            yield rung if latest is None else self._leaving(rung, trip.start, latest)
            latest = None
            for index, (leg, at) in enumerate(zip(step.legs, trip.legs, strict=False), 1):
                if leg.kind in say.LEGS:
                    yield self._leg(step, index, say.LEGS[leg.kind], at.start)

    def _leaving(self, rung: Rung, planned: datetime, latest: datetime) -> Rung:
        """Return when the yard is left, with the latest: what is loaded may leave till then."""
        return replace(
            rung,
            at=latest,
            latest=self._moment(latest),
            days_left=self._left(latest),
            # One may leave as late as that: only what is too late is told.
            spare_minutes=self._spare(planned, latest) if planned > latest else None,
        )

    def _leg(self, step: Journey, index: int, what: Template, at: datetime) -> Rung:
        zone = self.site if index else None
        return Rung(
            id=f"leg {step.id} {index}",
            mark=Mark.LEG,
            at=at,
            what=self.words.say(what),
            detail=step.name,
            days_left=self._left(at, zone),
            planned=self._moment(at, zone),
            planned_day=self._day(at, zone),
            step=step.id,
        )

    # Gates and stages.

    def _gates(self) -> Iterator[Rung]:
        for step in self.one.job.steps:
            if not isinstance(step, Gate) or step.id not in self.times:
                continue
            placed, times = self.placed.get(step.id), self.times[step.id]
            first = placed[0].start if placed else None
            if step.gate is GateKind.ANSWER:
                last = placed[-1].end if placed else None
                yield self._rung(step, Mark.ANSWER, last, times.latest_end, say.ANSWER, "answer")
                yield self._rung(
                    step, Mark.ANSWER, first, times.latest_start, say.PICTURES, "pictures"
                )
            elif step.gate is GateKind.LOADING:
                yield self._rung(step, Mark.LOADING, first, times.latest_start, say.LOADING)
            elif step.gate is GateKind.TRIAL_FIT:
                yield self._rung(step, Mark.TRIAL_FIT, first, times.latest_start, None)
            else:
                yield self._rung(step, Mark.LEG, first, times.latest_start, None)

    def _rung(
        self,
        step: Step,
        mark: Mark,
        planned: datetime | None,
        latest: datetime | None,
        what: Template | None,
        part: str = "",
    ) -> Rung:
        name = self.words.names.bare_step(step.id)
        at = latest or planned or self.one.shown.now
        return Rung(
            id=f"step {step.id} {part}".rstrip(),
            mark=mark,
            at=at,
            what=self.words.say(what, step=name) if what is not None else name,
            detail=self._detail(step) if what is None else name,
            days_left=self._left(at),
            latest=self._moment(latest),
            planned=self._moment(planned),
            planned_day=self._day(planned),
            spare_minutes=self._spare(planned, latest),
            kind=step.kind if isinstance(step, Stage) else None,
            step=step.id,
        )

    def _stages(self) -> Iterator[Rung]:
        """Give of the stages of one name the one with the least to spare."""
        alike: dict[tuple[str, Kind], list[Rung]] = defaultdict(list)
        for step in self.one.job.steps:
            if not isinstance(step, Stage) or step.id not in self.times:
                continue
            placed, times = self.placed.get(step.id), self.times[step.id]
            start = placed[0].start if placed else None
            rung = self._rung(step, Mark.WORK, start, times.latest_start, None)
            alike[step.name, step.kind].append(rung)
        for rungs in alike.values():
            steps = tuple(rung.step for rung in rungs if rung.step is not None)
            yield replace(min(rungs, key=_tightest), alike=steps)

    def _orders(self, orders: "Sequence[Order]") -> Iterator[Rung]:
        """Give by when what is bought for the job has to be ordered."""
        materials = {each.id: each for each in self.one.shown.book.materials}
        zone = self.words.zone
        for order in orders:
            day, material = order.dates.order_by, materials.get(order.material)
            if self.one.job.id not in order.jobs or day is None or material is None:
                continue
            here = wording.short_day(self.words, order.dates.receive_by)
            amount = buying_words.quantity(self.words, order.quantity)
            unit = buying_words.unit(self.words, material.unit)
            what = f"{material.name}, {amount} {unit}"
            yield Rung(
                id=f"order {order.material} {day.isoformat()}",
                mark=Mark.ORDER,
                at=local_instant(day, time(12), zone, opening=True),
                what=self.words.say(say.ORDER, what=what),
                detail=self.words.say(say.HERE_BY, day=here),
                days_left=self.one.days_left(day),
                latest=wording.short_day(self.words, day),
            )

    def _detail(self, step: Step) -> str:
        """Return on which segments, where, and whether in one go."""
        placed = self.placed.get(step.id)
        place = placed[0].place if placed else None
        parts = [
            self.words.names.pieces_of(step.id) or self.words.say(say.ALL_SEGMENTS),
            self.words.names.of("place", place) if place else "",
            self.words.say(say.IN_ONE_GO) if isinstance(step, Stage) and step.in_one_go else "",
        ]
        return ", ".join(part for part in parts if part)


def _is_order(rung: Rung) -> bool:
    return rung.mark is Mark.ORDER


def spare_text(rung: Rung, words: Words) -> str:
    """Return what is to spare on a rung, short; of what is late, how late."""
    minutes = rung.spare_minutes
    if minutes is None:
        return ""
    if minutes < 0:
        return words.say(wording.LATE_WORDS, late=words.late(-minutes))
    return wording.quarters(words, minutes, words.day_minutes)


def rung_text(rung: Rung, words: Words) -> str:
    """Return a rung in one sentence after the other, as it is read out."""
    left = rung.days_left
    parts = []
    if left is not None:
        count = words.say(say.LEFT_COUNT, count=left, number=words.number_word(left))
        parts.append(capital(count))
    parts.append(f"{capital(rung.what)}.")
    if rung.detail:
        parts.append(f"{capital(rung.detail)}.")
    if rung.latest:
        parts.append(words.say(say.LATEST_AT, moment=rung.latest))
    if rung.planned:
        parts.append(words.say(say.PLANNED_AT, moment=rung.planned))
    minutes = rung.spare_minutes
    if minutes is not None and minutes >= 0:
        parts.append(words.say(wording.TO_SPARE, spare=words.spare(minutes)))
    elif minutes is not None:
        parts.append(words.say(say.TOO_LATE, late=words.late(-minutes)))
    return " ".join(parts)


def _tightest(rung: Rung) -> tuple[bool, int, float]:
    spare = rung.spare_minutes
    return spare is None, spare or 0, -rung.at.timestamp()

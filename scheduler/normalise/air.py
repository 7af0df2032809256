"""Acts that are kept apart where they share air, as rooms of the problem.

For each air and each act that meets a counterpart there: a room in which a stage with that act
takes a unit as long as the act lasts, what is wet until dust spoils it no longer, and, where a
pause is asked for, until that is over. A stage is against the rooms of the counterparts.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduler.normalise.acts import acts_done, wet_hours
from scheduler.normalise.facts import Told
from scheduler.normalise.frame import Frame
from scheduler.normalise.held_air import Air, Held
from scheduler.normalise.names import RoomName, StageName
from scheduler.normalise.steps import Steps
from scheduler.problem import Stage, Use
from shared import book
from shared.book import Act, Apart, Job
from shared.ids import PlaceId, StepId
from shared.units import hours_up, minutes_up

Key = tuple[Act, int, bool]
"""A room of an air: an act, the minutes it is held on, and whether it is kept apart from itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """A way of a stage that takes air: what is done, and for how many steps it stays wet."""

    stage: int
    way: int
    acts: frozenset[Act]
    wet_steps: int


def note_done(frame: Frame, planned: Iterable[Job]) -> None:
    """Note which air is still held by stages that are done."""
    for job in planned if frame.air.pairs else ():
        for step in job.steps:
            told = frame.told(step.id)
            if told.done is None or not isinstance(step, book.Stage):
                continue
            place = _place_of_done(frame, step, told)
            if place is not None:
                acts, wet = acts_done(job, step), wet_hours(job, step)
                frame.air.note(place, acts, told.done.at, wet, is_over=True)


def _place_of_done(frame: Frame, step: book.Stage, told: Told) -> PlaceId | None:
    """Return where a stage was done: as told, else the only place where it can have been."""
    if told.place is not None:
        return told.place
    ways = [way for way in step.ways if not told.way or way.id == told.way]
    places = {place for way in ways for place in frame.rooms.places_of(way) or (None,)}
    return places.pop() if len(places) == 1 else None


def keep_apart(frame: Frame, steps: Steps) -> None:
    """Let the stages take the air they work in; no room is made where nothing meets."""
    for air, works in _works(frame, steps).items() if frame.air.pairs else ():
        done = frame.air.done_in(air)
        pairs = [pair for pair in frame.air.pairs if _meet(pair, works, done, frame.now)]
        if pairs:
            _Shared(frame, steps, air, pairs).take(works)


def _works(frame: Frame, steps: Steps) -> dict[Air, list[_Work]]:
    """Return by air the ways that are done in it."""
    found: dict[Air, list[_Work]] = defaultdict(list)
    homes = {step.id: (job, step) for job in frame.book.jobs for step in job.steps}
    known: dict[tuple[StepId, str], tuple[frozenset[Act], int]] = {}
    for stage, (name, ways) in enumerate(zip(steps.names, steps.ways, strict=True)):
        if not name.is_told or all(way.place is None for way in ways):
            continue
        key = (name.step, name.part)
        if key not in known:
            wet_steps = hours_up(wet_hours(*homes[name.step], name.part))
            known[key] = acts_done(*homes[name.step], name.part), wet_steps
        acts, wet_steps = known[key]
        for number, way in enumerate(ways if acts else ()):
            if way.place is not None:
                work = _Work(stage=stage, way=number, acts=acts, wet_steps=wet_steps)
                found[frame.air.of(way.place)].append(work)
    return found


def _meet(pair: Apart, works: Collection[_Work], done: Collection[Held], now: datetime) -> bool:
    """Return whether both sides of a pair occur, not only in one stage or in what is done."""
    firsts = {work.stage for work in works if pair.first in work.acts}
    seconds = {work.stage for work in works if pair.second in work.acts}
    if firsts and seconds and len(firsts | seconds) > 1:
        return True
    settled = now - timedelta(minutes=pair.minutes)
    return any(
        (held.act is pair.second and bool(firsts) and held.until > now)
        or (held.act is pair.first and bool(seconds) and held.until > settled)
        for held in done
    )


class _Shared:
    """One air and the pairs that meet in it."""

    def __init__(self, frame: Frame, steps: Steps, air: Air, pairs: Iterable[Apart]) -> None:
        self._frame, self._steps, self._air = frame, steps, air
        self._against: dict[Key, list[Key]] = {}
        for pair in pairs:
            alone = pair.first is pair.second
            first, second = (pair.first, pair.minutes, alone), (pair.second, 0, False)
            self._against.setdefault(first, [])
            if not alone:
                self._against[first].append(second)
                self._against.setdefault(second, []).append(first)

    def take(self, works: Collection[_Work]) -> None:
        """Make the rooms, and let the works take them."""
        rooms = {key: self._room(key, len(works)) for key in self._against}
        for work in works:
            stage = self._steps.stages[work.stage]
            taken = tuple(self._uses(work, stage, self._steps.names[work.stage], rooms))
            if not taken:
                continue
            way = stage.ways[work.way]
            way = replace(way, uses=(*way.uses, *taken))
            ways = (*stage.ways[: work.way], way, *stage.ways[work.way + 1 :])
            self._steps.stages[work.stage] = replace(stage, ways=ways)

    def _room(self, key: Key, count: int) -> int:
        """Make a room, taken by what is done and still holds it."""
        act, minutes, is_alone = key
        done = [held for held in self._frame.air.done_in(self._air) if held.act is act]
        rooms = self._frame.rooms
        name = RoomName(air=self._air[0] or self._air[1], act=act)
        room = rooms.add(name, 1 if is_alone else count + len(done))
        for held in done:
            rooms.take(room, 1, held.until + timedelta(minutes=minutes))
        return room

    def _uses(
        self, work: _Work, stage: Stage, name: StageName, rooms: dict[Key, int]
    ) -> Iterator[Use]:
        """Give what a work takes.

        What is under way holds the air from now on, and has itself waited for what holds it.
        """
        waited = stage.fixed_start if name.begun is not None else None
        for key, room in rooms.items():
            act, minutes, is_alone = key
            if act in work.acts:
                wet_steps = work.wet_steps if act is Act.WET else 0
                others = dict.fromkeys(rooms[other] for other in self._against[key])
                yield Use(
                    room=room,
                    units=1,
                    before=0 if waited is None or is_alone else waited,
                    after=wet_steps + minutes_up(minutes),
                    against=tuple(others) if waited is None else (),
                )

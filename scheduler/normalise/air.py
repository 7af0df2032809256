"""Acts that are kept apart where they share air, as rooms of the problem.

For each air and each act that meets a counterpart there: a room in which a stage with that act
takes a unit as long as the act lasts, what is wet until dust spoils it no longer, and, where a
pause is asked for, until that is over. A stage is against the rooms of the counterparts.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from scheduler.normalise.acts import acts_done, wet_hours
from scheduler.normalise.facts import Told
from scheduler.normalise.frame import Frame
from scheduler.normalise.held_air import Air, Held
from scheduler.normalise.in_air import InAir, Key, Plan
from scheduler.normalise.names import RoomName
from scheduler.normalise.part import Part
from scheduler.normalise.steps import Steps
from shared import book
from shared.book import Act, Apart, Job
from shared.ids import PlaceId


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


def keep_apart(frame: Frame, steps: Steps, parts: Sequence[Part]) -> None:
    """Let the stages take the air they work in; no room is made where nothing meets."""
    if not frame.air.pairs:
        return
    worked = {part: part.works(frame) for part in parts}
    airs = dict.fromkeys(air for works in worked.values() for air in works.by_air)
    shared: dict[Air, Plan] = {}
    for air in airs:
        there = [(part, worked[part].by_air[air]) for part in parts if air in worked[part].by_air]
        done = frame.air.done_in(air)
        acts = _acts_in(there)
        pairs = [pair for pair in frame.air.pairs if _meet(pair, acts, done, frame.now)]
        if pairs:
            count = sum(in_air.count for _, in_air in there)
            shared[air] = _Shared(frame, air, pairs).plan(count)
    for part in parts:
        plans = tuple((air, plan) for air, plan in shared.items() if air in worked[part].by_air)
        if plans:
            first, count = part.place.first, len(part.made.stages)
            steps.stages[first : first + count] = part.in_air(worked[part], plans)


def _acts_in(there: Iterable[tuple[Part, InAir]]) -> dict[Act, set[int]]:
    """Return by act a few stages in which it is done in an air: two of each job, if there are."""
    found: dict[Act, set[int]] = defaultdict(set)
    for part, in_air in there:
        for act, stages in in_air.some.items():
            found[act].update(part.place.first + stage for stage in stages)
    return found


def _meet(pair: Apart, acts: Mapping[Act, set[int]], done: Collection[Held], now: datetime) -> bool:
    """Return whether both sides of a pair occur, not only in one stage or in what is done."""
    firsts, seconds = acts.get(pair.first, set()), acts.get(pair.second, set())
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

    def __init__(self, frame: Frame, air: Air, pairs: Iterable[Apart]) -> None:
        self._frame, self._air = frame, air
        self._against: dict[Key, list[Key]] = {}
        for pair in pairs:
            alone = pair.first is pair.second
            first, second = (pair.first, pair.minutes, alone), (pair.second, 0, False)
            self._against.setdefault(first, [])
            if not alone:
                self._against[first].append(second)
                self._against.setdefault(second, []).append(first)

    def plan(self, count: int) -> Plan:
        """Make the rooms, for so many works; return what each act takes."""
        rooms = {key: self._room(key, count) for key in self._against}
        return tuple(
            (key, room, tuple(dict.fromkeys(rooms[other] for other in self._against[key])))
            for key, room in rooms.items()
        )

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

"""Ways of a step as ways of the problem: one for each way of the book and each of its places."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from scheduler.normalise.acts import clear_out_minutes, is_sprayed_openly
from scheduler.normalise.frame import Frame
from scheduler.normalise.makeup import can_make_up
from scheduler.normalise.names import WayName
from scheduler.normalise.people import Skills
from scheduler.normalise.rooms import place_capacity
from scheduler.problem import Need, Use, Way
from scheduler.reasons import Reason
from shared import book
from shared.book import Act, Place, Segment, Workshop
from shared.findings import Clash, Fact
from shared.ids import EquipmentId, PersonId, PlaceId, StepId
from shared.units import STEPS_PER_HOUR, minutes_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a step asks of whoever does it in any of its ways.

    is_given: people are on it already, so that nobody asks whether they can. only_people: these
    people and nobody else.
    """

    step: StepId
    segments: tuple[Segment, ...] = ()
    in_one_go: bool = False
    stays: bool = False
    people: tuple[PersonId, ...] = ()
    certificates: tuple[str, ...] = ()
    is_given: bool = False
    acts: frozenset[Act] = frozenset()
    only_people: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Expanded:
    """The ways that today's people and places allow, and why the others fall away."""

    ways: tuple[Way, ...]
    names: tuple[WayName, ...]
    clashes: tuple[Clash, ...]


_OF_ITSELF = Expanded(ways=(Way(),), names=(WayName(),), clashes=())


def expand(frame: Frame, ways: Sequence[book.Way], asked: Asked) -> Expanded:
    """Return the ways of a step; without any, it takes no time and nobody."""
    if not ways:
        return _OF_ITSELF
    made: list[Way] = []
    names: list[WayName] = []
    clashes: list[Clash] = []
    for way in ways:
        if asked.only_people and way.hands_count != len(asked.people):
            continue
        needs = needs_of(frame.skills, way)
        trouble = (
            _people_clash(frame, way, needs, asked)
            or _equipment_clash(frame, way, asked)
            or _kind_clash(frame, way, asked)
        )
        if trouble is not None:
            clashes.append(trouble)
            continue
        one = _Expanding(frame, way, needs, asked)
        for place in frame.rooms.places_of(way) or (None,):
            found = one.in_place(place)
            if isinstance(found, Clash):
                clashes.append(found)
            else:
                made.append(found)
                names.append(_name(way.id, place, one.equipment))
    return Expanded(ways=tuple(made), names=tuple(names), clashes=tuple(clashes))


class _Expanding:
    """One way of the book on its way to those of the problem: the same in each of its places."""

    def __init__(self, frame: Frame, way: book.Way, needs: tuple[Need, ...], asked: Asked) -> None:
        self._frame, self._way, self._asked = frame, way, asked
        self._needs, self._hands = needs, way.hands_count
        self._work = bench_steps(
            frame.book.workshop, way.hours.likely, self._hands, in_one_go=asked.in_one_go
        )
        self._uses = [
            Use(room=frame.rooms.of_equipment(need.equipment), units=need.count)
            for need in way.equipment
            if need.count
        ]
        self._floor: int | None = None
        self.equipment = tuple(need.equipment for need in way.equipment for _ in range(need.count))

    def in_place(self, place_id: PlaceId | None) -> Way | Clash:
        """Return the way in a place, or why it can't be done there."""
        way, asked = self._way, self._asked
        place = None if place_id is None else self._frame.rooms.places.get(place_id)
        uses = self._uses
        if place_id is not None:
            if place is None:
                return clash(Reason.PLACE_UNKNOWN, step=asked.step, way=way.id, place=place_id)
            found = self._place_use(place)
            if isinstance(found, Clash):
                return found
            uses = [*uses, found]
        if is_sprayed_openly(asked.acts, way, place):
            return clash(Reason.OPEN_SPRAYING, step=asked.step, way=way.id, place=place_id)
        return Way(
            needs=self._needs,
            work=self._work,
            uses=tuple(uses),
            calendar=None if self._hands else self._frame.workshop_calendar,
            cost=money(way.cost),
        )

    def _place_use(self, place: Place) -> Use | Clash:
        asked = self._asked
        units, capacity = self._units(place), place_capacity(place)
        if units > capacity:
            facts: dict[str, Fact] = {"place": place.id, "wanted": units, "have": capacity}
            return clash(Reason.PLACE_TOO_SMALL, step=asked.step, way=self._way.id, **facts)
        return _use(
            self._frame.rooms.of_place(place.id),
            units,
            minutes_up(clear_out_minutes(place, asked.acts)),
            asked.stays,
        )

    def _units(self, place: Place) -> int:
        """Return what it takes of a place; the floor under its pieces is the same in all."""
        rooms, way = self._frame.rooms, self._way
        workshop = self._frame.book.workshop
        if place.whole or way.whole_place or place.area_m2 is None or way.area_m2 is not None:
            return rooms.units_at_work(workshop, (), way, place)
        if self._floor is None:
            self._floor = rooms.units_at_work(workshop, self._asked.segments, way, place)
        return self._floor


@lru_cache(maxsize=4096)
def _name(way: str, place: PlaceId | None, equipment: tuple[EquipmentId, ...]) -> WayName:
    return WayName(way=way, place=place, equipment=equipment)


@lru_cache(maxsize=4096)
def _use(room: int, units: int, after: int, through_cure: bool) -> Use:  # noqa: FBT001
    return Use(room=room, units=units, after=after, through_cure=through_cure)


def bench_steps(
    workshop: Workshop, hours: Decimal, hands_count: int, *, in_one_go: bool
) -> Fraction:
    """Return working steps at a mean pace of 1, not rounded yet.

    Person-hours x (1 + loss x (hands - 1)) / hands, and where the work pauses times the length
    of a shift over its useful hours. The loss with more hands is common practice, no source.
    """
    stretch = (workshop.shift_hours, workshop.useful_hours)
    loss_percent = workshop.pair_loss_percent
    return _bench_steps(hours, max(1, hands_count), loss_percent, None if in_one_go else stretch)


@lru_cache(maxsize=4096)
def _bench_steps(
    hours: Decimal, hands_count: int, loss_percent: Decimal, stretch: tuple[Decimal, Decimal] | None
) -> Fraction:
    loss = Fraction(loss_percent) / 100
    steps = Fraction(hours) * STEPS_PER_HOUR * (1 + loss * (hands_count - 1)) / hands_count
    if stretch is None:
        return steps
    shift_hours, useful_hours = stretch
    return steps * Fraction(shift_hours) / Fraction(useful_hours)


def needs_of(skills: Skills, way: book.Way) -> tuple[Need, ...]:
    """Return whom a way needs."""
    return skills.needs(tuple((need.skill, need.can, need.helps) for need in way.needs))


def money(amount: Decimal) -> int:
    """Return money in hundredths, rounded up."""
    if not amount:
        return 0
    exact = Fraction(amount) * 100
    return -(-exact.numerator // exact.denominator)


def clash(reason: Reason, **facts: Fact) -> Clash:
    """Return a clash that is a fact of its job."""
    return Clash(code=reason.value, facts=tuple(facts.items()))


def _equipment_clash(frame: Frame, way: book.Way, asked: Asked) -> Clash | None:
    for need in way.equipment:
        thing = frame.rooms.equipment.get(need.equipment)
        have = 0 if thing is None else thing.count
        if need.count > have:
            facts: dict[str, Fact] = {
                "equipment": need.equipment,
                "wanted": need.count,
                "have": have,
            }
            return clash(Reason.EQUIPMENT_TOO_FEW, step=asked.step, way=way.id, **facts)
    return None


def _kind_clash(frame: Frame, way: book.Way, asked: Asked) -> Clash | None:
    if not way.place_kinds or frame.rooms.places_of(way):
        return None
    kinds = ", ".join(way.place_kinds)
    return clash(Reason.NO_PLACE_OF_KIND, step=asked.step, way=way.id, kind=kinds)


def _people_clash(
    frame: Frame, way: book.Way, needs: tuple[Need, ...], asked: Asked
) -> Clash | None:
    """Return why no team can be made up of today's people, None if one can."""
    if asked.is_given or not needs or not way.hours.likely:
        return None
    key = (needs, asked.certificates, asked.people)
    if key in frame.made_up and len(needs) == len(way.needs):
        for certificate in asked.certificates:
            frame.certificates.position(certificate)
        return None
    trouble = _missing_people(frame, way, needs, asked)
    if trouble is None:
        frame.made_up.add(key)
    return trouble


def _missing_people(
    frame: Frame, way: book.Way, needs: tuple[Need, ...], asked: Asked
) -> Clash | None:
    facts: dict[str, Fact] = {"step": asked.step, "way": way.id}
    certified = [at for at in frame.engaged if frame.holds(at, asked.certificates)]
    if len(certified) < min(way.hands_count, len(frame.engaged)):
        return clash(Reason.NO_CERTIFICATE, **facts, certificate=", ".join(asked.certificates))
    for need in way.needs:
        have = frame.able_count(certified, need)
        if have < need.can:
            reason = Reason.TOO_FEW_CAN if have else Reason.NOBODY_CAN
            return clash(reason, **facts, skill=need.skill, wanted=need.can, have=have)
    for person in asked.people:
        at = frame.worker_positions.get(person)
        if at not in certified or not frame.fits(at, needs):
            return clash(Reason.ASKED_CANNOT, **facts, person=person)
    workers = [frame.workers[at] for at in certified]
    wanted = [certified.index(frame.worker_positions[person]) for person in asked.people]
    if can_make_up(workers, needs, wanted):
        return None
    skills = ", ".join(need.skill for need in way.needs)
    return clash(Reason.TOO_FEW_CAN, **facts, skill=skills, wanted=way.hands_count)

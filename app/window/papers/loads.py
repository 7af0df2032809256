"""Load lists, one for each journey: what goes on which vehicle in which order, by when. No Qt."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction

from app.exchange.given import Given
from app.window.papers.text import Item, Paper, Part
from app.words import notices, passing
from app.words import papers as say
from app.words import window as wording
from app.words.template import Template
from app.words.voice import capital
from scheduler.outcome import Outcome
from shared.book import Gate, GateKind, Job, Journey, Segment
from shared.notices import Due, dues
from shared.passing.boxes import AS_MADE, Margins, Piece, margins_of, moved, piece_of
from shared.passing.loading import Load, Room, Trip, stow
from shared.passing.masses import Mass, Weight, known_of, mass_of
from shared.passing.passages import Carrier, carriers_of
from shared.plan import Trip as Travel
from shared.worktime.zones import local_date

_Loads = list[tuple[Piece, Segment]]


def load_lists(given: Given, outcome: Outcome, job: Job | None) -> tuple[Paper, ...]:
    """Return the lists of all journeys, or of those of one job."""
    jobs = given.book.jobs if job is None else (job,)
    trips = {trip.step: trip for trip in given.plan.trips}
    return tuple(
        _List(given=given, outcome=outcome, job=each, journey=step, trip=trips[step.id]).paper()
        for each in jobs
        for step in each.steps
        if isinstance(step, Journey) and step.id in trips
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _List:
    given: Given
    outcome: Outcome
    job: Job
    journey: Journey
    trip: Travel

    def _say(self, template: Template, **facts: object) -> str:
        return self.given.words.say(template, **facts)

    def paper(self) -> Paper:
        """Return the list."""
        journey, job = self.journey, self.job
        line = self._say(say.LOADS_LINE, journey=capital(journey.name), site=job.site.name)
        return Paper(
            title=self._say(say.LOADS, job=job.name),
            shop=self.given.book.workshop.name or self.given.book.name,
            line=line,
            marks=self.given.marks,
            is_old=self.given.is_old,
            first="",
            parts=(self._times(), *self._vehicles(), self._papers()),
            last=self._say(say.LAST_WORD),
            foot=self.given.made,
        )

    # By when.

    def _times(self) -> Part:
        words, plan = self.given.words, self.given.plan
        gates = {
            step.id
            for step in self.job.steps
            if isinstance(step, Gate) and step.gate is GateKind.LOADING
        }
        loading = [each for each in plan.placements if each.step in gates and not each.part]
        before = [each for each in loading if each.end <= self.trip.start]
        items = []
        if before:
            last = max(before, key=lambda each: each.end)
            items += [self._at(say.LOADING, last.start), self._at(say.AT_LORRY, last.end)]
        items.append(self._at(say.LEAVES, self.trip.start))
        told = next((each for each in self.outcome.jobs if each.id == self.job.id), None)
        if told is not None and told.latest_loading is not None:
            items.append(self._at(say.LAST_LOADED, told.latest_loading))
        if self.journey.crew:
            people = words.both(words.names.of("person", one) for one in self.journey.crew)
            items.append(Item(what=self._say(say.CREW, people=people)))
        return Part(title=self._say(say.TIMES), items=tuple(items))

    def _at(self, template: Template, when: datetime) -> Item:
        moment = wording.short_moment(self.given.words, when)
        return Item(what=self._say(template), when=moment, is_strong=True)

    # What goes where.

    @property
    def _margins(self) -> Margins:
        return margins_of(self.given.book.workshop)

    def _carriers(self) -> Iterator[Carrier]:
        """Give the vehicles that it goes by, in their order; what is not measured has no room."""
        means = next((one for one in self.journey.means if one.id == self.trip.means), None)
        named = self.journey.vehicles if means is None else means.vehicles
        things = {thing.id: thing for thing in self.given.book.equipment}
        for vehicle in (things[each] for each in named if each in things):
            found = tuple(carriers_of(vehicle))
            yield found[0] if len(found) == 1 else replace(found[0], body=None, room=None)

    def _vehicles(self) -> Iterator[Part]:
        """Give each vehicle with what goes on it, what is needed first at the site first of all."""
        wanted = set(self.journey.segments)
        segments = [each for each in self.job.segments if not wanted or each.id in wanted]
        found = [(piece_of(segment), segment) for segment in segments]
        left: _Loads = [(piece, segment) for piece, segment in found if piece is not None]
        unknown = [segment for piece, segment in found if piece is None]
        carriers = list(self._carriers())
        for carrier in carriers:
            name = passing.vehicle(self.given.words, carrier)
            title = self._say(say.ORDER, vehicle=capital(name))
            if carrier.room is None:
                yield Part(title=title, items=tuple(self._unmeasured(left, unknown)))
                return
            trip = self._filled(carrier, left)
            if trip is None:
                continue
            yield Part(title=title, items=tuple(self._loaded(carrier, trip, left)))
            gone = {each.piece.id for each in trip.in_order}
            left = [each for each in left if each[0].id not in gone]
        if not carriers:
            title = self._say(say.ORDER, vehicle=self._say(say.HIRED))
            yield Part(title=title, items=tuple(self._unmeasured(left, unknown)))
        elif left or unknown:
            items = [self._bare(piece, segment) for piece, segment in left]
            items += [self._bare(None, segment) for segment in unknown]
            yield Part(title=self._say(say.NOT_ON), items=tuple(items))

    def _filled(self, carrier: Carrier, left: _Loads) -> Trip | None:
        assert carrier.room is not None
        length, width, height = carrier.room
        room = Room(length=length, width=width, height=height, payload_kg=carrier.payload_kg)
        loads = [Load(piece=piece, mass=mass_of(segment)) for piece, segment in left]
        trips = stow(loads, room, self._margins).trips
        return trips[0] if trips else None

    def _loaded(self, carrier: Carrier, trip: Trip, left: _Loads) -> Iterator[Item]:
        masses = {piece.id: mass_of(segment) for piece, segment in left}
        for number, each in enumerate(trip.in_order, start=1):
            turn = passing.turn_words(self.given.words, each.turn)
            what = self._say(say.PIECE, number=number, piece=each.piece.name, turn=turn)
            size, mass = passing.moved_size(each.sides), self._mass(masses[each.piece.id])
            yield Item(what=what, when=self._say(say.MOVED, size=size, mass=mass), is_strong=True)
        yield from self._sum([masses[each.piece.id] for each in trip.in_order], carrier)
        if trip.weight is not Weight.WITHIN:
            heavy = trip.weight is Weight.TOO_HEAVY
            yield Item(what=self._say(say.TOO_HEAVY if heavy else say.WEIGH), is_strong=True)
        yield Item(what=self._say(say.LAST_IN))

    def _sum(self, masses: Sequence[Mass | None], carrier: Carrier) -> Iterator[Item]:
        mass = self._mass(None if None in masses else known_of(masses))
        if carrier.payload_kg is not None:
            payload = passing.plain(Fraction(carrier.payload_kg), 0)
            mass = self._say(say.SUM_OF, mass=mass, payload=payload)
        yield Item(what=self._say(say.SUM), when=mass)

    def _unmeasured(self, left: _Loads, unknown: list[Segment]) -> Iterator[Item]:
        """Give pieces in the order of need, last first, where nobody knows the room."""
        every: list[tuple[Piece | None, Segment]] = [*left, *((None, each) for each in unknown)]
        places = {segment.id: at for at, segment in enumerate(self.job.segments)}
        every.sort(key=lambda each: -places[each[1].id])
        for number, (piece, segment) in enumerate(every, start=1):
            yield self._bare(piece, segment, number)
        yield Item(what=self._say(say.NO_ROOM), is_strong=True)
        yield Item(what=self._say(say.LAST_IN))

    def _bare(self, piece: Piece | None, segment: Segment, number: int = 0) -> Item:
        what, mass = segment.name, self._mass(mass_of(segment))
        if number:
            what = self._say(say.PIECE_BARE, number=number, piece=segment.name)
        if piece is None:
            return Item(what=what, when=self._say(say.NO_SIZE, mass=mass), is_strong=True)
        size = passing.moved_size(moved(piece.box, AS_MADE[0], self._margins))
        return Item(what=what, when=self._say(say.MOVED, size=size, mass=mass), is_strong=True)

    def _mass(self, mass: Mass | None) -> str:
        if mass is None:
            return self._say(say.NO_MASS)
        low, high = passing.plain(mass.low, 0), passing.plain(mass.high, 0, is_up=True)
        return self._say(say.MASS, low=low, high=high)

    # Papers.

    def _papers(self) -> Part:
        given = self.given
        today = local_date(given.now, given.words.zone)
        found = dues(given.book, self.job, given.plan, given.now)
        mine = [each for each in found if each.journey == self.journey.id]
        items = tuple(self._paper(each, today) for each in mine)
        nothing = (Item(what=self._say(say.NO_PAPERS)),)
        return Part(title=self._say(say.PAPERS), items=items or nothing)

    def _paper(self, due: Due, today: date) -> Item:
        words = self.given.words
        template = say.PAPER_OVER if due.is_over else say.PAPER_BY
        day = due.day
        if due.done is not None:
            template, day = say.PAPER_DONE, due.done
        return Item(
            what=capital(notices.name_of(words, due)),
            when=words.say(template, day=words.day(day, after=today)),
            is_strong=due.is_over,
        )

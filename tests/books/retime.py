"""A plan timed anew, minute by minute and in floating point, by code that knows no other.

It answers four questions only: is every least and greatest wait kept, and every limit of a
material; does every piece stand somewhere; is there floor enough; is the air fit for the work.
Whatever it finds is said in a sentence; a sound plan has nothing to say.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp, log
from zoneinfo import ZoneInfo

from shared.book import (
    Act,
    Book,
    Gate,
    GateKind,
    Job,
    Kind,
    Place,
    Segment,
    Stage,
    Temperature,
    Way,
)
from shared.ids import PlaceId
from shared.plan import Placement, Plan

HOUR = timedelta(hours=1)
QUARTER = timedelta(minutes=15)
A_MINUTE = timedelta(minutes=1)
ROUGHLY = 1e-6
USUAL = {
    Kind.FOAM: (Act.HOT_WIRE, Act.DUST),
    Kind.LAMINATE: (Act.RESIN,),
    Kind.COAT: (Act.RESIN, Act.WET),
    Kind.FILL: (Act.DUST,),
    Kind.PAINT: (Act.SPRAY, Act.WET),
    Kind.LACQUER: (Act.SPRAY, Act.WET),
    Kind.PACK: (),
}
ABRADING = (Act.DUST, Act.POWER_SAND)
VAPOURS = (Act.RESIN, Act.SOLVENT, Act.SPRAY)
SPARKS = (Act.HOT_WIRE, Act.WELD, Act.GRIND, Act.FLAME)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One placement beside its stage or gate; abrade: it is the abrading before it."""

    job: Job
    step: Stage | Gate
    at: Placement
    way: Way | None
    segments: tuple[Segment, ...]

    @property
    def is_abrading(self) -> bool:
        return self.at.part == "abrade"

    @property
    def is_itself(self) -> bool:
        return self.at.part == ""

    @property
    def name(self) -> str:
        return f"{self.at.step} {self.at.part}".strip()


class Weather:
    """How warm and damp a place is, looked up anew."""

    def __init__(self, book: Book) -> None:
        self.workshop = book.workshop
        self.zone = ZoneInfo(book.workshop.zone)

    def at(self, place: PlaceId | None, moment: datetime) -> tuple[float, float, float | None]:
        """Return coldest, hottest, humidity."""
        local = moment.astimezone(self.zone)
        entry = self._entry(place, local.month)
        coldest = hottest = 20.0
        humidity: float | None = None
        if entry is not None:
            celsius = _expected(entry, local)
            spread = float(entry.spread_celsius or 0)
            coldest, hottest = celsius - spread, celsius + spread
            humidity = None if entry.humidity_percent is None else float(entry.humidity_percent)
        for reading in self.workshop.readings:
            then = reading.at.astimezone(self.zone)
            same = then.replace(minute=0, second=0, microsecond=0) == local.replace(
                minute=0, second=0, microsecond=0
            )
            if same and then.utcoffset() == local.utcoffset() and reading.place in (None, place):
                coldest = hottest = float(reading.celsius)
                if reading.humidity_percent is not None:
                    humidity = float(reading.humidity_percent)
        return coldest, hottest, humidity

    def _entry(self, place: PlaceId | None, month: int) -> Temperature | None:
        mine = [t for t in self.workshop.temperatures if month in t.months]
        return next(
            (t for t in mine if place is not None and t.place == place),
            next((t for t in mine if t.place is None), None),
        )


def _expected(entry: Temperature, local: datetime) -> float:
    day = 8 <= local.hour < 20
    warm = any(_is_in(local, shift.start, shift.end, shift.days) for shift in entry.heated)
    if entry.heated_celsius is not None:
        usual = entry.day_celsius if day else entry.night_celsius
        return float(entry.heated_celsius if warm else usual)
    if entry.heated:
        return float(entry.day_celsius if warm else entry.night_celsius)
    return float(entry.day_celsius if day else entry.night_celsius)


def _is_in(local: datetime, start: object, end: object, days: Iterable[int]) -> bool:
    return local.weekday() in days and start <= local.time() < end  # type: ignore[operator]


def faults(book: Book, plan: Plan) -> Iterator[str]:
    """Give what a plan breaks of waits, limits, floor and air."""
    pieces = list(_pieces(book, plan))
    weather = Weather(book)
    yield from _waits(book, weather, pieces)
    yield from _limits(weather, pieces)
    yield from _floor(book, pieces, plan.now)
    yield from _air(book, pieces)


def _pieces(book: Book, plan: Plan) -> Iterator[Piece]:
    steps = {step.id: (job, step) for job in book.jobs for step in job.steps}
    for placed in plan.placements:
        job, step = steps[placed.step]
        assert isinstance(step, Stage | Gate)
        named = tuple(s for s in job.segments if not step.segments or s.id in step.segments)
        ways = {way.id: way for way in step.ways}
        yield Piece(job=job, step=step, at=placed, way=ways.get(placed.way), segments=named)


def _ready(weather: Weather, piece: Piece) -> datetime:
    """Return when the least wait after a stage is over: ten-minute slices, from the coldest."""
    hours = float(piece.step.cure_hours)
    if not isinstance(piece.step, Stage) or piece.step.cure_celsius is None:
        return piece.at.end + timedelta(hours=hours)
    base, moment, done = float(piece.step.cure_celsius), piece.at.end, 0.0
    while done < hours:
        coldest, _, _ = weather.at(piece.at.place, moment)
        pace = 2 ** ((coldest - base) / 10)
        slice_end = _slice_end(moment)
        gained = (slice_end - moment) / HOUR * pace
        if done + gained >= hours:
            return moment + (hours - done) / pace * HOUR
        moment, done = slice_end, done + gained
    return moment


def _slice_end(moment: datetime) -> datetime:
    return moment.replace(minute=moment.minute // 15 * 15, second=0, microsecond=0) + QUARTER


def _most_hours(weather: Weather, stage: Stage, place: PlaceId | None, a: datetime, b: datetime) -> float | None:  # fmt: skip  # noqa: E501
    """Return the greatest wait from a to b, by the hottest hour between."""
    if not stage.recoat_bands:
        return None if stage.recoat_hours is None else float(stage.recoat_hours)
    hottest = _hottest_hour(weather, place, a, b)
    fitting = [band for band in stage.recoat_bands if hottest <= float(band.upto_celsius) + ROUGHLY]
    return float(fitting[0].most_hours) if fitting else 0.0


def _hottest_hour(weather: Weather, place: PlaceId | None, a: datetime, b: datetime) -> float:
    """Return the greatest temperature that lasts an hour between a and b."""
    heats: list[float] = []
    moment = a
    while moment < b:
        heats.append(weather.at(place, moment)[1])
        moment += QUARTER
    if len(heats) < 4:
        return min(heats, default=-100.0)
    return max(min(heats[at : at + 4]) for at in range(len(heats) - 3))


def _nexts(book: Book, pieces: list[Piece]) -> Iterator[tuple[Piece, Piece]]:
    """Give each stage with what comes right after it, by the list or as named."""
    by_step = {piece.at.step: piece for piece in pieces if piece.is_itself and piece.at.round < 2}
    for job in book.jobs:
        last: dict[str, Stage | Gate] = {}
        for step in job.steps:
            if not isinstance(step, Stage | Gate) or step.id not in by_step:
                continue
            mine = by_step[step.id]
            if step.after is not None:
                befores = [by_step[a.step] for a in step.after if a.step in by_step]
            else:
                befores = [by_step[last[s.id].id] for s in mine.segments if s.id in last]
            last.update({s.id: step for s in mine.segments})
            for before in {id(one): one for one in befores}.values():
                yield before, mine


def _waits(book: Book, weather: Weather, pieces: list[Piece]) -> Iterator[str]:
    abraded = {piece.at.step: piece for piece in pieces if piece.is_abrading}
    for before, after in _nexts(book, pieces):
        between = abraded.get(after.at.step)
        first = after.at.start if between is None else between.at.start
        ready = _ready(weather, before)
        if first < ready - A_MINUTE:
            yield f"{after.name} starts at {first}, {before.name} is ready at {ready}"
        stage = before.step
        if not isinstance(stage, Stage) or between is not None:
            continue
        most = _most_hours(weather, stage, before.at.place, before.at.end, after.at.start)
        waited = (after.at.start - before.at.end) / HOUR
        if most is not None and waited > most + ROUGHLY:
            yield f"{after.name} comes {waited:.2f} h after {before.name}, at most {most:.2f}"


def _limits(weather: Weather, pieces: list[Piece]) -> Iterator[str]:
    for piece in pieces:
        if isinstance(piece.step, Stage) and piece.is_itself:
            yield from _limits_of(weather, piece, piece.step)


def _limits_of(weather: Weather, piece: Piece, stage: Stage) -> Iterator[str]:
    asks = (
        stage.coldest_celsius, stage.warmest_celsius,
        stage.most_humidity_percent, stage.dew_point_margin_celsius,
    )  # fmt: skip
    if not any(ask is not None for ask in asks):
        return
    moment, until = piece.at.start, _ready(weather, piece)
    while moment < until:
        coldest, hottest, humidity = weather.at(piece.at.place, moment)
        if asks[0] is not None and coldest < float(asks[0]) - ROUGHLY:
            yield f"{piece.name}: {coldest} C at {moment}, not below {asks[0]}"
            return
        if asks[1] is not None and hottest > float(asks[1]) + ROUGHLY:
            yield f"{piece.name}: {hottest} C at {moment}, not above {asks[1]}"
            return
        if humidity is not None and asks[2] is not None and humidity > float(asks[2]) + ROUGHLY:
            yield f"{piece.name}: {humidity} % at {moment}, not above {asks[2]}"
            return
        if humidity is not None and asks[3] is not None:
            dew = _dew_point(hottest, humidity)
            if coldest < dew + float(asks[3]) - 1e-3:
                yield f"{piece.name}: {coldest} C at {moment}, dew point {dew:.2f}"
                return
        moment = _slice_end(moment)


def _dew_point(celsius: float, humidity: float) -> float:
    """Return the dew point by the Magnus formula (Alduchov and Eskridge, 1996)."""
    gamma = log(humidity / 100) + 17.625 * celsius / (243.04 + celsius)
    assert exp(gamma) > 0
    return 243.04 * gamma / (17.625 - gamma)


def _floor(book: Book, pieces: list[Piece], now: datetime) -> Iterator[str]:
    """Give where a place is too full when something begins; what has begun is no plan's doing."""
    places = {place.id: place for place in book.places}
    taken: dict[PlaceId, list[tuple[datetime, datetime, float]]] = {}
    for job in book.jobs:
        for segment in job.segments:
            mine = [p for p in pieces if p.job is job and segment in p.segments]
            _stand(book, segment, mine, taken)
    for place in book.places:
        for booking in place.bookings:
            if booking.area_m2 is not None:
                share = (booking.start, booking.end, float(booking.area_m2))
                taken.setdefault(place.id, []).append(share)
    for piece in pieces:
        if piece.at.place is not None and piece.at.end > piece.at.start:
            _work(book, places[piece.at.place], piece, taken)
    for place_id, spans in taken.items():
        yield from _too_full(places[place_id], spans, now)


def _stand(
    book: Book,
    segment: Segment,
    mine: list[Piece],
    taken: dict[PlaceId, list[tuple[datetime, datetime, float]]],
) -> None:
    works = [p for p in mine if isinstance(p.step, Stage) and p.is_itself]
    loads = [p for p in mine if isinstance(p.step, Gate) and p.step.gate is GateKind.LOADING]
    if not works or segment.stored_elsewhere:
        return
    here = segment.stands or next((p.id for p in book.places if p.standing), None)
    if here is None:
        return
    begun = min(p.at.start for p in works)
    end = max(p.at.end for p in loads or mine)
    area = _area(segment, float(book.workshop.standing_room_m))
    for move in sorted(works, key=lambda p: p.at.start):
        to = move.step.moves_to if isinstance(move.step, Stage) else None
        if to is not None:
            taken.setdefault(here, []).append((begun, move.at.end, area))
            here, begun = to, move.at.start
    taken.setdefault(here, []).append((begun, end, area))


def _area(segment: Segment, room: float) -> float:
    assert segment.length_m is not None
    assert segment.width_m is not None
    return (float(segment.length_m) + 2 * room) * (float(segment.width_m) + 2 * room)


def _work(
    book: Book,
    place: Place,
    piece: Piece,
    taken: dict[PlaceId, list[tuple[datetime, datetime, float]]],
) -> None:
    whole = place.whole or (piece.way is not None and piece.way.whole_place)
    if place.area_m2 is None or whole:
        units = _room(place) if whole else 1.0
    elif piece.way is not None and piece.way.area_m2 is not None:
        units = float(piece.way.area_m2)
    else:
        units = sum(_area(s, float(book.workshop.working_room_m)) for s in piece.segments)
    taken.setdefault(place.id, []).append((piece.at.start, piece.at.end, units))


def _room(place: Place) -> float:
    return float(place.slots or 1) if place.area_m2 is None else float(place.area_m2)


def _too_full(
    place: Place, spans: list[tuple[datetime, datetime, float]], now: datetime
) -> Iterator[str]:
    for moment in (start for start, _, _ in spans if start >= now):
        total = sum(units for a, b, units in spans if a <= moment < b)
        if total > _room(place) + ROUGHLY:
            yield f"{place.id} holds {total:.2f} of {_room(place):.2f} at {moment}"
            return


def _acts(piece: Piece) -> tuple[Act, ...]:
    if piece.is_abrading:
        return ABRADING
    if not isinstance(piece.step, Stage) or not piece.is_itself:
        return ()
    return USUAL[piece.step.kind] if piece.step.does is None else piece.step.does


def _air(book: Book, pieces: list[Piece]) -> Iterator[str]:
    if book.workshop.apart == ():
        return
    places = {place.id: place for place in book.places}
    by_air: dict[str, list[Piece]] = {}
    for piece in pieces:
        place = places.get(piece.at.place) if piece.at.place is not None else None
        if place is not None and piece.at.end > piece.at.start:
            by_air.setdefault(place.air or f"only {place.id}", []).append(piece)
    for together in by_air.values():
        for one in together:
            for other in together:
                if one is not other and _is_foul(one, other):
                    yield f"{one.name} at {one.at.start} in one air with {other.name}"


def _is_foul(one: Piece, other: Piece) -> bool:
    mine, yours = _acts(one), _acts(other)
    overlap = one.at.start < other.at.end and other.at.start < one.at.end
    if overlap and any(a in mine for a in VAPOURS) and any(b in yours for b in SPARKS):
        return True
    if Act.DUST not in mine:
        return False
    if Act.WET in yours and overlap:
        return True
    soon = one.at.end <= other.at.start < one.at.end + 2 * HOUR
    return Act.SPRAY in yours and (overlap or soon)

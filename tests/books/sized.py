"""Workshops of any size: `python -m tests.books.sized --stages 680 --people 12 --seed 1 OUT`.

Jobs by the full way of making, each into its window: block out, carve, pictures and the client's
answer, barrier and two laminates by their waits, flow coat, sanding, three coats in the booth,
packing, trial fit, loading, journey. More stages for as many people are more jobs one after the
other; people, places and things grow together. Everything is drawn from the seed. Windows follow
the work: so many hours a day get done, and some weeks for what nobody hurries.
"""

import argparse
import sys
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from decimal import Decimal
from pathlib import Path
from random import Random

from shared.book import (
    Abrade,
    Act,
    After,
    Book,
    Certificate,
    Closure,
    Equipment,
    GateKind,
    Hours,
    Journey,
    Kind,
    Leave,
    Need,
    Person,
    Place,
    PlaceKind,
    RecoatBand,
    Segment,
    Skill,
    Stage,
    Step,
    Way,
    Window,
)
from shared.files.write import write_book
from shared.ids import PersonId, PlaceId, SkillId, StepId
from shared.worktime import Break, Shift
from tests.books.commissions import PIECES, at, window
from tests.books.commissions import sized as sized_segments
from tests.books.crew import NAMES, USUAL
from tests.books.making import (
    CARVED,
    CARVING_BAYS,
    FINISH,
    FINISHED,
    FIT,
    FOAM,
    LAMINATE,
    SKINNED,
    SPRAY,
    Recipe,
    gate,
    local_van,
    stage_of,
)
from tests.books.ruled import POLYURETHANE
from tests.books.shops import START, TRAINED, commissioned, shop

STAGES_A_JOB = 52
STAGES_OF_A_JOB = 4
"""Pictures, answer, trial fit and loading, whatever the number of segments."""
STAGES_A_SEGMENT = 12
"""Eleven of work, and the one that a recoat time which ran out calls for."""
HOURS_A_DAY = Decimal("2.15")
"""Person-hours of work that a person gets done, over all days of the year, as windows are set."""
LEAD_DAYS = 40
HURRIED_DAYS = 16
"""So much sooner is the first window than the work before it asks for: often too soon."""
SCALE = "2.5"
LATEST_EXPIRY = date(2045, 12, 31)

DOES: tuple[tuple[SkillId, ...], ...] = (
    (FOAM, FIT),
    (FOAM, FINISH),
    (FOAM, FINISH),
    (LAMINATE, FIT),
    (LAMINATE, FINISH, FIT),
    (LAMINATE, SPRAY),
    (FINISH, FIT),
    (FINISH, SPRAY),
    (SPRAY, LAMINATE),
    (FOAM, FINISH, FIT),
    (FOAM, LAMINATE),
    (FINISH, SPRAY),
)
"""What each of twelve people can do."""


def _hours(days: tuple[int, ...], start: time, end: time, pause: time | None) -> tuple[Shift, ...]:
    breaks = () if pause is None else (Break(start=pause, end=time(pause.hour, 30)),)
    return (Shift(days=days, start=start, end=end, breaks=breaks),)


PART_TIME = {
    3: _hours((0, 1, 2, 3), time(8), time(14), None),
    7: _hours((0, 1, 3, 4), USUAL.start, USUAL.end, time(12)),
    10: _hours((0, 1, 2, 3, 4), time(9), time(15, 30), time(12)),
}
"""Who of twelve has hours of their own."""
EVERY_DAY = tuple(range(7))
ACCESS: tuple[tuple[Shift, ...], ...] = (
    (),
    _hours(EVERY_DAY, time(8), time(18), None),
    _hours(EVERY_DAY, time(7), time(20), None),
)
"""When a site can be entered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How large a made-up workshop is; stages are those of its problem, roughly.

    jobs: None means as many as suit the stages. tight_percent: windows are so much closer.
    """

    stages: int
    people: int = 12
    seed: int = 1
    jobs: int | None = None
    tight_percent: int = 0

    @property
    def jobs_count(self) -> int:
        """Return how many jobs there are: so many that the stages come out even, where they can."""
        if self.jobs is not None:
            return self.jobs
        wanted = max(1, round(self.stages / STAGES_A_JOB))
        near = (wanted, wanted + 1, wanted - 1)
        even = (jobs for jobs in near if jobs and not self._over(jobs))
        return next(even, wanted)

    def _over(self, jobs: int) -> int:
        return (self.stages - jobs * STAGES_OF_A_JOB) % STAGES_A_SEGMENT

    @property
    def segments_count(self) -> int:
        """Return how many segments there are in all jobs."""
        left = self.stages - self.jobs_count * STAGES_OF_A_JOB
        return max(self.jobs_count, round(left / STAGES_A_SEGMENT))


def _named(word: str) -> Recipe:
    return next(each for each in (*CARVED, *SKINNED, *FINISHED) if each.word == word)


def _with(word: str, **more: object) -> Recipe:
    return replace(_named(word), **more)  # type: ignore[arg-type]


CARVING = (_named("block"), _named("carve"))
SKIN = (
    _with("barrier", one_go=True, most=Decimal(4), recoat=72),
    _with("laminate", recoat=48, cure=4),
    _with("second laminate", recoat=60, cure=8),
    _with("flow coat", most=Decimal(4), cure=16),
    _with("sand", rate=Decimal("1.5"), hands=((1, 0), (2, 0)), places=CARVING_BAYS),
)
PAINT = tuple(
    _with(word, cure=cure, stays=False, recoat=recoat, most=Decimal(4))
    for word, cure, recoat in (("prime", 8, 60), ("colour", 8, None), ("lacquer", 12, None))
)
PACKED = (_with("pack", hands=((1, 0), (2, 0)), rate=Decimal("0.2")),)

RESIN: dict[str, object] = {"cure_celsius": Decimal(20), "coldest_celsius": Decimal(14)}
SPRAYED: dict[str, object] = {
    "cure_celsius": Decimal(18),
    "coldest_celsius": Decimal(12),
    "warmest_celsius": Decimal(38),
}
TWO_PACK: dict[str, object] = {
    **SPRAYED,
    "does": (Act.SPRAY, Act.ISOCYANATE, Act.WET),
    "certificates": (TRAINED,),
}


BANDS = tuple(
    RecoatBand(upto_celsius=Decimal(upto), most_hours=Decimal(most)) for upto, most in POLYURETHANE
)
ABRADED = Way(
    id="abrade",
    needs=(Need(skill=FINISH),),
    hours=Hours(low=Decimal(1), likely=Decimal(2), high=Decimal(3)),
    places=CARVING_BAYS,
)
MATERIALS: dict[str, dict[str, object]] = {
    "laminate": RESIN,
    "second laminate": RESIN,
    "flow coat": RESIN,
    "prime": {**SPRAYED, "does": (Act.SPRAY, Act.WET)},
    "colour": {**TWO_PACK, "recoat_bands": BANDS},
    "lacquer": TWO_PACK,
}
"""What the material of a stage asks for."""


def _dressed(stage: Stage, hall: int) -> Stage:
    """Write down what the material of a stage asks for, and the places of its hall."""
    more = MATERIALS.get(stage.name, {})
    stage = replace(stage, ways=_ways_in(stage.ways, hall), **more)  # type: ignore[arg-type]
    if stage.name != "colour":
        return stage
    return replace(stage, abrade=Abrade(ways=_ways_in((ABRADED,), hall)))


def _ways_in(ways: tuple[Way, ...], hall: int) -> tuple[Way, ...]:
    return tuple(
        replace(way, places=tuple(_in_hall(place, hall) for place in way.places)) for way in ways
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """A job before its window is known: all of its steps but the journey, and their hours."""

    id: str
    name: str
    segments: tuple[Segment, ...]
    steps: tuple[Step, ...]
    hours: Decimal


def sized_book(size: Size) -> Book:
    """Make the workshop with all its jobs."""
    draw = Random(f"{size.seed}/{size.stages}/{size.people}/{size.jobs}")
    name = f"Sized workshop {size.seed}"
    book = shop(name, 1, SCALE, vans=2 * _halls(size))
    book = replace(book, places=_places(book, size), equipment=_equipment(book, size))
    counts = _segment_counts(size, draw)
    works = [_work(index, count, index % _halls(size), draw) for index, count in enumerate(counts)]
    windows = _windows(size, works, draw)
    until = max(held.end.date() for held in windows)
    crew = tuple(_person(index, until, draw) for index in range(size.people))
    book = replace(book, workshop=replace(book.workshop, closures=_closures(until)), people=crew)
    for work, held in zip(works, windows, strict=True):
        book = _taken_on(book, work, held, draw)
    return book


def _halls(size: Size) -> int:
    """Return how many halls there are, each for about twelve people."""
    return max(1, round(size.people / 12))


def _places(book: Book, size: Size) -> tuple[Place, ...]:
    """Write down the same places in each hall, with its own air."""
    return tuple(_place(place, hall) for hall in range(_halls(size)) for place in book.places)


def _place(place: Place, hall: int) -> Place:
    """Write down a place of a hall; what is sprayed flashes off before the next piece."""
    if place.kind is PlaceKind.BOOTH:
        place = replace(place, clear_out_minutes=60)
    if not hall:
        return place
    air = place.air and f"{place.air} {hall + 1}"
    name = f"{place.name}, hall {hall + 1}"
    return replace(place, id=_in_hall(place.id, hall), name=name, air=air)


def _in_hall(place: PlaceId, hall: int) -> PlaceId:
    return PlaceId(f"{place}-{hall + 1}") if hall else place


def _equipment(book: Book, size: Size) -> tuple[Equipment, ...]:
    return tuple(
        replace(each, count=each.count * _halls(size)) if each.id == "hot-wire" else each
        for each in book.equipment
    )


def _segment_counts(size: Size, draw: Random) -> list[int]:
    """Share the segments out: some jobs have more, some fewer."""
    each, over = divmod(size.segments_count, size.jobs_count)
    counts = [each + (index < over) for index in range(size.jobs_count)]
    for _ in counts:
        giver, taker = draw.randrange(len(counts)), draw.randrange(len(counts))
        if giver != taker and counts[giver] > 2:
            counts[giver] -= 1
            counts[taker] += 1
    return counts


def _work(index: int, count: int, hall: int, draw: Random) -> _Work:
    word, name, parts = PIECES[index % len(PIECES)]
    lap = index // len(PIECES) + 1
    job = word if lap == 1 else f"{word}{lap}"
    names = tuple(
        parts[at] if at < len(parts) else f"Panel {at - len(parts) + 1}" for at in range(count)
    )
    floor = _in_hall(PlaceId("floor"), hall)
    segments = tuple(replace(s, stands=floor) for s in sized_segments(job, names, draw))
    steps = _steps(job, segments, hall)
    return _Work(
        id=job,
        name=name if lap == 1 else f"{name} {lap}",
        segments=segments,
        steps=steps,
        hours=sum((_first_hours(step) for step in steps), Decimal(0)),
    )


def _steps(job: str, segments: tuple[Segment, ...], hall: int) -> tuple[Step, ...]:
    def of_all(recipes: tuple[Recipe, ...]) -> list[Step]:
        return [
            _dressed(stage_of(recipe, segment), hall) for segment in segments for recipe in recipes
        ]

    count = len(segments)
    return (
        *of_all(CARVING),
        _for_all(job, "pictures", Kind.FOAM, FOAM, Decimal(2)),
        gate(job, "approve", GateKind.ANSWER),
        *of_all(SKIN),
        gate(job, "trial fit", GateKind.TRIAL_FIT, ways=(_pair(2 + count),)),
        *of_all(PAINT),
        *(_hard_first(step) for step in of_all(PACKED)),
        gate(job, "loading", GateKind.LOADING, ways=(_pair(2 + count // 2),)),
    )


def _for_all(job: str, word: str, kind: Kind, skill: SkillId, hours: Decimal) -> Stage:
    way = Way(id="1 person", needs=(Need(skill=skill),), hours=_exact(hours))
    return Stage(id=StepId(f"{job}.{word}"), name=word, kind=kind, ways=(way,))


def _exact(hours: Decimal) -> Hours:
    return Hours(low=hours, likely=hours, high=hours)


def _pair(hours: int) -> Way:
    """Let two people work so many hours side by side."""
    needs = (Need(skill=FIT, can=1, helps=1),)
    return Way(id="2 people", needs=needs, hours=_exact(Decimal(2 * hours)))


def _hard_first(step: Step) -> Step:
    """Let a piece be packed no sooner than 72 hours after its lacquer (common practice)."""
    lacquer = StepId(step.id.removesuffix("pack") + "lacquer")
    return replace(step, after=(After(step=lacquer, least_hours=Decimal(72)),))


def _first_hours(step: Step) -> Decimal:
    if isinstance(step, Journey) or not step.ways:
        return Decimal(0)
    return step.ways[0].hours.likely


def _windows(size: Size, works: list[_Work], draw: Random) -> list[Window]:
    """Set the windows by the work that lies before each, and some weeks."""
    held, done = [], Decimal(0)
    a_day = HOURS_A_DAY * size.people * 100 / (100 - size.tight_percent)
    lead = LEAD_DAYS * (100 - size.tight_percent) // 100
    for index, work in enumerate(works):
        done += work.hours
        days = lead + int(done / a_day) + draw.randrange(-6, 9)
        opens = START + timedelta(days=days if index else days - HURRIED_DAYS)
        shuts = opens + timedelta(days=draw.choice((2, 3, 4, 5)) - 1)
        access = draw.choice(ACCESS)
        held.append(window(at(opens, 7), at(shuts, 22), access))
    return held


def _closures(until: date) -> tuple[Closure, ...]:
    """Shut the workshop over the turn of the year and for a week of August."""
    made = []
    for year in range(START.year, until.year + 1):
        made.append(Closure(first=date(year, 8, 9), last=date(year, 8, 15), name="summer"))
        made.append(Closure(first=date(year, 12, 24), last=date(year + 1, 1, 2), name="new year"))
    return tuple(made)


def _person(index: int, until: date, draw: Random) -> Person:
    name, lap = NAMES[index % len(NAMES)], index // len(NAMES) + 1
    does = DOES[index % len(DOES)]
    sprays = Certificate(certificate=TRAINED, expires=LATEST_EXPIRY)
    return Person(
        id=PersonId(name.lower() if lap == 1 else f"{name.lower()}{lap}"),
        name=name if lap == 1 else f"{name} {lap}",
        skills=tuple(Skill(skill=skill) for skill in does),
        hours=PART_TIME.get(index % len(DOES), ()),
        leave=_leave(until, draw),
        certificates=(sprays,) if SPRAY in does else (),
    )


def _leave(until: date, draw: Random) -> tuple[Leave, ...]:
    """Draw a stretch of leave for every twenty weeks."""
    made, begins = [], START
    while begins < until:
        first = begins + timedelta(days=draw.randrange(7, 120))
        last = first + timedelta(days=draw.choice((3, 5, 7, 14)))
        made.append(Leave(start=at(first, 0), end=at(last, 0), reason="holiday"))
        begins = max(begins + timedelta(days=140), last)
    return tuple(made)


def _taken_on(book: Book, work: _Work, held: Window, draw: Random) -> Book:
    """Add a job with its journey, by two people who are there then."""
    days = draw.choice((3, 5, 5, 7))
    drive = draw.choice((60, 120, 240, 420))
    book = commissioned(
        book, work.id, work.name, f"{work.name}'s client", held, work.segments, answer_days=days
    )
    fit = 60 * 4 + 75 * len(work.segments)
    journey = local_van(work.id, _crew(book, held, draw), drive, min(fit, 60 * 12))
    job = replace(book.jobs[-1], steps=(*work.steps, journey))
    return replace(book, jobs=(*book.jobs[:-1], job))


def _crew(book: Book, held: Window, draw: Random) -> tuple[PersonId, ...]:
    around = timedelta(days=3)
    able = [
        person.id
        for person in book.people
        if any(skill.skill == FIT for skill in person.skills)
        and all(
            away.end <= held.start - around or away.start >= held.end + around
            for away in person.leave
        )
    ]
    others = [person.id for person in book.people if person.id not in able]
    able = able if len(able) > 1 else [*able, *others]
    return tuple(sorted(draw.sample(able, 2)))


def main(argv: list[str]) -> int:
    """Write one book."""
    parser = argparse.ArgumentParser(prog="python -m tests.books.sized")
    parser.add_argument("--stages", type=int, required=True)
    parser.add_argument("--people", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int)
    parser.add_argument("--tight", type=int, default=0, help="windows so many per cent closer")
    parser.add_argument("out", type=Path)
    said = parser.parse_args(argv)
    size = Size(
        stages=said.stages, people=said.people, seed=said.seed, jobs=said.jobs,
        tight_percent=said.tight,
    )  # fmt: skip
    said.out.write_bytes(write_book(sized_book(size)))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

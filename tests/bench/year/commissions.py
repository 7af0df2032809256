"""The commissions of a year: what is asked for, when, and into which window."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Abrade,
    Book,
    Client,
    Gate,
    GateKind,
    Hours,
    Job,
    Kind,
    Need,
    Segment,
    Site,
    Stage,
    Standing,
    Step,
    Way,
    Window,
)
from shared.ids import JobId, PersonId, PlaceId, SegmentId, SkillId, StepId, WindowId
from shared.worktime import DateSpan, DayCalendar, HolidayRule, Shift, nth_working_day_after
from tests.bench.year.clock import DAY, START, local
from tests.bench.year.shop import BOOTH, CARVING, LAMINATING, hours_of
from tests.books.commissions import PIECES
from tests.books.making import FINISH, FIT, FOAM, LAMINATE, SPRAY, local_van

ACCESS = (Shift(days=(0, 1, 2, 3, 4, 5, 6), start=time(7), end=time(20)),)
FIRST_WINDOW_DAYS, LAST_WINDOW_DAYS = 84, 346
FIRST_WORK_DAYS = 8
BOOKED_LEAD_DAYS = (91, 133)
RUSH_LEAD_DAYS = (63, 91)
RUSH_PERCENT = 30
BUFFER_DAYS = Decimal(3)
WORKDAYS = DayCalendar(holidays=HolidayRule(country="GB", subdivision="ENG"))
SURPRISES = Decimal("1.2")
"""Hours held for each that was estimated: overruns, breakages, changes, waits for a mate."""
WELL = Decimal("0.96")
"""Of the hours that people should be there they are not ill in so many."""
SHARE_OF_WORK = Decimal("8") / Decimal("6.5")


@dataclass(frozen=True, slots=True, kw_only=True)
class Commission:
    """A job that somebody asks for on a day; a rush may be declined, all else is booked by all.

    hours: of the shifts that it takes as estimated, over all people.
    """

    job: Job
    asked: date
    is_rush: bool
    hours: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class _Recipe:
    """A stage on a piece of usual size: person-hours, who, where, and what follows from it."""

    word: str
    kind: Kind
    skill: SkillId
    hours: str
    place: PlaceId | None = None
    hands: tuple[int, ...] = (1,)
    most: str = "999"
    one_go: bool = False
    cure: int = 0
    stays: bool = False
    recoat: int | None = None


RECIPES = (
    _Recipe(word="block", kind=Kind.FOAM, skill=FOAM, hours="8", place=CARVING),
    _Recipe(word="carve", kind=Kind.FOAM, skill=FOAM, hours="34", place=CARVING, hands=(1, 2)),
    _Recipe(
        word="barrier", kind=Kind.LAMINATE, skill=LAMINATE, hours="4", most="5",
        place=LAMINATING, one_go=True, cure=12, recoat=96,
    ),
    _Recipe(
        word="laminate", kind=Kind.LAMINATE, skill=LAMINATE, hours="9", most="11",
        place=LAMINATING, hands=(2,), one_go=True, cure=6, stays=True, recoat=96,
    ),
    _Recipe(
        word="second laminate", kind=Kind.LAMINATE, skill=LAMINATE, hours="9", most="11",
        place=LAMINATING, hands=(2,), one_go=True, cure=24, stays=True,
    ),
    _Recipe(word="fair", kind=Kind.FILL, skill=FINISH, hours="24", place=CARVING, hands=(1, 2)),
    _Recipe(
        word="flow coat", kind=Kind.COAT, skill=LAMINATE, hours="3.5", most="5",
        place=LAMINATING, one_go=True, cure=16, stays=True,
    ),
    _Recipe(word="sand", kind=Kind.FILL, skill=FINISH, hours="16", place=CARVING, hands=(1, 2)),
    _Recipe(
        word="prime", kind=Kind.PAINT, skill=SPRAY, hours="3", most="5",
        place=BOOTH, one_go=True, cure=8, stays=True, recoat=96,
    ),
    _Recipe(
        word="colour", kind=Kind.PAINT, skill=SPRAY, hours="4", most="5",
        place=BOOTH, one_go=True, cure=12, stays=True, recoat=72,
    ),
    _Recipe(
        word="lacquer", kind=Kind.LACQUER, skill=SPRAY, hours="3", most="5",
        place=BOOTH, one_go=True, cure=72,
    ),
    _Recipe(word="pack", kind=Kind.PACK, skill=FIT, hours="3"),
)  # fmt: skip
"""One piece from the block to the crate; hours, cures and recoat times are common practice."""
BEFORE_THE_ANSWER = 2


def commissions(book: Book, load_percent: int, draw: Random) -> tuple[Commission, ...]:
    """Draw commissions until they take so much of the year's hours; by the day they are asked.

    What they take is estimated hours and usual surprises; the hours are those of everybody's
    shifts, leave and usual illness off, from the first work to the last windows.
    """
    works: list[Commission] = []
    left = capacity_hours(book) * load_percent / 100
    while left > 0:
        works.append(_drawn(len(works), draw))
        left -= works[-1].hours * SURPRISES
    sizes = [each.hours for each in works]
    dated = zip(works, _opening_days(sizes, draw), strict=True)
    made = [_dated(book, work, opens, draw) for work, opens in dated]
    return tuple(sorted(made, key=lambda each: (each.asked, each.job.id)))


def capacity_hours(book: Book) -> Decimal:
    """Return the hours that people are there between the first work and the last windows."""
    first, last = FIRST_WORK_DAYS * DAY, LAST_WINDOW_DAYS * DAY
    quarters = sum(hours_of(book, person).worked(first, last) for person in book.people)
    return Decimal(quarters) / 4 * WELL


def _opening_days(sizes: list[Decimal], draw: Random) -> Iterator[date]:
    """Give the days on which windows open: spread by the work before them, and shaken."""
    whole, done = sum(sizes), Decimal(0)
    span = LAST_WINDOW_DAYS - FIRST_WINDOW_DAYS
    for size in sizes:
        done += size
        days = FIRST_WINDOW_DAYS + int(span * (done - size / 2) / whole) + draw.randrange(-9, 10)
        yield START + timedelta(days=min(LAST_WINDOW_DAYS, max(FIRST_WINDOW_DAYS - 4, days)))


def _dated(book: Book, work: Commission, day: date, draw: Random) -> Commission:
    """Put a commission into a window of two or three working days from about a day on."""
    there = _workdays_of(book)
    opens = nth_working_day_after(there, day, 1)
    shuts = nth_working_day_after(there, opens, draw.choice((1, 2, 2)))
    held = Window(
        id=WindowId("only"), start=local(opens, 7), end=local(shuts, 20), access=ACCESS
    )  # fmt: skip
    is_rush = draw.randrange(100) < RUSH_PERCENT
    lead = draw.randrange(*(RUSH_LEAD_DAYS if is_rush else BOOKED_LEAD_DAYS))
    asked = max(START, opens - timedelta(days=lead))
    asked = nth_working_day_after(WORKDAYS, asked, 1)
    job = replace(work.job, windows=(held,))
    crew = _crew(book, held, draw)
    van = local_van(job.id, crew, 15 * draw.randrange(2, 7), 60 * draw.randrange(3, 6))
    job = replace(job, steps=(*job.steps, van))
    return replace(work, job=job, asked=asked, is_rush=is_rush)


def _workdays_of(book: Book) -> DayCalendar:
    shut = (DateSpan(first=each.first, last=each.last) for each in book.workshop.closures)
    return replace(WORKDAYS, closed=tuple(shut))


def _crew(book: Book, held: Window, draw: Random) -> tuple[PersonId, ...]:
    """Draw two who fit and are not on leave around the window, as far as there are."""
    around = timedelta(days=3)
    able = [
        person
        for person in book.people
        if any(skill.skill == FIT for skill in person.skills)
    ]  # fmt: skip
    there = [
        person.id
        for person in able
        if all(
            away.end <= held.start - around or away.start >= held.end + around
            for away in person.leave
        )
    ]
    rest = [person.id for person in able if person.id not in there]
    return tuple(sorted(draw.sample(there, 2) if len(there) > 1 else [*there, *rest][:2]))


def _drawn(index: int, draw: Random) -> Commission:
    word, name, parts = PIECES[index % len(PIECES)]
    lap = index // len(PIECES)
    job = word + (str(lap + 1) if lap else "")
    names = draw.sample(parts, draw.choice((1, 2, 2)))
    sizes = [Decimal(draw.randrange(80, 150)) / 100 for _ in names]
    segments = tuple(_segment(job, each) for each in names)
    steps = _steps(job, segments, sizes)
    made = Job(
        id=JobId(job),
        name=name + (f" {lap + 1}" if lap else ""),
        client=Client(
            name=f"The {word} client",
            zone="Europe/London",
            country="GB",
            subdivision="ENG",
            answer_days=draw.choice((3, 5, 5, 7)),
        ),
        site=Site(name=f"The {word} site", zone="Europe/London", country="GB"),
        windows=(),
        segments=segments,
        steps=steps,
        standing=Standing.FIRM,
        wished_buffer_days=BUFFER_DAYS,
    )
    hours = sum((_shift_hours(step) for step in steps), Decimal(0)) + 2 * 7
    return Commission(job=made, asked=START, is_rush=False, hours=hours)


def _shift_hours(step: Step) -> Decimal:
    """Return the hours of shifts that a stage takes, as it is estimated, done by fewest hands."""
    if not isinstance(step, Stage | Gate) or not step.ways:
        return Decimal(0)
    way = step.ways[0]
    hours = way.hours.likely * (1 + Decimal("0.05") * (way.hands_count - 1))
    return hours if step.in_one_go else hours * SHARE_OF_WORK


def _segment(job: str, name: str) -> Segment:
    return Segment(id=SegmentId(f"{job}.{name.lower().replace(' ', '-')}"), name=name)


def _steps(job: str, segments: tuple[Segment, ...], sizes: list[Decimal]) -> tuple[Step, ...]:
    pairs = list(zip(segments, sizes, strict=True))
    count = len(segments)
    carved = RECIPES[:BEFORE_THE_ANSWER]
    skinned = RECIPES[BEFORE_THE_ANSWER:]
    return (
        *(_stage(recipe, piece, size) for piece, size in pairs for recipe in carved),
        _whole(job, "pictures", Kind.FOAM, FOAM, Decimal(2)),
        Gate(id=StepId(f"{job}.approve"), name="approve", gate=GateKind.ANSWER),
        *(_stage(recipe, piece, size) for piece, size in pairs for recipe in skinned),
        _together(job, "trial fit", GateKind.TRIAL_FIT, 4 + 2 * count),
        _together(job, "loading", GateKind.LOADING, 2 + 2 * count),
    )


def _whole(job: str, word: str, kind: Kind, skill: SkillId, hours: Decimal) -> Stage:
    return Stage(
        id=StepId(f"{job}.{word}"), name=word, kind=kind, ways=(_way(skill, 1, hours, None),)
    )


def _together(job: str, word: str, kind: GateKind, hours: int) -> Gate:
    way = Way(
        id="2 people", needs=(Need(skill=FIT, can=2),), hours=_range(Decimal(hours))
    )  # fmt: skip
    return Gate(
        id=StepId(f"{job}.{word.replace(' ', '-')}"), name=word, gate=kind, ways=(way,)
    )  # fmt: skip


def _stage(recipe: _Recipe, piece: Segment, size: Decimal) -> Stage:
    hours = min(Decimal(recipe.hours) * size, Decimal(recipe.most))
    hours = hours.quantize(Decimal("0.25"))
    recoat = None if recipe.recoat is None else Decimal(recipe.recoat)
    return Stage(
        id=StepId(f"{piece.id}.{recipe.word.replace(' ', '-')}"),
        name=recipe.word,
        kind=recipe.kind,
        segments=(piece.id,),
        ways=tuple(_way(recipe.skill, hands, hours, recipe.place) for hands in recipe.hands),
        in_one_go=recipe.one_go,
        stays=recipe.stays,
        cure_hours=Decimal(recipe.cure),
        recoat_hours=recoat,
        abrade=None if recoat is None else Abrade(ways=(abraded_way(),)),
    )


def abraded_way() -> Way:
    """Return how a coat is abraded whose recoat time has run out."""
    return _way(FINISH, 1, Decimal(3), CARVING)


def _way(skill: SkillId, hands: int, hours: Decimal, place: PlaceId | None) -> Way:
    return Way(
        id=f"{hands} people" if hands > 1 else "1 person",
        needs=(Need(skill=skill, can=hands),),
        hours=_range(hours),
        places=() if place is None else (place,),
    )


def _range(likely: Decimal) -> Hours:
    low = (likely * Decimal("0.75")).quantize(Decimal("0.25"))
    return Hours(low=low, likely=likely, high=likely * Decimal("1.6"))

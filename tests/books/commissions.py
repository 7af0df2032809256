"""Made-up commissions: what is made, for whom, in how many pieces."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from random import Random
from zoneinfo import ZoneInfo

from shared.book import Client, Job, Segment, Site, Standing, Window
from shared.ids import JobId, PersonId, WindowId
from shared.worktime import Shift
from tests.books.making import local_van, segment, steps_for

ZONE = ZoneInfo("Europe/London")
PIECES: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("owl", "Reading owl", ("Head", "Body", "Left wing", "Right wing", "Perch")),
    ("snail", "Garden snail", ("Shell", "Body", "Foot")),
    ("plant", "Pitcher plant", ("Lid", "Lip", "Upper wall", "Lower wall", "Tendril")),
    ("moon", "Foyer moon", ("First quarter", "Second quarter", "Third quarter", "Last quarter")),
    ("trilobite", "Giant trilobite", ("Head shield", "Upper body", "Lower body", "Tail")),
    ("acorn", "Acorn seats", ("Cup", "Nut")),
    ("pear", "Market pear", ("Stalk", "Upper half", "Lower half")),
    ("thimble", "Thimble tower", ("Rim", "Upper band", "Lower band", "Crown")),
    ("walnut", "Walnut house", ("Left shell", "Right shell", "Kernel", "Door")),
    ("kettle", "Station kettle", ("Spout", "Body", "Handle", "Lid")),
    ("heron", "Heron gate", ("Left wing", "Right wing", "Neck")),
    ("fern", "Library fern", ("Stem", "Left frond", "Right frond", "Crozier")),
    ("loaf", "Stone loaf", ("Crust", "Crumb")),
    ("beetle", "Clock beetle", ("Left case", "Right case", "Head", "Legs")),
    ("bell", "Harbour bell", ("Crown", "Waist", "Lip")),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Commission:
    """What a made-up job is built from."""

    id: str
    name: str
    segments: tuple[Segment, ...]
    crew: tuple[PersonId, ...]
    client_name: str = "the client"
    answer_days: int = 10
    drive_minutes: int = 180
    fit_minutes: int = 240


def sized(job: str, names: tuple[str, ...], rng: Random) -> tuple[Segment, ...]:
    """Give each named segment a size from a door's to a lorry's."""
    made = []
    for name in names:
        length = Decimal(rng.randrange(14, 36)) / 10
        width = Decimal(rng.randrange(10, 24)) / 10
        height = Decimal(rng.randrange(10, 24)) / 10
        made.append(segment(job, name, (str(length), str(width), str(height))))
    return tuple(made)


def commission(index: int, rng: Random, crew: tuple[PersonId, ...]) -> Commission:
    """Write down the index-th of the made-up commissions."""
    word, name, parts = PIECES[index % len(PIECES)]
    lap = index // len(PIECES)
    job = word + (str(lap + 1) if lap else "")
    return Commission(
        id=job,
        name=name + (f" {lap + 1}" if lap else ""),
        segments=sized(job, parts, rng),
        crew=crew,
        answer_days=rng.choice((5, 10, 10)),
        drive_minutes=rng.randrange(4, 24) * 15,
        fit_minutes=rng.randrange(8, 28) * 15,
    )


def at(day: date, hour: int, minute: int = 0) -> datetime:
    """Give an instant of a day in the workshop's zone."""
    return datetime.combine(day, time(hour, minute), ZONE)


def window(start: datetime, end: datetime, access: tuple[Shift, ...] = ()) -> Window:
    """Write down the only window on offer."""
    return Window(id=WindowId("only"), start=start, end=end, access=access)


def job(
    made: Commission, held: Window, *, standing: Standing = Standing.FIRM, **more: object
) -> Job:
    """Write a commission out as a job, from the block to the sign-off."""
    journey = local_van(made.id, made.crew, made.drive_minutes, made.fit_minutes)
    client = Client(
        name=made.client_name,
        zone="Europe/London",
        country="GB",
        subdivision="ENG",
        answer_days=made.answer_days,
    )
    return Job(
        id=JobId(made.id),
        name=made.name,
        client=client,
        site=Site(name=f"{made.name}'s site", zone="Europe/London", country="GB"),
        windows=(held,),
        segments=made.segments,
        steps=steps_for(made.id, made.segments, journey),
        standing=standing,
        **more,  # type: ignore[arg-type]
    )


def two_days(day: date, days_long: int = 2) -> Window:
    """Give a window that opens at seven and shuts at eight in the evening, days later."""
    return window(at(day, 7), at(day + timedelta(days=days_long - 1), 20))

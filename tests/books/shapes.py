"""The shapes of made-up books: each a function from a seed to a book and what was planted."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from random import Random

from shared.book import Book, Gate, GateKind, Job, Journey, Place, Stage, Standing, Step, Window
from shared.files.write import digest
from shared.ids import PersonId, SkillId
from shared.plan import MadeFrom, Placement, Plan, Trip
from tests.books.commissions import at, commission, job, two_days, window
from tests.books.crew import equipment, people, places, workshop
from tests.books.ruled import ruled
from tests.books.serial import Planner

MONDAYS = (date(2027, 1, 18), date(2027, 3, 1), date(2027, 6, 7), date(2027, 9, 6))


@dataclass(frozen=True, slots=True, kw_only=True)
class Planted:
    """A made-up book and what is known of it; None where nothing was planted.

    job: the one that the cause is about. twin: the same book without the cause, so that it fits.
    also: what undoes it as well.
    """

    book: Book
    verdicts: dict[str, str] | None = None
    plan: Plan | None = None
    cause: dict[str, str] | None = None
    undo: dict[str, str] | None = None
    job: str | None = None
    twin: Book | None = None
    also: tuple[dict[str, str], ...] = ()

    @property
    def now(self) -> datetime:
        """Return the moment the book speaks of."""
        assert self.book.as_of is not None
        return self.book.as_of


def _now(rng: Random) -> datetime:
    return at(rng.choice(MONDAYS) + timedelta(days=7 * rng.randrange(0, 4)), 7, 30)


def _base(seed: int, crew_count: int, *, plain: bool, scale: str = "1") -> tuple[Book, Random]:
    rng = Random(seed)
    book = Book(
        name=f"Made-up workshop {seed}",
        workshop=workshop(f"Made-up workshop {seed}", is_strict=False),
        as_of=_now(rng),
        places=places(Decimal(scale)),
        equipment=equipment(2),
        people=people(crew_count, None if plain else rng),
    )
    return book, rng


def _crew(book: Book, rng: Random) -> tuple[PersonId, ...]:
    return tuple(sorted(rng.sample([p.id for p in book.people], 2)))


def _with_jobs(book: Book, rng: Random, count: int, first_week: int, gap_days: int) -> Book:
    """Add jobs whose windows follow one another from a week on."""
    made: list[Job] = []
    start = book.as_of
    assert start is not None
    for index in range(count):
        opens = start.date() + timedelta(days=7 * first_week + gap_days * index)
        standing = Standing.ENQUIRY if index and rng.random() < 0.1 else Standing.FIRM
        about = commission(index, rng, _crew(book, rng))
        made.append(job(about, two_days(opens, rng.choice((1, 2, 3))), standing=standing))
    return replace(book, jobs=tuple(made))


def small(seed: int) -> Planted:
    """Make one job of four segments for a workshop of five."""
    book, rng = _base(seed, 5, plain=True)
    about = commission(3, rng, _crew(book, rng))
    opens = book.as_of.date() + timedelta(days=7 * rng.randrange(10, 16))  # type: ignore[union-attr]
    return Planted(book=replace(book, jobs=(job(about, two_days(opens)),)))


def workshop_of(seed: int) -> Planted:
    """Make a workshop of eight to fourteen with three to twelve jobs."""
    count = Random(seed).randrange(8, 15)
    book, rng = _base(seed, count, plain=False, scale="1.5")
    jobs = rng.randrange(3, count - 1)
    return Planted(book=_with_jobs(book, rng, jobs, rng.randrange(9, 13), rng.randrange(9, 16)))


def tiny(seed: int) -> Planted:
    """Make a job or two of one small segment and few steps, for counting every plan."""
    book, rng = _base(seed, 3, plain=True)
    book = _with_jobs(book, rng, rng.randrange(1, 3), rng.randrange(2, 5), 3)
    jobs = tuple(_cut(made, rng) for made in book.jobs)
    return Planted(book=replace(book, jobs=jobs))


def _cut(made: Job, rng: Random) -> Job:
    """Keep one segment and some of its steps, nothing in the booth."""
    kept = made.segments[0]
    words = rng.sample(("block", "carve", "barrier", "hollow", "fair", "sand", "pack"), 3)
    steps: tuple[Step, ...] = tuple(
        step
        for step in made.steps
        if not isinstance(step, Stage) or (kept.id in step.segments and step.name in words)
    )
    steps = tuple(s for s in steps if not (isinstance(s, Gate) and s.gate is GateKind.TRIAL_FIT))
    return replace(made, segments=(kept,), steps=tuple(_linked(s, steps) for s in steps))


def _linked(step: Step, steps: tuple[Step, ...]) -> Step:
    """Let a step that names one which is gone follow the order of the list."""
    known = {s.id for s in steps}
    lost = step.after is not None and any(link.step not in known for link in step.after)
    return replace(step, after=None) if lost else step


def planted_plan(seed: int) -> Planted:
    """Make a workshop for which a plan that keeps every window is known.

    Odd seeds leave a week of room behind the planted plan and a day in recoat times; even ones
    leave next to none. A verdict worse than the planted one means that the plan was not found.
    """
    rng = Random(seed)
    is_roomy = seed % 2 == 1
    book, _ = _base(seed, rng.randrange(5, 11), plain=False, scale="1.5")
    book = _with_jobs(book, rng, rng.randrange(1, 5), 60, 7)
    book = replace(book, jobs=tuple(replace(j, standing=Standing.FIRM) for j in book.jobs))
    planner = Planner(book, book.as_of)  # type: ignore[arg-type]
    jobs = []
    for made in book.jobs:
        bare = replace(made, steps=tuple(_without_recoat(s) for s in made.steps))
        loaded = planner.plan_job(bare)
        trip = planner.drive(bare, loaded)
        held = _around(trip, bare, 7 * 96 if is_roomy else rng.randrange(0, 8))
        jobs.append(replace(bare, windows=(held,)))
    more_hours = 24 if is_roomy else 0
    written = tuple(_with_recoat(j, planner.placements, more_hours) for j in jobs)
    book = replace(book, jobs=written, places=_enough_floor(book, written, planner))
    plan = Plan(
        made_from=MadeFrom(revision=book.revision, digest=digest(book)),
        now=planner.now,
        jobs=tuple(sorted(j.id for j in book.jobs)),
        placements=tuple(sorted(planner.placements, key=_plan_order)),
        trips=tuple(sorted(planner.trips, key=lambda t: (t.job, t.step))),
    )
    verdict = "fits" if is_roomy else "tight"
    return Planted(book=book, plan=plan, verdicts={str(j.id): verdict for j in book.jobs})


def _plan_order(p: Placement) -> tuple[str, str, int, str]:
    return p.job, p.step, p.round, p.part


def _without_recoat(step: Step) -> Step:
    return replace(step, recoat_hours=None) if isinstance(step, Stage) else step


def _around(trip: Trip, made: Job, late_quarters: int) -> Window:
    """Give a window that the trip makes: from its arrival to its end or so much later."""
    journey = next(s for s in made.steps if isinstance(s, Journey))
    first = next(i for i, leg in enumerate(journey.legs) if leg.inside)
    late = timedelta(minutes=15 * late_quarters)
    return window(trip.legs[first].start, trip.end + late)


def _with_recoat(made: Job, placed: list[Placement], more_hours: int) -> Job:
    """Write the greatest waits down that the planted plan leaves, and so much more."""
    by_step = {p.step: p for p in placed}
    steps: list[Step] = []
    for index, step in enumerate(made.steps):
        if isinstance(step, Stage) and step.name in ("laminate", "colour"):
            nxt = _next(made, index)
            waited = by_step[nxt.id].start - by_step[step.id].end
            hours = Decimal(int(waited.total_seconds())) / 3600 + more_hours
            step = replace(step, recoat_hours=hours)
        steps.append(step)
    return replace(made, steps=tuple(steps))


def _next(made: Job, index: int) -> Step:
    """Give the step that follows another of one segment."""
    here = made.steps[index]
    return next(s for s in made.steps[index + 1 :] if set(here.segments) & set(s.segments))


def _enough_floor(book: Book, jobs: tuple[Job, ...], planner: Planner) -> tuple[Place, ...]:
    """Make the standing floor as large as the planted plan needs at its fullest."""
    room = 2 * Fraction(book.workshop.standing_room_m)
    stays = []
    for made in jobs:
        mine = [p for p in planner.placements if p.job == made.id]
        for segment in made.segments:
            own = {s.id for s in made.steps if not s.segments or segment.id in s.segments}
            times = [p for p in mine if p.step in own]
            area = (Fraction(segment.length_m or 0) + room) * (
                Fraction(segment.width_m or 0) + room
            )
            stays.append((min(p.start for p in times), max(p.end for p in times), area))
    peak = max(sum(u for a, b, u in stays if a <= t < b) for t, _, _ in stays)
    size = Decimal(-(-peak.numerator // peak.denominator) + 1)
    return tuple(replace(p, area_m2=size) if p.standing else p for p in book.places)


def planted_impossible(seed: int) -> Planted:
    """Make a workshop in which one job cannot be, for a cause that is planted."""
    rng = Random(seed)
    base = workshop_of(seed).book
    victim = base.jobs[rng.randrange(len(base.jobs))]
    victim = replace(victim, standing=Standing.FIRM)
    plant = (_too_soon, _nobody, _too_large)[seed % 3]
    broken, cause, undo = plant(base, victim)
    jobs = tuple(broken if j.id == victim.id else j for j in base.jobs)
    return Planted(
        book=replace(base, jobs=jobs),
        verdicts={str(victim.id): "cannot"},
        cause=cause,
        undo=undo,
    )


def _too_soon(book: Book, made: Job) -> tuple[Job, dict[str, str], dict[str, str]]:
    """Let the window shut before the cures of one segment alone could run."""
    first = made.segments[0].id
    mine = [s for s in made.steps if not s.segments or first in s.segments]
    cures = sum((s.cure_hours for s in mine if isinstance(s, Stage)), Decimal(0))
    answer = timedelta(days=made.client.answer_days)
    assert book.as_of is not None
    shut = book.as_of + timedelta(hours=int(cures)) + answer - timedelta(days=1)
    held = window(shut - timedelta(hours=13), shut)
    was = made.windows[0]
    undo = {
        "kind": "window", "id": str(made.id),
        "start": was.start.isoformat(), "end": was.end.isoformat(),
    }  # fmt: skip
    return replace(made, windows=(held,)), {"kind": "window", "id": str(made.id)}, undo


def _nobody(_book: Book, made: Job) -> tuple[Job, dict[str, str], dict[str, str]]:
    """Let one stage ask for a skill that nobody has."""
    target = next(s for s in made.steps if isinstance(s, Stage) and s.name == "carve")
    lost = SkillId("gilding")
    ways = tuple(
        replace(w, needs=tuple(replace(n, skill=lost) for n in w.needs)) for w in target.ways
    )
    steps = tuple(replace(s, ways=ways) if s is target else s for s in made.steps)
    undo = {"kind": "skill", "id": str(target.id), "skill": "foam"}
    return replace(made, steps=steps), {"kind": "skill", "id": str(target.id)}, undo


def _too_large(_book: Book, made: Job) -> tuple[Job, dict[str, str], dict[str, str]]:
    """Let one segment be larger than every bay."""
    target = made.segments[0]
    huge = replace(target, length_m=Decimal(40), surface_m2=Decimal(20))
    segments = tuple(huge if s.id == target.id else s for s in made.segments)
    undo = {"kind": "size", "id": str(target.id), "length_m": str(target.length_m)}
    return replace(made, segments=segments), {"kind": "size", "id": str(target.id)}, undo


def ruled_of(seed: int) -> Planted:
    """Make a workshop of six to nine with one to three jobs under all the rules of the trade."""
    book, rng = _base(seed, Random(seed).randrange(6, 10), plain=False, scale="1.5")
    book = _with_jobs(book, rng, rng.randrange(1, 4), rng.randrange(9, 15), rng.randrange(9, 16))
    return Planted(book=ruled(book, rng))


SHAPES: dict[str, Callable[[int], Planted]] = {
    "ruled": ruled_of,
    "small": small,
    "workshop": workshop_of,
    "tiny": tiny,
    "planted-plan": planted_plan,
    "planted-impossible": planted_impossible,
}

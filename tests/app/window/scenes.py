"""Walls for tests: books with a planted plan, and an outcome that says what a test wants."""

from dataclasses import replace
from datetime import timedelta
from functools import lru_cache

from app.window.wall.derive import Shown, derive
from app.window.wall.items import Wall
from app.window.wall.layout import Layout, fitting, lay_out, season
from app.words import Words
from scheduler.outcome import CheckResult, JobOutcome, Outcome, StepTimes, Verdict
from shared.book import Gate, GateKind
from shared.plan import Plan
from tests.books.shapes import Planted, planted_plan


@lru_cache(maxsize=8)
def planted(seed: int = 4) -> Planted:
    return planted_plan(seed)


def outcome_for(made: Planted, verdict: Verdict = Verdict.FITS, spare_days: int = 2) -> Outcome:
    """Give an outcome in which loading could start so many days later than planned."""
    assert made.plan is not None
    jobs = []
    for job in made.book.jobs:
        gate = next(s for s in job.steps if isinstance(s, Gate) and s.gate is GateKind.LOADING)
        placed = next(p for p in made.plan.placements if p.step == gate.id)
        later = timedelta(days=spare_days)
        times = StepTimes(
            step=gate.id, latest_start=placed.start + later, latest_end=placed.end + later
        )
        met = verdict in {Verdict.FITS, Verdict.TIGHT}
        jobs.append(
            JobOutcome(
                id=job.id,
                name=job.name,
                verdict=verdict,
                slack_minutes=spare_days * 480 if met else None,
                missed_by_minutes=0 if met else 3 * 1440,
                missed_by_working_minutes=0 if met else 3 * 480,
                latest_loading=placed.end + later,
                loading_end=placed.end,
                steps=(times,),
            )
        )
    return Outcome(
        revision=made.book.revision,
        now=made.now,
        plan=made.plan,
        check=CheckResult(),
        verdict=verdict,
        levels=(0,) * 8,
        proved_levels=3,
        jobs=tuple(jobs),
        stopped="time",
    )


def shown(seed: int = 4, *, outcome: Outcome | None = None, plan: Plan | None = None) -> Shown:
    made = planted(seed)
    return Shown(book=made.book, now=made.now, plan=plan or made.plan, outcome=outcome)


@lru_cache(maxsize=8)
def a_wall(seed: int = 4) -> Wall:
    made = planted(seed)
    return derive(shown(seed, outcome=outcome_for(made)), Words("en", book=made.book))


def laid_out(wall: Wall, width: int = 1366, height: int = 634, per_day: float = 0) -> Layout:
    """Lay a wall out, all of it in sight or at so many pixels a day from today."""
    first, last = season(wall)
    scale = fitting(first, last, 12, width - 240, wall.first)
    if per_day:
        scale = replace(scale, pixels_per_day=per_day, offset=0)
        scale = scale.moved(scale.x(wall.now) - 40)
    return lay_out(wall, width, height, scale)

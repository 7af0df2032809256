"""How jobs stand in a plan that was kept: by the book it is of, without planning anything."""

from scheduler.calendar import Index
from scheduler.from_told import told_trips
from scheduler.normalise import Normal, normalise
from scheduler.outcome import LEVEL_COUNT, CheckResult, Outcome
from scheduler.problem import Schedule
from scheduler.verdicts import job_outcomes, worst
from shared.book import Book
from shared.plan import Plan
from shared.units import STEP_SECONDS

_NOWHERE = -1


def outcome_of(book: Book, plan: Plan, found: CheckResult) -> Outcome:
    """Return the answer that a plan is, without its aims, bounds and proofs.

    found: what the check says of it. A job that it misses is `not_found`, since nothing is proved
    of others. A job that the plan holds only in part is left out.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    """
    normal = normalise(book, plan.now, plan.jobs)
    schedule = _schedule(normal, plan)
    partly = {
        name.job.id
        for aim, name in zip(normal.problem.jobs, normal.jobs, strict=True)
        if any(schedule.ends[stage] == _NOWHERE for stage in aim.lasts)
    }
    every = job_outcomes(normal, Index(normal.problem), schedule, {})
    jobs = tuple(told for told in every if told.id in plan.jobs and told.id not in partly)
    return Outcome(
        revision=plan.made_from.revision,
        now=plan.now,
        plan=plan,
        check=found,
        verdict=worst(tuple(told.verdict for told in jobs)),
        levels=(0,) * LEVEL_COUNT,
        proved_levels=0,
        jobs=jobs,
        stopped="",
    )


def _schedule(normal: Normal, plan: Plan) -> Schedule:
    """Return when stages end and what leaves when; who is at it where says nothing of windows."""
    placed = {(each.step, each.round, each.part): each for each in plan.placements}
    starts: list[int] = []
    ends: list[int] = []
    for name in normal.stages:
        told = placed.get((name.step, name.round, name.part if name.is_told else ""))
        for found, at in ((starts, told and told.start), (ends, told and told.end)):
            seconds = (at - normal.origin).total_seconds() if at else _NOWHERE * STEP_SECONDS
            found.append(max(_NOWHERE, int(-(-seconds // STEP_SECONDS))))
    trips = told_trips(normal, plan)
    return Schedule(
        starts=tuple(starts),
        ends=tuple(ends),
        ways=(0,) * len(starts),
        teams=((),) * len(starts),
        trips=tuple(trips.get(at, _NOWHERE) for at in range(len(normal.jobs))),
    )

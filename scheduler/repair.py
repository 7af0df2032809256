"""After an edit: what was planned stays where it still can, and only what broke is placed anew.

Rounds: everything that is kept is booked; what broke is placed around it, no sooner than it was
planned, by the same people unless others are done half a day before them. What finds no place that
way may begin some days sooner; then its neighbours in time are let go as well, and a round begins
anew. A job that would miss its window for this is pulled sooner as a whole.
"""

from collections.abc import Collection

from scheduler.aims import levels, missed_jobs
from scheduler.broken import broken
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.edited import Before, Carried, carried
from scheduler.net import Nets
from scheduler.normalise import Normal
from scheduler.problem import Problem, Schedule
from scheduler.refit import Refit
from scheduler.search import Spot
from scheduler.shifts import first_schedule

DAY_STEPS = 96
ROUNDS_MAX = 11
PULLED_STEPS = (DAY_STEPS, 3 * DAY_STEPS, 7 * DAY_STEPS, 14 * DAY_STEPS, 30 * DAY_STEPS)
"""By so much sooner the stages of a job that would miss its window may begin."""


def after_edit(normal: Normal, index: Index, before: Before, seed: int) -> Schedule | Unfit:
    """Return a first schedule after an edit: repaired, or made anew where that misses less.

    normal, index: the book after the edit. before: the book before it and its schedule.
    """
    found = repaired(normal, index, before)
    if found is not None and not _misses_more(normal, found, before):
        return found
    anew = first_schedule(index, seed)
    if found is None or isinstance(anew, Unfit):
        return anew if found is None else found
    problem = index.problem
    return anew if levels(problem, anew)[:2] < levels(problem, found)[:2] else found


def _misses_more(normal: Normal, schedule: Schedule, before: Before) -> bool:
    missed = {normal.jobs[job].job.id for job in missed_jobs(normal.problem, schedule)}
    old = before.normal
    return not missed <= {old.jobs[job].job.id for job in missed_jobs(old.problem, before.schedule)}


def repaired(normal: Normal, index: Index, before: Before) -> Schedule | None:
    """Return an earlier schedule with no more changed than an edit asks for; None: no way found.

    normal, index: the book after the edit. before: the book before it and its schedule.
    """
    return repair(index, carried(normal, before))


def repair(index: Index, kept: Carried) -> Schedule | None:
    """Return a schedule that keeps every rule and as much as it can of what is carried."""
    if 2 * len(kept.starts) < len(index.problem.stages):
        return None
    found = _in_rounds(index, kept)
    if found is None:
        return None
    found = _with_windows(index, kept, found)
    return found if _is_sound(index, found) else None


def _in_rounds(index: Index, kept: Carried, freed: Collection[int] = ()) -> Schedule | None:
    """Place what broke; what stands in its way is let go, a little more each round."""
    refit = Refit(index, kept, freed)
    for _ in range(ROUNDS_MAX):
        found = refit.round()
        if found is not None:
            return found
        if not refit.let_go():
            return None
    return None


def _with_windows(index: Index, kept: Carried, schedule: Schedule) -> Schedule:
    """Pull jobs sooner that miss their windows and did not before, as far as that helps."""
    best = schedule
    for job in sorted(missed_jobs(index.problem, schedule) - kept.missed):
        for sooner in PULLED_STEPS:
            found = _in_rounds(index, *_pulled(index.problem, best, job, sooner))
            if found is None:
                continue
            missed, was = missed_jobs(index.problem, found), missed_jobs(index.problem, best)
            if job not in missed and missed < was:
                best = found
                break
    return best


def _pulled(
    problem: Problem, schedule: Schedule, job: int, sooner: int
) -> tuple[Carried, frozenset[int]]:
    """Return what a schedule says with a job wanted so much sooner, and that job's stages."""
    spots = spots_of(schedule)
    own = frozenset(stage for stage in spots if problem.stages[stage].job == job)
    starts = {
        stage: max(0, spot.start - sooner) if stage in own else spot.start
        for stage, spot in spots.items()
    }
    trips = {at: option for at, option in enumerate(schedule.trips) if option >= 0 and at != job}
    return Carried(spots=spots, starts=starts, trips=trips), own


def spots_of(schedule: Schedule) -> dict[int, Spot]:
    """Return the spots of all stages that are placed."""
    rows = zip(schedule.starts, schedule.ends, schedule.ways, schedule.teams, strict=True)
    return {
        stage: Spot(start=start, end=end, way=way, team=team)
        for stage, (start, end, way, team) in enumerate(rows)
        if way >= 0
    }


def _is_sound(index: Index, schedule: Schedule) -> bool:
    spots = spots_of(schedule)
    asked = index.problem.stages
    net = index.once(Nets).net(frozenset(stage for stage in spots if asked[stage].optional))
    trips = {job: option for job, option in enumerate(schedule.trips) if option >= 0}
    return all(stage in spots for stage in net.active) and not broken(index, net, spots, trips)

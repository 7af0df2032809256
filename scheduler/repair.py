"""After an edit: what was planned stays where it still can, and only what broke is placed anew.

Rounds: everything that is kept is booked; what broke is placed around it, no sooner than it was
planned, by the same people unless others are done half a day before them. What finds no place that
way may begin some days sooner; then its neighbours in time are let go as well, and a round begins
anew. A job that would miss its window for this is pulled sooner as a whole.
"""

from dataclasses import replace

from scheduler.aims import levels, missed_jobs
from scheduler.broken import broken
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.edited import Before, Carried, carried
from scheduler.grid import DAY_STEPS
from scheduler.net import Nets
from scheduler.normalise import Normal
from scheduler.problem import Schedule
from scheduler.refit import Refit
from scheduler.shifts import first_schedule
from scheduler.spots import spots_of
from scheduler.urgency import RELEASE_STEPS

ROUNDS_MAX = 11
LET_GO_MAX = 30
LET_GO_SHARE = 10
"""So much that was kept, or a tenth of all, is let go for what broke before all is placed anew."""
MUCH_SHARE = 20
"""A twentieth of what was planned is much to tell anew."""
SOONER_STEPS = (DAY_STEPS, 7 * DAY_STEPS)
"""By so much sooner a job that would miss its window may begin."""


def loses_windows(normal: Normal, schedule: Schedule, before: Before) -> bool:
    """Return whether a job misses its window that was there and kept it before an edit.

    normal: the book after the edit. before: the book before it and its schedule.
    """
    old = before.normal
    lost = {name.job.id for name in old.jobs}
    lost -= {old.jobs[job].job.id for job in missed_jobs(old.problem, before.schedule)}
    missed = missed_jobs(normal.problem, schedule)
    return any(normal.jobs[job].job.id in lost for job in missed)


def without_loss(index: Index, schedule: Schedule, seed: int) -> Schedule:
    """Return a schedule that is made anew, as far as that misses fewer windows; else the same."""
    anew = first_schedule(index, seed)
    if isinstance(anew, Unfit):
        return schedule
    problem = index.problem
    return anew if levels(problem, anew)[:2] < levels(problem, schedule)[:2] else schedule


def repaired(normal: Normal, index: Index, before: Before) -> Schedule | None:
    """Return an earlier schedule with no more changed than an edit asks for; None: no way found.

    normal, index: the book after the edit. before: the book before it and its schedule.
    """
    return repair(index, carried(normal, before))


def repair(index: Index, kept: Carried) -> Schedule | None:
    """Return a schedule that keeps every rule and as much as it can of what is carried."""
    if 2 * len(kept.starts) < len(index.problem.stages):
        return None
    refit = Refit(index, kept)
    soon = refit.copied(RELEASE_STEPS)
    found = _with_new_jobs(index, kept, _of_old_jobs(index, kept, refit), soon)
    if found is None:
        return None
    for job in sorted(missed_jobs(index.problem, found) & kept.jobs - kept.missed):
        found = _sooner(index, kept, found, job)
    return found if _is_sound(index, found) else None


def _of_old_jobs(index: Index, kept: Carried, refit: Refit) -> Schedule | None:
    """Return what is kept, if that costs no job much; else the best of that and all anew."""
    since = refit.since
    count = len(index.problem.stages)
    found = _in_rounds(refit, max(LET_GO_MAX, count // LET_GO_SHARE))
    if found is not None and not _is_worse(index, kept, found):
        return found
    best = _better(index, kept, found, _replayed(index, kept, since))
    if found is None and (best is None or _is_costly(index, kept, best)):
        best = _better(index, kept, best, _in_rounds(refit, count))
    return best


def _with_new_jobs(
    index: Index, kept: Carried, schedule: Schedule | None, refit: Refit
) -> Schedule | None:
    """Let jobs that are new begin as soon as they can if they would miss their windows."""
    if schedule is None or not missed_jobs(index.problem, schedule) - kept.jobs:
        return schedule
    return _better(index, kept, schedule, _in_rounds(refit, LET_GO_MAX))


def _in_rounds(refit: Refit, most: int) -> Schedule | None:
    """Place what broke; what stands in its way is let go, up to so many, more each round."""
    for _ in range(ROUNDS_MAX):
        if not refit.let_go(most):
            return None
        found = refit.round()
        if found is not None:
            return found
    return None


def _replayed(index: Index, kept: Carried, since: int) -> Schedule | None:
    """Place everything anew that was to begin since a moment, in the order it was planned in."""
    freed = {stage for stage, start in kept.starts.items() if start >= since}
    return _in_rounds(Refit(index, kept, freed), len(index.problem.stages))


def _is_worse(index: Index, kept: Carried, schedule: Schedule) -> bool:
    """Return whether windows are missed that were not, or all are missed by a day more.

    Jobs that were not there before don't count.
    """
    first, second, late = _missing(index, kept, schedule)
    was_first, was_second, was_late = kept.levels
    return (first, second) > (was_first, was_second) or late >= was_late + DAY_STEPS


def _is_costly(index: Index, kept: Carried, schedule: Schedule) -> bool:
    """Return whether it is worse, or much of what was planned has moved."""
    much = _moved_count(kept, schedule) * MUCH_SHARE > len(kept.spots)
    return much or _is_worse(index, kept, schedule)


def _better(
    index: Index, kept: Carried, one: Schedule | None, other: Schedule | None
) -> Schedule | None:
    if one is None or other is None:
        return one or other
    return other if _worth(index, kept, other) < _worth(index, kept, one) else one


def _worth(index: Index, kept: Carried, schedule: Schedule) -> tuple[int, ...]:
    """Return windows missed, whether much has moved, days late in all, and how much has moved.

    Days late that cost many a new sheet are for the search behind this to win.
    """
    first, second, late = _missing(index, kept, schedule)
    new = missed_jobs(index.problem, schedule) - kept.jobs
    moved = _moved_count(kept, schedule)
    is_much = moved * MUCH_SHARE > len(kept.spots)
    return first, second, len(new), int(is_much), late // DAY_STEPS, moved


def _moved_count(kept: Carried, schedule: Schedule) -> int:
    spots = spots_of(schedule)
    return sum(spots.get(stage) != spot for stage, spot in kept.spots.items())


def _missing(index: Index, kept: Carried, schedule: Schedule) -> tuple[int, int, int]:
    """Return the first levels of a schedule, of the jobs alone that were there before."""
    problem = index.problem
    jobs = tuple(problem.jobs[job] for job in sorted(kept.jobs))
    trips = tuple(schedule.trips[job] for job in sorted(kept.jobs))
    first, second, late, *_ = levels(replace(problem, jobs=jobs), replace(schedule, trips=trips))
    return first, second, late


def _sooner(index: Index, kept: Carried, schedule: Schedule, job: int) -> Schedule:
    """Let a job begin sooner that would miss a window that is new, or is sooner than it was."""
    stages = index.problem.stages
    own = [stage for stage in range(len(stages)) if stages[stage].job == job]
    spots = spots_of(schedule)
    if any(spots.get(stage) != kept.spots.get(stage) for stage in own if stage in kept.spots):
        return schedule
    best = schedule
    for sooner in SOONER_STEPS:
        starts = {stage: spot.start for stage, spot in spots.items()}
        starts |= {stage: max(0, starts[stage] - sooner) for stage in own if stage in starts}
        since = min((starts[stage] for stage in own if stage in starts), default=0)
        wanted = replace(kept, starts=starts)
        best = _better(index, kept, best, _replayed(index, wanted, since)) or best
        if job not in missed_jobs(index.problem, best):
            break
    return best


def _is_sound(index: Index, schedule: Schedule) -> bool:
    spots = spots_of(schedule)
    asked = index.problem.stages
    net = index.once(Nets).net(frozenset(stage for stage in spots if asked[stage].optional))
    trips = {job: option for job, option in enumerate(schedule.trips) if option >= 0}
    return all(stage in spots for stage in net.active) and not broken(index, net, spots, trips)

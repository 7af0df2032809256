"""How sure each job of a plan is, and what carries its risk."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

import numpy as np

from scheduler.calendar import Index
from scheduler.chance.arrays import Ints
from scheduler.chance.draws import DRAWS, SEED, Draws
from scheduler.chance.figures import Figures, figures_of
from scheduler.chance.fitting import Bank
from scheduler.chance.luck import Luck, luck_of
from scheduler.chance.menus import Menus
from scheduler.chance.planned import planned_of
from scheduler.chance.pools import Pools, Replayed
from scheduler.chance.risks import Risks
from scheduler.chance.values import Chances, JobChance
from scheduler.grid import DAY_STEPS
from scheduler.kept import Kept
from scheduler.normalise import JobName, normalise
from scheduler.outcome import JobOutcome, Outcome, Verdict
from scheduler.problem import JobAim
from scheduler.reasons import Reason
from scheduler.verdicts import worst
from shared.book import Book, Job
from shared.estimate.record import Record, record_of
from shared.plan import Plan
from shared.units import instant_of

WITHOUT_ANOTHER, WITH_ANOTHER = 95, 90
"""Of a hundred: how sure a window should be with no other on offer, and with one."""
BEHIND_STEPS = 26 * 7 * 96
"""So far past the end of a plan its replays reach."""
DAYS_MOST = 365
"""No draw counts as later."""
LATE_DAY, LATE_DAYS_MOST = 0.05, 10
"""What a day late adds to a strain, and how many days do."""
LEAST, MOST = 1, 99
"""Of a hundred; nothing is sure, and so few draws can't tell what is nearly so."""


def chances_of(
    book: Book,
    plan: Plan,
    *,
    draws: int = DRAWS,
    seed: int = SEED,
    kept: Kept | None = None,
    with_overrun: bool = True,
) -> Chances:
    """Return how sure the jobs of a plan are; the same seed gives the same answer.

    The plan must have been made of this very book. with_overrun: the second figure too, while the
    workshop has no record of its own. kept: tables of earlier questions.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    """
    asked = _Asking(book, plan, draws, seed, kept or Kept())
    return asked.chances(with_overrun=with_overrun)


def threshold_of(job: Job) -> int:
    """Return of how many of a hundred a job's window should be kept: its own wish, or by rule."""
    if job.chance_wanted_percent is not None:
        return job.chance_wanted_percent
    others = [window for window in job.windows if window is not job.held_window]
    return WITH_ANOTHER if others else WITHOUT_ANOTHER


def with_chances(outcome: Outcome, chances: Chances) -> Outcome:
    """Return an outcome with the chances of its very plan: too small a one makes a job tight."""
    jobs = tuple(_with_chance(job, chances.of(job.id)) for job in outcome.jobs)
    return replace(outcome, jobs=jobs, verdict=worst(tuple(job.verdict for job in jobs)))


def _with_chance(job: JobOutcome, found: JobChance | None) -> JobOutcome:
    if found is None or found.chance is None:
        return job
    is_short = found.is_short and job.verdict is Verdict.FITS
    return replace(job, chance=found.chance, verdict=Verdict.TIGHT if is_short else job.verdict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Replay:
    """One set of draws replayed. loaded: by job, when loading ends; kept: where in time."""

    luck: Luck
    replayed: Replayed
    loaded: Mapping[int, Ints]
    chances: Mapping[int, int | None]


class _Asking:
    """One question about one plan."""

    def __init__(self, book: Book, plan: Plan, draws: int, seed: int, kept: Kept) -> None:
        self._plan = plan
        left_out = {one.step: None for one in plan.unplaced if one.code == Reason.NOT_PLACED}
        self._normal = normalise(book, plan.now, plan.jobs, left_out=left_out, memory=kept.memory)
        self._index = Index(self._normal.problem, tables=kept.tables)
        self._planned = planned_of(self._normal, self._index, plan)
        upto = min(self._normal.problem.horizon, self._reach() + BEHIND_STEPS)
        self._bank = Bank(upto)
        self._menus = Menus(self._index, self._planned)
        self._figures: Figures = figures_of(book.workshop)
        self._record: Record = record_of(book, self._figures.usual)
        self._count, self._seed = draws, seed

    def _reach(self) -> int:
        aims = self._normal.problem.jobs
        return max([0, *self._planned.ends, *(aim.latest or 0 for aim in aims)])

    def chances(self, *, with_overrun: bool) -> Chances:
        """Return everything that is said."""
        record = self._record
        if with_overrun and not record.is_own:
            written, longer = self._replays(None, (1.0, self._figures.usual))
        else:
            written, longer = self.replay(record=record if record.is_own else None), None
        found = {}
        risks = Risks(self._normal, written.replayed, written.luck)
        for position, name in enumerate(self._normal.jobs):
            found[name.job.id] = self._job(position, name, written, longer, risks)
        gone = {each.job.id: _of_gone(each.job) for each in self._normal.gone}
        factor = record.whole.factor if record.is_own else self._figures.usual
        return Chances(
            jobs=tuple({**gone, **found}[job] for job in self._normal.planned),
            draws=self._count,
            seed=self._seed,
            finished_count=record.count,
            is_own_record=record.is_own,
            overrun_percent=round(100 * (factor - 1)),
            left_out_count=record.left_out_count,
        )

    def replay(self, *, record: Record | None = None, times: float = 1.0) -> Replay:
        """Replay the plan in all draws, as of luck_of."""
        (found,) = self._replays(record, (times,))
        return found

    def _replays(self, record: Record | None, times: tuple[float, ...]) -> list[Replay]:
        """Replay the same draws once for each of some factors on all hours, side by side."""
        figures, count = self._figures, self._count
        draws = Draws(
            alike=figures.alike,
            overall=figures.overall,
            count=count,
            seed=self._seed,
            copies=len(times),
        )
        factors = times[0] if len(times) == 1 else np.repeat(times, count)
        luck = luck_of(self._normal, draws, figures, self._bank.upto, record=record, times=factors)
        replayed = Pools(
            self._normal,
            self._index,
            self._planned,
            luck,
            draws.rows,
            self._bank,
            self._menus,
        ).run()
        if len(times) == 1:
            return [self._judged(luck, replayed)]
        parts = [slice(at * count, (at + 1) * count) for at in range(len(times))]
        return [self._judged(luck.part(part), replayed.part(part)) for part in parts]

    def _judged(self, luck: Luck, replayed: Replayed) -> Replay:
        aims = self._normal.problem.jobs
        loaded = {
            position: end
            for position, aim in enumerate(aims)
            if (end := _loaded(aim, replayed)) is not None
        }
        chances = {position: _chance(aims[position], end) for position, end in loaded.items()}
        return Replay(luck=luck, replayed=replayed, loaded=loaded, chances=chances)

    def _job(
        self,
        position: int,
        name: JobName,
        written: Replay,
        longer: Replay | None,
        risks: Risks,
    ) -> JobChance:
        end = written.loaded.get(position)
        job = name.job
        bare = JobChance(
            id=job.id,
            name=job.name,
            chance=written.chances.get(position),
            at_usual_overrun=None if longer is None else longer.chances.get(position),
            threshold=threshold_of(job),
        )
        if end is None:
            return bare
        return replace(
            bare,
            ready_50=self._instant(end, 0.5),
            ready_80=self._instant(end, 0.8),
            ready_wanted=self._instant(end, bare.threshold / 100),
            planned=self._planned_end(position),
            latest=self._latest(position),
            late_days=_late_days(self._normal.problem.jobs[position], end),
            strain=_strain(self._normal.problem.jobs[position], end),
            risks=risks.of(self._normal.problem.jobs[position], end),
        )

    def _planned_end(self, position: int) -> datetime | None:
        aim = self._normal.problem.jobs[position]
        ends = [self._planned.ends[stage] for stage in aim.lasts]
        return instant_of(self._normal.origin, max(ends)) if ends and min(ends) >= 0 else None

    def _latest(self, position: int) -> datetime | None:
        latest = self._normal.problem.jobs[position].latest
        return None if latest is None else instant_of(self._normal.origin, latest)

    def _instant(self, ends: Ints, share: float) -> datetime | None:
        """Return by when loading has ended in such a share of draws, None past all tables."""
        step = int(np.sort(ends)[min(len(ends) - 1, int(share * len(ends)))])
        return None if step >= self._bank.upto else instant_of(self._normal.origin, step)


def _loaded(aim: JobAim, replayed: Replayed) -> Ints | None:
    ends = [end for stage in aim.lasts if (end := replayed.ends[stage]) is not None]
    return np.maximum.reduce(ends) if ends else None


def _chance(aim: JobAim, end: Ints) -> int | None:
    """Return of how many of a hundred draws the window is kept, None where nothing makes it."""
    if aim.latest is None:
        return None
    share = float((end <= aim.latest).mean())
    return min(MOST, max(LEAST, round(100 * share)))


def _late_days(aim: JobAim, end: Ints) -> Decimal:
    if aim.latest is None:
        return Decimal(0)
    days = -(-np.maximum(end - aim.latest, 0) // DAY_STEPS)
    return Decimal(round(100 * float(np.minimum(days, DAYS_MOST).mean()))) / 100


def _strain(aim: JobAim, end: Ints) -> float:
    """Return how near a job comes to its latest loading and past it, as of JobChance."""
    if aim.latest is None:
        return 1.0
    wish = aim.latest if aim.wish is None else aim.wish
    gone = np.clip((end - wish) / max(1, aim.latest - wish), 0.0, 1.0)
    late = np.clip((end - aim.latest) / DAY_STEPS, 0.0, LATE_DAYS_MOST)
    return float((gone + LATE_DAY * late).mean())


def _of_gone(job: Job) -> JobChance:
    return JobChance(
        id=job.id, name=job.name, chance=None, at_usual_overrun=None, threshold=threshold_of(job)
    )

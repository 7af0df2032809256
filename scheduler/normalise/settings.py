"""What a step says of itself: when it may start, and how it is worked."""

from dataclasses import dataclass

from scheduler.grid import DAY_STEPS
from scheduler.normalise.frame import Frame
from scheduler.normalise.limits import Limits, least
from scheduler.problem import Stage, Way
from scheduler.reasons import Reason
from shared import book
from shared.book import Gate, Job, Kind
from shared.units import minutes_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What a step says of itself, on the grid; trouble: why it can't stand in any plan."""

    release: int = 0
    start_by: int | None = None
    fixed_start: int | None = None
    one_go: bool = False
    watch: int = 0
    longest_pause: int | None = None
    trouble: Reason | None = None

    def stage(self, job: int) -> Stage:
        """Return a stage of a job with these settings, and no work yet."""
        return Stage(
            ways=(Way(),),
            job=job,
            one_go=self.one_go,
            watch=self.watch,
            release=self.release,
            start_by=self.start_by,
            fixed_start=self.fixed_start,
            longest_pause=self.longest_pause,
        )


def common_settings(frame: Frame, job: Job, step: book.Stage | Gate, limits: Limits) -> Settings:
    """Return the settings that stages and gates share."""
    return _settings(frame, job, step, limits, (0, frame.book.workshop.longest_pause_days))


def stage_settings(frame: Frame, job: Job, stage: book.Stage, limits: Limits) -> Settings:
    """Return the settings of a stage."""
    days = stage.longest_pause_days
    if days is None:
        days = frame.book.workshop.longest_pause_days
    return _settings(frame, job, stage, limits, (_watch(frame, stage), days))


def _settings(
    frame: Frame, job: Job, step: book.Stage | Gate, limits: Limits, own: tuple[int, int]
) -> Settings:
    """Return the settings of a step. own: its watch, and the days of its longest pause."""
    watch, pause_days = own
    release, start_by = limits.release, limits.start_by
    fixed_start = pinned_by = None
    grid, pin = frame.grid, step.pin
    for day in (job.not_before, step.not_before):
        if day is not None:
            release = max(release, grid.up(grid.morning(day)))
    if pin is not None:
        if pin.day is not None:
            release = max(release, grid.up(grid.morning(pin.day)))
            pinned_by = grid.up(grid.night(pin.day)) - 1
            start_by = least((start_by, pinned_by))
        if pin.not_before is not None:
            release = max(release, grid.up(pin.not_before))
        fixed_start = None if pin.start is None else grid.up(pin.start)
    return Settings(
        release=max(0, release),
        start_by=start_by,
        fixed_start=fixed_start,
        one_go=step.in_one_go,
        watch=watch,
        longest_pause=_pause(pause_days, in_one_go=step.in_one_go),
        trouble=_trouble(limits.start_by, pinned_by, fixed_start),
    )


def _pause(days: int, *, in_one_go: bool) -> int | None:
    return None if in_one_go else days * DAY_STEPS


def _watch(frame: Frame, stage: book.Stage) -> int:
    if not stage.in_one_go:
        return 0
    if stage.watch_minutes is not None:
        return minutes_up(stage.watch_minutes)
    return minutes_up(frame.book.workshop.watch_minutes) if stage.kind is Kind.LAMINATE else 0


def _trouble(
    waits_until: int | None, pinned_by: int | None, fixed_start: int | None
) -> Reason | None:
    if any(step is not None and step < 0 for step in (pinned_by, fixed_start)):
        return Reason.PIN_PAST
    return Reason.RECOAT_OVER if waits_until is not None and waits_until < 0 else None

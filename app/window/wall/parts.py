"""Small answers that the wall is put together from: kinds, waits, tails, what is late."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from app.window.wall.items import Item, Role, Shape, minute_of
from scheduler.outcome import JobOutcome, Outcome, Verdict
from shared.book import Book, Fact, FactKind, Gate, GateKind, Job, Kind, Stage, Window
from shared.ids import StepId
from shared.plan import Placement, Plan
from shared.worktime import access_spans

_MARGIN = timedelta(days=21)
_FIRST_SIGHT = timedelta(days=60)
_ANY_MONDAY, _FOUR_WEEKS = datetime(2024, 1, 1, tzinfo=UTC), timedelta(weeks=4)


def id_suffix(placed: Placement) -> str:
    """Return what tells an id of a placement from its step's others."""
    round_ = f" {placed.round}" if placed.round else ""
    return f"{round_} {placed.part}" if placed.part else round_


def is_work(step: Stage | Gate, placed: Placement) -> bool:
    """Say whether a placement is work on the ribbon and not only a moment all wait for."""
    if placed.part or isinstance(step, Stage):
        return True
    return step.gate is not GateKind.ANSWER and bool(step.ways) and placed.start < placed.end


def kind_of(step: Stage | Gate, placed: Placement) -> Kind:
    """Return which kind of work a placement is."""
    if placed.part == "abrade":
        return Kind.FILL
    if isinstance(step, Stage):
        return step.kind
    return Kind.FOAM if placed.part in ("rework", "changes") else Kind.PACK


def stands(placed: Placement, facts: Iterable[Fact], *, is_told: bool) -> str:
    """Return how far a piece of work is: "done", "running", "told", or "" (still to come)."""
    if placed.part:
        return ""
    kinds = {fact.kind for fact in facts}
    if kinds & {FactKind.DONE, FactKind.GONE}:
        return "done"
    if FactKind.RUNNING in kinds:
        return "running"
    return "told" if is_told else ""


def remaining(facts: Iterable[Fact]) -> str:
    """Return the person-hours that somebody gave for what is running, as written."""
    given = [f.remaining_hours for f in facts if f.kind is FactKind.RUNNING]
    return "" if not given or given[-1] is None else f"{given[-1].normalize():f}"


def initials(names: Iterable[str]) -> str:
    """Return names in letters: "AB" of two words, "As" of one."""
    return " ".join(
        "".join(word[0] for word in words) if len(words := name.split()) > 1 else name[:2]
        for name in names
    )


def is_held(blocks: Iterable[Item], now: int) -> bool:
    """Say whether all work of a job that is still to come is pinned."""
    coming = [block for block in blocks if block.start > now and not block.part]
    return bool(coming) and all(block.is_pinned for block in coming)


def shapes_of(job: Job, facts: Mapping[StepId, Iterable[Fact]]) -> tuple[Shape, ...]:
    """Return a job's segments as they stand side by side, each with the work it has reached."""
    done = [
        step
        for step in job.steps
        if isinstance(step, Stage)
        and any(fact.kind is FactKind.DONE for fact in facts.get(step.id, ()))
    ]
    found = []
    for segment in job.segments:
        width = segment.length_m or segment.width_m
        touching = [s.kind for s in done if not s.segments or segment.id in s.segments]
        found.append(
            Shape(
                segment=segment.id,
                wide=float(width or 1),
                high=float(segment.height_m or 1),
                outline=segment.outline or "",
                reached=touching[-1] if touching else None,
                is_known=bool(width and segment.height_m),
            )
        )
    return tuple(found)


def loading_bar(job: Job, outcome: JobOutcome | None, seams: list[Item]) -> int | None:
    """Return the latest start of loading as counted back, else the planned one."""
    loading = [s for s in job.steps if isinstance(s, Gate) and s.gate is GateKind.LOADING]
    ids = {step.id for step in loading}
    for times in outcome.steps if outcome else ():
        if times.step in ids and times.latest_start is not None:
            return minute_of(times.latest_start)
    planned = [seam.start for seam in seams if seam.role is Role.LOADING]
    return min(planned, default=None)


def waits_of(blocks: list[Item], cures: list[Item]) -> Iterable[Item]:
    """Give the stretches between a block's end, cured, and the next block of the row."""
    cured = {cure.id: cure.end for cure in cures}
    free = None
    for before, after in pairwise(blocks):
        free = max(free or 0, cured.get(f"cure {before.id}", before.end))
        if free < after.start:
            yield replace(
                after,
                id=f"wait {after.id}",
                role=Role.WAIT,
                owner=after.owner or after.id,
                start=free,
                end=after.start,
                is_pinned=False,
                is_anew=False,
            )


def tail_of(
    blocks: list[Item], cures: list[Item], bar: int | None, others: list[Item]
) -> Item | None:
    """Return the open tail, from the last work of a row to the latest start of loading."""
    if not blocks or bar is None:
        return None
    end = max([block.end for block in blocks] + [cure.end for cure in cures])
    road = min((item.start for item in others if item.role is Role.LEG), default=bar)
    until = min(bar, road) if road > end else bar
    if until <= end:
        return None
    last = max(blocks, key=lambda block: block.end)
    return replace(
        last,
        id=f"spare {last.id}",
        role=Role.SPARE,
        owner=last.owner or last.id,
        start=end,
        end=until,
        is_pinned=False,
        is_anew=False,
    )


def late_part(
    header: Item, held: Window | None, done_by: int | None, outcome: JobOutcome | None
) -> Item | None:
    """Return what lies past the window, unless the engine says it is kept."""
    if held is None or done_by is None or done_by <= minute_of(held.end):
        return None
    if outcome is not None and outcome.verdict in {Verdict.FITS, Verdict.TIGHT}:
        return None
    return replace(
        header,
        id=f"late {header.job}",
        role=Role.LATE,
        owner=header.id,
        start=minute_of(held.end),
        end=done_by,
    )


def window_of(header: Item, held: Window | None, told: tuple[str, str]) -> Item | None:
    """Return the window as an item."""
    if held is None:
        return None
    name, description = told
    return replace(
        header,
        id=f"window {held.id} {header.job}",
        role=Role.WINDOW,
        owner=header.id,
        name=name,
        told=description,
    )


def access_pieces(job: Job, held: Window | None) -> tuple[tuple[int, int], ...]:
    """Return when the site may be entered within its window."""
    if held is None or held.start >= held.end:
        return ()
    if not held.access:
        return ((minute_of(held.start), minute_of(held.end)),)
    spans = access_spans(job.site.zone, held.access, held.start, held.end)
    return tuple((minute_of(span.start), minute_of(span.end)) for span in spans)


def window_order(job: Job) -> tuple[bool, datetime | None, str]:
    """Return what jobs are sorted by: their windows, those without one last."""
    held = job.held_window
    return held is None, None if held is None else held.start, job.id


def reach(book: Book, plan: Plan | None, now: datetime) -> tuple[datetime, datetime]:
    """Return instants that hold everything, with a margin, the same for plans much alike."""
    seen = [now, now + _FIRST_SIGHT]
    for job in book.jobs:
        if held := job.held_window:
            seen += [held.start, held.end]
    if plan is not None:
        seen += [placement.start for placement in plan.placements]
        seen += [placement.end for placement in plan.placements]
        seen += [trip.end for trip in plan.trips]
    first, last = min(seen) - _MARGIN, max(seen) + _MARGIN
    return first - (first - _ANY_MONDAY) % _FOUR_WEEKS, last + (_ANY_MONDAY - last) % _FOUR_WEEKS


def governing(outcome: Outcome | None) -> str | None:
    """Return the job with the least to spare."""
    if outcome is None or not outcome.jobs:
        return None
    worst = min(outcome.jobs, key=lambda job: (job.slack_minutes or 0) - job.missed_by_minutes)
    return str(worst.id)

"""Jobs: windows, standing, and whether their segments are worked on and loaded."""

from collections.abc import Iterable

from shared.book import Gate, GateKind, Job, Journey, Segment, Stage, Standing, Step, Window
from shared.examine.look import Look, Path
from shared.examine.people import takes_room


def check_job(job: Job, path: Path, look: Look) -> None:
    """Hold that a job can be planned: a window, something to make, a moment of loading."""
    if not job.windows:
        look.add("job_without_window", (*path, "windows"))
    if not job.steps:
        look.add("job_without_steps", (*path, "steps"))
    elif not any(_is_loading(step) for step in job.steps):
        look.add("job_without_loading", (*path, "steps"))
    if not job.segments:
        look.add("job_without_segments", (*path, "segments"))
    _check_standing(job, path, look)
    _check_segments(job, path, look)


def _check_standing(job: Job, path: Path, look: Look) -> None:
    until = job.pencilled_until
    where = (*path, "pencilled_until")
    if job.standing is not Standing.PENCILLED:
        if until is not None:
            look.add("date_but_not_pencilled", where, standing=job.standing.value)
    elif until is None:
        look.add("pencilled_without_date", where)
    elif look.today is not None and until < look.today:
        look.add("pencilled_over", where, until=until, as_of=look.today)


def check_window(window: Window, path: Path, look: Look) -> None:
    """Hold that a window is not over already."""
    if look.as_of is not None and window.start < window.end <= look.as_of:
        look.add("window_over", (*path, "end"), end=window.end, as_of=look.as_of)


def _is_loading(step: Step) -> bool:
    return isinstance(step, Gate) and step.gate is GateKind.LOADING


def touched(step: Step, job: Job) -> tuple[str, ...]:
    """Give the segments that a step touches: those it names, else all of the job."""
    return step.segments or tuple(segment.id for segment in job.segments)


def _touched_by(steps: Iterable[Step], job: Job) -> list[str]:
    return [segment for step in steps for segment in dict.fromkeys(touched(step, job))]


def _check_segments(job: Job, path: Path, look: Look) -> None:
    loaded = _touched_by((step for step in job.steps if _is_loading(step)), job)
    sent = _touched_by((step for step in job.steps if isinstance(step, Journey)), job)
    worked = _touched_by((step for step in job.steps if isinstance(step, Stage)), job)
    for index, segment in enumerate(job.segments):
        where = (*path, "segments", index)
        if job.steps and segment.id not in worked:
            look.add("segment_without_work", where, segment=segment.id)
        if loaded and segment.id not in loaded:
            look.add("segment_without_loading", where, segment=segment.id)
        if loaded.count(segment.id) > 1:
            look.add("several_loadings", where, segment=segment.id)
        if sent.count(segment.id) > 1:
            look.add("several_journeys", where, segment=segment.id)
        _check_size(segment, job, where, look)


def _check_size(segment: Segment, job: Job, path: Path, look: Look) -> None:
    if segment.length_m is not None and segment.width_m is not None:
        return
    stands_on_area = not segment.stored_elsewhere and any(
        place.standing and place.area_m2 is not None for place in look.book.places
    )
    if stands_on_area or any(
        takes_room(way, look)
        for step in job.steps
        if not isinstance(step, Journey) and segment.id in touched(step, job)
        for way in step.ways
    ):
        look.add("segment_without_size", path, segment=segment.id)


def check_segment(segment: Segment, path: Path, look: Look) -> None:
    """Hold that a segment waits where pieces may stand."""
    standing = {place.id: place.standing for place in look.book.places}
    if segment.stands is not None and standing.get(segment.stands) is False:
        look.add("stands_where_nothing_stands", (*path, "stands"), place=segment.stands)

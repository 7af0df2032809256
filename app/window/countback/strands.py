"""Two strands for each segment: as planned above, at the latest below. No Qt."""

from collections import defaultdict
from dataclasses import dataclass, replace

from app.window import tokens
from app.window.countback.one_job import OneJob
from app.window.tokens import px
from app.window.wall.items import DAY_MINUTES, Band, minute_of
from app.window.wall.layout import Layout, fitting, season
from app.words import Words
from app.words import countback_view as say
from app.words import window as wording
from shared.book import Kind, Stage
from shared.ids import SegmentId, StepId

NAMES = 150
LOWER = 10
"""How thick the lower strand is."""
_FAR_DAYS, _BEFORE_DAYS = 20, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Latest:
    """When a stage may be at the latest, in minutes since 1970."""

    step: StepId
    segment: SegmentId
    start: int
    end: int
    kind: Kind
    text: str


def latest_of(one: OneJob, words: Words) -> dict[SegmentId, tuple[Latest, ...]]:
    """Return the lower strands, each by start."""
    found: dict[SegmentId, list[Latest]] = defaultdict(list)
    steps = {step.id: step for step in one.job.steps}
    for times in one.told.steps if one.told else ():
        step = steps.get(times.step)
        if not isinstance(step, Stage) or times.latest_start is None or times.latest_end is None:
            continue
        span = wording.short_span(words, times.latest_start, times.latest_end)
        for segment in step.segments or tuple(each.id for each in one.job.segments):
            found[segment].append(
                Latest(
                    step=step.id,
                    segment=segment,
                    start=minute_of(times.latest_start),
                    end=minute_of(times.latest_end),
                    kind=step.kind,
                    text=words.say(say.LATEST_OF, stage=step.name, span=span),
                )
            )
    return {key: tuple(sorted(each, key=lambda one: one.start)) for key, each in found.items()}


class StrandLayout(Layout):
    """Rows far enough apart for a second strand under each."""

    def band_bottom(self, band: Band) -> int:
        """Return the bottom of the last row's lower strand."""
        return Layout.band_bottom(self, band) + px(LOWER) + 10


def strand_layout(one: OneJob, width: int, latest: dict[SegmentId, tuple[Latest, ...]]) -> Layout:
    """Return where the strands of a job lie at a width."""
    is_large = width * 100 >= 1000 * tokens.text_percent()
    sizes = tokens.LARGE if is_large else tokens.SMALL
    count = max(1, len(one.rows))
    row, least, most, room = (32, 60, 92, 560) if is_large else (22, 44, 60, 300)
    row, pitch = px(row), px(max(least, min(most, room // count)))
    sizes = replace(sizes, names=px(NAMES), axis=px(52), row=row)
    first, last = season(one.wall)
    starts = [row.blocks[0].start for row in one.rows if row.blocks]
    starts += [each[0].start for each in latest.values() if each]
    begun = min(starts, default=first)
    if begun > first + _FAR_DAYS * DAY_MINUTES:
        first = begun - _BEFORE_DAYS * DAY_MINUTES
    scale = fitting(first, last, sizes.margin, width - sizes.names - 20, one.wall.first)
    header = px(30)
    tops = [header + 4 + index * pitch for index in range(count)]
    bottom = tops[-1] + row + px(LOWER) + 22
    return StrandLayout(
        width=width,
        height=bottom,
        sizes=sizes,
        scale=scale,
        header=header,
        row=row,
        gap=pitch - row,
        job_gap=0,
        tops=(4,),
        row_tops=tuple(tops[: len(one.rows)]),
        heights=(row,) * len(one.rows),
        total=bottom,
    )

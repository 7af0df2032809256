"""The piece of a job: its segments to scale, what they pass, what to mind in making it. No Qt."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from app.window.countback.one_job import OneJob
from app.words import Words
from app.words import cautions as cautioning
from app.words import countback_view as say
from app.words import passing as passing_words
from app.words.passing import moved_size
from app.words.voice import capital
from shared.book import FactKind, Journey, Kind, LegKind, Segment, Stage
from shared.cautions import Caution, cautions_of
from shared.ids import SegmentId
from shared.passing.boxes import AS_MADE, margins_of, moved, piece_of
from shared.passing.judge import Answer, Judged, judge_way
from shared.passing.masses import Mass, mass_of
from shared.passing.passages import Gap, Part, course_of
from shared.units import whole_down, whole_up

FIGURE_METRES = Fraction(17, 10)
MEASURE_UNDER_MM = 100
_USUAL = Fraction(1)
_BAD = frozenset({Answer.TOO_BIG})


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A segment from the front, in metres: how wide and how high; reached: the last work done.

    is_known: both sizes are written; else it is drawn as 1 m.
    """

    segment: SegmentId
    name: str
    width: Fraction
    height: Fraction
    reached: Kind | None
    is_known: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRow:
    """A segment in the table: its sizes as moved in metres, kilograms on the hook."""

    segment: SegmentId
    name: str
    size: str
    mass: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PassRow:
    """What must be passed, and the segment that passes it worst.

    text: whole sentence. is_bad: it does not pass.
    """

    name: str
    size: str
    segment: SegmentId
    short: str
    text: str
    is_bad: bool
    is_close: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """All of it, in words where it is read."""

    boxes: tuple[Box, ...]
    sizes: tuple[SizeRow, ...]
    passes: tuple[PassRow, ...]
    margins: str
    cautions_short: str
    cautions: tuple[str, ...]
    defers: str


def piece(one: OneJob, words: Words) -> Piece:
    """Return the piece of a job."""
    found = _cautions(one)
    margins = margins_of(one.shown.book.workshop)
    return Piece(
        boxes=tuple(_boxes(one)),
        sizes=tuple(_sizes(one, words)),
        passes=(*_passes(one, words), *_lifts(one, words)),
        margins=passing_words.margins_line(words, margins),
        cautions_short=cautioning.names_line(words, found) if found else "",
        cautions=tuple(cautioning.sentence(words, each) for each in found),
        defers=words.say(cautioning.DEFERS if found else cautioning.NONE),
    )


def _boxes(one: OneJob) -> Iterator[Box]:
    done = {fact.step for fact in one.shown.book.facts if fact.kind is FactKind.DONE}
    for segment in one.job.segments:
        reached = None
        for step in one.job.steps:
            touches = not step.segments or segment.id in step.segments
            if isinstance(step, Stage) and touches and step.id in done:
                reached = step.kind
        width = segment.length_m or segment.width_m
        yield Box(
            segment=segment.id,
            name=segment.name,
            width=_USUAL if width is None else Fraction(width),
            height=_USUAL if segment.height_m is None else Fraction(segment.height_m),
            reached=reached,
            is_known=width is not None and segment.height_m is not None,
        )


def _sizes(one: OneJob, words: Words) -> Iterator[SizeRow]:
    margins = margins_of(one.shown.book.workshop)
    for segment in one.job.segments:
        made = piece_of(segment)
        size = words.say(say.NO_SIZE)
        if made is not None:
            turn = next((each for each in made.turns if each in AS_MADE), made.turns[0])
            size = moved_size(moved(made.box, turn, margins))
        mass = mass_of(segment)
        text = words.say(say.WEIGH_IT) if mass is None else _mass(mass)
        yield SizeRow(segment=segment.id, name=segment.name, size=size, mass=text)


def _mass(mass: Mass) -> str:
    low, high = whole_down(mass.low), whole_up(mass.high)
    return str(high) if low == high else f"{low}–{high}"


def _passes(one: OneJob, words: Words) -> Iterator[PassRow]:
    """Give for each thing that is passed the segment that has the least to spare there."""
    book = one.shown.book
    margins = margins_of(book.workshop)
    worst: dict[tuple[str, str], tuple[Segment, Judged]] = {}
    for segment in one.job.segments:
        made = piece_of(segment)
        if made is None:
            continue
        for judged in judge_way(made, course_of(book, one.job, segment), margins).judged:
            gap = judged.passage
            part = gap.part.value if isinstance(gap, Gap) else gap.realm.value
            key = (part, gap.name)
            known = worst.get(key)
            if known is None or _badness(judged) > _badness(known[1]):
                worst[key] = (segment, judged)
    for segment, judged in worst.values():
        yield _pass_row(segment, judged, words)


def _badness(judged: Judged) -> tuple[int, Fraction]:
    return judged.rank, -judged.spare_mm


def _pass_row(segment: Segment, judged: Judged, words: Words) -> PassRow:
    gap, mm = judged.passage, whole_down(judged.spare_mm)
    is_bad = judged.answer in _BAD
    is_unsure = judged.answer is Answer.MEASURE
    is_close = isinstance(gap, Gap) and 0 <= mm < MEASURE_UNDER_MM
    if is_bad or judged.answer is Answer.NOTICE:
        template = say.PASS_TOO_BIG if is_bad else say.PASS_NOTICE
        mm = whole_up(-judged.spare_mm)
    else:
        template = say.PASS_UNMEASURED if is_unsure else say.PASS_WELL
        template = say.PASS_CLOSE if is_close else template
    turn = passing_words.turn_words(words, judged.turn)
    short = words.say(template, segment=segment.name, turn=turn, mm=mm)
    line = passing_words.judged_line(words, judged)
    return PassRow(
        name=passing_words.opening(words, gap),
        size=_opening_size(gap) if isinstance(gap, Gap) else "",
        segment=segment.id,
        short=short,
        text=f"{segment.name}. {capital(line)}",
        is_bad=is_bad,
        is_close=is_close or is_unsure,
    )


def _opening_size(gap: Gap) -> str:
    known = [each for each in (gap.width, gap.height) if each is not None]
    if gap.part is Part.VEHICLE and gap.length is not None:
        known.insert(0, gap.length)
    return " × ".join(passing_words.metres(each) for each in known)


def _lifts(one: OneJob, words: Words) -> Iterator[PassRow]:
    """Give what is said of a lift: never that a crane can do it, always whose word counts."""
    legs = [leg for step in one.job.steps if isinstance(step, Journey) for leg in step.legs]
    if not any(leg.kind is LegKind.LIFT for leg in legs):
        return
    known = [(mass.high, each) for each in one.job.segments if (mass := mass_of(each))]
    short, about = words.say(say.LIFT_UNKNOWN), one.job.segments[0] if one.job.segments else None
    if known:
        high, about = max(known, key=lambda pair: pair[0])
        short = words.say(say.LIFT_BY_PLAN, kg=whole_up(high))
    if about is None:
        return
    name = words.say(say.CRANE)
    yield PassRow(
        name=name,
        size="",
        segment=about.id,
        short=short,
        text=f"{capital(name)}. {about.name}: {short}.",
        is_bad=False,
        is_close=False,
    )


def _cautions(one: OneJob) -> list[Caution]:
    found: dict[str, Caution] = {}
    for step in one.job.steps:
        for each in cautions_of(one.shown.book, one.job, step):
            found.setdefault(each.id, each)
    return list(found.values())

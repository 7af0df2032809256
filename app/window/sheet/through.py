"""Which segments pass on their way, and cutting one that doesn't. No Qt."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from app.window.sheet.writing import job as job_of
from app.words import Words
from app.words import editor as say
from app.words import passing as passing_words
from shared.book import Book, Job, Segment
from shared.edits import Edited, change_job, copy_segment
from shared.edits.edited import label
from shared.edits.lookup import segment_of
from shared.estimate.pieces import cut_into
from shared.ids import JobId, SegmentId
from shared.passing.boxes import margins_of, piece_of
from shared.passing.judge import Answer, judge_way
from shared.passing.masses import mass_of
from shared.passing.passages import course_of
from shared.passing.split import MOST_PARTS, Counts, Proposal, Whole, in_parts, propose
from shared.trade.own import looked_up
from shared.units import whole_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """A segment that passes nowhere on its way. line: why. count: parts that would, 0 for none."""

    line: str
    count: int


def troubles(book: Book, identity: JobId, words: Words) -> Mapping[SegmentId, Trouble]:
    """Return the segments of a job that don't pass, each with how many parts would."""
    owner = job_of(book, identity)
    found: dict[SegmentId, Trouble] = {}
    for segment in owner.segments:
        line = _bad_line(book, owner, segment, words)
        if line:
            proposal = _proposal(book, owner, segment)
            count = 0 if proposal is None else proposal.counts.all
            found[segment.id] = Trouble(line=f"{segment.name}: {line}", count=count)
    return found


def passed(
    book: Book, identity: JobId, segment: Segment, words: Words
) -> tuple[tuple[str, bool], ...]:
    """Return a line for each thing that a segment has to pass, and whether it doesn't."""
    owner, piece = job_of(book, identity), piece_of(segment)
    if piece is None:
        return ()
    judged = judge_way(piece, course_of(book, owner, segment), margins_of(book.workshop)).judged
    return tuple(
        (passing_words.judged_line(words, each), each.answer is Answer.TOO_BIG) for each in judged
    )


def _bad_line(book: Book, owner: Job, segment: Segment, words: Words) -> str:
    lines = passed(book, owner.id, segment, words)
    return next((line for line, is_bad in lines if is_bad), "")


def _proposal(book: Book, owner: Job, segment: Segment) -> Proposal | None:
    piece = piece_of(segment)
    if piece is None:
        return None
    course = course_of(book, owner, segment)
    payloads = [each.payload_kg for each in course.carriers]
    known = [payload for payload in payloads if payload is not None]
    mass, least = mass_of(segment), 1
    if mass is not None and known and len(known) == len(payloads):
        least = max(1, whole_up(mass.bare / Fraction(max(known))))
    whole = Whole(segment=segment, piece=piece, least_count=least)
    return propose(whole, course, margins_of(book.workshop))


def cut(book: Book, identity: JobId, segment_id: SegmentId, words: Words) -> Edited | None:
    """Cut a segment into as many equal parts as pass, each made as it was; None if no cut helps."""
    owner, segment = job_of(book, identity), segment_of(book, segment_id)
    proposal = _proposal(book, owner, segment)
    return None if proposal is None else _cut_in(book, owner, segment, proposal.counts, words)


def cut_whole(book: Book, identity: JobId, count: int, words: Words) -> Edited | None:
    """Cut the only segment of a job into so many equal parts; None where its size is not known."""
    owner = job_of(book, identity)
    piece = piece_of(owner.segments[0])
    if piece is None or len(owner.segments) > 1 or not 1 < count <= MOST_PARTS:
        return None
    return _cut_in(book, owner, owner.segments[0], in_parts(piece.box, count), words)


def _cut_in(book: Book, owner: Job, segment: Segment, counts: Counts, words: Words) -> Edited:
    identity, segment_id = owner.id, segment.id

    def named(number: int) -> str:
        return words.say(say.PART_NAME, segment=segment.name, number=number)

    parts = cut_into(segment, counts, named, looked_up(book.workshop))
    made, before = book, {each.id for each in owner.segments}
    for _ in parts[1:]:
        made = copy_segment(made, segment_id, segment.name).book
    new = [each.id for each in job_of(made, identity).segments if each.id not in before]
    sized = dict(zip((segment_id, *new), parts, strict=True))
    segments = tuple(
        replace(sized[each.id], id=each.id) if each.id in sized else each
        for each in job_of(made, identity).segments
    )
    edited = change_job(made, replace(job_of(made, identity), segments=segments))
    return Edited(
        book=replace(edited.book, revision=book.revision + 1),
        changed=edited.changed,
        label=label("cut_segment", name=segment.name, count=len(parts)),
    )

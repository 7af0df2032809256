"""`countback split`: where a piece could be cut so that its parts pass, or what cuts come to."""

import json
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import Json, load_book, words_for
from app.cli.console import Console
from app.cli.meant import segment_meant
from app.cli.passing import judged_object, passing_object, sizes_object
from app.cli.run import MET, MISSED
from app.cli.sizes import length_typed
from app.cli.through import refused
from app.words import Words
from app.words import passing as say
from shared.book import Book, Job, Segment
from shared.passing.boxes import Axis, margins_of, mm, piece_of
from shared.passing.judge import Answer, judge_way
from shared.passing.masses import mass_of
from shared.passing.passages import course_of
from shared.passing.split import (
    MOST_PARTS,
    BadCut,
    ByHand,
    Counts,
    HoursMore,
    Proposal,
    Whole,
    by_hand,
    propose,
)
from shared.units import whole_up

_INDENT = "    "


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        return refused(asked, console, read)
    book, words = read.book, words_for(read.book)
    segment = segment_meant(book, asked.words[1])
    job = next(job for job in book.jobs if segment in job.segments)
    whole = _whole(book, job, segment)
    if asked.cuts:
        return _by_hand(asked, console, words, (book, job, whole))
    found = propose(whole, course_of(book, job, segment), margins_of(book.workshop))
    if found is None:
        return _no_cut(asked, console, words, (book, job, whole))
    for line in say.proposal_lines(words, segment.name, found):
        console.wrapped(line, indent=_INDENT, first="")
    if asked.json:
        told = {"segment": segment.id, **_proposal(found)}
        console.say(json.dumps(told, ensure_ascii=False))
    return MET


def _whole(book: Book, job: Job, segment: Segment) -> Whole:
    """Return a segment to be cut; raises Usage where it lacks a size."""
    piece = piece_of(segment)
    if piece is None:
        raise Usage("piece_without_size", segment=segment.name)
    payloads = [each.payload_kg for each in course_of(book, job, segment).carriers]
    known = [payload for payload in payloads if payload is not None]
    mass = mass_of(segment)
    least = 1
    if mass is not None and known and len(known) == len(payloads):
        least = max(1, whole_up(mass.bare / Fraction(max(known))))
    return Whole(segment=segment, piece=piece, least_count=least)


_What = tuple[Book, Job, Whole]


def _no_cut(asked: Asked, console: Console, words: Words, what: _What) -> int:
    book, job, whole = what
    passing = judge_way(whole.piece, course_of(book, job, whole.segment), margins_of(book.workshop))
    judged = "" if passing.deciding is None else say.judged_line(words, passing.deciding)
    name = whole.segment.name
    line = words.say(say.NO_CUT, segment=name, most=MOST_PARTS, judged=judged)
    console.wrapped(line, indent=_INDENT, first="")
    if asked.json:
        told = {"segment": whole.segment.id, "count": None, **passing_object(passing)}
        console.say(json.dumps(told, ensure_ascii=False))
    return MISSED


def _by_hand(asked: Asked, console: Console, words: Words, what: _What) -> int:
    book, job, whole = what
    course, margins = course_of(book, job, whole.segment), margins_of(book.workshop)
    try:
        found = by_hand(whole, course, margins, _cuts(asked.cuts))
    except BadCut as bad:
        place = {"at": say.metres(bad.at_mm), "most": say.metres(bad.most_mm)}
        raise Usage("bad_cut", axis=bad.axis.value, **place) from None
    _say_parts(console, words, whole, found)
    if asked.json:
        told = {"segment": whole.segment.id, **_object_by_hand(found)}
        console.say(json.dumps(told, ensure_ascii=False))
    answers = [part.deciding.answer for part in found.parts if part.deciding is not None]
    return MISSED if Answer.TOO_BIG in answers else MET


def _cuts(typed: Sequence[str]) -> dict[Axis, list[Fraction]]:
    """Read cuts such as length=1.2,2.4; raises Usage."""
    found: dict[Axis, list[Fraction]] = {}
    for word in typed:
        name, is_pair, places = word.partition("=")
        if not is_pair or name not in {axis.value for axis in Axis}:
            raise Usage("not_a_cut", word=word)
        lengths = [mm(length_typed(place)) for place in places.split(",")]
        found.setdefault(Axis(name), []).extend(lengths)
    return found


def _say_parts(console: Console, words: Words, whole: Whole, found: ByHand) -> None:
    cuts, number = say.cuts(words, found.counts), words.number_word(found.counts.all)
    line = words.say(say.BY_HAND, segment=whole.segment.name, cuts=cuts, number=number)
    console.wrapped(line, indent=_INDENT, first="")
    for at, part in enumerate(found.parts, start=1):
        box, deciding = part.piece.box, part.deciding
        judged = words.say(say.NOTHING) if deciding is None else say.judged_line(words, deciding)
        sizes = say.size((box.length, box.width, box.height))
        line = words.say(say.PART, number=at, size=sizes, judged=judged)
        console.wrapped(line, indent=_INDENT, first="  ")
    console.wrapped(say.hours_line(words, found.seams_m, found.hours))


def _proposal(found: Proposal) -> Json:
    deciding = None if found.deciding is None else judged_object(found.deciding)
    return {
        **_counts(found.counts),
        "part_sizes_m": sizes_object(found.passing.piece),
        "part": passing_object(found.passing),
        "whole": passing_object(found.whole),
        "limit": deciding,
        "is_by_mass": found.is_by_mass,
        "close": None if found.close is None else _counts(found.close),
        **_added(found.seams_m, found.hours),
    }


def _object_by_hand(found: ByHand) -> Json:
    parts = [{"sizes_m": sizes_object(part.piece), **passing_object(part)} for part in found.parts]
    return {**_counts(found.counts), "parts": parts, **_added(found.seams_m, found.hours)}


def _counts(counts: Counts) -> Json:
    return {
        "count": counts.all,
        "parts_along": {axis.value: counts.along(axis) for axis in Axis},
    }


def _added(seams_m: Fraction, hours: HoursMore) -> Json:
    named = {"low": hours.low, "likely": hours.likely, "high": hours.high}
    return {
        "seams_m": float(say.plain(seams_m, 2, is_up=True)),
        "hours": {name: float(say.plain(each, 2, is_up=True)) for name, each in named.items()},
    }

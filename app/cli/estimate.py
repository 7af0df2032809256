"""`countback estimate`: person-hours and material of a job, of a size, or like a past job."""

import json
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.blanks import Blanks, area_typed, count_typed, times_typed, word_typed
from app.cli.books import Json, load_book, words_for
from app.cli.console import Console
from app.cli.estimate_object import estimate_object
from app.cli.routes import route_asked
from app.cli.run import MET, REFUSED
from app.cli.sizes import size_typed
from app.cli.through import refused
from app.words import Words
from app.words import estimate as say
from shared.book import (
    Book,
    Detail,
    Finish,
    Job,
    MaterialKind,
    Route,
    Segment,
    Workshop,
)
from shared.estimate import Estimate, Quantity, estimate_of_job, estimate_of_segments
from shared.estimate.like import estimate_like, scaled_segment
from shared.estimate.likened import likened
from shared.estimate.pieces import cut_into
from shared.ids import SegmentId
from shared.orders.quantities import pack_size, packs
from shared.passing.boxes import piece_of
from shared.passing.split import MOST_PARTS, in_parts
from shared.routes import PROGRAM_ROUTES

_INDENT = "    "
_FIRST = "  "
_TYPED = SegmentId("piece")
_NOWHERE = Workshop(name="", zone="UTC", country="", shifts=())
"""No workshop: the figures of the tables hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What was typed about a piece; None where nothing was, or it can't be taken."""

    size: tuple[Decimal, Decimal, Decimal] | None
    surface: Decimal | None
    count: int | None
    detail: Detail | None
    finish: Finish | None
    times: Decimal | None

    def segment(self, segment_id: str, name: str) -> Segment:
        """Return the whole piece, not cut yet."""
        length, width, height = self.size or (None, None, None)
        return Segment(
            id=SegmentId(segment_id),
            name=name,
            length_m=length,
            width_m=width,
            height_m=height,
            surface_m2=self.surface,
            detail=self.detail,
            finish_class=self.finish,
        )


def typed_blanks(asked: Asked, blanks: Blanks) -> Typed:
    """Read what was typed about a piece, noting all that can't be taken."""
    return Typed(
        size=blanks.read("--size", asked.size, size_typed),
        surface=blanks.read("--surface", asked.surface, area_typed),
        count=blanks.read("--pieces", asked.pieces, lambda t: count_typed(t, MOST_PARTS)),
        detail=blanks.read(
            "--detail", asked.detail, lambda t: word_typed(t, Detail, "unknown_detail")
        ),
        finish=blanks.read(
            "--finish", asked.finish, lambda t: word_typed(t, Finish, "unknown_finish")
        ),
        times=blanks.read("--times", asked.times, times_typed),
    )


def route_blank(asked: Asked, blanks: Blanks, book: Book | None) -> Route | None:
    """Read which way of making was asked for and with which options of it."""
    route = blanks.read("--route", asked.route, lambda word: route_asked(book, word))
    if route is None and asked.route is not None:
        return None
    wanted = route or route_asked(book, PROGRAM_ROUTES[0])
    for option in asked.options:
        if option not in wanted.options and asked.like is None:
            known = ", ".join(wanted.options)
            facts = {"word": option, "route": wanted.id, "options": known}
            blanks.refuse("--option", option, "unknown_route_option", **facts)
    return route


def job_blank(blanks: Blanks, option: str, typed: str | None, book: Book | None) -> Job | None:
    """Read which job of a book is meant."""
    if typed is None:
        return None
    if book is None:
        blanks.refuse(option, typed, "like_without_book", option=option)
        return None
    found = [job for job in book.jobs if typed in (job.id, job.name)]
    if len(found) == 1:
        return found[0]
    jobs = ", ".join(job.id for job in book.jobs)
    blanks.refuse(option, typed, "unknown_job", word=typed, jobs=jobs)
    return None


def check_like(asked: Asked, blanks: Blanks) -> None:
    """Hold that a past job and how many times as large stand together."""
    if asked.like is not None and asked.times is None:
        blanks.refuse("--like", asked.like, "like_without_times")
    if asked.times is not None and asked.like is None:
        blanks.refuse("--times", asked.times, "times_without_like")


def run(asked: Asked, console: Console) -> int:
    book = None
    if asked.words:
        read = load_book(Path(asked.words[0]))
        if read.book is None:
            return refused(asked, console, read)
        book = read.book
    blanks = Blanks()
    typed = typed_blanks(asked, blanks)
    route = route_blank(asked, blanks, book)
    wanted = asked.words[1] if len(asked.words) > 1 else None
    job = job_blank(blanks, "JOB", wanted, book)
    past = job_blank(blanks, "--like", asked.like, book)
    check_like(asked, blanks)
    if not blanks.wrong and job is None and past is None and typed.size is None:
        raise Usage("nothing_to_estimate")
    words = words_for(book)
    if blanks.wrong:
        return _wrong(asked, console, words, blanks)
    command = _Command(asked=asked, console=console, words=words, book=book)
    return command.tell(command.about(typed, route, job, past))


def _wrong(asked: Asked, console: Console, words: Words, blanks: Blanks) -> int:
    blanks.say(console, words)
    if asked.json:
        told = {"hours": None, "findings": blanks.objects(words)}
        console.say(json.dumps(told, ensure_ascii=False))
    return REFUSED


@dataclass(frozen=True, slots=True, kw_only=True)
class _About:
    """What is estimated: a name, how it is made, the pieces, and what it comes to."""

    name: str
    made: str
    segments: tuple[Segment, ...]
    estimate: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class _Command:
    asked: Asked
    console: Console
    words: Words
    book: Book | None

    def about(self, typed: Typed, route: Route | None, job: Job | None, past: Job | None) -> _About:
        """Return what is estimated, by what was asked for."""
        if typed.size is not None:
            return self._of_size(typed, route, past)
        assert self.book is not None
        if past is not None and typed.times is not None:
            found = estimate_like(self.book, past, typed.times)
            segments = tuple(scaled_segment(each, typed.times) for each in past.segments)
            return _About(name=past.name, made="", segments=segments, estimate=found)
        assert job is not None
        if any(getattr(step, "ways", ()) for step in job.steps):
            found = estimate_of_job(self.book, job)
            return _About(name=job.name, made="", segments=job.segments, estimate=found)
        return self._as_made(job.name, job.segments, route, by_share=False)

    def _of_size(self, typed: Typed, route: Route | None, past: Job | None) -> _About:
        segments = self._pieces(typed)
        name = self._pieces_words(segments)
        by_share = typed.surface is None
        if past is None or typed.times is None or self.book is None:
            return self._as_made(name, segments, route, by_share=by_share)
        like = likened(
            self.book,
            past,
            typed.times,
            segments,
            route=route,
            options=self.asked.options or None,
        )
        found = estimate_of_segments(
            self.book.workshop, like.route, segments, like.options, by_share=by_share
        )
        made = self._made(like.route, like.options)
        estimate = Estimate(
            lines=found.lines,
            quantities=found.quantities,
            sizes=found.sizes,
            mass=found.mass,
            left=like.left,
        )
        return _About(name=name, made=made, segments=segments, estimate=estimate)

    def _as_made(
        self, name: str, segments: tuple[Segment, ...], route: Route | None, *, by_share: bool
    ) -> _About:
        way = route or route_asked(self.book, PROGRAM_ROUTES[0])
        workshop = _NOWHERE if self.book is None else self.book.workshop
        materials = () if self.book is None else self.book.materials
        found = estimate_of_segments(
            workshop, way, segments, self.asked.options, materials, by_share=by_share
        )
        made = self._made(way, self.asked.options)
        return _About(name=name, made=made, segments=segments, estimate=found)

    def _pieces(self, typed: Typed) -> tuple[Segment, ...]:
        whole = typed.segment(_TYPED, "")
        piece = piece_of(whole)
        assert piece is not None
        counts = in_parts(piece.box, typed.count or 1)
        return cut_into(whole, counts, str)

    def _pieces_words(self, segments: tuple[Segment, ...]) -> str:
        first = segments[0]
        sides = (first.length_m, first.width_m, first.height_m)
        size = " × ".join(say.number(side or Decimal(0), 3) for side in sides)
        return self.words.say(say.PIECES, count=len(segments), size=size)

    def _made(self, route: Route, options: tuple[str, ...]) -> str:
        if not options:
            return route.name
        return f"{route.name} ({', '.join(options)})"

    def tell(self, about: _About) -> int:
        """Say it, and once more for programs."""
        if not about.estimate.lines:
            self.console.say(self.words.say(say.NOTHING))
        else:
            self._say(about)
        if self.asked.json:
            told: Json = {"name": about.name, "made": about.made or None}
            told |= estimate_object(self.words, about.estimate)
            self.console.say(json.dumps(told, ensure_ascii=False))
        return MET

    def _say(self, about: _About) -> None:
        console, words, found = self.console, self.words, about.estimate
        head = say.head_line(words, about.name, found)
        console.wrapped(console.strong(f"{head} {about.made}".rstrip()))
        self._part(say.HOURS_TITLE, [say.line(words, each) for each in found.lines])
        console.wrapped(words.say(say.ROUNDED))
        if found.left:
            console.wrapped(words.say(say.LEFT, stages=words.both(found.left)))
        self._say_quantities(found)
        self._part(say.SIZES_TITLE, say.size_lines(words, found))
        figures = dict.fromkeys(each for line in found.lines for each in line.formula.figures)
        takes = (take for quantity in found.quantities for take in quantity.takes)
        figures |= dict.fromkeys(each for take in takes for each in take.figures)
        wasted = (each.waste_figure for each in found.quantities if each.waste_figure)
        figures |= dict.fromkeys(wasted)
        self._part(say.FIGURES_TITLE, [say.figure_line(words, each) for each in figures])

    def _say_quantities(self, found: Estimate) -> None:
        lines = []
        for each in found.quantities:
            lines.append(say.quantity_line(self.words, each, blocks_of(each)))
            unit = each.material.unit
            lines += [f"  {say.take_line(self.words, take, unit)}" for take in each.takes]
        self._part(say.TAKES_TITLE, lines)
        if found.mass is not None:
            for template, mass in (
                (say.MASS_OF_FOAM, found.mass.foam),
                (say.MASS_OF_SKIN, found.mass.skin),
            ):
                if mass.likely:
                    told = self.words.say(template, **say.range_of(mass))
                    self.console.wrapped(told)

    def _part(self, title: object, lines: list[str]) -> None:
        if not lines:
            return
        self.console.say()
        self.console.say(self.words.say(title))  # type: ignore[arg-type]
        for line in lines:
            deeper = line.startswith(" ")
            self.console.wrapped(
                line.strip(),
                indent=_INDENT + _FIRST * deeper,
                first=_FIRST + _FIRST * deeper,
            )


def blocks_of(quantity: Quantity) -> tuple[int, Fraction] | None:
    """Give how many blocks of foam there are to buy, and how large each is."""
    if quantity.material.kind is not MaterialKind.FOAM:
        return None
    size = pack_size(quantity.material)
    return None if size is None else (packs(quantity.gross.likely, size), size)

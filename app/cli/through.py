"""`countback through`: what each piece must pass, what decides, and the loads."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import Json, load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.passing import passing_object, sizes_object, stow_object, taking_object
from app.cli.run import MET, MISSED
from app.cli.sizes import size_typed
from app.words import Words, shell
from app.words import passing as say
from shared.book import Book, Job, Segment
from shared.files.read import Read
from shared.ids import SegmentId
from shared.passing.boxes import AS_MADE, Margins, Piece, margins_of, moved, piece_of
from shared.passing.judge import Answer, Passing, judge_way
from shared.passing.loading import Load, Room, Stow, stow
from shared.passing.masses import calls_for_notice, mass_of
from shared.passing.passages import Carrier, course_of
from shared.passing.taking import taking

_INDENT = "    "
_TYPED = SegmentId("typed")


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        return refused(asked, console, read)
    jobs = _jobs(read.book, asked.words[1:])
    if asked.size is not None:
        length, width, height = size_typed(asked.size)
        piece = Segment(id=_TYPED, name="", length_m=length, width_m=width, height_m=height)
        jobs = tuple(_with(job, piece) for job in jobs)
    told = _Command(console=console, words=words_for(read.book), book=read.book)
    return told.tell(jobs, as_json=asked.json, is_typed=asked.size is not None)


def refused(asked: Asked, console: Console, read: Read) -> int:
    """Say why a book can't be taken."""
    words = words_for(read.whole)
    return say_refused(asked, console, words, read.findings, shell.NOT_PLANNED, {})


def _jobs(book: Book, typed: Sequence[str]) -> tuple[Job, ...]:
    if not typed:
        return book.jobs
    found = tuple(job for job in book.jobs if typed[0] in (job.id, job.name))
    if len(found) != 1:
        raise Usage("unknown_job", word=typed[0], jobs=", ".join(job.id for job in book.jobs))
    return found


def _with(job: Job, piece: Segment) -> Job:
    """Return a job as if it were of one piece that goes on its first journey."""
    from dataclasses import replace

    from shared.book import Journey

    steps = tuple(
        replace(step, segments=()) if isinstance(step, Journey) else step for step in job.steps
    )
    return replace(job, segments=(piece,), steps=steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Command:
    """What is said of which book."""

    console: Console
    words: Words
    book: Book

    @property
    def _margins(self) -> Margins:
        return margins_of(self.book.workshop)

    def tell(self, jobs: Sequence[Job], *, as_json: bool, is_typed: bool) -> int:
        """Say what decides for every piece; give 3 where one is too big."""
        if not any(job.segments for job in jobs):
            self.console.say(self.words.say(say.NO_JOBS))
        else:
            self.console.wrapped(say.margins_line(self.words, self._margins))
            if not self.book.workshop.openings and not any(job.site.openings for job in jobs):
                self.console.wrapped(self.words.say(say.NO_OPENINGS))
        told = [self._job(job, is_typed=is_typed) for job in jobs if job.segments]
        if told:
            self.console.say()
            self.console.wrapped(self.words.say(say.DEFERS))
        if as_json:
            self.console.say(json.dumps({"jobs": told}, ensure_ascii=False))
        answers = [piece["answer"] for job in told for piece in job["segments"]]
        return MISSED if Answer.TOO_BIG.value in answers else MET

    def _job(self, job: Job, *, is_typed: bool) -> dict[str, list[Json]]:
        self.console.say()
        self.console.wrapped(self.console.strong(job.name))
        pieces = [self._piece(job, segment, is_typed=is_typed) for segment in job.segments]
        loads = [] if is_typed else list(self._loads(job))
        more: Json = {} if is_typed else {"taking": self._taking(job)}
        return {"id": job.id, "segments": pieces, "loads": loads, **more}  # type: ignore[dict-item]

    def _piece(self, job: Job, segment: Segment, *, is_typed: bool) -> Json:
        piece = piece_of(segment)
        if piece is None:
            self._say(self.words.say(say.NO_SIZE, segment=segment.name))
            return {"id": segment.id, "answer": None, "sizes_m": None}
        passing = judge_way(piece, course_of(self.book, job, segment), self._margins)
        box = piece.box
        sizes = say.size((box.length, box.width, box.height))
        around = say.moved_size(moved(box, AS_MADE[0], self._margins))
        template = say.PIECE_ALONE if is_typed else say.PIECE
        self._say(self.words.say(template, segment=piece.name, size=sizes, moved=around))
        for line in self._lines(passing):
            self._say(line, deeper=True)
        if calls_for_notice(mass_of(segment)):
            self._say(self.words.say(say.HEAVY), deeper=True)
        return {"id": segment.id, "sizes_m": sizes_object(piece), **passing_object(passing)}

    def _lines(self, passing: Passing) -> Iterator[str]:
        """Give what decides, then everything else in the order of the way."""
        deciding = passing.deciding
        if deciding is None:
            yield self.words.say(say.NOTHING)
            return
        yield self.words.say(say.DECIDES, judged=say.judged_line(self.words, deciding))
        if deciding.answer is Answer.TOO_BIG:
            yield self.words.say(say.SPLIT_IT)
        for each in passing.judged:
            if each is not deciding:
                yield say.judged_line(self.words, each)

    def _loads(self, job: Job) -> Iterator[Json]:
        """Say and give the trips of each vehicle that any of the pieces may go by."""
        pieces = [(piece_of(segment), segment) for segment in job.segments]
        carriers: dict[Carrier, list[tuple[Piece, Segment]]] = {}
        for piece, segment in pieces:
            for carrier in course_of(self.book, job, segment).carriers if piece else ():
                if piece is not None and carrier.room is not None:
                    carriers.setdefault(carrier, []).append((piece, segment))
        for carrier, mine in carriers.items():
            found = self._stow(carrier, mine)
            for line in say.stow_lines(self.words, carrier, found):
                self._say(line)
            yield stow_object(carrier, found)
        if carriers:
            self._say(self.words.say(say.LAST_IN))

    def _stow(self, carrier: Carrier, pieces: Sequence[tuple[Piece, Segment]]) -> Stow:
        assert carrier.room is not None
        length, width, height = carrier.room
        room = Room(length=length, width=width, height=height, payload_kg=carrier.payload_kg)
        loads = [Load(piece=piece, mass=mass_of(segment)) for piece, segment in pieces]
        return stow(loads, room, self._margins)

    def _taking(self, job: Job) -> Json | None:
        found = taking(job.segments)
        if not found.joints_m:
            return None
        self._say(say.taking_line(self.words, found))
        return taking_object(found)

    def _say(self, line: str, *, deeper: bool = False) -> None:
        first = _INDENT if deeper else "  "
        self.console.wrapped(line, indent=first + "  ", first=first)

"""Four blanks and what is assumed, to a book with a job in it. No Qt."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.first import usual
from app.window.first.usual import Usual
from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.window.trial import whole_edit
from app.words import Words
from app.words import first as say
from app.words.brought import in_words, job_in_words, routes_in_words
from app.words.voice import Voice
from shared.book import Book, Job, Segment, Standing
from shared.edits import Edited, change_job
from shared.edits.edited import label
from shared.ids import SegmentId
from shared.sizes import BadSize, size_of
from shared.worktime import local_instant

if TYPE_CHECKING:
    from shared.asking import Country
    from shared.routes import Names

FIELDS = ("what", "size", "by", "country")
MOST_TIMES = 20
_DAYS_PER_YEAR = 365
_YEARS_AHEAD = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Blanks:
    """What is typed into the sentence. past, times: like which job of the book, how much larger."""

    what: str = ""
    size: str = ""
    by: str = ""
    country: str = ""
    past: str = ""
    times: str = ""

    @property
    def empty(self) -> str | None:
        """The first of the four that holds nothing, None where all hold something."""
        return next((name for name in FIELDS if not getattr(self, name).strip()), None)


# Reading one blank.


def read_what(text: str, words: Words) -> str:
    """Read what is made, as a job is called: "a garden snail" is Garden snail."""
    found = typed.name(text)
    articles = {each.strip() for each in words.say(say.ARTICLES).split(",")}
    first, _, rest = found.partition(" ")
    found = rest if rest and first.casefold() in articles else found
    return found[:1].upper() + found[1:]


def read_size(text: str) -> tuple[Decimal, Decimal, Decimal]:
    """Read length, width and height in metres."""
    try:
        return size_of(text.replace(",", "."))
    except BadSize:
        raise NotTaken("not_three_sizes", value=text) from None


def read_day(text: str, words: Words, today: date) -> date:
    """Read a day to come; without a year it is the next of that name."""
    found = typed.day(text, today, typed.months_of(words))
    if found < today:
        raise NotTaken("day_is_over", value=text)
    if found > today + timedelta(days=_DAYS_PER_YEAR * _YEARS_AHEAD):
        raise NotTaken("day_too_far", value=text, years=_YEARS_AHEAD)
    return found


def read_country(text: str) -> "Country":
    """Read a country by its name or code."""
    from shared.asking import country_named, nearest_country

    found = country_named(text)
    if found is not None:
        return found
    near = nearest_country(text) if text.strip() else None
    if near is None:
        raise NotTaken("not_a_country", value=text)
    raise NotTaken("not_a_country_like", value=text, nearest=Voice().brought(near.name))


def read_past(text: str, book: Book) -> Job | None:
    """Read a job of the book by its name, None where nothing is typed."""
    if not text.strip():
        return None
    known = {job.name: str(job.id) for job in book.jobs if job.segments}
    found = typed.one_of(text, known, "not_a_job")
    return next(job for job in book.jobs if job.id == found)


def read_times(text: str) -> Decimal | None:
    """Read how many times as large, None where nothing is typed."""
    found = typed.number_or_none(text)
    if found is not None and not 0 < found <= MOST_TIMES:
        raise NotTaken("not_times", value=text, most=MOST_TIMES)
    return found


# Making the book.


def readers(words: Words, book: Book, now: datetime) -> dict[str, Callable[[str], object]]:
    """Return what reads each blank, or raises NotTaken."""
    today = now.astimezone(ZoneInfo(book.workshop.zone)).date()
    return {
        "what": lambda text: read_what(text, words),
        "size": read_size,
        "by": lambda text: read_day(text, words, today),
        "country": read_country,
        "past": lambda text: read_past(text, book),
        "times": read_times,
    }


def is_bare(book: Book) -> bool:
    """Say whether a book has no workshop yet: one is assumed for the first job."""
    return not book.people and not book.places and not book.jobs


def asked(book: Book, blanks: Blanks, assumed: Usual, words: Words, now: datetime) -> Edited:
    """Return the edit that puts the job of four blanks into a book.

    A book without a workshop gets the assumed one, by the clock of the country that was named.

    Raises
    ------
    NotTaken
        When a blank can't be meant.
    """
    from shared.asking import Question, asked_book
    from shared.asking.assumed import assumed_names
    from shared.estimate.likened import past_route

    country = read_country(blanks.country)
    today = now.astimezone(ZoneInfo(country.zone)).date()
    length, width, height = read_size(blanks.size)
    past, times = read_past(blanks.past, book), read_times(blanks.times)
    like = past or _last_made(book)
    route = routes_in_words(words, book)[0]
    if like is not None:
        route = in_words(words, past_route(book, like))
    what = read_what(blanks.what, words)
    whole = Segment(
        id=SegmentId("piece"), name=what, length_m=length, width_m=width, height_m=height
    )
    question = Question(
        what=what,
        whole=whole,
        by=read_day(blanks.by, words, today),
        country=country,
        route=route,
        past=past,
        times=(times or Decimal(1)) if past is not None else None,
    )
    if is_bare(book):
        ground = usual.book_of(book, assumed, country, route, now, words)
        names = assumed_names(ground)
    else:
        ground, names = book, _names(book, like)
    made = asked_book(
        ground, question, usual.assumed_of(assumed), now, names=names, standing=Standing.PENCILLED
    )
    last = _in_its_last_week(made.book, made.job, question.by)
    last = in_words(words, last) if is_bare(book) else job_in_words(words, last, made.job)
    return whole_edit(book, last, label("add_job", name=what))


def _in_its_last_week(book: Book, job: Job, by: date) -> Book:
    """Return the book with the job put up in the week that ends with its last day, no sooner."""
    start = local_instant(by - timedelta(days=6), time(0), job.site.zone, opening=True)
    windows = tuple(
        replace(each, start=max(each.start, start.astimezone(UTC))) for each in job.windows
    )
    return change_job(book, replace(job, windows=windows)).book


def begun(book: Book, blanks: Blanks, assumed: Usual, words: Words, now: datetime) -> Edited:
    """Return the edit that gives a book the assumed workshop and no job yet."""
    country = read_country(blanks.country)
    route = routes_in_words(words, book)[0]
    made = in_words(words, usual.book_of(book, assumed, country, route, now, words))
    return whole_edit(book, made, label("change_workshop", name=made.workshop.name))


def _last_made(book: Book) -> Job | None:
    return next((job for job in reversed(book.jobs) if job.segments), None)


def _names(book: Book, like: Job | None) -> "Names":
    """Return what the workshop calls things, and who travels: whoever did with a job before."""
    from shared.book import Journey
    from shared.routes import Names

    steps = like.steps if like is not None else ()
    crew = next((s.crew for s in steps if isinstance(s, Journey) and s.crew), ())
    return Names(crew=crew)


def with_blank(blanks: Blanks, name: str, text: str) -> Blanks:
    """Return the blanks with another text in one of them."""
    values = {each: getattr(blanks, each) for each in (*FIELDS, "past", "times")} | {name: text}
    return replace(
        blanks,
        what=values["what"],
        size=values["size"],
        by=values["by"],
        country=values["country"],
        past=values["past"],
        times=values["times"],
    )

"""A new enquiry from the blanks of its sentence. No Qt."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from app.window.first.asked import read_country, read_day, read_past, read_times, read_what
from app.window.sheet import typed
from app.window.sheet.typed import NotTaken
from app.window.trial import whole_edit
from app.words import Words
from app.words.voice import Voice
from shared.asking.past import LikePast, SizeMissing, like_past
from shared.book import Book, Client, Job, Journey, Site
from shared.edits import Edited
from shared.edits.edited import label
from shared.ids import JobId
from shared.routes import Names
from shared.worktime.zones import local_date

FIELDS = ("what", "past", "times", "site", "day", "price")
NEEDED = FIELDS[:-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is typed into the blanks."""

    what: str = ""
    past: str = ""
    times: str = ""
    site: str = ""
    day: str = ""
    price: str = ""

    @property
    def empty(self) -> str | None:
        """The first blank that is needed and holds nothing, None where all hold something."""
        return next((name for name in NEEDED if not getattr(self, name).strip()), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """A site and who answers for it."""

    site: Site
    client: Client


def read_site(text: str, book: Book) -> Where:
    """Read a site or a client that the book knows, or a new site with its country behind it.

    "Market hall, Norway" is a new one; a country alone is a site there that has no name yet.
    """
    wanted = typed.name(text).casefold()
    for job in book.jobs:
        if wanted in (job.site.name.casefold(), job.client.name.casefold()):
            return Where(site=job.site, client=job.client)
    name, _, rest = text.rpartition(",")
    try:
        country = read_country(rest.strip())
    except NotTaken:
        if "," in text:
            raise
        raise NotTaken("not_a_site", value=text) from None
    called = " ".join(name.split()) or Voice().brought(country.name)
    place = {"zone": country.zone, "country": country.code, "subdivision": country.subdivision}
    return Where(site=Site(name=called, **place), client=Client(name=called, **place))  # type: ignore[arg-type]


def read_one_past(text: str, book: Book) -> Job:
    """Read a job of the book by its name."""
    found = read_past(text, book)
    if found is None:
        raise NotTaken("no_name")
    return found


def read_one_times(text: str) -> Decimal:
    """Read how many times as large."""
    found = read_times(text)
    if found is None:
        raise NotTaken("not_a_number", value=text)
    return found


def readers(book: Book, words: Words, now: datetime) -> dict[str, Callable[[str], object]]:
    """Return what reads each blank, or raises NotTaken."""
    today = local_date(now, book.workshop.zone)
    return {
        "what": lambda text: read_what(text, words),
        "past": lambda text: read_one_past(text, book),
        "times": read_one_times,
        "site": lambda text: read_site(text, book),
        "day": lambda text: read_day(text, words, today),
        "price": typed.number_or_none,
    }


def enquired(book: Book, asked: Asked, words: Words, now: datetime) -> tuple[Edited, JobId]:
    """Return the edit that puts the enquiry into the book, and its id.

    Raises
    ------
    NotTaken
        If a blank can't be meant.
    """
    past, where = read_one_past(asked.past, book), read_site(asked.site, book)
    day: date = read_day(asked.day, words, local_date(now, book.workshop.zone))
    client = where.client
    if not _knows(book, client):
        client = replace(client, answer_days=past.client.answer_days)
    wanted = LikePast(
        what=read_what(asked.what, words),
        past=past,
        times=read_one_times(asked.times),
        client=client,
        site=where.site,
        day=day,
        price=typed.number_or_none(asked.price),
    )
    try:
        found = like_past(book, wanted, now, names=_names_like(past))
    except SizeMissing:
        raise NotTaken("past_without_size", value=past.name) from None
    edited = whole_edit(book, found.book, label("add_job", name=found.job.name))
    return edited, found.job.id


def _names_like(past: Job) -> Names:
    """Return what steps are called: whoever travelled with the past job does so again."""
    crew = next((s.crew for s in past.steps if isinstance(s, Journey) and s.crew), ())
    return Names(crew=crew)


def _knows(book: Book, client: Client) -> bool:
    return any(job.client == client for job in book.jobs)


def sites_of(book: Book) -> tuple[str, ...]:
    """Return names of sites and clients that may be typed."""
    return tuple(dict.fromkeys(name for job in book.jobs for name in _names(job)))


def _names(job: Job) -> Iterable[str]:
    return job.client.name, job.site.name


def pasts_of(book: Book) -> tuple[str, ...]:
    """Return names of jobs that an enquiry may be like."""
    return tuple(job.name for job in book.jobs if job.segments)

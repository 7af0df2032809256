"""What is found on the wall: any words in any order, and all that is one person's. No Qt."""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from difflib import get_close_matches
from zoneinfo import ZoneInfo

from app.window.wall.items import STOPS, Item, Role, Wall
from app.words import Words
from app.words import calendar as named
from app.words import on_wall as say
from app.words import window as wording
from scheduler.outcome import Verdict
from shared.book import Book

_is_iso = re.compile(r"\b(\d{4})-(\d\d?)-(\d\d?)\b").search
_parts = re.compile(r"[^\W_]+").findall
_LONGEST = 60
_LEAST_ALIKE = 0.6
_MonthDay = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Only:
    """All that is one person's, place's or job's. sort: "person", "place" or "job"."""

    sort: str
    id: str
    name: str
    lit: frozenset[str]
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a text finds: items by time, those still to come first, and what it names whole.

    lit: ids of all that stays unveiled. all_count: how many things there are to find. near: the
    nearest spelling where nothing is found, else "".
    """

    text: str
    hits: tuple[Item, ...] = ()
    only: tuple[Only, ...] = ()
    lit: frozenset[str] = frozenset()
    all_count: int = 0
    near: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    item: Item
    words: frozenset[str]
    days: frozenset[_MonthDay]


def tokens(text: str) -> list[str]:
    """Return the words of a text as they are compared: small letters, accents left out."""
    bare = unicodedata.normalize("NFKD", text.casefold())
    return _parts("".join(c for c in bare if not unicodedata.combining(c)))


class Finder:
    """Knows all that can be found on one wall."""

    def __init__(self, wall: Wall, book: Book, words: Words) -> None:
        self.wall, self.words = wall, words
        self._zone = ZoneInfo(wall.zone)
        self._people = {person.id: person.name for person in book.people}
        self._places = {place.id: place.name for place in book.places}
        self._months = _months(words)
        today = _local(wall.now, self._zone)
        self._today = {
            frozenset(tokens(words.say(say.SOUGHT["today"]))): today,
            frozenset(tokens(words.say(say.SOUGHT["tomorrow"]))): today + timedelta(days=1),
        }
        self._entries = list(self._made())

    def find(self, text: str) -> Found:
        """Return what has all words and all dates of a text; nothing for an empty one."""
        wanted, days = self._asked(text)
        count = len(self._entries)
        if not wanted and not days:
            return Found(text=text, all_count=count)
        found = [
            entry.item
            for entry in self._entries
            if days <= entry.days and all(_has(entry.words, word) for word in wanted)
        ]
        now = self.wall.now
        hits = tuple(sorted(found, key=lambda item: (item.end <= now, item.start, item.row)))
        return Found(
            text=text,
            hits=hits,
            only=tuple(self._whole(wanted)) if not days else (),
            lit=self._lit(hits),
            all_count=count,
            near="" if hits else self._near(wanted),
        )

    def only(self, sort: str, identity: str) -> Only | None:
        """Return all that is one person's, place's or job's now; None for one that is gone."""
        return next((o for o in self._all_only() if (o.sort, o.id) == (sort, identity)), None)

    def people_of(self, item: Item) -> str:
        """Return the names of an item's people."""
        return self.words.series([self._people.get(each, each) for each in item.people])

    def _asked(self, text: str) -> tuple[list[str], frozenset[_MonthDay]]:
        """Return the words of a text and the dates among them."""
        days: set[_MonthDay] = set()
        iso = _is_iso(text)
        if iso:
            days.add((int(iso[2]), int(iso[3])))
            text = text.replace(iso[0], " ")
        wanted = tokens(text)
        for index in range(len(wanted) - 1):
            for number, month in ((index, index + 1), (index + 1, index)):
                found = self._month(wanted[month])
                if found and wanted[number].isdigit() and 1 <= int(wanted[number]) <= 31:
                    days.add((found, int(wanted[number])))
                    wanted[index] = wanted[index + 1] = ""
        for name, day in self._today.items():
            if name and name <= set(wanted):
                days.add((day.month, day.day))
                wanted = [word for word in wanted if word not in name]
        return [word for word in wanted if word], frozenset(days)

    def _month(self, word: str) -> int:
        if len(word) < 3:
            return 0
        return next((n for n, name in self._months.items() if name.startswith(word)), 0)

    def _made(self) -> Iterator[_Entry]:
        for item in self.wall.items:
            if (item.role in STOPS and not item.owner) or item.role is Role.WINDOW:
                first, last = _local(item.start, self._zone), _local(item.end - 1, self._zone)
                length = min(_LONGEST, max(0, (last - first).days))
                days = [first + timedelta(days=n) for n in range(length + 1)]
                yield _Entry(
                    item=item,
                    words=frozenset(tokens(" ".join(self._said(item, days)))),
                    days=frozenset((day.month, day.day) for day in days),
                )

    def _said(self, item: Item, days: list[date]) -> Iterator[str]:
        """Give all that an item is called."""
        band, words = self.wall.bands[item.band], self.words
        yield item.name
        yield item.label
        yield band.name
        yield from (self._people.get(each, each) for each in item.people)
        if item.place is not None:
            yield self._places.get(item.place, item.place)
        if item.kind is not None:
            yield wording.kind(words, item.kind)
        for day in days:
            yield named.month(words, day, with_year=False)
            if len(days) <= 7:
                yield named.weekday_and_day(words, day).rpartition(" ")[0]
        for sought in self._states(item):
            yield words.say(say.SOUGHT[sought])
        if band.verdict is not None:
            yield words.verdict_mark(band.verdict)

    def _states(self, item: Item) -> Iterator[str]:
        band = self.wall.bands[item.band]
        if item.role.value in say.SOUGHT:
            yield item.role.value
        if item.is_pinned:
            yield "pinned"
        if item.is_anew:
            yield "changed"
        if item.stands:
            yield item.stands
        if item.state == "done":
            yield "done"
        if item.state == "late" or band.late is not None:
            yield "late"
        if band.verdict is Verdict.TIGHT:
            yield "just"

    def _lit(self, hits: Iterable[Item]) -> frozenset[str]:
        lit: set[str] = set()
        for item in hits:
            lit |= {item.id, f"cure {item.id}"}
        return frozenset(lit)

    def _whole(self, wanted: list[str]) -> Iterator[Only]:
        """Give what a text names: a person, a place, a job, by the beginnings of its words."""
        for only in self._all_only():
            named_so = tokens(only.name)
            if wanted and all(_has(frozenset(named_so), word) for word in wanted):
                yield only

    def _all_only(self) -> Iterator[Only]:
        stops = [entry.item for entry in self._entries]
        for identity, name in self._people.items():
            yield self._one("person", identity, name, [i for i in stops if identity in i.people])
        for place, name in self._places.items():
            yield self._one("place", place, name, [item for item in stops if item.place == place])
        for band in self.wall.bands:
            mine = [item for item in stops if item.job == band.job]
            yield self._one("job", band.job, band.name, mine)

    def _one(self, sort: str, identity: str, name: str, items: list[Item]) -> Only:
        lit = self._lit(items)
        if sort == "job":
            waits = (i.id for i in self.wall.items if i.job == identity)
            lit = frozenset(waits)
        return Only(sort=sort, id=identity, name=name, lit=lit, count=len(items))

    def _near(self, wanted: list[str]) -> str:
        """Return the text with its words in the nearest spelling, "" where there is none."""
        known = {word for entry in self._entries for word in entry.words}
        made = []
        for word in wanted:
            if any(each.startswith(word) for each in known):
                made.append(word)
                continue
            near = get_close_matches(word, known, 1, _LEAST_ALIKE)
            if not near:
                return ""
            made += near
        return " ".join(made) if made != wanted else ""


def _has(known: frozenset[str], word: str) -> bool:
    """Say whether a word is there: its beginning is enough, but a number is meant whole."""
    if word.isdigit():
        return word in known
    return any(each.startswith(word) for each in known)


def _months(words: Words) -> dict[int, str]:
    found = {}
    for month in range(1, 13):
        name = named.month(words, date(2001, month, 15), with_year=False)
        found[month] = "".join(tokens(name))
    return found


def _local(minute: int, zone: ZoneInfo) -> date:
    return datetime.fromtimestamp(minute * 60, UTC).astimezone(zone).date()

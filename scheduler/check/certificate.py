"""A certificate replayed against its book, by counting alone; nothing of the engine is asked.

By a chain: each step is worked out anew, right after the one before it, with everybody free. By
counting: what must lie in the stretch, worked out anew, against the hours of those who must do it.
"""

from dataclasses import dataclass

from scheduler.check.alone import Alone, Work
from scheduler.check.alone_chain import Times, follow
from scheduler.check.clock import QUARTER, down, seconds, up
from scheduler.check.latest import loaded_by
from scheduler.check.openings import Openings
from shared.as_told import with_as_told
from shared.book import Book, Journey, Need, Person, SkillLevel, Way
from shared.certificate import Certificate, ProofBy
from shared.files.write import digest
from shared.findings import Fact
from shared.ids import PersonId, StepId

_MINUTE = 60
_QUARTER_MINUTES = QUARTER // _MINUTE
_DOES = frozenset({SkillLevel.CAN, SkillLevel.LEADS})


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """Where a certificate does not hold: a code and facts for the sentence."""

    code: str
    facts: tuple[tuple[str, Fact], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What came of a replay. holds: all of it was followed. replayable: it could be at all.

    is_of_book: it was made from this very state of the book.
    """

    holds: bool
    replayable: bool
    is_of_book: bool
    troubles: tuple[Trouble, ...] = ()


def check_certificate(book: Book, certificate: Certificate) -> Judged:
    """Replay a certificate against a book, with what its sheet says is done or under way.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    """
    made = certificate.made_from
    is_of_book = made.revision == book.revision and made.digest == digest(book)
    if certificate.by is ProofBy.SEARCH:
        return Judged(holds=False, replayable=False, is_of_book=is_of_book)
    troubles = _troubles(with_as_told(book, certificate.now), certificate)
    return Judged(
        holds=not troubles, replayable=True, is_of_book=is_of_book, troubles=tuple(troubles)
    )


def _troubles(book: Book, certificate: Certificate) -> list[Trouble]:
    job = next((job for job in book.jobs if job.id == certificate.job), None)
    if job is None:
        return [Trouble(code="no_job", facts=(("job", certificate.job),))]
    by = loaded_by(job)
    if certificate.late_minutes <= 0 or (by is not None and seconds(certificate.loaded_by) < by):
        facts = (("loaded_by", certificate.loaded_by.isoformat()),)
        return [Trouble(code="loaded_later", facts=facts)]
    alone = Alone(book, job, certificate.now)
    if certificate.by is ProofBy.CHAIN:
        return _chain(alone, certificate)
    return _counted(alone, certificate)


# By a chain


def _chain(alone: Alone, certificate: Certificate) -> list[Trouble]:
    times = Times(alone)
    before: tuple[StepId, int, int] | None = None
    last: tuple[StepId, int] | None = None
    for told in certificate.chain:
        span = follow(alone, times, told.step, before)
        if span is None:
            return [Trouble(code="not_after", facts=(("step", told.step),))]
        if span[1] < seconds(told.end):
            return [Trouble(code="sooner", facts=(("step", told.step), ("end", _iso(told.end))))]
        if seconds(told.ready) > _ready(alone, times, told.step, seconds(told.end)):
            facts = (("step", told.step), ("end", _iso(told.ready)))
            return [Trouble(code="cured_sooner", facts=facts)]
        # What is claimed counts from here on: less than what was worked out, so that it holds.
        before = (told.step, span[0], seconds(told.end))
        last = (told.step, seconds(told.end))
    if last is None or alone.behind_journey(alone.steps[last[0]]):
        return [Trouble(code="no_chain")]
    late = times.left_at(*last) - seconds(certificate.loaded_by)
    if late < certificate.late_minutes * _MINUTE:
        return [Trouble(code="less_late", facts=(("late_minutes", max(0, late) // _MINUTE),))]
    return []


def _ready(alone: Alone, times: Times, step: StepId, end: int) -> int:
    return max(times.left_at(step, end), alone.ready_after(alone.steps[step], end))


def _iso(when: object) -> str:
    return str(when).replace(" ", "T")


# By counting


def _counted(alone: Alone, certificate: Certificate) -> list[Trouble]:
    if certificate.start is None or certificate.end is None or not certificate.people:
        return [Trouble(code="no_chain")]
    stretch = up(seconds(certificate.start)), down(seconds(certificate.end))
    due = seconds(certificate.loaded_by) + (certificate.late_minutes - 1) * _MINUTE
    pool = Pool(alone, certificate.people, stretch, due)
    for told in certificate.work:
        forced = pool.forced(told.step)
        if forced * _QUARTER_MINUTES < told.minutes:
            minutes = forced * _QUARTER_MINUTES
            return [Trouble(code="less_work", facts=(("step", told.step), ("minutes", minutes)))]
    steps = [told.step for told in certificate.work]
    wanted = sum(told.minutes for told in certificate.work)
    there = pool.there * _QUARTER_MINUTES
    if wanted <= there or len(set(steps)) < len(steps):
        facts = (("wanted_minutes", wanted), ("there_minutes", there))
        return [Trouble(code="enough_hours", facts=facts)]
    return []


class Pool:
    """Some people in a stretch of quarters, and what must be done by them there."""

    def __init__(
        self, alone: Alone, people: tuple[PersonId, ...], stretch: tuple[int, int], due: int
    ) -> None:
        """Take them. due: the second by which the job is to be loaded."""
        self._alone, self._people = alone, frozenset(people) & alone.people.keys()
        self._stretch = stretch
        times = Times(alone)
        self._soonest, self._latest = times.soonest, times.latest(due)

    @property
    def there(self) -> int:
        """Return the quarters that they are there in the stretch, added up."""
        return sum(self._open(person).between(*self._stretch) for person in self._people)

    def _open(self, person: PersonId) -> Openings:
        return self._alone.hours.team((person,))

    def forced(self, step: StepId) -> int:
        """Return the quarters that they must give a step in the stretch, whatever the way."""
        one = self._alone.steps.get(step)
        span = self._soonest.get(step)
        if one is None or isinstance(one, Journey) or span is None or step not in self._latest:
            return 0
        is_begun = self._alone.facts.done(step) or self._alone.facts.running(step)
        if is_begun or not one.ways:
            return 0
        begin, end = down(span[0]), down(self._latest[step])
        return min(self._of_way(one, way, begin, end) for way in one.ways)

    def _of_way(self, step: Work, way: Way, begin: int, end: int) -> int:
        able = self._alone.able(step, way)
        hands = self._hands(way, able)
        if not hands:
            return 0
        first, last = self._stretch
        early = max((self._open(each).between(begin, first) for each in self._people), default=0)
        late = max((self._open(each).between(last, end) for each in self._people), default=0)
        needed = self._alone.quarters(step, way, able)
        return hands * max(0, needed - early - late)

    def _hands(self, way: Way, able: list[Person]) -> int:
        """Return how many of them are in every team for a way."""
        outside = [person for person in able if person.id not in self._people]
        places = sum(
            need.can for need in way.needs if not any(_does(person, need) for person in outside)
        )
        return max(places, way.hands_count - len(outside))


def _does(person: Person, need: Need) -> bool:
    return any(held.skill == need.skill and held.level in _DOES for held in person.skills)

"""The ground that clashes are planted in: a workshop whose jobs would all fit, from a seed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Book,
    Certificate,
    Engaged,
    ExtraHours,
    Gate,
    GateKind,
    Job,
    Journey,
    Leave,
    Offer,
    Person,
    Skill,
    SkillLevel,
    Stage,
    Step,
)
from shared.ids import OfferId, PersonId, SkillId
from tests.books.commissions import PIECES, Commission, at, job, sized, two_days
from tests.books.crew import NAMES, equipment, places, workshop
from tests.books.making import CARVED, FINISH, FINISHED, FIT, FOAM, LAMINATE, SKINNED, SPRAY
from tests.books.shapes import MONDAYS

SKILLS = (FOAM, LAMINATE, FINISH, SPRAY, FIT)
CARVING = tuple(recipe.word for recipe in CARVED)
WORDS = tuple(recipe.word for recipe in (*CARVED, *SKINNED, *FINISHED))
SATURDAY = 5
SMALL_CREW = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How large a clash is: people; pieces and stages a piece of the job it is about.

    others: by job beside it, its pieces; words_other: stages of each of these. decoys: people
    with hours on offer, or who could be hired, that do not help much.
    """

    people: int
    pieces: int
    words: int
    others: tuple[int, ...]
    words_other: int
    decoys: int


SIZES = (
    Size(people=4, pieces=1, words=4, others=(1,), words_other=2, decoys=1),
    Size(people=5, pieces=1, words=6, others=(1,), words_other=4, decoys=2),
    Size(people=6, pieces=2, words=7, others=(1, 2), words_other=5, decoys=3),
    Size(people=8, pieces=2, words=9, others=(2, 2, 1), words_other=6, decoys=4),
    Size(people=12, pieces=3, words=11, others=(3, 3, 2, 2), words_other=8, decoys=5),
)
"""From a book in which every set of ways out can be tried to one of some 120 stages."""


def size_of(seed: int) -> Size:
    """Give the size of a seed: five after one another are one of each."""
    return SIZES[(seed - 1) % len(SIZES)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """A book before anything is planted; its first job is the one that a cause is about.

    sole: who alone can do one of the skills, where that was asked for. draw: goes on from here.
    """

    book: Book
    draw: Random
    size: Size
    sole: Person | None = None

    @property
    def now(self) -> datetime:
        """Return the moment the book speaks of."""
        assert self.book.as_of is not None
        return self.book.as_of

    @property
    def job(self) -> Job:
        """Return the job that a cause is about."""
        return self.book.jobs[0]

    def stages(self, word: str) -> tuple[Stage, ...]:
        """Return the stages of a name in the job that a cause is about."""
        return tuple(s for s in self.job.steps if isinstance(s, Stage) and s.name == word)


def ground(
    kind: str,
    seed: int,
    *,
    wants: Sequence[str] = (),
    never: Sequence[str] = (),
    only: SkillId | None = None,
) -> Ground:
    """Draw a workshop with its jobs; their windows are not set yet.

    wants: stages that the first job has. never: what no job has. only: a skill that one person
    has and nobody else.
    """
    draw = Random(f"clash {kind} {seed}")
    size = size_of(seed)
    name = f"Clash workshop {kind} {seed}"
    people, sole = _people(size, only, draw)
    book = Book(
        name=name,
        workshop=replace(workshop(name, is_strict=False), wished_buffer_days=Decimal(1)),
        as_of=at(draw.choice(MONDAYS) + timedelta(days=7 * draw.randrange(0, 4)), 7, 30),
        places=places(Decimal(3)),
        equipment=equipment(2),
        people=people,
    )
    pieces = draw.sample(range(len(PIECES)), 1 + len(size.others))
    jobs = [_job(book, pieces[0], size.pieces, _words(size.words, wants, never, draw), sole, draw)]
    for index, count in zip(pieces[1:], size.others, strict=True):
        words = _words(size.words_other, (), never, draw)
        jobs.append(_job(book, index, count, words, sole, draw))
    book = _with_decoys(replace(book, jobs=tuple(jobs)), size, sole, draw)
    return Ground(book=book, draw=draw, size=size, sole=sole)


def _people(
    size: Size, only: SkillId | None, draw: Random
) -> tuple[tuple[Person, ...], Person | None]:
    """Deal the skills out: each to two at least, but for the one that only one person has."""
    names = draw.sample(NAMES, size.people)
    has: dict[str, set[SkillId]] = {name: set() for name in names}
    for skill in SKILLS:
        several = names if only is None else names[1:]
        taken = draw.sample(several, 2 if size.people < SMALL_CREW else 3)
        for name in names[:1] if skill == only else taken:
            has[name].add(skill)
    for name in names:
        if not has[name]:
            has[name].add(draw.choice([skill for skill in SKILLS if skill != only]))
    people = tuple(_person(name, has[name], only, draw) for name in names)
    return people, people[0] if only is not None else None


def _person(name: str, does: set[SkillId], only: SkillId | None, draw: Random) -> Person:
    helps = [skill for skill in (FOAM, LAMINATE, FIT) if skill not in does and skill != only]
    return Person(
        id=PersonId(name.lower()),
        name=name,
        skills=(
            *(Skill(skill=skill) for skill in SKILLS if skill in does),
            *(Skill(skill=skill, level=SkillLevel.HELPS) for skill in helps),
        ),
        rate_per_hour=Decimal(draw.randrange(18, 34)),
    )


def _words(count: int, wants: Sequence[str], never: Sequence[str], draw: Random) -> tuple[str, ...]:
    """Draw the stages of a piece: what is wanted, something carved, the rest at random."""
    chosen = {*wants}
    if not chosen & {*CARVING}:
        chosen.add("carve")
    rest = [word for word in WORDS if word not in chosen and word not in never]
    more = min(len(rest), max(0, count - len(chosen)))
    chosen |= {*draw.sample(rest, more)}
    return tuple(word for word in WORDS if word in chosen)


def _job(
    book: Book,
    index: int,
    count: int,
    words: tuple[str, ...],
    sole: Person | None,
    draw: Random,
) -> Job:
    word, name, parts = PIECES[index]
    named = (*parts, "Plinth", "Base")[:count]
    crew = draw.sample([p.id for p in book.people if p is not sole], 2)
    about = Commission(
        id=word,
        name=name,
        segments=sized(word, named, draw),
        crew=tuple(sorted(crew)),
        client_name=f"{name}'s client",
        answer_days=draw.choice((3, 5, 5)),
        drive_minutes=draw.randrange(4, 13) * 15,
        fit_minutes=draw.randrange(8, 20) * 15,
    )
    made = job(about, two_days(date(2027, 1, 4)))
    return replace(
        made,
        steps=tuple(_plain(step, words) for step in made.steps if _is_kept(step, words)),
        price=Decimal(draw.randrange(90, 260) * 100),
        late_cost_per_day=Decimal(draw.randrange(6, 16) * 100),
    )


def _is_kept(step: Step, words: tuple[str, ...]) -> bool:
    if isinstance(step, Stage):
        return step.name in words
    is_fit = isinstance(step, Gate) and step.gate is GateKind.TRIAL_FIT
    return not is_fit or "fair" in words


def _plain(step: Step, words: tuple[str, ...]) -> Step:
    """Leave recoat times out, and the wait after a lacquer that there is none of."""
    if not isinstance(step, Stage):
        return step
    after = None if "lacquer" not in words else step.after
    return replace(step, recoat_hours=None, after=after)


def _with_decoys(book: Book, size: Size, sole: Person | None, draw: Random) -> Book:
    """Add what draws the eye and decides nothing: short leave, Saturdays, useless offers."""
    around = [person.id for person in book.people if person is not sole]
    offering = draw.sample(around, min(len(around), size.decoys))
    crews = {who for job in book.jobs for step in job.steps for who in crew_of(step)}
    staying = [who for who in around if who not in crews]
    leaving = draw.sample(staying, min(len(staying), size.decoys // 2))
    assert book.as_of is not None
    now = book.as_of.date()
    people = []
    for person in book.people:
        if person.id in offering:
            person = replace(person, overtime_offered=_saturdays(now, draw))
        if person.id in leaving:
            person = replace(person, leave=(_short_leave(now, draw),))
        people.append(person)
    return replace(book, people=tuple(people), offers=_useless(book, size, draw))


def crew_of(step: Step) -> tuple[PersonId, ...]:
    """Return who goes with a step that is a journey."""
    return step.crew if isinstance(step, Journey) else ()


def _useless(book: Book, size: Size, draw: Random) -> tuple[Offer, ...]:
    """Hold out what changes nothing of weight: more floor, a screen or a store for others."""
    other = book.jobs[-1].id
    found = [
        Offer(
            id=OfferId("barn-corner"), name="A barn corner", kind="store", about=(other,),
            price=Decimal(draw.randrange(6, 40) * 10),
        ),
        Offer(
            id=OfferId("bay-screen"), name="A screen round bay 1", kind="screen", about=("bay-1",),
            price=Decimal(draw.randrange(6, 40) * 10),
        ),
        Offer(
            id=OfferId("more-bay"), name="Room from next door", kind="room", about=("bay-3",),
            area_m2=Decimal(20), price=Decimal(draw.randrange(6, 40) * 10),
        ),
    ]  # fmt: skip
    return tuple(draw.sample(found, min(len(found), size.decoys // 2)))


def _saturdays(start: date, draw: Random) -> tuple[ExtraHours, ...]:
    """Offer a Saturday morning or two."""
    first = start + timedelta(days=(SATURDAY - start.weekday()) % 7 + 7 * draw.randrange(0, 3))
    days = [first + timedelta(days=7 * week) for week in range(draw.randrange(1, 3))]
    premium = Decimal(draw.randrange(9, 20))
    return tuple(
        ExtraHours(start=at(day, 8), end=at(day, 13), premium_per_hour=premium) for day in days
    )


def _short_leave(start: date, draw: Random) -> Leave:
    first = start + timedelta(days=draw.randrange(3, 50))
    last = first + timedelta(days=draw.randrange(1, 5))
    return Leave(start=at(first, 0), end=at(last, 0), reason="holiday")


def another(made: Ground, skill: SkillId) -> Person:
    """Write down somebody more, who can do one thing."""
    taken = {person.name for person in made.book.people}
    name = made.draw.choice([name for name in NAMES if name not in taken])
    return Person(
        id=PersonId(name.lower()),
        name=name,
        skills=(Skill(skill=skill),),
        rate_per_hour=Decimal(made.draw.randrange(18, 34)),
    )


def for_hire(
    made: Ground, skill: SkillId, first: date, last: date, certificates: tuple[str, ...] = ()
) -> Person:
    """Write down somebody who could be hired from a day to another; nobody has yet."""
    return replace(
        another(made, skill),
        freelance=True,
        engaged=(Engaged(first=first, last=last),),
        day_rate=Decimal(made.draw.randrange(18, 34) * 10),
        certificates=tuple(Certificate(certificate=each) for each in certificates),
    )

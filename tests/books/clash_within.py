"""Clashes within the workshop: a person, a place, a cure, a certificate."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Book,
    Booking,
    Certificate,
    Closure,
    Leave,
    Offer,
    OtherWork,
    Person,
    Skill,
    Stage,
    Step,
    Temperature,
)
from shared.ids import OfferId, PlaceId, SkillId, StepId
from tests.books.clash_ground import Ground, crew_of, for_hire, ground
from tests.books.clash_refit import pinned_coat
from tests.books.clash_setting import (
    ALL_DAY,
    ALL_YEAR,
    WEEK,
    Named,
    Plant,
    morning,
    named,
    price,
    set_windows,
    with_offer,
    with_steps,
)
from tests.books.clash_timing import Held, Timed, timed
from tests.books.making import FINISH, LAMINATE, SPRAY
from tests.books.shapes import Planted

COATS = ("prime", "colour", "lacquer")
DOERS: tuple[tuple[SkillId, tuple[str, ...]], ...] = (
    (SPRAY, COATS),
    (FINISH, ("fair", "sand")),
    (LAMINATE, ("barrier", "flow coat")),
)
"""Skills of which one person is enough, and stages that ask for them."""
TRAINED = "isocyanate training"
LATE_EXPIRY = date(2032, 12, 31)
ASKED_SHARE = 0.2
WARM = Decimal(20)
DEGREES_TWICE = 10
"""Resin cures twice as fast for so many degrees (figure PL07)."""
BOOTH, COLD_BAY = PlaceId("booth"), PlaceId("bay-3")


def person(seed: int, weeks: int) -> Planted:
    """Let the only one who can do a stage be away when it is due."""
    draw = Random(f"person {seed}")
    skill, words = draw.choice(DOERS)
    if draw.random() < ASKED_SHARE:
        asked = _asked_by_name(seed, weeks, draw)
        if asked is not None:
            return asked
    never = ("laminate", "second laminate") if skill == LAMINATE else ()
    wants = draw.sample(words, draw.randrange(1, len(words) + 1))
    made = ground("person", seed, wants=wants, never=never, only=skill)
    assert made.sole is not None
    where = timed(made.book, made.now)
    mine = _asking_for(made, skill)
    start, end = _away(made, where, mine, weeks)
    last = where.of(mine[-1].id).end.date() + timedelta(days=2 * WEEK)
    cause = named("person", made.sole.id)
    if draw.random() < 0.4:
        course = OtherWork(
            id="course", name="A course", start=start, end=end, people=(made.sole.id,)
        )
        book = replace(made.book, other_work=(course,))
        plant = Plant(twin=made.book, book=book, cause=cause, undo=named("put_off", course.id))
        return set_windows(made, plant)
    twin, undo = _with_help(made, skill, (start.date(), last), draw)
    book = _change_person(twin, made.sole, leave=(Leave(start=start, end=end, reason="away"),))
    return set_windows(made, Plant(twin=twin, book=book, cause=cause, undo=undo))


def _asking_for(made: Ground, skill: SkillId) -> list[Stage]:
    """Return the stages of the first job that only who has a skill can do."""
    stages = [step for step in made.job.steps if isinstance(step, Stage)]
    return [s for s in stages if any(need.skill == skill for need in s.ways[0].needs)]


def _away(made: Ground, where: Timed, mine: list[Stage], weeks: int) -> tuple[datetime, datetime]:
    """Return a stretch from the day before the first of some stages on."""
    first = min(where.of(stage.id).start for stage in mine)
    start = max(made.now + timedelta(hours=1), morning(first, -1))
    return start, morning(first, made.draw.randrange(10, 17) + WEEK * weeks)


def _change_person(book: Book, who: Person, **more: object) -> Book:
    people = (
        replace(each, **more) if each.id == who.id else each  # type: ignore[arg-type]
        for each in book.people
    )
    return replace(book, people=tuple(people))


def _with_help(
    made: Ground, skill: SkillId, days: tuple[date, date], draw: Random, *certificates: str
) -> tuple[Book, Named]:
    """Hold out another pair of hands: a freelancer who is known, or somebody hired."""
    if draw.random() < 0.5:
        hand = for_hire(made, skill, *days, certificates)
        return replace(made.book, people=(*made.book.people, hand)), named("freelancer", hand.id)
    offer = Offer(
        id=OfferId("agency"),
        name="A hand from the agency",
        kind="hired hand",
        skills=(Skill(skill=skill),),
        certificates=certificates,
        price=Decimal(made.draw.randrange(4, 12) * 10),
        day_rate=Decimal(made.draw.randrange(20, 36) * 10),
        first=days[0],
        last=days[1],
    )
    return with_offer(made.book, offer), named("hired_hand", offer.id)


def _asked_by_name(seed: int, weeks: int, draw: Random) -> Planted | None:
    """Let one stage ask by name for somebody who is away, where another could do it as well."""
    word = draw.choice(("fair", "sand", "barrier", "flow coat", "prime", "lacquer"))
    made = ground("person", seed, wants=(word,))
    first = made.stages(word)[0]
    where = timed(made.book, made.now)
    skills = {need.skill for need in first.ways[0].needs}
    going = {who for step in made.job.steps for who in crew_of(step)}
    able = [p for p in made.book.people if skills & _can(p) and p.id not in going]
    if not able:
        return None
    who = draw.choice(able)
    start, end = _away(made, where, [first], weeks)

    def by_name(step: Step) -> Step:
        if isinstance(step, Stage) and step.id == first.id:
            return replace(step, people=(who.id,))
        return step

    book = with_steps(made.book, by_name)
    leave = Leave(start=start, end=end, reason="away")
    plant = Plant(
        twin=made.book,
        book=_change_person(book, who, leave=(leave,)),
        cause=named("person", who.id),
        undo=named("lift_names", first.id),
        held=Held(not_before={first.id: end}),
    )
    return set_windows(made, plant)


def _can(who: Person) -> set[SkillId]:
    return {skill.skill for skill in who.skills if skill.level != "helps"}


def place(seed: int, weeks: int) -> Planted:
    """Let the only place for a stage be taken when it is due."""
    draw = Random(f"place {seed}")
    word = draw.choice(COATS)
    others = tuple(coat for coat in COATS if coat != word)
    made = ground("place", seed, wants=(word,), never=others)
    where = timed(made.book, made.now)
    mine = list(made.stages(word))
    start, end = _away(made, where, mine, weeks)
    how = draw.choice((_booked, _shut, _rebuilt, pinned_coat))
    return set_windows(made, how(made, mine, (start, end)))


Stretch = tuple[datetime, datetime]


def _place(book: Book, place_id: PlaceId, **more: object) -> Book:
    places = (
        replace(each, **more) if each.id == place_id else each  # type: ignore[arg-type]
        for each in book.places
    )
    return replace(book, places=tuple(places))


def _booked(made: Ground, _mine: list[Stage], when: Stretch) -> Plant:
    """Let somebody else have the booth."""
    taken = Booking(start=when[0], end=when[1], name="let to a joinery")
    book = _place(made.book, BOOTH, bookings=(taken,))
    cause = named("place", BOOTH)
    return Plant(twin=made.book, book=book, cause=cause, undo=named("free_place", BOOTH))


def _shut(made: Ground, mine: list[Stage], when: Stretch) -> Plant:
    """Let the booth be shut for its extraction; a paint shop would do the coat."""
    days = Closure(first=when[0].date(), last=when[1].date(), name="new extraction")
    offer = Offer(
        id=OfferId("paint-shop"),
        name="The paint shop down the road",
        kind="subcontract",
        about=tuple(stage.id for stage in mine),
        away_days=made.draw.randrange(2, 5),
        price=price(made),
    )
    twin = with_offer(made.book, offer)
    book = _place(twin, BOOTH, closures=(days,))
    cause = named("place", BOOTH)
    return Plant(twin=twin, book=book, cause=cause, undo=named("subcontract", offer.id))


def _rebuilt(made: Ground, _mine: list[Stage], when: Stretch) -> Plant:
    """Let other work be done in the booth that could wait."""
    work = OtherWork(
        id="rebuilding", name="New filters", start=when[0], end=when[1], places=(BOOTH,)
    )
    book = replace(made.book, other_work=(work,))
    cause = named("place", BOOTH)
    return Plant(twin=made.book, book=book, cause=cause, undo=named("put_off", work.id))


def cure(seed: int, weeks: int) -> Planted:
    """Let a cure take much longer: in a cold bay, or with a slow resin."""
    draw = Random(f"cure {seed}")
    word = draw.choice(("barrier", "laminate", "second laminate", "flow coat"))
    made = ground("cure", seed, wants=(word,))
    mine = (draw.choice(made.stages(word)).id,)
    how = _in_the_cold if draw.random() < 0.5 else _slowly
    return set_windows(made, how(made, mine, draw, weeks))


def _in_the_cold(made: Ground, mine: tuple[StepId, ...], draw: Random, weeks: int) -> Plant:
    celsius = draw.randrange(4, 9)
    hours = Decimal(draw.randrange(4, 7) * 24 + 48 * weeks)

    def cold(step: Step) -> Step:
        if not isinstance(step, Stage) or step.id not in mine:
            return step
        ways = tuple(replace(way, places=(COLD_BAY,)) for way in step.ways)
        return replace(step, ways=ways, stays=True, cure_hours=hours, cure_celsius=WARM)

    heater = Offer(
        id=OfferId("heater"),
        name="A heater in bay 3",
        kind="heating",
        about=(COLD_BAY,),
        heated=ALL_DAY,
        celsius=WARM,
        price=price(made),
    )
    ready = with_offer(with_steps(made.book, cold), heater)
    slower = hours * Decimal(2 ** ((WARM - celsius) / DEGREES_TWICE))
    return Plant(
        twin=_at_celsius(ready, WARM),
        book=_at_celsius(ready, Decimal(celsius)),
        cause=named("cure", mine[0]),
        undo=named("heating", heater.id),
        held=Held(cures=dict.fromkeys(mine, slower.quantize(Decimal(1)))),
    )


def _at_celsius(book: Book, celsius: Decimal) -> Book:
    known = Temperature(months=ALL_YEAR, day_celsius=celsius, night_celsius=celsius, place=COLD_BAY)
    return replace(book, workshop=replace(book.workshop, temperatures=(known,)))


def _slowly(made: Ground, mine: tuple[StepId, ...], draw: Random, weeks: int) -> Plant:
    hours = Decimal(draw.randrange(11, 17) * 24 + 24 * WEEK * weeks)
    usual = Decimal(draw.choice((24, 36, 48)))

    def with_cure(cure_hours: Decimal) -> Book:
        def cured(step: Step) -> Step:
            if not isinstance(step, Stage) or step.id not in mine:
                return step
            return replace(step, cure_hours=cure_hours)

        return with_steps(made.book, cured)

    offer = Offer(
        id=OfferId("quick-resin"),
        name="The quick resin",
        kind="fast cure",
        about=mine,
        cure_hours=usual,
        price=price(made),
    )
    return Plant(
        twin=with_offer(with_cure(usual), offer),
        book=with_offer(with_cure(hours), offer),
        cause=named("cure", mine[0]),
        undo=named("fast_cure", offer.id),
    )


def certificate(seed: int, weeks: int) -> Planted:
    """Let the only certificate for a stage run out before it is due."""
    draw = Random(f"certificate {seed}")
    word = draw.choice(COATS)
    made = ground("certificate", seed, wants=(word,))
    mine = made.stages(word)
    who = draw.choice([each for each in made.book.people if SPRAY in _can(each)])
    bare = _change_person(made.book, who, leave=())
    alone = Held(by={stage.id: who.id for stage in mine})
    where = timed(bare, made.now, alone)
    first = min(where.of(stage.id).start for stage in mine).date()
    last = where.of(mine[-1].id).end.date() + timedelta(days=2 * WEEK)
    sooner = (where.of(mine[0].id).start - made.now) / 2
    expires = first - timedelta(days=max(2, sooner.days)) - timedelta(days=WEEK * weeks)

    def asked(step: Step) -> Step:
        if isinstance(step, Stage) and step.name == word:
            return replace(step, certificates=(TRAINED,))
        return step

    twin, undo = _certified(made, who, (first, last), draw)
    twin = with_steps(twin, asked)
    twin = _change_person(twin, who, leave=(), certificates=(_held(LATE_EXPIRY),))
    book = _change_person(twin, who, certificates=(_held(expires),))
    cause = named("certificate", TRAINED)
    plant = Plant(twin=twin, book=book, cause=cause, undo=undo, twin_held=alone, never=True)
    return set_windows(made, plant)


def _held(expires: date) -> Certificate:
    return Certificate(certificate=TRAINED, expires=expires)


def _certified(
    made: Ground, who: Person, days: tuple[date, date], draw: Random
) -> tuple[Book, Named]:
    """Hold out a new course, or somebody who holds the certificate."""
    if draw.random() < 0.5:
        return _with_help(made, SPRAY, days, draw, TRAINED)
    offer = Offer(
        id=OfferId("refresher"),
        name="A refresher",
        kind="training",
        about=(who.id,),
        certificates=(TRAINED,),
        first=made.now.date(),
        last=LATE_EXPIRY,
        price=price(made),
    )
    return with_offer(made.book, offer), named("training", offer.id)

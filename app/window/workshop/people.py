"""The people of the workshop as sentences and a ticked grid, and the edits they make. No Qt."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import partial

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import typed
from app.window.workshop.items import (
    Act,
    Field,
    Item,
    Owned,
    Owner,
    Part,
    Sentence,
    Ticks,
    Title,
    owned,
    put_in,
    with_field,
)
from app.words import Words
from app.words import workshop_view as say
from app.words.brought import name_in_words
from app.words.template import Template
from app.words.voice import Voice
from shared.book import (
    Abrade,
    Book,
    Certificate,
    Engaged,
    EngagementState,
    ExtraHours,
    Gate,
    Leave,
    Person,
    Skill,
    SkillLevel,
    Stage,
    Step,
)
from shared.edits import Edited, change_person, fresh_id, remove_person
from shared.edits.lookup import person_of
from shared.edits.workshop import change_people, name_people
from shared.ids import PersonId, SkillId
from shared.routes import known_routes

LEVELS = ("", SkillLevel.HELPS, SkillLevel.CAN, SkillLevel.LEADS)
"""From less to more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class At:
    """What the page is written for: the words, the day, and the person chosen.

    is_given_away: others see it, so it does not say why somebody is away.
    """

    words: Words
    now: datetime
    today: date
    person: PersonId | None = None
    is_money_hidden: bool = False
    is_given_away: bool = False
    skills: tuple[SkillId, ...] = ()


# Skills.


def skills_of(book: Book, more: Iterable[SkillId] = ()) -> tuple[SkillId, ...]:
    """Return the columns of the grid: the skills that work asks for, then those people have.

    Of a book that asks for none, those of the basic way of making.
    """
    asked = [skill for job in book.jobs for skill in _asked(job.steps)]
    asked += [skill for route in book.routes for skill in _asked(route.steps)]
    had = [each.skill for person in book.people for each in person.skills]
    found = dict.fromkeys((*asked, *had, *more))
    if not asked and not had:
        found = dict.fromkeys((*_asked(known_routes(book)[0].steps), *more))
    return tuple(found)


def _asked(steps: Iterable[Step]) -> list[SkillId]:
    found = []
    for step in steps:
        if isinstance(step, Stage | Gate):
            extra = [getattr(step, name, None) for name in ("abrade", "rework", "changes")]
            ways = [*step.ways]
            for each in extra:
                ways += each.ways if isinstance(each, Abrade) else ()
            found += [need.skill for way in ways for need in way.needs]
    return found


def level_of(person: Person, skill: SkillId) -> str:
    """Return how well a person does something: "" for not at all."""
    return next((each.level for each in person.skills if each.skill == skill), "")


def with_level(person: Person, skill: SkillId, level: str) -> Person:
    """Return a person who does something so well; "" for not at all."""
    kept = [each for each in person.skills if each.skill != skill]
    if not level:
        return replace(person, skills=tuple(kept))
    made = Skill(skill=skill, level=SkillLevel(level))
    at = next((i for i, each in enumerate(person.skills) if each.skill == skill), len(kept))
    return replace(person, skills=(*kept[:at], made, *kept[at:]))


def tick(book: Book, person: PersonId, skill: SkillId, level: str) -> Edited:
    """Tick what somebody can do, at a level, or take the tick out."""
    return change_person(book, with_level(person_of(book, person), skill, level))


def tick_all(book: Book, skill: SkillId) -> Edited:
    """Tick a skill for everybody, or if everybody has it for nobody; one edit."""
    everybody = all(level_of(person, skill) for person in book.people)
    made = tuple(
        with_level(person, skill, "" if everybody else level_of(person, skill) or "can")
        for person in book.people
    )
    return change_people(book, made, skill)


def next_level(level: str, by: int) -> str:
    """Return the level above or below, staying at the ends."""
    at = LEVELS.index(level) + by
    return str(LEVELS[max(0, min(at, len(LEVELS) - 1))])


# People.


def add_named(book: Book, text: str) -> Edited:
    """Add everybody on a pasted list who is not here yet, with the skills that stand there.

    People who were only assumed, and have no name yet, get the names first; whoever comes after
    them can do what they can, unless the list says what.
    """
    known = {person.name.casefold() for person in book.people}
    skills = _skills_by_word(book)
    taken = {str(person.id) for person in book.people}
    assumed = [person for person in book.people if _is_assumed(person)]
    like = assumed[-1] if assumed else Person(id=PersonId(""), name="")
    made = []
    for name, listed in typed.names(text):
        if name.casefold() in known:
            continue
        known.add(name.casefold())
        old = assumed.pop(0) if assumed else None
        identity = old.id if old else PersonId(fresh_id(_slug(name), taken))
        taken.add(identity)
        own = dict.fromkeys(skills.get(each.casefold(), SkillId(each)) for each in listed)
        can = tuple(Skill(skill=skill) for skill in own) or (old or like).skills
        made.append(replace(old or like, id=identity, name=name, skills=can))
    if not made:
        raise NotTaken("nobody_new")
    return name_people(book, tuple(made))


def _is_assumed(person: Person) -> bool:
    """Return whether a person was only counted so far: "Person 2", in any language."""
    number = person.id.removeprefix("person-")
    return number.isdigit() and person.name in {
        f"Person {number}",
        name_in_words(Voice(), f"Person {number}"),
    }


def _skills_by_word(book: Book) -> dict[str, SkillId]:
    """Return the skills there are by their word, and by what they are called in the language."""
    there, voice = skills_of(book), Voice()
    called = {voice.brought(skill).casefold(): skill for skill in there}
    return called | {str(skill).casefold(): skill for skill in there}


def _slug(name: str) -> str:
    kept = "".join(each if each.isalnum() else "-" for each in name.casefold())
    return "-".join(part for part in kept.split("-") if part) or "person"


def people_part(book: Book, at: At) -> Part:
    """Return the part about people."""
    items: list[Item] = [_add_people(at)]
    if book.people:
        aside = at.words.say(say.WHO_CAN_ASIDE)
        items += [Title(text=at.words.say(say.WHO_CAN), aside=aside), Ticks(), _add_skill(at)]
        person = next((p for p in book.people if p.id == at.person), book.people[0])
        items += _about(person, at, book.people.index(person))
    title = at.words.say(say.PARTS["people"])
    return Part(name="people", title=title, items=tuple(items), scopes=(("people",), ("offers",)))


def _add_people(at: At) -> Sentence:
    words = at.words
    names = Field(
        name="add people",
        label=words.say(say.ADD_PEOPLE_LABEL),
        text="",
        write=add_named,
        hint=words.say(say.ADD_PEOPLE_HINT),
        is_list=True,
    )
    return Sentence(template=say.ADD_PEOPLE, fields=(("names", names),))


def _add_skill(at: At) -> Sentence:
    def write(book: Book, text: str) -> Edited:
        person = next((p for p in book.people if p.id == at.person), book.people[0])
        typed_name = plain.name(text)
        skill = _skills_by_word(book).get(typed_name.casefold(), SkillId(typed_name))
        return tick(book, person.id, skill, "can")

    words = at.words
    label = words.say(say.ADD_SKILL, skill="")
    hint = words.say(say.ADD_SKILL_HINT)
    skill = Field(name="add skill", label=label, text="", write=write, hint=hint)
    return Sentence(template=say.ADD_SKILL, fields=(("skill", skill),))


def owner(person: Person, index: int) -> Owner[Person]:
    """Return a person as who has blanks; only one person's are on the page at a time."""
    made = owned(person, ("people", index), lambda book: book.people, change_person)
    return replace(made, name="person")


def _about(person: Person, at: At, index: int) -> list[Item]:
    words, its = at.words, owner(person, index)
    remove = Act(
        text=words.say(say.DO_REMOVE_PERSON, name=person.name),
        edit=lambda book: remove_person(book, person.id),
    )
    works = _works(person, at, its)
    works[0] = replace(works[0], acts=(remove,))
    return [
        Title(text=person.name),
        *works,
        *_engaged(person, at, its),
        *_overtime(person, at, its),
        *_leaves(person, at, its),
        *_certificates(person, at, its),
    ]


def _works(person: Person, at: At, its: Owner[Person]) -> list[Sentence]:
    words = at.words
    name = its.field("name", person.name, lambda p, t: replace(p, name=plain.name(t)), "name")
    hours = its.field(
        "hours",
        typed.hours_text(person.hours, words),
        lambda p, t: replace(p, hours=typed.hours(t, words)),
        "hours",
        hint=words.say(say.HINT_HOURS),
    )
    pace = replace(its.figure("pace", person.pace, plain.number), is_figure=False)
    first, last = (day_field(its, person, each, at) for each in ("works_from", "works_until"))
    freelance = its.tick("freelance", is_ticked=person.freelance)
    young = its.tick("under_18", is_ticked=person.under_18)
    sanding = its.figure(
        "sanding_hours_per_day", person.sanding_hours_per_day, plain.number_or_none,
        words.say(say.HINT_HOURS),
    )  # fmt: skip
    fields = (("name", name), ("hours", hours), ("pace", pace))
    return [
        Sentence(template=say.PERSON_WORKS, fields=fields, path=its.path),
        Sentence(template=say.PERSON_DAYS, fields=(("first", first), ("last", last))),
        Sentence(template=say.PERSON_FREE, fields=(("freelance", freelance), ("young", young))),
        Sentence(template=say.PERSON_SANDS, fields=(("hours", sanding),)),
    ]


def day_field(
    its: Owner[Owned], each: Owned, which: str, at: At, hint: Template = say.HINT_ALWAYS
) -> Field:
    """Return the blank of a day in one of an owner's fields, that may be left out."""

    def write(old: Owned, text: str) -> Owned:
        return with_field(old, which, typed.day_or_none(text, at.words, at.today))

    text = typed.day_text(getattr(each, which), at.words, at.today)
    return its.field(which, text, write, which, hint=at.words.say(hint))


def _leaves(person: Person, at: At, its: Owner[Person]) -> list[Sentence]:
    words, found = at.words, []
    for index, leave in enumerate(person.leave):
        days = its.field(
            f"away {index + 1}",
            typed.stretch_text(leave.start, leave.end, words, at.today),
            partial(_with_stretch, which="leave", make=Leave, index=index, at=at),
            *("leave", index),
        )
        reason = its.entry(
            f"away {index + 1} reason",
            "" if at.is_given_away else leave.reason,
            ("leave", index, "reason"),
            typed.line,
            hint=words.say(say.WHY_HINT),
        )
        gone = its.without("leave", index, words.say(say.DO_REMOVE))
        fields = (("days", days), ("reason", reason))
        found.append(Sentence(template=say.AWAY, fields=fields, acts=(gone,)))
    write = partial(_with_stretch, which="leave", make=Leave, index=len(person.leave), at=at)
    add = its.field("add away", "", write, "leave", hint=words.say(say.HINT_DAYS))
    return [*found, Sentence(template=say.ADD_AWAY, fields=(("days", add),))]


def _with_stretch(
    person: Person, text: str, *, which: str, make: Callable[..., object], index: int, at: At
) -> Person:
    start, end = typed.stretch(text, at.words, at.today)
    return put_in(person, which, index, make, start=start, end=end)


def _overtime(person: Person, at: At, its: Owner[Person]) -> list[Sentence]:
    """Return what somebody works beyond the shift, and what is only offered."""
    words, found = at.words, []
    for which, (line, plainly, add_line) in say.OVERTIME.items():
        for index, each in enumerate(getattr(person, which)):
            write = partial(_with_stretch, which=which, make=ExtraHours, index=index, at=at)
            text = typed.stretch_text(each.start, each.end, words, at.today)
            fields = [("days", its.field(f"{which} {index + 1}", text, write, which, index))]
            if not at.is_money_hidden:
                premium = its.entry(
                    f"{which} {index + 1} premium",
                    plain.figure(each.premium_per_hour),
                    (which, index, "premium_per_hour"),
                    plain.number,
                )
                fields.append(("premium", premium))
            gone = its.without(which, index, words.say(say.DO_REMOVE))
            template = plainly if at.is_money_hidden else line
            found.append(Sentence(template=template, fields=tuple(fields), acts=(gone,)))
        count = len(getattr(person, which))
        write = partial(_with_stretch, which=which, make=ExtraHours, index=count, at=at)
        add = its.field(f"add {which}", "", write, which, hint=words.say(say.HINT_STRETCH))
        found.append(Sentence(template=add_line, fields=(("days", add),)))
    return found


def _engaged(person: Person, at: At, its: Owner[Person]) -> list[Sentence]:
    if not person.freelance and not person.engaged:
        return []
    words, found = at.words, []
    states = {words.say(word): state for state, word in say.STATES.items()}
    for index, each in enumerate(person.engaged):
        days = its.field(
            f"comes {index + 1}",
            typed.days_text(each.first, each.last, words, at.today),
            partial(_with_engaged, index=index, at=at),
            *("engaged", index),
        )
        state = its.entry(
            f"comes {index + 1} state",
            words.say(say.STATES[each.state]),
            ("engaged", index, "state"),
            partial(_state, known=states),
            suggestions=tuple(states),
        )
        gone = its.without("engaged", index, words.say(say.DO_REMOVE))
        fields = (("days", days), ("state", state))
        found.append(Sentence(template=say.ENGAGED, fields=fields, acts=(gone,)))
    write = partial(_with_engaged, index=len(person.engaged), at=at)
    add = its.field("add comes", "", write, "engaged", hint=words.say(say.HINT_DAYS))
    least = its.figure("least_days", person.least_days, plain.whole_or_none, words.say(say.ANY))
    until = day_field(its, person, "cancel_by", at)
    terms = (("days", replace(least, is_figure=False)), ("day", until))
    return [
        *found,
        Sentence(template=say.ADD_ENGAGED, fields=(("days", add),)),
        Sentence(template=say.ENGAGED_TERMS, fields=terms),
    ]


def _with_engaged(person: Person, text: str, *, index: int, at: At) -> Person:
    first, last = typed.days(text, at.words, at.today)
    make = partial(Engaged, state=EngagementState.CONFIRMED)
    return put_in(person, "engaged", index, make, first=first, last=last)


def _state(text: str, *, known: dict[str, str]) -> EngagementState:
    return EngagementState(plain.one_of(text, known, "not_a_state"))


def _certificates(person: Person, at: At, its: Owner[Person]) -> list[Sentence]:
    words, found = at.words, []
    for index, each in enumerate(person.certificates):
        write = partial(_with_certificate, index=index)
        named = its.field(f"holds {index + 1}", each.certificate, write, "certificates", index)
        expires = its.entry(
            f"holds {index + 1} until",
            typed.day_text(each.expires, words, at.today),
            ("certificates", index, "expires"),
            partial(typed.day_or_none, words=words, today=at.today),
            hint=words.say(say.HINT_ALWAYS),
        )
        gone = its.without("certificates", index, words.say(say.DO_REMOVE))
        fields = (("certificate", named), ("expires", expires))
        found.append(Sentence(template=say.HOLDS, fields=fields, acts=(gone,)))
    write = partial(_with_certificate, index=len(person.certificates))
    add = its.field("add holds", "", write, "certificates", hint=words.say(say.HINT_CERTIFICATE))
    return [*found, Sentence(template=say.ADD_HOLDS, fields=(("certificate", add),))]


def _with_certificate(person: Person, text: str, *, index: int) -> Person:
    return put_in(person, "certificates", index, Certificate, certificate=plain.name(text))


def rate_field(person: Person, which: str, index: int) -> Field:
    """Return the field of what an hour or a day of somebody costs."""
    its = replace(owner(person, index), name=str(person.id))
    return its.figure(which, getattr(person, which), plain.number_or_none)

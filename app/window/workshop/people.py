"""The people of the workshop as sentences and a ticked grid, and the edits they make. No Qt."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import partial
from typing import TYPE_CHECKING

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import typed
from app.window.workshop.items import (
    Act,
    Field,
    Item,
    Part,
    Path,
    Sentence,
    Ticks,
    Title,
    with_field,
)
from app.words import Words
from app.words import workshop_view as say
from app.words.brought import name_in_words
from app.words.voice import Voice
from shared.book import (
    Abrade,
    Book,
    Certificate,
    Engaged,
    EngagementState,
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

if TYPE_CHECKING:
    from decimal import Decimal

Writes = Callable[[Person, str], Person]
LEVELS = ("", SkillLevel.HELPS, SkillLevel.CAN, SkillLevel.LEADS)
"""From less to more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class At:
    """What the page is written for: the words, the day, and the person chosen."""

    words: Words
    now: datetime
    today: date
    person: PersonId | None = None
    is_money_hidden: bool = False
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
        path = ("people", book.people.index(person))
        items += _about(person, at, path)
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


def _about(person: Person, at: At, path: Path) -> list[Item]:
    words = at.words
    remove = Act(
        text=words.say(say.DO_REMOVE_PERSON, name=person.name),
        edit=lambda book: remove_person(book, person.id),
    )
    items: list[Item] = [Title(text=person.name), *_works(person, at, path)]
    items += _engaged(person, at, path)
    items += _leaves(person, at, path)
    items += _certificates(person, at, path)
    last = items[1]
    if isinstance(last, Sentence):
        items[1] = replace(last, acts=(remove,))
    return items


def _field(  # noqa: PLR0913 - a blank with what is said of it
    person: Person,
    name: str,
    text: str,
    write: Writes,
    path: Path,
    *,
    hint: str = "",
    suggestions: tuple[str, ...] = (),
    is_tick: bool = False,
    is_figure: bool = False,
) -> Field:
    """Return a field about a person; write gives the person anew from a text."""

    def edit(book: Book, typed_text: str) -> Edited:
        return change_person(book, write(person_of(book, person.id), typed_text))

    label = f"{person.name}, {name}"
    return Field(
        name=f"person {name}",
        label=label,
        text=text,
        write=edit,
        path=path,
        hint=hint,
        suggestions=suggestions,
        is_tick=is_tick,
        is_figure=is_figure,
    )


def _works(person: Person, at: At, path: Path) -> list[Sentence]:
    words, today = at.words, at.today
    hint = words.say(say.HINT_HOURS)
    name = _field(
        person, "name", person.name, lambda p, t: replace(p, name=plain.name(t)), (*path, "name")
    )
    hours = _field(
        person,
        "hours",
        typed.hours_text(person.hours, words),
        lambda p, t: replace(p, hours=typed.hours(t, words)),
        (*path, "hours"),
        hint=hint,
    )
    pace = _field(
        person,
        "pace",
        plain.figure(person.pace),
        lambda p, t: replace(p, pace=plain.number(t)),
        (*path, "pace"),
    )

    def day(which: str) -> Field:
        return _field(
            person,
            which,
            typed.day_text(getattr(person, which), words, today),
            partial(_with_day, which=which, at=at),
            (*path, which),
            hint=words.say(say.HINT_ALWAYS),
        )

    ticks = {
        which: _field(
            person,
            which,
            "yes" if getattr(person, which) else "",
            partial(_with_tick, which=which),
            (*path, which),
            is_tick=True,
        )
        for which in ("freelance", "under_18")
    }
    return [
        Sentence(
            template=say.PERSON_WORKS,
            fields=(("name", name), ("hours", hours), ("pace", pace)),
            path=path,
        ),
        Sentence(
            template=say.PERSON_DAYS,
            fields=(("first", day("works_from")), ("last", day("works_until"))),
        ),
        Sentence(
            template=say.PERSON_FREE,
            fields=(("freelance", ticks["freelance"]), ("young", ticks["under_18"])),
        ),
    ]


def _with_day(person: Person, text: str, *, which: str, at: At) -> Person:
    return with_field(person, which, typed.day_or_none(text, at.words, at.today))


def _with_tick(person: Person, text: str, *, which: str) -> Person:
    return with_field(person, which, bool(text))


def _leaves(person: Person, at: At, path: Path) -> list[Sentence]:
    found = []
    for index, leave in enumerate(person.leave):
        here = (*path, "leave", index)
        days = _field(
            person,
            f"away {index + 1}",
            typed.stretch_text(leave.start, leave.end, at.words, at.today),
            partial(_with_leave, index=index, at=at),
            here,
        )
        reason = _field(
            person,
            f"away {index + 1} reason",
            leave.reason,
            partial(_with_reason, index=index),
            (*here, "reason"),
            hint=at.words.say(say.WHY_HINT),
        )
        act = Act(
            text=at.words.say(say.DO_REMOVE), edit=partial(_without, person.id, "leave", index)
        )
        found.append(
            Sentence(template=say.AWAY, fields=(("days", days), ("reason", reason)), acts=(act,))
        )
    add = _field(
        person,
        "add away",
        "",
        partial(_with_leave, index=len(person.leave), at=at),
        (*path, "leave"),
        hint=at.words.say(say.HINT_DAYS),
    )
    return [*found, Sentence(template=say.ADD_AWAY, fields=(("days", add),))]


def _with_leave(person: Person, text: str, *, index: int, at: At) -> Person:
    start, end = typed.stretch(text, at.words, at.today)
    old = person.leave[index : index + 1]
    made = replace(old[0], start=start, end=end) if old else Leave(start=start, end=end)
    return replace(person, leave=(*person.leave[:index], made, *person.leave[index + 1 :]))


def _with_reason(person: Person, text: str, *, index: int) -> Person:
    made = replace(person.leave[index], reason=" ".join(text.split()))
    return replace(person, leave=(*person.leave[:index], made, *person.leave[index + 1 :]))


def _without(person: PersonId, which: str, index: int, book: Book) -> Edited:
    old = person_of(book, person)
    kept = getattr(old, which)
    return change_person(book, with_field(old, which, (*kept[:index], *kept[index + 1 :])))


def _engaged(person: Person, at: At, path: Path) -> list[Sentence]:
    if not person.freelance and not person.engaged:
        return []
    words, found = at.words, []
    for index, each in enumerate(person.engaged):
        here = (*path, "engaged", index)
        days = _field(
            person,
            f"comes {index + 1}",
            typed.days_text(each.first, each.last, words, at.today),
            partial(_with_engaged, index=index, at=at),
            here,
        )
        state = _field(
            person,
            f"comes {index + 1} state",
            words.say(say.STATES[each.state]),
            partial(_with_state, index=index, at=at),
            (*here, "state"),
            suggestions=tuple(words.say(each) for each in say.STATES.values()),
        )
        act = Act(
            text=words.say(say.DO_REMOVE), edit=partial(_without, person.id, "engaged", index)
        )
        found.append(
            Sentence(template=say.ENGAGED, fields=(("days", days), ("state", state)), acts=(act,))
        )
    add = _field(
        person,
        "add comes",
        "",
        partial(_with_engaged, index=len(person.engaged), at=at),
        (*path, "engaged"),
        hint=words.say(say.HINT_DAYS),
    )
    return [*found, Sentence(template=say.ADD_ENGAGED, fields=(("days", add),))]


def _with_engaged(person: Person, text: str, *, index: int, at: At) -> Person:
    first, last = typed.days(text, at.words, at.today)
    old = person.engaged[index : index + 1]
    new = Engaged(first=first, last=last, state=EngagementState.CONFIRMED)
    made = replace(old[0], first=first, last=last) if old else new
    return replace(person, engaged=(*person.engaged[:index], made, *person.engaged[index + 1 :]))


def _with_state(person: Person, text: str, *, index: int, at: At) -> Person:
    known = {at.words.say(word): state for state, word in say.STATES.items()}
    state = EngagementState(plain.one_of(text, known, "not_a_state"))
    made = replace(person.engaged[index], state=state)
    return replace(person, engaged=(*person.engaged[:index], made, *person.engaged[index + 1 :]))


def _certificates(person: Person, at: At, path: Path) -> list[Sentence]:
    words, found = at.words, []
    for index, each in enumerate(person.certificates):
        here = (*path, "certificates", index)
        named = _field(
            person,
            f"holds {index + 1}",
            each.certificate,
            partial(_with_certificate, index=index),
            here,
        )
        expires = _field(
            person,
            f"holds {index + 1} until",
            typed.day_text(each.expires, words, at.today),
            partial(_with_expiry, index=index, at=at),
            (*here, "expires"),
            hint=words.say(say.HINT_ALWAYS),
        )
        act = Act(
            text=words.say(say.DO_REMOVE), edit=partial(_without, person.id, "certificates", index)
        )
        fields = (("certificate", named), ("expires", expires))
        found.append(Sentence(template=say.HOLDS, fields=fields, acts=(act,)))
    add = _field(
        person,
        "add holds",
        "",
        partial(_with_certificate, index=len(person.certificates)),
        (*path, "certificates"),
        hint=words.say(say.HINT_CERTIFICATE),
    )
    return [*found, Sentence(template=say.ADD_HOLDS, fields=(("certificate", add),))]


def _with_certificate(person: Person, text: str, *, index: int) -> Person:
    old, held = person.certificates[index : index + 1], person.certificates
    named = plain.name(text)
    made = replace(old[0], certificate=named) if old else Certificate(certificate=named)
    return replace(person, certificates=(*held[:index], made, *held[index + 1 :]))


def _with_expiry(person: Person, text: str, *, index: int, at: At) -> Person:
    held = person.certificates
    made = replace(held[index], expires=typed.day_or_none(text, at.words, at.today))
    return replace(person, certificates=(*held[:index], made, *held[index + 1 :]))


def rate_field(person: Person, which: str, path: Path) -> Field:
    """Return the field of what an hour or a day of somebody costs."""

    def write(old: Person, text: str) -> Person:
        rate: Decimal | None = plain.number_or_none(text)
        return with_field(old, which, rate)

    made = _field(
        person, which, plain.figure(getattr(person, which)), write, (*path, which), is_figure=True
    )
    return replace(made, name=f"{person.id} {which}")
